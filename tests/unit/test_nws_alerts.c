#include "unit/test.h"

#include "unit/nws_alerts_document.h"

static const enum measure columns[] = { MEASURE_ALERT_WIND,
	MEASURE_ALERT_FREEZE, MEASURE_ALERT_HEAT, MEASURE_ALERT_FLOOD,
	MEASURE_ALERT_SMOKE };

enum { COLUMNS = sizeof columns / sizeof columns[0] };

#define FIRST_CELL MIDNIGHT
#define LAST_CELL  (MIDNIGHT + 400 * DAY)

static void
read_list(const char *document, struct series *ret)
{
	struct error error = { 0 };
	if (!nws_alerts_read(document, strlen(document), ret, &error))
		fail_msg("%s: %s", error.text, document);
}

static double
at(const struct series *series, enum measure measure, int64_t time)
{
	return (double)series_at(series, measure, time);
}

/* 1 in the cells of [from, to) and 0 in every other one. */
static void
check_column(
    const struct series *series, enum measure measure, int64_t from, int64_t to)
{
	assert_non_null(series->column[measure]);
	for (size_t i = 0; i < series->count; i++) {
		int64_t time = series_time(series, i);
		double wanted = time >= from && time < to ? 1 : 0;
		if ((double)series->column[measure][i] == wanted)
			continue;
		print_error("%s, cell %zu\n", measure_info(measure)->key, i);
		assert_close(series->column[measure][i], wanted, 0);
	}
}

/* As above for `kind`, and 0 everywhere in the others. */
static void
check_only(
    const struct series *series, enum measure kind, int64_t from, int64_t to)
{
	for (size_t i = 0; i < COLUMNS; i++) {
		bool here = columns[i] == kind;
		check_column(
		    series, columns[i], here ? from : 0, here ? to : 0);
	}
}

static void
an_empty_list_is_no_alert_from_the_cell_it_was_made_in(void **state)
{
	(void)state;
	struct series series;
	read_list(ALERTS(""), &series);
	assert_int_equal(series.start, FIRST_CELL);
	assert_int_equal(series_end(&series), LAST_CELL + SERIES_STEP);
	assert_int_equal(series.issued, 0);
	assert_int_equal(series.rejected, 0);
	check_only(&series, MEASURES, 0, 0);
	for (int m = 0; m < MEASURES; m++)
		if (m < MEASURE_ALERT_WIND || m > MEASURE_ALERT_SMOKE)
			assert_null(series.column[m]);
	assert_nan(at(&series, MEASURE_ALERT_WIND, FIRST_CELL - 1));
	assert_nan(at(&series, MEASURE_ALERT_WIND, series_end(&series)));
	series_release(&series);
}

static void
an_event_holds_over_each_cell_that_it_touches(void **state)
{
	(void)state;
	static const int64_t never = LAST_CELL + SERIES_STEP;
	static const struct {
		const char *times;
		int64_t from, to;
	} rows[] = {
		{ MORNING, MIDNIGHT + 6 * HOUR, MIDNIGHT + 12 * HOUR },
		/* 06:10 to 06:50: four cells of a quarter of an hour */
		{ ONSET("02T06:10:00Z") "," ENDS("02T06:50:00Z"),
		    MIDNIGHT + 6 * HOUR, MIDNIGHT + 7 * HOUR },
		{ ONSET("02T06:14:59Z") "," ENDS("02T06:15:01Z"),
		    MIDNIGHT + 6 * HOUR, MIDNIGHT + 6 * HOUR + 1800 },
		/* The event, not the message about it. */
		{ EFFECTIVE("02T00:00:00Z") "," EXPIRES(
		      "02T03:00:00Z") "," MORNING,
		    MIDNIGHT + 6 * HOUR, MIDNIGHT + 12 * HOUR },
		{ EFFECTIVE("02T05:00:00Z") ",\"onset\":null,"
					    "\"ends\":null," EXPIRES(
						"02T09:00:00Z"),
		    MIDNIGHT + 5 * HOUR, MIDNIGHT + 9 * HOUR },
		{ EFFECTIVE("02T05:00:00Z") "," EXPIRES("02T09:00:00Z"),
		    MIDNIGHT + 5 * HOUR, MIDNIGHT + 9 * HOUR },
		/* No end in sight: none told, or only that of the message,
		   which is over before the event begins. */
		{ ONSET("03T00:00:00Z"), MIDNIGHT + DAY, never },
		{ ONSET("03T00:00:00Z") ",\"ends\":null,\"expires\":null",
		    MIDNIGHT + DAY, never },
		{ ONSET("03T00:00:00Z") ",\"ends\":null," EXPIRES(
		      "02T12:00:00Z"),
		    MIDNIGHT + DAY, never },
		{ ONSET("03T00:00:00Z") "," ENDS("03T00:00:00Z"),
		    MIDNIGHT + DAY, never },
		/* Begun before the list, over before it, weeks ahead. */
		{ ONSET("01T00:00:00Z") "," ENDS("02T02:00:00Z"), MIDNIGHT,
		    MIDNIGHT + 2 * HOUR },
		{ ONSET("01T00:00:00Z") "," ENDS("01T23:00:00Z"), 0, 0 },
		{ ONSET("30T00:00:00Z") "," ENDS("31T00:00:00Z"),
		    MIDNIGHT + 28 * DAY, MIDNIGHT + 29 * DAY },
	};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		char document[1024];
		struct series series;
		(void)snprintf(document, sizeof document,
		    ALERTS(ALERT("Heat Advisory", "%s")), rows[i].times);
		read_list(document, &series);
		check_only(
		    &series, MEASURE_ALERT_HEAT, rows[i].from, rows[i].to);
		series_release(&series);
	}
}

