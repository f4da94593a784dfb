#include "unit/test.h"

#include "physics/leaf_wetness.h"
#include "physics/psychrometrics.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

struct row {
	double temperature, depression, humidity, wind, wet;
};

static void
check_rows(const struct row *rows, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		const struct row *r = &rows[i];
		double wet = leaf_wet(
		    r->temperature, r->depression, r->humidity, r->wind);
		if (isnan(r->wet) ? !isnan(wet) : !(wet == r->wet))
			fail_msg("row %zu is %g, wanted %g", i, wet, r->wet);
	}
}

/*
 * Computed from the coefficients, which were read in public copies of the
 * model of Kim et al. 2002, Plant Disease 86:179; the squared humidity in one
 * of them. The number is the value that is held against the limit.
 */
static void
agrees_with_worked_rows(void **state)
{
	(void)state;
	static const struct row rows[] = {
		{ 14, 4.5, 98, 3.5, 0 }, /* by the depression alone */
		{ 20, 1.5, 92, 1.0, 1 }, /* 15.579 over 14.4674 */
		{ 20, 3.0, 83, 2.0, 0 }, /* 12.762 */
		{ 15, 3.0, 80, 2.0, 0 }, /* 12.320 */
		{ 5, 1.5, 97, 3.5, 1 },  /* 41.581 over 37.0 */
		{ 20, 1.5, 91, 3.0, 0 }, /* 36.904, just under */
	};
	check_rows(rows, COUNT(rows));
}

/*
 * Where each formula turns, solved for the humidity by hand from the values
 * above: 92 - (15.5790 - 14.4674) / (0.1531 - 0.0035 x 20) = 78.62, and the
 * root of 91^2 + (37 - 36.9043) / 0.0046 = 91.11.
 */
static void
turns_at_the_limit_of_each_formula(void **state)
{
	(void)state;
	static const struct row rows[] = {
		{ 20, 1.5, 78.60, 1.0, 0 },
		{ 20, 1.5, 78.64, 1.0, 1 },
		{ 20, 1.5, 91.10, 3.0, 0 },
		{ 20, 1.5, 91.13, 3.0, 1 },
	};
	check_rows(rows, COUNT(rows));
}

static void
branches_as_published(void **state)
{
	(void)state;
	static const struct row rows[] = {
		/* A depression of 3.7 is dry; a little less is not yet. */
		{ 20, 3.7, 100, 0, 0 },
		{ 20, 3.69, 100, 0, 1 },
		/* 87.8 % counts from a wind of 2.5 m/s, and both include. */
		{ 1, 3.6, 87.8, 2.5, 1 },
		{ 1, 3.6, 87.79, 2.5, 0 },
		{ 1, 3.6, 87.79, 2.49, 0 },
		{ 20, 1.0, 87, 2.49, 1 },
		{ 20, 1.0, 87, 2.5, 0 },
	};
	check_rows(rows, COUNT(rows));
}

static void
saturated_calm_air_is_wet_and_half_dry_air_is_dry(void **state)
{
	(void)state;
	for (int t = 0; t <= 40; t++) {
		double depression = t - dew_point(t, 50);
		assert_true(leaf_wet(t, 0, 100, 0) == 1.0);
		assert_true(leaf_wet(t, depression, 50, 0) == 0.0);
	}
}

/* Wind dries: once dry, more of it must not make the same air wet. */
static void
wind_never_wets_saturated_leaves(void **state)
{
	(void)state;
	for (int t = 0; t <= 40; t++) {
		double before = 1;
		for (int i = 0; i <= 100; i++) {
			double wet = leaf_wet(t, 0, 100, i / 10.0);
			assert_true(wet <= before);
			before = wet;
		}
		assert_true(before == 0);
	}
}

/* The formulas have a root of the temperature. */
static void
below_freezing_is_unknown_unless_dry_by_the_rest(void **state)
{
	(void)state;
	static const struct row rows[] = {
		{ 0, 0, 100, 1.0, 1 },
		{ -0.1, 0.5, 95, 1.0, NAN },
		{ -0.1, 0.5, 95, 3.0, NAN },
		{ -0.1, 3.7, 75, 1.0, 0 },
		{ -0.1, 2.0, 85, 3.0, 0 },
	};
	check_rows(rows, COUNT(rows));
}

static void
an_unknown_that_matters_gives_unknown(void **state)
{
	(void)state;
	static const struct row rows[] = {
		/* light wind: everything matters */
		{ NAN, 1.5, 92, 1, NAN },
		{ 20, NAN, 92, 1, NAN },
		{ 20, 1.5, NAN, 1, NAN },
		{ 20, 1.5, 92, NAN, NAN },
		/* strong wind and humid: everything matters */
		{ NAN, 1.5, 92, 3, NAN },
		{ 20, NAN, 92, 3, NAN },
		{ 20, 1.5, NAN, 3, NAN },
		/* strong wind and not humid: dry without the rest */
		{ NAN, NAN, 80, 3, 0 },
		/* a large depression: dry without the rest */
		{ NAN, 3.7, NAN, NAN, 0 },
		/* a wind that is none, and a sum that is none */
		{ 20, 1.5, 92, -1, NAN },
		{ HUGE_VAL, 1.5, 92, 1, NAN },
	};
	check_rows(rows, COUNT(rows));
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(agrees_with_worked_rows),
		cmocka_unit_test(turns_at_the_limit_of_each_formula),
		cmocka_unit_test(branches_as_published),
		cmocka_unit_test(
		    saturated_calm_air_is_wet_and_half_dry_air_is_dry),
		cmocka_unit_test(wind_never_wets_saturated_leaves),
		cmocka_unit_test(
		    below_freezing_is_unknown_unless_dry_by_the_rest),
		cmocka_unit_test(an_unknown_that_matters_gives_unknown),
	};
	return RUN_TESTS(tests);
}
