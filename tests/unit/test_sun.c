#include "unit/test.h"

#include "base/civil.h"
#include "physics/sun.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

/* A zone with one offset, in hours east. */
static struct zone
fixed_zone(double hours)
{
	struct zone zone = { .name = "fixed", .count = 1 };
	zone.span[0].offset = (int32_t)(hours * 3600);
	return zone;
}

/* US Central in 2026; changes at 08:00 and 07:00 UTC. */
static const struct zone central = { .name = "America/Chicago",
	.count = 3,
	.span = { { 0, -6 * 3600 }, { 1772956800, -5 * 3600 },
	    { 1793516400, -6 * 3600 } } };

static int64_t
midnight(const struct zone *zone, int year, int month, int day)
{
	struct civil civil = { .year = year, .month = month, .day = day };
	return utc_from_civil(zone, &civil);
}

/* Asserts the local wall-clock time of an event, and its civil date. */
static void
assert_event(const struct zone *zone, double event, int64_t day_start,
    const char *wanted, double tolerance)
{
	int clock = -1;
	assert_true(isfinite(event));
	assert_true(civil_parse_clock(wanted, &clock, NULL));
	assert_int_equal(
	    civil_day(zone, (int64_t)event), civil_day(zone, day_start));
	struct civil local = civil_from_utc(zone, (int64_t)round(event));
	double seconds = local.hour * 3600 + local.minute * 60 + local.second;
	assert_close(seconds, clock, tolerance);
}

/*
 * NREL/TP-560-34302 sample site and instant, read in public test files. The
 * widely copied sunset 17:20:19 belongs to 16 October local: an algorithm
 * that works by UT days hands out the evening before. On the 17th it is
 * 17:18:51 (computed; another public test has 17:18:50).
 */
static void
us_sunset_stays_on_its_own_civil_date(void **state)
{
	(void)state;
	double latitude = 39.742476, longitude = -105.1786;
	struct zone zone = fixed_zone(-7);
	int64_t start = midnight(&zone, 2003, 10, 17);
	assert_event(&zone,
	    sun_rise(latitude, longitude, (double)start, SUN_HEIGHT_HORIZON),
	    start, "06:12:43", 30);
	double set =
	    sun_set(latitude, longitude, (double)start, SUN_HEIGHT_HORIZON);
	assert_event(&zone, set, start, "17:18:51", 30);
	/* It is the 18th in UTC by then. */
	static const struct zone utc = { 0 };
	assert_int_equal(civil_from_utc(&utc, (int64_t)set).day, 18);
	assert_event(&zone,
	    sun_set(latitude, longitude, (double)(start - DAY_SECONDS),
		SUN_HEIGHT_HORIZON),
	    start - DAY_SECONDS, "17:20:18", 30);
}

/* The same report: geometric zenith 50.127954 degrees at 12:30:30 UTC-7. */
static void
height_agrees_with_the_published_sample(void **state)
{
	(void)state;
	assert_close(sun_height(39.742476, -105.1786, 1066419030.0),
	    90.0 - 50.127954, 0.003);
}

/*
 * At the pole the height is the declination. Meeus, Astronomical Algorithms,
 * example 25.a: -7.78507 degrees at 1992-10-13 0h dynamical time, which is a
 * minute ahead of UTC. Value from memory.
 */
static void
height_at_the_pole_is_the_declination(void **state)
{
	(void)state;
	assert_close(sun_height(90, 0, 718934400.0 - 60.0), -7.78507, 0.0002);
}

struct day {
	double latitude, longitude, zone;
	int year, month, day;
	const char *rise, *set;
	double tolerance;
};

static const struct day days[] = {
	/* Computed, zenith 90.833 degrees; not read in an almanac. */
	{ 33.75, -84.39, -4, 2025, 3, 20, "07:40:48", "19:49:26", 60 },
	{ 33.75, -84.39, -4, 2025, 6, 21, "06:27:29", "20:51:28", 60 },
	{ 33.75, -84.39, -5, 2025, 12, 21, "07:38:35", "17:33:10", 60 },
	/* Naval observatory, to the minute, quoted in a public issue. */
	{ 40.73, -73.92, 0, 2025, 8, 20, "10:11", "23:46", 60 },
};

