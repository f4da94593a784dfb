#include "unit/test.h"

#include "unit/nws_alerts_document.h"

static void
check_refused(const char *bytes, size_t length, const char *why)
{
	struct series series = { .start = 42 };
	struct error error = { 0 };
	if (nws_alerts_read(bytes, length, &series, &error))
		fail_msg("was taken: %s", bytes);
	assert_int_equal(error.kind, ERROR_INPUT);
	assert_contains(error.text, why);
	assert_true(series.start == 42);
}

#define GOOD ALERT("Heat Advisory", MORNING)

static void
refuses_what_is_not_a_list_of_alerts(void **state)
{
	(void)state;
	static const struct {
		const char *document, *why;
	} rows[] = {
		{ "", "empty" },
		{ "<html>busy</html>", "web page" },
		{ "[]", "not a list of alerts: it has no features" },
		{ "{}", "not a list of alerts: it has no features" },
		{ "{" UPDATED ",\"Features\":[]}", "it has no features" },
		{ "{" UPDATED ",\"features\":null}", "not one list" },
		{ "{" UPDATED ",\"features\":{}}", "not one list" },
		{ "{" UPDATED ",\"features\":[],\"features\":[]}",
		    "not one list" },
		{ ALERTS_WITH("", ""), "no updated" },
		{ ALERTS_WITH(",\"updated\":null", ""), "no updated" },
		{ ALERTS_WITH(",\"updated\":7", ""), "updated is not a text" },
		{ ALERTS_WITH(",\"updated\":\"soon\"", ""),
		    "updated: 'soon' is not a time with its offset" },
		{ ALERTS_WITH(",\"updated\":\"2026-03-02T00:10:00\"", ""),
		    "updated: '2026-03-02T00:10:00'" },
		{ ALERTS_WITH(",\"updated\":\"2026-02-29T00:10:00Z\"", ""),
		    "updated: '2026-02-29T00:10:00Z'" },
		{ "{\"type\":\"https://weather.example/InvalidParameter\","
		  "\"title\":\"Invalid Parameter\",\"status\":400,"
		  "\"detail\":\"out of\\nbounds\"}",
		    "the service answered 'Invalid Parameter' (status 400): "
		    "out of?bounds" },
		{ "{\"title\":\"Busy\"}",
		    "the service answered 'Busy': no detail" },
		{ "{\"detail\":\"later\"}",
		    "the service answered 'no title': later" },
	};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
		check_refused(
		    rows[i].document, strlen(rows[i].document), rows[i].why);
}

/* One broken alert refuses the list, whatever stands before and behind it. */
static void
a_broken_alert_is_not_no_alert(void **state)
{
	(void)state;
	static const struct {
		const char *feature, *why;
	} rows[] = {
		{ "null", "alert 2: it has no properties" },
		{ "7", "alert 2: it has no properties" },
		{ "[]", "alert 2: it has no properties" },
		{ "{\"properties\":null}", "alert 2: it has no properties" },
		{ "{\"properties\":{},\"properties\":{}}", "member twice" },
		{ FEATURE(REAL "," MORNING), "alert 2: it names no event" },
		{ FEATURE("\"event\":null," REAL "," MORNING), "no event" },
		{ FEATURE("\"event\":[\"Heat Advisory\"]," REAL "," MORNING),
		    "event is not a text" },
		{ FEATURE("\"event\":\"Heat Advisory\",\"status\":1," MORNING),
		    "status is not a text" },
		{ FEATURE("\"event\":\"Heat "
			  "Advisory\",\"messageType\":{}," MORNING),
		    "messageType is not a text" },
		{ ALERT("Heat Advisory", MORNING "," MORNING), "member twice" },
		{ ALERT("Heat Advisory", "\"severity\":\"Severe\""),
		    "alert 2: Heat Advisory: it does not say when it begins" },
		{ ALERT(
		      "Heat Advisory", "\"onset\":null," ENDS("02T06:00:00Z")),
		    "does not say when it begins" },
		{ ALERT("Heat\\u001b Advisory", "\"onset\":\"\\u0007\""),
		    "alert 2: Heat? Advisory: onset: '?' is not a time" },
		{ ALERT("Heat Advisory", ONSET("02T06:00:00")),
		    "onset: '2026-03-02T06:00:00'" },
		{ ALERT("Heat Advisory", ONSET("02")), "onset: '2026-03-02'" },
		{ ALERT("Heat Advisory", ONSET("32T06:00:00Z")), "onset: " },
		{ ALERT("Heat Advisory", "\"onset\":1772409600"),
		    "onset is not a text" },
		{ ALERT("Heat Advisory", MORNING ",\"effective\":\"\""),
		    "effective: ''" },
		{ ALERT("Heat Advisory", MORNING ",\"expires\":false"),
		    "expires is not a text" },
		{ ALERT("Heat Advisory",
		      ONSET("02T06:00:00Z") "," ENDS("02T25:00:00Z")),
		    "ends: '2026-03-02T25:00:00Z'" },
		/* A real one of another kind has to be readable, too. */
		{ ALERT("Tsunami Warning", "\"onset\":\"soon\""),
		    "Tsunami Warning: onset: 'soon'" },
	};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		char document[1024];
		int length = snprintf(document, sizeof document,
		    ALERTS(GOOD ",%s," GOOD), rows[i].feature);
		check_refused(document, (size_t)length, rows[i].why);
	}
}

