#include "unit/test.h"

#include "base/file.h"
#include "unit/open_meteo_document.h"

#include <cjson/cJSON.h>

/*
 * Documents recorded from the service are not ours to ship. They are read when
 * LULL_SHARED names a folder that holds samples/open-meteo; otherwise these
 * tests say that they were skipped.
 */
static bool
load_sample(const char *name, struct text *ret)
{
	char path[512];
	const char *folder = getenv("LULL_SHARED");
	if (folder == NULL)
		return false;
	(void)snprintf(
	    path, sizeof path, "%s/samples/open-meteo/%s", folder, name);
	text_init(ret, LIMIT_FORECAST_BYTES);
	bool there = file_read(path, ret, NULL);
	if (!there)
		text_release(ret);
	return there;
}

/* Values as they stand in the recorded documents, at their stamps in UTC. */
static void
reads_recorded_documents_at_their_hours(void **state)
{
	(void)state;
	static const struct {
		const char *name;
		int64_t at; /* UTC */
		enum measure measure;
		double wanted;
	} rows[] = {
		/* 2026-03-04T00:00 at -5 h is 32.0 degF, and 2026-03-08T02:00,
		   which the clocks there never showed, 41.6 degF. */
		{ "forecast_toronto_202603_DSTweek_imperial.json",
		    INT64_C(1772600400), MEASURE_AIR_TEMPERATURE, 0 },
		{ "forecast_toronto_202603_DSTweek_imperial.json",
		    INT64_C(1772953200), MEASURE_AIR_TEMPERATURE, 9.6 / 1.8 },
		/* 1.008 inch at 2026-03-07T01:00, for the hour before. */
		{ "forecast_toronto_202603_DSTweek_imperial.json",
		    INT64_C(1772859600), MEASURE_RAIN_BLOCK, 1.008 * 25.4 },
		/* 2026-03-05T21:00 at -5 h is 32.6 degF. */
		{ "forecast_toronto_202603_DSTweek_imperial.json",
		    INT64_C(1772762400), MEASURE_AIR_TEMPERATURE, 0.6 / 1.8 },
		{ "forecast_munich_20260207_unixtime_oldnames.json",
		    INT64_C(1770422400), MEASURE_AIR_TEMPERATURE, 6.6 },
		/* 2.00, 5.70, 7.30 mm before stamps 12 to 14. */
		{ "forecast_melbourne_20240116_soiltemp_unixtime_excerpt.json",
		    INT64_C(1705435200), MEASURE_RAIN_BLOCK, 2 },
		{ "forecast_melbourne_20240116_soiltemp_unixtime_excerpt.json",
		    INT64_C(1705442400), MEASURE_RAIN_BLOCK, 7.3 },
		{ "forecast_melbourne_20240116_soiltemp_unixtime_excerpt.json",
		    INT64_C(1705446000), MEASURE_RAIN_BLOCK, 0 },
		{ "forecast_melbourne_20240116_soiltemp_unixtime_excerpt.json",
		    INT64_C(1705435200), MEASURE_RAIN_CHANCE, 97 },
		{ "forecast_melbourne_20240116_soiltemp_unixtime_excerpt.json",
		    INT64_C(1705395600), MEASURE_GUST, 34.9 / 3.6 },
	};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		struct text text = { 0 };
		struct series s;
		if (!load_sample(rows[i].name, &text))
			skip();
		take_bytes(text_string(&text), text.length, &s);
		assert_int_equal(s.rejected, 0);
		check_at(
		    &s, rows[i].measure, rows[i].at - MIDNIGHT, rows[i].wanted);
		series_release(&s);
		text_release(&text);
	}
}

