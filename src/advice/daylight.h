/*
 * Sunrise and sunset of the local days of a series, from the height of the sun
 * in it: where the straight line between two cells passes SUN_HEIGHT_HORIZON
 * (physics/sun.h).
 */
#ifndef ADVICE_DAYLIGHT_H
#define ADVICE_DAYLIGHT_H

#include "base/civil.h"
#include "weather/series.h"

/*
 * Seconds from the series' start to the first sunrise (`rises`) or sunset in
 * the cells [from, to), which are those of one local day and may lie outside of
 * the series. NaN when there is none, and when it is not seen: it lies outside,
 * or cells before it are gaps. A day that has begun before the series is looked
 * at from there on; only close to a polar day can that miss the first of two.
 */
double daylight_pass(
    const struct series *series, ptrdiff_t from, ptrdiff_t to, bool rises);

/*
 * Adds the time since sunrise and that until sunset, each of the cell's own
 * local day. Both run on from cell to cell and jump at midnight.
 */
void daylight_fill(struct series *series, const struct zone *zone);

#endif
