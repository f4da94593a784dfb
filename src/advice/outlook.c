#include "advice/outlook.h"

#include "advice/daylight.h"
#include "base/memory.h"

#include <math.h>
#include <stdlib.h>

struct outlook_band {
	const float *column;
	enum fold fold;
	bool continuous;
	struct exposure exposure;
	int64_t duration;
	struct band *band; /* in the pool, so that it never moves */
};

static ptrdiff_t
floor_cells(int64_t seconds)
{
	return (ptrdiff_t)(seconds / SERIES_STEP -
			   (seconds % SERIES_STEP < 0 ? 1 : 0));
}

/* The first clock change after `utc`. */
static int64_t
next_change(const struct zone *zone, int64_t utc)
{
	for (size_t i = 1; i < zone->count; i++)
		if (zone->span[i].from > utc)
			return zone->span[i].from;
	return INT64_MAX;
}

/* Days are told by the zone near a clock change and counted elsewhere. */
static void
lay_out_midnights(struct outlook *outlook)
{
	const struct zone *zone = outlook->zone;
	int64_t day = outlook->first_day - OUTLOOK_DAYS_BEFORE;
	int64_t start = 0, change = INT64_MIN;
	for (size_t d = 0; d < outlook->midnight_count; d++) {
		start += DAY_SECONDS;
		if (start + DAY_SECONDS >= change) {
			start = civil_day_start(zone, day + (int64_t)d);
			change = next_change(zone, start - DAY_SECONDS);
		}
		outlook->midnight[d] =
		    (int32_t)floor_cells(start - outlook->series->start);
	}
}

static void
lay_out_days(struct outlook *outlook)
{
	const struct series *series = outlook->series;
	outlook->first_day = civil_day(outlook->zone, series->start);
	int64_t days = civil_day(outlook->zone, series_end(series)) -
		       outlook->first_day + 1;
	outlook->midnight_count =
	    (size_t)days + OUTLOOK_DAYS_BEFORE + OUTLOOK_DAYS_AFTER;
	outlook->midnight = pool_room(
	    &outlook->pool, outlook->midnight_count, sizeof *outlook->midnight);
	lay_out_midnights(outlook);
	outlook->day =
	    pool_room(&outlook->pool, series->count, sizeof *outlook->day);
	int32_t day = 0;
	for (size_t i = 0; i < series->count; i++) {
		while (outlook->midnight[day + 1 + OUTLOOK_DAYS_BEFORE] <=
		       (int32_t)i)
			day++;
		outlook->day[i] = day;
	}
}

void
outlook_init(struct outlook *outlook, const struct series *series,
    const struct zone *zone)
{
	*outlook = (struct outlook){ .series = series, .zone = zone };
	lay_out_days(outlook);
	outlook->blank =
	    pool_room(&outlook->pool, series->count, sizeof(float));
	for (size_t i = 0; i < series->count; i++)
		outlook->blank[i] = NAN;
}

void
outlook_release(struct outlook *outlook)
{
	if (outlook == NULL)
		return;
	pool_release(&outlook->pool);
	free(outlook->table);
	free(outlook->table_column);
	free(outlook->band);
	*outlook = (struct outlook){ 0 };
}

static bool
hangs_on_job(const struct instant *instant)
{
	return instant->anchor == ANCHOR_START || instant->anchor == ANCHOR_END;
}

bool
outlook_slides(const struct exposure *exposure)
{
	return hangs_on_job(&exposure->from) && hangs_on_job(&exposure->to);
}

/* Beyond the days laid out nothing is known, but one day follows another. */
static ptrdiff_t
midnight_cell(const struct outlook *outlook, size_t i, int32_t days)
{
	ptrdiff_t at = outlook->day[i] + (ptrdiff_t)days + OUTLOOK_DAYS_BEFORE;
	ptrdiff_t last = (ptrdiff_t)outlook->midnight_count - 1;
	ptrdiff_t held = at < 0 ? 0 : at > last ? last : at;
	return outlook->midnight[held] +
	       (at - held) * (DAY_SECONDS / SERIES_STEP);
}

