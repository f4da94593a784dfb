#include "unit/test.h"

#include "unit/open_meteo_document.h"

static int
next_random(uint32_t *state, int below)
{
	*state = *state * 1664525U + 1013904223U;
	return (int)((*state >> 8) % (uint32_t)below);
}

/* `hours` stamps of local time with one offset, the first at `start` in UTC;
   the temperature counts the hours, the rain falls before stamp 1. */
static void
make_local(struct text *text, int64_t start, int hours, int offset)
{
	static const struct zone utc = { 0 };
	text_init(text, LIMIT_FORECAST_BYTES);
	(void)text_format(text,
	    "{\"utc_offset_seconds\":%d,\"timezone\":\"Elsewhere/Nowhere\","
	    "\"hourly_units\":{\"time\":\"iso8601\",\"temperature_2m\":\"°C\","
	    "\"precipitation\":\"mm\"},\"hourly\":{\"time\":[",
	    offset);
	for (int i = 0; i < hours; i++) {
		struct civil c =
		    civil_from_utc(&utc, start + i * HOUR + offset);
		(void)text_format(text, "%s\"%04d-%02d-%02dT%02d:%02d\"",
		    i > 0 ? "," : "", c.year, c.month, c.day, c.hour, c.minute);
	}
	(void)text_add(text, "],\"temperature_2m\":[");
	for (int i = 0; i < hours; i++)
		(void)text_format(text, "%s%d", i > 0 ? "," : "", i % 40);
	(void)text_add(text, "],\"precipitation\":[");
	for (int i = 0; i < hours; i++)
		(void)text_add(text, i == 0 ? "0" : i == 1 ? ",4" : ",0");
	(void)text_add(text, "]}}");
	assert_false(text->failed);
}

/*
 * The document has one offset for the whole of it, that of the moment of the
 * request, so no hour is lost or doubled where the clocks of the place change.
 */
static void
local_time_has_one_offset_from_end_to_end(void **state)
{
	(void)state;
	static const struct {
		int64_t start;
		int offset;
	} rows[] = {
		/* 2026-03-07T06:00Z: clocks go forward in the next night, and
		   02:00 of local time is there all the same. */
		{ INT64_C(1772863200), -6 * 3600 },
		/* 2026-10-31T06:00Z: clocks go back. */
		{ INT64_C(1793426400), -5 * 3600 },
		/* 2026-04-04T00:00Z: back, in the south. */
		{ INT64_C(1775260800), 11 * 3600 },
		/* Half and quarter hours: 5:30, 9:30, 12:45, -3:30. */
		{ INT64_C(1772863200), 19800 },
		{ INT64_C(1772863200), 34200 },
		{ INT64_C(1772863200), 45900 },
		{ INT64_C(1772863200), -12600 },
		/* 2028-02-28T12:00Z to 1 March, over the leap day. */
		{ INT64_C(1835352000), -6 * 3600 },
		{ INT64_C(1835352000), 0 },
	};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		struct text text = { 0 };
		struct series s;
		int64_t start = rows[i].start - MIDNIGHT;
		make_local(&text, rows[i].start, 60, rows[i].offset);
		take_bytes(text_string(&text), text.length, &s);
		assert_true(s.start == rows[i].start - HOUR);
		assert_int_equal(s.count, 60 * 4 + 1);
		for (int h = 0; h < 60; h++)
			check_at(&s, MEASURE_AIR_TEMPERATURE, start + h * HOUR,
			    h % 40);
		check_at(&s, MEASURE_RAIN_BLOCK, start - 1, 0);
		check_at(&s, MEASURE_RAIN_BLOCK, start, 4);
		check_at(&s, MEASURE_RAIN_BLOCK, start + HOUR, 0);
		series_release(&s);
		text_release(&text);
	}
}

