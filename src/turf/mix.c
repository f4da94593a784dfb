#include "turf/mix.h"

#include <math.h>

/* Grams or litres of one dose for an area and the mix that covers it. */
static double
amount_for(const struct dose *dose, double area, double water)
{
	switch (dose->rate_kind) {
	case QUANTITY_MASS_PER_AREA:
	case QUANTITY_VOLUME_PER_AREA:
		return dose->rate * area;
	default: /* per volume of finished mix */
		return dose->rate * water;
	}
}

static void
fill_tank(const struct job *job, double water, struct mix_tank *ret)
{
	ret->water = water;
	ret->area = water / job->site->sprayer->carrier;
	for (size_t i = 0; i < job->tank.count; i++)
		ret->amount[i] =
		    amount_for(&job->tank.dose[i], ret->area, water);
}

bool
mix_make(const struct job *job, struct mix *ret, struct error *error)
{
	const struct sprayer *sprayer = job->site->sprayer;
	struct mix mix = { .carrier = job->area * sprayer->carrier };
	for (size_t i = 0; i < job->tank.count; i++) {
		const struct dose *dose = &job->tank.dose[i];
		if (!(dose->rate > 0))
			return error_set(error, ERROR_INPUT,
			    "%s has no rate: put one on its card or write "
			    "%s=RATE when you queue it",
			    dose->product->name, dose->product->name);
		mix.kind[i] =
		    dose->rate_kind == QUANTITY_MASS_PER_AREA ||
			    dose->rate_kind == QUANTITY_MASS_PER_VOLUME
			? QUANTITY_MASS
			: QUANTITY_VOLUME;
		mix.total[i] = amount_for(dose, job->area, mix.carrier);
	}
	double tanks = mix.carrier / sprayer->tank;
	mix.full_count = (size_t)floor(tanks + 1e-9);
	double rest = mix.carrier - (double)mix.full_count * sprayer->tank;
	mix.has_last = rest > 1e-6 * sprayer->tank;
	mix.tank_count = mix.full_count + (mix.has_last ? 1 : 0);
	fill_tank(job, sprayer->tank, &mix.full);
	if (mix.has_last)
		fill_tank(job, rest, &mix.last);
	*ret = mix;
	return true;
}
