/*
 * What a sprayer puts down, found with a jug, a tape and a watch. Plain
 * arithmetic in canonical units: L, m2, m, s, L/m2, L/s, m/s, m2/s.
 *
 * An argument that is NaN, infinite, 0 or less makes the answer NaN, except
 * where an error is taken: nothing is found out from no water, no time or no
 * ground.
 */
#ifndef TURF_CALIBRATION_H
#define TURF_CALIBRATION_H

#include "turf/turf.h"

#include <stddef.h>

/* L/m2 of what was caught in the time that the area takes, or sprayed on it. */
double calibration_carrier(double caught, double area);

/*
 * m to walk with a swath so that 1/128 acre (43,560 ft2 / 128, in any shape) is
 * covered: a gallon has 128 fluid ounces, so each ounce that is caught in that
 * time is a gallon to the acre. LSU AgCenter, "Ounces Equal Gallons"; Ohio
 * State University Extension, Bulletin 817-00 (both read).
 */
double calibration_course(double swath);

/* Ground was walked, and the nozzles of the swath then sprayed into a jug. */
struct calibration_walk {
	double area;      /* m2; of a course: swath x length */
	double time;      /* s to cover it */
	double caught;    /* L */
	double caught_in; /* s; `time` when it was caught for as long */
};

/* L/m2: the flow into the jug, over what is covered in a second. */
double calibration_walk_carrier(const struct calibration_walk *walk);

/*
 * carrier = flow / (swath x speed): gal/acre are 5940 x gal/min / (mph x in),
 * which is 43,560 x 12 x 60 / 5280 (printed by Albany County Weed and Pest,
 * read). The flow is that of all nozzles of the swath.
 */
struct calibration_nozzle {
	double carrier, flow, swath, speed;
};

/*
 * Fills in the one that is NaN from the other three; from a wanted carrier that
 * is the speed to hold. ERROR_INPUT unless it is just one and the others are
 * finite and over 0.
 */
bool calibration_solve(struct calibration_nozzle *nozzle, struct error *error);

/* The mean of timed walks, or of catches. NaN when there is none, and when one
   of them is not over 0. */
double calibration_mean(const double *value, size_t count);

/* m2/s that are covered at a walking speed. */
double calibration_pace(double swath, double speed);

/* m2 that a tank is enough for. */
double calibration_reach(double tank, double carrier);

/* How much more than `usual` was caught, as a part of it: 0.05 is 5 % more. */
double calibration_excess(double caught, double usual);

/*
 * Both take an excess; false for NaN. One nozzle among several is uneven when
 * it is more than 5 % off their mean (Ohio State University Extension, Bulletin
 * 817-00, read). One is unlike new when it is more than 10 % off what it gave
 * new: over it is worn (Ohio State University Extension, sprayer preparation,
 * 2019, read), under it is clogged.
 */
bool calibration_is_uneven(double excess);
bool calibration_is_unlike_new(double excess);

/* True when what the sprayer puts down was caught longer ago than that holds;
   false when nobody said when. `today` is a civil day. */
bool calibration_is_stale(const struct sprayer *sprayer, int64_t today);

#endif