static void
refuses_recorded_answers_that_are_no_forecast(void **state)
{
	(void)state;
	static const struct {
		const char *name, *why;
	} rows[] = {
		{ "NOT_JSON_http200_nan_not_covered.txt", "not well-formed" },
		{ "ensemble_gem_21members_20261003.json",
		    "read it with the format open-meteo-ensemble" },
		{ "error_429_minutely_FROM_SOURCE.json", "try again" },
		{ "error_503_overloaded_FROM_SOURCE.json", "overloaded" },
	};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		struct text text = { 0 };
		struct series s;
		struct error error = { 0 };
		if (!load_sample(rows[i].name, &text))
			skip();
		assert_false(open_meteo_read(
		    text_string(&text), text.length, &s, &error));
		assert_contains(error.text, rows[i].why);
		text_release(&text);
	}
}

/* A value of the document itself, by another way than the reader's. */
static double
value_in(const cJSON *root, const char *name, int stamp)
{
	const cJSON *list = cJSON_GetObjectItemCaseSensitive(
	    cJSON_GetObjectItemCaseSensitive(root, "hourly"), name);
	const cJSON *item = cJSON_GetArrayItem(list, stamp);
	assert_non_null(item);
	return cJSON_IsNull(item) ? (double)NAN : item->valuedouble;
}

static int
compare(const void *a, const void *b)
{
	double one = *(const double *)a, other = *(const double *)b;
	return (one > other) - (one < other);
}

/* 21 runs of 2026-10-03: the control and members 01 to 20. */
static void
a_recorded_ensemble_gives_the_middle_of_its_runs(void **state)
{
	(void)state;
	enum { RUNS = 21 };
	const int64_t start = INT64_C(1790985600); /* 2026-10-03T00:00:00Z */
	struct text text = { 0 };
	struct series s;
	if (!load_sample("ensemble_gem_21members_20261003.json", &text))
		skip();
	take_with(
	    open_meteo_ensemble_read, text_string(&text), text.length, &s);
	cJSON *root = cJSON_ParseWithLength(text_string(&text), text.length);
	for (int stamp = 0; stamp < 2; stamp++) {
		double values[RUNS] = { value_in(
		    root, "temperature_2m", stamp) };
		for (int run = 1; run < RUNS; run++) {
			char name[40];
			(void)snprintf(name, sizeof name,
			    "temperature_2m_member%02d", run);
			values[run] = value_in(root, name, stamp);
		}
		qsort(values, RUNS, sizeof values[0], compare);
		check_at(&s, MEASURE_AIR_TEMPERATURE,
		    start + stamp * HOUR - MIDNIGHT, values[RUNS / 2]);
	}
	assert_int_equal(s.rejected, 0);
	assert_null(s.column[MEASURE_RAIN_CHANCE]);
	cJSON_Delete(root);
	series_release(&s);
	text_release(&text);
}

static void
recorded_soil_is_that_of_six_centimetres(void **state)
{
	(void)state;
	enum { STAMPS_THERE = 24 };
	struct text text = { 0 };
	struct series s;
	if (!load_sample(
		"forecast_melbourne_20240116_soiltemp_unixtime_excerpt.json",
		&text))
		skip();
	take_bytes(text_string(&text), text.length, &s);
	cJSON *root = cJSON_ParseWithLength(text_string(&text), text.length);
	for (int stamp = 0; stamp < STAMPS_THERE; stamp++) {
		int64_t at = (int64_t)value_in(root, "time", stamp) - MIDNIGHT;
		double here = value_in(root, "soil_temperature_6cm", stamp);
		check_at(&s, MEASURE_SOIL, at, here);
		if (stamp + 1 == STAMPS_THERE)
			break;
		double next = value_in(root, "soil_temperature_6cm", stamp + 1);
		check_at(&s, MEASURE_SOIL, at + 1800, (here + next) / 2);
	}
	cJSON_Delete(root);
	series_release(&s);
	text_release(&text);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(reads_recorded_documents_at_their_hours),
		cmocka_unit_test(refuses_recorded_answers_that_are_no_forecast),
		cmocka_unit_test(
		    a_recorded_ensemble_gives_the_middle_of_its_runs),
		cmocka_unit_test(recorded_soil_is_that_of_six_centimetres),
	};
	return RUN_TESTS(tests);
}
