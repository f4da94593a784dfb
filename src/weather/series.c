#include "weather/series.h"

#include "base/memory.h"

#include <float.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static int64_t
floor_divide(int64_t a, int64_t b)
{
	return a / b - (a % b < 0 ? 1 : 0);
}

void
series_init(struct series *series, int64_t from, int64_t to)
{
	int64_t first = floor_divide(from, SERIES_STEP);
	int64_t end = floor_divide(to + SERIES_STEP - 1, SERIES_STEP);
	*series = (struct series){ .start = first * SERIES_STEP,
		.count = end > first ? (size_t)(end - first) : 0 };
}

void
series_release(struct series *series)
{
	if (series == NULL)
		return;
	for (int i = 0; i < MEASURES; i++)
		free(series->column[i]);
	*series = (struct series){ 0 };
}

int64_t
series_time(const struct series *series, size_t cell)
{
	return series->start + (int64_t)cell * SERIES_STEP;
}

int64_t
series_end(const struct series *series)
{
	return series_time(series, series->count);
}

float *
series_column(struct series *series, enum measure measure)
{
	if (series->column[measure] != NULL)
		return series->column[measure];
	float *column = memory_array(series->count, sizeof *column);
	for (size_t i = 0; i < series->count; i++)
		column[i] = NAN;
	series->column[measure] = column;
	return column;
}

float
series_at(const struct series *series, enum measure measure, int64_t time)
{
	if (series->column[measure] == NULL || time < series->start ||
	    time >= series_end(series))
		return NAN;
	return series->column[measure][(time - series->start) / SERIES_STEP];
}

/* The cells that [from, to) touches; false when there are none. */
static bool
clip(const struct series *series, int64_t from, int64_t to, size_t *ret_first,
    size_t *ret_end)
{
	if (from < series->start)
		from = series->start;
	if (to > series_end(series))
		to = series_end(series);
	if (from >= to)
		return false;
	*ret_first = (size_t)((from - series->start) / SERIES_STEP);
	*ret_end =
	    (size_t)((to - series->start + SERIES_STEP - 1) / SERIES_STEP);
	return true;
}

/* Open bounds are NaN, and every comparison with NaN is false. */
static bool
is_plausible(enum measure measure, double value)
{
	const struct measure_info *info = measure_info(measure);
	return fabs(value) <= (double)FLT_MAX && !(value < info->least) &&
	       !(value > info->most);
}

void
series_hold(struct series *series, enum measure measure, int64_t from,
    int64_t to, double value)
{
	size_t first, end;
	if (isnan(value))
		return;
	if (!is_plausible(measure, value)) {
		series->rejected++;
		return;
	}
	if (!clip(series, from, to, &first, &end))
		return;
	float *column = series_column(series, measure);
	for (size_t i = first; i < end; i++)
		column[i] = (float)value;
}

/* The seconds that cell i has in common with [from, to). */
static int64_t
overlap(const struct series *series, size_t i, int64_t from, int64_t to)
{
	int64_t start = series_time(series, i);
	int64_t end = start + SERIES_STEP;
	return (to < end ? to : end) - (from > start ? from : start);
}

void
series_share(struct series *series, enum measure measure, int64_t from,
    int64_t to, double amount)
{
	size_t first, end;
	if (isnan(amount))
		return;
	if (!is_plausible(measure, amount)) {
		series->rejected++;
		return;
	}
	if (!clip(series, from, to, &first, &end))
		return;
	double most = measure_info(measure)->most;
	float *column = series_column(series, measure);
	for (size_t i = first; i < end; i++) {
		double part = amount * (double)overlap(series, i, from, to) /
			      (double)(to - from);
		double sum = (isnan(column[i]) ? 0 : (double)column[i]) + part;
		/* Plausible shares can add up to an implausible cell: it says
		   "very much" as well at the bound. */
		column[i] = (float)(sum > most ? most : sum);
	}
}

