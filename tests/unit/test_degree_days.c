#include "unit/test.h"

#include "physics/degree_days.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))
#define PI           3.14159265358979323846

/* Examples printed by extension services, read; base 50 degF but the third. */
static void
average_agrees_with_printed_examples(void **state)
{
	(void)state;
	/* Michigan State University: 2.5, and -2.5 which counts as none. */
	assert_close(degree_days_average(65, 40, 50), 2.5, 1e-9);
	assert_close(degree_days_average(60, 35, 50), 0, 0);
	/* Iowa State University, Agronomy 541, lesson 2b. */
	assert_close(degree_days_average(70, 50, 50), 10, 1e-9);
	/* University of California IPM: a mean of 64 over 53. */
	assert_close(degree_days_average(74, 54, 53), 11, 1e-9);
	/* A calculator for maize. */
	assert_close(degree_days_average(85, 60, 50), 22.5, 1e-9);
}

/* Iowa State, as above, read: 90 counts as 86, and no day is over 36. */
static void
capped_agrees_with_printed_rules(void **state)
{
	(void)state;
	assert_close(degree_days_capped(90, 60, 50, 86),
	    degree_days_capped(86, 60, 50, 86), 1e-9);
	assert_close(degree_days_capped(70, 40, 50, 86),
	    degree_days_capped(70, 50, 50, 86), 1e-9);
	assert_close(degree_days_capped(110, 90, 50, 86), 36, 1e-9);
	assert_close(degree_days_capped(45, 30, 50, 86), 0, 0);
	assert_close(degree_days_capped(70, 40, 50, 50), 0, 0);
}

/* Computed from the four formulas, base 50 and cap 86. */
static void
all_methods_agree_with_computed_rows(void **state)
{
	(void)state;
	static const double rows[][6] = {
		/* high, low: average, capped, sine, four cases */
		{ 65, 40, 2.5, 7.5, 5.31, 5.0 },
		{ 60, 35, 0, 5.0, 2.81, 2.5 },
		{ 70, 50, 10, 10, 10, 10 },
		{ 90, 60, 25, 23, 25, 25 },
		{ 95, 45, 20, 18, 20.68, 21.25 },
		{ 85, 60, 22.5, 22.5, 22.5, 22.5 },
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		const double *r = rows[i];
		assert_close(degree_days_average(r[0], r[1], 50), r[2], 1e-9);
		assert_close(
		    degree_days_capped(r[0], r[1], 50, 86), r[3], 1e-9);
		assert_close(degree_days_sine(r[0], r[1], 50), r[4], 0.005);
		assert_close(
		    degree_days_four_cases(r[0], r[1], 50), r[5], 1e-9);
	}
}

/* Met Eireann's page on degree days, read: one row for each case. */
static void
four_cases_agree_with_their_formulas(void **state)
{
	(void)state;
	/* I: the low over the base. II: the high under it. */
	assert_close(degree_days_four_cases(20, 16, 15), 18 - 15, 1e-9);
	assert_close(degree_days_four_cases(14, 8, 15), 0, 0);
	/* III: the mean over it. IV: the mean under it. */
	assert_close(degree_days_four_cases(22, 12, 15),
	    (22 - 15) / 2.0 - (15 - 12) / 4.0, 1e-9);
	assert_close(degree_days_four_cases(17, 9, 15), (17 - 15) / 4.0, 1e-9);
	/* At the mean III and IV are the same, as the page says. */
	assert_close(degree_days_four_cases(20, 10, 15), 1.25, 1e-9);
}

/* The sum under the wave itself, which the sine method has in closed form. */
static double
add_up_wave(double high, double low, double base)
{
	const int steps = 20000;
	double sum = 0;
	for (int i = 0; i < steps; i++) {
		double at = (high + low) / 2 +
			    (high - low) / 2 * sin(2 * PI * (i + 0.5) / steps);
		sum += at > base ? at - base : 0;
	}
	return sum / steps;
}

static void
sine_is_the_area_under_the_wave(void **state)
{
	(void)state;
	for (int high = 30; high <= 110; high += 5) {
		for (int low = 10; low <= high; low += 5)
			assert_close(degree_days_sine(high, low, 50),
			    add_up_wave(high, low, 50), 1e-5);
	}
}

