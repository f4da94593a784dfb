/*
 * For doses that the scale cannot weigh: weigh more than is needed, dissolve
 * it, and draw the part that each tank needs. A house method (computed); the
 * numbers below are common practice, no source.
 */
#ifndef TURF_STOCK_SOLUTION_H
#define TURF_STOCK_SOLUTION_H

#include "turf/turf.h"

struct stock_solution {
	double mass;     /* g to weigh */
	double volume;   /* L to make it up to, in a marked bottle */
	double strength; /* g/L: the one by the other */
	double off;      /* the most that the weighing is off, as a part */
};

/*
 * Enough for `grams` and 2 % that stay in the bottle; heavy enough that half a
 * step of the scale (g, over 0) is at most 1 % of it; a round number in steps
 * of the scale; to whole mL, about as strong as the card says, else 10 g/L.
 */
struct stock_solution stock_solution_make(
    const struct product *product, double grams, double scale);

/* L that hold the grams. */
double stock_solution_draw(double grams, double strength);

#endif
