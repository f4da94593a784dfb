/*
 * What the readers of the United States National Weather Service share.
 */
#ifndef WEATHER_NWS_PROBLEM_H
#define WEATHER_NWS_PROBLEM_H

#include "weather/strict_json.h"

/*
 * Refuses a document that is not `wanted` ("a list of alerts") because it has
 * no `lacking` ("features"): in the service's own words when it is its error
 * document (RFC 7807, application/problem+json). Always returns false.
 */
bool nws_refuse_problem(const cJSON *root, const char *wanted,
    const char *lacking, struct error *error);

#endif
