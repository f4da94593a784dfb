/* What holds for any packages and any records. */
#include "unit/test.h"

#include "turf/shelf.h"
#include "unit/heart.h"

enum { PACKAGES = 6, LOOKS = 2, DRAWS = 20, DAYS = 40, CASES = 4000 };

static const char *const names[PACKAGES] = { "a", "b", "c", "d", "e", "f" };
static const struct product products[2] = { { .name = "post-a" },
	{ .name = "dye" } };

/* Whole grams, so that a second way to count them is exact. */
struct world {
	struct package package[PACKAGES];
	struct weighing look[PACKAGES][LOOKS];
	struct draw draw[DRAWS];
	size_t packages, draws;
};

static void
make_package(struct world *world, uint64_t *seed, bool looks)
{
	size_t place = world->packages++;
	struct package *package = &world->package[place];
	*package = (struct package){ .name = names[place],
		.product = &products[draw_once_in(seed, 4) ? 1 : 0],
		.size = draw_from(seed, 1, 30),
		.is_mass = true,
		.opened = draw_once_in(seed, 4) ? INT64_MAX
						: draw_from(seed, 0, DAYS / 2),
		.expires = draw_once_in(seed, 3) ? INT64_MAX
						 : draw_from(seed, 0, DAYS),
		.price = draw_from(seed, 1, 90),
		.left = world->look[place] };
	int64_t day = package->opened;
	while (looks && package->left_count < LOOKS && day < DAYS &&
	       draw_once_in(seed, 2)) {
		day += draw_from(seed, 1, DAYS / 2);
		package->left[package->left_count++] = (struct weighing){ day,
			draw_from(seed, 0, (int)package->size) };
	}
}

static void
make_world(struct world *world, uint64_t *seed, bool looks)
{
	*world = (struct world){ .packages = 0 };
	int packages = draw_from(seed, 1, PACKAGES);
	for (int i = 0; i < packages; i++)
		make_package(world, seed, looks);
	world->draws = (size_t)draw_from(seed, 0, DRAWS);
	for (size_t i = 0; i < world->draws; i++)
		world->draw[i] =
		    (struct draw){ products[draw_once_in(seed, 4) ? 1 : 0].name,
			    draw_from(seed, 0, DAYS), draw_from(seed, 0, 9),
			    true };
}

static struct shelf
count_world(const struct world *world)
{
	struct shelf shelf;
	shelf_count(world->package, world->packages, world->draw, world->draws,
	    DAYS, &shelf);
	return shelf;
}

static double
sum_of_draws(const struct world *world, const struct product *product)
{
	double sum = 0;
	for (size_t i = 0; i < world->draws; i++)
		if (strcmp(world->draw[i].product, product->name) == 0)
			sum += world->draw[i].amount;
	return sum;
}

/* What the records took of a row's packages, each of which has the rest. */
static double
sum_of_drawn(const struct shelf_row *row)
{
	double drawn = 0;
	for (size_t p = 0; p < row->count; p++) {
		const struct shelf_item *item = &row->item[p];
		drawn += item->drawn;
		assert_true(item->left >= 0);
		assert_close(
		    item->left + item->drawn, item->package->size, 1e-9);
	}
	return drawn;
}

static void
nothing_is_created_or_lost(void **state)
{
	(void)state;
	uint64_t seed = 1;
	for (int i = 0; i < rounds(CASES); i++) {
		struct world world;
		make_world(&world, &seed, false);
		struct shelf shelf = count_world(&world);
		for (size_t r = 0; r < shelf.row_count; r++) {
			const struct shelf_row *row = &shelf.row[r];
			assert_close(
			    sum_of_drawn(row) + row->overdrawn + row->earlier,
			    sum_of_draws(&world, row->product), 1e-9);
		}
		shelf_release(&shelf);
	}
}

static void
the_order_of_the_records_does_not_matter(void **state)
{
	(void)state;
	uint64_t seed = 2;
	for (int i = 0; i < rounds(CASES); i++) {
		struct world world;
		make_world(&world, &seed, true);
		for (size_t d = 0; d < world.draws; d++) {
			/* sums of thirds depend on their order */
			world.draw[d].amount /= 3;
			if (draw_once_in(&seed, 20))
				world.draw[d].amount = NAN;
		}
		struct shelf one = count_world(&world);
		for (size_t d = world.draws; d > 1; d--) {
			size_t other = (size_t)draw_from(&seed, 0, (int)d - 1);
			struct draw kept = world.draw[d - 1];
			world.draw[d - 1] = world.draw[other];
			world.draw[other] = kept;
		}
		struct shelf other = count_world(&world);
		for (size_t p = 0; p < one.item_count; p++) {
			assert_ptr_equal(
			    one.item[p].package, other.item[p].package);
			assert_memory_equal(&one.item[p].left,
			    &other.item[p].left, sizeof(double));
		}
		shelf_release(&one);
		shelf_release(&other);
	}
}

/* What is left less what was overdrawn. */
static double
balance(const struct shelf_row *row)
{
	double sum = -row->overdrawn;
	for (size_t p = 0; p < row->count; p++)
		sum += row->item[p].left;
	return sum;
}

static void
a_correction_changes_its_difference(void **state)
{
	(void)state;
	uint64_t seed = 3;
	int tried = 0;
	for (int i = 0; i < rounds(CASES); i++) {
		struct world world;
		make_world(&world, &seed, false);
		if (world.draws == 0)
			continue;
		struct shelf shelf = count_world(&world);
		struct draw *draw =
		    &world.draw[draw_from(&seed, 0, (int)world.draws - 1)];
		const struct shelf_row *row = shelf_find(&shelf, draw->product);
		double before = draw->amount;
		draw->amount = draw_from(&seed, 0, 12);
		struct shelf other = count_world(&world);
		if (row != NULL) {
			const struct shelf_row *after =
			    shelf_find(&other, draw->product);
			double difference = after->earlier - row->earlier +
					    balance(row) - balance(after);
			assert_close(difference, draw->amount - before, 1e-9);
			tried++;
		}
		shelf_release(&shelf);
		shelf_release(&other);
	}
	assert_true(tried > rounds(CASES) / 2);
}