static void
days_agree_with_published_times(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(days); i++) {
		const struct day *day = &days[i];
		struct zone zone = fixed_zone(day->zone);
		int64_t start =
		    midnight(&zone, day->year, day->month, day->day);
		assert_event(&zone,
		    sun_rise(day->latitude, day->longitude, (double)start,
			SUN_HEIGHT_HORIZON),
		    start, day->rise, day->tolerance);
		assert_event(&zone,
		    sun_set(day->latitude, day->longitude, (double)start,
			SUN_HEIGHT_HORIZON),
		    start, day->set, day->tolerance);
	}
}

/* One sunrise and one sunset, in this order, on the local day `day`. */
static double
check_day(int64_t day)
{
	double start = (double)civil_day_start(&central, day);
	double rise = sun_rise(33, -97, start, SUN_HEIGHT_HORIZON);
	double set = sun_set(33, -97, start, SUN_HEIGHT_HORIZON);
	assert_true(rise < set);
	assert_int_equal(civil_day(&central, (int64_t)rise), day);
	assert_int_equal(civil_day(&central, (int64_t)set), day);
	return rise;
}

static int
hour_of(double time)
{
	return civil_from_utc(&central, (int64_t)time).hour;
}

/*
 * A day of 23 or 25 hours still has both events on its own date; the instants
 * move by the usual minutes while the clock jumps.
 */
static void
clock_changes_move_the_clock_and_not_the_sun(void **state)
{
	(void)state;
	int64_t spring = civil_day(&central, midnight(&central, 2026, 3, 8));
	int64_t autumn = civil_day(&central, midnight(&central, 2026, 11, 1));
	double before = check_day(spring - 1);
	double change = check_day(spring);
	assert_int_equal(civil_day_start(&central, spring + 1) -
			     civil_day_start(&central, spring),
	    23 * 3600);
	assert_close(change - before, 86400, 120);
	assert_close(check_day(spring + 1) - change, 86400, 120);
	assert_int_equal(hour_of(before), 6);
	assert_int_equal(hour_of(change), 7);
	before = check_day(autumn - 1);
	change = check_day(autumn);
	assert_int_equal(civil_day_start(&central, autumn + 1) -
			     civil_day_start(&central, autumn),
	    25 * 3600);
	assert_close(change - before, 86400, 120);
	assert_close(check_day(autumn + 1) - change, 86400, 120);
	assert_int_equal(hour_of(before), 7);
	assert_int_equal(hour_of(change), 6);
}

static void
polar_day_and_night_have_no_events(void **state)
{
	(void)state;
	struct zone zone = fixed_zone(1);
	double summer = (double)midnight(&zone, 2026, 6, 21);
	double winter = (double)midnight(&zone, 2026, 12, 21);
	assert_nan(sun_rise(69.65, 18.96, summer, SUN_HEIGHT_HORIZON));
	assert_nan(sun_set(69.65, 18.96, summer, SUN_HEIGHT_HORIZON));
	assert_nan(sun_rise(69.65, 18.96, winter, SUN_HEIGHT_HORIZON));
	assert_nan(sun_set(69.65, 18.96, winter, SUN_HEIGHT_HORIZON));
	/* The polar night there still has a civil dawn. */
	assert_true(isfinite(sun_rise(69.65, 18.96, winter, SUN_HEIGHT_CIVIL)));
	/* At the pole the sun rises once a year, at the spring equinox. */
	int rises = 0;
	for (int day = 0; day < 365; day++)
		rises += isfinite(sun_rise(90, 0,
			     (double)midnight(&zone, 2026, 1, 1) + day * 86400,
			     SUN_HEIGHT_HORIZON))
			     ? 1
			     : 0;
	assert_int_equal(rises, 1);
}

