#include "unit/test.h"

#include "unit/met_document.h"

/*
 * Documents recorded from the service are not ours to ship. They are read when
 * LULL_SHARED names a folder that holds samples/met-norway; otherwise the tests
 * of them say that they were skipped.
 */
static bool
read_sample(const char *name, struct series *ret)
{
	char path[512];
	struct text text;
	const char *folder = getenv("LULL_SHARED");
	if (folder == NULL)
		return false;
	(void)snprintf(
	    path, sizeof path, "%s/samples/met-norway/%s", folder, name);
	text_init(&text, LIMIT_FORECAST_BYTES);
	bool there = file_read(path, &text, NULL);
	if (there)
		met_take(text.data, text.length, ret);
	text_release(&text);
	return there;
}

/* Whole hours from the issue to the end of the last known cell; 0 for none. */
static int64_t
horizon(const struct series *series, enum measure measure)
{
	const float *column = series->column[measure];
	size_t end = column != NULL ? series->count : 0;
	while (end > 0 && isnan(column[end - 1]))
		end--;
	return end > 0 ? (series_time(series, end) - series->issued) / 3600 : 0;
}

static double
rain_total(const struct series *series)
{
	double total = 0;
	for (size_t i = 0; i < series->count; i++)
		if (!isnan(series->column[MEASURE_RAIN][i]))
			total += (double)series->column[MEASURE_RAIN][i];
	return total;
}

/* Counted by hand from the recorded documents. The six-hour periods of the
   first one add up to 14.2 mm when each is counted. */
static void
reads_recorded_documents_to_their_horizons_and_totals(void **state)
{
	(void)state;
	static const enum measure columns[] = { MEASURE_AIR_TEMPERATURE,
		MEASURE_HUMIDITY, MEASURE_WIND, MEASURE_DEW_POINT, MEASURE_GUST,
		MEASURE_RAIN, MEASURE_RAIN_CHANCE };
	static const struct {
		const char *name;
		int64_t hours[sizeof columns / sizeof columns[0]];
		double rain;
	} rows[] = {
		{ "compact_oslo_20260206.json", { 51, 51, 51, 0, 0, 237, 0 },
		    3.8 },
		{ "complete_53.5_13_20220802.json",
		    { 56, 56, 56, 218, 56, 218, 218 }, 2.7 },
	};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		struct series series = { 0 };
		if (!read_sample(rows[i].name, &series))
			skip();
		assert_int_equal(series.rejected, 0);
		for (size_t c = 0; c < sizeof columns / sizeof columns[0]; c++)
			assert_int_equal(
			    horizon(&series, columns[c]), rows[i].hours[c]);
		assert_close(rain_total(&series), rows[i].rain, 1e-4);
		series_release(&series);
	}
}

/* The document says 35.3 at 15:00 and 35.0 at 16:00 on 4 August 2022. */
static void
a_recorded_afternoon_is_where_it_was(void **state)
{
	(void)state;
	struct series series = { 0 };
	if (!read_sample("complete_53.5_13_20220802.json", &series))
		skip();
	/* 2022-08-04T15:00:00Z */
	const int64_t at = INT64_C(1659625200);
	assert_close((double)series_at(&series, MEASURE_AIR_TEMPERATURE, at),
	    35.3, 1e-5);
	assert_close(
	    (double)series_at(&series, MEASURE_AIR_TEMPERATURE, at + 1800),
	    35.15, 1e-5);
	assert_close(
	    (double)series_at(&series, MEASURE_GUST, at + 3599), 7.8, 1e-5);
	series_release(&series);
}

/* Hours go on by sixty minutes, whatever any clock on a wall does. */
static void
hours_stay_in_place_on_a_leap_day_and_over_clock_changes(void **state)
{
	(void)state;
	static const int64_t starts[] = {
		INT64_C(1835352000), /* 2028-02-28T12:00Z, to 1 March */
		INT64_C(1772863200), /* 2026-03-07T06:00Z */
		INT64_C(1793426400), /* 2026-10-31T06:00Z */
	};
	enum { COUNT = 60 };
	for (size_t i = 0; i < sizeof starts / sizeof starts[0]; i++) {
		struct met entries[COUNT];
		struct series s;
		for (int h = 0; h < COUNT; h++) {
			entries[h] = met_blank(starts[i] + h * HOUR);
			entries[h].instant[MET_TEMPERATURE] = h % 40;
		}
		met_take_entries(entries, COUNT, &s);
		assert_true(s.start == starts[i]);
		assert_int_equal(s.count, (COUNT - 1) * 4 + 1);
		for (int h = 0; h < COUNT; h++)
			assert_close(
			    (double)series_at(&s, MEASURE_AIR_TEMPERATURE,
				starts[i] + h * HOUR),
			    h % 40, 1e-5);
		series_release(&s);
	}
}

/* A plain generator: the same weather in each run. */
static double
draw(uint64_t *seed, int least, int most)
{
	*seed = *seed * UINT64_C(6364136223846793005) +
		UINT64_C(1442695040888963407);
	uint64_t tenths = (uint64_t)(most - least) * 10 + 1;
	return least + (double)((*seed >> 33) % tenths) / 10;
}

enum { WEATHER_HOURS = 72, COLUMNS = 9 };

/* How the other form writes each column; the order is that of struct met, then
   amount and chance. */
