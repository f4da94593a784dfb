/* The days of a site, out of the store and out of the series. */
#include "unit/test.h"

#include "unit/civil_zones.h"
#include "unit/store_fixture.h"

#include "service/history.h"

static const double unknown = (double)NAN;

/* The number of a day. */
static int64_t
day_of(const char *date)
{
	int64_t time = 0;
	assert_true(civil_parse(date, &utc, &time, NULL));
	return time / DAY_SECONDS;
}

static struct site
site_in(const struct zone *zone)
{
	return (struct site){ .name = "front", .zone = *zone };
}

/* The local days [first, end), with nothing in them yet. */
static struct series
blank(const struct site *site, int64_t first, int64_t end)
{
	struct series series;
	series_init(&series, civil_day_start(&site->zone, first),
	    civil_day_start(&site->zone, end));
	return series;
}

static void
hold_day(struct series *series, const struct site *site, enum measure measure,
    int64_t day, double value)
{
	series_hold(series, measure, civil_day_start(&site->zone, day),
	    civil_day_start(&site->zone, day + 1), value);
}

static void
rain_day(struct series *series, const struct site *site, int64_t day, double mm)
{
	series_share(series, MEASURE_RAIN, civil_day_start(&site->zone, day),
	    civil_day_start(&site->zone, day + 1), mm);
}

static void
put(struct store *store, const char *site, struct daily day)
{
	struct error error = { 0 };
	if (!store_day_put(store, site, &day, &error))
		fail_msg("%s", error.text);
}

struct days {
	struct daily *day; /* owned */
	size_t count;
};

static struct days
load(
    struct keeper *keeper, const struct site *site, const struct series *series)
{
	struct days days = { 0 };
	struct error error = { 0 };
	if (!history_load(keeper, site, series, &days.day, &days.count, &error))
		fail_msg("%s", error.text);
	return days;
}

static struct days
stored(struct store *store, const char *site)
{
	struct days days = { 0 };
	struct error error = { 0 };
	if (!store_days(store, site, INT32_MIN, &days.day, &days.count, &error))
		fail_msg("%s", error.text);
	return days;
}

static void
keep(struct keeper *keeper, const struct site *site, struct days days,
    int64_t now)
{
	struct error error = { 0 };
	if (!history_keep(keeper, site, days.day, days.count, now, &error))
		fail_msg("%s", error.text);
}

static void
check_number(double value, double wanted)
{
	if (isnan(wanted))
		assert_nan(value);
	else
		assert_close(value, wanted, 1e-5);
}

/* High, low and mean are the same in most of these days. */
static void
check_day(struct days days, size_t i, struct daily wanted)
{
	assert_true(i < days.count);
	assert_int_equal(days.day[i].day, wanted.day);
	check_number(days.day[i].high, wanted.high);
	check_number(days.day[i].low, wanted.low);
	check_number(days.day[i].mean, wanted.mean);
	check_number(days.day[i].soil, wanted.soil);
	check_number(days.day[i].rain, wanted.rain);
}

static void
joins_what_is_stored_and_what_comes_number_by_number(void **state)
{
	struct keeper keeper = { .store = store_of(state) };
	struct site site = site_in(&chicago);
	const int64_t day = day_of("2026-06-10");
	const struct daily lone = { day - 5, 9, 8, 8.5, unknown, 4 };
	put(keeper.store, "front", lone);
	put(keeper.store, "front",
	    (struct daily){ day, 20, 10, 15, unknown, 7 });
	put(keeper.store, "front", (struct daily){ day + 1, 1, 1, 1, 7, 2 });
	put(keeper.store, "front",
	    (struct daily){ day + 3, unknown, unknown, unknown, 6, unknown });
	put(keeper.store, "back",
	    (struct daily){ day + 4, 1, 1, 1, 1, unknown });
	put(keeper.store, "back",
	    (struct daily){ day - 1, 1, 1, 1, 1, unknown });
	struct series series = blank(&site, day, day + 5);
	hold_day(&series, &site, MEASURE_SOIL, day, 11);
	hold_day(&series, &site, MEASURE_AIR_TEMPERATURE, day + 1, 22);
	hold_day(&series, &site, MEASURE_AIR_TEMPERATURE, day + 2, 23);
	rain_day(&series, &site, day + 1, 5);
	rain_day(&series, &site, day + 2, 0);
	struct days days = load(&keeper, &site, &series);
	/* The fifth day is known to nobody. */
	assert_int_equal(days.count, 5);
	check_day(days, 0, lone);
	check_day(days, 1, (struct daily){ day, 20, 10, 15, 11, 7 });
	check_day(days, 2, (struct daily){ day + 1, 22, 22, 22, 7, 5 });
	check_day(days, 3, (struct daily){ day + 2, 23, 23, 23, unknown, 0 });
	check_day(days, 4,
	    (struct daily){ day + 3, unknown, unknown, unknown, 6, unknown });
	free(days.day);
	series_release(&series);
}

