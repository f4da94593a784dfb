/* The weather of whole local days, which outlives the hourly series. */
#ifndef WEATHER_DAILY_H
#define WEATHER_DAILY_H

#include "base/civil.h"
#include "weather/series.h"

struct daily {
	int64_t day;            /* number of the civil day (base/civil.h) */
	double high, low, mean; /* air temperature, degC; NaN unknown */
	double soil; /* degC at about 10 cm as a source gave it; NaN unknown */
	double rain; /* mm of the whole day; NaN unknown */
};

/*
 * The local day out of a series. A number is NaN unless every cell of the day
 * is known.
 */
struct daily daily_of(
    const struct series *series, const struct zone *zone, int64_t day);

/* The entry of that day in a list that ascends by day, or NULL. */
const struct daily *daily_find(
    const struct daily *days, size_t count, int64_t day);

#endif
