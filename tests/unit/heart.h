/*
 * What the tests and the bench of src/advice share: a repeatable source of
 * random numbers, a zone with clock changes written out by hand, and short
 * ways to lay out series, rules and columns.
 */
#ifndef TESTS_UNIT_HEART_H
#define TESTS_UNIT_HEART_H

#include "advice/judge.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

#define HOUR INT64_C(3600)
#define DAY  INT64_C(86400)

/* Splitmix64: Steele, Lea and Flood 2014, "Fast splittable pseudorandom
   number generators"; from memory. Any good mixer serves here. */
static inline uint64_t
draw(uint64_t *seed)
{
	uint64_t z = (*seed += 0x9E3779B97F4A7C15U);
	z = (z ^ z >> 30) * 0xBF58476D1CE4E5B9U;
	z = (z ^ z >> 27) * 0x94D049BB133111EBU;
	return z ^ z >> 31;
}

/* A whole number in [least, most]. */
static inline int
draw_from(uint64_t *seed, int least, int most)
{
	uint64_t width = (uint64_t)most - (uint64_t)least + 1;
	return least + (int)(draw(seed) % width);
}

/* True once in `times` draws. */
static inline bool
draw_once_in(uint64_t *seed, int times)
{
	return draw_from(seed, 1, times) == 1;
}

/* Clock changes of America/Chicago: the second Sunday of March at 08:00 UTC
   and the first Sunday of November at 07:00 UTC. */
static inline struct zone
chicago(void)
{
	return (struct zone){ .name = "America/Chicago",
		.count = 7,
		.span = { { 0, -6 * HOUR },
		    { 1741507200, -5 * HOUR },     /* 2025-03-09 */
		    { 1762066800, -6 * HOUR },     /* 2025-11-02 */
		    { 1772956800, -5 * HOUR },     /* 2026-03-08 */
		    { 1793516400, -6 * HOUR },     /* 2026-11-01 */
		    { 1805011200, -5 * HOUR },     /* 2027-03-14 */
		    { 1825570800, -6 * HOUR } } }; /* 2027-11-07 */
}

static inline int64_t
minutes(int count)
{
	return (int64_t)count * 60;
}

static inline int64_t
cells(int count)
{
	return (int64_t)count * SERIES_STEP;
}

/* A local time of that zone in 2026; the first one of two. */
static inline int64_t
local_2026(int month, int day, int hour, int minute)
{
	struct zone zone = chicago();
	struct civil civil = { .year = 2026,
		.month = month,
		.day = day,
		.hour = hour,
		.minute = minute };
	return utc_from_civil(&zone, &civil);
}

static inline void
fill(struct series *series, enum measure measure, double value)
{
	float *column = series_column(series, measure);
	for (size_t i = 0; i < series->count; i++)
		column[i] = (float)value;
}

/* The cell of a moment; the moment must lie in the series. */
static inline size_t
cell_of(const struct series *series, int64_t time)
{
	return (size_t)((time - series->start) / SERIES_STEP);
}

/* One value over [from, to). */
static inline void
put(struct series *series, enum measure measure, int64_t from, int64_t to,
    double value)
{
	float *column = series_column(series, measure);
	size_t end = cell_of(series, to);
	for (size_t i = cell_of(series, from); i < end; i++)
		column[i] = (float)value;
}

static const struct exposure during = { { ANCHOR_START, 0 },
	{ ANCHOR_END, 0 } };
static const struct exposure that_day = { { ANCHOR_MIDNIGHT, 0 },
	{ ANCHOR_MIDNIGHT, 1 } };

static inline struct exposure
after_end(int seconds)
{
	return (struct exposure){ { ANCHOR_END, 0 }, { ANCHOR_END, seconds } };
}

static inline struct exposure
before_start(int seconds)
{
	return (
	    struct exposure){ { ANCHOR_START, -seconds }, { ANCHOR_START, 0 } };
}

/* A practice rule; the caller changes what it wants otherwise. */
static inline struct rule
rule_of(enum measure measure, enum fold fold, struct exposure exposure,
    enum bound bound, double limit)
{
	return (struct rule){ .name = "rule",
		.measure = measure,
		.fold = fold,
		.exposure = exposure,
		.bound = bound,
		.limit = limit,
		.origin = ORIGIN_PRACTICE,
		.owner = "practice",
		.source = "" };
}

static inline struct check
check_of(const struct series *series, struct rule rule)
{
	return (struct check){ .rule = rule,
		.column = series->column[rule.measure],
		.continuous = series->continuous[rule.measure] };
}

#endif
