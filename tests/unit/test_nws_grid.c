#include "unit/test.h"

#include "unit/nws_document.h"
#include "weather/format.h"

/* Reads a document that must be good, from a block of its exact size. */
static void
take_bytes(const char *bytes, size_t length, struct series *ret)
{
	struct error error = { 0 };
	char *block = malloc(length > 0 ? length : 1);
	assert_non_null(block);
	memcpy(block, bytes, length);
	bool good = nws_grid_read(block, length, ret, &error);
	free(block);
	if (!good)
		fail_msg("refused: %s", error.text);
}

static void
take(const char *document, struct series *ret)
{
	take_bytes(document, strlen(document), ret);
}

/* The value `seconds` after midnight; a wanted NaN is "not known". */
static void
check_at(const struct series *series, enum measure measure, int64_t seconds,
    double wanted)
{
	double value = (double)series_at(series, measure, MIDNIGHT + seconds);
	if (isnan(wanted))
		assert_nan(value);
	else
		assert_close(value, wanted, 1e-4);
}

static const double unknown = (double)NAN;

static void
reads_a_whole_document(void **state)
{
	(void)state;
	struct text text;
	struct series s;
	read_fixture("grid.json", &text);
	take_bytes(text.data, text.length, &s);
	assert_true(s.start == MIDNIGHT + 6 * HOUR);
	assert_int_equal(s.count, 36 * 4);
	assert_true(s.issued == MIDNIGHT + 12 * HOUR + 1200);
	assert_int_equal(s.rejected, 0);
	check_at(&s, MEASURE_AIR_TEMPERATURE, 11 * HOUR, 12.2222222);
	check_at(&s, MEASURE_DEW_POINT, 17 * HOUR, 4);
	check_at(&s, MEASURE_DEW_POINT, 18 * HOUR, 2.5);
	check_at(&s, MEASURE_HUMIDITY, 12 * HOUR, 48);
	check_at(&s, MEASURE_WIND, 11 * HOUR, 18.52 / 3.6);
	check_at(&s, MEASURE_GUST, 11 * HOUR, 33.336 / 3.6);
	check_at(&s, MEASURE_WIND_DIRECTION, 41 * HOUR, 200);
	check_at(&s, MEASURE_CLOUD, 18 * HOUR, 75);
	check_at(&s, MEASURE_RAIN_CHANCE, 18 * HOUR, 70);
	/* 2.54 mm in a block of 6 h is 24 shares. */
	check_at(&s, MEASURE_RAIN, 18 * HOUR, 2.54 / 24);
	check_at(&s, MEASURE_RAIN_BLOCK, 23 * HOUR, 2.54);
	check_at(&s, MEASURE_RAIN_BLOCK_SPAN, 23 * HOUR, 6 * 3600);
	check_at(&s, MEASURE_RAIN_BLOCK, 30 * HOUR, unknown);
	check_at(&s, MEASURE_RAIN_CHANCE, 30 * HOUR, 15);
	for (int m = MEASURE_WET; m < MEASURES; m++)
		assert_null(s.column[m]);
	series_release(&s);
	text_release(&text);
}

static void
accepts_namespaces_and_converts_units(void **state)
{
	(void)state;
	static const struct {
		const char *document;
		enum measure measure;
		double wanted;
	} rows[] = {
		{ DOCUMENT(AIR "," WIND("wmoUnit:km_h-1", "36")), MEASURE_WIND,
		    10 },
		{ DOCUMENT(AIR "," WIND("wmo:km_h-1", "36")), MEASURE_WIND,
		    10 },
		{ DOCUMENT(AIR "," WIND("unit:km_h-1", "36")), MEASURE_WIND,
		    10 },
		{ DOCUMENT(AIR "," WIND("uc:km/h", "36")), MEASURE_WIND, 10 },
		{ DOCUMENT(AIR "," WIND("nwsUnit:m_s-1", "4")), MEASURE_WIND,
		    4 },
		{ DOCUMENT(AIR "," WIND("m_s-1", "4")), MEASURE_WIND, 4 },
		{ DOCUMENT(LAYER("temperature", "unit:degF",
		      ENTRY("00:00:00Z/PT1H", "85"))),
		    MEASURE_AIR_TEMPERATURE, 29.4444444 },
		{ DOCUMENT(AIR "," LAYER("quantitativePrecipitation",
		      "wmoUnit:kg_m-2", ENTRY("00:00:00Z/PT1H", "4"))),
		    MEASURE_RAIN_BLOCK, 4 },
	};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		struct series s;
		take(rows[i].document, &s);
		check_at(&s, rows[i].measure, 0, rows[i].wanted);
		series_release(&s);
	}
}

