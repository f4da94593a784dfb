/* Amounts on the tools of a bench. */
#include "unit/test.h"

#include "turf/measure_out.h"
#include "unit/heart.h"
#include "unit/mix_lawn.h"

/* A tablespoon, a teaspoon, a half and a quarter of one. */
struct drawer {
	double spoon[4];
	struct bench bench;
};

static void
open_drawer(struct drawer *drawer, double scale, double cylinder)
{
	static const char *const sizes[] = { "1 tbsp", "1 tsp", "0.5 tsp",
		"0.25 tsp" };
	for (size_t i = 0; i < COUNT(sizes); i++)
		drawer->spoon[i] = quantity(sizes[i], QUANTITY_VOLUME);
	drawer->bench =
	    (struct bench){ scale, cylinder, drawer->spoon, COUNT(sizes) };
}

static void
assert_told(const struct measured *measured, const struct bench *bench,
    const char *wanted)
{
	struct text text;
	text_init(&text, 1000);
	measured_print(&text, measured, bench, UNITS_US);
	assert_string_equal(text_string(&text), wanted);
	text_release(&text);
}

/* Common practice, no source: 3.2 g in each of 2.5 gal. */
static void
a_scale_is_told_in_its_steps(void **state)
{
	(void)state;
	struct drawer drawer;
	open_drawer(&drawer, 0.1, 0);
	struct measured measured = measure_mass(&drawer.bench, 8, 0);
	assert_int_equal(measured.tool, TOOL_SCALE);
	assert_close(measured.told, 8, 1e-12);
	assert_close(measured.off, 0.05 / 8, 1e-12);
	assert_told(&measured, &drawer.bench, "weigh 8.0 g");
	measured = measure_mass(&drawer.bench, 8.04, 0);
	assert_close(measured.told, 8, 1e-12);
	assert_close(measured.off, 0.09 / 8.04, 1e-12);
	measured = measure_mass(&drawer.bench, 2, 0);
	assert_told(&measured, &drawer.bench, "weigh 2.0 g");
	measured = measure_mass(&drawer.bench, 1.97, 0);
	assert_told(&measured, &drawer.bench, "weigh 2.0 g, at most 5 % off");
	/* ounces beside the grams, where that is what the keeper thinks in */
	measured = measure_mass(&drawer.bench, 68.04, 0);
	assert_told(&measured, &drawer.bench, "weigh 68.0 g (2.4 oz)");
}

/* The half of a step and what was rounded: over 5 % is not weighed. */
static void
what_the_scale_cannot_weigh_wants_a_stock_solution(void **state)
{
	(void)state;
	static const struct {
		double scale, grams;
		enum tool tool;
	} rows[] = {
		/* the doses of a 4 gal backpack, computed (C) */
		{ 0.1, 1.458, TOOL_STOCK }, /* 0.042 + 0.05 of it */
		{ 0.01, 1.458, TOOL_SCALE },
		{ 0.1, 0.911, TOOL_STOCK },
		{ 0.01, 0.3645, TOOL_SCALE }, /* 0.0045 + 0.005 */
		{ 0.1, 1, TOOL_SCALE },       /* just 5 % */
		{ 0.1, 0.999, TOOL_STOCK },
		{ 0.1, 0.02, TOOL_STOCK },
		{ 0, 8, TOOL_NONE },
		{ 0, 0.02, TOOL_NONE },
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		struct drawer drawer;
		open_drawer(&drawer, rows[i].scale, 0.001);
		struct measured measured =
		    measure_mass(&drawer.bench, rows[i].grams, 0);
		assert_int_equal(measured.tool, rows[i].tool);
		if (rows[i].tool != TOOL_SCALE) {
			assert_close(measured.told, rows[i].grams, 0);
			assert_nan(measured.off);
		}
	}
}

/* Common practice, no source: a scoop holds 0.8 g, and one is accepted when the
   scale says 0.78 to 0.82 g. */
