/* How much lawns can ever use, and when a package is far too much. */
#include "unit/test.h"

#include "turf/surplus.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))
#define BIT(species) (1U << TURF_##species)
#define CONTROL(...)                                                           \
	.control = (const char *[]){ __VA_ARGS__ },                            \
	.control_count =                                                       \
	    sizeof((const char *[]){ __VA_ARGS__ }) / sizeof(char *)

enum {
	JANUARY_1 = 20454, /* 2026, in days from 1970-01-01 */
	YEAR = 365,
	JULY_1 = JANUARY_1 + 181,
	NEW_YEAR = JANUARY_1 + YEAR
};

/* 500 m2 of bermuda and 200 m2 of which nobody says what it is. */
static const struct sprayer pack = { .name = "pack", .carrier = 0.04 };
static const struct site front = {
	.name = "front", .area = 500, .species = TURF_BERMUDA
};
static const struct site back = { .name = "back", .area = 200 };
static const struct lawn two[] = { { &front, &pack }, { &back, &pack } };
static const struct lawns lawns = { two, 2 };

#define CEILING(what, most)                                                    \
	{                                                                      \
		.measure = MEASURE_SEASON_##what, .bound = BOUND_AT_MOST,      \
		.limit = (most), .subject = "Active-X"                         \
	}
#define RULES(...)                                                             \
	.rules = (struct rule[]){ __VA_ARGS__ },                               \
	.rule_count =                                                          \
	    sizeof((struct rule[]){ __VA_ARGS__ }) / sizeof(struct rule)
#define GRAMS(value) .rate = (value), .rate_kind = QUANTITY_MASS_PER_AREA
#define HALF                                                                   \
	.active = (struct active[]){ { "active-x", 0.5, false } },             \
	.active_count = 1

struct season {
	struct product product;
	bool is_mass;
	double wanted; /* of the 700 m2, unless the turf excludes some */
};

static const struct season seasons[] = {
	{ { GRAMS(0.2), RULES(CEILING(COUNT, 3)) }, true, 0.6 * 700 },
	/* the highest rate that the card allows */
	{ { GRAMS(0.2), .rate_most = 0.3, RULES(CEILING(COUNT, 3)) }, true,
	    0.9 * 700 },
	{ { GRAMS(0), .rate_most = 0.3, RULES(CEILING(COUNT, 3)) }, true,
	    0.9 * 700 },
	{ { GRAMS(0.2), RULES({ .measure = MEASURE_SEASON_COUNT,
			    .bound = BOUND_BELOW,
			    .limit = 3 }) },
	    true, 0.4 * 700 },
	{ { GRAMS(0.2), RULES(CEILING(AMOUNT, 0.5)) }, true, 0.5 * 700 },
	{ { GRAMS(0.2), HALF, RULES(CEILING(ACTIVE, 0.2)) }, true, 0.4 * 700 },
	/* the tightest of them */
	{ { GRAMS(0.2), HALF,
	      RULES(CEILING(COUNT, 3), CEILING(AMOUNT, 0.5),
		  CEILING(ACTIVE, 0.2)) },
	    true, 0.4 * 700 },
	/* days 1, 101, 201 and 301 */
	{ { GRAMS(0.2), .retreatment = 100 }, true, 0.8 * 700 },
	{ { GRAMS(0.2), .retreatment = 100, RULES(CEILING(COUNT, 1)) }, true,
	    0.2 * 700 },
	/* a share of the mix */
	{ { .rate = 0.0025,
	      .rate_kind = QUANTITY_VOLUME_PER_VOLUME,
	      RULES(CEILING(COUNT, 2)) },
	    false, 2 * 0.0025 * 0.04 * 700 },
	{ { .name = "p",
	      RULES({ .measure = MEASURE_SEASON_AMOUNT,
		  .bound = BOUND_AT_MOST,
		  .limit = 0.01,
		  .is_volume = true }) },
	    false, 0.01 * 700 },
	/* turf that excludes a lawn, and turf that nobody says */
	{ { GRAMS(0.2), .species = BIT(BERMUDA), RULES(CEILING(COUNT, 3)) },
	    true, 0.6 * 700 },
	{ { GRAMS(0.2), .species = BIT(ZOYSIA), RULES(CEILING(COUNT, 3)) },
	    true, 0.6 * 200 },
	/* nobody can tell */
	{ { GRAMS(0.2) }, true, NAN },
	{ { GRAMS(0), RULES(CEILING(COUNT, 3)) }, true, NAN },
	{ { GRAMS(0.2), RULES(CEILING(COUNT, 3)) }, false, NAN },
	{ { GRAMS(0.2), RULES(CEILING(ACTIVE, 0.2)) }, true, NAN },
	{ { GRAMS(0.2), RULES({ .measure = MEASURE_SEASON_COUNT,
			    .bound = BOUND_AT_LEAST,
			    .limit = 3 }) },
	    true, NAN },
};

