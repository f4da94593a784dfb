/*
 * How much goes into the tank: area times rate, tank by tank. This is the
 * plain sheet; order and stock solutions belong to a later one.
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
	size_t full_count;    /* tanks that are filled to the top: the first */
	struct mix_tank full; /* meaningful when full_count > 0 */
	struct mix_tank last; /* the partial one, when there is one */
	bool has_last;
	double total[LIMIT_TANK_PRODUCTS];            /* g or L */
	enum quantity_kind kind[LIMIT_TANK_PRODUCTS]; /* MASS or VOLUME */
};

/*
 * The sum of the tanks is area x rate. ERROR_INPUT when a product has no rate.
 */
bool mix_make(const struct job *job, struct mix *ret, struct error *error);

#endif
