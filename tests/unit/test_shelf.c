/* What is left in packages, by the records: cases worked out by hand. */
#include "unit/test.h"

#include "turf/shelf.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))
#define NONE         INT64_MAX

enum { PACKAGES = 4, DRAWS = 6, TODAY = 100 };

static const struct product post = { .name = "post-a" };
static const struct product dye = { .name = "dye" };

/* Of post-a, 10 g each, unless a case says otherwise; amounts in g. */
struct scene {
	struct package package[PACKAGES];
	struct draw draw[DRAWS];
	double left[PACKAGES]; /* wanted, in the order of the packages */
	double overdrawn, earlier;
};

#define BOTTLE(title, open_day, last_day)                                      \
	{                                                                      \
		.name = (title), .product = &post, .size = 10,                 \
		.is_mass = true, .opened = (open_day), .expires = (last_day),  \
		.price = NAN                                                   \
	}
#define LOOKED(...)                                                            \
	.left = (struct weighing[]){ __VA_ARGS__ },                            \
	.left_count = sizeof((struct weighing[]){ __VA_ARGS__ }) /             \
		      sizeof(struct weighing)
#define WEIGHED(title, open_day, ...)                                          \
	{                                                                      \
		.name = (title), .product = &post, .size = 10,                 \
		.is_mass = true, .opened = (open_day), .expires = NONE,        \
		.price = NAN, LOOKED(__VA_ARGS__)                              \
	}
#define TAKE(day, amount)                                                      \
	{                                                                      \
		"post-a", (day), (amount), true                                \
	}

