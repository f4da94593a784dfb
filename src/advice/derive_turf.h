/* A lawn as turf_state.h asks for it, out of what is known of a site. */
#ifndef ADVICE_DERIVE_TURF_H
#define ADVICE_DERIVE_TURF_H

#include "advice/derive.h"
#include "advice/turf_state.h"

/*
 * Of a series that derive() has seen, for its days and those after them;
 * `facts` may be NULL. The looks are those of the configuration and the
 * keeper's observations of green, by time. Of one local day the one that was
 * told last counts, and one of the configuration before any observation. The
 * soil is that of the series, and before it the site's days, corrected alike.
 */
void turf_lawn_init(struct turf_lawn *lawn, const struct series *series,
    const struct site *site, const struct site_facts *facts);
void turf_lawn_release(struct turf_lawn *lawn); /* also of a zeroed one */

#endif
