#include "weather/daily.h"

#include <math.h>
#include <stdlib.h>

struct spread {
	double high, low, sum; /* NaN when a cell is not known */
	size_t count;
};

static struct spread
spread_of(
    const struct series *series, enum measure measure, int64_t from, int64_t to)
{
	struct spread spread = { (double)-INFINITY, (double)INFINITY, 0, 0 };
	for (int64_t time = from; time < to; time += SERIES_STEP) {
		double value = (double)series_at(series, measure, time);
		/* A comparison with NaN is false: the sum alone carries it. */
		spread.high = value > spread.high ? value : spread.high;
		spread.low = value < spread.low ? value : spread.low;
		spread.sum += value;
		spread.count++;
	}
	if (isnan(spread.sum))
		spread.high = spread.low = (double)NAN;
	return spread;
}

struct daily
daily_of(const struct series *series, const struct zone *zone, int64_t day)
{
	int64_t from = civil_day_start(zone, day);
	int64_t to = civil_day_start(zone, day + 1);
	struct spread air =
	    spread_of(series, MEASURE_AIR_TEMPERATURE, from, to);
	struct spread soil = spread_of(series, MEASURE_SOIL, from, to);
	struct spread rain = spread_of(series, MEASURE_RAIN, from, to);
	return (struct daily){ .day = day,
		.high = air.high,
		.low = air.low,
		.mean = air.sum / (double)air.count,
		.soil = soil.sum / (double)soil.count,
		.rain = rain.sum };
}

static int
compare_day(const void *key, const void *element)
{
	int64_t day = *(const int64_t *)key;
	int64_t other = ((const struct daily *)element)->day;
	return (day > other) - (day < other);
}

const struct daily *
daily_find(const struct daily *days, size_t count, int64_t day)
{
	return count == 0
		   ? NULL
		   : bsearch(&day, days, count, sizeof *days, compare_day);
}