static void
a_day_that_the_series_knows_in_part_is_that_of_the_store(void **state)
{
	struct keeper keeper = { .store = store_of(state) };
	struct site site = site_in(&chicago);
	const int64_t day = day_of("2026-06-10");
	const struct daily whole = { day, 20, 10, 15, 12, unknown };
	struct series series;
	put(keeper.store, "front", whole);
	series_init(&series, civil_day_start(&chicago, day) + DAY_SECONDS / 2,
	    civil_day_start(&chicago, day + 1) + DAY_SECONDS / 2);
	series_hold(&series, MEASURE_AIR_TEMPERATURE, series.start,
	    series_end(&series), 30);
	struct days days = load(&keeper, &site, &series);
	assert_int_equal(days.count, 1);
	check_day(days, 0, whole);
	free(days.day);
	series_release(&series);
}

static void
loads_no_more_days_than_are_kept(void **state)
{
	struct keeper keeper = { .store = store_of(state) };
	struct site site = site_in(&utc);
	const int64_t day = day_of("2026-06-10");
	struct series series = blank(&site, day, day + 1);
	for (int64_t back = HISTORY_DAYS - 1; back <= HISTORY_DAYS + 1; back++)
		put(keeper.store, "front",
		    (struct daily){ day - back, 1, 1, 1, 1, unknown });
	struct days days = load(&keeper, &site, &series);
	assert_int_equal(days.count, 2);
	assert_int_equal(days.day[0].day, day - HISTORY_DAYS);
	free(days.day);
	series_release(&series);
}

/* Days around today, each with its number as the temperature. */
static struct days
list_days(int64_t first, size_t count, double soil)
{
	struct days days = { .day = calloc(count, sizeof(struct daily)),
		.count = count };
	assert_non_null(days.day);
	for (size_t i = 0; i < count; i++) {
		double warm = (double)i;
		days.day[i] = (struct daily){ first + (int64_t)i, warm + 1,
			warm - 1, warm, soil, unknown };
	}
	return days;
}

static void
stores_the_last_days_that_are_over(void **state)
{
	static const struct zone *const places[] = { &utc, &chicago, &kolkata,
		&sydney };
	struct keeper keeper = { .store = store_of(state) };
	const int64_t today = day_of("2026-06-10");
	for (size_t i = 0; i < COUNT(places); i++) {
		struct site site = site_in(places[i]);
		site.name = places[i]->name;
		struct days days = list_days(today - 5, 9, unknown);
		/* the first and the last second of the local day */
		keep(&keeper, &site, days, civil_day_start(places[i], today));
		struct days kept = stored(keeper.store, site.name);
		assert_int_equal(kept.count, 3);
		check_day(kept, 0, days.day[2]);
		check_day(kept, 2, days.day[4]);
		free(kept.day);
		keep(&keeper, &site, days,
		    civil_day_start(places[i], today + 1) - 1);
		kept = stored(keeper.store, site.name);
		assert_int_equal(kept.count, 3);
		assert_int_equal(kept.day[2].day, today - 1);
		free(kept.day);
		keep(&keeper, &site, days,
		    civil_day_start(places[i], today + 1));
		kept = stored(keeper.store, site.name);
		assert_int_equal(kept.count, 4);
		check_day(kept, 3, days.day[5]);
		free(kept.day);
		free(days.day);
	}
}

static void
what_is_stored_once_stays(void **state)
{
	struct keeper keeper = { .store = store_of(state) };
	struct site site = site_in(&utc);
	const int64_t today = day_of("2026-06-10");
	const int64_t now = today * DAY_SECONDS + DAY_SECONDS / 2;
	struct days first = list_days(today - 3, 3, 12);
	struct days other = list_days(today - 3, 3, 13);
	other.day[1].mean = 99;
	keep(&keeper, &site, first, now);
	keep(&keeper, &site, other, now);
	/* A day that has become unknown takes nothing back. */
	for (size_t i = 0; i < other.count; i++)
		other.day[i].mean = other.day[i].soil = unknown;
	keep(&keeper, &site, other, now);
	struct days kept = stored(keeper.store, "front");
	assert_int_equal(kept.count, 3);
	for (size_t i = 0; i < kept.count; i++)
		check_day(kept, i, first.day[i]);
	free(kept.day);
	free(first.day);
	free(other.day);
}

