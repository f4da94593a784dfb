#include "unit/test.h"

#include "weather/daily.h"

#include <math.h>

enum { CELLS = 96 };

/* Two days of UTC: 0, 1 ... 95 on the first, the same ten higher on the next.
 */
static struct series
two_days(void)
{
	struct series series;
	series_init(&series, 0, (int64_t)2 * DAY_SECONDS);
	float *air = series_column(&series, MEASURE_AIR_TEMPERATURE);
	for (size_t i = 0; i < series.count; i++)
		air[i] = (float)(i % CELLS) / 4.0F + (i < CELLS ? 0.0F : 10.0F);
	return series;
}

static const struct zone utc = { .count = 0 };

static void
a_day_has_its_extremes_and_its_mean(void **state)
{
	(void)state;
	struct series series = two_days();
	struct daily day = daily_of(&series, &utc, 1);
	assert_int_equal(day.day, 1);
	assert_float_equal(day.low, 10, 1e-9);
	assert_float_equal(day.high, 10 + 95 / 4.0, 1e-9);
	assert_float_equal(day.mean, 10 + 95 / 8.0, 1e-9);
	assert_true(isnan(day.soil));
	assert_true(isnan(day.rain));
	series_release(&series);
}

static void
one_gap_leaves_the_day_unknown(void **state)
{
	(void)state;
	struct series series = two_days();
	series.column[MEASURE_AIR_TEMPERATURE][CELLS + 40] = NAN;
	struct daily day = daily_of(&series, &utc, 1);
	assert_true(isnan(day.high));
	assert_true(isnan(day.low));
	assert_true(isnan(day.mean));
	assert_float_equal(daily_of(&series, &utc, 0).high, 95 / 4.0, 1e-9);
	series_release(&series);
}

static void
a_day_that_the_series_does_not_hold_is_unknown(void **state)
{
	(void)state;
	struct series series = two_days();
	struct daily before = daily_of(&series, &utc, -1);
	struct daily after = daily_of(&series, &utc, 2);
	assert_true(isnan(before.mean) && isnan(before.high));
	assert_true(isnan(after.mean) && isnan(after.low));
	series_release(&series);
}

/* Civil days: the clock is set forward in the second one. */
static void
a_day_of_23_hours_is_the_mean_of_23_hours(void **state)
{
	(void)state;
	const struct zone zone = { .name = "Test",
		.count = 2,
		.span = { { INT64_MIN, 0 }, { DAY_SECONDS + 7200, 3600 } } };
	struct series series;
	series_init(&series, 0, (int64_t)3 * DAY_SECONDS);
	float *soil = series_column(&series, MEASURE_SOIL);
	int64_t end = civil_day_start(&zone, 2);
	assert_int_equal(end - civil_day_start(&zone, 1), 23 * 3600);
	for (size_t i = 0; i < series.count; i++)
		soil[i] = series_time(&series, i) < DAY_SECONDS ? -9.0F
			  : series_time(&series, i) < end       ? 5.0F
								: 99.0F;
	assert_float_equal(daily_of(&series, &zone, 1).soil, 5, 1e-9);
	series_release(&series);
}

static void
the_rain_of_a_day_is_that_of_all_its_hours(void **state)
{
	(void)state;
	struct series series;
	series_init(&series, 0, (int64_t)2 * DAY_SECONDS);
	series_share(&series, MEASURE_RAIN, 0, DAY_SECONDS, 12);
	series_share(&series, MEASURE_RAIN, DAY_SECONDS,
	    (int64_t)2 * DAY_SECONDS - SERIES_STEP, 3);
	assert_float_equal(daily_of(&series, &utc, 0).rain, 12, 1e-5);
	/* the last quarter of an hour may have had any amount */
	assert_true(isnan(daily_of(&series, &utc, 1).rain));
	assert_true(isnan(daily_of(&series, &utc, 2).rain));
	series_share(&series, MEASURE_RAIN,
	    (int64_t)2 * DAY_SECONDS - SERIES_STEP, (int64_t)2 * DAY_SECONDS,
	    0);
	assert_float_equal(daily_of(&series, &utc, 1).rain, 3, 1e-5);
	series_release(&series);
}

static void
a_day_is_found_by_its_number(void **state)
{
	(void)state;
	static const struct daily days[] = { { .day = -3, .mean = 1 },
		{ .day = 0, .mean = 2 }, { .day = 7, .mean = 3 } };
	for (size_t i = 0; i < 3; i++)
		assert_ptr_equal(daily_find(days, 3, days[i].day), &days[i]);
	assert_null(daily_find(days, 3, 1));
	assert_null(daily_find(days, 3, -4));
	assert_null(daily_find(days, 3, 8));
	assert_null(daily_find(NULL, 0, 0));
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_day_has_its_extremes_and_its_mean),
		cmocka_unit_test(one_gap_leaves_the_day_unknown),
		cmocka_unit_test(
		    a_day_that_the_series_does_not_hold_is_unknown),
		cmocka_unit_test(a_day_of_23_hours_is_the_mean_of_23_hours),
		cmocka_unit_test(the_rain_of_a_day_is_that_of_all_its_hours),
		cmocka_unit_test(a_day_is_found_by_its_number),
	};
	return RUN_TESTS(tests);
}