static void
refuses_a_list_cut_anywhere(void **state)
{
	(void)state;
	static const char list[] = ALERTS(GOOD);
	struct series series = { 0 };
	assert_true(nws_alerts_read(list, sizeof list - 1, &series, NULL));
	series_release(&series);
	for (size_t length = 0; length < sizeof list - 1; length++)
		if (nws_alerts_read(list, length, &series, NULL))
			fail_msg("was taken when cut at byte %zu", length);
}

/*
 * Documents recorded from the service are not ours to ship. They are read when
 * LULL_SHARED names a folder that holds samples/nws; otherwise the tests of
 * them say that they were skipped.
 */
static bool
find_sample(const char *name, struct text *ret)
{
	char path[512];
	const char *folder = getenv("LULL_SHARED");
	if (folder == NULL)
		return false;
	(void)snprintf(path, sizeof path, "%s/samples/nws/%s", folder, name);
	text_init(ret, LIMIT_FORECAST_BYTES);
	bool there = file_read(path, ret, NULL);
	if (!there)
		text_release(ret);
	return there;
}

/* Begin and end of what holds, as read by hand in the recorded documents. */
static void
reads_recorded_lists(void **state)
{
	(void)state;
	static const struct {
		const char *name;
		enum measure kind;
		int64_t from, to; /* equal: nothing holds */
	} rows[] = {
		{ "alerts_point_empty_2026.json", MEASURE_ALERT_WIND, 0, 0 },
		/* 2019-12-20T21:30:00Z (the list) to 2019-12-22T18:00:00Z */
		{ "alerts_active_zone_ORZ.json", MEASURE_ALERT_FLOOD,
		    INT64_C(1576877400), INT64_C(1577037600) },
		/* 2026-03-24T14:00:00Z (the list) to 2026-03-26T00:00:00Z */
		{ "alerts_with_status_Test_abridged.json", MEASURE_ALERT_HEAT,
		    INT64_C(1774360800), INT64_C(1774483200) },
	};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		struct text text = { 0 };
		struct series s = { 0 };
		struct error error = { 0 };
		if (!find_sample(rows[i].name, &text))
			skip();
		if (!nws_alerts_read(text.data, text.length, &s, &error))
			fail_msg("%s: %s", rows[i].name, error.text);
		text_release(&text);
		double sum = 0;
		for (size_t c = 0; c < s.count; c++)
			for (int m = MEASURE_ALERT_WIND;
			     m <= MEASURE_ALERT_SMOKE; m++)
				sum += (double)s.column[m][c];
		const int64_t span = rows[i].to - rows[i].from;
		assert_close(sum * SERIES_STEP, (double)span, 0);
		if (span > 0) {
			assert_int_equal(s.start, rows[i].from);
			assert_close(
			    series_at(&s, rows[i].kind, rows[i].to - 1), 1, 0);
		}
		series_release(&s);
	}
}

static void
refuses_recorded_error_documents_in_their_own_words(void **state)
{
	(void)state;
	struct text text = { 0 };
	if (!find_sample(
		"error_400_InvalidParameter_alerts_out_of_bounds.json", &text))
		skip();
	check_refused(text.data, text.length,
	    "the service answered 'Invalid Parameter' (status 400)");
	text_release(&text);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(refuses_what_is_not_a_list_of_alerts),
		cmocka_unit_test(a_broken_alert_is_not_no_alert),
		cmocka_unit_test(refuses_a_list_cut_anywhere),
		cmocka_unit_test(reads_recorded_lists),
		cmocka_unit_test(
		    refuses_recorded_error_documents_in_their_own_words),
	};
	return RUN_TESTS(tests);
}