static void
the_order_of_entries_does_not_matter(void **state)
{
	(void)state;
	static const char shuffled[] = DOCUMENT(AIR "," CHANCE(
	    ENTRY("06:00:00Z/PT6H", "20") "," ENTRY("00:00:00Z/PT6H", "30")));
	struct series s;
	take(shuffled, &s);
	check_at(&s, MEASURE_RAIN_CHANCE, 5 * HOUR, 30);
	check_at(&s, MEASURE_RAIN_CHANCE, 6 * HOUR, 20);
	series_release(&s);
}

static void
null_and_missing_are_gaps_and_never_zero(void **state)
{
	(void)state;
	struct series s;
	take(DOCUMENT(
		 AIR ",\"windGust\":{\"values\":[]},\"skyCover\":null," LAYER(
		     "windSpeed", "wmoUnit:km_h-1",
		     ENTRY("00:00:00Z/PT1H", "7.2") "," ENTRY("01:00:00Z/PT2H",
			 "null") "," ENTRY("04:00:00Z/PT1H", "-0"))),
	    &s);
	check_at(&s, MEASURE_WIND, HOUR - 1, 2);
	check_at(&s, MEASURE_WIND, HOUR, unknown);
	check_at(&s, MEASURE_WIND, 3 * HOUR, unknown);
	check_at(&s, MEASURE_WIND, 4 * HOUR, 0);
	check_at(&s, MEASURE_WIND, 5 * HOUR, unknown);
	assert_null(s.column[MEASURE_GUST]);
	assert_null(s.column[MEASURE_CLOUD]);
	assert_null(s.column[MEASURE_RAIN]);
	assert_int_equal(s.rejected, 0);
	series_release(&s);
}

static void
absurd_values_are_gaps_and_counted(void **state)
{
	(void)state;
	struct series s;
	/* 1687 km/h is 1048 mph: a fill value that was converted. */
	take(DOCUMENT(WIND("wmoUnit:km_h-1", "1687") "," RAIN(
		 ENTRY("00:00:00Z/PT6H", "601") "," ENTRY(
		     "06:00:00Z/PT6H", "-1")) "," LAYER("temperature", "degC",
		 ENTRY("00:00:00Z/PT1H", "9999") "," ENTRY(
		     "01:00:00Z/PT1H", "21"))),
	    &s);
	assert_int_equal(s.rejected, 4);
	check_at(&s, MEASURE_WIND, 0, unknown);
	check_at(&s, MEASURE_AIR_TEMPERATURE, 0, unknown);
	check_at(&s, MEASURE_AIR_TEMPERATURE, HOUR, 21);
	check_at(&s, MEASURE_RAIN, 0, unknown);
	check_at(&s, MEASURE_RAIN_BLOCK_SPAN, 0, unknown);
	check_at(&s, MEASURE_RAIN, 6 * HOUR, unknown);
	series_release(&s);
}

static void
rain_totals_keep_their_block(void **state)
{
	(void)state;
	struct series s;
	take(DOCUMENT(AIR "," RAIN(ENTRY("00:00:00Z/PT1H", "1") "," ENTRY(
		 "01:00:00Z/PT5H", "0") "," ENTRY("08:00:00Z/PT12H",
		 "6")) "," CHANCE(ENTRY("00:00:00Z/P2DT3H", "20"))),
	    &s);
	check_at(&s, MEASURE_RAIN, 0, 0.25);
	check_at(&s, MEASURE_RAIN_BLOCK_SPAN, 0, 3600);
	check_at(&s, MEASURE_RAIN, HOUR, 0);
	check_at(&s, MEASURE_RAIN_BLOCK_SPAN, HOUR, 5 * 3600);
	check_at(&s, MEASURE_RAIN_BLOCK, 6 * HOUR, unknown);
	check_at(&s, MEASURE_RAIN, 8 * HOUR, 6.0 / 48);
	check_at(&s, MEASURE_RAIN_BLOCK, 19 * HOUR, 6);
	check_at(&s, MEASURE_RAIN_BLOCK_SPAN, 19 * HOUR, 12 * 3600);
	/* A merged run is 20 in each cell, to the end of the run. */
	assert_true(series_end(&s) == MIDNIGHT + 51 * HOUR);
	check_at(&s, MEASURE_RAIN_CHANCE, 51 * HOUR - 1, 20);
	check_at(&s, MEASURE_AIR_TEMPERATURE, 24 * HOUR, unknown);
	series_release(&s);
}

