#include "unit/test.h"

#include "advice/derive.h"
#include "physics/psychrometrics.h"
#include "physics/sun.h"
#include "unit/derive_fixture.h"

static float
value_at(const struct series *series, enum measure measure, int64_t time)
{
	return series_at(series, measure, time);
}

struct wet {
	double amount, chance; /* of the block */
	double wet;
};

/*
 * 0.25 mm is the amount in the US definition of rain chance (AMS Glossary of
 * Meteorology, from memory); 30 % is this site's limit: common practice, no
 * source.
 */
static const struct wet wets[] = {
	{ 0, 0, 0 },
	{ 0.24, 29, 0 },
	{ 0.25, 0, 1 },
	{ 0.254, 0, 1 },
	{ 0, 30, 1 },
	{ 0.25, 30, 1 },
	{ 12, 100, 1 },
	{ 0, 29.9, 0 },
	{ NAN, 29.9, 0 },
	{ NAN, 30, 1 },
	{ 0.2, NAN, 0 },
	{ 0.25, NAN, 1 },
	{ NAN, NAN, NAN },
};

enum { WETS = sizeof wets / sizeof wets[0] };

static void
a_step_is_wet_by_amount_or_by_chance(void **state)
{
	(void)state;
	struct series series;
	struct site site = plain_site();
	series_init(&series, 0, WETS * (int64_t)SERIES_STEP);
	float *amount = series_column(&series, MEASURE_RAIN_BLOCK);
	float *chance = series_column(&series, MEASURE_RAIN_CHANCE);
	for (size_t i = 0; i < WETS; i++) {
		amount[i] = (float)wets[i].amount;
		chance[i] = (float)wets[i].chance;
	}
	derive(&series, &site, NULL);
	const float *wet = series.column[MEASURE_WET];
	for (size_t i = 0; i < WETS; i++) {
		if (isnan(wets[i].wet))
			assert_nan((double)wet[i]);
		else
			assert_close((double)wet[i], wets[i].wet, 0);
	}
	series_release(&series);
}

/* 33.3 % is not a float: it counts as reached all the same. */
static void
a_chance_at_an_uneven_limit_is_wet(void **state)
{
	(void)state;
	struct series series;
	struct site site = plain_site();
	series_init(&series, 0, HOUR);
	for (int tenths = 1; tenths < 1000; tenths++) {
		site.rain_chance = tenths / 10.0;
		fill(&series, MEASURE_RAIN_CHANCE, tenths / 10.0);
		derive(&series, &site, NULL);
		assert_true(value_at(&series, MEASURE_WET, 0) == 1);
	}
	series_release(&series);
}

static void
no_rain_columns_at_all_is_not_dry(void **state)
{
	(void)state;
	struct series series;
	struct site site = plain_site();
	series_init(&series, 0, HOUR);
	derive(&series, &site, NULL);
	assert_nan((double)value_at(&series, MEASURE_WET, 0));
	assert_null(series.column[MEASURE_DELTA_T]);
	series_release(&series);
}

/* Delta T at 25 degC: table computed from the psychrometer equation (C). */
static void
delta_t_follows_from_humidity(void **state)
{
	(void)state;
	static const double table[][2] = { { 20, 12.4 }, { 50, 7.1 },
		{ 80, 2.6 }, { 95, 0.6 } };
	struct site site = plain_site();
	for (size_t i = 0; i < 4; i++) {
		struct series series;
		series_init(&series, 0, HOUR);
		fill(&series, MEASURE_AIR_TEMPERATURE, 25);
		fill(&series, MEASURE_HUMIDITY, table[i][0]);
		derive(&series, &site, NULL);
		assert_close((double)value_at(&series, MEASURE_DELTA_T, 0),
		    table[i][1], 0.15);
		assert_close((double)value_at(&series, MEASURE_DEW_POINT, 0),
		    dew_point(25, table[i][0]), 1e-4);
		series_release(&series);
	}
}

