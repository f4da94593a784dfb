/*
 * The public forecast formats. A reader is a pure function: bytes in, series
 * out; no network, no clock. Adding a format is one file and one row here.
 *
 * A reader refuses (ERROR_INPUT) what is not a whole, well-formed document of
 * its format, states a unit of the wrong dimension, contradicts itself
 * (overlapping intervals in a layer), or holds no air temperature at all
 * (a list of alerts needs none). Missing layers and null values are gaps: NaN,
 * never zero. *ret is initialised on success only; release it with
 * series_release.
 */
#ifndef WEATHER_FORMAT_H
#define WEATHER_FORMAT_H

#include "base/text.h"
#include "weather/series.h"

struct format {
	const char *name;    /* as the configuration writes it */
	const char *accept;  /* the Accept header to send */
	const char *credit;  /* attribution line for calendar and page */
	const char *address; /* of the public service, for format_address */
	const char *query;   /* what "{query}" stands for; NULL: nothing */
	int decimals;        /* of degrees that the service wants at most */
	int64_t good_for; /* s after which it is not used; 0: as configured */
	bool as_asked;    /* an answer tells of the moment of asking: the same
			     bytes again are young again */
	const char *home_host; /* a host of the service that is free for uses
				  that are not commercial only; NULL: none */
	bool (*read)(const char *bytes, size_t length, struct series *ret,
	    struct error *error);
	/*
	 * NULL, or: the address of the forecast when the document only names
	 * where it lies (*ret is owned by the caller, NULL when the document
	 * is not of that kind).
	 */
	bool (*link)(
	    const char *bytes, size_t length, char **ret, struct error *error);
};

/* NULL when there is none of that name. */
const struct format *format_find(const char *name);

/* The i-th format, NULL after the last. */
const struct format *format_at(size_t i);

/*
 * Fills in an address: "{latitude}" and "{longitude}" with the format's
 * decimals and no zeros behind, "{query}" with the format's query, in which the
 * first two may stand. Services count an address as a document, so sites that
 * round to the same place share one. False for another word in braces; what
 * stands before it is in *ret then.
 */
bool format_address(const struct format *format, const char *pattern,
    double latitude, double longitude, struct text *ret, struct error *error);

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
 * Models know different depths of soil. For about 10 cm stands the first of
 * these with a value, alone: soil_temperature_6cm (some models give their mean
 * of 0 to 10 cm under this name), _0_to_10cm, _0_to_7cm. All of them swing
 * more over a day than the soil at 10 cm does; the mean of a day is closer.
 * Passed over: _0cm, which is the surface, and what lies deeper (_7_to_28cm,
 * _18cm), as it lags behind and hides the first warm or cold days.
 *
 * The document does not say when the forecast was made: `issued` is 0, and the
 * caller goes by the time of fetching instead. Beyond a few days the service
 * shares the rain of 3 or 6 h out evenly and repeats its chance by the hour;
 * the document does not tell where that begins.
 */
bool open_meteo_read(
    const char *bytes, size_t length, struct series *ret, struct error *error);

/*
 * Open-Meteo ensemble (application/json): the same document with one list for
 * the control run under the bare name, and one for each member under
 * "name_member01" and so on; the control counts as a run among them. What is
 * uncertain is told by the spread: each value is the median of the runs that
 * know it, and the chance of rain is the share of them with 0.25 mm or more in
 * the step, where two know it. The service shares the amount of 3 or 6 h out by
 * the hour, so that chance is low for the longer block. A wind direction has no
 * median: it is that of the control run.
 */
bool open_meteo_ensemble_read(
    const char *bytes, size_t length, struct series *ret, struct error *error);

/*
 * United States National Weather Service, active alerts of a place
 * (application/geo+json): a list of events, an empty one when there are none.
 * A cell of an alert column is 1 where an event of that kind holds, from its
 * onset to its end, and 0 elsewhere: nothing has been issued for that time.
 * All five columns are there, from the list's `updated` on and for
 * more than a year: a list tells the time of its last change, and where the
 * weather is quiet that is long ago. An event without an end holds to the end.
 *
 * Tests, drafts, exercises and cancelled messages do not count (a status or a
 * type that is not known does); an event of another kind neither. One alert
 * that cannot be read refuses the list: it might be the one that matters.
 * `issued` is 0: the list is as old as the asking.
 * Source: the service's public API description (openapi.yaml, 1.9.0).
 */
bool nws_alerts_read(
    const char *bytes, size_t length, struct series *ret, struct error *error);

/*
 * The same service's document of a place, which names the forecast's grid cell
 * (forecastGridData). A struct format's `link`: a document without that name is
 * not parsed, and gives NULL. Whether the address may be followed is for the
 * caller to judge; here it is a text without control characters.
 */
bool nws_point_link(
    const char *bytes, size_t length, char **ret, struct error *error);

#endif
