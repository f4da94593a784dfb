/*
 * Locationforecast documents put together for the tests, in the shape of the
 * published description: entries of an instant and the periods after it.
 */
#ifndef TESTS_UNIT_MET_DOCUMENT_H
#define TESTS_UNIT_MET_DOCUMENT_H

#include "unit/nws_document.h"

#include "weather/format.h"

#define MET_UNITS                                                              \
	"\"air_pressure_at_sea_level\":\"hPa\","                               \
	"\"air_temperature\":\"celsius\","                                     \
	"\"dew_point_temperature\":\"celsius\","                               \
	"\"relative_humidity\":\"%\",\"cloud_area_fraction\":\"%\","           \
	"\"wind_speed\":\"m/s\",\"wind_speed_of_gust\":\"m/s\","               \
	"\"wind_from_direction\":\"degrees\","                                 \
	"\"precipitation_amount\":\"mm\","                                     \
	"\"probability_of_precipitation\":\"%\""
#define MET_META(units)                                                        \
	"\"meta\":{\"updated_at\":\"2026-03-01T23:30:00Z\",\"units\":{" units  \
	"}}"
#define MET_WITH(meta, entries)                                                \
	"{\"type\":\"Feature\",\"properties\":{" meta                          \
	",\"timeseries\":[" entries "]}}"
#define MET(entries) MET_WITH(MET_META(MET_UNITS), entries)

/* `more` is what follows the details of the instant: periods, or nothing. */
#define MET_ENTRY(time, details, more)                                         \
	"{\"time\":\"2026-03-02T" time "\",\"data\":{\"instant\":{"            \
	"\"details\":{" details "}}" more "}}"
#define MET_PERIOD(name, details)                                              \
	",\"" name "\":{\"summary\":{\"symbol_code\":\"rain\"},"               \
	"\"details\":{" details "}}"
#define MET_AIR(value) "\"air_temperature\":" value
/* An hour of weather, from 00:00 to 01:00, around what a case is about. */
#define MET_HOUR(details, more)                                                \
	MET(MET_ENTRY("00:00:00Z", "\"air_temperature\":12.5" details,         \
	    more) "," MET_ENTRY("01:00:00Z", MET_AIR("13.5"), ""))

/* The order of the instants in a struct met. */
enum {
	MET_TEMPERATURE,
	MET_DEW_POINT,
	MET_HUMIDITY,
	MET_CLOUD,
	MET_WIND,
	MET_GUST,
	MET_DIRECTION,
	MET_INSTANTS
};

/* One entry; NaN leaves the key out, both of a period the whole period. */
struct met {
	int64_t time;
	double instant[MET_INSTANTS];
	double hour[2], six[2]; /* amount and chance */
};

static inline struct met
met_blank(int64_t time)
{
	struct met met = { .time = time,
		.hour = { (double)NAN, (double)NAN },
		.six = { (double)NAN, (double)NAN } };
	for (int i = 0; i < MET_INSTANTS; i++)
		met.instant[i] = (double)NAN;
	return met;
}

/* The known ones of `values`. */
static inline void
met_add_details(struct text *text, const char *const names[],
    const double values[], size_t count)
{
	const char *comma = "";
	(void)text_add(text, "\"details\":{");
	for (size_t i = 0; i < count; i++) {
		if (isnan(values[i]))
			continue;
		(void)text_format(
		    text, "%s\"%s\":%.1f", comma, names[i], values[i]);
		comma = ",";
	}
	(void)text_add(text, "}}");
}

static inline void
met_add_entry(struct text *text, const struct met *met)
{
	static const struct zone utc = { 0 };
	static const char *const instants[MET_INSTANTS] = { "air_temperature",
		"dew_point_temperature", "relative_humidity",
		"cloud_area_fraction", "wind_speed", "wind_speed_of_gust",
		"wind_from_direction" };
	static const char *const rain[2] = { "precipitation_amount",
		"probability_of_precipitation" };
	struct civil c = civil_from_utc(&utc, met->time);
	(void)text_format(text,
	    "{\"time\":\"%04d-%02d-%02dT%02d:%02d:00Z\",\"data\":{"
	    "\"instant\":{",
	    c.year, c.month, c.day, c.hour, c.minute);
	met_add_details(text, instants, met->instant, MET_INSTANTS);
	if (!isnan(met->hour[0]) || !isnan(met->hour[1])) {
		(void)text_add(text, ",\"next_1_hours\":{\"summary\":{},");
		met_add_details(text, rain, met->hour, 2);
	}
	if (!isnan(met->six[0]) || !isnan(met->six[1])) {
		(void)text_add(text, ",\"next_6_hours\":{\"summary\":{},");
		met_add_details(text, rain, met->six, 2);
	}
	(void)text_add(text, "}}");
}

static inline void
met_write(struct text *text, const struct met *entries, size_t count)
{
	text_init(text, LIMIT_FORECAST_BYTES);
	(void)text_add(text, "{\"type\":\"Feature\",\"properties\":{" MET_META(
				 MET_UNITS) ",\"timeseries\":[");
	for (size_t i = 0; i < count; i++) {
		(void)text_add(text, i > 0 ? "," : "");
		met_add_entry(text, &entries[i]);
	}
	(void)text_add(text, "]}}");
	assert_false(text->failed);
}

/* Reads a document that must be good, from a block of its exact size. */
static inline void
met_take(const char *bytes, size_t length, struct series *ret)
{
	struct error error = { 0 };
	char *block = malloc(length > 0 ? length : 1);
	assert_non_null(block);
	memcpy(block, bytes, length);
	bool good = met_norway_read(block, length, ret, &error);
	free(block);
	if (!good)
		fail_msg("refused: %s", error.text);
}

static inline void
met_take_entries(const struct met *entries, size_t count, struct series *ret)
{
	struct text text;
	met_write(&text, entries, count);
	met_take(text.data, text.length, ret);
	text_release(&text);
}

#endif
