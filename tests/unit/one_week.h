/*
 * One invented week of hourly weather, and the three documents that tell of it:
 * what each service means by a value is written down here a second time, apart
 * from the readers.
 */
#ifndef TESTS_UNIT_ONE_WEEK_H
#define TESTS_UNIT_ONE_WEEK_H

#include "unit/met_document.h"

#include <inttypes.h>

enum { WEEK_HOURS = 168 };

/* How each measure is written; the rain columns follow the others. */
static const struct week_column {
	enum measure measure;
	const char *grid, *grid_unit;
	double grid_scale; /* what the grid writes for one canonical unit */
	const char *meteo, *meteo_unit;
	int met;      /* place in a struct met; MET_INSTANTS: in its periods */
	bool of_hour; /* of the hour that begins there, not of the instant */
} week_columns[] = {
	{ MEASURE_AIR_TEMPERATURE, "temperature", "wmoUnit:degC", 1,
	    "temperature_2m", "°C", MET_TEMPERATURE, false },
	{ MEASURE_DEW_POINT, "dewpoint", "wmoUnit:degC", 1, "dew_point_2m",
	    "°C", MET_DEW_POINT, false },
	{ MEASURE_HUMIDITY, "relativeHumidity", "wmoUnit:percent", 1,
	    "relative_humidity_2m", "%", MET_HUMIDITY, false },
	{ MEASURE_WIND, "windSpeed", "wmoUnit:km_h-1", 3.6, "wind_speed_10m",
	    "m/s", MET_WIND, false },
	{ MEASURE_GUST, "windGust", "wmoUnit:km_h-1", 3.6, "wind_gusts_10m",
	    "m/s", MET_GUST, true },
	{ MEASURE_WIND_DIRECTION, "windDirection", "wmoUnit:degree_(angle)", 1,
	    "wind_direction_10m", "°", MET_DIRECTION, false },
	{ MEASURE_CLOUD, "skyCover", "wmoUnit:percent", 1, "cloud_cover", "%",
	    MET_CLOUD, false },
	{ MEASURE_RAIN_BLOCK, "quantitativePrecipitation", "wmoUnit:mm", 1,
	    "precipitation", "mm", MET_INSTANTS, true },
	{ MEASURE_RAIN_CHANCE, "probabilityOfPrecipitation", "wmoUnit:percent",
	    1, "precipitation_probability", "%", MET_INSTANTS, true },
};

enum { WEEK_COLUMNS = sizeof week_columns / sizeof week_columns[0] };

struct week {
	int64_t start;
	/* At the hour, or of the hour that begins then; NaN for a gap. The
	   last one is the end of the week, and has instants only. */
	double value[MEASURES][WEEK_HOURS + 1];
};

static inline double
week_wave(int hour, double period, double middle, double swing)
{
	return middle + swing * sin(2 * acos(-1) * hour / period);
}

/* To what all three documents can write. */
static inline double
week_tenths(double value)
{
	return round(value * 10) / 10;
}

/* Dry for days, then showers of amounts on both sides of what is wet. */
static inline double
week_rain(int hour)
{
	static const double shower[] = { 0.1, 0.2, 0.3, 12.4, 2.5, 0, 0.7 };
	int since = hour % 41 - 20;
	return since >= 0 && since < 7 ? shower[since] : 0;
}

static inline void
week_make(struct week *week, int64_t start)
{
	*week = (struct week){ .start = start };
	for (int h = 0; h <= WEEK_HOURS; h++) {
		double air = week_tenths(
		    week_wave(h, 24, 14, -8) + week_wave(h, 61, 0, 3));
		double wind = week_tenths(week_wave(h, 31, 3.6, 3.5));
		double rain = week_rain(h);
		/* Through north, forwards and back. */
		double way = round(week_wave(h, 17, 370, 45));
		week->value[MEASURE_AIR_TEMPERATURE][h] = air;
		week->value[MEASURE_DEW_POINT][h] =
		    week_tenths(air - week_wave(h, 24, 6, -5));
		week->value[MEASURE_HUMIDITY][h] =
		    round(week_wave(h, 24, 65, 30));
		week->value[MEASURE_WIND][h] = wind;
		week->value[MEASURE_GUST][h] = week_tenths(1.7 * wind + 0.5);
		week->value[MEASURE_WIND_DIRECTION][h] =
		    way >= 360 ? way - 360 : way;
		week->value[MEASURE_CLOUD][h] = h / 7 % 5 * 25;
		week->value[MEASURE_RAIN_BLOCK][h] = rain;
		/* Amount and chance each have hours of their own. */
		week->value[MEASURE_RAIN_CHANCE][h] =
		    rain > 0         ? (h % 2 == 0 ? 20 : 60)
		    : h / 3 % 8 == 0 ? 29 + h % 3
				     : 5;
	}
	/* One hour without an amount, one without both. */
	week->value[MEASURE_RAIN_BLOCK][50] = (double)NAN;
	week->value[MEASURE_RAIN_BLOCK][90] = (double)NAN;
	week->value[MEASURE_RAIN_CHANCE][90] = (double)NAN;
}

