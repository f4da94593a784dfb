/*
 * How fast forecasts are read. Prints a table and asserts nothing.
 *
 * The yardstick is the bare parse of the same bytes by the JSON library, tree
 * released again. For each document the bare parse, our strict one and the
 * whole read take turns, and the fastest of many turns counts: what else runs
 * on the machine can only add. An untimed bare parse goes before each, so that
 * all three find the heap alike. The documents are made here, of the size and
 * shape that the services give; `bench_read FOLDER` adds the recorded ones in
 * FOLDER, where it has them.
 */
#include "base/civil.h"
#include "base/file.h"
#include "base/limits.h"
#include "base/text.h"
#include "weather/format.h"
#include "weather/strict_json.h"

#include <float.h>
#include <malloc.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

enum { TURNS = 400, HOUR = 3600, HOURS = 7 * 24 };

static const int64_t start = 1775433600; /* 2026-04-06 00:00 UTC */

/* A day's wave, the same at every call. */
static double
wave(double mean, double swing, int hour)
{
	double noise = (double)(hour * 7919 % 41 - 20) / 40;
	return mean + swing * (sin((double)hour / 24 * 6.2832 - 2) + noise / 4);
}

static const char *
stamp(char buffer[CIVIL_BUFFER], int hour)
{
	static const struct zone utc = { 0 };
	return civil_print(buffer, CIVIL_BUFFER, &utc,
	    start + (int64_t)hour * HOUR, CIVIL_STAMP);
}

/* A layer of the gridpoint document: `hours` to the interval. */
static void
write_layer(struct text *text, const char *name, const char *unit, int hours,
    double mean, double swing)
{
	char buffer[CIVIL_BUFFER];
	text_format(text, "    \"%s\": {\n      ", name);
	if (unit != NULL)
		text_format(text, "\"uom\": \"%s\",\n      ", unit);
	text_add(text, "\"values\": [");
	for (int hour = 0; hours > 0 && hour < HOURS; hour += hours)
		text_format(text,
		    "%s\n        {\n          "
		    "\"validTime\": \"%s/PT%dH\",\n          "
		    "\"value\": %.15g\n        }",
		    hour > 0 ? "," : "", stamp(buffer, hour), hours,
		    swing > 0 ? wave(mean, swing, hour) : mean);
	text_add(text, "]\n    },\n");
}

/* Layers as full as the service's, of which we use nine, and empty ones. */
static const struct {
	const char *name, *unit;
	int hours;
	double mean, swing;
} layers[] = {
	{ "temperature", "wmoUnit:degC", 1, 20, 7.7777 },
	{ "dewpoint", "wmoUnit:degC", 2, 10, 2.2222 },
	{ "maxTemperature", "wmoUnit:degC", 24, 27, 2 },
	{ "minTemperature", "wmoUnit:degC", 24, 12, 2 },
	{ "relativeHumidity", "wmoUnit:percent", 1, 60, 20 },
	{ "apparentTemperature", "wmoUnit:degC", 1, 20, 7.7777 },
	{ "wetBulbGlobeTemperature", "wmoUnit:degC", 1, 17, 5.5555 },
	{ "heatIndex", "wmoUnit:degC", 3, 26, 3.3333 },
	{ "skyCover", "wmoUnit:percent", 2, 50, 40 },
	{ "windDirection", "wmoUnit:degree_(angle)", 2, 180, 90 },
	{ "windSpeed", "wmoUnit:km_h-1", 2, 14, 7.408 },
	{ "windGust", "wmoUnit:km_h-1", 2, 25, 9.26 },
	{ "weather", NULL, 6, 1, 0 },
	{ "probabilityOfPrecipitation", "wmoUnit:percent", 3, 30, 20 },
	{ "quantitativePrecipitation", "wmoUnit:mm", 6, 1.5, 1 },
	{ "iceAccumulation", "wmoUnit:mm", 6, 0, 0 },
	{ "snowfallAmount", "wmoUnit:mm", 6, 0, 0 },
	{ "mixingHeight", "wmoUnit:m", 1, 900, 600 },
	{ "transportWindSpeed", "wmoUnit:km_h-1", 2, 20, 9.26 },
	{ "transportWindDirection", "wmoUnit:degree_(angle)", 2, 200, 90 },
	{ "hainesIndex", NULL, 6, 4, 0 },
	{ "lightningActivityLevel", NULL, 6, 1, 0 },
	{ "twentyFootWindSpeed", "wmoUnit:km_h-1", 3, 11, 5.556 },
	{ "grasslandFireDangerIndex", NULL, 12, 2, 0 },
	{ "probabilityOfThunder", "wmoUnit:percent", 6, 20, 10 },
	{ "davisStabilityIndex", NULL, 0, 0, 0 },
	{ "dispersionIndex", NULL, 0, 0, 0 },
	{ "stability", NULL, 0, 0, 0 },
	{ "redFlagThreatIndex", NULL, 0, 0, 0 },
	{ "waveHeight", "wmoUnit:m", 0, 0, 0 },
	{ "visibility", "wmoUnit:m", 1, 9000, 7000 },
};

