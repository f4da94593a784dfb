/* Zones as the configuration loads them, against the C library's. */
#include "unit/test.h"

#include "config/zone.h"

#include <libical/ical.h>
#include <time.h>

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

#define FROM INT64_C(1704067200) /* 2024-01-01 */
#define TO   INT64_C(1861920000) /* 2029-01-01 */

enum { QUARTER_DAY = 6 * 3600 };

static const char *const names[] = { "America/Chicago", "Europe/London",
	"Australia/Sydney", "America/Phoenix", "Asia/Kolkata",
	"Australia/Lord_Howe", "Africa/Casablanca" };

static void
load(const char *name, struct zone *ret)
{
	struct error error = { 0 };
	if (!zone_load(name, ret, &error))
		fail_msg("%s", error.text);
	assert_string_equal(ret->name, name);
}

static struct tm
local_by_libc(int64_t at)
{
	time_t time = (time_t)at;
	struct tm tm;
	assert_non_null(localtime_r(&time, &tm));
	return tm;
}

static void
check_offsets(const struct zone *zone)
{
	for (int64_t at = FROM; at < TO; at += QUARTER_DAY) {
		struct tm tm = local_by_libc(at);
		if (zone_offset(zone, at) != tm.tm_gmtoff)
			fail_msg("%s at %lld: %d, wanted %ld", zone->name,
			    (long long)at, zone_offset(zone, at), tm.tm_gmtoff);
	}
}

static void
offsets_are_those_of_the_c_library(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(names); i++) {
		struct zone zone;
		load(names[i], &zone);
		assert_int_equal(setenv("TZ", names[i], 1), 0);
		tzset();
		check_offsets(&zone);
	}
	assert_int_equal(unsetenv("TZ"), 0);
}

static void
the_clock_on_the_wall_is_that_of_the_c_library(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(names); i++) {
		struct zone zone;
		load(names[i], &zone);
		assert_int_equal(setenv("TZ", names[i], 1), 0);
		tzset();
		for (int64_t at = FROM; at < TO; at += 86399) {
			struct tm tm = local_by_libc(at);
			struct civil civil = civil_from_utc(&zone, at);
			assert_int_equal(civil.year, tm.tm_year + 1900);
			assert_int_equal(civil.month, tm.tm_mon + 1);
			assert_int_equal(civil.day, tm.tm_mday);
			assert_int_equal(civil.hour, tm.tm_hour);
			assert_int_equal(civil.minute, tm.tm_min);
			assert_int_equal(civil.second, tm.tm_sec);
			assert_int_equal(civil.weekday, tm.tm_wday);
		}
	}
	assert_int_equal(unsetenv("TZ"), 0);
}

static void
a_change_is_found_to_the_second(void **state)
{
	(void)state;
	struct zone zone;
	load("America/Chicago", &zone);
	/* 2026-03-08 08:00 and 2026-11-01 07:00 UTC: the second Sunday of
	   March and the first of November at 02:00 local time */
	assert_int_equal(zone_offset(&zone, 1772956799), -6 * 3600);
	assert_int_equal(zone_offset(&zone, 1772956800), -5 * 3600);
	assert_int_equal(zone_offset(&zone, 1793516399), -5 * 3600);
	assert_int_equal(zone_offset(&zone, 1793516400), -6 * 3600);
	load("Australia/Lord_Howe", &zone);
	assert_int_equal(zone_offset(&zone, 1791041399), 37800);
	assert_int_equal(zone_offset(&zone, 1791041400), 39600);
}

static void
spans_ascend_and_differ(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(names); i++) {
		struct zone zone;
		load(names[i], &zone);
		assert_in_range(zone.count, 1, ZONE_SPANS_MAX);
		for (size_t s = 1; s < zone.count; s++) {
			assert_true(zone.span[s - 1].from < zone.span[s].from);
			assert_int_not_equal(
			    zone.span[s - 1].offset, zone.span[s].offset);
		}
	}
}

static void
utc_is_a_zone(void **state)
{
	(void)state;
	struct zone zone;
	load("UTC", &zone);
	assert_int_equal(zone.count, 0);
	assert_int_equal(zone_offset(&zone, FROM), 0);
}

static void
unknown_names_are_refused_and_leave_the_zone_alone(void **state)
{
	(void)state;
	static const char *const unknown[] = { "", "/", "Mars/Olympus",
		"America/chicago", "America/", "America/Chicago ", "CST",
		"CST6CDT,M3.2.0,M11.1.0", "GMT+5", "utc", "local",
		"/etc/localtime", "../zoneinfo/America/Chicago",
		"America/../America/Chicago", "right/America/Chicago",
		"America/Chicago\n",
		("America/"
		 "a_name_that_is_longer_than_the_room_for_it_by_quite_a_"
		 "lot") };
	for (size_t i = 0; i < COUNT(unknown); i++) {
		struct zone zone = { .name = "kept", .count = 1 };
		struct error error = { 0 };
		if (zone_load(unknown[i], &zone, &error))
			fail_msg("'%s' is a zone", unknown[i]);
		assert_string_equal(zone.name, "kept");
		assert_int_equal(zone.count, 1);
		assert_int_equal(error.kind, ERROR_INPUT);
		assert_contains(error.text, unknown[i]);
		assert_false(zone_load(unknown[i], &zone, NULL));
	}
}

/* libical keeps its zones until it is told. */
static int
finish(void **state)
{
	(void)state;
	icaltimezone_free_builtin_timezones();
	icalmemory_free_ring();
	return 0;
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(offsets_are_those_of_the_c_library),
		cmocka_unit_test(
		    the_clock_on_the_wall_is_that_of_the_c_library),
		cmocka_unit_test(a_change_is_found_to_the_second),
		cmocka_unit_test(spans_ascend_and_differ),
		cmocka_unit_test(utc_is_a_zone),
		cmocka_unit_test(
		    unknown_names_are_refused_and_leave_the_zone_alone),
	};
	return cmocka_run_group_tests_name(__FILE__, tests, NULL, finish);
}
