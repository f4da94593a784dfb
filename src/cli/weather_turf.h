/* What `lull weather` says about the turf of a site and its soil. */
#ifndef CLI_WEATHER_TURF_H
#define CLI_WEATHER_TURF_H

#include "cli/session.h"

/* A line for each; none for a site without looks, or without soil. */
void weather_turf_add(
    struct session *session, const struct board_site *site, int64_t now);

/* The members "turf" and "soil". */
void weather_turf_add_json(struct session *session, cJSON *json,
    const struct board_site *site, int64_t now);

#endif
