/* When a temperature inversion has to be expected. */
#include "unit/test.h"

#include "physics/sun.h"
#include "unit/derive_fixture.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

enum { NIGHTS = 3 };

/* Three nights from noon to noon, and where the sun says that they are. */
struct nights {
	struct series series;
	struct site site;
	int64_t set[NIGHTS], rise[NIGHTS];
};

struct exception {
	enum measure measure;
	double holds, breaks;
};

/* The published limits; the value that breaks is the next one under it. */
static const struct exception exceptions[] = {
	{ MEASURE_CLOUD, 93.75, 93.7 },
	{ MEASURE_RAIN, 0.0625, 0.06 },
	{ MEASURE_WIND, 11.01 / 3.6, 11 / 3.6 },
};

static void
nights_init(struct nights *nights, int month, int day)
{
	*nights = (struct nights){ .site = plain_site() };
	const struct site *site = &nights->site;
	int64_t noon = local_2026(month, day, 12, 0);
	series_init(&nights->series, noon, noon + NIGHTS * DAY);
	for (size_t i = 0; i < COUNT(exceptions); i++)
		fill(&nights->series, exceptions[i].measure,
		    exceptions[i].breaks);
	for (int n = 0; n < NIGHTS; n++) {
		double from = (double)(noon + n * DAY);
		nights->set[n] = (int64_t)sun_set(
		    site->latitude, site->longitude, from, SUN_HEIGHT_HORIZON);
		nights->rise[n] = (int64_t)sun_rise(
		    site->latitude, site->longitude, from, SUN_HEIGHT_HORIZON);
	}
}

/* The cells from that of the night's sunset to that of its sunrise. */
static void
put_night(struct nights *nights, int night, enum measure measure, double value)
{
	struct series *series = &nights->series;
	float *column = series_column(series, measure);
	for (size_t i = cell_of(series, nights->set[night]);
	     i <= cell_of(series, nights->rise[night]); i++)
		column[i] = (float)value;
}

/* Derives and checks that each night with 2 h on both sides is as wanted. */
static void
check_nights(struct nights *nights, double first, double second, double third)
{
	struct series *series = &nights->series;
	const double wanted[NIGHTS] = { first, second, third };
	derive(series, &nights->site, NULL);
	for (size_t i = 0; i < series->count; i++) {
		int64_t time = series_time(series, i);
		double expected = 0;
		for (int n = 0; n < NIGHTS; n++)
			if (time + SERIES_STEP > nights->set[n] - 2 * HOUR &&
			    time <= nights->rise[n] + 2 * HOUR)
				expected = wanted[n];
		check_cell(series, MEASURE_INVERSION, time, expected);
	}
	assert_false(series->continuous[MEASURE_INVERSION]);
	series_release(series);
}

static void
comes_with_every_night_from_two_hours_before_to_two_after(void **state)
{
	(void)state;
	struct nights nights;
	nights_init(&nights, 6, 10);
	check_nights(&nights, 1, 1, 1);
	nights_init(&nights, 12, 10);
	check_nights(&nights, 1, 1, 1);
}

/* The sun knows nothing of the clocks, which change on 8 March and 1
   November. */
static void
follows_the_sun_over_a_change_of_the_clocks(void **state)
{
	(void)state;
	struct nights nights;
	nights_init(&nights, 3, 6);
	check_nights(&nights, 1, 1, 1);
	nights_init(&nights, 10, 30);
	check_nights(&nights, 1, 1, 1);
}

static void
each_exception_frees_its_own_night_alone(void **state)
{
	(void)state;
	struct nights nights;
	for (size_t i = 0; i < COUNT(exceptions); i++) {
		nights_init(&nights, 6, 10);
		put_night(
		    &nights, 1, exceptions[i].measure, exceptions[i].holds);
		check_nights(&nights, 1, 0, 1);
		nights_init(&nights, 6, 10);
		fill(
		    &nights.series, exceptions[i].measure, exceptions[i].holds);
		put_night(
		    &nights, 1, exceptions[i].measure, exceptions[i].breaks);
		check_nights(&nights, 0, 1, 0);
	}
}

/* At sunset, in the middle and at sunrise; and just outside of the night. */
static void
an_exception_has_to_last_the_whole_night(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(exceptions); i++) {
		for (int part = 0; part < 5; part++) {
			const struct exception *exception = &exceptions[i];
			struct nights nights;
			nights_init(&nights, 6, 10);
			int64_t set = nights.set[1], rise = nights.rise[1];
			int64_t at[] = { set, (set + rise) / 2, rise,
				set - SERIES_STEP, rise + SERIES_STEP };
			fill(&nights.series, exception->measure,
			    exception->holds);
			nights.series.column[exception->measure][cell_of(
			    &nights.series, at[part])] =
			    (float)exception->breaks;
			check_nights(&nights, 0, part < 3 ? 1 : 0, 0);
		}
	}
}

