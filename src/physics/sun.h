/*
 * Where the sun stands. Own short routine after Meeus, Astronomical Algorithms
 * (2nd ed. 1998), low-accuracy solar position (chapter 25) and sidereal time
 * (chapter 12), because the packaged library was measured 88 s wrong in 2026.
 * Good to a few seconds of rise and set below 60 degrees of latitude.
 *
 * Latitude and longitude are degrees, north and east positive. Times are UTC
 * seconds since 1970.
 */
#ifndef PHYSICS_SUN_H
#define PHYSICS_SUN_H

#include <stdint.h>

/* Height of the sun's centre over the horizon, degrees, without refraction. */
double sun_height(double latitude, double longitude, double utc);

/* Heights that define the events below. */
#define SUN_HEIGHT_HORIZON (-0.8333) /* refraction 34' and half disc 16' */
#define SUN_HEIGHT_CIVIL   (-6.0)    /* civil twilight */

/*
 * The first moment in (from, from + 86400] at which the sun's centre passes
 * `height` upwards (rise) or downwards (set). NaN when it does not. Give the
 * local midnight as `from`: then a US evening's sunset stays on its own civil
 * date, though it falls on the next day in UTC. At the edge of a polar day an
 * up and down within ten minutes may be missed.
 */
double sun_rise(double latitude, double longitude, double from, double height);
double sun_set(double latitude, double longitude, double from, double height);

#endif