/* The whole way of a pass: load, then keep what was loaded. */
static void
what_becomes_known_later_is_added(void **state)
{
	struct keeper keeper = { .store = store_of(state) };
	struct site site = site_in(&chicago);
	const int64_t day = day_of("2026-06-10");
	const int64_t now = civil_day_start(&chicago, day + 2) + HOUR;
	struct series series = blank(&site, day, day + 3);
	hold_day(&series, &site, MEASURE_AIR_TEMPERATURE, day, 20);
	hold_day(&series, &site, MEASURE_SOIL, day + 1, 14);
	struct days days = load(&keeper, &site, &series);
	keep(&keeper, &site, days, now);
	free(days.day);
	series_release(&series);

	series = blank(&site, day, day + 3);
	hold_day(&series, &site, MEASURE_SOIL, day, 15);
	hold_day(&series, &site, MEASURE_AIR_TEMPERATURE, day + 1, 21);
	hold_day(&series, &site, MEASURE_AIR_TEMPERATURE, day + 2, 22);
	rain_day(&series, &site, day, 6);
	days = load(&keeper, &site, &series);
	assert_int_equal(days.count, 3);
	keep(&keeper, &site, days, now);
	free(days.day);
	series_release(&series);

	days = stored(keeper.store, "front");
	assert_int_equal(days.count, 2);
	check_day(days, 0, (struct daily){ day, 20, 20, 20, 15, 6 });
	check_day(days, 1, (struct daily){ day + 1, 21, 21, 21, 14, unknown });
	free(days.day);
}

/* A day of 23 hours and one of 25, each with one warm hour at its end. */
static void
a_day_is_as_long_as_its_clocks_say(void **state)
{
	static const struct {
		const char *date;
		int hours;
	} rows[] = { { "2026-03-07", 24 }, { "2026-03-08", 23 },
		{ "2026-11-01", 25 }, { "2026-11-02", 24 } };
	struct keeper keeper = { .store = store_of(state) };
	for (size_t i = 0; i < COUNT(rows); i++) {
		struct site site = site_in(&chicago);
		const int64_t day = day_of(rows[i].date);
		struct series series = blank(&site, day, day + 1);
		int64_t start = series.start, end = series_end(&series);
		site.name = rows[i].date;
		assert_int_equal(end - start, rows[i].hours * HOUR);
		series_hold(&series, MEASURE_AIR_TEMPERATURE, start, end, 10);
		series_hold(
		    &series, MEASURE_AIR_TEMPERATURE, end - HOUR, end, 34);
		struct days days = load(&keeper, &site, &series);
		keep(&keeper, &site, days, end - 1);
		struct days kept = stored(keeper.store, site.name);
		assert_int_equal(kept.count, 0);
		free(kept.day);
		keep(&keeper, &site, days, end);
		kept = stored(keeper.store, site.name);
		assert_int_equal(kept.count, 1);
		check_day(kept, 0,
		    (struct daily){ day, 34, 10, 10 + 24.0 / rows[i].hours,
			unknown, unknown });
		free(kept.day);
		free(days.day);
		series_release(&series);
	}
}

static void
prunes_what_is_too_old_of_every_site(void **state)
{
	struct keeper keeper = { .store = store_of(state) };
	const int64_t today = day_of("2026-06-10");
	struct error error = { 0 };
	for (int64_t back = HISTORY_DAYS - 1; back <= HISTORY_DAYS + 2;
	     back++) {
		put(keeper.store, "front",
		    (struct daily){ today - back, 1, 1, 1, 1, unknown });
		put(keeper.store, "back",
		    (struct daily){ today - back, 1, 1, 1, 1, unknown });
	}
	assert_true(history_prune(
	    &keeper, today * DAY_SECONDS + DAY_SECONDS - 1, &error));
	static const char *const sites[] = { "front", "back" };
	for (size_t i = 0; i < COUNT(sites); i++) {
		struct days kept = stored(keeper.store, sites[i]);
		assert_int_equal(kept.count, 2);
		assert_int_equal(kept.day[0].day, today - HISTORY_DAYS);
		free(kept.day);
	}
}

#define STORE_TEST(test)                                                       \
	cmocka_unit_test_setup_teardown(test, make_store, remove_all)

int
main(void)
{
	const struct CMUnitTest tests[] = {
		STORE_TEST(
		    joins_what_is_stored_and_what_comes_number_by_number),
		STORE_TEST(
		    a_day_that_the_series_knows_in_part_is_that_of_the_store),
		STORE_TEST(loads_no_more_days_than_are_kept),
		STORE_TEST(stores_the_last_days_that_are_over),
		STORE_TEST(what_is_stored_once_stays),
		STORE_TEST(what_becomes_known_later_is_added),
		STORE_TEST(a_day_is_as_long_as_its_clocks_say),
		STORE_TEST(prunes_what_is_too_old_of_every_site),
	};
	return RUN_TESTS(tests);
}
