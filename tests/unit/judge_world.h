/*
 * Random forecasts and random rule sets, around both clock changes of 2026 and
 * on a plain day: what the judge is held against in several tests.
 */
#ifndef TESTS_UNIT_JUDGE_WORLD_H
#define TESTS_UNIT_JUDGE_WORLD_H

#include "unit/heart.h"

enum { RULES_MAX = 70, SETS = 2000 };

struct world {
	struct zone zone;
	struct series series;
	struct outlook outlook;
	struct check check[RULES_MAX];
	size_t count;
	int64_t duration;
	struct verdicts verdicts;
};

static inline bool
is_switch(enum measure measure)
{
	return measure == MEASURE_WET || measure == MEASURE_DORMANT ||
	       measure == MEASURE_GREEN || measure == MEASURE_GREEN_UP ||
	       measure == MEASURE_HOURS;
}

/* Eighths: equal to a limit as often as not. */
static inline float
draw_value(enum measure measure, uint64_t *seed)
{
	if (is_switch(measure))
		return draw_once_in(seed, 9) ? 1 : 0;
	if (measure == MEASURE_DAYS_SINCE && draw_once_in(seed, 4))
		return INFINITY;
	return (float)draw_from(seed, -24, 24) / 8.0F;
}

static inline void
draw_column(struct series *series, enum measure measure, uint64_t *seed)
{
	static const int gap_rates[] = { 0, 0, 60, 6, 1 };
	int gaps = gap_rates[draw_from(seed, 0, 4)];
	int run = draw_from(seed, 1, 20);
	float *column = series_column(series, measure);
	for (size_t i = 0; i < series->count; i++) {
		column[i] = draw_value(measure, seed);
		if (gaps > 0 && draw_once_in(seed, gaps))
			column[i] = NAN;
		if (i > 0 && !draw_once_in(seed, run))
			column[i] = column[i - 1];
	}
	series->continuous[measure] =
	    !is_switch(measure) && draw_once_in(seed, 3);
}

static inline struct instant
draw_instant(uint64_t *seed)
{
	enum anchor anchor = (enum anchor)draw_from(seed, 0, 4);
	int seconds = draw_from(seed, -12, 12) * 1800 + draw_from(seed, 0, 77);
	return (struct instant){ anchor,
		anchor == ANCHOR_MIDNIGHT ? draw_from(seed, -1, 2) : seconds };
}

/* Of the sun, of the night before, and of any two instants in any order. */
static inline struct exposure
draw_sun_exposure(uint64_t *seed)
{
	int hour = draw_from(seed, -3, 3) * (int)HOUR;
	switch (draw_from(seed, 0, 4)) {
	case 0:
		return (struct exposure){ { ANCHOR_SUNRISE, hour },
			{ ANCHOR_SUNSET, hour } };
	case 1:
		return (struct exposure){ { ANCHOR_SUNSET, hour - 43200 },
			{ ANCHOR_SUNRISE, hour } };
	case 2:
		return (struct exposure){ { ANCHOR_MIDNIGHT, -1 },
			{ ANCHOR_SUNRISE, hour } };
	case 3:
		return (struct exposure){ { ANCHOR_START, 0 },
			{ ANCHOR_SUNSET, hour } };
	default:
		return (
		    struct exposure){ draw_instant(seed), draw_instant(seed) };
	}
}

static inline struct exposure
draw_exposure(uint64_t *seed)
{
	int span = draw_from(seed, 1, 80) * 900 - draw_from(seed, 0, 1) * 77;
	int day = draw_from(seed, -2, 2);
	switch (draw_from(seed, 0, 10)) {
	case 0:
		return after_end(span);
	case 1:
		return before_start(span);
	case 2:
		return that_day;
	case 3: /* some days before or after */
		return (struct exposure){ { ANCHOR_MIDNIGHT, day },
			{ ANCHOR_MIDNIGHT, day + draw_from(seed, 1, 3) } };
	case 4: /* later on */
		return (struct exposure){ { ANCHOR_END, span },
			{ ANCHOR_END, 2 * span } };
	case 5: /* the day so far: empty at midnight */
		return (struct exposure){ { ANCHOR_MIDNIGHT, 0 },
			{ ANCHOR_START, 0 } };
	case 6: /* the rest of the day, and beyond the outlook's own days */
		return (struct exposure){ { ANCHOR_START, 0 },
			{ ANCHOR_MIDNIGHT, draw_once_in(seed, 4) ? 60 : 1 } };
	case 7:
	case 8:
		return draw_sun_exposure(seed);
	default:
		return during;
	}
}

static inline struct rule
draw_rule(uint64_t *seed)
{
	enum measure measure = (enum measure)draw_from(seed, 0, MEASURES - 1);
	enum bound bound = (enum bound)draw_from(seed, 0, 3);
	enum fold fold = (enum fold)draw_from(seed, 0, 3);
	double limit = draw_from(seed, -16, 16) / 8.0;
	if (measure == MEASURE_DAYS_SINCE && fold != FOLD_MAX)
		fold = FOLD_MIN;
	if (is_switch(measure)) {
		fold = FOLD_ANY;
		limit = bound == BOUND_AT_MOST || bound == BOUND_ABOVE ? 0 : 1;
	}
	return rule_of(measure, fold, draw_exposure(seed), bound, limit);
}

static inline void
draw_world(struct world *world, uint64_t *seed)
{
	/* The days around both clock changes, and a plain one. */
	static const int64_t dates[] = { 1772863200, 1793422800, 1781000100 };
	int64_t start = dates[draw_from(seed, 0, 2)] +
			draw_from(seed, -100, 100) * (int64_t)SERIES_STEP;
	int count = draw_once_in(seed, 4) ? draw_from(seed, 1, 300)
					  : draw_from(seed, 60, 150);
	*world = (struct world){ .zone = chicago(),
		.count = (size_t)draw_from(seed, 1, 12),
		.duration = cells(draw_from(seed, 1, 16)) };
	if (draw_once_in(seed, 10))
		world->count = (size_t)draw_from(seed, 30, RULES_MAX);
	if (draw_once_in(seed, 2))
		world->duration -= draw_from(seed, 1, 899);
	series_init(&world->series, start, start + cells(count));
	for (int m = 0; m < MEASURES; m++)
		if (!draw_once_in(seed, 12))
			draw_column(&world->series, (enum measure)m, seed);
	for (size_t r = 0; r < world->count; r++)
		world->check[r] = check_of(&world->series, draw_rule(seed));
	outlook_init(&world->outlook, &world->series, &world->zone);
}

static inline void
judge_world(struct world *world)
{
	judge(&world->outlook, world->check, world->count, world->duration,
	    &world->verdicts);
}

static inline void
release_world(struct world *world)
{
	verdicts_release(&world->verdicts);
	outlook_release(&world->outlook);
	series_release(&world->series);
}

#endif