/* Stamps as the service writes them, where the clocks of the place jump. */
static void
written_stamps_are_the_hours_of_one_offset(void **state)
{
	(void)state;
	static const struct {
		const char *offset, *stamps;
		int64_t wanted; /* UTC, of the middle stamp */
	} rows[] = {
		/* 02:00 of 8 March 2026 never was on a clock in Chicago. */
		{ "-21600",
		    "\"2026-03-08T01:00\",\"2026-03-08T02:00\","
		    "\"2026-03-08T03:00\"",
		    INT64_C(1772956800) /* 2026-03-08T08:00:00Z */ },
		/* 01:00 of 1 November 2026 was there twice. */
		{ "-18000",
		    "\"2026-11-01T00:00\",\"2026-11-01T01:00\","
		    "\"2026-11-01T02:00\"",
		    INT64_C(1793512800) /* 2026-11-01T06:00:00Z */ },
		/* Sydney, forward in October and back in April. */
		{ "36000",
		    "\"2026-10-04T01:00\",\"2026-10-04T02:00\","
		    "\"2026-10-04T03:00\"",
		    INT64_C(1791043200) /* 2026-10-03T16:00:00Z */ },
		{ "39600",
		    "\"2026-04-05T01:00\",\"2026-04-05T02:00\","
		    "\"2026-04-05T03:00\"",
		    INT64_C(1775314800) /* 2026-04-04T15:00:00Z */ },
		{ "19800",
		    "\"2026-03-02T00:00\",\"2026-03-02T01:00\","
		    "\"2026-03-02T02:00\"",
		    INT64_C(1772393400) /* 2026-03-01T19:30:00Z */ },
		{ "0",
		    "\"2028-02-29T22:00\",\"2028-02-29T23:00\","
		    "\"2028-03-01T00:00\"",
		    INT64_C(1835478000) /* 2028-02-29T23:00:00Z */ },
	};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		struct series s;
		char document[1000];
		(void)snprintf(document, sizeof document,
		    "{\"utc_offset_seconds\":%s,\"hourly_units\":{\"time\":"
		    "\"iso8601\",\"temperature_2m\":\"°C\"},\"hourly\":{"
		    "\"time\":[%s]," AIR "}}",
		    rows[i].offset, rows[i].stamps);
		take(document, &s);
		int64_t middle = rows[i].wanted - MIDNIGHT;
		check_at(&s, MEASURE_AIR_TEMPERATURE, middle - HOUR, 10);
		check_at(&s, MEASURE_AIR_TEMPERATURE, middle, 12);
		check_at(&s, MEASURE_AIR_TEMPERATURE, middle + HOUR, 8);
		series_release(&s);
	}
}

/* The zone is told as well, and the offset; seconds need neither. */
static void
seconds_are_utc_whatever_the_offset(void **state)
{
	(void)state;
	struct series s;
	take("{\"utc_offset_seconds\":39600,\"timezone\":\"Australia/Sydney\","
	     "\"hourly_units\":{\"time\":\"unixtime\",\"temperature_2m\":"
	     "\"°C\"},\"hourly\":{\"time\":[" STAMPS "]," AIR "}}",
	    &s);
	check_at(&s, MEASURE_AIR_TEMPERATURE, HOUR, 12);
	series_release(&s);
}

/* Hour by hour, for both formats; a negative number is a gap. */
enum { HOURS = 48, KINDS = 9 };

static const struct {
	const char *layer, *uom; /* of the gridpoint document */
	const char *variable;    /* of the other one */
	const char *units[2];    /* metric, the others */
	enum measure measure;
	bool before; /* a stamp ends the hour that it tells of */
	int most;
	double scale[2], shift[2]; /* from the metric unit of the layer */
} kinds[KINDS] = {
	{ "temperature", "degC", "temperature_2m", { "°C", "°F" },
	    MEASURE_AIR_TEMPERATURE, false, 40, { 1, 1.8 }, { 0, 32 } },
	{ "dewpoint", "degC", "dew_point_2m", { "°C", "°F" }, MEASURE_DEW_POINT,
	    false, 30, { 1, 1.8 }, { 0, 32 } },
	{ "relativeHumidity", "percent", "relative_humidity_2m", { "%", "%" },
	    MEASURE_HUMIDITY, false, 100, { 1, 1 }, { 0, 0 } },
	{ "windSpeed", "km_h-1", "wind_speed_10m", { "km/h", "mp/h" },
	    MEASURE_WIND, false, 60, { 1, 1 / 1.609344 }, { 0, 0 } },
	{ "windGust", "km_h-1", "wind_gusts_10m", { "m/s", "kn" }, MEASURE_GUST,
	    true, 90, { 1 / 3.6, 1 / 1.852 }, { 0, 0 } },
	{ "windDirection", "degree_(angle)", "wind_direction_10m", { "°", "°" },
	    MEASURE_WIND_DIRECTION, false, 360, { 1, 1 }, { 0, 0 } },
	{ "skyCover", "percent", "cloud_cover", { "%", "%" }, MEASURE_CLOUD,
	    false, 100, { 1, 1 }, { 0, 0 } },
	{ "quantitativePrecipitation", "mm", "precipitation", { "mm", "inch" },
	    MEASURE_RAIN_BLOCK, true, 20, { 1, 1 / 25.4 }, { 0, 0 } },
	{ "probabilityOfPrecipitation", "percent", "precipitation_probability",
	    { "%", "%" }, MEASURE_RAIN_CHANCE, true, 100, { 1, 1 }, { 0, 0 } },
};