static const struct scene scenes[] = {
	/* nothing was taken */
	{ { BOTTLE("a", 1, NONE), BOTTLE("b", NONE, NONE) }, { { 0 } },
	    { 10, 10 }, 0, 0 },
	{ { BOTTLE("a", 1, NONE) }, { TAKE(2, 3), TAKE(9, 4) }, { 3 }, 0, 0 },
	/* on the day of opening, and the last drop */
	{ { BOTTLE("a", 5, NONE) }, { TAKE(5, 10) }, { 0 }, 0, 0 },
	/* another product, and none at all */
	{ { BOTTLE("a", 1, NONE) }, { { "dye", 2, 3, true }, TAKE(2, 0) },
	    { 10 }, 0, 0 },
	/* the rest comes out of the next; a full one stays shut */
	{ { BOTTLE("a", 1, NONE), BOTTLE("b", 2, NONE),
	      BOTTLE("c", NONE, NONE) },
	    { TAKE(3, 12) }, { 0, 8, 10 }, 0, 0 },
	/* not before the next was opened */
	{ { BOTTLE("a", 1, NONE), BOTTLE("b", 4, NONE) },
	    { TAKE(3, 12), TAKE(4, 1) }, { 0, 9 }, 2, 0 },
	/* the one that was opened first, wherever it is written */
	{ { BOTTLE("a", 5, NONE), BOTTLE("b", 2, NONE) }, { TAKE(9, 4) },
	    { 10, 6 }, 0, 0 },
	/* of two that were opened on one day by name */
	{ { BOTTLE("b", 2, NONE), BOTTLE("a", 2, NONE) }, { TAKE(9, 4) },
	    { 10, 6 }, 0, 0 },
	/* what is still good comes first, what has expired after it */
	{ { BOTTLE("a", 1, 8), BOTTLE("b", 2, NONE) }, { TAKE(9, 4) },
	    { 10, 6 }, 0, 0 },
	{ { BOTTLE("a", 1, 8), BOTTLE("b", 2, NONE) }, { TAKE(8, 4) },
	    { 6, 10 }, 0, 0 },
	{ { BOTTLE("a", 1, 8), BOTTLE("b", 2, NONE) }, { TAKE(9, 14) },
	    { 6, 0 }, 0, 0 },
	/* before any was opened it came of something else */
	{ { BOTTLE("a", 5, NONE) }, { TAKE(4, 3), TAKE(5, 1) }, { 9 }, 0, 3 },
	/* nothing is open at all */
	{ { BOTTLE("a", NONE, NONE) }, { TAKE(4, 3) }, { 10 }, 3, 0 },
	/* a look settles what came until the end of its day */
	{ { WEIGHED("a", 1, { 6, 7 }) }, { TAKE(5, 9), TAKE(6, 9), TAKE(7, 2) },
	    { 5 }, 0, 0 },
	{ { WEIGHED("a", 1, { 3, 7 }, { 6, 2 }) }, { TAKE(5, 1), TAKE(9, 2) },
	    { 0 }, 0, 0 },
	/* and of one package only */
	{ { WEIGHED("a", 1, { 6, 7 }), BOTTLE("b", 2, NONE) },
	    { TAKE(3, 12), TAKE(8, 8) }, { 0, 7 }, 0, 0 },
	/* an empty one that was looked at leaves the next draw to the other */
	{ { WEIGHED("a", 1, { 6, 0 }), BOTTLE("b", 2, NONE) }, { TAKE(8, 3) },
	    { 0, 7 }, 0, 0 },
	/* a look that is still to come says nothing yet */
	{ { WEIGHED("a", 1, { TODAY, 7 }, { TODAY + 1, 2 }) }, { TAKE(5, 9) },
	    { 7 }, 0, 0 },
	/* opened tomorrow */
	{ { BOTTLE("a", TODAY + 1, NONE) }, { TAKE(TODAY, 3) }, { 10 }, 3, 0 },
	/* not known how much, until somebody looks */
	{ { BOTTLE("a", 1, NONE) }, { TAKE(3, 1), TAKE(5, NAN) }, { NAN }, 0,
	    0 },
	{ { WEIGHED("a", 1, { 6, 7 }) }, { TAKE(5, NAN), TAKE(8, 2) }, { 5 }, 0,
	    0 },
	{ { WEIGHED("a", 1, { 6, 7 }) }, { TAKE(7, NAN) }, { NAN }, 0, 0 },
	/* it may have been any that was open, and none that was empty */
	{ { WEIGHED("a", 1, { 2, 0 }), BOTTLE("b", 2, NONE),
	      BOTTLE("c", 3, NONE), BOTTLE("d", 9, NONE) },
	    { TAKE(5, NAN) }, { 0, NAN, NAN, 10 }, 0, 0 },
	/* then a known amount is of either, too */
	{ { BOTTLE("a", 1, NONE), BOTTLE("b", 9, NONE) },
	    { TAKE(5, NAN), TAKE(9, 1) }, { NAN, NAN }, 0, 0 },
	/* nothing was there to take it from */
	{ { WEIGHED("a", 1, { 2, 0 }) }, { TAKE(5, NAN) }, { 0 }, NAN, 0 },
	{ { WEIGHED("a", 1, { 2, 0 }) }, { TAKE(5, 1) }, { 0 }, 1, 0 },
	{ { WEIGHED("a", 1, { 2, 0 }, { 6, 0 }) }, { TAKE(5, NAN) }, { 0 }, 0,
	    0 },
	/* a volume of what is weighed */
	{ { BOTTLE("a", 1, NONE) }, { { "post-a", 5, 1, false } }, { NAN }, 0,
	    0 },
};

static void
check_same(size_t scene, const char *what, double value, double wanted)
{
	bool same = isnan(wanted) ? isnan(value) : fabs(value - wanted) < 1e-9;
	if (!same)
		fail_msg(
		    "scene %zu, %s: %g, wanted %g", scene, what, value, wanted);
}

static double
left_in(const struct shelf *shelf, const struct package *package)
{
	for (size_t i = 0; i < shelf->item_count; i++)
		if (shelf->item[i].package == package)
			return shelf->item[i].left;
	fail_msg("package %s is not on the shelf", package->name);
	return 0;
}

static void
draws_come_out_of_open_packages(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(scenes); i++) {
		const struct scene *scene = &scenes[i];
		size_t packages = 0, draws = 0;
		struct shelf shelf;
		while (packages < PACKAGES &&
		       scene->package[packages].name != NULL)
			packages++;
		while (draws < DRAWS && scene->draw[draws].product != NULL)
			draws++;
		shelf_count(scene->package, packages, scene->draw, draws, TODAY,
		    &shelf);
		for (size_t p = 0; p < packages; p++)
			check_same(i, scene->package[p].name,
			    left_in(&shelf, &scene->package[p]),
			    scene->left[p]);
		const struct shelf_row *row = shelf_find(&shelf, "post-a");
		assert_non_null(row);
		check_same(i, "overdrawn", row->overdrawn, scene->overdrawn);
		check_same(i, "earlier", row->earlier, scene->earlier);
		shelf_release(&shelf);
	}
}