double
series_between(bool around, double from, double to, double part)
{
	if (!around)
		return from + (to - from) * part;
	double way = remainder(to - from, 360);
	double angle = from + way * part;
	if (fabs(way) == 180)
		return (double)NAN;
	return angle < 0 ? angle + 360 : angle > 360 ? angle - 360 : angle;
}

/* The columns that tell of one block of rain and mean nothing apart. */
static const enum measure rain[] = { MEASURE_RAIN, MEASURE_RAIN_BLOCK,
	MEASURE_RAIN_BLOCK_SPAN, MEASURE_RAIN_CHANCE };

enum { RAIN_COLUMNS = sizeof rain / sizeof rain[0] };

static bool
is_rain(enum measure measure)
{
	for (size_t i = 0; i < RAIN_COLUMNS; i++)
		if (rain[i] == measure)
			return true;
	return false;
}

static bool
is_known(const struct series *series, enum measure measure, size_t cell)
{
	return series->column[measure] != NULL &&
	       !isnan(series->column[measure][cell]);
}

static void
fill_cell(struct series *series, size_t cell, const struct series *older,
    size_t from, enum measure measure)
{
	if (series->column[measure] == NULL ||
	    is_known(series, measure, cell) || !is_known(older, measure, from))
		return;
	series->column[measure][cell] = older->column[measure][from];
}

static void
fill_rain(
    struct series *series, size_t cell, const struct series *older, size_t from)
{
	for (size_t i = 0; i < RAIN_COLUMNS; i++)
		if (is_known(series, rain[i], cell))
			return;
	for (size_t i = 0; i < RAIN_COLUMNS; i++)
		fill_cell(series, cell, older, from, rain[i]);
}

void
series_fill_past(
    struct series *series, const struct series *older, int64_t before)
{
	size_t first, end;
	if (before > series_end(older))
		before = series_end(older);
	/* A cell that has begun but not ended is not past. */
	before = floor_divide(before, SERIES_STEP) * SERIES_STEP;
	if (!clip(series, older->start, before, &first, &end))
		return;
	for (size_t i = first; i < end; i++) {
		size_t from = (size_t)((series_time(series, i) - older->start) /
				       SERIES_STEP);
		for (int m = 0; m < MEASURES; m++)
			if (!is_rain((enum measure)m))
				fill_cell(
				    series, i, older, from, (enum measure)m);
		fill_rain(series, i, older, from);
	}
}

/* Copies one column over the cells that both have. */
static void
overlay_column(
    struct series *series, const struct series *from, enum measure measure)
{
	size_t first, end;
	if (from->column[measure] == NULL ||
	    !clip(series, from->start, series_end(from), &first, &end))
		return;
	size_t source =
	    (size_t)((series_time(series, first) - from->start) / SERIES_STEP);
	memcpy(series_column(series, measure) + first,
	    from->column[measure] + source, (end - first) * sizeof(float));
	series->continuous[measure] = from->continuous[measure];
}

void
series_overlay(struct series *series, const struct series *from)
{
	series->issued = from->issued;
	series->rejected += from->rejected;
	for (int m = 0; m < MEASURES; m++)
		overlay_column(series, from, (enum measure)m);
}

/* The first measure of those that come together with this one. */
static enum measure
head_of_kin(enum measure measure)
{
	switch (measure) {
	case MEASURE_RAIN:
	case MEASURE_RAIN_BLOCK_SPAN:
		return MEASURE_RAIN_BLOCK;
	case MEASURE_HUMIDITY:
		return MEASURE_DEW_POINT;
	default:
		return measure;
	}
}

void
series_fill_columns(
    struct series *series, const struct series *from, bool ret[MEASURES])
{
	bool lacks[MEASURES];
	for (int m = 0; m < MEASURES; m++)
		lacks[m] = true;
	for (int m = 0; m < MEASURES; m++)
		if (series->column[m] != NULL)
			lacks[head_of_kin((enum measure)m)] = false;
	for (int m = 0; m < MEASURES; m++) {
		if (!lacks[head_of_kin((enum measure)m)] ||
		    from->column[m] == NULL)
			continue;
		overlay_column(series, from, (enum measure)m);
		ret[m] = series->column[m] != NULL;
	}
}
