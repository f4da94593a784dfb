#include "physics/sun.h"

#include <math.h>
#include <stdbool.h>

#define RADIAN         (3.14159265358979323846 / 180.0)
#define EPOCH_2000     946728000.0 /* 2000-01-01 12:00 UTC, since 1970 */
#define DAY            86400.0
#define CENTURY        (36525.0 * DAY)
#define DYNAMICAL_LEAD 69.0 /* s, dynamical time less UTC in the 2020s */
#define SCAN_STEP      600.0
#define SCAN_STEPS     144 /* one day */
#define REFINED_TO     0.1

/*
 * Meeus, Astronomical Algorithms (2nd ed.), chapter 25: apparent longitude
 * and true obliquity; chapter 12: sidereal time with the nutation that
 * matters. The height comes from the sun's direction as a vector, which
 * saves the arc functions of right ascension and declination.
 */
double
sun_height(double latitude, double longitude, double utc)
{
	double t = (utc + DYNAMICAL_LEAD - EPOCH_2000) / CENTURY;
	double mean_longitude = 280.46646 + t * (36000.76983 + t * 0.0003032);
	double anomaly =
	    (357.52911 + t * (35999.05029 - t * 0.0001537)) * RADIAN;
	double sin_1 = sin(anomaly);
	double cos_1 = cos(anomaly);
	double centre = (1.914602 - t * (0.004817 + t * 0.000014)) * sin_1 +
			(0.019993 - t * 0.000101) * 2.0 * sin_1 * cos_1 +
			0.000289 * sin_1 * (3.0 - 4.0 * sin_1 * sin_1);
	double node = (125.04 - 1934.136 * t) * RADIAN;
	double nutation = -0.00478 * sin(node);
	double lambda = (mean_longitude + centre - 0.00569 + nutation) * RADIAN;
	double obliquity =
	    (23.439291 - 0.0130042 * t + 0.00256 * cos(node)) * RADIAN;
	double cos_obliquity = cos(obliquity);
	double sin_lambda = sin(lambda);
	double east = cos_obliquity * sin_lambda;
	double north = sin(obliquity) * sin_lambda;

	double days = (utc - EPOCH_2000) / DAY;
	double sidereal = fmod(280.46061837 + 360.98564736629 * days, 360.0) +
			  nutation * cos_obliquity + longitude;
	double turn = sidereal * RADIAN;
	double up = sin(latitude * RADIAN) * north +
		    cos(latitude * RADIAN) *
			(cos(lambda) * cos(turn) + east * sin(turn));
	/* Rounding may pass 1; a NaN must pass through. */
	if (fabs(up) > 1.0)
		up = copysign(1.0, up);
	return asin(up) / RADIAN;
}

struct place {
	double latitude, longitude;
	double height; /* the one to cross */
	double sign;   /* 1 rising, -1 setting */
};

/* Over 0 once the sun has passed the height in the wanted direction. */
static double
measure_passed(const struct place *place, double utc)
{
	return place->sign *
	       (sun_height(place->latitude, place->longitude, utc) -
		   place->height);
}

static double
refine(const struct place *place, double before, double after)
{
	while (after - before > REFINED_TO) {
		double middle = (before + after) / 2.0;
		if (measure_passed(place, middle) < 0.0)
			before = middle;
		else
			after = middle;
	}
	return (before + after) / 2.0;
}

/*
 * A sun that shows itself for less than a step can be missed; at such a place
 * refraction decides about the event anyway.
 */
static double
find_crossing(const struct place *place, double from)
{
	bool was_before = measure_passed(place, from) < 0.0;
	for (int step = 0; step < SCAN_STEPS; step++) {
		double at = from + step * SCAN_STEP;
		double passed = measure_passed(place, at + SCAN_STEP);
		if (was_before && passed >= 0.0)
			return refine(place, at, at + SCAN_STEP);
		was_before = passed < 0.0;
	}
	return NAN;
}

double
sun_rise(double latitude, double longitude, double from, double height)
{
	struct place place = { latitude, longitude, height, 1.0 };
	return isfinite(from) ? find_crossing(&place, from) : NAN;
}

double
sun_set(double latitude, double longitude, double from, double height)
{
	struct place place = { latitude, longitude, height, -1.0 };
	return isfinite(from) ? find_crossing(&place, from) : NAN;
}
