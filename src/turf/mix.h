/*
 * How much goes into the tank: area times rate, tank by tank. The order and the
 * tools are turf/sheet.h's.
 */
#ifndef TURF_MIX_H
#define TURF_MIX_H

#include "turf/turf.h"

struct mix_tank {
	double water;                       /* L of finished mix */
	double area;                        /* m2 it covers */
	double amount[LIMIT_TANK_PRODUCTS]; /* g or L per product */
};

struct mix {
	double carrier; /* L of finished mix in all */
	size_t tank_count;
	struct mix_tank each; /* of all tanks but the last one */
	struct mix_tank last; /* as full as the others, or less */
	bool is_even;         /* the last one is like the others, or alone */
	double total[LIMIT_TANK_PRODUCTS];            /* g or L */
	enum quantity_kind kind[LIMIT_TANK_PRODUCTS]; /* MASS or VOLUME */
};

/*
 * Full tanks and a part of one; or, split `even`, the fewest tanks that hold
 * it, all with the same volume. No tank is over the sprayer's, and the sum of
 * the tanks is area x rate. ERROR_INPUT when a product has no rate.
 */
bool mix_make(
    const struct job *job, bool even, struct mix *ret, struct error *error);

#endif
