/* The sprayers as they spray today: the configuration's, each with its last
   calibration. */
#ifndef SERVICE_SPRAYERS_H
#define SERVICE_SPRAYERS_H

#include "service/keeper.h"

/*
 * An array for free(), as long and in the order of config.sprayers; strings
 * are borrowed from the configuration. A catch that was stored counts from its
 * local day on, over the configuration's carrier when that was calibrated
 * earlier or nobody says when; its pace counts when it was timed. Catches later
 * than `now` are left out.
 */
bool sprayers_load(const struct keeper *keeper, int64_t now,
    struct sprayer **ret, struct error *error);

/* The clocks where a sprayer of that name is used; UTC when no site has it. */
const struct zone *sprayers_zone(const struct config *config, const char *name);

/* The one of `sprayers` that the site uses. */
const struct sprayer *sprayers_of(const struct config *config,
    const struct sprayer *sprayers, const struct site *site);

#endif
