/* Sunrise and sunset, as the height of the sun in a series tells them. */
#include "unit/test.h"

#include "advice/daylight.h"
#include "physics/sun.h"
#include "unit/derive_fixture.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

static void
rise_and_set(
    const struct site *site, int64_t day, double *ret_rise, double *ret_set)
{
	double from = (double)civil_day_start(&site->zone, day);
	*ret_rise =
	    sun_rise(site->latitude, site->longitude, from, SUN_HEIGHT_HORIZON);
	*ret_set =
	    sun_set(site->latitude, site->longitude, from, SUN_HEIGHT_HORIZON);
}

/* The straight line between two cells is within seconds of the curve: up to 10
   at 55 degrees, 1 or 2 at 30 (computed). */
static void
agrees_with_the_sun_itself_on_every_day_of_a_year(void **state)
{
	(void)state;
	static const double latitudes[] = { 29.5, -35, 0, 55 };
	for (size_t k = 0; k < COUNT(latitudes); k++) {
		struct series series;
		struct site site = plain_site();
		site.latitude = latitudes[k];
		int64_t from = local_2026(1, 1, 0, 0);
		series_init(&series, from, from + 366 * DAY);
		derive(&series, &site, NULL);
		for (size_t i = 0; i < series.count - 100; i += 4) {
			int64_t t = series_time(&series, i);
			double rise, set;
			rise_and_set(
			    &site, civil_day(&site.zone, t), &rise, &set);
			double since = (double)series_at(
			    &series, MEASURE_SINCE_SUNRISE, t);
			double until =
			    (double)series_at(&series, MEASURE_UNTIL_SUNSET, t);
			assert_close(since, (double)t - rise, 10);
			assert_close(until, set - (double)t, 10);
		}
		assert_true(series.continuous[MEASURE_SINCE_SUNRISE]);
		assert_true(series.continuous[MEASURE_UNTIL_SUNSET]);
		series_release(&series);
	}
}

/* By the clock: the change of it at 02:00 lies between midnight and sunrise. */
static void
each_day_counts_from_its_own_sunrise_when_the_clocks_change(void **state)
{
	(void)state;
	static const struct {
		int month, day;
	} days[] = { { 3, 7 }, { 3, 8 }, { 3, 9 }, { 10, 31 }, { 11, 1 },
		{ 11, 2 } };
	struct site site = plain_site();
	for (size_t n = 0; n < COUNT(days); n++) {
		struct series series;
		int64_t from = local_2026(days[n].month, days[n].day, 0, 0);
		int64_t day = civil_day(&site.zone, from);
		int64_t to = civil_day_start(&site.zone, day + 1);
		series_init(&series, from - DAY, to + DAY);
		derive(&series, &site, NULL);
		double rise, set;
		rise_and_set(&site, day, &rise, &set);
		for (int64_t t = from; t < to; t += SERIES_STEP) {
			assert_close((double)series_at(
					 &series, MEASURE_SINCE_SUNRISE, t),
			    (double)t - rise, 10);
			assert_close(
			    (double)series_at(&series, MEASURE_UNTIL_SUNSET, t),
			    set - (double)t, 10);
		}
		/* the cells beside it belong to other days */
		assert_true(series_at(&series, MEASURE_SINCE_SUNRISE,
				from - SERIES_STEP) > 0);
		assert_true(
		    series_at(&series, MEASURE_SINCE_SUNRISE, from) < 0);
		assert_true(series_at(&series, MEASURE_UNTIL_SUNSET,
				to - SERIES_STEP) < 0);
		assert_true(series_at(&series, MEASURE_UNTIL_SUNSET, to) > 0);
		series_release(&series);
	}
}

/* From noon to noon: the first day's sunset and the last one's sunrise. */
static void
what_lies_outside_of_the_series_is_not_seen(void **state)
{
	(void)state;
	struct series series;
	struct site site = plain_site();
	int64_t noon = local_2026(6, 10, 12, 0);
	series_init(&series, noon, noon + DAY);
	derive(&series, &site, NULL);
	const float *since = series.column[MEASURE_SINCE_SUNRISE];
	const float *until = series.column[MEASURE_UNTIL_SUNSET];
	for (size_t i = 0; i < series.count; i++) {
		bool first_day =
		    series_time(&series, i) < local_2026(6, 11, 0, 0);
		assert_int_equal(isnan(since[i]) != 0, first_day);
		assert_int_equal(isnan(until[i]) != 0, !first_day);
	}
	series_release(&series);
}

