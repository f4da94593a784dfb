/* Times as people and programs write them. */
#include "unit/test.h"

#include "unit/civil_zones.h"

static const struct moment forms[] = {
	{ &chicago, "2026-03-02", 1772431200 },
	{ &chicago, "2026-03-02 07:15", 1772457300 },
	{ &chicago, "2026-03-02T07:15", 1772457300 },
	{ &chicago, "2026-03-02T07:15:30", 1772457330 },
	{ &chicago, "2026-03-02 07:15:30", 1772457330 },
	{ &chicago, "2026-03-02T13:15Z", 1772457300 },
	{ &chicago, "2026-03-02 13:15:30Z", 1772457330 },
	{ &chicago, "2026-03-02T07:15:30-06:00", 1772457330 },
	{ &chicago, "2026-03-02 18:45+05:30", 1772457300 },
	{ &kolkata, "2026-03-02 07:15-06:00", 1772457300 },
	{ &kolkata, "2026-03-02Z", 1772409600 },
	{ &utc, "2026-03-02", 1772409600 },
	{ &utc, "0001-01-01", -62135596800 },
	{ &utc, "9999-12-31 23:59:59", 253402300799 },
};

static void
every_form_of_a_time_is_read(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(forms); i++) {
		int64_t at = 0;
		struct error error = { 0 };
		if (!civil_parse(forms[i].local, forms[i].zone, &at, &error) ||
		    at != forms[i].utc)
			fail_msg("%s: %lld, %s", forms[i].local, (long long)at,
			    error.text);
	}
}

static const char *const refusals[] = { "", " ", "tomorrow", "2026", "2026-03",
	"2026-3-2", "20260302", "2026/03/02", " 2026-03-02", "2026-03-02 ",
	"2026-03-02T", "2026-03-02 7:15", "2026-03-02 07", "2026-03-02 07:1",
	"2026-03-02 07:15:", "2026-03-02  07:15", "2026-03-02 07:15 ",
	"2026-03-02 07:15z", "2026-03-02 07:15Z0", "2026-03-02 07:15 Z",
	"2026-03-02 07:15+0530", "2026-03-02 07:15+05",
	"2026-03-02 07:15+24:00", "2026-03-02 07:15+05:60",
	"2026-03-02 07:15~05:30", "2026-03-02 24:00", "2026-03-02 07:60",
	"2026-03-02 07:15:60", "2026-02-29", "2026-13-01", "2026-00-10",
	"2026-01-00", "0000-01-01", "-026-03-02", "+2026-03-02", "12026-03-02",
	"2026-03-02,07:15", "2026-03-02 07:15:30.5", "2026-03-0x", "2026-W10-1",
	"\357\274\222026-03-02" };

static void
what_is_not_a_time_is_refused_and_left_alone(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(refusals); i++) {
		int64_t at = 4711;
		struct error error = { 0 };
		if (civil_parse(refusals[i], &chicago, &at, &error))
			fail_msg("'%s' is read", refusals[i]);
		assert_int_equal(at, 4711);
		assert_int_equal(error.kind, ERROR_INPUT);
		assert_contains(error.text, refusals[i]);
		assert_false(civil_parse(refusals[i], &chicago, &at, NULL));
	}
}

static void
a_time_of_day_is_read_strictly(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		int seconds; /* -1: refused */
	} rows[] = { { "00:00", 0 }, { "07:15", 26100 }, { "23:59", 86340 },
		{ "24:00", 86400 }, { "24:01", -1 }, { "25:00", -1 },
		{ "7:15", -1 }, { "07:60", -1 }, { "0715", -1 }, { "", -1 },
		{ "07:15 ", -1 }, { " 07:15", -1 }, { "07:15am", -1 },
		{ "-7:15", -1 }, { "07:15Z", -1 }, { "07", -1 } };
	for (size_t i = 0; i < COUNT(rows); i++) {
		int seconds = -1;
		struct error error = { 0 };
		bool good = civil_parse_clock(rows[i].text, &seconds, &error);
		if (seconds != rows[i].seconds || good != (seconds >= 0))
			fail_msg("'%s' is %d", rows[i].text, seconds);
		assert_int_equal(error.kind, good ? ERROR_NONE : ERROR_INPUT);
	}
}

static void
each_style_prints_its_form(void **state)
{
	(void)state;
	static const struct {
		const struct zone *zone;
		int64_t at;
		const char *text[CIVIL_STAMP + 1];
	} rows[] = {
		{ &chicago, 1772543700,
		    { "Tue 3 Mar", "07:15", "Tue 3 Mar 07:15", "2026-03-03",
			"Tue", "2026-03-03T07:15:00-06:00" } },
		{ &kolkata, 0,
		    { "Thu 1 Jan", "05:30", "Thu 1 Jan 05:30", "1970-01-01",
			"Thu", "1970-01-01T05:30:00+05:30" } },
		{ &utc, 253402300799,
		    { "Fri 31 Dec", "23:59", "Fri 31 Dec 23:59", "9999-12-31",
			"Fri", "9999-12-31T23:59:59+00:00" } },
		{ &lord_howe, 1775314800,
		    { "Sun 5 Apr", "01:30", "Sun 5 Apr 01:30", "2026-04-05",
			"Sun", "2026-04-05T01:30:00+10:30" } },
	};
	char buffer[CIVIL_BUFFER];
	for (size_t i = 0; i < COUNT(rows); i++)
		for (int style = CIVIL_DAY; style <= CIVIL_STAMP; style++) {
			assert_ptr_equal(
			    civil_print(buffer, sizeof buffer, rows[i].zone,
				rows[i].at, (enum civil_style)style),
			    buffer);
			assert_string_equal(buffer, rows[i].text[style]);
		}
}

/* The stamp says its offset, so both hours of an autumn night come back. */
static void
a_stamp_is_read_back_as_the_same_second(void **state)
{
	(void)state;
	char buffer[CIVIL_BUFFER];
	for (size_t z = 0; z < COUNT(zones); z++)
		for (int64_t at = 1767225600; at < 1798761600; at += 1799) {
			int64_t back = 0;
			civil_print(
			    buffer, sizeof buffer, zones[z], at, CIVIL_STAMP);
			assert_true(civil_parse(buffer, &phoenix, &back, NULL));
			assert_int_equal(back, at);
		}
}

static void
a_short_buffer_is_cut_and_closed(void **state)
{
	(void)state;
	char buffer[8] = "xxxxxxx";
	civil_print(buffer, 6, &chicago, 1772543700, CIVIL_STAMP);
	assert_string_equal(buffer, "2026-");
	assert_int_equal(buffer[6], 'x');
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(every_form_of_a_time_is_read),
		cmocka_unit_test(what_is_not_a_time_is_refused_and_left_alone),
		cmocka_unit_test(a_time_of_day_is_read_strictly),
		cmocka_unit_test(each_style_prints_its_form),
		cmocka_unit_test(a_stamp_is_read_back_as_the_same_second),
		cmocka_unit_test(a_short_buffer_is_cut_and_closed),
	};
	return RUN_TESTS(tests);
}
