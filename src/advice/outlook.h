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
 * as the outlook) over the exposure of a job that lasts `duration` seconds, for
 * a start at each cell. `continuous` columns count the instant at the end of a
 * range too. Borrowed until the outlook is released.
 */
const struct band *outlook_fold(struct outlook *outlook, const float *column,
    bool continuous, enum fold fold, const struct exposure *exposure,
    int64_t duration);

/* The cells that the exposure of a start at cell i touches: [*from, *to), which
 * may lie outside the series. */
void outlook_cells(const struct outlook *outlook,
    const struct exposure *exposure, int64_t duration, size_t i,
    ptrdiff_t *ret_from, ptrdiff_t *ret_to);

#endif