static void
write_grid(struct text *text, int weather[KINDS][HOURS])
{
	static const struct zone utc = { 0 };
	text_init(text, LIMIT_FORECAST_BYTES);
	(void)text_add(text, "{\"properties\":{\"updateTime\":"
			     "\"2026-03-02T00:00:00Z\"");
	for (int k = 0; k < KINDS; k++) {
		(void)text_format(text,
		    ",\"%s\":{\"uom\":\"wmoUnit:%s\",\"values\":[",
		    kinds[k].layer, kinds[k].uom);
		for (int h = 0; h < HOURS; h++) {
			struct civil c =
			    civil_from_utc(&utc, MIDNIGHT + h * HOUR);
			(void)text_format(text,
			    "%s{\"validTime\":\"%04d-%02d-%02dT%02d:00:00Z/"
			    "PT1H\",\"value\":",
			    h > 0 ? "," : "", c.year, c.month, c.day, c.hour);
			if (weather[k][h] < 0)
				(void)text_add(text, "null}");
			else
				(void)text_format(text, "%d}", weather[k][h]);
		}
		(void)text_add(text, "]}");
	}
	(void)text_add(text, "}}");
	assert_false(text->failed);
}

/* A value of the one document as the other has it. */
static void
add_value(struct text *text, int k, int value, int system)
{
	if (value < 0)
		(void)text_add(text, "null");
	else
		(void)text_format(text, "%.9g",
		    value * kinds[k].scale[system] + kinds[k].shift[system]);
}

static void
add_list(struct text *text, int k, const int hours[HOURS], int system)
{
	(void)text_format(text, "],\"%s\":[", kinds[k].variable);
	for (int h = 0; h <= HOURS; h++) {
		int from = kinds[k].before ? h - 1 : h;
		bool known = from >= 0 && from < HOURS;
		(void)text_add(text, h > 0 ? "," : "");
		add_value(text, k, known ? hours[from] : -1, system);
	}
}

static void
write_hourly(struct text *text, int weather[KINDS][HOURS], int system)
{
	text_init(text, LIMIT_FORECAST_BYTES);
	(void)text_add(text, "{\"hourly_units\":{\"time\":\"unixtime\"");
	for (int k = 0; k < KINDS; k++)
		(void)text_format(text, ",\"%s\":\"%s\"", kinds[k].variable,
		    kinds[k].units[system]);
	(void)text_add(text, "},\"hourly\":{\"time\":[");
	for (int h = 0; h <= HOURS; h++)
		(void)text_format(text, "%s%lld", h > 0 ? "," : "",
		    (long long)(MIDNIGHT + h * HOUR));
	for (int k = 0; k < KINDS; k++)
		add_list(text, k, weather[k], system);
	(void)text_add(text, "]}}");
	assert_false(text->failed);
}

static void
check_same(const struct series *a, const struct series *b, enum measure measure,
    int64_t step)
{
	for (int64_t at = 0; at < HOURS * HOUR; at += step)
		check_at(a, measure, at,
		    (double)series_at(b, measure, MIDNIGHT + at));
}

static void
make_weather(uint32_t *seed, int ret[KINDS][HOURS])
{
	for (int k = 0; k < KINDS; k++)
		for (int h = 0; h < HOURS; h++)
			ret[k][h] = next_random(seed, 12) == 0
					? -1
					: next_random(seed, kinds[k].most + 1);
}

/* Instants are held in the one and run in the other: alike on the hour. */
static void
the_same_weather_in_two_formats_gives_the_same_columns(void **state)
{
	(void)state;
	uint32_t seed = 20260302;
	for (int round = 0; round < rounds(40); round++) {
		int weather[KINDS][HOURS];
		struct text grid, hourly;
		struct series a, b;
		make_weather(&seed, weather);
		write_grid(&grid, weather);
		write_hourly(&hourly, weather, round % 2);
		assert_true(nws_grid_read(grid.data, grid.length, &a, NULL));
		take_bytes(hourly.data, hourly.length, &b);
		assert_int_equal(b.rejected, 0);
		for (int k = 0; k < KINDS; k++)
			check_same(&b, &a, kinds[k].measure,
			    kinds[k].before ? 900 : HOUR);
		check_same(&b, &a, MEASURE_RAIN, 900);
		check_same(&b, &a, MEASURE_RAIN_BLOCK_SPAN, 900);
		series_release(&a);
		series_release(&b);
		text_release(&grid);
		text_release(&hourly);
	}
}