/* No exception is made up of two. */
static void
two_halves_of_exceptions_are_none(void **state)
{
	(void)state;
	struct nights nights;
	nights_init(&nights, 6, 10);
	int64_t middle = (nights.set[1] + nights.rise[1]) / 2;
	put_night(&nights, 1, MEASURE_CLOUD, 100);
	put(&nights.series, MEASURE_CLOUD, middle, middle + 6 * HOUR, 0);
	put(&nights.series, MEASURE_WIND, middle - HOUR, middle + 6 * HOUR, 8);
	check_nights(&nights, 1, 1, 1);
}

static void
a_gap_that_matters_makes_the_night_unknown(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(exceptions); i++) {
		const struct exception *exception = &exceptions[i];
		struct nights nights;
		nights_init(&nights, 6, 10);
		int64_t middle = (nights.set[1] + nights.rise[1]) / 2;
		float *gap = &series_column(&nights.series,
		    exception->measure)[cell_of(&nights.series, middle)];
		/* the rest of the night holds */
		put_night(&nights, 1, exception->measure, exception->holds);
		*gap = NAN;
		check_nights(&nights, 1, NAN, 1);
		/* the rest breaks it, so the gap does not matter */
		nights_init(&nights, 6, 10);
		gap = &series_column(&nights.series,
		    exception->measure)[cell_of(&nights.series, middle)];
		*gap = NAN;
		check_nights(&nights, 1, 1, 1);
		/* nothing is known */
		nights_init(&nights, 6, 10);
		put_night(&nights, 1, exception->measure, (double)NAN);
		check_nights(&nights, 1, NAN, 1);
		/* another one holds for sure */
		const struct exception *other =
		    &exceptions[(i + 1) % COUNT(exceptions)];
		nights_init(&nights, 6, 10);
		put_night(&nights, 1, exception->measure, (double)NAN);
		put_night(&nights, 1, other->measure, other->holds);
		check_nights(&nights, 1, 0, 1);
	}
}

static void
without_any_forecast_the_nights_are_unknown_and_the_days_are_not(void **state)
{
	(void)state;
	struct nights nights;
	nights_init(&nights, 6, 10);
	int64_t start = nights.series.start, end = series_end(&nights.series);
	series_release(&nights.series);
	series_init(&nights.series, start, end);
	check_nights(&nights, NAN, NAN, NAN);
}

/*
 * A series that ends `before` seconds before the first night's sunset, or
 * begins `after` seconds after its sunrise, sees two hours of it at most.
 */
static void
a_night_outside_of_the_series_is_a_gap(void **state)
{
	(void)state;
	struct nights nights;
	nights_init(&nights, 6, 10);
	int64_t set = nights.set[0], rise = nights.rise[0];
	series_release(&nights.series);
	struct series *series = &nights.series;

	series_init(series, set - 5 * HOUR, set - HOUR);
	fill(series, MEASURE_WIND, 1);
	derive(series, &nights.site, NULL);
	check_cell(series, MEASURE_INVERSION, set - 3 * HOUR, 0);
	check_cell(series, MEASURE_INVERSION, set - 2 * HOUR, NAN);
	check_cell(series, MEASURE_INVERSION, set - 2 * HOUR - SERIES_STEP, 0);
	check_cell(series, MEASURE_INVERSION, set - HOUR, NAN);
	series_release(series);

	series_init(series, rise + HOUR, rise + 5 * HOUR);
	fill(series, MEASURE_WIND, 1);
	derive(series, &nights.site, NULL);
	check_cell(series, MEASURE_INVERSION, rise + HOUR, NAN);
	check_cell(series, MEASURE_INVERSION, rise + 2 * HOUR, NAN);
	check_cell(series, MEASURE_INVERSION, rise + 2 * HOUR + SERIES_STEP, 0);
	series_release(series);
}

