#include "unit/test.h"

#include "unit/nws_document.h"
#include "weather/format.h"

static void
check_refused(const char *bytes, size_t length, const char *why)
{
	struct series series = { .start = 42 };
	struct error error = { 0 };
	if (nws_grid_read(bytes, length, &series, &error))
		fail_msg("was taken: %s", bytes);
	assert_int_equal(error.kind, ERROR_INPUT);
	assert_contains(error.text, why);
	assert_true(series.start == 42);
}

static void
refuses_what_is_not_a_gridpoint_document(void **state)
{
	(void)state;
	static const struct {
		const char *name, *why;
	} rows[] = {
		{ "empty.json", "empty" },
		{ "page.html", "web page" },
		{ "truncated.json", "not well-formed JSON" },
		{ "points.json", "updateTime" },
		{ "problem.json", "'Forecast Grid Expired' (status 503)" },
	};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		struct text text;
		read_fixture(rows[i].name, &text);
		check_refused(text_string(&text), text.length, rows[i].why);
		text_release(&text);
	}
}

/* Every cut of a good document but the last line end must be refused. */
static void
refuses_a_document_cut_anywhere(void **state)
{
	(void)state;
	struct text text;
	read_fixture("grid.json", &text);
	for (size_t length = 0; length + 1 < text.length; length++) {
		struct series series;
		if (nws_grid_read(text.data, length, &series, NULL))
			fail_msg("was taken when cut at byte %zu", length);
	}
	text_release(&text);
}

static void
refuses_bad_units_and_values_with_a_reason(void **state)
{
	(void)state;
	static const struct {
		const char *document, *why;
	} rows[] = {
		{ DOCUMENT(AIR "," WIND("wmoUnit:furlong", "3")),
		    "windSpeed: 'wmoUnit:furlong'" },
		{ DOCUMENT(AIR "," WIND("wmoUnit:degC", "3")),
		    "windSpeed: 'wmoUnit:degC'" },
		{ DOCUMENT(AIR "," WIND("other:km_h-1", "3")),
		    "windSpeed: 'other:km_h-1'" },
		{ DOCUMENT(AIR "," WIND("\\u001b[31m\\n", "3")),
		    "windSpeed: '?[31m?'" },
		{ DOCUMENT("\"temperature\":{\"values\":[" ENTRY(
		      "00:00:00Z/PT1H", "3") "]}"),
		    "temperature has values but no unit" },
		{ DOCUMENT(AIR "," WIND("km_h-1", "\"12\"")),
		    "windSpeed: the value of 2026-03-02T00:00:00+00:00/PT6H" },
		{ DOCUMENT(AIR "," WIND("km_h-1", "\"NaN\"")), "windSpeed: " },
		{ DOCUMENT(AIR "," WIND("km_h-1", "{\"value\":3}")),
		    "windSpeed: " },
		{ DOCUMENT(AIR "," WIND("km_h-1", "[3]")), "windSpeed: " },
		{ DOCUMENT(AIR "," WIND("km_h-1", "true")), "windSpeed: " },
		{ DOCUMENT(AIR "," WIND("km_h-1", "1e999")), "windSpeed: " },
		{ DOCUMENT(AIR "," WIND("km_h-1", "NaN")), "not well-formed" },
		{ DOCUMENT(AIR "," WIND("km_h-1", "Infinity")),
		    "not well-formed" },
		{ DOCUMENT(AIR "," WIND("km_h-1", "1,\"value\":2")),
		    "member twice" },
		{ DOCUMENT(
		      AIR "," LAYER("windGust", "km_h-1", "{\"value\":3}")),
		    "windGust has a value without a validTime" },
	};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
		check_refused(
		    rows[i].document, strlen(rows[i].document), rows[i].why);
}