/* "2026-03-05T06:00:00" of the clock that is `offset` east of UTC. */
static inline void
week_add_stamp(struct text *text, int64_t time, int64_t offset, bool seconds)
{
	static const struct zone utc_zone = { 0 };
	struct civil c = civil_from_utc(&utc_zone, time + offset);
	(void)text_format(text, "%04d-%02d-%02dT%02d:%02d%s", c.year, c.month,
	    c.day, c.hour, c.minute, seconds ? ":00" : "");
}

/* "PT5H", "P1D", "P2DT5H". */
static inline void
week_add_duration(struct text *text, int hours)
{
	(void)text_add(text, "P");
	if (hours >= 24)
		(void)text_format(text, "%dD", hours / 24);
	if (hours % 24 > 0)
		(void)text_format(text, "T%dH", hours % 24);
}

/* Equal hours become one interval, but not of rain: it would be their sum. */
static inline void
week_add_layer(struct text *text, const struct week *week,
    const struct week_column *column)
{
	const double *value = week->value[column->measure];
	const char *comma = "";
	(void)text_format(text, ",\"%s\":{\"uom\":\"%s\",\"values\":[",
	    column->grid, column->grid_unit);
	for (int h = 0, end; h < WEEK_HOURS; h = end) {
		end = h + 1;
		if (isnan(value[h]))
			continue;
		while (column->measure != MEASURE_RAIN_BLOCK &&
		       end < WEEK_HOURS && value[end] == value[h])
			end++;
		(void)text_format(text, "%s{\"validTime\":\"", comma);
		week_add_stamp(text, week->start + h * HOUR, 0, true);
		(void)text_add(text, "+00:00/");
		week_add_duration(text, end - h);
		(void)text_format(
		    text, "\",\"value\":%.10g}", value[h] * column->grid_scale);
		comma = ",";
	}
	(void)text_add(text, "]}");
}

/* The gridpoint document: intervals, and a value is of its whole interval. */
static inline void
week_write_grid(struct text *text, const struct week *week)
{
	text_init(text, LIMIT_FORECAST_BYTES);
	(void)text_add(text, "{\"type\":\"Feature\",\"properties\":{" ISSUED);
	for (size_t i = 0; i < WEEK_COLUMNS; i++)
		week_add_layer(text, week, &week_columns[i]);
	(void)text_add(text, "}}");
	assert_false(text->failed);
}

static inline void
week_add_list(struct text *text, const struct week *week,
    const struct week_column *column)
{
	(void)text_format(text, ",\"%s\":[", column->meteo);
	for (int h = 0; h <= WEEK_HOURS; h++) {
		/* Of the hour that ends at the stamp. */
		int from = column->of_hour ? h - 1 : h;
		double value =
		    from < 0 ? (double)NAN : week->value[column->measure][from];
		(void)text_add(text, h > 0 ? "," : "");
		if (isnan(value))
			(void)text_add(text, "null");
		else
			(void)text_format(text, "%.10g", value);
	}
	(void)text_add(text, "]");
}

/* Open-Meteo: seconds of UTC, or with `local` the clock of that offset. */
static inline void
week_write_meteo(
    struct text *text, const struct week *week, bool local, int64_t offset)
{
	text_init(text, LIMIT_FORECAST_BYTES);
	(void)text_format(text,
	    "{\"utc_offset_seconds\":%" PRId64
	    ",\"hourly_units\":{\"time\":\"%s\"",
	    local ? offset : 0, local ? "iso8601" : "unixtime");
	for (size_t i = 0; i < WEEK_COLUMNS; i++)
		(void)text_format(text, ",\"%s\":\"%s\"", week_columns[i].meteo,
		    week_columns[i].meteo_unit);
	(void)text_add(text, "},\"hourly\":{\"time\":[");
	for (int h = 0; h <= WEEK_HOURS; h++) {
		int64_t time = week->start + h * HOUR;
		(void)text_add(text, h > 0 ? "," : "");
		(void)text_add(text, local ? "\"" : "");
		if (local)
			week_add_stamp(text, time, offset, false);
		else
			(void)text_format(text, "%" PRId64, time);
		(void)text_add(text, local ? "\"" : "");
	}
	(void)text_add(text, "]");
	for (size_t i = 0; i < WEEK_COLUMNS; i++)
		week_add_list(text, week, &week_columns[i]);
	(void)text_add(text, "}}");
	assert_false(text->failed);
}

/* Locationforecast: instants, and the rain of the hour after each. */
static inline void
week_write_met(struct text *text, const struct week *week)
{
	struct met entries[WEEK_HOURS + 1];
	for (int h = 0; h <= WEEK_HOURS; h++) {
		entries[h] = met_blank(week->start + h * HOUR);
		for (size_t i = 0; i < WEEK_COLUMNS; i++)
			if (week_columns[i].met < MET_INSTANTS)
				entries[h].instant[week_columns[i].met] =
				    week->value[week_columns[i].measure][h];
		if (h == WEEK_HOURS)
			continue;
		entries[h].hour[0] = week->value[MEASURE_RAIN_BLOCK][h];
		entries[h].hour[1] = week->value[MEASURE_RAIN_CHANCE][h];
	}
	met_write(text, entries, WEEK_HOURS + 1);
}

#endif