/* What is over the base less what is under it is the mean less the base. */
static void
over_and_under_add_up_to_the_mean(void **state)
{
	(void)state;
	double (*const methods[])(double, double, double) = {
		degree_days_average, degree_days_sine, degree_days_four_cases
	};
	for (int i = 0; i < 60 * 60; i++) {
		int range = i / 60;
		double low = i % 60 - 20.3, high = low + range;
		double wanted = (high + low) / 2 - 10;
		for (size_t m = 0; m < COUNT(methods); m++) {
			double over = methods[m](high, low, 10);
			double under = methods[m](-low, -high, -10);
			assert_true(over >= 0 && under >= 0);
			assert_close(over - under, wanted, 1e-9);
		}
	}
}

static double
to_fahrenheit(double celsius)
{
	return celsius * 1.8 + 32;
}

static void
fahrenheit_is_celsius_times_1_8(void **state)
{
	(void)state;
	for (int i = 0; i < 40 * 30; i++) {
		int range = i / 40;
		double low = i % 40 - 12.3, high = low + range;
		double h = to_fahrenheit(high), l = to_fahrenheit(low);
		assert_close(degree_days_average(h, l, 50),
		    1.8 * degree_days_average(high, low, 10), 1e-9);
		assert_close(degree_days_capped(h, l, 50, 86),
		    1.8 * degree_days_capped(high, low, 10, 30), 1e-9);
		assert_close(degree_days_sine(h, l, 50),
		    1.8 * degree_days_sine(high, low, 10), 1e-6);
		assert_close(degree_days_four_cases(h, l, 50),
		    1.8 * degree_days_four_cases(high, low, 10), 1e-9);
	}
}

/* A wave that only just touches the base: no sine may leave -1..1. */
static void
sine_stays_known_at_the_edges(void **state)
{
	(void)state;
	for (int i = 0; i < 2000; i++) {
		double low = i * 0.0137 - 7, high = low + 3.3;
		double over = degree_days_sine(high, low, nextafter(low, 99));
		double under =
		    degree_days_sine(high, low, nextafter(high, low));
		assert_close(over, 1.65, 1e-9);
		assert_close(under, 0, 1e-9);
		assert_true(under >= 0);
	}
	/* Here the rounded sine is just under -1: found by search. */
	assert_close(
	    degree_days_sine(12.214545094125363, -0.2, nextafter(-0.2, 99)),
	    6.2072725470626815, 1e-9);
	assert_close(degree_days_sine(12, 12, 10), 2, 0);
	assert_close(degree_days_sine(12, 12, 12), 0, 0);
}

static void
unknown_or_turned_round_gives_unknown(void **state)
{
	(void)state;
	static const double rows[][4] = { { NAN, 40, 50, 86 },
		{ 65, NAN, 50, 86 }, { 65, 40, NAN, 86 }, { 40, 65, 50, 86 } };
	for (size_t i = 0; i < COUNT(rows); i++) {
		const double *r = rows[i];
		assert_nan(degree_days_average(r[0], r[1], r[2]));
		assert_nan(degree_days_capped(r[0], r[1], r[2], r[3]));
		assert_nan(degree_days_sine(r[0], r[1], r[2]));
		assert_nan(degree_days_four_cases(r[0], r[1], r[2]));
	}
	assert_nan(degree_days_capped(65, 40, 50, NAN));
	assert_nan(degree_days_capped(65, 40, 50, 49));
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(average_agrees_with_printed_examples),
		cmocka_unit_test(capped_agrees_with_printed_rules),
		cmocka_unit_test(all_methods_agree_with_computed_rows),
		cmocka_unit_test(four_cases_agree_with_their_formulas),
		cmocka_unit_test(sine_is_the_area_under_the_wave),
		cmocka_unit_test(over_and_under_add_up_to_the_mean),
		cmocka_unit_test(fahrenheit_is_celsius_times_1_8),
		cmocka_unit_test(sine_stays_known_at_the_edges),
		cmocka_unit_test(unknown_or_turned_round_gives_unknown),
	};
	return RUN_TESTS(tests);
}
