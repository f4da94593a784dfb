#include "unit/test.h"

#include "unit/civil_zones.h"

static int
month_days(int year, int month)
{
	static const int days[] = { 31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30,
		31 };
	bool leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
	return days[month - 1] + (leap && month == 2 ? 1 : 0);
}

/* A calendar that counts day by day, against the arithmetic, 1800 to 2200. */
static void
every_day_of_400_years_goes_there_and_back(void **state)
{
	(void)state;
	int64_t day = -62091; /* 1800-01-01, a Wednesday */
	int weekday = 3, count = 0;
	for (int year = 1800; year < 2200; year++)
		for (int month = 1; month <= 12; month++)
			for (int d = 1; d <= month_days(year, month); d++) {
				int64_t at = day * DAY_SECONDS + 45296;
				struct civil civil = civil_from_utc(&utc, at);
				if (civil.year != year ||
				    civil.month != month || civil.day != d ||
				    civil.weekday != weekday ||
				    utc_from_civil(&utc, &civil) != at)
					fail_msg(
					    "%04d-%02d-%02d", year, month, d);
				day++, count++;
				weekday = (weekday + 1) % 7;
			}
	assert_int_equal(count, 146097);
}

static void
the_time_of_day_is_split_and_joined(void **state)
{
	(void)state;
	struct civil civil = civil_from_utc(&utc, -1);
	assert_int_equal(civil.year, 1969);
	assert_int_equal(civil.month, 12);
	assert_int_equal(civil.day, 31);
	assert_int_equal(civil.hour, 23);
	assert_int_equal(civil.minute, 59);
	assert_int_equal(civil.second, 59);
	for (int64_t at = -DAY_SECONDS; at < DAY_SECONDS; at++) {
		civil = civil_from_utc(&utc, at);
		if (!civil_is_valid(&civil) ||
		    utc_from_civil(&utc, &civil) != at)
			fail_msg("second %lld", (long long)at);
	}
}

/*
 * The first two are the examples of RFC 5545, section 3.3.5 (from memory); the
 * others are computed with Python's zoneinfo, whose fold=0 means the same.
 */
static const struct moment moments[] = {
	{ &new_york, "2007-11-04 01:30", 1194154200 }, /* EDT */
	{ &new_york, "2007-03-11 02:30", 1173598200 }, /* 03:30 EDT */
	{ &chicago, "2026-03-08 01:59:59", 1772956799 },
	{ &chicago, "2026-03-08 02:00", 1772956800 }, /* gap */
	{ &chicago, "2026-03-08 02:30", 1772958600 },
	{ &chicago, "2026-03-08 03:00", 1772956800 },
	{ &chicago, "2026-11-01 00:59:59", 1793512799 },
	{ &chicago, "2026-11-01 01:30", 1793514600 }, /* twice */
	{ &chicago, "2026-11-01 02:00", 1793520000 },
	{ &london, "2026-03-29 01:30", 1774747800 },
	{ &london, "2026-10-25 01:30", 1792888200 },
	{ &london, "2026-10-25 02:00", 1792893600 },
	{ &sydney, "2026-04-05 02:30", 1775316600 },
	{ &sydney, "2026-10-04 02:30", 1791045000 },
	{ &lord_howe, "2026-04-05 01:45", 1775313900 },
	{ &lord_howe, "2026-04-05 02:00", 1775316600 },
	{ &lord_howe, "2026-10-04 02:15", 1791042300 },
	{ &lord_howe, "2026-10-04 02:30", 1791041400 },
	{ &phoenix, "2026-03-08 02:30", 1772962200 },
	{ &kolkata, "2026-03-08 02:30", 1772917200 },
};

static void
gaps_and_overlaps_are_read_as_the_standard_says(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(moments); i++) {
		const struct moment *m = &moments[i];
		int64_t at = 0;
		assert_true(civil_parse(m->local, m->zone, &at, NULL));
		if (at != m->utc)
			fail_msg("%s %s is %lld, wanted %lld", m->zone->name,
			    m->local, (long long)at, (long long)m->utc);
	}
}

/* Every quarter of an hour of 2026; of two equal clocks the first is meant. */
static void
local_time_comes_back_except_in_the_second_hour(void **state)
{
	(void)state;
	for (size_t z = 0; z < COUNT(zones); z++) {
		int second_times = 0;
		for (int64_t at = 1767225600; at < 1798761600; at += 900) {
			struct civil civil = civil_from_utc(zones[z], at);
			int64_t back = utc_from_civil(zones[z], &civil);
			if (back == at)
				continue;
			struct civil again = civil_from_utc(zones[z], back);
			assert_true(back < at);
			assert_memory_equal(&civil, &again, sizeof civil);
			second_times++;
		}
		int wanted = zones[z] == &lord_howe                         ? 2
			     : zones[z]->count > 1 && zones[z] != &new_york ? 4
									    : 0;
		assert_int_equal(second_times, wanted);
	}
}