static void
delta_t_follows_from_the_dew_point(void **state)
{
	(void)state;
	struct series series;
	struct site site = plain_site();
	series_init(&series, 0, HOUR);
	fill(&series, MEASURE_AIR_TEMPERATURE, 25);
	fill(&series, MEASURE_DEW_POINT, dew_point(25, 50));
	series_column(&series, MEASURE_DEW_POINT)[1] = NAN;
	series_column(&series, MEASURE_DEW_POINT)[2] = 25;
	series_column(&series, MEASURE_DEW_POINT)[3] = 25.4F; /* rounded up */
	derive(&series, &site, NULL);
	const float *humidity = series.column[MEASURE_HUMIDITY];
	const float *delta = series.column[MEASURE_DELTA_T];
	assert_close((double)humidity[0], 50, 1e-3);
	assert_close((double)delta[0], 7.1, 0.15);
	assert_nan((double)humidity[1]);
	assert_nan((double)delta[1]);
	for (size_t i = 2; i < 4; i++) {
		assert_close((double)humidity[i], 100, 1e-3);
		assert_close((double)delta[i], 0, 1e-3);
	}
	series_release(&series);
}

/* What the document says itself is left alone. */
static void
keeps_humidity_and_dew_point_when_both_are_there(void **state)
{
	(void)state;
	struct series series;
	struct site site = plain_site();
	series_init(&series, 0, HOUR);
	fill(&series, MEASURE_AIR_TEMPERATURE, 25);
	fill(&series, MEASURE_DEW_POINT, 1);
	fill(&series, MEASURE_HUMIDITY, 80);
	derive(&series, &site, NULL);
	assert_true(value_at(&series, MEASURE_DEW_POINT, 0) == 1);
	assert_true(value_at(&series, MEASURE_HUMIDITY, 0) == 80);
	assert_close((double)value_at(&series, MEASURE_DELTA_T, 0), 2.6, 0.15);
	series_release(&series);
}

static void
the_sun_is_told_at_the_start_of_each_cell(void **state)
{
	(void)state;
	struct series series;
	struct site site = plain_site();
	int64_t start = local_2026(6, 10, 0, 0);
	series_init(&series, start, start + DAY);
	derive(&series, &site, NULL);
	assert_true(series.continuous[MEASURE_SUN_HEIGHT]);
	for (size_t i = 0; i < series.count; i++)
		assert_close((double)series.column[MEASURE_SUN_HEIGHT][i],
		    sun_height(29.5, -98.5, (double)series_time(&series, i)),
		    1e-4);
	series_release(&series);
}

struct turf_day {
	int month, day, hour;
	double dormant, green_up, green;
};

static void
a_telling_holds_for_its_time_and_no_longer(void **state)
{
	(void)state;
	static const struct turf_day days[] = { { 2, 28, 23, NAN, NAN, NAN },
		{ 3, 1, 0, 1, 0, 0 }, { 3, 9, 23, 1, 0, 0 },
		{ 3, 10, 0, 0, 1, 0 }, { 3, 23, 23, 0, 1, 0 },
		/* 14 d of 24 h after the second telling; DST has begun before
		 */
		{ 3, 24, 0, NAN, NAN, NAN }, { 3, 31, 12, NAN, NAN, NAN },
		{ 4, 1, 0, 0, 0, 1 }, { 4, 14, 23, 0, 0, 1 },
		{ 4, 15, 0, NAN, NAN, NAN } };
	struct series series;
	struct site site = plain_site();
	struct turf_told told[] = { { local_2026(3, 1, 0, 0), TURF_DORMANT },
		{ local_2026(3, 10, 0, 0), TURF_GREEN_UP },
		{ local_2026(4, 1, 0, 0), TURF_GREEN } };
	site.told = told;
	site.told_count = 3;
	series_init(&series, local_2026(2, 27, 0, 0), local_2026(4, 20, 0, 0));
	derive(&series, &site, NULL);
	for (size_t i = 0; i < sizeof days / sizeof days[0]; i++) {
		int64_t t = local_2026(days[i].month, days[i].day, days[i].hour,
		    45 * (days[i].hour == 23));
		double wanted[] = { days[i].dormant, days[i].green_up,
			days[i].green };
		for (int k = 0; k < 3; k++) {
			double got = (double)value_at(
			    &series, (enum measure)(MEASURE_DORMANT + k), t);
			if (isnan(wanted[k]))
				assert_nan(got);
			else
				assert_close(got, wanted[k], 0);
		}
	}
	series_release(&series);
}

