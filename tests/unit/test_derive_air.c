/* Wind, freezing, stability, leaf wetness, and alerts. */
#include "unit/test.h"

#include "physics/psychrometrics.h"
#include "unit/derive_fixture.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

/* 3.2 m/s at 10 m: FAO-56 example 14, read in a public test suite. */
static void
wind_is_brought_down_to_two_metres(void **state)
{
	(void)state;
	struct site site = plain_site();
	for (int running = 0; running < 2; running++) {
		struct series series;
		series_init(&series, 0, HOUR);
		fill(&series, MEASURE_WIND, 3.2);
		series.column[MEASURE_WIND][1] = NAN;
		series.column[MEASURE_WIND][2] = 0;
		series.continuous[MEASURE_WIND] = running == 1;
		derive(&series, &site, NULL);
		const float *low = series.column[MEASURE_WIND_2M];
		assert_close((double)low[0], 2.4, 0.05);
		assert_nan((double)low[1]);
		assert_close((double)low[2], 0, 0);
		assert_int_equal(series.continuous[MEASURE_WIND_2M], running);
		series_release(&series);
	}
}

/* 20 degC and 50 % give 13.7 degC: Stull 2011, from memory. */
static void
wet_bulb_and_delta_t_add_up_to_the_air(void **state)
{
	(void)state;
	struct series series;
	struct site site = plain_site();
	series_init(&series, 0, HOUR);
	fill(&series, MEASURE_AIR_TEMPERATURE, 20);
	fill(&series, MEASURE_HUMIDITY, 50);
	series.column[MEASURE_HUMIDITY][2] = NAN;
	derive(&series, &site, NULL);
	const float *bulb = series.column[MEASURE_WET_BULB];
	const float *delta = series.column[MEASURE_DELTA_T];
	assert_close((double)bulb[0], 13.7, 0.2);
	assert_close((double)bulb[0], wet_bulb(20, 50), 1e-3);
	assert_close((double)(bulb[0] + delta[0]), 20, 1e-5);
	assert_nan((double)bulb[2]);
	assert_nan((double)delta[2]);
	assert_close((double)delta[3], (double)delta[0], 0);
	series_release(&series);
}

static void
air_at_nought_freezes(void **state)
{
	(void)state;
	static const double cases[][2] = { { -0.1, 1 }, { 0, 1 }, { 0.1, 0 },
		{ -40, 1 }, { 30, 0 }, { NAN, NAN } };
	struct series series;
	struct site site = plain_site();
	series_init(&series, 0, cells(COUNT(cases)));
	float *air = series_column(&series, MEASURE_AIR_TEMPERATURE);
	for (size_t i = 0; i < COUNT(cases); i++)
		air[i] = (float)cases[i][0];
	series.continuous[MEASURE_AIR_TEMPERATURE] = true;
	derive(&series, &site, NULL);
	for (size_t i = 0; i < COUNT(cases); i++)
		check_cell(&series, MEASURE_FREEZE, series_time(&series, i),
		    cases[i][1]);
	assert_false(series.continuous[MEASURE_FREEZE]);
	series_release(&series);
}

struct sky {
	int hour;
	double cloud, wind; /* %, m/s */
	double class;
};

/*
 * US EPA-454/R-99-005, tables 6-4 to 6-6, as physics/stability.h reads them.
 * In June the sun stands over 60 degrees there at 13:00.
 */
static const struct sky skies[] = {
	{ 1, 0, 1, 7 },
	{ 1, 60, 1, 6 },
	{ 13, 0, 1, 1 },
	{ 13, 0, 9, 3 },
	{ 1, NAN, 9, 4 },
	{ 1, NAN, 1, NAN },
	{ 1, 0, NAN, NAN },
	{ 13, NAN, NAN, NAN },
};

static void
stability_follows_from_sun_cloud_and_wind(void **state)
{
	(void)state;
	struct site site = plain_site();
	for (size_t i = 0; i < COUNT(skies); i++) {
		const struct sky *sky = &skies[i];
		struct series series;
		int64_t time = local_2026(6, 10, sky->hour, 0);
		series_init(&series, time, time + HOUR);
		if (!isnan(sky->cloud))
			fill(&series, MEASURE_CLOUD, sky->cloud);
		if (!isnan(sky->wind))
			fill(&series, MEASURE_WIND, sky->wind);
		derive(&series, &site, NULL);
		check_cell(&series, MEASURE_STABILITY, time, sky->class);
		assert_false(series.continuous[MEASURE_STABILITY]);
		series_release(&series);
	}
}

struct leaf {
	int month, day, hour, minute;
	double air, dew_point, humidity; /* degC, degC, % */
	double wind;                     /* m/s at 10 m */
	double rain;                     /* mm of the block */
	double wet;
};

/*
 * The dew model's answers here: computed. 3 m/s at 10 m is 1.2 m/s at the
 * leaf, and wet; taken as it is, it would be just dry: 36.904 of 37.
 */
#define DEWY 20, 18.5, 91, 3.0
#define DRY  20, 15.0, 73, 3.0

