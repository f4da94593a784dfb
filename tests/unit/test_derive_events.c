/* Time since and until what the keeper told of. */
#include "unit/test.h"

#include "unit/derive_fixture.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

static const double unknown = (double)NAN;
static const double never = (double)INFINITY;

/* Told when it was over. */
static struct turf_event
moment(enum event_kind kind, int month, int day, int hour, int minute)
{
	int64_t at = local_2026(month, day, hour, minute);
	return (struct turf_event){ kind, at, at, (double)NAN, at };
}

static struct turf_event
whole_day(enum event_kind kind, int month, int day)
{
	struct turf_event event = moment(kind, month, day, 0, 0);
	event.to = local_2026(month, day + 1, 0, 0);
	event.told = event.to;
	return event;
}

static struct turf_event
planned(struct turf_event event)
{
	event.told = event.from - 5 * DAY;
	return event;
}

/* 1 to 15 March 2026, with the change of the clocks on the 8th. */
static struct series
derive_from(const struct turf_event *events, size_t count)
{
	struct series series;
	struct site site = plain_site();
	const struct site_facts facts = { .event = events,
		.event_count = count };
	series_init(&series, local_2026(3, 1, 0, 0), local_2026(3, 15, 0, 0));
	derive(&series, &site, &facts);
	return series;
}

struct wanted {
	int day, hour, minute; /* in March */
	double hours;
};

static void
check_hours(const struct series *series, enum measure measure,
    const struct wanted *wanted, size_t count)
{
	for (size_t i = 0; i < count; i++)
		check_cell(series, measure,
		    local_2026(
			3, wanted[i].day, wanted[i].hour, wanted[i].minute),
		    wanted[i].hours * 3600);
}

static const enum measure since[] = { MEASURE_SINCE_MOWING,
	MEASURE_SINCE_SEEDING, MEASURE_SINCE_SODDING, MEASURE_SINCE_OVERSEEDING,
	MEASURE_SINCE_AERATING };
static const enum measure until[] = { MEASURE_UNTIL_MOWING,
	MEASURE_UNTIL_SEEDING, MEASURE_UNTIL_OVERSEEDING,
	MEASURE_UNTIL_AERATING, MEASURE_UNTIL_IRRIGATION };

static void
what_was_never_told_of_is_unknown_and_not_planned(void **state)
{
	(void)state;
	struct series series = derive_from(NULL, 0);
	for (size_t i = 0; i < COUNT(since); i++)
		assert_nan((double)series_at(&series, since[i], series.start));
	for (size_t i = 0; i < COUNT(until); i++)
		assert_true((double)series_at(
				&series, until[i], series.start) == never);
	assert_nan((double)series_at(&series, MEASURE_MOWINGS, series.start));
	series_release(&series);
}

static void
each_kind_has_its_own_columns(void **state)
{
	(void)state;
	static const struct {
		enum event_kind kind;
		enum measure since, until;
	} kinds[] = {
		{ EVENT_MOWING, MEASURE_SINCE_MOWING, MEASURE_UNTIL_MOWING },
		{ EVENT_SEEDING, MEASURE_SINCE_SEEDING, MEASURE_UNTIL_SEEDING },
		{ EVENT_SODDING, MEASURE_SINCE_SODDING, MEASURES },
		{ EVENT_OVERSEEDING, MEASURE_SINCE_OVERSEEDING,
		    MEASURE_UNTIL_OVERSEEDING },
		{ EVENT_AERATING, MEASURE_SINCE_AERATING,
		    MEASURE_UNTIL_AERATING },
		{ EVENT_IRRIGATION, MEASURES, MEASURE_UNTIL_IRRIGATION },
	};
	for (size_t k = 0; k < COUNT(kinds); k++) {
		struct turf_event event = moment(kinds[k].kind, 3, 5, 12, 0);
		struct series series = derive_from(&event, 1);
		int64_t before = local_2026(3, 4, 0, 0);
		int64_t after = local_2026(3, 6, 0, 0);
		for (size_t i = 0; i < COUNT(since); i++)
			check_cell(&series, since[i], after,
			    since[i] == kinds[k].since ? 12 * 3600 : unknown);
		for (size_t i = 0; i < COUNT(until); i++)
			if (until[i] == kinds[k].until)
				check_cell(
				    &series, until[i], before, 36 * 3600 - 900);
			else
				assert_true((double)series_at(&series, until[i],
						before) == never);
		series_release(&series);
	}
}