static void
takes_even_steps_from_a_quarter_hour_to_six_hours(void **state)
{
	(void)state;
	static const int minutes[] = { 15, 30, 60, 180, 360 };
	for (size_t i = 0; i < sizeof minutes / sizeof minutes[0]; i++) {
		struct series s;
		char document[1000];
		int64_t step = minutes[i] * INT64_C(60);
		(void)snprintf(document, sizeof document,
		    TIMED("unixtime", "%lld,%lld,%lld",
			UNIT("precipitation", "mm"),
			AIR LIST("precipitation", "0,6,0")),
		    (long long)MIDNIGHT, (long long)(MIDNIGHT + step),
		    (long long)(MIDNIGHT + 2 * step));
		take(document, &s);
		check_at(&s, MEASURE_AIR_TEMPERATURE, step, 12);
		check_at(&s, MEASURE_RAIN_BLOCK, 0, 6);
		check_at(&s, MEASURE_RAIN_BLOCK, step - 1, 6);
		check_at(&s, MEASURE_RAIN_BLOCK, step, 0);
		check_at(&s, MEASURE_RAIN_BLOCK_SPAN, 0, (double)step);
		check_at(&s, MEASURE_RAIN, 0, 6.0 * 900 / (double)step);
		series_release(&s);
	}
}

/* One stamp says nothing of the step; the section is the hourly one. */
static void
one_stamp_is_an_hour(void **state)
{
	(void)state;
	struct series s;
	take(TIMED("unixtime", "1772409600", UNIT("precipitation", "mm"),
		 "\"temperature_2m\":[10]" LIST("precipitation", "2")),
	    &s);
	assert_int_equal(s.count, 5);
	check_at(&s, MEASURE_RAIN, -HOUR, 0.5);
	check_at(&s, MEASURE_AIR_TEMPERATURE, 0, 10);
	series_release(&s);
}

/* Three months of past hours come with the same document when asked for. */
static void
keeps_the_end_of_a_long_document(void **state)
{
	(void)state;
	struct text text;
	struct series s;
	enum { LONG_HOURS = 40 * 24 };
	text_init(&text, LIMIT_FORECAST_BYTES);
	(void)text_add(&text, "{\"hourly_units\":{\"time\":\"unixtime\","
			      "\"temperature_2m\":\"°C\"},\"hourly\":{"
			      "\"time\":[");
	for (int i = 0; i < LONG_HOURS; i++)
		(void)text_format(&text, "%s%lld", i > 0 ? "," : "",
		    (long long)(MIDNIGHT + i * HOUR));
	(void)text_add(&text, "],\"temperature_2m\":[");
	for (int i = 0; i < LONG_HOURS; i++)
		(void)text_format(&text, "%s%d", i > 0 ? "," : "", i % 30);
	(void)text_add(&text, "]}}");
	take_bytes(text_string(&text), text.length, &s);
	assert_true(s.start + LIMIT_FORECAST_DAYS * DAY == series_end(&s));
	assert_true(series_end(&s) == MIDNIGHT + (LONG_HOURS - 1) * HOUR + 900);
	check_at(&s, MEASURE_AIR_TEMPERATURE, (LONG_HOURS - 1) * HOUR,
	    (LONG_HOURS - 1) % 30);
	assert_int_equal(s.rejected, 0);
	series_release(&s);
	text_release(&text);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(local_time_has_one_offset_from_end_to_end),
		cmocka_unit_test(written_stamps_are_the_hours_of_one_offset),
		cmocka_unit_test(seconds_are_utc_whatever_the_offset),
		cmocka_unit_test(
		    the_same_weather_in_two_formats_gives_the_same_columns),
		cmocka_unit_test(
		    takes_even_steps_from_a_quarter_hour_to_six_hours),
		cmocka_unit_test(one_stamp_is_an_hour),
		cmocka_unit_test(keeps_the_end_of_a_long_document),
	};
	return RUN_TESTS(tests);
}
