#include "advice/drift.h"

#include <math.h>

/* Degrees: what prints alike is alike, though a column is of floats. */
#define GRAIN 1e-3

/* Degrees between two directions, 0 to 180. */
static double
degrees_apart(double a, double b)
{
	return fabs(remainder(a - b, 360));
}

const struct sensitive_side *
drift_side(const struct site *site, double direction)
{
	const struct sensitive_side *nearest = NULL;
	double least = DRIFT_HALF_WIDTH + GRAIN;
	for (size_t i = 0; i < site->side_count; i++) {
		double apart =
		    degrees_apart(direction + 180, site->side[i].bearing);
		if (!(apart < least))
			continue;
		least = apart;
		nearest = &site->side[i];
	}
	return nearest;
}

void
drift_fill(struct series *series, const struct site *site)
{
	const float *wind = series->column[MEASURE_WIND];
	const float *from = series->column[MEASURE_WIND_DIRECTION];
	float *drift = series_column(series, MEASURE_DRIFT);
	bool is_told = wind != NULL && from != NULL;
	for (size_t i = 0; i < series->count; i++) {
		bool is_known = is_told && wind[i] >= (float)DRIFT_LIGHT_AIR &&
				!isnan(from[i]);
		bool blows =
		    is_known && drift_side(site, (double)from[i]) != NULL;
		drift[i] = blows ? 1.0F : 0.0F;
		if (site->side_count > 0 && !is_known)
			drift[i] = NAN;
	}
}