/* Each cell has the least that is true in it. */
static void
a_moment_counts_from_its_minute(void **state)
{
	(void)state;
	const struct turf_event events[] = {
		moment(EVENT_MOWING, 3, 3, 10, 7),
		moment(EVENT_MOWING, 3, 5, 10, 0),
	};
	static const struct wanted after[] = {
		{ 3, 9, 45, unknown },
		{ 3, 10, 0, 0 },
		{ 3, 10, 15, 8 / 60.0 },
		{ 5, 9, 45, 47 + 38 / 60.0 },
		{ 5, 10, 0, 0 },
		{ 7, 10, 0, 48 },
		/* the clocks go forward in the night before the 8th */
		{ 8, 10, 0, 71 },
	};
	static const struct wanted before[] = {
		{ 1, 10, 0, 47 + 52 / 60.0 },
		{ 3, 9, 45, 7 / 60.0 },
		{ 3, 10, 0, 0 },
		{ 3, 10, 15, 47.5 },
		{ 5, 9, 30, 0.25 },
		{ 5, 9, 45, 0 },
		{ 5, 10, 0, 0 },
		{ 5, 10, 15, never },
	};
	struct series series = derive_from(events, COUNT(events));
	check_hours(&series, MEASURE_SINCE_MOWING, after, COUNT(after));
	for (size_t i = 0; i + 1 < COUNT(before); i++)
		check_hours(&series, MEASURE_UNTIL_MOWING, &before[i], 1);
	assert_true((double)series_at(&series, MEASURE_UNTIL_MOWING,
			local_2026(3, 5, 10, 15)) == never);
	series_release(&series);
}

static void
a_date_alone_is_somewhere_within_its_day(void **state)
{
	(void)state;
	const struct turf_event event = whole_day(EVENT_SEEDING, 3, 8);
	static const struct wanted after[] = {
		{ 7, 23, 45, unknown },
		{ 8, 0, 0, 0 },
		{ 8, 23, 45, 0 },
		{ 9, 0, 0, 0 },
		{ 9, 0, 15, 0.25 },
		{ 10, 0, 0, 24 },
	};
	static const struct wanted before[] = {
		{ 6, 0, 0, 47.75 },
		{ 7, 23, 30, 0.25 },
		{ 7, 23, 45, 0 },
		{ 8, 0, 0, 0 },
		{ 8, 23, 45, 0 },
	};
	struct series series = derive_from(&event, 1);
	check_hours(&series, MEASURE_SINCE_SEEDING, after, COUNT(after));
	check_hours(&series, MEASURE_UNTIL_SEEDING, before, COUNT(before));
	assert_true((double)series_at(&series, MEASURE_UNTIL_SEEDING,
			local_2026(3, 9, 0, 0)) == never);
	series_release(&series);
}

/* The day ends after the moment that begins in it. */
static void
the_last_end_counts_and_not_the_last_beginning(void **state)
{
	(void)state;
	const struct turf_event events[] = {
		whole_day(EVENT_MOWING, 3, 4),
		moment(EVENT_MOWING, 3, 4, 9, 0),
	};
	static const struct wanted after[] = { { 4, 12, 0, 0 },
		{ 5, 6, 0, 6 } };
	static const struct wanted before[] = { { 4, 8, 0, 0 },
		{ 4, 12, 0, 0 } };
	struct series series = derive_from(events, COUNT(events));
	check_hours(&series, MEASURE_SINCE_MOWING, after, COUNT(after));
	check_hours(&series, MEASURE_UNTIL_MOWING, before, COUNT(before));
	series_release(&series);
}

static void
a_plan_whose_time_has_come_counts_as_done(void **state)
{
	(void)state;
	const struct turf_event done = moment(EVENT_MOWING, 3, 5, 8, 0);
	const struct turf_event plan = planned(done);
	struct series as_told = derive_from(&done, 1);
	struct series as_planned = derive_from(&plan, 1);
	static const struct wanted after[] = { { 5, 7, 0, unknown },
		{ 6, 8, 0, 24 } };
	check_hours(&as_planned, MEASURE_SINCE_MOWING, after, COUNT(after));
	assert_memory_equal(as_planned.column[MEASURE_SINCE_MOWING],
	    as_told.column[MEASURE_SINCE_MOWING],
	    as_told.count * sizeof(float));
	assert_memory_equal(as_planned.column[MEASURE_UNTIL_MOWING],
	    as_told.column[MEASURE_UNTIL_MOWING],
	    as_told.count * sizeof(float));
	series_release(&as_told);
	series_release(&as_planned);
}

static void
an_established_lawn_is_told_of_once(void **state)
{
	(void)state;
	/* 2015-04-01, a whole day of that zone in summer time */
	const struct turf_event event = { EVENT_SEEDING, INT64_C(1427864400),
		INT64_C(1427864400) + DAY, (double)NAN,
		local_2026(3, 1, 9, 0) };
	struct series series = derive_from(&event, 1);
	double years =
	    (double)series_at(&series, MEASURE_SINCE_SEEDING, series.start) /
	    (365.25 * (double)DAY);
	assert_close(years, 10.9, 0.1);
	/* nobody tells of the mowings of eleven years */
	assert_true(isinf(series_at(&series, MEASURE_MOWINGS, series.start)));
	series_release(&series);
}