/* The series holds [from, to), with half of the first night at one end. */
static void
check_half_night(struct nights *nights, int64_t from, int64_t to, double cloud,
    double wanted)
{
	struct series *series = &nights->series;
	series_release(series);
	series_init(series, from, to);
	fill(series, MEASURE_WIND, 1);
	fill(series, MEASURE_RAIN, 0);
	fill(series, MEASURE_CLOUD, cloud);
	derive(series, &nights->site, NULL);
	for (int64_t time = from; time < to; time += SERIES_STEP) {
		bool is_day = time + SERIES_STEP <= nights->set[0] - 2 * HOUR ||
			      time > nights->rise[0] + 2 * HOUR;
		check_cell(
		    series, MEASURE_INVERSION, time, is_day ? 0 : wanted);
	}
}

/* What is inside may break each exception, and never grants one. */
static void
a_night_over_the_edge_is_broken_by_what_is_inside(void **state)
{
	(void)state;
	struct nights nights;
	nights_init(&nights, 6, 10);
	int64_t midnight = local_2026(6, 11, 0, 0);
	int64_t noon = local_2026(6, 11, 12, 0);
	check_half_night(&nights, midnight - DAY / 2, midnight, 0, 1);
	check_half_night(&nights, midnight - DAY / 2, midnight, 100, NAN);
	check_half_night(&nights, midnight, noon, 0, 1);
	check_half_night(&nights, midnight, noon, 100, NAN);
	series_release(&nights.series);
}

/* Every cell of four days at that latitude has the value. */
static void
check_north(
    double latitude, int month, double cloud, int clear_cell, double wanted)
{
	struct series series;
	struct site site = plain_site();
	int64_t start = local_2026(month, 20, 0, 0);
	site.latitude = latitude;
	series_init(&series, start, start + 4 * DAY);
	fill(&series, MEASURE_WIND, 1);
	fill(&series, MEASURE_RAIN, 0);
	fill(&series, MEASURE_CLOUD, cloud);
	if (clear_cell >= 0)
		series.column[MEASURE_CLOUD][clear_cell] = 0;
	derive(&series, &site, NULL);
	for (size_t i = 0; i < series.count; i++)
		check_cell(&series, MEASURE_INVERSION, series_time(&series, i),
		    wanted);
	series_release(&series);
}

static void
there_is_no_evening_on_a_polar_day(void **state)
{
	(void)state;
	check_north(72, 6, 0, -1, 0);
	check_north(-72, 12, 0, -1, 0);
}

static void
a_polar_night_is_one_night(void **state)
{
	(void)state;
	check_north(72, 12, 0, -1, 1);
	check_north(72, 12, 100, -1, NAN);
	check_north(72, 12, 100, 200, 1);
}

/* At 65 degrees a day of December lasts less than four hours. */
static void
the_graver_of_two_nights_counts_between_them(void **state)
{
	(void)state;
	static const double cases[][3] = { { 0, 100, 1 }, { 100, 0, 1 },
		{ 100, 100, 0 }, { NAN, 100, NAN }, { NAN, 0, 1 } };
	for (size_t i = 0; i < COUNT(cases); i++) {
		struct series series;
		struct site site = plain_site();
		int64_t noon = local_2026(12, 20, 12, 33);
		site.latitude = 65;
		series_init(&series, noon, noon + 2 * DAY);
		fill(&series, MEASURE_WIND, 1);
		fill(&series, MEASURE_RAIN, 0);
		put(&series, MEASURE_CLOUD, noon, noon + DAY, cases[i][0]);
		put(&series, MEASURE_CLOUD, noon + DAY,
		    noon + 2 * DAY - SERIES_STEP, cases[i][1]);
		derive(&series, &site, NULL);
		check_cell(&series, MEASURE_INVERSION, noon + DAY, cases[i][2]);
		series_release(&series);
	}
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(
		    comes_with_every_night_from_two_hours_before_to_two_after),
		cmocka_unit_test(follows_the_sun_over_a_change_of_the_clocks),
		cmocka_unit_test(each_exception_frees_its_own_night_alone),
		cmocka_unit_test(an_exception_has_to_last_the_whole_night),
		cmocka_unit_test(two_halves_of_exceptions_are_none),
		cmocka_unit_test(a_gap_that_matters_makes_the_night_unknown),
		cmocka_unit_test(
		    without_any_forecast_the_nights_are_unknown_and_the_days_are_not),
		cmocka_unit_test(a_night_outside_of_the_series_is_a_gap),
		cmocka_unit_test(
		    a_night_over_the_edge_is_broken_by_what_is_inside),
		cmocka_unit_test(there_is_no_evening_on_a_polar_day),
		cmocka_unit_test(a_polar_night_is_one_night),
		cmocka_unit_test(the_graver_of_two_nights_counts_between_them),
	};
	return RUN_TESTS(tests);
}