static const struct column {
	enum measure measure;
	const char *layer, *uom;
	double factor; /* ours to theirs */
	int least, most;
} columns[COLUMNS] = {
	{ MEASURE_AIR_TEMPERATURE, "temperature", "wmoUnit:degC", 1, -30, 45 },
	{ MEASURE_DEW_POINT, "dewpoint", "wmoUnit:degC", 1, -40, 30 },
	{ MEASURE_HUMIDITY, "relativeHumidity", "wmoUnit:percent", 1, 0, 100 },
	{ MEASURE_CLOUD, "skyCover", "wmoUnit:percent", 1, 0, 100 },
	{ MEASURE_WIND, "windSpeed", "wmoUnit:km_h-1", 3.6, 0, 30 },
	{ MEASURE_GUST, "windGust", "wmoUnit:km_h-1", 3.6, 0, 50 },
	{ MEASURE_WIND_DIRECTION, "windDirection", "wmoUnit:degree_(angle)", 1,
	    0, 359 },
	{ MEASURE_RAIN_BLOCK, "quantitativePrecipitation", "wmoUnit:mm", 1, 0,
	    20 },
	{ MEASURE_RAIN_CHANCE, "probabilityOfPrecipitation", "wmoUnit:percent",
	    1, 0, 100 },
};

static void
write_other_form(struct text *text, double weather[][COLUMNS])
{
	static const struct zone utc = { 0 };
	text_init(text, LIMIT_FORECAST_BYTES);
	(void)text_add(text, "{\"properties\":{" ISSUED);
	for (int c = 0; c < COLUMNS; c++) {
		(void)text_format(text, ",\"%s\":{\"uom\":\"%s\",\"values\":[",
		    columns[c].layer, columns[c].uom);
		for (int h = 0; h < WEATHER_HOURS; h++) {
			struct civil t =
			    civil_from_utc(&utc, MIDNIGHT + h * HOUR);
			(void)text_format(text,
			    "%s{\"validTime\":\"%04d-%02d-%02dT%02d:00:00+00:00"
			    "/PT1H\",\"value\":%.10g}",
			    h > 0 ? "," : "", t.year, t.month, t.day, t.hour,
			    weather[h][c] * columns[c].factor);
		}
		(void)text_add(text, "]}");
	}
	(void)text_add(text, "}}");
	assert_false(text->failed);
}

static void
take_both(double weather[][COLUMNS], struct series *ret, struct series *other)
{
	struct met entries[WEATHER_HOURS + 1];
	struct text text;
	for (int h = 0; h <= WEATHER_HOURS; h++) {
		struct met *met = &entries[h];
		*met = met_blank(MIDNIGHT + h * HOUR);
		memcpy(met->instant, weather[h], sizeof met->instant);
		if (h < WEATHER_HOURS)
			memcpy(met->hour, weather[h] + MET_INSTANTS,
			    sizeof met->hour);
	}
	met_take_entries(entries, WEATHER_HOURS + 1, ret);
	write_other_form(&text, weather);
	assert_true(nws_grid_read(text.data, text.length, other, NULL));
	text_release(&text);
}

/* Half a turn within the hour has no shorter way, and is not known. */
static bool
is_half_turn(double weather[][COLUMNS], int hour)
{
	double way =
	    weather[hour + 1][MET_DIRECTION] - weather[hour][MET_DIRECTION];
	return fabs(fabs(way) - 180) < 0.01;
}

static void
the_same_weather_in_two_forms_is_the_same_series(void **state)
{
	(void)state;
	uint64_t seed = 20260302;
	for (int round = 0; round < rounds(200); round++) {
		double weather[WEATHER_HOURS + 1][COLUMNS];
		struct series s, other;
		for (int h = 0; h <= WEATHER_HOURS; h++)
			for (int c = 0; c < COLUMNS; c++)
				weather[h][c] = draw(
				    &seed, columns[c].least, columns[c].most);
		take_both(weather, &s, &other);
		assert_true(s.start == other.start);
		/* The last instant has a cell of its own. */
		assert_true(s.count == other.count + 1);
		for (int i = 0; i < WEATHER_HOURS * COLUMNS; i++) {
			int h = i / COLUMNS, c = i % COLUMNS;
			int64_t at = MIDNIGHT + h * HOUR;
			if (c == MET_DIRECTION && is_half_turn(weather, h))
				continue;
			assert_close(
			    (double)series_at(&s, columns[c].measure, at),
			    (double)series_at(&other, columns[c].measure, at),
			    1e-4);
		}
		for (size_t i = 0; i < other.count; i++) {
			assert_close((double)s.column[MEASURE_RAIN][i],
			    (double)other.column[MEASURE_RAIN][i], 1e-5);
			assert_close(
			    (double)s.column[MEASURE_RAIN_BLOCK_SPAN][i],
			    (double)other.column[MEASURE_RAIN_BLOCK_SPAN][i],
			    0);
		}
		series_release(&s);
		series_release(&other);
	}
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(
		    reads_recorded_documents_to_their_horizons_and_totals),
		cmocka_unit_test(a_recorded_afternoon_is_where_it_was),
		cmocka_unit_test(
		    hours_stay_in_place_on_a_leap_day_and_over_clock_changes),
		cmocka_unit_test(
		    the_same_weather_in_two_forms_is_the_same_series),
	};
	return RUN_TESTS(tests);
}