static void
scoops_are_counted_and_one_is_weighed(void **state)
{
	(void)state;
	struct drawer drawer;
	open_drawer(&drawer, 0.01, 0);
	struct measured measured = measure_mass(&drawer.bench, 1.6, 0.8);
	assert_int_equal(measured.tool, TOOL_SCOOP);
	assert_int_equal(measured.scoops, 2);
	assert_close(measured.told, 1.6, 1e-12);
	assert_close(measured.rest, 0, 0);
	assert_close(measured.off, 0.025, 1e-9);
	assert_told(&measured, &drawer.bench,
	    "2 level scoops of 0.8 g (1.6 g); one must weigh 0.78 g "
	    "to 0.82 g, else weigh it all");
	/* what is no whole scoop goes onto the scale */
	measured = measure_mass(&drawer.bench, 2, 0.8);
	assert_int_equal(measured.scoops, 2);
	assert_close(measured.rest, 0.4, 1e-9);
	assert_told(&measured, &drawer.bench,
	    "2 level scoops of 0.8 g and 0.40 g on the scale (2 g); one must "
	    "weigh 0.78 g to 0.82 g, else weigh it all");
	/* ten where one is too little for the scale, none where ten are */
	open_drawer(&drawer, 0.1, 0);
	measured = measure_mass(&drawer.bench, 1.6, 0.8);
	assert_int_equal(measured.scoops_checked, 10);
	assert_told(&measured, &drawer.bench,
	    "2 level scoops of 0.8 g (1.6 g); ten must weigh 7.8 g "
	    "to 8.2 g, else weigh it all");
	open_drawer(&drawer, 1, 0);
	measured = measure_mass(&drawer.bench, 1.6, 0.8);
	assert_int_equal(measured.scoops_checked, 0);
	assert_told(
	    &measured, &drawer.bench, "2 level scoops of 0.8 g (1.6 g)");
}

static void
scoops_give_way_to_the_scale(void **state)
{
	(void)state;
	static const struct {
		double scale, grams;
		enum tool tool;
	} rows[] = {
		{ 0.01, 80, TOOL_SCALE },  /* a hundred are miscounted */
		{ 0.01, 0.4, TOOL_SCALE }, /* half a one is none */
		{ 0, 1.6, TOOL_SCOOP },
		{ 0, 2, TOOL_NONE }, /* the rest cannot be weighed */
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		struct drawer drawer;
		open_drawer(&drawer, rows[i].scale, 0);
		struct measured measured =
		    measure_mass(&drawer.bench, rows[i].grams, 0.8);
		assert_int_equal(measured.tool, rows[i].tool);
	}
}

/* Common practice, no source: a teaspoon of surfactant and half a fluid ounce
   of dye in each of 2.5 gal. */
static void
spoons_are_few_and_the_largest_come_first(void **state)
{
	(void)state;
	struct drawer drawer;
	open_drawer(&drawer, 0.1, 0.001);
	struct measured measured =
	    measure_volume(&drawer.bench, quantity("2.5 tsp", QUANTITY_VOLUME));
	assert_int_equal(measured.tool, TOOL_SPOONS);
	assert_close(measured.told, measured.wanted, 1e-12);
	assert_told(
	    &measured, &drawer.bench, "2 tsp + 1/2 tsp: 0.417 fl oz (12.3 mL)");
	measured = measure_volume(
	    &drawer.bench, quantity("1.25 fl oz", QUANTITY_VOLUME));
	assert_told(&measured, &drawer.bench,
	    "2 tbsp + 1 tsp + 1/2 tsp: 1.25 fl oz (37 mL)");
	/* 7.68 tsp: 7.5 of them are near enough, 8 are not (C) */
	measured = measure_volume(
	    &drawer.bench, quantity("37.85 mL", QUANTITY_VOLUME));
	assert_told(&measured, &drawer.bench,
	    "2 tbsp + 1 tsp + 1/2 tsp: 1.28 fl oz (37.9 mL)");
	measured = measure_volume(
	    &drawer.bench, quantity("0.25 tsp", QUANTITY_VOLUME));
	assert_told(
	    &measured, &drawer.bench, "1/4 tsp: 0.0417 fl oz (1.23 mL)");
}

