/* How strongly the air near the ground mixes up and down. */
#ifndef PHYSICS_STABILITY_H
#define PHYSICS_STABILITY_H

/* Pasquill's classes as numbers; a class is a double so that it can be NaN. */
#define STABILITY_VERY_UNSTABLE 1.0 /* A */
#define STABILITY_NEUTRAL       4.0 /* D */
#define STABILITY_SLIGHT        5.0 /* E: slightly stable */
#define STABILITY_STABLE        6.0 /* F */
#define STABILITY_VERY_STABLE   7.0 /* G */

/*
 * The class 1..7 by Turner's method (1964) as printed in US EPA-454/R-99-005,
 * section 6.4.1, tables 6-4 to 6-6. Sun's height in degrees, total cloud in
 * percent, wind at 10 m in m/s. That guide then counts 7 as 6; here it stays.
 *
 * Where the method asks for what a forecast does not tell, the more stable of
 * the possible answers is taken. Stable air is what holds a cloud of fine drops
 * together, so a user who is kept waiting has lost less than one who is let go.
 * Whoever minds unstable air more must not use this.
 *
 * - The height of the cloud is unknown. By day it is taken to be below 7,000
 *   feet: more than half a sky takes two from the class of the sun, and a full
 *   sky is neutral. By night it is taken to be higher, so that a full sky is
 *   not the neutral case but only the cloudy one.
 * - The table counts tenths of the sky. A percentage between two tenths is
 *   rounded up by day and down by night.
 * - Turner's night ends an hour after sunrise and begins an hour before sunset.
 *   In an hour the sun moves through 15 degrees, so in that time it cannot get
 *   higher above the horizon. All of the time when it stands at 15 degrees or
 *   lower is taken for night: Turner's night in every place and season, and
 *   more of it the farther from the equator. The table's weakest sun, which is
 *   that of 15 degrees and lower, is so never used by itself.
 *
 * An unknown input (NaN) gives NaN, unless every possible value of it gives the
 * same class: a night of strong wind is neutral under any cloud. An impossible
 * input gives NaN: cloud outside 0..100, wind below 0, sun beyond 90 degrees.
 */
double stability_class(
    double sun_height_degrees, double cloud_percent, double wind_10m_m_s);

#endif
