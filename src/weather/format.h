/*
 * The public forecast formats. A reader is a pure function: bytes in, series
 * out; no network, no clock. Adding a format is one file and one row here.
 *
 * A reader refuses (ERROR_INPUT) what is not a whole, well-formed document of
 * its format, states a unit of the wrong dimension, contradicts itself
 * (overlapping intervals in a layer), or holds no air temperature at all.
 * Missing layers and null values are gaps: NaN, never zero. *ret is
 * initialised on success only; release it with series_release.
 */
#ifndef WEATHER_FORMAT_H
#define WEATHER_FORMAT_H

#include "weather/series.h"

struct format {
	const char *name;   /* as the configuration writes it */
	const char *accept; /* the Accept header to send */
	const char *credit; /* attribution line for calendar and page */
	bool (*read)(const char *bytes, size_t length, struct series *ret,
	    struct error *error);
};

/* NULL when there is none of that name. */
const struct format *format_find(const char *name);

/* The i-th format, NULL after the last. */
const struct format *format_at(size_t i);

/*
 * United States National Weather Service, raw gridpoint document
 * (application/geo+json): layers of {validTime, value} with ISO 8601
 * start/duration intervals in mixed steps, units by `uom`.
 * Source: the service's public API description (openapi.yaml, 1.9.0) and its
 * general FAQ: a quantitativePrecipitation value is the total of its interval.
 */
bool nws_grid_read(
    const char *bytes, size_t length, struct series *ret, struct error *error);

#endif
