/*
 * Folds of one column over ranges of its cells, each in constant time after a
 * table is built. The tables are shared by all jobs that look at the column,
 * so their cost of n log(longest range) is paid once a site, not once a job.
 *
 * Unknown cells are not a special case: a fold is a band [low, high] that the
 * true value must lie in. A gap widens it to infinity on the side where the
 * missing value could move it. So "the day's maximum is over 85" can be known
 * from the hours at hand though the rest are missing, and "is at most 85"
 * cannot. Cells outside the column are gaps.
 *
 * A range that ends where it begins, or before, holds nothing, and that is
 * known, whatever the column. Nothing in it is too high or too low, it holds no
 * 1, and its sum is 0; it has no mean. So nothing there can break a rule about
 * all of an exposure, and a rule that wants to find something finds nothing.
 */
#ifndef ADVICE_FOLD_H
#define ADVICE_FOLD_H

#include "base/pool.h"
#include "turf/rule.h"

#include <stddef.h>
#include <stdint.h>

enum { FOLD_LEVELS = 16, FOLD_TILE = 64 };

/* Running extremes: level[k][i] is over the 2^k cells from i. */
struct fold_ladder {
	const float *level[FOLD_LEVELS]; /* built when first asked for */
};

struct fold_table {
	struct pool *pool;   /* borrowed; holds all that the table builds */
	const float *column; /* borrowed; NaN where unknown */
	size_t count;
	bool has_gaps;
	const float *low, *high; /* gaps as -inf and +inf; both are the column
				    itself when there are none */
	struct fold_ladder max_low, max_high, min_low, min_high;
	double *sum;    /* sum[i] over the cells before i, gaps as 0 */
	uint32_t *gaps; /* number of gaps before i */
};

/* One answer for each start; the arrays are in the table's pool. */
struct band {
	size_t count;
	float *low, *high;
	bool *gap; /* one for each tile of FOLD_TILE starts: somewhere in it low
		      and high differ */
};

/* Range of cells for start i: [i + from, i + to), or from tables when set. */
struct fold_ranges {
	ptrdiff_t from, to;
	const int32_t *from_cell, *to_cell; /* borrowed; both or neither */
};

/* The fold over nothing at all; NaN for the mean. */
double fold_of_nothing(enum fold fold);

/* Both live as long as the pool does. */
void fold_table_init(struct fold_table *table, struct pool *pool,
    const float *column, size_t count);

/* Fills `ret` (count starts) from the table. */
void fold_band(struct fold_table *table, enum fold fold,
    const struct fold_ranges *ranges, struct band *ret);

#endif
