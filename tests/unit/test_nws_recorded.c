#include "unit/test.h"

#include "base/file.h"
#include "base/limits.h"
#include "weather/format.h"

/*
 * Documents recorded from the service are not ours to ship. They are read when
 * LULL_SHARED names a folder that holds samples/nws; otherwise these tests
 * say that they were skipped.
 */
static bool
read_sample(const char *name, struct series *ret)
{
	char path[512];
	struct text text;
	struct error error = { 0 };
	const char *folder = getenv("LULL_SHARED");
	if (folder == NULL)
		return false;
	(void)snprintf(path, sizeof path, "%s/samples/nws/%s", folder, name);
	text_init(&text, LIMIT_FORECAST_BYTES);
	bool there = file_read(path, &text, NULL);
	bool good = there && nws_grid_read(text.data, text.length, ret, &error);
	text_release(&text);
	if (there && !good)
		fail_msg("%s: %s", name, error.text);
	return there;
}

/* Whole hours from the issue to the end of the last known cell. */
static int64_t
horizon(const struct series *series, enum measure measure)
{
	const float *column = series->column[measure];
	size_t end = series->count;
	assert_non_null(column);
	while (end > 0 && isnan(column[end - 1]))
		end--;
	return (series_time(series, end) - series->issued) / 3600;
}

static void
check_horizons(const struct series *series, const int wanted[5])
{
	static const enum measure columns[5] = { MEASURE_AIR_TEMPERATURE,
		MEASURE_WIND, MEASURE_HUMIDITY, MEASURE_RAIN_CHANCE,
		MEASURE_RAIN };
	for (size_t i = 0; i < 5; i++)
		assert_int_equal(horizon(series, columns[i]), wanted[i]);
}

/* Hours of temperature, wind, humidity, chance and rain as counted by hand
   from the recorded documents. */
static void
reads_recorded_documents_to_their_horizons(void **state)
{
	(void)state;
	static const struct {
		const char *name;
		size_t cells;
		int hours[5];
	} rows[] = {
		{ "gridpoint_BMX_59_84_20240220.json", 780,
		    { 177, 177, 177, 188, 188 } },
		{ "gridpoint_TAE_58_65_20220204.json", 732,
		    { 175, 174, 174, 176, 152 } },
		{ "gridpoint_ALY_71_67_202607_retimed.json", 744,
		    { 174, 174, 174, 179, 77 } },
	};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		struct series series = { 0 };
		if (!read_sample(rows[i].name, &series))
			skip();
		assert_int_equal(series.count, rows[i].cells);
		assert_int_equal(series.rejected, 0);
		check_horizons(&series, rows[i].hours);
		series_release(&series);
	}
}

/* The amounts end days before the chances: unknown, and not dry. */
static void
rain_is_unknown_where_its_layer_has_ended(void **state)
{
	(void)state;
	struct series series = { 0 };
	if (!read_sample("gridpoint_ALY_71_67_202607_retimed.json", &series))
		skip();
	/* 2026-07-19T00:00:00Z */
	const int64_t end = INT64_C(1784419200);
	assert_close((double)series_at(&series, MEASURE_RAIN_BLOCK, end - 1),
	    8.89, 1e-6);
	for (int m = MEASURE_RAIN; m < MEASURE_RAIN_CHANCE; m++)
		assert_nan(series_at(&series, (enum measure)m, end));
	assert_close(
	    (double)series_at(&series, MEASURE_RAIN_CHANCE, end), 94, 0);
	series_release(&series);
}

/* The sum of the shares is the sum of the blocks. */
static void
no_rain_is_lost_or_made(void **state)
{
	(void)state;
	struct series series = { 0 };
	double shares = 0, blocks = 0;
	if (!read_sample("gridpoint_BMX_59_84_20240220.json", &series))
		skip();
	for (size_t i = 0; i < series.count; i++) {
		double span = (double)series.column[MEASURE_RAIN_BLOCK_SPAN][i];
		double block = (double)series.column[MEASURE_RAIN_BLOCK][i];
		shares += (double)series.column[MEASURE_RAIN][i];
		blocks += block * SERIES_STEP / span;
	}
	assert_true(shares > 0);
	assert_close(shares, blocks, 1e-4);
	series_release(&series);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(reads_recorded_documents_to_their_horizons),
		cmocka_unit_test(rain_is_unknown_where_its_layer_has_ended),
		cmocka_unit_test(no_rain_is_lost_or_made),
	};
	return RUN_TESTS(tests);
}