static void
make_nws(struct text *text)
{
	char buffer[CIVIL_BUFFER];
	text_format(text,
	    "{\n  \"type\": \"Feature\",\n  \"properties\": {\n    "
	    "\"updateTime\": \"%s\",\n",
	    stamp(buffer, -1));
	for (size_t i = 0; i < sizeof layers / sizeof layers[0]; i++)
		write_layer(text, layers[i].name, layers[i].unit,
		    layers[i].hours, layers[i].mean, layers[i].swing);
	text_add(text, "    \"gridId\": \"AAA\"\n  }\n}\n");
}

/* Seven days of ten variables by the hour, without white space. */
static void
make_open_meteo(struct text *text)
{
	static const struct {
		const char *name, *unit;
		int digits;
		double mean, swing;
	} rows[] = {
		{ "temperature_2m", "°C", 1, 20, 8 },
		{ "dew_point_2m", "°C", 1, 10, 2 },
		{ "relative_humidity_2m", "%", 0, 60, 20 },
		{ "wind_speed_10m", "km/h", 1, 14, 7 },
		{ "wind_gusts_10m", "km/h", 1, 25, 9 },
		{ "wind_direction_10m", "°", 0, 180, 90 },
		{ "cloud_cover", "%", 0, 50, 40 },
		{ "precipitation", "mm", 2, 1.5, 1 },
		{ "precipitation_probability", "%", 0, 30, 20 },
		{ "soil_temperature_6cm", "°C", 1, 15, 3 },
	};
	enum { ROWS = sizeof rows / sizeof rows[0], STAMP = 16 };
	char buffer[CIVIL_BUFFER];
	text_add(text, "{\"latitude\":29.5,\"longitude\":-98.5,"
		       "\"utc_offset_seconds\":0,\"timezone\":\"GMT\","
		       "\"hourly_units\":{\"time\":\"iso8601\"");
	for (size_t i = 0; i < ROWS; i++)
		text_format(text, ",\"%s\":\"%s\"", rows[i].name, rows[i].unit);
	text_add(text, "},\"hourly\":{\"time\":[");
	for (int hour = 0; hour < HOURS; hour++)
		text_format(text, "%s\"%.*s\"", hour > 0 ? "," : "", STAMP,
		    stamp(buffer, hour));
	for (size_t i = 0; i < ROWS; i++) {
		text_format(text, "],\"%s\":[", rows[i].name);
		for (int hour = 0; hour < HOURS; hour++)
			text_format(text, "%s%.*f", hour > 0 ? "," : "",
			    rows[i].digits,
			    wave(rows[i].mean, rows[i].swing, hour));
	}
	text_add(text, "]}}");
}

