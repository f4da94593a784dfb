#include "physics/wind.h"

#include <math.h>

#define LOWEST_HEIGHT 0.0947 /* m: the pole of eq. 47 and a little */
#define GRASS         0.12   /* m: FAO-56's reference */
#define ZERO_PLANE    (GRASS * 2.0 / 3.0)
#define ROUGHNESS     (GRASS * 0.123)

double
wind_at_2m(double wind, double height)
{
	if (!(height > LOWEST_HEIGHT))
		return NAN;
	return wind * 4.87 / log(67.8 * height - 5.42);
}

double
wind_at_height(double wind, double from, double to)
{
	const double lowest = ZERO_PLANE + ROUGHNESS;
	if (!(from > lowest && to > lowest))
		return NAN;
	return wind * log((to - ZERO_PLANE) / ROUGHNESS) /
	       log((from - ZERO_PLANE) / ROUGHNESS);
}