#define NO_TIME INT64_MIN

/* As seconds from the start of the series; NO_TIME when there is none. */
static int64_t
instant_time(const struct outlook *outlook, const struct instant *instant,
    int64_t duration, size_t i)
{
	bool rises = instant->anchor == ANCHOR_SUNRISE;
	if (hangs_on_job(instant))
		return (int64_t)i * SERIES_STEP + instant->seconds +
		       (instant->anchor == ANCHOR_END ? duration : 0);
	if (instant->anchor == ANCHOR_MIDNIGHT)
		return midnight_cell(outlook, i, instant->seconds) *
		       SERIES_STEP;
	double pass = daylight_pass(outlook->series,
	    midnight_cell(outlook, i, 0), midnight_cell(outlook, i, 1), rises);
	return isnan(pass) ? NO_TIME : llround(pass) + instant->seconds;
}

int64_t
outlook_time(const struct outlook *outlook, const struct instant *instant,
    int64_t duration, size_t i)
{
	int64_t time = instant_time(outlook, instant, duration, i);
	return time == NO_TIME ? NO_TIME : outlook->series->start + time;
}

/* The cells that [from, to) touches. One more at the end of the two special
   ranges, for a continuous column, makes no difference to them. */
static void
touch_cells(int64_t from, int64_t to, ptrdiff_t *ret_from, ptrdiff_t *ret_to)
{
	if (from == NO_TIME || to == NO_TIME) {
		*ret_from = -2;
		*ret_to = -1;
	} else if (to < from) {
		*ret_from = 0;
		*ret_to = -1;
	} else {
		*ret_from = floor_cells(from);
		*ret_to = -floor_cells(-to);
	}
}

void
outlook_cells(const struct outlook *outlook, const struct exposure *exposure,
    int64_t duration, size_t i, ptrdiff_t *ret_from, ptrdiff_t *ret_to)
{
	touch_cells(instant_time(outlook, &exposure->from, duration, i),
	    instant_time(outlook, &exposure->to, duration, i), ret_from,
	    ret_to);
}

/* The duration matters only to an exposure that hangs on the end of the job. */
static int64_t
duration_that_counts(const struct exposure *exposure, int64_t duration)
{
	return exposure->from.anchor == ANCHOR_END ||
		       exposure->to.anchor == ANCHOR_END
		   ? duration
		   : 0;
}

static struct fold_table *
find_table(struct outlook *outlook, const float *column)
{
	for (size_t i = 0; i < outlook->table_count; i++)
		if (outlook->table_column[i] == column)
			return &outlook->table[i];
	size_t capacity = outlook->table_capacity;
	outlook->table = memory_grow(outlook->table, outlook->table_count,
	    &outlook->table_capacity, sizeof *outlook->table);
	outlook->table_column = memory_grow(outlook->table_column,
	    outlook->table_count, &capacity, sizeof *outlook->table_column);
	struct fold_table *table = &outlook->table[outlook->table_count];
	outlook->table_column[outlook->table_count++] = column;
	fold_table_init(table, &outlook->pool, column, outlook->series->count);
	return table;
}

static bool
same_key(const struct outlook_band *a, const struct outlook_band *b)
{
	return a->column == b->column && a->fold == b->fold &&
	       a->continuous == b->continuous && a->duration == b->duration &&
	       exposure_same(&a->exposure, &b->exposure);
}

/* The starts from i on that are on the same day end before this one. */
static size_t
day_end(const struct outlook *outlook, size_t i)
{
	int32_t next =
	    outlook->midnight[outlook->day[i] + 1 + OUTLOOK_DAYS_BEFORE];
	size_t count = outlook->series->count;
	return (size_t)next < count ? (size_t)next : count;
}

