#include "turf/turf.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

int64_t
job_duration(const struct job *job)
{
	const struct sprayer *sprayer = job->site->sprayer;
	double fills =
	    ceil(job->area * sprayer->carrier / sprayer->tank - 1e-9);
	double seconds = fills * sprayer->fill + job->area / sprayer->pace;
	return (int64_t)ceil(seconds / 300 - 1e-9) * 300;
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