static void
a_dry_rest_does_not_hide_a_short_shower(void **state)
{
	(void)state;
	struct series s;
	take(DOCUMENT(AIR "," RAIN(ENTRY("00:00:00Z/PT5M", "6") "," ENTRY(
		 "00:05:00Z/PT55M", "0"))),
	    &s);
	check_at(&s, MEASURE_RAIN_BLOCK, 0, 6);
	check_at(&s, MEASURE_RAIN_BLOCK_SPAN, 0, 300);
	check_at(&s, MEASURE_RAIN, 0, 6);
	check_at(&s, MEASURE_RAIN_BLOCK, 900, 0);
	series_release(&s);
}

static void
does_not_care_how_grid_numbers_are_written(void **state)
{
	(void)state;
	struct series s;
	take(DOCUMENT("\"gridX\":\"59\",\"gridY\":\"84\"," AIR), &s);
	series_release(&s);
	take(DOCUMENT("\"gridX\":59,\"gridY\":84,\"news\":[{}]," AIR), &s);
	assert_int_equal(s.count, 96);
	series_release(&s);
}

static void
caps_the_span_of_a_document(void **state)
{
	(void)state;
	struct series s;
	take(DOCUMENT(AIR "," CHANCE(ENTRY("00:00:00Z/P400D", "20"))), &s);
	assert_true(series_end(&s) == MIDNIGHT + LIMIT_FORECAST_DAYS * DAY);
	series_release(&s);
}

static void
hours_stay_in_place_when_clocks_change_and_on_a_leap_day(void **state)
{
	(void)state;
	static const struct {
		int64_t start;
		int change;
		int offsets[2];
	} rows[] = {
		/* 2026-03-07T06:00Z; clocks go forward at 2026-03-08T08:00Z in
		   a zone 6 h behind. */
		{ INT64_C(1772863200), 26, { -6, -5 } },
		/* 2026-10-31T06:00Z; back at 2026-11-01T07:00Z. */
		{ INT64_C(1793426400), 25, { -5, -6 } },
		/* The same week with the offset that the service uses. */
		{ INT64_C(1772863200), 26, { 0, 0 } },
		/* 2028-02-28T12:00Z to 1 March, over the leap day. */
		{ INT64_C(1835352000), 0, { 0, 0 } },
	};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		struct text text;
		struct series s;
		make_week(
		    &text, rows[i].start, 60, rows[i].change, rows[i].offsets);
		take_bytes(text.data, text.length, &s);
		assert_true(s.start == rows[i].start);
		assert_int_equal(s.count, 240);
		for (int h = 0; h < 60; h++)
			check_at(&s, MEASURE_AIR_TEMPERATURE,
			    rows[i].start - MIDNIGHT + h * HOUR, h % 40);
		series_release(&s);
		text_release(&text);
	}
}

static void
the_table_of_formats_finds_the_reader(void **state)
{
	(void)state;
	assert_ptr_equal(format_find("nws-grid"), format_at(0));
	assert_true(format_at(0)->read == nws_grid_read);
	assert_string_equal(format_at(0)->accept, "application/geo+json");
	assert_true(strlen(format_at(0)->credit) > 0);
	assert_null(format_find("NWS-grid"));
	for (size_t i = 0; format_at(i) != NULL; i++)
		assert_ptr_equal(format_find(format_at(i)->name), format_at(i));
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(reads_a_whole_document),
		cmocka_unit_test(accepts_namespaces_and_converts_units),
		cmocka_unit_test(the_order_of_entries_does_not_matter),
		cmocka_unit_test(null_and_missing_are_gaps_and_never_zero),
		cmocka_unit_test(absurd_values_are_gaps_and_counted),
		cmocka_unit_test(rain_totals_keep_their_block),
		cmocka_unit_test(a_dry_rest_does_not_hide_a_short_shower),
		cmocka_unit_test(does_not_care_how_grid_numbers_are_written),
		cmocka_unit_test(caps_the_span_of_a_document),
		cmocka_unit_test(
		    hours_stay_in_place_when_clocks_change_and_on_a_leap_day),
		cmocka_unit_test(the_table_of_formats_finds_the_reader),
	};
	return RUN_TESTS(tests);
}
