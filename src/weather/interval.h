/*
 * ISO 8601 time intervals as forecasts write them: "start/duration",
 * "start/end" and "duration/end", with "Z" or "+hh:mm", durations of days,
 * hours, minutes, seconds and weeks (years and months are refused: they have
 * no fixed length).
 */
#ifndef WEATHER_INTERVAL_H
#define WEATHER_INTERVAL_H

#include "base/error.h"

#include <stdint.h>

/* *ret_from < *ret_to, UTC seconds; both left alone on failure. */
bool interval_parse(
    const char *text, int64_t *ret_from, int64_t *ret_to, struct error *error);

/* "P1DT6H", "PT90M"; seconds, over 0. */
bool duration_parse(const char *text, int64_t *ret, struct error *error);

#endif