static void
each_product_has_its_row(void **state)
{
	(void)state;
	struct package packages[] = { BOTTLE("a", 1, NONE),
		BOTTLE("z", 2, NONE), BOTTLE("b", 1, NONE) };
	struct shelf shelf;
	packages[1].product = &dye;
	shelf_count(packages, 3, NULL, 0, TODAY, &shelf);
	assert_int_equal(shelf.row_count, 2);
	assert_ptr_equal(shelf.row[0].product, &dye);
	assert_int_equal(shelf_find(&shelf, "post-a")->count, 2);
	assert_ptr_equal(
	    shelf_find(&shelf, "post-a")->item[0].package, &packages[0]);
	assert_null(shelf_find(&shelf, "post"));
	shelf_release(&shelf);
	assert_int_equal(shelf.item_count, 0);
	shelf_count(NULL, 0, NULL, 0, TODAY, &shelf);
	assert_int_equal(shelf.row_count, 0);
	shelf_release(&shelf);
	shelf_release(NULL);
}

/* Two that are open, of which one has expired, and one that is shut: 4 + 7 +
   10 g; and what the same costs. */
struct store {
	struct package package[3];
	struct shelf shelf;
};

static void
begin_store(struct store *store)
{
	*store = (struct store){ { BOTTLE("old", 1, 90), BOTTLE("new", 2, 300),
				     BOTTLE("shut", NONE, 200) },
		{ 0 } };
	static const struct draw draws[] = { TAKE(5, 6), TAKE(95, 3) };
	store->package[0].price = 10;
	store->package[1].price = 20;
	store->package[2].price = 40;
	shelf_count(store->package, 3, draws, 2, TODAY, &store->shelf);
	assert_close(left_in(&store->shelf, &store->package[0]), 4, 1e-9);
	assert_close(left_in(&store->shelf, &store->package[1]), 7, 1e-9);
}

struct question {
	double amount;
	int64_t day;
	struct draw before[2];
	size_t before_count;
	double on_hand, stale, left, missing, cost; /* wanted */
	int first;   /* which expires first; -1: none */
	int expired; /* which is used though it has; -1 */
};

static const struct question questions[] = {
	{ 0, TODAY, { { 0 } }, 0, 17, 4, 17, 0, 0, 2, -1 },
	{ 5, TODAY, { { 0 } }, 0, 17, 4, 12, 0, 10, 2, -1 },
	/* 7 at 2.00, 3 at 4.00 */
	{ 10, TODAY, { { 0 } }, 0, 17, 4, 7, 0, 26, 2, -1 },
	{ 17, TODAY, { { 0 } }, 0, 17, 4, 0, 0, 54, 2, -1 },
	/* 2 out of the old one at 1.00 */
	{ 19, TODAY, { { 0 } }, 0, 17, 4, 0, 0, 56, 2, 0 },
	{ 22, TODAY, { { 0 } }, 0, 17, 4, 0, 1, NAN, 2, 0 },
	{ NAN, TODAY, { { 0 } }, 0, 17, 4, NAN, NAN, NAN, 2, -1 },
	/* by then the shut one has expired, too */
	{ 5, 250, { { 0 } }, 0, 7, 14, 2, 0, 10, 1, -1 },
	{ 8, 250, { { 0 } }, 0, 7, 14, 0, 0, 15, 1, 0 },
	{ 5, 301, { { 0 } }, 0, 0, 21, 0, 0, 6, -1, 0 },
	/* others come first, and open the shut one */
	{ 5, TODAY, { TAKE(TODAY, 6) }, 1, 11, 4, 6, 0, 18, 2, -1 },
	{ 5, TODAY, { TAKE(TODAY, 6), TAKE(TODAY, 8) }, 2, 3, 4, 0, 0, 14, 2,
	    0 },
	{ 1, TODAY, { TAKE(TODAY, 30) }, 1, 0, 0, 0, 1, NAN, -1, -1 },
	{ 1, TODAY, { TAKE(TODAY, NAN) }, 1, NAN, NAN, NAN, NAN, NAN, 2, -1 },
	{ 1, TODAY, { { "dye", TODAY, 9, true } }, 1, 17, 4, 16, 0, 2, 2, -1 },
};