static void
a_day_starts_with_its_first_second(void **state)
{
	(void)state;
	for (size_t z = 0; z < COUNT(zones); z++)
		for (int64_t day = 20454; day < 20454 + 365; day++) {
			int64_t start = civil_day_start(zones[z], day);
			assert_int_equal(civil_day(zones[z], start), day);
			assert_int_equal(
			    civil_day(zones[z], start - 1), day - 1);
		}
}

/* Some zones change at midnight: from 24:00 on to 01:00, or back to 23:00. */
static void
a_change_at_midnight_keeps_the_days_apart(void **state)
{
	(void)state;
	static const struct zone forward = { .name = "forward",
		.count = 2,
		.span = { { 0, -4 * HOUR },
		    { 100 * DAY_SECONDS + 4 * HOUR, -3 * HOUR } } };
	static const struct zone back = { .name = "back",
		.count = 2,
		.span = { { 0, -3 * HOUR },
		    { 100 * DAY_SECONDS + 3 * HOUR, -4 * HOUR } } };
	int64_t start = civil_day_start(&forward, 100);
	assert_int_equal(start, 100 * DAY_SECONDS + 4 * HOUR);
	assert_int_equal(civil_from_utc(&forward, start).hour, 1);
	assert_int_equal(civil_day(&forward, start - 1), 99);
	assert_int_equal(civil_day_start(&forward, 101) - start, 23 * HOUR);
	start = civil_day_start(&back, 100);
	assert_int_equal(start, 100 * DAY_SECONDS + 4 * HOUR);
	assert_int_equal(civil_day(&back, start), 100);
	assert_int_equal(civil_day(&back, start - 1), 99);
	assert_int_equal(start - civil_day_start(&back, 99), 25 * HOUR);
}

static void
the_first_span_holds_for_all_time_before_it(void **state)
{
	(void)state;
	static const struct zone late = { .name = "late",
		.count = 2,
		.span = { { 1000000000, 7200 }, { 1500000000, 3600 } } };
	assert_int_equal(zone_offset(&late, -5000000000), 7200);
	assert_int_equal(zone_offset(&late, 1499999999), 7200);
	assert_int_equal(zone_offset(&late, 1500000000), 3600);
	assert_int_equal(zone_offset(&late, INT64_MAX), 3600);
	assert_int_equal(zone_offset(&utc, 1500000000), 0);
}

struct validity {
	struct civil civil;
	bool valid;
};

static const struct validity validities[] = {
	{ { 2026, 2, 28, 23, 59, 59, 0 }, true },
	{ { 2026, 2, 29, 0, 0, 0, 0 }, false },
	{ { 2028, 2, 29, 0, 0, 0, 0 }, true },
	{ { 2100, 2, 29, 0, 0, 0, 0 }, false },
	{ { 2000, 2, 29, 0, 0, 0, 0 }, true },
	{ { 2026, 2, 30, 0, 0, 0, 0 }, false },
	{ { 2026, 4, 31, 0, 0, 0, 0 }, false },
	{ { 2026, 12, 31, 0, 0, 0, 0 }, true },
	{ { 2026, 13, 1, 0, 0, 0, 0 }, false },
	{ { 2026, 0, 1, 0, 0, 0, 0 }, false },
	{ { 2026, 1, 0, 0, 0, 0, 0 }, false },
	{ { 2026, 1, 32, 0, 0, 0, 0 }, false },
	{ { 0, 1, 1, 0, 0, 0, 0 }, false }, { { 1, 1, 1, 0, 0, 0, 0 }, true },
	{ { 9999, 12, 31, 0, 0, 0, 0 }, true },
	{ { 10000, 1, 1, 0, 0, 0, 0 }, false },
	{ { 2026, 1, 1, 24, 0, 0, 0 }, false },
	{ { 2026, 1, 1, 25, 0, 0, 0 }, false },
	{ { 2026, 1, 1, -1, 0, 0, 0 }, false },
	{ { 2026, 1, 1, 0, 60, 0, 0 }, false },
	{ { 2026, 1, 1, 0, 0, 60, 0 }, false },
	{ { 2026, 1, 1, 0, 0, 0, 99 }, true }, /* the weekday is ignored */
};

static void
dates_that_do_not_exist_are_not_valid(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(validities); i++)
		if (civil_is_valid(&validities[i].civil) != validities[i].valid)
			fail_msg("row %zu", i);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(every_day_of_400_years_goes_there_and_back),
		cmocka_unit_test(the_time_of_day_is_split_and_joined),
		cmocka_unit_test(
		    gaps_and_overlaps_are_read_as_the_standard_says),
		cmocka_unit_test(
		    local_time_comes_back_except_in_the_second_hour),
		cmocka_unit_test(a_day_starts_with_its_first_second),
		cmocka_unit_test(a_change_at_midnight_keeps_the_days_apart),
		cmocka_unit_test(the_first_span_holds_for_all_time_before_it),
		cmocka_unit_test(dates_that_do_not_exist_are_not_valid),
	};
	return RUN_TESTS(tests);
}