/*
 * The range of each start for an exposure that hangs on the day. Of its two
 * ends one may move with the start; the other stays for the starts of a day.
 */
static void
lay_out_ranges(const struct outlook *outlook, const struct outlook_band *key,
    int32_t *ret_from, int32_t *ret_to)
{
	const struct instant *begin = &key->exposure.from;
	const struct instant *end = &key->exposure.to;
	int64_t begin_step = hangs_on_job(begin) ? SERIES_STEP : 0;
	int64_t end_step = hangs_on_job(end) ? SERIES_STEP : 0;
	bool stays = begin_step == 0 && end_step == 0;
	size_t i = 0;
	while (i < outlook->series->count) {
		ptrdiff_t from_cell, to_cell;
		size_t last = day_end(outlook, i);
		int64_t from = instant_time(outlook, begin, key->duration, i);
		int64_t to = instant_time(outlook, end, key->duration, i);
		touch_cells(from, to, &from_cell, &to_cell);
		for (; i < last; i++) {
			ret_from[i] = (int32_t)from_cell;
			ret_to[i] =
			    (int32_t)to_cell + (key->continuous ? 1 : 0);
			if (stays)
				continue;
			from += begin_step;
			to += end_step;
			touch_cells(from, to, &from_cell, &to_cell);
		}
	}
}

/* Folds into key->band. */
static void
make_band(struct outlook *outlook, struct outlook_band *key)
{
	const struct exposure *exposure = &key->exposure;
	size_t count = outlook->series->count;
	struct fold_ranges ranges = { 0 };
	int32_t *cells = NULL;
	if (outlook_slides(exposure)) {
		outlook_cells(outlook, exposure, key->duration, 0, &ranges.from,
		    &ranges.to);
		ranges.to += key->continuous ? 1 : 0;
	} else {
		cells = memory_array(2 * count, sizeof *cells);
		lay_out_ranges(outlook, key, cells, cells + count);
		ranges.from_cell = cells;
		ranges.to_cell = cells + count;
	}
	key->band = pool_room(&outlook->pool, 1, sizeof *key->band);
	fold_band(
	    find_table(outlook, key->column), key->fold, &ranges, key->band);
	free(cells);
}

const struct band *
outlook_fold(struct outlook *outlook, const float *column, bool continuous,
    enum fold fold, const struct exposure *exposure, int64_t duration)
{
	struct outlook_band key = { .column = column != NULL ? column
							     : outlook->blank,
		.fold = fold,
		.continuous = continuous,
		.exposure = *exposure,
		.duration = duration_that_counts(exposure, duration) };
	const struct outlook_band *bands = outlook->band;
	size_t count = outlook->band_count, at = outlook->last_band;
	/* Jobs ask in much the same order: look on from the last one found. */
	for (size_t i = 0; i < count; i++) {
		at = at + 1 < count ? at + 1 : 0;
		if (same_key(&bands[at], &key)) {
			outlook->last_band = at;
			return bands[at].band;
		}
	}
	make_band(outlook, &key);
	outlook->band = memory_grow(outlook->band, outlook->band_count,
	    &outlook->band_capacity, sizeof *outlook->band);
	outlook->last_band = outlook->band_count;
	outlook->band[outlook->band_count++] = key;
	return key.band;
}

void
outlook_forget(struct outlook *outlook, const float *column)
{
	size_t tables = 0, bands = 0;
	for (size_t i = 0; i < outlook->table_count; i++) {
		if (outlook->table_column[i] == column)
			continue;
		outlook->table_column[tables] = outlook->table_column[i];
		outlook->table[tables++] = outlook->table[i];
	}
	for (size_t i = 0; i < outlook->band_count; i++)
		if (outlook->band[i].column != column)
			outlook->band[bands++] = outlook->band[i];
	outlook->table_count = tables;
	outlook->band_count = bands;
	outlook->last_band = 0;
}
