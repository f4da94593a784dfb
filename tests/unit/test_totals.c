#include "unit/test.h"

#include "turf/totals.h"

/* Invented cards. */
static struct active in_dry = { "active-a", 0.5, false };
static struct active in_liquid = { "Active-A", 240, true };
static struct active other = { "active-b", 0.1, false };
static const struct product cards[] = {
	{ .name = "dry-a", .active = &in_dry, .active_count = 1 },
	{ .name = "liquid-a", .active = &in_liquid, .active_count = 1 },
	{ .name = "dry-b", .active = &other, .active_count = 1 },
	{ .name = "silent", .kind = PRODUCT_HERBICIDE },
	{ .name = "dye", .kind = PRODUCT_OTHER },
};

enum { CARDS = sizeof cards / sizeof cards[0] };

static struct totals_item
item(int64_t record, const char *product, double amount, bool is_mass)
{
	return (struct totals_item){ record, 2026,
		{ "front", product, 0, 100, amount, is_mass } };
}

static struct total *
find(const struct totals_item *items, size_t count, size_t *ret_count)
{
	return totals_find(items, count, cards, CARDS, ret_count);
}

/* The only line of that kind and name, on the site or on all (NULL). */
static const struct total *
line_of(const struct total *totals, size_t count, enum totals_kind kind,
    const char *name, const char *site)
{
	const struct total *found = NULL;
	for (size_t i = 0; i < count; i++) {
		const struct total *one = &totals[i];
		bool here = site == NULL ? one->site == NULL
					 : one->site != NULL &&
					       strcmp(one->site, site) == 0;
		if (one->kind != kind || strcmp(one->name, name) != 0 || !here)
			continue;
		assert_null(found);
		found = one;
	}
	assert_non_null(found);
	return found;
}

static void
says_nothing_of_no_records(void **state)
{
	(void)state;
	size_t count = 7;
	struct total *totals = find(NULL, 0, &count);
	assert_int_equal(count, 0);
	free(totals);
}

static void
counts_the_records_of_a_site_and_not_their_products(void **state)
{
	(void)state;
	const struct totals_item items[] = { item(1, "dry-a", 5, true),
		item(1, "dye", 0.1, false), item(2, "dry-a", 7, true) };
	size_t count;
	struct total *totals = find(items, 3, &count);
	const struct total *site =
	    line_of(totals, count, TOTALS_SITE, "front", "front");
	assert_int_equal(site->count, 2);
	assert_close(site->area.known, 200, 1e-9);
	assert_ptr_equal(site, &totals[0]);
	const struct total *product =
	    line_of(totals, count, TOTALS_PRODUCT, "dry-a", "front");
	assert_int_equal(product->count, 2);
	assert_close(product->amount.known, 12, 1e-9);
	assert_true(product->is_mass);
	assert_int_equal(
	    line_of(totals, count, TOTALS_PRODUCT, "dye", "front")->count, 1);
	free(totals);
}

/* Two spots may have been the same one: rates add up, not the average. */
static void
spreads_each_record_over_its_own_ground(void **state)
{
	(void)state;
	struct totals_item items[] = { item(1, "dry-a", 10, true),
		item(2, "dry-a", 10, true) };
	items[1].application.area = 10;
	size_t count;
	struct total *totals = find(items, 2, &count);
	const struct total *product =
	    line_of(totals, count, TOTALS_PRODUCT, "dry-a", "front");
	assert_close(product->per_area.known, 10.0 / 100 + 10.0 / 10, 1e-12);
	assert_close(product->area.known, 110, 1e-12);
	free(totals);
}

static void
adds_one_active_up_over_products_whatever_its_letters(void **state)
{
	(void)state;
	const struct totals_item items[] = { item(1, "dry-a", 10, true),
		item(1, "liquid-a", 0.05, false), item(2, "dry-b", 30, true) };
	size_t count;
	struct total *totals = find(items, 3, &count);
	const struct total *active =
	    line_of(totals, count, TOTALS_ACTIVE, "active-a", "front");
	/* both products of one record: one application */
	assert_int_equal(active->count, 1);
	assert_close(active->area.known, 100, 1e-12);
	assert_close(active->amount.known, 10 * 0.5 + 0.05 * 240, 1e-12);
	assert_close(active->per_area.known, 17.0 / 100, 1e-12);
	assert_true(active->is_mass);
	assert_int_equal(active->amount.unknown, 0);
	assert_close(line_of(totals, count, TOTALS_ACTIVE, "active-b", "front")
			 ->amount.known,
	    3, 1e-12);
	free(totals);
}

