#include "advice/turf_timing.h"

#include <math.h>

enum { MEAN_DAYS = 5 };

static const double steady = 0.05; /* K a day; less is no direction */

#define MARK(fahrenheit, rising, what)                                         \
	{                                                                      \
		{ TURF_FAHRENHEIT(fahrenheit), MEAN_DAYS, rising }, what       \
	}

/* From cold to warm. */
const struct turf_mark turf_marks[TURF_MARKS] = {
	MARK(50, false, "warm-season turf goes dormant"),
	MARK(55, true, "pre-emergents for summer grasses belong before it"),
	MARK(60, true, "goosegrass and spurge germinate"),
	MARK(65, true, "warm-season turf grows"),
	MARK(70, false, "annual bluegrass germinates"),
};

static enum soil_trend
trend_of(double before, double mean)
{
	if (isnan(before) || isnan(mean))
		return SOIL_UNKNOWN;
	return mean > before + steady   ? SOIL_RISING
	       : mean < before - steady ? SOIL_FALLING
					: SOIL_STEADY;
}

/* The nearest one ahead. */
static const struct turf_mark *
next_mark(double mean, enum soil_trend trend)
{
	const struct turf_mark *next = NULL;
	for (int i = 0; i < TURF_MARKS; i++) {
		const struct turf_mark *mark = &turf_marks[i];
		if (trend == SOIL_RISING && mark->passing.rising &&
		    mark->passing.limit > mean && next == NULL)
			next = mark;
		if (trend == SOIL_FALLING && !mark->passing.rising &&
		    mark->passing.limit <= mean)
			next = mark;
	}
	return next;
}

struct turf_timing
turf_timing(const struct turf_lawn *lawn, int64_t day)
{
	double before = turf_soil_mean(lawn, day - 1, MEAN_DAYS);
	struct turf_timing timing = {
		.mean = turf_soil_mean(lawn, day, MEAN_DAYS), .day = day
	};
	timing.trend = trend_of(before, timing.mean);
	for (int i = 0; i < TURF_MARKS; i++) {
		const struct turf_mark *mark = &turf_marks[i];
		int64_t on;
		bool passes = turf_passes(lawn, &mark->passing, day, &on);
		if (passes && timing.passes && on >= timing.day)
			continue;
		if (passes)
			timing.mark = mark;
		if (passes || !timing.passes)
			timing.day = on;
		timing.passes |= passes;
	}
	if (!timing.passes)
		timing.mark = next_mark(timing.mean, timing.trend);
	return timing;
}