static void
mowings_count_from_the_last_seeding_or_sodding(void **state)
{
	(void)state;
	const struct turf_event events[] = {
		moment(EVENT_MOWING, 2, 20, 9, 0),
		whole_day(EVENT_SEEDING, 3, 1),
		moment(EVENT_MOWING, 3, 1, 12, 0), /* may have been before */
		moment(EVENT_MOWING, 3, 2, 9, 5),
		whole_day(EVENT_MOWING, 3, 4),
		moment(EVENT_MOWING, 3, 4, 9, 0),          /* told twice */
		planned(moment(EVENT_MOWING, 3, 6, 9, 0)), /* not yet */
		moment(EVENT_MOWING, 3, 8, 9, 0),
		planned(moment(EVENT_SODDING, 3, 10, 9, 0)),
		moment(EVENT_MOWING, 3, 12, 9, 0),
	};
	static const struct {
		int day, hour, minute, count;
	} wanted[] = {
		{ 1, 0, 0, 0 },
		{ 2, 9, 0, 0 },
		{ 2, 9, 15, 1 },
		{ 4, 8, 0, 1 },
		{ 4, 9, 0, 2 },
		{ 5, 0, 0, 2 },
		{ 7, 0, 0, 2 },
		{ 8, 9, 0, 3 },
		{ 10, 8, 45, 3 },
		{ 10, 9, 0, 0 },
		{ 12, 8, 45, 0 },
		{ 14, 23, 45, 1 },
	};
	struct series series = derive_from(events, COUNT(events));
	for (size_t i = 0; i < COUNT(wanted); i++)
		check_cell(&series, MEASURE_MOWINGS,
		    local_2026(
			3, wanted[i].day, wanted[i].hour, wanted[i].minute),
		    wanted[i].count);
	series_release(&series);
}

static void
mowings_are_unknown_before_there_was_turf(void **state)
{
	(void)state;
	const struct turf_event events[] = {
		moment(EVENT_MOWING, 3, 2, 9, 0),
		moment(EVENT_SODDING, 3, 5, 9, 10),
	};
	struct series series = derive_from(events, COUNT(events));
	check_cell(&series, MEASURE_MOWINGS, local_2026(3, 5, 8, 45), unknown);
	check_cell(&series, MEASURE_MOWINGS, local_2026(3, 5, 9, 0), 0);
	check_cell(&series, MEASURE_MOWINGS, local_2026(3, 9, 9, 0), 0);
	series_release(&series);
}

/* Cell by cell, straight from the meaning. */
static double
slow_since(const struct turf_event *events, size_t count, int64_t cell)
{
	double least = unknown;
	for (size_t i = 0; i < count; i++) {
		double since_it = (double)(cell - events[i].to);
		if (events[i].from >= cell + SERIES_STEP)
			continue;
		since_it = since_it < 0 ? 0 : since_it;
		least = isnan(least) || since_it < least ? since_it : least;
	}
	return least;
}

static double
slow_until(const struct turf_event *events, size_t count, int64_t cell)
{
	double least = never;
	for (size_t i = 0; i < count; i++) {
		double until_it = (double)(events[i].from - cell - SERIES_STEP);
		if (events[i].to <= cell && events[i].from < cell)
			continue;
		until_it = until_it < 0 ? 0 : until_it;
		least = until_it < least ? until_it : least;
	}
	return least;
}

static void
agrees_with_a_slow_walk_over_random_events(void **state)
{
	(void)state;
	uint64_t seed = 21;
	for (int n = 0; n < rounds(300); n++) {
		struct turf_event events[6];
		size_t count = (size_t)draw_from(&seed, 1, 6);
		int64_t from = local_2026(2, 26, 0, 0);
		for (size_t i = 0; i < count; i++) {
			from += minutes(draw_from(&seed, 0, 6000));
			bool is_long = draw_once_in(&seed, 2);
			events[i] = (struct turf_event){ EVENT_MOWING, from,
				from + (is_long ? DAY : 0), unknown, from };
		}
		struct series series = derive_from(events, count);
		for (size_t i = 0; i < series.count; i++) {
			int64_t cell = series_time(&series, i);
			double least = slow_until(events, count, cell);
			double value = (double)series_at(
			    &series, MEASURE_UNTIL_MOWING, cell);
			check_cell(&series, MEASURE_SINCE_MOWING, cell,
			    slow_since(events, count, cell));
			assert_true(value == least);
		}
		series_release(&series);
	}
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(
		    what_was_never_told_of_is_unknown_and_not_planned),
		cmocka_unit_test(each_kind_has_its_own_columns),
		cmocka_unit_test(a_moment_counts_from_its_minute),
		cmocka_unit_test(a_date_alone_is_somewhere_within_its_day),
		cmocka_unit_test(
		    the_last_end_counts_and_not_the_last_beginning),
		cmocka_unit_test(a_plan_whose_time_has_come_counts_as_done),
		cmocka_unit_test(an_established_lawn_is_told_of_once),
		cmocka_unit_test(
		    mowings_count_from_the_last_seeding_or_sodding),
		cmocka_unit_test(mowings_are_unknown_before_there_was_turf),
		cmocka_unit_test(agrees_with_a_slow_walk_over_random_events),
	};
	return RUN_TESTS(tests);
}