static void
keeps_what_is_not_known_beside_the_sum(void **state)
{
	(void)state;
	struct totals_item items[] = { item(1, "dry-a", 10, true),
		item(2, "dry-a", NAN, true), item(3, "dry-a", 4, true) };
	items[2].application.area = NAN;
	size_t count;
	struct total *totals = find(items, 3, &count);
	const struct total *product =
	    line_of(totals, count, TOTALS_PRODUCT, "dry-a", "front");
	assert_int_equal(product->count, 3);
	assert_close(product->amount.known, 14, 1e-12);
	assert_int_equal(product->amount.unknown, 1);
	assert_close(product->area.known, 200, 1e-12);
	assert_int_equal(product->area.unknown, 1);
	assert_close(product->per_area.known, 0.1, 1e-12);
	assert_int_equal(product->per_area.unknown, 2);
	const struct total *active =
	    line_of(totals, count, TOTALS_ACTIVE, "active-a", "front");
	assert_int_equal(active->count, 3);
	assert_close(active->amount.known, 7, 1e-12);
	assert_int_equal(active->amount.unknown, 1);
	free(totals);
}

static void
does_not_know_the_actives_of_what_no_card_tells(void **state)
{
	(void)state;
	static const struct {
		const char *product;
		bool is_mass;
		size_t unknown, counted;
	} cases[] = {
		{ "gone", true, 1, 1 },     /* on no card */
		{ "silent", true, 1, 1 },   /* a herbicide without an active */
		{ "dye", true, 0, 1 },      /* no herbicide */
		{ "dry-b", true, 0, 1 },    /* other actives only */
		{ "liquid-a", true, 1, 2 }, /* its content is told per litre */
	};
	for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
		const struct totals_item items[] = { item(1, "dry-a", 10, true),
			item(2, cases[i].product, 3, cases[i].is_mass) };
		size_t count;
		struct total *totals = find(items, 2, &count);
		const struct total *active =
		    line_of(totals, count, TOTALS_ACTIVE, "active-a", "front");
		assert_close(active->amount.known, 5, 1e-12);
		assert_int_equal(active->amount.unknown, cases[i].unknown);
		assert_int_equal(active->count, cases[i].counted);
		/* the ground of what may have had it is not known either */
		assert_int_equal(active->area.unknown,
		    cases[i].unknown + 1 - cases[i].counted);
		free(totals);
	}
}

/* A tank may hold what has it beside what nobody can tell of. */
static void
knows_the_ground_of_an_active_by_its_records(void **state)
{
	(void)state;
	const struct totals_item items[] = { item(1, "gone", 3, true),
		item(1, "dry-a", 10, true), item(2, "gone", 3, true),
		item(2, "silent", 3, true) };
	size_t count;
	struct total *totals = find(items, 4, &count);
	const struct total *active =
	    line_of(totals, count, TOTALS_ACTIVE, "active-a", "front");
	assert_int_equal(active->count, 1);
	assert_close(active->area.known, 100, 1e-12);
	assert_int_equal(active->area.unknown, 1);
	assert_close(active->amount.known, 5, 1e-12);
	assert_int_equal(active->amount.unknown, 3);
	free(totals);
}

static void
never_adds_grams_to_litres(void **state)
{
	(void)state;
	const struct totals_item items[] = { item(1, "dry-a", NAN, false),
		item(2, "dry-a", 10, true), item(3, "dry-a", 2, false) };
	size_t count;
	struct total *totals = find(items, 3, &count);
	struct total lines[2] = { 0 };
	size_t used = 0;
	for (size_t i = 0; i < count; i++)
		if (totals[i].kind == TOTALS_PRODUCT) {
			assert_true(used < 2);
			lines[used++] = totals[i];
		}
	assert_int_equal(used, 2);
	/* the amount that nobody knows is of the first */
	assert_true(lines[0].is_mass);
	assert_close(lines[0].amount.known, 10, 1e-12);
	assert_int_equal(lines[0].amount.unknown, 1);
	assert_int_equal(lines[0].count, 2);
	assert_false(lines[1].is_mass);
	assert_close(lines[1].amount.known, 2, 1e-12);
	assert_int_equal(lines[1].count, 1);
	free(totals);
}

