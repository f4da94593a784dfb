#include "turf/exclusion.h"

#include <math.h>
#include <stdio.h>

#define FOOT 0.3048

double
exclusion_zone(enum droplets droplets, double release_height)
{
	if (droplets == DROPLETS_UNSAID)
		return (double)NAN;
	if (droplets < DROPLETS_MEDIUM)
		return 100 * FOOT;
	if (isnan(release_height))
		return (double)NAN;
	/* 12 in are one foot, however the metres were rounded */
	return release_height > FOOT * (1 + 1e-9) ? 25 * FOOT : 0;
}

char *
exclusion_print(char *buffer, size_t size, const struct sprayer *sprayer,
    enum unit_system units)
{
	char distance[QUANTITY_BUFFER];
	double zone =
	    exclusion_zone(sprayer->droplets, sprayer->release_height);
	buffer[0] = '\0';
	if (zone > 0)
		(void)snprintf(buffer, size,
		    "Keep everybody %s away while you spray.",
		    quantity_print(distance, sizeof distance, zone,
			QUANTITY_LENGTH, units));
	return buffer;
}
