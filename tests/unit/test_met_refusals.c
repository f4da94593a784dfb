#include "unit/test.h"

#include "unit/met_document.h"

static void
check_refused(const char *bytes, size_t length, const char *why)
{
	struct series series = { .start = 42 };
	struct error error = { 0 };
	if (met_norway_read(bytes, length, &series, &error))
		fail_msg("was taken: %s", bytes);
	assert_int_equal(error.kind, ERROR_INPUT);
	assert_contains(error.text, why);
	assert_true(series.start == 42);
}

struct row {
	const char *document, *why;
};

static void
check_rows(const struct row *rows, size_t count)
{
	for (size_t i = 0; i < count; i++)
		check_refused(
		    rows[i].document, strlen(rows[i].document), rows[i].why);
}

static void
refuses_what_is_not_a_forecast_of_this_form(void **state)
{
	(void)state;
	static const struct row rows[] = {
		{ "", "empty" },
		{ "<html><body>400 Bad Request</body></html>", "web page" },
		{ "{\"error\":\"no such point\"}", "it has no properties" },
		{ "[]", "it has no properties" },
		{ "null", "it has no properties" },
		{ "{\"properties\":null}", "it has no properties" },
		{ "{\"Properties\":{}}", "it has no properties" },
		{ "{\"properties\":7}", "'properties' is not one object" },
		{ "{\"properties\":{},\"properties\":{}}", "member twice" },
		{ "{\"properties\":{\"meta\":{},\"meta\":{}}}",
		    "'properties' is not one object" },
		{ DOCUMENT(AIR), "updated_at" },
		{ MET_WITH(MET_META(MET_UNITS), ""), "timeseries is empty" },
		{ "{\"properties\":{" MET_META(MET_UNITS) "}}",
		    "no timeseries" },
		{ "{\"properties\":{" MET_META(
		      MET_UNITS) ",\"timeseries\":{}}}",
		    "no timeseries" },
	};
	check_rows(rows, sizeof rows / sizeof rows[0]);
}

/* Every cut of a good document must be refused. */
static void
refuses_a_document_cut_anywhere(void **state)
{
	(void)state;
	static const char whole[] = MET_HOUR(",\"wind_speed\":3",
	    MET_PERIOD("next_1_hours", "\"precipitation_amount\":0.2"));
	struct series series;
	met_take(whole, sizeof whole - 1, &series);
	series_release(&series);
	for (size_t length = 0; length < sizeof whole - 1; length++)
		if (met_norway_read(whole, length, &series, NULL))
			fail_msg("was taken when cut at byte %zu", length);
}

#define WITH_UNITS(units)                                                      \
	MET_WITH(MET_META(units),                                              \
	    MET_ENTRY("00:00:00Z", MET_AIR("1"), "") "," MET_ENTRY(            \
		"01:00:00Z", MET_AIR("1"), ""))
#define WITH_META(meta) MET_WITH(meta, MET_ENTRY("00:00:00Z", "", ""))

static void
refuses_a_bad_unit_or_no_time_of_issue(void **state)
{
	(void)state;
	static const struct row rows[] = {
		{ WITH_UNITS("\"air_temperature\":\"furlong\""),
		    "air_temperature: 'furlong' is not a unit of air" },
		{ WITH_UNITS("\"air_temperature\":\"m/s\""),
		    "air_temperature: 'm/s' is not" },
		/* Even when no value is written in it. */
		{ WITH_UNITS("\"air_temperature\":\"celsius\","
			     "\"wind_speed_of_gust\":\"\\u001b[31m\""),
		    "wind_speed_of_gust: '?[31m' is not a unit of speed" },
		{ WITH_UNITS("\"wind_speed\":\"m/s\""),
		    "air_temperature has values but no unit" },
		{ WITH_UNITS("\"air_temperature\":null"),
		    "air_temperature has values but no unit" },
		{ WITH_UNITS("\"wind_speed\":\"m/s\",\"wind_speed\":\"kn\""),
		    "'units' is not one object" },
		{ WITH_META("\"meta\":null"), "updated_at" },
		{ WITH_META("\"meta\":[]"), "'meta'" },
		{ WITH_META("\"meta\":{\"units\":{}}"), "updated_at" },
		{ WITH_META("\"meta\":{\"units\":7}"), "'units'" },
		{ WITH_META("\"meta\":{\"updated_at\":7}"), "updated_at" },
		{ WITH_META("\"meta\":{\"updated_at\":\"\"}"), "updated_at" },
		{ WITH_META("\"meta\":{\"updated_at\":\"soonZ\"}"),
		    "updated_at" },
		{ WITH_META(
		      "\"meta\":{\"updated_at\":\"2026-03-02T00:00:00\"}"),
		    "updated_at" },
	};
	check_rows(rows, sizeof rows / sizeof rows[0]);
}