/* The package that the next gram comes from; -1: none. */
static int
next_package(const struct world *world, const int *left,
    const struct draw *draw, bool expired)
{
	int best = -1;
	for (size_t p = 0; p < world->packages; p++) {
		const struct package *package = &world->package[p];
		if (strcmp(package->product->name, draw->product) != 0 ||
		    package->opened > draw->day || left[p] == 0 ||
		    (draw->day > package->expires) != expired)
			continue;
		/* names ascend, so the first of a day stays */
		if (best < 0 || package->opened < world->package[best].opened)
			best = (int)p;
	}
	return best;
}

static void
take_gram(const struct world *world, int *left, const struct draw *draw)
{
	int from = next_package(world, left, draw, false);
	if (from < 0)
		from = next_package(world, left, draw, true);
	if (from >= 0)
		left[from]--;
}

static void
look(const struct world *world, int *left, int64_t day)
{
	for (size_t p = 0; p < world->packages; p++)
		for (size_t w = 0; w < world->package[p].left_count; w++)
			if (world->look[p][w].day == day)
				left[p] = (int)world->look[p][w].amount;
}

/* Gram by gram and day by day. */
static void
count_grams(const struct world *world, int *left)
{
	for (size_t p = 0; p < world->packages; p++)
		left[p] = (int)world->package[p].size;
	for (int64_t day = 0; day <= DAYS; day++) {
		for (size_t d = 0; d < world->draws; d++) {
			const struct draw *draw = &world->draw[d];
			int grams = draw->day == day ? (int)draw->amount : 0;
			while (grams-- > 0)
				take_gram(world, left, draw);
		}
		look(world, left, day);
	}
}

static void
it_agrees_with_counting_gram_by_gram(void **state)
{
	(void)state;
	uint64_t seed = 4;
	for (int i = 0; i < rounds(CASES); i++) {
		struct world world;
		int left[PACKAGES];
		make_world(&world, &seed, true);
		struct shelf shelf = count_world(&world);
		count_grams(&world, left);
		for (size_t p = 0; p < shelf.item_count; p++) {
			const struct shelf_item *item = &shelf.item[p];
			size_t place = (size_t)(item->package - world.package);
			assert_close(item->left, left[place], 1e-9);
		}
		shelf_release(&shelf);
	}
}

/* A number stands only where it is the same whatever was really used. */
static void
an_unknown_amount_gives_no_wrong_number(void **state)
{
	(void)state;
	uint64_t seed = 5;
	int numbers = 0, unknown = 0;
	for (int i = 0; i < rounds(CASES); i++) {
		struct world world;
		make_world(&world, &seed, true);
		if (world.draws == 0)
			continue;
		size_t place =
		    (size_t)draw_from(&seed, 0, (int)world.draws - 1);
		struct shelf truth = count_world(&world);
		world.draw[place].amount = NAN;
		struct shelf shelf = count_world(&world);
		for (size_t p = 0; p < shelf.item_count; p++) {
			double left = shelf.item[p].left;
			unknown += isnan(left) ? 1 : 0;
			numbers += isnan(left) ? 0 : 1;
			if (!isnan(left))
				assert_close(left, truth.item[p].left, 1e-9);
		}
		shelf_release(&truth);
		shelf_release(&shelf);
	}
	assert_true(numbers > rounds(CASES) && unknown > rounds(CASES) / 5);
}

static void
a_wish_takes_what_is_there_and_no_more(void **state)
{
	(void)state;
	uint64_t seed = 6;
	for (int i = 0; i < rounds(CASES); i++) {
		struct world world;
		struct shelf_answer answer;
		make_world(&world, &seed, true);
		struct shelf shelf = count_world(&world);
		struct draw before[2] = {
			{ "post-a", DAYS, draw_from(&seed, 0, 9), true },
			{ "post-a", DAYS + 3, draw_from(&seed, 0, 9), true },
		};
		struct shelf_wish wish = { &products[0],
			draw_from(&seed, 0, 60), true,
			DAYS + draw_from(&seed, 0, 5), before,
			(size_t)draw_from(&seed, 0, 2) };
		shelf_ask(&shelf, &wish, &answer);
		double whole = answer.on_hand + answer.stale;
		double wanted = wish.amount;
		if (answer.packages > 0) {
			assert_close(answer.left,
			    fmax(0, answer.on_hand - wanted), 1e-9);
			assert_close(
			    answer.missing, fmax(0, wanted - whole), 1e-9);
			assert_int_equal(isnan(answer.cost), wanted > whole);
			assert_int_equal(answer.expired != NULL,
			    wanted > answer.on_hand && answer.stale > 0);
		} else {
			assert_nan(answer.on_hand);
		}
		shelf_release(&shelf);
	}
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(nothing_is_created_or_lost),
		cmocka_unit_test(the_order_of_the_records_does_not_matter),
		cmocka_unit_test(a_correction_changes_its_difference),
		cmocka_unit_test(it_agrees_with_counting_gram_by_gram),
		cmocka_unit_test(an_unknown_amount_gives_no_wrong_number),
		cmocka_unit_test(a_wish_takes_what_is_there_and_no_more),
	};
	return RUN_TESTS(tests);
}