static void
tells_years_in_order_and_all_sites_last(void **state)
{
	(void)state;
	struct totals_item items[] = { item(1, "dry-a", 1, true),
		item(2, "dry-a", 2, true), item(3, "dry-a", 4, true),
		item(4, "dry-a", 8, true) };
	items[0].year = 2027;
	items[1].application.site = "back";
	items[3].year = 2025;
	size_t count;
	struct total *totals = find(items, 4, &count);
	for (size_t i = 1; i < count; i++)
		assert_true(totals[i].year >= totals[i - 1].year);
	size_t all = 0;
	for (size_t i = 0; i < count; i++) {
		if (totals[i].site != NULL)
			continue;
		/* only 2026 has two sites, and these lines end it */
		assert_int_equal(totals[i].year, 2026);
		assert_true(i + 1 == count || totals[i + 1].year != 2026 ||
			    totals[i + 1].site == NULL);
		all++;
	}
	assert_int_equal(all, 2);
	assert_close(
	    line_of(totals, count, TOTALS_PRODUCT, "dry-a", NULL)->amount.known,
	    6, 1e-12);
	assert_close(line_of(totals, count, TOTALS_PRODUCT, "dry-a", "back")
			 ->amount.known,
	    2, 1e-12);
	free(totals);
}

static double
random_part(unsigned *seed)
{
	*seed = *seed * 1103515245U + 12345U;
	return (double)(*seed >> 16 & 0x7FFF) / 32768;
}

/* Every line against a walk over all items that knows nothing of lines. */
static void
check_line(
    const struct total *line, const struct totals_item *items, size_t count)
{
	double known = 0, rate = 0;
	size_t unknown = 0;
	for (size_t i = 0; i < count; i++) {
		const struct application *one = &items[i].application;
		if (items[i].year != line->year ||
		    strcmp(one->product, line->name) != 0 ||
		    (line->site != NULL && strcmp(one->site, line->site) != 0))
			continue;
		unknown += isnan(one->amount) ? 1 : 0;
		known += isnan(one->amount) ? 0 : one->amount;
		rate += isnan(one->amount) ? 0 : one->amount / one->area;
	}
	assert_close(line->amount.known, known, 1e-9);
	assert_int_equal(line->amount.unknown, unknown);
	assert_close(line->per_area.known, rate, 1e-9);
	assert_true(line->count > 0);
}

static void
agrees_with_a_plain_walk(void **state)
{
	(void)state;
	enum { ITEMS = 40 };
	static const char *const sites[] = { "front", "back", "side" };
	unsigned seed = 5;
	for (int round = 0; round < rounds(300); round++) {
		struct totals_item items[ITEMS];
		size_t used = (size_t)(random_part(&seed) * ITEMS);
		for (size_t i = 0; i < used; i++) {
			const char *product =
			    cards[(size_t)(random_part(&seed) * CARDS)].name;
			double amount = random_part(&seed) < 0.1
					    ? NAN
					    : 50 * random_part(&seed);
			items[i] = item((int64_t)i + 1, product, amount, true);
			items[i].year = 2024 + (int)(random_part(&seed) * 3);
			items[i].application.site =
			    sites[(size_t)(random_part(&seed) * 3)];
			items[i].application.area =
			    1 + 500 * random_part(&seed);
		}
		size_t count;
		struct total *totals = find(items, used, &count);
		assert_true(used == 0 || count > 0);
		for (size_t i = 0; i < count; i++)
			if (totals[i].kind == TOTALS_PRODUCT)
				check_line(&totals[i], items, used);
		free(totals);
	}
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(says_nothing_of_no_records),
		cmocka_unit_test(
		    counts_the_records_of_a_site_and_not_their_products),
		cmocka_unit_test(spreads_each_record_over_its_own_ground),
		cmocka_unit_test(
		    adds_one_active_up_over_products_whatever_its_letters),
		cmocka_unit_test(keeps_what_is_not_known_beside_the_sum),
		cmocka_unit_test(
		    does_not_know_the_actives_of_what_no_card_tells),
		cmocka_unit_test(knows_the_ground_of_an_active_by_its_records),
		cmocka_unit_test(never_adds_grams_to_litres),
		cmocka_unit_test(tells_years_in_order_and_all_sites_last),
		cmocka_unit_test(agrees_with_a_plain_walk),
	};
	return RUN_TESTS(tests);
}