static void
refuses_bad_entries_and_members_with_a_reason(void **state)
{
	(void)state;
	static const struct {
		const char *document, *why;
	} rows[] = {
		{ DOCUMENT(AIR "," LAYER("windGust", "km_h-1", "3")),
		    "windGust" },
		{ DOCUMENT(AIR "," LAYER(
		      "windGust", "km_h-1", ENTRY("00:00:00Z/P1M", "3"))),
		    "windGust: 'P1M'" },
		{ DOCUMENT(AIR "," LAYER(
		      "windGust", "km_h-1", ENTRY("00:00:00/PT1H", "3"))),
		    "windGust: '2026-03-02T00:00:00/PT1H'" },
		{ DOCUMENT(AIR ",\"skyCover\":{\"uom\":\"percent\"}"),
		    "skyCover" },
		{ DOCUMENT(AIR ",\"skyCover\":12"), "skyCover" },
		{ DOCUMENT(AIR "," AIR), "member twice" },
		{ DOCUMENT(AIR "," ISSUED), "member twice" },
		{ DOCUMENT(WIND("km_h-1", "3")), "no air temperature" },
		{ DOCUMENT("\"temperature\":{\"values\":[]}"),
		    "no air temperature" },
		{ DOCUMENT(LAYER(
		      "temperature", "degC", ENTRY("00:00:00Z/PT1H", "null"))),
		    "no air temperature" },
		{ DOCUMENT(LAYER(
		      "temperature", "degC", ENTRY("00:00:00Z/PT1H", "9999"))),
		    "no air temperature" },
		{ "{\"properties\":{" AIR "}}", "no updateTime" },
		{ "{\"properties\":{\"updateTime\":\"soon\"," AIR "}}",
		    "'soon'" },
		{ "{\"properties\":{\"updateTime\":7," AIR "}}", "updateTime" },
		{ "{\"Properties\":{" ISSUED "," AIR "}}", "no properties" },
		{ "[]", "no properties" },
		{ "{\"type\":\"FeatureCollection\",\"features\":[]}",
		    "no properties" },
		{ "{\"title\":\"Not\\nFound\"}", "'Not?Found'" },
	};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
		check_refused(
		    rows[i].document, strlen(rows[i].document), rows[i].why);
}

static void
a_layer_may_not_contradict_itself(void **state)
{
	(void)state;
	static const char overlap[] = DOCUMENT(AIR "," CHANCE(
	    ENTRY("00:00:00Z/PT6H", "20") "," ENTRY("05:00:00Z/PT6H", "30")));
	static const char again[] = DOCUMENT(AIR "," CHANCE(
	    ENTRY("00:00:00Z/PT6H", "20") "," ENTRY("00:00:00Z/PT6H", "20")));
	check_refused(overlap, strlen(overlap),
	    "probabilityOfPrecipitation contradicts itself: two intervals "
	    "overlap at 2026-03-02T05:00:00");
	check_refused(again, strlen(again), "contradicts itself");
}

static void
a_stray_year_leaves_no_temperature_within_the_ceiling(void **state)
{
	(void)state;
	static const char centuries[] =
	    DOCUMENT(AIR "," LAYER("skyCover", "percent",
		"{\"validTime\":\"0001-01-01T00:00:00Z/PT1H\","
		"\"value\":5}"));
	check_refused(centuries, strlen(centuries), "no air temperature");
}

static void
refuses_more_than_the_ceilings(void **state)
{
	(void)state;
	struct text text;
	static const int offsets[2] = { 0, 0 };
	make_week(&text, MIDNIGHT, LIMIT_LAYER_VALUES + 1, 0, offsets);
	check_refused(
	    text.data, text.length, "temperature has more than 20000 values");
	text_release(&text);
	char *large = malloc(LIMIT_FORECAST_BYTES + 1);
	assert_non_null(large);
	memset(large, ' ', LIMIT_FORECAST_BYTES + 1);
	check_refused(large, LIMIT_FORECAST_BYTES + 1, "larger than");
	free(large);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(refuses_what_is_not_a_gridpoint_document),
		cmocka_unit_test(refuses_a_document_cut_anywhere),
		cmocka_unit_test(refuses_bad_units_and_values_with_a_reason),
		cmocka_unit_test(refuses_bad_entries_and_members_with_a_reason),
		cmocka_unit_test(a_layer_may_not_contradict_itself),
		cmocka_unit_test(
		    a_stray_year_leaves_no_temperature_within_the_ceiling),
		cmocka_unit_test(refuses_more_than_the_ceilings),
	};
	return RUN_TESTS(tests);
}