/* At 70 degrees north the sun is up all June and down all December. */
static void
a_day_without_sunrise_has_no_time_since_it(void **state)
{
	(void)state;
	struct site site = plain_site();
	site.latitude = 70;
	static const int months[] = { 6, 12 };
	for (size_t n = 0; n < COUNT(months); n++) {
		struct series series;
		int64_t from = local_2026(months[n], 20, 0, 0);
		series_init(&series, from, from + 3 * DAY);
		derive(&series, &site, NULL);
		for (size_t i = 0; i < series.count; i++) {
			int64_t t = series_time(&series, i);
			check_cell(&series, MEASURE_SINCE_SUNRISE, t, NAN);
			check_cell(&series, MEASURE_UNTIL_SUNSET, t, NAN);
		}
		series_release(&series);
	}
}

struct curve {
	const char *name;
	double height[8];
	double rise, set; /* s from the first cell */
};

/* The horizon is at -0.8333: computed. */
static const struct curve curves[] = {
	{ "up in the middle of a cell", { -3, -1.8333, 0.1667, 1, 2, 3, 4, 5 },
	    900 + 450, NAN },
	{ "down a quarter into a cell", { 5, 4, 3, 2, 0.1667, -3.8333, -4, -5 },
	    NAN, 4 * 900 + 225 },
	{ "up and down", { -1.8333, 0.1667, 5, 5, 0.1667, -1.8333, -5, -5 },
	    450, 4 * 900 + 450 },
	{ "the first of two counts", { 1, -2.6666, 1, 1, 1, -2.6666, 1, 1 },
	    900 + 450, 450 },
	{ "a gap before hides", { NAN, -1.8333, 0.1667, 1, 1, 1, 1, 1 }, NAN,
	    NAN },
	{ "a gap behind does not", { -1.8333, 0.1667, NAN, 1, 1, -5, -5, -5 },
	    450, NAN },
	{ "a gap in the crossing", { -3, NAN, 1, 1, 1, 1, 1, 1 }, NAN, NAN },
	{ "never", { -3, -3, -2, -1, -1, -2, -3, -3 }, NAN, NAN },
};

static void
check_pass(double pass, double wanted, const char *name)
{
	if (isnan(wanted) ? isnan(pass) : fabs(pass - wanted) < 0.1)
		return;
	fail_msg("%s: %g, wanted %g", name, pass, wanted);
}

static void
a_pass_is_where_the_line_meets_the_horizon(void **state)
{
	(void)state;
	for (size_t n = 0; n < COUNT(curves); n++) {
		struct series series;
		series_init(&series, 0, cells(8));
		float *column = series_column(&series, MEASURE_SUN_HEIGHT);
		for (size_t i = 0; i < 8; i++)
			column[i] = (float)curves[n].height[i];
		check_pass(daylight_pass(&series, 0, 8, true), curves[n].rise,
		    curves[n].name);
		check_pass(daylight_pass(&series, -90, 80, false),
		    curves[n].set, curves[n].name);
		series_release(&series);
	}
}

/* A pass between two days is of the one that its cell belongs to. */
static void
a_pass_counts_in_the_day_of_its_cell_alone(void **state)
{
	(void)state;
	struct series series;
	series_init(&series, 0, cells(8));
	assert_nan(daylight_pass(&series, 0, 8, true));
	put(&series, MEASURE_SUN_HEIGHT, 0, cells(8), -2);
	put(&series, MEASURE_SUN_HEIGHT, cells(4), cells(8), 2);
	assert_nan(daylight_pass(&series, 0, 3, true));
	assert_true(daylight_pass(&series, 0, 4, true) > 2700);
	assert_true(daylight_pass(&series, 3, 8, true) > 2700);
	assert_nan(daylight_pass(&series, 4, 8, true));
	assert_nan(daylight_pass(&series, 0, 0, true));
	assert_nan(daylight_pass(&series, 8, 100, true));
	assert_nan(daylight_pass(&series, -100, 0, true));
	series_release(&series);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(
		    agrees_with_the_sun_itself_on_every_day_of_a_year),
		cmocka_unit_test(
		    each_day_counts_from_its_own_sunrise_when_the_clocks_change),
		cmocka_unit_test(what_lies_outside_of_the_series_is_not_seen),
		cmocka_unit_test(a_day_without_sunrise_has_no_time_since_it),
		cmocka_unit_test(a_pass_is_where_the_line_meets_the_horizon),
		cmocka_unit_test(a_pass_counts_in_the_day_of_its_cell_alone),
	};
	return RUN_TESTS(tests);
}
