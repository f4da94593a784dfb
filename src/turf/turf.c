#include "turf/turf.h"

#include <math.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

int64_t
job_duration(const struct job *job)
{
	const struct sprayer *sprayer = job->sprayer;
	double fills =
	    ceil(job->area * sprayer->carrier / sprayer->tank - 1e-9);
	double seconds = fills * sprayer->fill + job->area / sprayer->pace;
	return (int64_t)ceil(seconds / 300 - 1e-9) * 300;
}

double
dose_on_ground(const struct dose *dose, const struct sprayer *sprayer)
{
	if (!(dose->rate > 0))
		return (double)NAN;
	return quantity_is_per_area(dose->rate_kind)
		   ? dose->rate
		   : dose->rate * sprayer->carrier;
}

char *
tank_print(char *buffer, size_t size, const struct tank_mix *tank)
{
	size_t used = 0;
	buffer[0] = '\0';
	for (size_t i = 0; i < tank->count && used < size; i++) {
		int wrote = snprintf(buffer + used, size - used, "%s%s",
		    i > 0 ? " + " : "", tank->dose[i].product->name);
		used += wrote > 0 ? (size_t)wrote : 0;
	}
	return buffer;
}

const char *
event_word(enum event_kind kind)
{
	static const char *const words[EVENT_KINDS] = { "green", "soil", "rain",
		"irrigation", "mowing", "seeding", "sodding", "overseeding",
		"aerating" };
	return words[kind];
}

const char *
species_word(enum turf_species species)
{
	static const char *const word[TURF_SPECIES_END] = { "", "bermuda",
		"zoysia", "centipede", "st-augustine" };
	return word[species];
}

const struct active *
product_find_active(const struct product *product, const char *name)
{
	for (size_t i = 0; i < product->active_count; i++)
		if (strcasecmp(product->active[i].name, name) == 0)
			return &product->active[i];
	return NULL;
}

double
product_active(const struct product *product, const char *name, double amount,
    bool is_mass)
{
	const double unknown = (double)NAN;
	const struct active *active = product_find_active(product, name);
	bool is_silent =
	    product->active_count == 0 && product->kind == PRODUCT_HERBICIDE;
	if (active == NULL)
		return is_silent ? unknown : 0;
	return active->is_liquid == is_mass ? unknown
					    : active->content * amount;
}

int64_t
application_last(const struct application *applications, size_t count,
    const char *site, const char *product, int64_t time)
{
	int64_t last = INT64_MIN;
	for (size_t i = 0; i < count; i++) {
		const struct application *one = &applications[i];
		if (one->at <= time && one->at > last &&
		    strcmp(one->site, site) == 0 &&
		    strcmp(one->product, product) == 0)
			last = one->at;
	}
	return last;
}
