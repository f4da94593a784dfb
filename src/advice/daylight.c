#include "advice/daylight.h"

#include "physics/sun.h"

#include <math.h>

double
daylight_pass(
    const struct series *series, ptrdiff_t from, ptrdiff_t to, bool rises)
{
	const float *height = series->column[MEASURE_SUN_HEIGHT];
	ptrdiff_t last = (ptrdiff_t)series->count - 1;
	if (height == NULL)
		return NAN;
	for (ptrdiff_t i = from < 0 ? 0 : from; i < to && i < last; i++) {
		double now = (double)height[i] - SUN_HEIGHT_HORIZON;
		double next = (double)height[i + 1] - SUN_HEIGHT_HORIZON;
		if (isnan(now) || isnan(next))
			return NAN;
		if (rises ? now < 0 && next >= 0 : now >= 0 && next < 0)
			return ((double)i + now / (now - next)) * SERIES_STEP;
	}
	return NAN;
}

/* The first cell of a local day. */
static ptrdiff_t
first_cell(const struct series *series, const struct zone *zone, int64_t day)
{
	int64_t seconds = civil_day_start(zone, day) - series->start;
	return (ptrdiff_t)floor((double)seconds / SERIES_STEP);
}

void
daylight_fill(struct series *series, const struct zone *zone)
{
	float *since = series_column(series, MEASURE_SINCE_SUNRISE);
	float *until = series_column(series, MEASURE_UNTIL_SUNSET);
	series->continuous[MEASURE_SINCE_SUNRISE] = true;
	series->continuous[MEASURE_UNTIL_SUNSET] = true;
	int64_t day = civil_day(zone, series->start);
	ptrdiff_t from = first_cell(series, zone, day);
	for (size_t i = 0; i < series->count; day++) {
		ptrdiff_t to = first_cell(series, zone, day + 1);
		double rise = daylight_pass(series, from, to, true);
		double set = daylight_pass(series, from, to, false);
		for (; i < series->count && (ptrdiff_t)i < to; i++) {
			double time = (double)i * SERIES_STEP;
			since[i] = (float)(time - rise);
			until[i] = (float)(set - time);
		}
		from = to;
	}
}