static void
a_cylinder_is_filled_rather_than_many_spoons_counted(void **state)
{
	(void)state;
	static const struct {
		const char *amount;
		enum tool with, without; /* a cylinder */
	} rows[] = { { "4 tbsp", TOOL_SPOONS, TOOL_SPOONS },
		{ "5 tbsp", TOOL_CYLINDER, TOOL_SPOONS },
		{ "8 tbsp", TOOL_CYLINDER, TOOL_SPOONS },
		{ "9 tbsp", TOOL_CYLINDER, TOOL_NONE } };
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		struct drawer drawer;
		double amount = quantity(rows[i].amount, QUANTITY_VOLUME);
		open_drawer(&drawer, 0.1, 0.001);
		assert_int_equal(
		    measure_volume(&drawer.bench, amount).tool, rows[i].with);
		open_drawer(&drawer, 0.1, 0);
		assert_int_equal(measure_volume(&drawer.bench, amount).tool,
		    rows[i].without);
	}
}

static void
what_no_spoons_tell_goes_into_the_cylinder(void **state)
{
	(void)state;
	struct drawer drawer;
	open_drawer(&drawer, 0.1, 0.001);
	/* twelve tablespoons are miscounted */
	struct measured measured =
	    measure_volume(&drawer.bench, quantity("6 fl oz", QUANTITY_VOLUME));
	assert_int_equal(measured.tool, TOOL_CYLINDER);
	assert_told(
	    &measured, &drawer.bench, "177 mL in the cylinder (6 fl oz)");
	/* 0.6 tsp is no quarter of one */
	measured =
	    measure_volume(&drawer.bench, quantity("0.6 tsp", QUANTITY_VOLUME));
	assert_int_equal(measured.tool, TOOL_CYLINDER);
	assert_told(&measured, &drawer.bench,
	    "3 mL in the cylinder (0.1 fl oz), at most 19 % off: it wants a "
	    "finer mark");
	drawer.bench.cylinder = quantity("0.25 fl oz", QUANTITY_VOLUME);
	drawer.bench.spoon_count = 0;
	measured = measure_volume(
	    &drawer.bench, quantity("6.1 fl oz", QUANTITY_VOLUME));
	assert_told(&measured, &drawer.bench,
	    "6.00 fl oz in the cylinder, at most 4 % off");
	/* less than the half of a mark is on no tool */
	measured = measure_volume(&drawer.bench, 0.001);
	assert_int_equal(measured.tool, TOOL_NONE);
	drawer.bench.cylinder = 0;
	measured = measure_volume(
	    &drawer.bench, quantity("1.25 fl oz", QUANTITY_VOLUME));
	assert_int_equal(measured.tool, TOOL_NONE);
	assert_told(&measured, &drawer.bench, "1.25 fl oz (37 mL)");
}

static void
spoons_are_for_liquids_only(void **state)
{
	(void)state;
	struct drawer drawer;
	uint64_t seed = 5;
	for (int n = 0; n < rounds(2000); n++) {
		open_drawer(&drawer, draw_from(&seed, 0, 2) / 100.0, 0.001);
		struct measured measured = measure_mass(&drawer.bench,
		    draw_from(&seed, 1, 3000) / 100.0,
		    draw_from(&seed, 0, 30) / 10.0);
		assert_int_not_equal(measured.tool, TOOL_SPOONS);
		for (size_t i = 0; i < SPOON_KINDS_MOST; i++)
			assert_int_equal(measured.spoon[i], 0);
		/* a stock solution is never drawn with one */
		measured = measure_draw(&drawer.bench, 0.005);
		assert_int_equal(measured.tool, TOOL_CYLINDER);
	}
}

