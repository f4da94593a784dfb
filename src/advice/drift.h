/*
 * Where the wind takes the drift. It blows the other way than it is named: a
 * west wind, 270 degrees, towards 90. Rule and vectors: do not spray while the
 * wind blows towards a sensitive area (Agriculture Victoria, Spray drift
 * restraints and buffer zones, read).
 */
#ifndef ADVICE_DRIFT_H
#define ADVICE_DRIFT_H

#include "turf/turf.h"
#include "weather/series.h"

/* Degrees to each side of a bearing that count as towards it, the last one
   with them: common practice, no source. */
#define DRIFT_HALF_WIDTH 45.0

/*
 * Under so much wind no forecast of its direction holds: m/s, 3 mph, at 10 m as
 * forecast. Below 2 to 3 mph direction is variable: US Environmental Protection
 * Agency, spray drift wording for labels, from memory.
 */
#define DRIFT_LIGHT_AIR 1.34112

/* The side of the site that a wind from `direction` (degrees) blows towards, of
   several the one closest to its line; NULL: none, or direction is NaN. */
const struct sensitive_side *drift_side(
    const struct site *site, double direction);

/*
 * Writes the whole drift column: 1 when the wind blows towards a side of the
 * site, 0 when not and where the site has none; unknown when wind or direction
 * is, and in light air.
 */
void drift_fill(struct series *series, const struct site *site);

#endif
