/* Columns that follow from what is there: written once, here. */
#ifndef ADVICE_DERIVE_H
#define ADVICE_DERIVE_H

#include "turf/turf.h"
#include "weather/series.h"

/*
 * A block of rain of this much or more is wet: 0.01 in, the amount in the US
 * definition of the chance of precipitation (AMS Glossary of Meteorology).
 */
#define DERIVE_WET_MM 0.25

/*
 * Adds to the series, over the cells it has:
 *  - humidity from dew point or dew point from humidity, as a whole column,
 *    when exactly one of the two is there;
 *  - delta T from air temperature and humidity (physics/psychrometrics.h); what
 *    follows from two continuous columns is continuous;
 *  - wet: 1 when the step's block amount is DERIVE_WET_MM or more or its chance
 *    is the site's limit or more; a part that is missing is left to the other,
 *    both missing is unknown;
 *  - the sun's height at the start of each cell, continuous;
 *  - the turf's state as the keeper told it, each telling trusted for
 *    site->told_holds and no longer;
 *  - preferred hours: 1 where the whole cell lies in one of the site's.
 */
void derive(struct series *series, const struct site *site);

/*
 * Fills `column` (series->count cells) with the local days since the product
 * was last applied to the site, +infinity when it never was.
 */
void derive_days_since(const struct series *series, const struct site *site,
    const char *product, const struct application *applications, size_t count,
    float *column);

#endif