/* The night of 8 March 2026, when clocks go from -06:00 to -05:00 at 08:00Z. */
static void
each_time_has_its_own_offset(void **state)
{
	(void)state;
	struct series series;
	read_list(
	    ALERTS(ALERT("Freeze Warning",
		ONSET("08T01:00:00-06:00") "," ENDS("08T09:00:00-05:00"))),
	    &series);
	check_only(&series, MEASURE_ALERT_FREEZE, MIDNIGHT + 6 * DAY + 7 * HOUR,
	    MIDNIGHT + 6 * DAY + 14 * HOUR);
	series_release(&series);
}

static void
a_leap_day_is_a_day(void **state)
{
	(void)state;
	/* 2028-02-28T00:00:00Z */
	const int64_t start = INT64_C(1835308800);
	struct series series;
	read_list(
	    "{\"features\":[" FEATURE(
		"\"event\":\"Frost Advisory\"," REAL ","
		"\"onset\":\"2028-02-29T00:00:00-06:00\","
		"\"ends\":\"2028-03-01T00:00:00-06:00\"") "],"
							  "\"updated\":\"2028-"
							  "02-28T00:00:00Z\"}",
	    &series);
	assert_int_equal(series.start, start);
	assert_int_equal(series_end(&series), start + 400 * DAY);
	check_only(&series, MEASURE_ALERT_FREEZE, start + DAY + 6 * HOUR,
	    start + 2 * DAY + 6 * HOUR);
	series_release(&series);
}

#define LATE_FLOOD                                                             \
	ALERT("Flood Watch", ONSET("02T10:00:00Z") "," ENDS("02T20:00:00Z"))
#define EARLY_FLOOD                                                            \
	ALERT("Flood Warning", ONSET("02T04:00:00Z") "," ENDS("02T11:00:00Z"))
#define WINDY ALERT("High Wind Warning", MORNING)

static void
alerts_may_overlap_and_stand_in_any_order(void **state)
{
	(void)state;
	struct series series;
	read_list(ALERTS(LATE_FLOOD "," WINDY "," EARLY_FLOOD), &series);
	check_column(&series, MEASURE_ALERT_WIND, MIDNIGHT + 6 * HOUR,
	    MIDNIGHT + 12 * HOUR);
	check_column(&series, MEASURE_ALERT_FLOOD, MIDNIGHT + 4 * HOUR,
	    MIDNIGHT + 20 * HOUR);
	check_column(&series, MEASURE_ALERT_HEAT, 0, 0);
	series_release(&series);
}

static void
check_name(const char *name, enum measure kind)
{
	char document[512];
	struct series series;
	(void)snprintf(
	    document, sizeof document, ALERTS(ALERT("%s", MORNING)), name);
	read_list(document, &series);
	for (size_t i = 0; i < COLUMNS; i++)
		if (at(&series, columns[i], MIDNIGHT + 6 * HOUR) !=
		    (columns[i] == kind))
			fail_msg("%s: %s", name, measure_info(columns[i])->key);
	series_release(&series);
}

