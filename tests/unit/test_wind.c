#include "unit/test.h"

#include "physics/wind.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

/* FAO-56 example 14 (page 92), read in a public test suite. */
static void
agrees_with_example_14(void **state)
{
	(void)state;
	assert_close(wind_at_2m(3.2, 10), 2.4, 0.05);
	/* Computed from eq. 47. */
	assert_close(wind_at_2m(3.2, 10), 2.3934, 0.00005);
}

/* FAO-56 eq. 47, computed; its table 2.9 prints as many decimals. */
static void
factors_to_2m_agree_with_the_table(void **state)
{
	(void)state;
	static const double rows[][2] = { { 0.5, 1.454 }, { 1, 1.178 },
		{ 1.2, 1.125 }, { 1.4, 1.084 }, { 1.6, 1.051 }, { 1.8, 1.023 },
		{ 2, 1.000 }, { 2.5, 0.955 }, { 3, 0.921 }, { 4, 0.872 },
		{ 5, 0.838 }, { 6, 0.812 }, { 7.5, 0.783 }, { 10, 0.748 },
		{ 15, 0.704 }, { 20, 0.676 } };
	for (size_t i = 0; i < COUNT(rows); i++)
		assert_close(wind_at_2m(1, rows[i][0]), rows[i][1], 6e-4);
}

/* The logarithmic profile over grass of 0.12 m, computed. */
static void
profile_agrees_with_computed_factors(void **state)
{
	(void)state;
	static const double rows[][3] = {
		/* wind at 10 m, height, wind there */
		{ 1, 2, 0.748 },
		{ 1, 1, 0.635 },
		{ 1, 0.5, 0.514 },
	};
	for (size_t i = 0; i < COUNT(rows); i++)
		assert_close(wind_at_height(rows[i][0], 10, rows[i][1]),
		    rows[i][2], 6e-4);
}

/* Computed and rounded to a tenth of a mile per hour. */
static void
profile_agrees_with_worked_miles_per_hour(void **state)
{
	(void)state;
	static const double rows[][3] = { { 10, 7.5, 5.1 }, { 15, 11.2, 7.7 },
		{ 3, 2.2, 1.5 }, { 20, 15.0, 10.3 } };
	for (size_t i = 0; i < COUNT(rows); i++) {
		assert_close(
		    wind_at_height(rows[i][0], 10, 2), rows[i][1], 0.051);
		assert_close(
		    wind_at_height(rows[i][0], 10, 0.5), rows[i][2], 0.051);
	}
	/* 3 mph at the boom, 0.5 m or 2 ft up, need so much at 10 m. */
	assert_close(wind_at_height(3, 0.5, 10), 5.8, 0.05);
	assert_close(wind_at_height(3, 0.6096, 10), 5.45, 0.05);
}

/* Eq. 47 is this profile with its numbers rounded. */
static void
both_formulas_agree_at_2m(void **state)
{
	(void)state;
	for (int i = 5; i <= 200; i++) {
		double height = i / 10.0;
		assert_close(wind_at_height(1, height, 2),
		    wind_at_2m(1, height), 0.0015);
	}
}

static void
profile_goes_there_and_back(void **state)
{
	(void)state;
	for (int i = 1; i <= 200; i++) {
		double height = i / 10.0;
		double there = wind_at_height(7, 10, height);
		assert_close(wind_at_height(there, height, 10), 7, 1e-12);
		assert_close(wind_at_height(7, height, height), 7, 1e-12);
		assert_true(there < wind_at_height(7, 10, height + 0.1));
	}
}

static void
refuses_heights_below_the_grass(void **state)
{
	(void)state;
	static const double heights[] = { 0.0947, 0, -10, NAN };
	for (size_t i = 0; i < COUNT(heights); i++) {
		assert_nan(wind_at_2m(3, heights[i]));
		assert_nan(wind_at_height(3, heights[i], 2));
		assert_nan(wind_at_height(3, 2, heights[i]));
	}
	assert_true(wind_at_2m(3, 0.0948) > 0);
	assert_true(wind_at_height(3, 2, 0.0948) > 0);
	assert_true(wind_at_height(3, 0.0948, 2) > 0);
}

static void
unknown_gives_unknown(void **state)
{
	(void)state;
	assert_nan(wind_at_2m(NAN, 10));
	assert_nan(wind_at_height(NAN, 10, 2));
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(agrees_with_example_14),
		cmocka_unit_test(factors_to_2m_agree_with_the_table),
		cmocka_unit_test(profile_agrees_with_computed_factors),
		cmocka_unit_test(profile_agrees_with_worked_miles_per_hour),
		cmocka_unit_test(both_formulas_agree_at_2m),
		cmocka_unit_test(profile_goes_there_and_back),
		cmocka_unit_test(refuses_heights_below_the_grass),
		cmocka_unit_test(unknown_gives_unknown),
	};
	return RUN_TESTS(tests);
}