static void
refuses_a_bad_value_naming_it_and_its_time(void **state)
{
	(void)state;
	static const struct row rows[] = {
		{ MET_HOUR(",\"wind_speed\":\"3\"", ""),
		    "wind_speed: the value of 2026-03-02T00:00:00" },
		{ MET_HOUR(",\"wind_speed\":true", ""), "wind_speed: " },
		{ MET_HOUR(",\"wind_speed\":[3]", ""), "wind_speed: " },
		{ MET_HOUR(",\"wind_speed\":1e999", ""), "wind_speed: " },
		{ MET_HOUR(",\"wind_speed\":NaN", ""), "not well-formed" },
		{ MET_HOUR(",\"wind_speed\":1,\"wind_speed\":2", ""),
		    "'details' is not one object" },
		{ MET_HOUR("", MET_PERIOD("next_1_hours",
				   "\"precipitation_amount\":\"0\"")),
		    "precipitation_amount: the value of 2026-03-02T00:00:00" },
		{ MET_HOUR("", ",\"next_1_hours\":7"),
		    "2026-03-02T00:00:00+00:00: 'next_1_hours'" },
		{ MET_HOUR("", ",\"next_1_hours\":{\"details\":[]}"),
		    "2026-03-02T00:00:00+00:00: 'details'" },
		{ MET_HOUR("", ",\"instant\":{}"),
		    "2026-03-02T00:00:00+00:00 has no data" },
	};
	check_rows(rows, sizeof rows / sizeof rows[0]);
}

#define EMPTY(time) MET_ENTRY(time, MET_AIR("1"), "")

static void
refuses_a_bad_entry_or_order(void **state)
{
	(void)state;
	static const struct row rows[] = {
		{ MET(EMPTY("01:00:00Z") "," EMPTY("00:00:00Z")),
		    "2026-03-02T00:00:00+00:00 is not in order of time" },
		{ MET(EMPTY("01:00:00Z") "," EMPTY("01:00:00Z")),
		    "2026-03-02T01:00:00+00:00 is not in order of time" },
		{ MET(EMPTY("00:00:00Z") "," EMPTY("00:20:00Z")),
		    "2026-03-02T00:20:00+00:00 is not on a quarter of an "
		    "hour" },
		{ MET(EMPTY("00:00:00")), "no time in UTC" },
		{ MET(EMPTY("00:00:00+01:00")), "no time in UTC" },
		{ MET(EMPTY("25:00:00Z")), "no time in UTC" },
		{ MET("{\"data\":{}}"), "no time in UTC" },
		{ MET("{\"time\":1772409600}"), "no time in UTC" },
		{ MET("7"), "no time in UTC" },
		{ MET("{\"time\":\"2026-02-29T00:00:00Z\"}"),
		    "no time in UTC" },
		{ MET("{\"time\":\"2026-03-02T00:00:00Z\",\"data\":7}"),
		    "has no data" },
		{ MET("{\"time\":\"2026-03-02T00:00:00Z\",\"data\":{},"
		      "\"data\":{}}"),
		    "member twice" },
	};
	check_rows(rows, sizeof rows / sizeof rows[0]);
}

static void
refuses_a_document_without_hourly_temperature(void **state)
{
	(void)state;
	static const struct row rows[] = {
		{ MET(EMPTY("00:00:00Z")), "no air temperature" },
		{ MET(EMPTY("00:00:00Z") "," EMPTY("06:00:00Z")),
		    "no air temperature" },
		{ MET(MET_ENTRY("00:00:00Z", "\"wind_speed\":3",
		      "") "," MET_ENTRY("01:00:00Z", "\"wind_speed\":3", "")),
		    "no air temperature" },
		/* A stray year leaves the rest beyond the ceiling. */
		{ MET("{\"time\":\"0001-01-01T00:00:00Z\"}," EMPTY(
		      "00:00:00Z") "," EMPTY("01:00:00Z")),
		    "no air temperature" },
	};
	check_rows(rows, sizeof rows / sizeof rows[0]);
}

static void
keeps_to_the_ceilings(void **state)
{
	(void)state;
	struct text text;
	struct series series;
	enum { COUNT = LIMIT_LAYER_VALUES + 1 };
	struct met *entries = malloc(COUNT * sizeof *entries);
	assert_non_null(entries);
	for (int i = 0; i < COUNT; i++) {
		entries[i] = met_blank(MIDNIGHT + i * HOUR);
		entries[i].instant[MET_TEMPERATURE] = 8;
	}
	met_write(&text, entries, COUNT);
	check_refused(text.data, text.length, "more than 20000 entries");
	text_release(&text);
	met_take_entries(entries, COUNT / 2, &series);
	assert_true(
	    series_end(&series) == MIDNIGHT + LIMIT_FORECAST_DAYS * DAY);
	series_release(&series);
	free(entries);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(refuses_what_is_not_a_forecast_of_this_form),
		cmocka_unit_test(refuses_a_document_cut_anywhere),
		cmocka_unit_test(refuses_a_bad_unit_or_no_time_of_issue),
		cmocka_unit_test(refuses_a_bad_value_naming_it_and_its_time),
		cmocka_unit_test(refuses_a_bad_entry_or_order),
		cmocka_unit_test(refuses_a_document_without_hourly_temperature),
		cmocka_unit_test(keeps_to_the_ceilings),
	};
	return RUN_TESTS(tests);
}
