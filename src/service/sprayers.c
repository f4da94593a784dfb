#include "service/sprayers.h"

#include "base/memory.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

const struct zone *
sprayers_zone(const struct config *config, const char *name)
{
	static const struct zone utc = { 0 };
	for (size_t i = 0; i < config->site_count; i++)
		if (strcmp(config->sites[i].sprayer->name, name) == 0)
			return &config->sites[i].zone;
	return &utc;
}

static void
take(const struct config *config, const struct stored_calibration *caught,
    struct sprayer *sprayers)
{
	int64_t day =
	    civil_day(sprayers_zone(config, caught->sprayer), caught->at);
	for (size_t i = 0; i < config->sprayer_count; i++) {
		struct sprayer *sprayer = &sprayers[i];
		if (strcmp(sprayer->name, caught->sprayer) != 0 ||
		    day < sprayer->calibrated)
			continue;
		sprayer->carrier = caught->carrier;
		sprayer->calibrated = day;
		if (!isnan(caught->pace))
			sprayer->pace = caught->pace;
	}
}

bool
sprayers_load(const struct keeper *keeper, int64_t now, struct sprayer **ret,
    struct error *error)
{
	const struct config *config = &keeper->config;
	struct stored_calibration *caught;
	size_t count;
	if (!store_calibrations(keeper->store, &caught, &count, error))
		return false;
	struct sprayer *sprayers =
	    memory_array(config->sprayer_count, sizeof *sprayers);
	for (size_t i = 0; i < config->sprayer_count; i++)
		sprayers[i] = config->sprayers[i];
	for (size_t i = 0; i < count; i++)
		if (caught[i].at <= now)
			take(config, &caught[i], sprayers);
	stored_calibrations_free(caught, count);
	*ret = sprayers;
	return true;
}

const struct sprayer *
sprayers_of(const struct config *config, const struct sprayer *sprayers,
    const struct site *site)
{
	return &sprayers[site->sprayer - config->sprayers];
}
