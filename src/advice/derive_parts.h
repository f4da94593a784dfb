/* The parts of derive() and what they share; for the derive files alone. */
#ifndef ADVICE_DERIVE_PARTS_H
#define ADVICE_DERIVE_PARTS_H

#include "advice/derive.h"

#include <math.h>

static inline float
cell_or_unknown(const struct series *series, enum measure measure, size_t i)
{
	const float *column = series->column[measure];
	return column == NULL ? NAN : column[i];
}

/* Wind at 2 m, freezing, stability, leaf wetness and inversion: after wetness,
   humidity, dew point and the sun's height. */
void derive_air(struct series *series, const struct site *site);

/* Soil temperature and degree days. */
void derive_soil(struct series *series, const struct site *site,
    const struct site_facts *facts);

/*
 * The soil of `count` local days from `first` on, corrected as the column is:
 * the mean of the column where it holds the whole day, else what a source gave,
 * else the model's. After derive_soil.
 */
void derive_daily_soil(const struct series *series, const struct site *site,
    const struct site_facts *facts, int64_t first, size_t count, double *ret);

/* The time since and until what the keeper told of. */
void derive_events(struct series *series, const struct site *site,
    const struct site_facts *facts);

/* The turf's state: after the soil temperature. */
void derive_turf(struct series *series, const struct site *site,
    const struct site_facts *facts);

#endif
