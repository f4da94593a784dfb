/*
 * One site's series made ready for judging: the local days along its cells,
 * and every fold that was asked for, kept so that jobs share them. An outlook
 * borrows its series and zone and is used by one thread.
 */
#ifndef ADVICE_OUTLOOK_H
#define ADVICE_OUTLOOK_H

#include "advice/fold.h"
#include "base/civil.h"
#include "weather/series.h"

struct outlook_band; /* a kept fold */

struct outlook {
	const struct series *series;
	const struct zone *zone;
	struct pool pool;  /* holds what is borrowed from the outlook */
	int64_t first_day; /* local day of the first cell */
	int32_t *day;      /* local day of each cell less first_day */
	int32_t *midnight; /* first cell of each day, from `days_before`
			      days before first_day on; may lie outside */
	size_t midnight_count;
	float *blank;             /* all NaN, for columns that are absent */
	struct fold_table *table; /* owned */
	const float **table_column;
	size_t table_count, table_capacity;
	struct outlook_band *band; /* owned */
	size_t band_count, band_capacity, last_band;
};

enum { OUTLOOK_DAYS_BEFORE = 31, OUTLOOK_DAYS_AFTER = 31 };

void outlook_init(struct outlook *outlook, const struct series *series,
    const struct zone *zone);
void outlook_release(struct outlook *outlook);

/*
 * The fold of a column (NULL: absent, all unknown; else one that lives as long
 * as the outlook, or until it is forgotten) over the exposure of a job that
 * lasts `duration` seconds, for a start at each cell. `continuous` columns
 * count the instant at the end of a range too. Borrowed until the outlook is
 * released.
 */
const struct band *outlook_fold(struct outlook *outlook, const float *column,
    bool continuous, enum fold fold, const struct exposure *exposure,
    int64_t duration);

/* Before a column goes: what was kept of it, or another one that comes to lie
   in its place would be taken for it. What was borrowed of it stays. */
void outlook_forget(struct outlook *outlook, const float *column);

/* True when both ends hang on the job: then the exposure moves with the start
   and has one length. */
bool outlook_slides(const struct exposure *exposure);

/* The moment of an instant for a start at cell i, UTC; INT64_MIN when that day
   has no such sunrise or sunset, or it is not seen. */
int64_t outlook_time(const struct outlook *outlook,
    const struct instant *instant, int64_t duration, size_t i);

/*
 * The cells that the exposure of a start at cell i touches: [*from, *to), which
 * may lie outside of the series. *to is before *from when the exposure ends
 * before it begins: then it holds nothing (fold.h). Where one end has no time
 * the cells are some before the series, where nothing is known.
 */
void outlook_cells(const struct outlook *outlook,
    const struct exposure *exposure, int64_t duration, size_t i,
    ptrdiff_t *ret_from, ptrdiff_t *ret_to);

#endif
