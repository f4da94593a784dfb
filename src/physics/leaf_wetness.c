#include "physics/leaf_wetness.h"

#include <math.h>

#define DRY_DEPRESSION 3.7  /* K */
#define STRONG_WIND    2.5  /* m/s */
#define DRY_HUMIDITY   87.8 /* percent, in strong wind */

static double
score_light_wind(double t, double depression, double humidity, double wind)
{
	return 1.6064 * sqrt(t) + 0.0036 * t * t + 0.1531 * humidity -
	       0.4599 * wind * depression - 0.0035 * t * humidity - 14.4674;
}

/*
 * The humidity is squared. Most public copies of the model have lost the
 * square; then the score stays below its limit in any dew, and no leaf is ever
 * wet in this wind.
 */
static double
score_strong_wind(double t, double depression, double humidity, double wind)
{
	return 0.7921 * sqrt(t) + 0.0046 * humidity * humidity - 2.3889 * wind -
	       0.0390 * t * wind + 1.0613 * wind * depression - 37.0;
}

double
leaf_wet(double temperature, double dew_point_depression, double humidity,
    double wind)
{
	if (dew_point_depression >= DRY_DEPRESSION)
		return 0.0;
	if (!(wind >= 0.0))
		return NAN;
	if (wind >= STRONG_WIND && humidity < DRY_HUMIDITY)
		return 0.0;
	if (!(temperature >= 0.0))
		return NAN;
	double (*score)(double, double, double, double) =
	    wind < STRONG_WIND ? score_light_wind : score_strong_wind;
	double value = score(temperature, dew_point_depression, humidity, wind);
	if (isnan(value))
		return NAN;
	return value > 0.0 ? 1.0 : 0.0;
}