static void
write_period(struct text *text, int hours, double amount)
{
	text_format(text,
	    ",\"next_%d_hours\":{\"summary\":{\"symbol_code\":\"cloudy\"},"
	    "\"details\":{",
	    hours);
	if (hours == 6)
		text_add(text, "\"air_temperature_max\":21.3,"
			       "\"air_temperature_min\":14.8,");
	text_format(text,
	    "\"precipitation_amount\":%.1f,\"precipitation_amount_max\":%.1f,"
	    "\"precipitation_amount_min\":0.0,"
	    "\"probability_of_precipitation\":%.1f,"
	    "\"probability_of_thunder\":0.4}}",
	    amount, amount * 2, amount * 10);
}

static void
write_instant(struct text *text, int hour)
{
	static const struct {
		const char *name;
		double mean, swing;
	} rows[] = {
		{ "air_pressure_at_sea_level", 1013, 8 },
		{ "air_temperature", 20, 8 },
		{ "air_temperature_percentile_10", 19, 8 },
		{ "air_temperature_percentile_90", 21, 8 },
		{ "cloud_area_fraction", 50, 40 },
		{ "cloud_area_fraction_high", 50, 40 },
		{ "cloud_area_fraction_low", 50, 40 },
		{ "cloud_area_fraction_medium", 50, 40 },
		{ "dew_point_temperature", 10, 2 },
		{ "fog_area_fraction", 3, 2 },
		{ "relative_humidity", 60, 20 },
		{ "ultraviolet_index_clear_sky", 3, 2 },
		{ "wind_from_direction", 180, 90 },
		{ "wind_speed", 4, 2 },
		{ "wind_speed_of_gust", 7, 3 },
		{ "wind_speed_percentile_10", 3, 2 },
		{ "wind_speed_percentile_90", 5, 2 },
	};
	text_add(text, "\"instant\":{\"details\":");
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
		text_format(text, "%s\"%s\":%.1f", i > 0 ? "," : "{",
		    rows[i].name, wave(rows[i].mean, rows[i].swing, hour));
	text_add(text, "}}");
}

/* The complete kind: 58 entries by the hour, then 30 of six hours. */
static void
make_met_norway(struct text *text)
{
	enum { HOURLY = 58, ENTRIES = 88, STAMP = 19 };
	char buffer[CIVIL_BUFFER];
	text_add(text,
	    "{\"type\":\"Feature\",\"geometry\":{\"type\":\"Point\","
	    "\"coordinates\":[-98.5,29.5,200]},\"properties\":{\"meta\":{"
	    "\"updated_at\":\"2026-04-05T23:31:08Z\",\"units\":{"
	    "\"air_temperature\":\"celsius\","
	    "\"cloud_area_fraction\":\"%\","
	    "\"dew_point_temperature\":\"celsius\","
	    "\"precipitation_amount\":\"mm\","
	    "\"probability_of_precipitation\":\"%\","
	    "\"relative_humidity\":\"%\","
	    "\"wind_from_direction\":\"degrees\",\"wind_speed\":\"m/s\","
	    "\"wind_speed_of_gust\":\"m/s\"}},\"timeseries\":[");
	for (int i = 0; i < ENTRIES; i++) {
		int hour = i < HOURLY ? i : HOURLY + (i - HOURLY) * 6;
		text_format(text, "%s{\"time\":\"%.*sZ\",\"data\":{",
		    i > 0 ? "," : "", STAMP, stamp(buffer, hour));
		write_instant(text, hour);
		text_add(text,
		    ",\"next_12_hours\":{\"summary\":{\"symbol_code\":"
		    "\"partlycloudy_day\",\"symbol_confidence\":\"certain\"},"
		    "\"details\":{\"probability_of_precipitation\":20.5}}");
		if (i < HOURLY)
			write_period(text, 1, wave(1, 0.5, hour));
		write_period(text, 6, wave(3, 1, hour));
		text_add(text, "}}");
	}
	text_add(text, "]}}");
}