static const struct leaf leaves[] = {
	/* the hours of dew, by the clock on the wall */
	{ 6, 10, 19, 45, DEWY, 0, 0 },
	{ 6, 10, 20, 0, DEWY, 0, 1 },
	{ 6, 10, 23, 45, DEWY, 0, 1 },
	{ 6, 10, 0, 0, DEWY, 0, 1 },
	{ 6, 10, 8, 45, DEWY, 0, 1 },
	{ 6, 10, 9, 0, DEWY, 0, 0 },
	/* the day on which the clocks go forward, and the one before */
	{ 3, 7, 8, 45, DEWY, 0, 1 },
	{ 3, 7, 9, 0, DEWY, 0, 0 },
	{ 3, 8, 8, 45, DEWY, 0, 1 },
	{ 3, 8, 9, 0, DEWY, 0, 0 },
	{ 3, 8, 19, 45, DEWY, 0, 0 },
	{ 3, 8, 20, 0, DEWY, 0, 1 },
	/* rain wets at any hour */
	{ 6, 10, 13, 0, DRY, 1, 1 },
	{ 6, 10, 22, 0, DRY, 1, 1 },
	{ 6, 10, 22, 0, DRY, 0, 0 },
	{ 6, 10, 22, 0, DEWY, 1, 1 },
	/* gaps: who says wet decides, else both have to say dry */
	{ 6, 10, 13, 0, DRY, NAN, NAN },
	{ 6, 10, 22, 0, DRY, NAN, NAN },
	{ 6, 10, 22, 0, DEWY, NAN, 1 },
	{ 6, 10, 22, 0, 20, NAN, NAN, 3, 0, NAN },
	{ 6, 10, 22, 0, 20, NAN, NAN, 3, 1, 1 },
	{ 6, 10, 13, 0, 20, NAN, NAN, 3, 0, 0 },
	{ 6, 10, 22, 0, 20, 18.5, 91, NAN, 0, NAN },
	/* frost is not the model's question */
	{ 1, 10, 22, 0, -1, -2, 93, 1, 0, NAN },
	{ 1, 10, 13, 0, -1, -2, 93, 1, 0, 0 },
};

static void
a_leaf_is_wet_by_rain_or_by_dew(void **state)
{
	(void)state;
	struct site site = plain_site();
	for (size_t i = 0; i < COUNT(leaves); i++) {
		const struct leaf *leaf = &leaves[i];
		struct series series;
		int64_t time = local_2026(
		    leaf->month, leaf->day, leaf->hour, leaf->minute);
		series_init(&series, time, time + SERIES_STEP);
		fill(&series, MEASURE_AIR_TEMPERATURE, leaf->air);
		fill(&series, MEASURE_DEW_POINT, leaf->dew_point);
		fill(&series, MEASURE_HUMIDITY, leaf->humidity);
		fill(&series, MEASURE_WIND, leaf->wind);
		fill(&series, MEASURE_RAIN_BLOCK, leaf->rain);
		derive(&series, &site, NULL);
		check_cell(&series, MEASURE_LEAF_WET, time, leaf->wet);
		series_release(&series);
	}
}

/* The chance alone makes a step wet, and so a leaf. */
static void
a_likely_shower_wets_the_leaf(void **state)
{
	(void)state;
	struct series series;
	struct site site = plain_site();
	series_init(&series, 0, HOUR);
	fill(&series, MEASURE_RAIN_CHANCE, 30);
	derive(&series, &site, NULL);
	check_cell(&series, MEASURE_LEAF_WET, 0, 1);
	series_release(&series);
}

static const enum measure alerts[] = { MEASURE_ALERT_WIND, MEASURE_ALERT_FREEZE,
	MEASURE_ALERT_HEAT, MEASURE_ALERT_FLOOD, MEASURE_ALERT_SMOKE };

struct asked {
	const char *format[2];
	double absent; /* what a column that is not there becomes */
};

static const struct asked asked[] = {
	{ { NULL }, 0 },
	{ { "nws-grid" }, 0 },
	{ { "nws-alerts" }, NAN },
	{ { "nws-grid", "nws-alerts" }, NAN },
};

static void
no_alert_holds_where_nobody_is_asked(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(asked); i++) {
		struct series series;
		struct site site = plain_site();
		struct forecast_source source[2] = {
			{ .format = asked[i].format[0] },
			{ .format = asked[i].format[1] }
		};
		site.source = source;
		for (size_t s = 0; s < 2 && asked[i].format[s] != NULL; s++)
			site.source_count++;
		series_init(&series, 0, HOUR);
		fill(&series, MEASURE_ALERT_HEAT, NAN);
		series.column[MEASURE_ALERT_HEAT][1] = 1;
		derive(&series, &site, NULL);
		for (size_t a = 0; a < COUNT(alerts); a++)
			check_cell(&series, alerts[a], 0,
			    alerts[a] == MEASURE_ALERT_HEAT ? (double)NAN
							    : asked[i].absent);
		check_cell(&series, MEASURE_ALERT_HEAT, SERIES_STEP, 1);
		series_release(&series);
	}
}

static void
nothing_follows_from_nothing(void **state)
{
	(void)state;
	static const enum measure none[] = { MEASURE_WET_BULB, MEASURE_DELTA_T,
		MEASURE_WIND_2M, MEASURE_FREEZE, MEASURE_STABILITY,
		MEASURE_SOIL };
	struct series series;
	struct site site = plain_site();
	series_init(&series, 0, HOUR);
	derive(&series, &site, NULL);
	for (size_t i = 0; i < COUNT(none); i++)
		assert_null(series.column[none[i]]);
	check_cell(&series, MEASURE_LEAF_WET, 0, NAN);
	series_release(&series);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(wind_is_brought_down_to_two_metres),
		cmocka_unit_test(wet_bulb_and_delta_t_add_up_to_the_air),
		cmocka_unit_test(air_at_nought_freezes),
		cmocka_unit_test(stability_follows_from_sun_cloud_and_wind),
		cmocka_unit_test(a_leaf_is_wet_by_rain_or_by_dew),
		cmocka_unit_test(a_likely_shower_wets_the_leaf),
		cmocka_unit_test(no_alert_holds_where_nobody_is_asked),
		cmocka_unit_test(nothing_follows_from_nothing),
	};
	return RUN_TESTS(tests);
}
