/* Time since and until what the keeper did or plans on the site. */
#include "advice/derive_parts.h"

/* The two measures of one kind; MEASURES where there is none. */
struct event_measures {
	enum event_kind kind;
	enum measure since, until;
};

static const struct event_measures measures[] = {
	{ EVENT_MOWING, MEASURE_SINCE_MOWING, MEASURE_UNTIL_MOWING },
	{ EVENT_SEEDING, MEASURE_SINCE_SEEDING, MEASURE_UNTIL_SEEDING },
	{ EVENT_SODDING, MEASURE_SINCE_SODDING, MEASURES },
	{ EVENT_OVERSEEDING, MEASURE_SINCE_OVERSEEDING,
	    MEASURE_UNTIL_OVERSEEDING },
	{ EVENT_AERATING, MEASURE_SINCE_AERATING, MEASURE_UNTIL_AERATING },
	{ EVENT_IRRIGATION, MEASURES, MEASURE_UNTIL_IRRIGATION },
};

/* A walk along the events of one kind. */
struct walk {
	const struct site_facts *facts;
	enum event_kind kind;
	size_t next;   /* the first that begins after the cell; event_count */
	int64_t begun; /* when the last of the others begins; INT64_MIN */
	int64_t end;   /* when the last of them is over; INT64_MIN */
};

static void
find_next(struct walk *walk)
{
	const struct site_facts *facts = walk->facts;
	while (walk->next < facts->event_count &&
	       facts->event[walk->next].kind != walk->kind)
		walk->next++;
}

static struct walk
begin_walk(const struct site_facts *facts, enum event_kind kind)
{
	struct walk walk = { facts, kind, 0, INT64_MIN, INT64_MIN };
	find_next(&walk);
	return walk;
}

static void
walk_to(struct walk *walk, int64_t cell)
{
	const struct site_facts *facts = walk->facts;
	while (walk->next < facts->event_count &&
	       facts->event[walk->next].from < cell + SERIES_STEP) {
		const struct turf_event *event = &facts->event[walk->next++];
		walk->begun = event->from;
		walk->end = event->to > walk->end ? event->to : walk->end;
		find_next(walk);
	}
}

static void
fill_since(struct series *series, enum measure measure, struct walk walk)
{
	if (walk.next == walk.facts->event_count)
		return; /* never told of: the column stays absent */
	float *column = series_column(series, measure);
	for (size_t i = 0; i < series->count; i++) {
		int64_t cell = series_time(series, i);
		walk_to(&walk, cell);
		if (walk.end > cell)
			column[i] = 0;
		else if (walk.end != INT64_MIN)
			column[i] = (float)(cell - walk.end);
	}
}

static void
fill_until(struct series *series, enum measure measure, struct walk walk)
{
	const struct site_facts *facts = walk.facts;
	float *column = series_column(series, measure);
	for (size_t i = 0; i < series->count; i++) {
		int64_t cell = series_time(series, i);
		walk_to(&walk, cell);
		if (walk.end > cell || walk.begun >= cell)
			column[i] = 0;
		else if (walk.next == facts->event_count)
			column[i] = INFINITY;
		else
			column[i] = (float)(facts->event[walk.next].from -
					    cell - SERIES_STEP);
	}
}

/* The end of the last seeding or sodding that has begun in the cell. */
static int64_t
find_turf(const struct site_facts *facts, int64_t cell)
{
	struct walk seeding = begin_walk(facts, EVENT_SEEDING);
	struct walk sodding = begin_walk(facts, EVENT_SODDING);
	walk_to(&seeding, cell);
	walk_to(&sodding, cell);
	return seeding.end > sodding.end ? seeding.end : sodding.end;
}

#define ESTABLISHED (INT64_C(365) * DAY_SECONDS)

/* Several of one day are one: the keeper told of it twice. */
static double
count_mowings(
    const struct site_facts *facts, const struct zone *zone, int64_t cell)
{
	int64_t turf = find_turf(facts, cell);
	int64_t last = INT64_MIN; /* day of the last one */
	int count = 0;
	if (turf == INT64_MIN)
		return (double)NAN;
	/* Turf of a year has been mown often, told or not: a choice of ours. */
	if (cell - turf >= ESTABLISHED)
		return (double)INFINITY;
	for (size_t i = 0; i < facts->event_count; i++) {
		const struct turf_event *event = &facts->event[i];
		bool is_plan = event->told < event->from;
		if (event->kind != EVENT_MOWING || is_plan ||
		    event->from < turf || event->to > cell)
			continue;
		int64_t day = civil_day(zone, event->from);
		count += day != last;
		last = day;
	}
	return count;
}

/* The start of the first cell after this one with another count, or before. */
static int64_t
find_change(const struct site_facts *facts, int64_t cell)
{
	int64_t change = INT64_MAX;
	for (size_t i = 0; i < facts->event_count; i++) {
		int64_t seen = facts->event[i].from - SERIES_STEP + 1;
		int64_t over = facts->event[i].to;
		if (over <= cell)
			over += ESTABLISHED;
		if (seen > cell && seen < change)
			change = seen;
		if (over > cell && over < change)
			change = over;
	}
	return change;
}

static void
fill_mowings(struct series *series, const struct site *site,
    const struct site_facts *facts)
{
	for (size_t i = 0; i < series->count;) {
		int64_t cell = series_time(series, i);
		int64_t change = find_change(facts, cell);
		double count = count_mowings(facts, &site->zone, cell);
		if (!isnan(count))
			(void)series_column(series, MEASURE_MOWINGS);
		float *column = series->column[MEASURE_MOWINGS];
		for (; i < series->count && series_time(series, i) < change;
		     i++)
			if (column != NULL)
				column[i] = (float)count;
	}
}

void
derive_events(struct series *series, const struct site *site,
    const struct site_facts *facts)
{
	for (size_t i = 0; i < sizeof measures / sizeof measures[0]; i++) {
		const struct event_measures *one = &measures[i];
		struct walk walk = begin_walk(facts, one->kind);
		if (one->since != MEASURES)
			fill_since(series, one->since, walk);
		if (one->until != MEASURES)
			fill_until(series, one->until, walk);
	}
	fill_mowings(series, site, facts);
}