static void
a_wish_is_answered_from_the_good_ones_first(void **state)
{
	(void)state;
	struct store store;
	begin_store(&store);
	for (size_t i = 0; i < COUNT(questions); i++) {
		const struct question *question = &questions[i];
		const struct shelf_wish wish = { &post, question->amount, true,
			question->day, question->before,
			question->before_count };
		struct shelf_answer answer;
		shelf_ask(&store.shelf, &wish, &answer);
		assert_int_equal(answer.packages, 3);
		check_same(i, "on hand", answer.on_hand, question->on_hand);
		check_same(i, "stale", answer.stale, question->stale);
		check_same(i, "left", answer.left, question->left);
		check_same(i, "missing", answer.missing, question->missing);
		check_same(i, "cost", answer.cost, question->cost);
		assert_ptr_equal(answer.expires_first,
		    question->first < 0 ? NULL
					: &store.package[question->first]);
		assert_ptr_equal(answer.expired,
		    question->expired < 0 ? NULL
					  : &store.package[question->expired]);
	}
	/* asking takes nothing */
	assert_close(left_in(&store.shelf, &store.package[1]), 7, 1e-9);
	shelf_release(&store.shelf);
}

static void
what_is_not_on_file_is_not_known(void **state)
{
	(void)state;
	struct store store;
	struct shelf_answer answer;
	begin_store(&store);
	const struct shelf_wish other = { &dye, 1, true, TODAY, NULL, 0 };
	shelf_ask(&store.shelf, &other, &answer);
	assert_int_equal(answer.packages, 0);
	assert_nan(answer.on_hand);
	assert_nan(answer.left);
	assert_nan(answer.missing);
	assert_nan(answer.cost);
	assert_null(answer.expires_first);
	/* a volume of what is weighed: there, but how much of it? */
	const struct shelf_wish volume = { &post, 1, false, TODAY, NULL, 0 };
	shelf_ask(&store.shelf, &volume, &answer);
	assert_int_equal(answer.packages, 3);
	assert_close(answer.on_hand, 17, 1e-9);
	assert_nan(answer.left);
	assert_nan(answer.cost);
	shelf_release(&store.shelf);
}

static void
a_missing_price_counts_only_where_it_is_used(void **state)
{
	(void)state;
	struct store store;
	struct shelf_answer answer;
	begin_store(&store);
	store.package[2].price = NAN;
	struct shelf_wish wish = { &post, 7, true, TODAY, NULL, 0 };
	shelf_ask(&store.shelf, &wish, &answer);
	assert_close(answer.cost, 14, 1e-9);
	wish.amount = 7.1;
	shelf_ask(&store.shelf, &wish, &answer);
	assert_nan(answer.cost);
	shelf_release(&store.shelf);
}

static void
worth_is_the_price_of_what_is_left(void **state)
{
	(void)state;
	struct store store;
	begin_store(&store);
	const struct shelf_row *row = shelf_find(&store.shelf, "post-a");
	assert_close(shelf_item_worth(&row->item[0]), 4, 1e-9);
	assert_close(shelf_item_worth(&row->item[1]), 14, 1e-9);
	assert_close(shelf_item_worth(&row->item[2]), 40, 1e-9);
	store.package[0].price = NAN;
	assert_nan(shelf_item_worth(&row->item[0]));
	shelf_release(&store.shelf);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(draws_come_out_of_open_packages),
		cmocka_unit_test(each_product_has_its_row),
		cmocka_unit_test(a_wish_is_answered_from_the_good_ones_first),
		cmocka_unit_test(what_is_not_on_file_is_not_known),
		cmocka_unit_test(a_missing_price_counts_only_where_it_is_used),
		cmocka_unit_test(worth_is_the_price_of_what_is_left),
	};
	return RUN_TESTS(tests);
}