static void
southern_summer_is_in_december(void **state)
{
	(void)state;
	struct zone zone = fixed_zone(10);
	double june = (double)midnight(&zone, 2026, 6, 21);
	double december = (double)midnight(&zone, 2026, 12, 21);
	double short_day = sun_set(-34, 151, june, SUN_HEIGHT_HORIZON) -
			   sun_rise(-34, 151, june, SUN_HEIGHT_HORIZON);
	double long_day = sun_set(-34, 151, december, SUN_HEIGHT_HORIZON) -
			  sun_rise(-34, 151, december, SUN_HEIGHT_HORIZON);
	/* FAO-56 daylight at 34 degrees is 9.7 and 14.3 h (computed) without
	   refraction and half disc, which add 7 to 12 minutes. */
	assert_close(short_day / 3600, 9.7 + 0.16, 0.1);
	assert_close(long_day / 3600, 14.3 + 0.16, 0.1);
	/* At noon it stands in the north, over 79 degrees high. */
	assert_true(sun_height(-34, 151, december + 12 * 3600) > 70);
}

static void
events_lie_where_the_height_says(void **state)
{
	(void)state;
	for (int i = 0; i < 365; i++) {
		double from = 1767225600.0 + i * 86400.0 + 6 * 3600.0;
		double height = i % 2 ? SUN_HEIGHT_CIVIL : SUN_HEIGHT_HORIZON;
		double rise = sun_rise(33, -97, from, height);
		double set = sun_set(33, -97, from, height);
		assert_true(rise >= from && rise < from + 86400);
		assert_true(set >= from && set < from + 86400);
		assert_true(sun_height(33, -97, rise - 0.5) < height);
		assert_true(sun_height(33, -97, rise + 0.5) > height);
		assert_true(sun_height(33, -97, set - 0.5) > height);
		assert_true(sun_height(33, -97, set + 0.5) < height);
	}
}

/*
 * Windows of a day side by side hold each event exactly once. In autumn: while
 * the sun rises earlier each day, a window can hold two of them.
 */
static void
no_event_is_lost_or_doubled_between_windows(void **state)
{
	(void)state;
	double rise = sun_rise(52, 0, 1790812800.0, SUN_HEIGHT_HORIZON);
	for (int i = -20; i <= 20; i++) {
		double edge = rise + i * 0.05;
		double before =
		    sun_rise(52, 0, edge - 86400, SUN_HEIGHT_HORIZON);
		double after = sun_rise(52, 0, edge, SUN_HEIGHT_HORIZON);
		int found = (fabs(before - rise) < 1 ? 1 : 0) +
			    (fabs(after - rise) < 1 ? 1 : 0);
		assert_int_equal(found, 1);
	}
}

static void
unknown_gives_unknown(void **state)
{
	(void)state;
	const double answers[] = {
		sun_height(NAN, 0, 0),
		sun_height(0, NAN, 0),
		sun_height(0, 0, NAN),
		sun_height(0, 0, HUGE_VAL),
		sun_rise(NAN, 0, 0, SUN_HEIGHT_HORIZON),
		sun_set(0, NAN, 0, SUN_HEIGHT_HORIZON),
		sun_set(0, 0, NAN, SUN_HEIGHT_HORIZON),
		sun_set(0, 0, HUGE_VAL, SUN_HEIGHT_HORIZON),
		sun_set(0, 0, 0, NAN),
	};
	for (size_t i = 0; i < COUNT(answers); i++) {
		if (!isnan(answers[i]))
			fail_msg("row %zu is %g, wanted NaN", i, answers[i]);
	}
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(us_sunset_stays_on_its_own_civil_date),
		cmocka_unit_test(height_agrees_with_the_published_sample),
		cmocka_unit_test(height_at_the_pole_is_the_declination),
		cmocka_unit_test(days_agree_with_published_times),
		cmocka_unit_test(clock_changes_move_the_clock_and_not_the_sun),
		cmocka_unit_test(polar_day_and_night_have_no_events),
		cmocka_unit_test(southern_summer_is_in_december),
		cmocka_unit_test(events_lie_where_the_height_says),
		cmocka_unit_test(no_event_is_lost_or_doubled_between_windows),
		cmocka_unit_test(unknown_gives_unknown),
	};
	return RUN_TESTS(tests);
}
