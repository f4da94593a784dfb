/* What the tests of the soil under derive() share: days of one site, and a
   series among them. */
#ifndef TESTS_UNIT_GROUND_H
#define TESTS_UNIT_GROUND_H

#include "unit/derive_fixture.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

enum { DAYS_MAX = 800 };

/* Days of one site, and a series among them. */
struct ground {
	struct site site;
	struct series series;
	struct daily days[DAYS_MAX];
	size_t count;
	const struct turf_event *event;
	size_t event_count;
};

static inline int64_t
day_of(int year, int month, int day)
{
	struct zone zone = chicago();
	struct civil civil = { .year = year, .month = month, .day = day };
	return civil_day(&zone, utc_from_civil(&zone, &civil));
}

/* `count` days from that one, 10 K apart and 5 K over the base. */
static inline struct ground *
ground_new(int64_t first, size_t count)
{
	struct ground *ground = calloc(1, sizeof *ground);
	assert_non_null(ground);
	assert_true(count <= DAYS_MAX);
	ground->site = plain_site();
	ground->count = count;
	for (size_t i = 0; i < count; i++)
		ground->days[i] = (struct daily){ .day = first + (int64_t)i,
			.high = 20,
			.low = 10,
			.mean = 15,
			.soil = (double)NAN };
	return ground;
}

static inline void
ground_series(struct ground *ground, int64_t first, int64_t end)
{
	series_init(&ground->series, civil_day_start(&ground->site.zone, first),
	    civil_day_start(&ground->site.zone, end));
}

static inline void
ground_derive(struct ground *ground)
{
	const struct site_facts facts = { ground->days, ground->count,
		ground->event, ground->event_count, 0 };
	derive(&ground->series, &ground->site, &facts);
}

static inline void
ground_free(struct ground *ground)
{
	series_release(&ground->series);
	free(ground);
}

/* Every cell of that local day, of 23, 24 or 25 hours. */
static inline void
check_day(const struct ground *ground, enum measure measure, int64_t day,
    double wanted)
{
	const struct zone *zone = &ground->site.zone;
	int64_t end = civil_day_start(zone, day + 1);
	for (int64_t time = civil_day_start(zone, day); time < end;
	     time += SERIES_STEP)
		check_cell(&ground->series, measure, time, wanted);
}

/*
 * Means that rise by 1 K a day: with weights 1 to 11 the mean lags by
 * (0 x 11 + 1 x 10 + ... + 10 x 1) / 66 = 10/3 days. Computed by hand.
 */
static inline double
ramp_soil(int64_t day, int64_t first, double yearly_mean)
{
	double recent = (double)(day - first) - 10 / 3.0;
	return 0.8 * recent + 0.2 * yearly_mean;
}

static inline struct ground *
ramp_new(int64_t first, size_t count, double yearly_mean)
{
	struct ground *ground = ground_new(first, count);
	ground->site.yearly_mean = yearly_mean;
	for (size_t i = 0; i < count; i++)
		ground->days[i].mean = (double)i;
	return ground;
}

#endif