static double
seconds_now(void)
{
	struct timespec now;
	(void)clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
	return (double)now.tv_sec + (double)now.tv_nsec * 1e-9;
}

static void
parse_bare(const struct text *text)
{
	cJSON_Delete(cJSON_ParseWithLength(text->data, text->length));
}

/* The fastest turn of each kind, in seconds; false when one was refused. */
struct spent {
	double bare, strict, read;
};

static void
keep_least(double *least, double since)
{
	*least = fmin(*least, seconds_now() - since);
}

static bool
take_turn(const struct format *format, const struct text *text,
    struct spent *spent, struct error *error)
{
	struct series series = { 0 };
	parse_bare(text);
	double since = seconds_now();
	parse_bare(text);
	keep_least(&spent->bare, since);

	parse_bare(text);
	since = seconds_now();
	json_release(json_parse(text->data, text->length, error));
	keep_least(&spent->strict, since);

	parse_bare(text);
	since = seconds_now();
	bool good = format->read(text->data, text->length, &series, error);
	keep_least(&spent->read, since);
	series_release(&series); /* what is read is kept, not garbage */
	return good;
}

static void
measure(const char *name, const char *what, const struct text *text)
{
	struct spent spent = { DBL_MAX, DBL_MAX, DBL_MAX };
	struct error error = { 0 };
	const struct format *format = format_find(name);
	bool good = true;
	for (int i = 0; i < TURNS && good; i++)
		good = take_turn(format, text, &spent, &error);
	if (!good) {
		printf("%-10s  %s: %s\n", name, what, error.text);
		return;
	}
	double size = (double)text->length / 1e6;
	printf("%-10s %7zu %7.0f %7.0f %7.0f %7.2f %7.2f  %s\n", name,
	    text->length, size / spent.bare, size / spent.strict,
	    size / spent.read, spent.strict / spent.bare,
	    spent.read / spent.bare, what);
}

static void
measure_made(const char *name, void (*make)(struct text *text))
{
	struct text text;
	text_init(&text, LIMIT_FORECAST_BYTES);
	make(&text);
	measure(name, "made here", &text);
	text_release(&text);
}

static void
measure_recorded(const char *folder)
{
	static const struct {
		const char *format, *path;
	} rows[] = {
		{ "nws-grid", "nws/gridpoint_ALY_71_67_202607_retimed.json" },
		{ "nws-grid", "nws/gridpoint_BMX_59_84_20240220.json" },
		{ "nws-grid", "nws/gridpoint_TAE_58_65_20220204.json" },
		{ "open-meteo",
		    "open-meteo/"
		    "forecast_toronto_202603_DSTweek_imperial.json" },
		{ "met-norway", "met-norway/complete_53.5_13_20220802.json" },
		{ "met-norway", "met-norway/compact_oslo_20260206.json" },
	};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		char path[512];
		struct text text;
		text_init(&text, LIMIT_FORECAST_BYTES);
		(void)snprintf(
		    path, sizeof path, "%s/%s", folder, rows[i].path);
		if (file_read(path, &text, NULL))
			measure(rows[i].format, rows[i].path, &text);
		text_release(&text);
	}
}

int
main(int argc, char **argv)
{
	(void)mallopt(M_TRIM_THRESHOLD, 64 * 1024 * 1024); /* as lulld does */
	printf("%-10s %7s %7s %7s %7s %7s %7s\n", "", "", "bare", "strict",
	    "read", "strict", "read");
	printf("%-10s %7s %7s %7s %7s %7s %7s  %s\n", "format", "bytes", "MB/s",
	    "MB/s", "MB/s", "/bare", "/bare", "document");
	measure_made("nws-grid", make_nws);
	measure_made("open-meteo", make_open_meteo);
	measure_made("met-norway", make_met_norway);
	if (argc > 1)
		measure_recorded(argv[1]);
	return 0;
}
