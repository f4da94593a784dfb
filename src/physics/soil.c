#include "physics/soil.h"

#define WEIGHTS      66.0 /* 1 + 2 + ... + 11 */
#define TO_YEARLY    0.2
#define BIAS_FOLLOWS 0.5

double
soil_temperature_model(const double daily_mean[SOIL_DAYS], double yearly_mean)
{
	double sum = 0.0;
	for (int i = 0; i < SOIL_DAYS; i++)
		sum += (i + 1) * daily_mean[i];
	double recent = sum / WEIGHTS;
	return recent + TO_YEARLY * (yearly_mean - recent);
}

double
soil_bias(const double *difference, size_t count)
{
	if (count == 0)
		return 0.0;
	double bias = difference[0];
	for (size_t i = 1; i < count; i++)
		bias += BIAS_FOLLOWS * (difference[i] - bias);
	return bias;
}
