/*
 * How far everybody stays away while it is being sprayed: the application
 * exclusion zone of US farms, 40 CFR 170.405(a)(1) in the text in force since
 * 3 December 2024 (read in a copy). A home lawn is not under that rule; it is a
 * measure of what is far enough, and the label or a local rule may ask for
 * more.
 */
#ifndef TURF_EXCLUSION_H
#define TURF_EXCLUSION_H

#include "turf/turf.h"

/*
 * m, for a ground sprayer: 100 ft when the droplets are finer than medium, 25
 * ft for medium or coarser from over 12 in, else 0. NaN when the droplets are
 * not said, or only the height (m, NaN: not said) would tell.
 */
double exclusion_zone(enum droplets droplets, double release_height);

/*
 * "Keep everybody 25 ft away while you spray." or "" when there is no zone or
 * it is not known. Returns buffer.
 */
char *exclusion_print(char *buffer, size_t size, const struct sprayer *sprayer,
    enum unit_system units);

#endif