/* Cells of the local day that lie in the preferred hours. */
static int
count_preferred(struct site *site, int month, int day)
{
	struct series series;
	int64_t from = local_2026(month, day, 0, 0);
	int64_t to =
	    civil_day_start(&site->zone, civil_day(&site->zone, from) + 1);
	int count = 0;
	series_init(&series, from, to);
	derive(&series, site, NULL);
	for (size_t i = 0; i < series.count; i++)
		count += series.column[MEASURE_HOURS][i] == 1 ? 1 : 0;
	series_release(&series);
	return count;
}

static void
preferred_hours_follow_the_clock_on_the_wall(void **state)
{
	(void)state;
	struct site site = plain_site();
	struct clock_span spans[] = { { 0, 4 * HOUR },
		{ 6 * HOUR + 600, 9 * HOUR + 600 } };
	assert_int_equal(count_preferred(&site, 3, 7), 96);
	site.hours = spans;
	site.hours_count = 1;
	assert_int_equal(count_preferred(&site, 3, 7), 16);
	assert_int_equal(count_preferred(&site, 3, 8), 12);  /* 02:00 is gone */
	assert_int_equal(count_preferred(&site, 11, 1), 20); /* 01:00 twice */
	/* only whole cells count: 06:15 to 09:00 */
	site.hours_count = 2;
	assert_int_equal(count_preferred(&site, 3, 7), 16 + 11);
}

static void
preferred_hours_may_reach_the_end_of_the_day(void **state)
{
	(void)state;
	struct site site = plain_site();
	struct clock_span evening = { 18 * HOUR, 24 * HOUR };
	site.hours = &evening;
	site.hours_count = 1;
	assert_int_equal(count_preferred(&site, 3, 8), 24);
	assert_int_equal(count_preferred(&site, 11, 1), 24);
}

/* Humidity runs from instant to instant as its parts do; held ones hold it. */
static void
what_follows_from_running_values_runs(void **state)
{
	(void)state;
	for (int running = 0; running < 2; running++) {
		struct series series;
		struct site site = plain_site();
		series_init(&series, 0, (int64_t)HOUR);
		fill(&series, MEASURE_AIR_TEMPERATURE, 20);
		fill(&series, MEASURE_DEW_POINT, 10);
		series.continuous[MEASURE_AIR_TEMPERATURE] = true;
		series.continuous[MEASURE_DEW_POINT] = running == 1;
		derive(&series, &site, NULL);
		assert_int_equal(series.continuous[MEASURE_HUMIDITY], running);
		assert_int_equal(series.continuous[MEASURE_DELTA_T], running);
		series_release(&series);
	}
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_step_is_wet_by_amount_or_by_chance),
		cmocka_unit_test(a_chance_at_an_uneven_limit_is_wet),
		cmocka_unit_test(no_rain_columns_at_all_is_not_dry),
		cmocka_unit_test(delta_t_follows_from_humidity),
		cmocka_unit_test(delta_t_follows_from_the_dew_point),
		cmocka_unit_test(
		    keeps_humidity_and_dew_point_when_both_are_there),
		cmocka_unit_test(the_sun_is_told_at_the_start_of_each_cell),
		cmocka_unit_test(a_telling_holds_for_its_time_and_no_longer),
		cmocka_unit_test(preferred_hours_follow_the_clock_on_the_wall),
		cmocka_unit_test(preferred_hours_may_reach_the_end_of_the_day),
		cmocka_unit_test(what_follows_from_running_values_runs),
	};
	return RUN_TESTS(tests);
}
