/*
 * The few loops over whole columns that folds spend their time in. Each runs
 * in tiles of one known length, so that a compiler turns it into vector code
 * without being asked for more than -O2.
 */
#ifndef ADVICE_LANES_H
#define ADVICE_LANES_H

#include <stdbool.h>
#include <stddef.h>

/* Is there a NaN? */
bool lanes_have_gap(const float *column, size_t count);

/* Copies with each NaN replaced: by -infinity in low, +infinity in high. */
void lanes_widen(const float *column, size_t count, float *low, float *high);

/* ret[i] = the larger (or smaller) of a[i] and b[i]; ret overlaps neither. */
void lanes_join(
    const float *a, const float *b, size_t count, bool max, float *ret);

/* Sets gap[t] where a and b differ somewhere in tile t of FOLD_TILE items. */
void lanes_mark_gaps(const float *a, const float *b, size_t count, bool *gap);

#endif