/* What the tools give, from what is counted and read. */
static double
give(const struct measured *measured, const struct bench *bench)
{
	double sum =
	    (double)measured->scoops * measured->scoop + measured->rest;
	for (size_t i = 0; i < bench->spoon_count; i++)
		sum += (double)measured->spoon[i] * bench->spoon[i];
	bool counted =
	    measured->tool == TOOL_SCOOP || measured->tool == TOOL_SPOONS;
	return counted ? sum : measured->told;
}

/* A scale and a cylinder may read the half of a step wrong, a scoop 2.5 %. */
static double
read_wrong(const struct measured *measured, const struct bench *bench)
{
	switch (measured->tool) {
	case TOOL_SCALE:
		return bench->scale / 2;
	case TOOL_SCOOP:
		return (double)measured->scoops * measured->scoop * 0.025 +
		       (measured->rest > 0 ? bench->scale / 2 : 0);
	case TOOL_CYLINDER:
		return bench->cylinder / 2;
	default:
		return 0;
	}
}

static void
the_tools_are_within_the_error_that_is_told(void **state)
{
	(void)state;
	static const double steps[] = { 0.001, 0.01, 0.1, 0.5, 1 };
	uint64_t seed = 77;
	size_t seen[TOOL_STOCK + 1] = { 0 };
	for (int n = 0; n < rounds(20000); n++) {
		struct drawer drawer;
		double step = steps[draw_from(&seed, 0, COUNT(steps) - 1)];
		open_drawer(&drawer, step, step / 100);
		bool mass = n % 2 == 0;
		double amount = pow(10, draw_from(&seed, -2000, 2000) / 1000.0);
		double scoop = draw_from(&seed, 0, 20) / 10.0;
		struct measured measured =
		    mass ? measure_mass(&drawer.bench, amount, scoop)
			 : measure_volume(&drawer.bench, amount / 1000);
		seen[measured.tool]++;
		if (isnan(measured.off)) {
			assert_close(measured.told, measured.wanted, 0);
			continue;
		}
		double given = give(&measured, &drawer.bench);
		double wrong = read_wrong(&measured, &drawer.bench);
		assert_close(given, measured.told, 1e-9 * given);
		assert_true(
		    fabs(given - measured.wanted) + wrong <=
		    measured.wanted * measured.off * (1 + 1e-9) + 1e-12);
		if (mass)
			assert_true(measured.off <= 0.05 * (1 + 1e-8));
		if (measured.tool == TOOL_SPOONS)
			assert_true(measured.off <= 0.025);
	}
	for (enum tool tool = TOOL_SCALE; tool <= TOOL_STOCK; tool++)
		assert_true(seen[tool] > (size_t)rounds(100));
}

static void
spoons_of_other_sizes_are_told_in_millilitres(void **state)
{
	(void)state;
	static const double spoons[] = { 0.015, 0.005 };
	const struct bench bench = { 0, 0, spoons, 2 };
	struct measured measured = measure_volume(&bench, 0.025);
	struct text text;
	text_init(&text, 200);
	measured_print(&text, &measured, &bench, UNITS_METRIC);
	assert_string_equal(
	    text_string(&text), "1 x 15 mL + 2 x 5 mL: 25 mL (0.845 fl oz)");
	text_release(&text);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_scale_is_told_in_its_steps),
		cmocka_unit_test(
		    what_the_scale_cannot_weigh_wants_a_stock_solution),
		cmocka_unit_test(scoops_are_counted_and_one_is_weighed),
		cmocka_unit_test(scoops_give_way_to_the_scale),
		cmocka_unit_test(spoons_are_few_and_the_largest_come_first),
		cmocka_unit_test(
		    a_cylinder_is_filled_rather_than_many_spoons_counted),
		cmocka_unit_test(what_no_spoons_tell_goes_into_the_cylinder),
		cmocka_unit_test(spoons_are_for_liquids_only),
		cmocka_unit_test(the_tools_are_within_the_error_that_is_told),
		cmocka_unit_test(spoons_of_other_sizes_are_told_in_millilitres),
	};
	return RUN_TESTS(tests);
}
