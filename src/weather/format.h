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

/*
 * MET Norway Locationforecast 2.0, complete and compact (application/json):
 * a timeseries of instants, hourly for two or three days and 6-hourly after
 * that, with the rain of the next hour and of the next six; units by name.
 * Source: the service's public documentation (ForecastJSON, datamodel).
 *
 * Instants are interpolated (directions the shorter way round): cloud and dew
 * point over steps of up to 6 h; temperature, humidity, wind, gust and
 * direction are known over steps of 1 h only, to the last instant of them. An
 * afternoon's peak may lie between two coarse instants; a block gives a highest
 * and a lowest temperature at most, and a single column cannot answer a ceiling
 * with the one and a floor with the other. The day comes nearer, and turns
 * hourly. A mean wind never stands in for a gust.
 */
bool met_norway_read(
    const char *bytes, size_t length, struct series *ret, struct error *error);

/*
 * Open-Meteo forecast (application/json), the hourly section alone: one list of
 * stamps in even steps, one list of values for each variable, units by name.
 * Source: the service's public documentation pages: temperature, dew point,
 * humidity, wind and cloud are those of the stamp; a gust, an amount and a
 * chance are those of the step that ends at it. Stamps in local time all have
 * the one offset that the document states, over a change of the clocks too.
 *
 * Instants are interpolated (directions the shorter way round) unless one of
 * the two is unknown; they count as known at the last stamp, not after it. Of a
 * document longer than LIMIT_FORECAST_DAYS the end is kept. Refused as well:
 * several places, several models, members of an ensemble.
 *
 * The document does not say when the forecast was made: `issued` is 0, and the
 * caller goes by the time of fetching instead. Beyond a few days the service
 * shares the rain of 3 or 6 h out evenly and repeats its chance by the hour;
 * the document does not tell where that begins.
 */
bool open_meteo_read(
    const char *bytes, size_t length, struct series *ret, struct error *error);

#endif