static void
a_season_is_the_tightest_limit_times_the_ground(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(seasons); i++) {
		double most = season_most(
		    &seasons[i].product, NULL, seasons[i].is_mass, &lawns);
		bool same = isnan(seasons[i].wanted)
				? isnan(most)
				: fabs(most - seasons[i].wanted) < 1e-9;
		if (!same)
			fail_msg(
			    "%zu: %g, wanted %g", i, most, seasons[i].wanted);
	}
	const struct lawns none = { NULL, 0 };
	assert_nan(season_most(&seasons[0].product, NULL, true, &none));
}

struct use {
	int64_t today, expires;
	double seasons; /* NaN: not known */
};

static const struct use uses[] = {
	{ JANUARY_1, JANUARY_1, 1 },
	{ JANUARY_1, NEW_YEAR - 1, 1 },
	{ NEW_YEAR - 1, NEW_YEAR, 2 },
	{ JULY_1, JULY_1 + 2 * YEAR, 3 },
	{ JULY_1, JULY_1 - 1, 0 }, /* it has expired */
	{ JULY_1, INT64_MAX, NAN },
};

static void
each_year_that_is_begun_counts_whole(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(uses); i++) {
		const struct package package = { .product = &seasons[0].product,
			.is_mass = true,
			.expires = uses[i].expires };
		double use = package_use(&package, &lawns, uses[i].today);
		if (isnan(uses[i].seasons))
			assert_nan(use);
		else
			assert_close(use, uses[i].seasons * 0.6 * 700, 1e-9);
	}
}

static void
more_than_twice_the_use_is_a_surplus(void **state)
{
	(void)state;
	static const struct {
		double left, use;
		bool wanted;
	} cases[] = { { 20, 10, false }, { 20.001, 10, true }, { 1, 0, true },
		{ 0, 0, false }, { NAN, 10, false }, { 20, NAN, false } };
	for (size_t i = 0; i < COUNT(cases); i++) {
		const struct shelf_item item = { .left = cases[i].left };
		assert_int_equal(
		    package_is_surplus(&item, cases[i].use), cases[i].wanted);
	}
}

/*
 * A package meant for an acre is too much for 7,000 ft2 (common practice, no
 * source): one application a year, of a dry product that keeps some months
 * once it is open. The acre itself could use it.
 */
static void
an_acre_is_too_much_for_seven_thousand_square_feet(void **state)
{
	(void)state;
	const double square_foot = 0.3048 * 0.3048, acre = 43560 * square_foot;
	const struct product product = {
		.name = "p", GRAMS(0.01), RULES(CEILING(COUNT, 1))
	};
	const struct package package = { .product = &product,
		.size = 0.01 * acre,
		.is_mass = true,
		.opened = JANUARY_1,
		.expires = JULY_1 };
	const struct shelf_item item = { &package, package.size, 0 };
	struct site site = { .name = "home", .area = 7000 * square_foot };
	const struct lawn lawn = { &site, &pack };
	const struct lawns home = { &lawn, 1 };
	double use = package_use(&package, &home, JANUARY_1);
	assert_close(use, package.size * 7000 / 43560, 1e-9);
	assert_true(package_is_surplus(&item, use));
	site.area = acre;
	use = package_use(&package, &home, JANUARY_1);
	assert_close(use, package.size, 1e-9);
	assert_false(package_is_surplus(&item, use));
}

static void
a_dose_is_the_rate_on_the_whole_lawn(void **state)
{
	(void)state;
	const struct product by_area = { GRAMS(0.2), .rate_most = 0.3 };
	const struct product by_mix = { .name = "n",
		.rate = 0.0025,
		.rate_kind = QUANTITY_VOLUME_PER_VOLUME };
	const struct product silent = { .name = "s", .rate_most = 0.3 };
	assert_close(lawn_dose(&by_area, &two[0]), 100, 1e-9);
	assert_close(lawn_dose(&by_mix, &two[1]), 0.02, 1e-12);
	assert_nan(lawn_dose(&silent, &two[0]));
}

