/* One application on a lawn, with what is known of its water. */
#ifndef TESTS_UNIT_WATER_LAWN_H
#define TESTS_UNIT_WATER_LAWN_H

#include "unit/test.h"

#include "advice/water.h"
#include "unit/heart.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))
#define INCH         25.4

enum { DAYS = 40, EVENTS = 8 };

/* An application with what is known of its site. Day 0 is that of the
   application, which ends at ten in the morning. */
struct lawn {
	struct zone zone;
	struct water_wanted water;
	int64_t zero; /* civil day */
	struct daily day[DAYS];
	struct turf_event event[EVENTS];
	struct site_facts known;
	struct series series, hours;
	struct water_facts facts;
	struct water_ledger ledger;
};

static inline int64_t
at(const struct lawn *lawn, int day, int hour)
{
	int64_t noon =
	    civil_day_start(&lawn->zone, lawn->zero + day) + 12 * HOUR;
	struct civil civil = civil_from_utc(&lawn->zone, noon);
	civil.hour = hour;
	civil.minute = civil.second = 0;
	return utc_from_civil(&lawn->zone, &civil);
}

static inline int64_t
midnight(const struct lawn *lawn, int day)
{
	return civil_day_start(&lawn->zone, lawn->zero + day);
}

/* A dry spell that is all known; 0.5 in within 14 days, as on the label of a
   prodiamine fertilizer (doczz.net/doc/5315780), read. */
static inline void
begin_on(struct lawn *lawn, int month, int day)
{
	*lawn = (struct lawn){ .zone = chicago(),
		.water = { 0.5 * INCH, 14 * DAY, 0 } };
	lawn->zero = civil_day(&lawn->zone, local_2026(month, day, 12, 0));
	for (int i = 0; i < DAYS; i++)
		lawn->day[i] =
		    (struct daily){ .day = lawn->zero + i, .rain = 0 };
	lawn->known =
	    (struct site_facts){ .days = lawn->day, .event = lawn->event };
	lawn->facts = (struct water_facts){ &lawn->water, &lawn->zone,
		at(lawn, 0, 10), 0, &lawn->series, NULL, &lawn->known };
}

static inline void
begin(struct lawn *lawn)
{
	begin_on(lawn, 4, 10);
}

static inline void
end(struct lawn *lawn)
{
	series_release(&lawn->series);
	series_release(&lawn->hours);
}

/* The clock stands there: the series reaches two days back and to the end of
   the eighth day, dry, and the days before today are on file. */
static inline void
stand(struct lawn *lawn, int day, int hour)
{
	series_release(&lawn->series);
	lawn->facts.now = at(lawn, day, hour);
	series_init(
	    &lawn->series, lawn->facts.now - 2 * DAY, midnight(lawn, day + 9));
	fill(&lawn->series, MEASURE_RAIN, 0);
	fill(&lawn->series, MEASURE_RAIN_CHANCE, 100);
	lawn->known.day_count = day < 0 ? 0 : (size_t)day;
}

/* Shared over the hour that begins then. */
static inline void
shower(struct lawn *lawn, int day, int hour, double mm)
{
	int64_t from = at(lawn, day, hour);
	put(&lawn->series, MEASURE_RAIN, from, from + HOUR, mm / 4);
}

static inline void
tell(struct lawn *lawn, enum event_kind kind, int64_t from, int64_t to,
    double mm, int64_t told)
{
	lawn->event[lawn->known.event_count++] =
	    (struct turf_event){ kind, from, to, mm, told };
}

static inline void
tell_day(
    struct lawn *lawn, enum event_kind kind, int day, double mm, int64_t told)
{
	tell(
	    lawn, kind, midnight(lawn, day), midnight(lawn, day + 1), mm, told);
}

static inline void
irrigate_at(struct lawn *lawn, int day, int hour, double mm)
{
	int64_t moment = at(lawn, day, hour);
	tell(lawn, EVENT_IRRIGATION, moment, moment, mm, moment);
}

static inline enum water_state
account(struct lawn *lawn)
{
	water_account(&lawn->facts, &lawn->ledger);
	return lawn->ledger.state;
}

static inline bool
is_due(const struct lawn *lawn, int day)
{
	return water_is_due(&lawn->ledger, lawn->zero + day);
}

#endif