static void
each_published_event_is_of_its_kind(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof named / sizeof named[0]; i++)
		for (const char *const *n = named[i].names; *n != NULL; n++)
			check_name(*n, named[i].kind);
}

static void
names_are_read_in_any_case_and_unknown_ones_are_none(void **state)
{
	(void)state;
	check_name("RED FLAG WARNING", MEASURE_ALERT_SMOKE);
	check_name(
	    "Arroyo and Small Stream Flood Advisory", MEASURE_ALERT_FLOOD);
	check_name("", MEASURES);
	check_name("Rain of Frogs Advisory", MEASURES);
}

/* Unknown words count, and so do missing ones. */
static void
only_messages_that_announce_something_count(void **state)
{
	(void)state;
	static const struct {
		const char *words;
		bool counts;
	} rows[] = {
		{ "\"status\":\"Actual\",\"messageType\":\"Alert\",", true },
		{ "\"status\":\"Actual\",\"messageType\":\"Update\",", true },
		{ "\"status\":\"Actual\",\"messageType\":\"Cancel\",", false },
		{ "\"status\":\"Actual\",\"messageType\":\"Ack\",", false },
		{ "\"status\":\"Actual\",\"messageType\":\"Error\",", false },
		{ "\"status\":\"Test\",\"messageType\":\"Alert\",", false },
		{ "\"status\":\"Exercise\",\"messageType\":\"Alert\",", false },
		{ "\"status\":\"Draft\",\"messageType\":\"Alert\",", false },
		{ "\"status\":\"System\",\"messageType\":\"Alert\",", false },
		{ "\"status\":\"Serious\",\"messageType\":\"Notice\",", true },
		{ "\"status\":null,\"messageType\":null,", true },
		{ "", true },
	};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		char document[512];
		struct series series;
		(void)snprintf(document, sizeof document,
		    ALERTS(FEATURE("%s\"event\":\"Tornado Watch\"," MORNING)),
		    rows[i].words);
		read_list(document, &series);
		assert_close(
		    at(&series, MEASURE_ALERT_WIND, MIDNIGHT + 6 * HOUR),
		    rows[i].counts, 0);
		series_release(&series);
	}
}

static void
a_test_need_not_be_whole(void **state)
{
	(void)state;
	struct series series;
	read_list(ALERTS(FEATURE("\"event\":\"Tornado Warning\","
				 "\"status\":\"Test\",\"onset\":\"soon\"")),
	    &series);
	check_only(&series, MEASURES, 0, 0);
	series_release(&series);
}

static void
geometry_and_further_members_are_passed_over(void **state)
{
	(void)state;
	struct series series;
	read_list("{\"@context\":[\"x\",{\"a\":1}],\"updated\":"
		  "\"2026-03-01T18:10:00-06:00\",\"features\":["
		  "{\"id\":\"a\",\"geometry\":{\"type\":\"Polygon\","
		  "\"coordinates\":[[[-97,33],[-96,33],[-96,34]]]},"
		  "\"properties\":{\"event\":\"Wind Advisory\"," REAL
		  "," MORNING ",\"severity\":7,\"parameters\":{}}}]}",
	    &series);
	check_only(&series, MEASURE_ALERT_WIND, MIDNIGHT + 6 * HOUR,
	    MIDNIGHT + 12 * HOUR);
	series_release(&series);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(
		    an_empty_list_is_no_alert_from_the_cell_it_was_made_in),
		cmocka_unit_test(an_event_holds_over_each_cell_that_it_touches),
		cmocka_unit_test(each_time_has_its_own_offset),
		cmocka_unit_test(a_leap_day_is_a_day),
		cmocka_unit_test(alerts_may_overlap_and_stand_in_any_order),
		cmocka_unit_test(each_published_event_is_of_its_kind),
		cmocka_unit_test(
		    names_are_read_in_any_case_and_unknown_ones_are_none),
		cmocka_unit_test(only_messages_that_announce_something_count),
		cmocka_unit_test(a_test_need_not_be_whole),
		cmocka_unit_test(geometry_and_further_members_are_passed_over),
	};
	return RUN_TESTS(tests);
}