static const struct product cards[] = {
	{ GRAMS(0.2), .name = "own", .species = BIT(BERMUDA) | BIT(ZOYSIA),
	    RULES(CEILING(COUNT, 2)),
	    CONTROL("yellow nutsedge", "White Clover") },
	{ .name = "liquid",
	    .rate = 0.001,
	    .rate_kind = QUANTITY_VOLUME_PER_AREA,
	    .species = BIT(BERMUDA),
	    RULES(CEILING(COUNT, 1)),
	    CONTROL("white clover", "Yellow Nutsedge") },
	{ GRAMS(0.1), .name = "unlimited", CONTROL("white clover") },
	{ GRAMS(0.1), .name = "other weed", CONTROL("annual bluegrass") },
	{ GRAMS(0.1), .name = "silent" },
	{ GRAMS(0.1), .name = "other turf", .species = BIT(CENTIPEDE),
	    CONTROL("white clover") },
};

static void
what_controls_one_of_the_weeds_is_a_substitute(void **state)
{
	(void)state;
	const struct lawns only_front = { two, 1 };
	const struct package packages[] = {
		{ .name = "o",
		    .product = &cards[0],
		    .size = 5000,
		    .is_mass = true,
		    .price = 50 },
		{ .name = "l0", .product = &cards[1], .size = 2, .price = NAN },
		{ .name = "l1", .product = &cards[1], .size = 1, .price = 30 },
	};
	const struct substitute_facts facts = { &packages[0], cards,
		COUNT(cards), packages, COUNT(packages), &only_front };
	struct substitute found[8];
	assert_int_equal(substitutes_find(&facts, found, 8), 2);
	const struct substitute *liquid = &found[0];
	assert_ptr_equal(liquid->product, &cards[1]);
	assert_string_equal(liquid->weed, "yellow nutsedge");
	assert_false(liquid->is_mass);
	assert_close(liquid->season, 0.001 * 500, 1e-12);
	/* of the package that has a price */
	assert_close(liquid->share, 0.5, 1e-12);
	assert_close(liquid->cost, 15, 1e-9);
	assert_close(liquid->own_season, 2 * 0.2 * 500, 1e-9);
	assert_string_equal(found[1].product->name, "unlimited");
	assert_string_equal(found[1].weed, "White Clover");
	assert_nan(found[1].season);
	assert_nan(found[1].share);
	assert_nan(found[1].cost);
	assert_int_equal(substitutes_find(&facts, found, 1), 1);
}

/* A season of both is told of the lawns that suit both. */
static void
seasons_are_compared_on_the_same_ground(void **state)
{
	(void)state;
	const struct site zoysia = {
		.name = "zoysia", .area = 100, .species = TURF_ZOYSIA
	};
	const struct lawn both[] = { { &front, &pack }, { &zoysia, &pack } };
	const struct lawns ground = { both, 2 };
	const struct package package = { .name = "o",
		.product = &cards[0],
		.size = 5000,
		.is_mass = true,
		.price = NAN };
	const struct substitute_facts facts = { &package, cards, 2, &package, 1,
		&ground };
	struct substitute found[8];
	assert_int_equal(substitutes_find(&facts, found, 8), 1);
	assert_close(found[0].season, 0.001 * 500, 1e-12);
	assert_close(found[0].own_season, 2 * 0.2 * 500, 1e-9);
	assert_nan(found[0].cost);
	assert_close(
	    season_most(&cards[0], NULL, true, &ground), 0.4 * 600, 1e-9);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(
		    a_season_is_the_tightest_limit_times_the_ground),
		cmocka_unit_test(each_year_that_is_begun_counts_whole),
		cmocka_unit_test(more_than_twice_the_use_is_a_surplus),
		cmocka_unit_test(
		    an_acre_is_too_much_for_seven_thousand_square_feet),
		cmocka_unit_test(a_dose_is_the_rate_on_the_whole_lawn),
		cmocka_unit_test(
		    what_controls_one_of_the_weeds_is_a_substitute),
		cmocka_unit_test(seasons_are_compared_on_the_same_ground),
	};
	return RUN_TESTS(tests);
}
