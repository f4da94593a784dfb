#include "turf/mix.h"

#include <math.h>

/* A tank that is fuller than it can be by rounding alone is no second tank. */
#define HAIR 1e-9

/* Grams or litres of one dose for an area and the mix that covers it. */
static double
amount_for(const struct dose *dose, double area, double water)
{
	return dose->rate *
	       (quantity_is_per_area(dose->rate_kind) ? area : water);
}

static bool
add_totals(const struct job *job, struct mix *mix, struct error *error)
{
	for (size_t i = 0; i < job->tank.count; i++) {
		const struct dose *dose = &job->tank.dose[i];
		if (!(dose->rate > 0))
			return error_set(error, ERROR_INPUT,
			    "%s has no rate: put one on its card or write "
			    "%s=RATE when you queue it",
			    dose->product->name, dose->product->name);
		mix->kind[i] = quantity_is_by_mass(dose->rate_kind)
				   ? QUANTITY_MASS
				   : QUANTITY_VOLUME;
		mix->total[i] = amount_for(dose, job->area, mix->carrier);
	}
	return true;
}

/* A part of the whole. */
static void
fill_tank(const struct job *job, const struct mix *mix, double part,
    struct mix_tank *ret)
{
	ret->water = mix->carrier * part;
	ret->area = job->area * part;
	for (size_t i = 0; i < job->tank.count; i++)
		ret->amount[i] = mix->total[i] * part;
}

bool
mix_make(const struct job *job, bool even, struct mix *ret, struct error *error)
{
	struct mix mix = { .carrier = job->area * job->sprayer->carrier };
	if (!add_totals(job, &mix, error))
		return false;
	double tanks = mix.carrier / job->sprayer->tank;
	double count = fmax(1, ceil(tanks - HAIR));
	bool alike = even || count == 1 || fabs(tanks - count) <= HAIR * count;
	double part = alike ? 1 / count : 1 / tanks;
	mix.tank_count = (size_t)count;
	mix.is_even = alike;
	fill_tank(job, &mix, part, &mix.each);
	fill_tank(job, &mix, 1 - (count - 1) * part, &mix.last);
	if (alike)
		mix.last = mix.each;
	*ret = mix;
	return true;
}
