#include "unit/test.h"

#include "unit/met_document.h"

static const double unknown = (double)NAN;

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

static void
check_rain(const struct series *series, int64_t seconds, double share,
    double block, double span)
{
	check_at(series, MEASURE_RAIN, seconds, share);
	check_at(series, MEASURE_RAIN_BLOCK, seconds, block);
	check_at(series, MEASURE_RAIN_BLOCK_SPAN, seconds, span);
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

/*
 * A document as the service lays it out: seven hours, of which the first names
 * both periods, the middle ones the next hour alone; then three steps of six
 * hours, of which the last is an instant. Rain is 0.4 mm in each hour, and six
 * hours of that where they are foretold.
 */
enum { HOURLY = 6, ENTRIES = 10 };

static void
make_compact(struct met entries[ENTRIES])
{
	for (int i = 0; i < ENTRIES; i++) {
		bool hourly = i < HOURLY;
		int64_t hour = hourly ? i : HOURLY + (i - HOURLY) * 6;
		struct met *met = &entries[i];
		*met = met_blank(MIDNIGHT + hour * HOUR);
		met->instant[MET_TEMPERATURE] = 10 + (double)i;
		met->instant[MET_HUMIDITY] = 80 - (double)i;
		met->instant[MET_CLOUD] = 50;
		met->instant[MET_WIND] = 2 + (double)i;
		met->instant[MET_DIRECTION] = 200;
		met->hour[0] = hourly ? 0.4 : unknown;
		met->six[0] = hourly && i > 0 ? unknown : 2.4;
	}
	entries[ENTRIES - 1].six[0] = unknown;
}

/* The gust goes on to the first of the coarse entries. */
static void
make_complete(struct met entries[ENTRIES])
{
	make_compact(entries);
	for (int i = 0; i < ENTRIES; i++) {
		struct met *met = &entries[i];
		met->instant[MET_DEW_POINT] = 5 + (double)i;
		if (i <= HOURLY)
			met->instant[MET_GUST] = 6 + (double)i;
		if (!isnan(met->hour[0]))
			met->hour[1] = 30 + (double)i;
		if (!isnan(met->six[0]))
			met->six[1] = 70;
	}
}

static void
reads_the_hourly_part(void **state)
{
	(void)state;
	struct met entries[ENTRIES];
	struct series s;
	make_complete(entries);
	met_take_entries(entries, ENTRIES, &s);
	assert_true(s.start == MIDNIGHT);
	assert_true(series_end(&s) == MIDNIGHT + 24 * HOUR + SERIES_STEP);
	assert_true(s.issued == MIDNIGHT - 1800);
	assert_int_equal(s.rejected, 0);
	check_at(&s, MEASURE_AIR_TEMPERATURE, 2 * HOUR, 12);
	check_at(&s, MEASURE_AIR_TEMPERATURE, 2 * HOUR + 900, 12.25);
	check_at(&s, MEASURE_DEW_POINT, 2 * HOUR + 1800, 7.5);
	check_at(&s, MEASURE_HUMIDITY, 2 * HOUR + 2700, 77.25);
	check_at(&s, MEASURE_CLOUD, 2 * HOUR, 50);
	check_at(&s, MEASURE_WIND, 5 * HOUR + 900, 7.25);
	check_at(&s, MEASURE_WIND_DIRECTION, 5 * HOUR, 200);
	/* A gust is that of the hour, and holds through it. */
	check_at(&s, MEASURE_GUST, 2 * HOUR, 8);
	check_at(&s, MEASURE_GUST, 3 * HOUR - 1, 8);
	check_at(&s, MEASURE_GUST, 5 * HOUR, 11);
	check_rain(&s, 0, 0.1, 0.4, 3600);
	check_rain(&s, 5 * HOUR, 0.1, 0.4, 3600);
	check_at(&s, MEASURE_RAIN_CHANCE, 0, 30);
	check_at(&s, MEASURE_RAIN_CHANCE, 6 * HOUR - 1, 35);
	for (int m = MEASURE_WET; m < MEASURES; m++)
		assert_null(s.column[m]);
	series_release(&s);
}

static void
the_coarse_tail_knows_what_a_line_can_tell(void **state)
{
	(void)state;
	struct met entries[ENTRIES];
	struct series s;
	make_complete(entries);
	met_take_entries(entries, ENTRIES, &s);
	check_at(&s, MEASURE_AIR_TEMPERATURE, 6 * HOUR - 1, 15.75);
	check_at(&s, MEASURE_AIR_TEMPERATURE, 6 * HOUR, 16);
	check_at(&s, MEASURE_GUST, 6 * HOUR, unknown);
	for (int64_t at = 6 * HOUR + SERIES_STEP; at < 24 * HOUR;
	     at += SERIES_STEP) {
		check_at(&s, MEASURE_AIR_TEMPERATURE, at, unknown);
		check_at(&s, MEASURE_HUMIDITY, at, unknown);
		check_at(&s, MEASURE_WIND, at, unknown);
		check_at(&s, MEASURE_WIND_DIRECTION, at, unknown);
		/* The instant of 06:00 has a gust, but of which period? */
		check_at(&s, MEASURE_GUST, at, unknown);
	}
	check_at(&s, MEASURE_WIND, 6 * HOUR, 8);
	check_at(&s, MEASURE_DEW_POINT, 15 * HOUR, 12.5);
	check_at(&s, MEASURE_CLOUD, 24 * HOUR - 1, 50);
	check_rain(&s, 6 * HOUR, 0.1, 2.4, 6 * 3600);
	check_rain(&s, 24 * HOUR - 1, 0.1, 2.4, 6 * 3600);
	check_rain(&s, 24 * HOUR, unknown, unknown, unknown);
	check_at(&s, MEASURE_RAIN_CHANCE, 12 * HOUR, 70);
	series_release(&s);
}

static void
overlapping_periods_are_not_counted_twice(void **state)
{
	(void)state;
	struct met entries[ENTRIES];
	struct series s;
	make_compact(entries);
	/* Every hourly entry foretells six hours too. */
	for (int i = 0; i < HOURLY; i++)
		entries[i].six[0] = 2.4;
	met_take_entries(entries, ENTRIES, &s);
	assert_close(rain_total(&s), 24 * 0.4, 1e-4);
	check_rain(&s, HOUR, 0.1, 0.4, 3600);
	series_release(&s);
	/* An hour without its own amount is a gap; six hours from it on would
	   cover hours that have theirs. */
	entries[2].hour[0] = unknown;
	met_take_entries(entries, ENTRIES, &s);
	assert_close(rain_total(&s), 23 * 0.4, 1e-4);
	check_rain(&s, 2 * HOUR, unknown, unknown, unknown);
	series_release(&s);
}

static void
a_period_counts_as_far_as_the_next_entry_only(void **state)
{
	(void)state;
	static const struct {
		int64_t step; /* in minutes */
		double share, span;
	} rows[] = {
		{ 30, unknown, unknown },
		{ 60, 0.2, 3600 },
		{ 180, 0.2, 3600 },
		{ 360, 0.25, 6 * 3600 },
		{ 720, 0.25, 6 * 3600 },
	};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		struct met entries[3] = { met_blank(MIDNIGHT - HOUR),
			met_blank(MIDNIGHT),
			met_blank(MIDNIGHT + rows[i].step * 60) };
		struct series s;
		entries[0].instant[MET_TEMPERATURE] = 8;
		entries[1].instant[MET_TEMPERATURE] = 8;
		entries[1].hour[0] = 0.8;
		entries[1].six[0] = 6;
		met_take_entries(entries, 3, &s);
		check_rain(&s, 0, rows[i].share,
		    rows[i].span > 3600 ? 6 : rows[i].share * 4, rows[i].span);
		check_at(&s, MEASURE_RAIN, 6 * HOUR, unknown);
		series_release(&s);
	}
}

static void
a_compact_document_lacks_columns_and_not_hours(void **state)
{
	(void)state;
	struct met entries[ENTRIES];
	struct series s;
	make_compact(entries);
	met_take_entries(entries, ENTRIES, &s);
	/* The mean wind is there, and does not stand in for the gust. */
	check_at(&s, MEASURE_WIND, 0, 2);
	assert_null(s.column[MEASURE_GUST]);
	assert_null(s.column[MEASURE_DEW_POINT]);
	assert_null(s.column[MEASURE_RAIN_CHANCE]);
	assert_close(rain_total(&s), 24 * 0.4, 1e-4);
	series_release(&s);
}

static void
null_and_missing_are_gaps_and_never_zero(void **state)
{
	(void)state;
	struct series s;
	static const char gaps[] = MET(MET_ENTRY("00:00:00Z",
	    MET_AIR("-0") ",\"wind_speed\":null",
	    ",\"next_12_hours\":{},\"next_6_hours\":null" MET_PERIOD(
		"next_1_hours",
		"\"precipitation_amount\":null,"
		"\"probability_of_precipitation\":5")) "," MET_ENTRY("01:00:"
								     "00Z",
	    MET_AIR("0") ",\"wind_speed\":3",
	    "") "," MET_ENTRY("02:00:00Z", "\"wind_speed\":3",
	    "") ","
		"{\"time\":\"2026-03-02T03:00:00Z\",\"data\":null},"
		"{\"time\":\"2026-03-02T04:00:00Z\"}");
	met_take(gaps, sizeof gaps - 1, &s);
	check_at(&s, MEASURE_AIR_TEMPERATURE, 0, 0);
	check_at(&s, MEASURE_AIR_TEMPERATURE, HOUR, 0);
	check_at(&s, MEASURE_AIR_TEMPERATURE, HOUR + 900, unknown);
	check_at(&s, MEASURE_WIND, HOUR - 1, unknown);
	check_at(&s, MEASURE_WIND, HOUR, 3);
	check_at(&s, MEASURE_WIND, 2 * HOUR, 3);
	check_at(&s, MEASURE_WIND, 2 * HOUR + 900, unknown);
	check_rain(&s, 0, unknown, unknown, unknown);
	check_at(&s, MEASURE_RAIN_CHANCE, HOUR - 1, 5);
	check_at(&s, MEASURE_RAIN_CHANCE, HOUR, unknown);
	assert_int_equal(s.rejected, 0);
	series_release(&s);
}

static void
absurd_values_are_gaps_on_both_sides_and_counted_once(void **state)
{
	(void)state;
	struct met entries[ENTRIES];
	struct series s;
	make_complete(entries);
	entries[2].instant[MET_TEMPERATURE] = 9999;
	entries[2].instant[MET_GUST] = -1;
	entries[2].hour[0] = 601;
	entries[2].hour[1] = 101;
	met_take_entries(entries, ENTRIES, &s);
	assert_int_equal(s.rejected, 4);
	check_at(&s, MEASURE_AIR_TEMPERATURE, HOUR, 11);
	check_at(&s, MEASURE_AIR_TEMPERATURE, HOUR + 900, unknown);
	check_at(&s, MEASURE_AIR_TEMPERATURE, 3 * HOUR - 1, unknown);
	check_at(&s, MEASURE_AIR_TEMPERATURE, 3 * HOUR, 13);
	check_at(&s, MEASURE_GUST, 2 * HOUR, unknown);
	check_rain(&s, 2 * HOUR, unknown, unknown, unknown);
	check_at(&s, MEASURE_RAIN_CHANCE, 2 * HOUR, unknown);
	series_release(&s);
}

static void
the_wind_turns_the_shorter_way(void **state)
{
	(void)state;
	static const struct {
		double from, to, half;
	} rows[] = {
		{ 350, 20, 5 },
		{ 20, 350, 5 },
		{ 340, 350, 345 },
		{ 10, 340, 355 },
		{ 360, 0, 360 },
		{ 90, 200, 145 },
		{ 90, 270, unknown },
	};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		struct met entries[2] = { met_blank(MIDNIGHT),
			met_blank(MIDNIGHT + HOUR) };
		struct series s;
		entries[0].instant[MET_TEMPERATURE] = 8;
		entries[1].instant[MET_TEMPERATURE] = 8;
		entries[0].instant[MET_DIRECTION] = rows[i].from;
		entries[1].instant[MET_DIRECTION] = rows[i].to;
		met_take_entries(entries, 2, &s);
		check_at(&s, MEASURE_WIND_DIRECTION, 1800, rows[i].half);
		series_release(&s);
	}
}

static void
instants_run_on_and_periods_are_held(void **state)
{
	(void)state;
	struct met entries[ENTRIES];
	struct series s;
	make_complete(entries);
	met_take_entries(entries, ENTRIES, &s);
	for (int m = 0; m < MEASURE_WET; m++)
		assert_int_equal(s.continuous[m],
		    m == MEASURE_AIR_TEMPERATURE || m == MEASURE_DEW_POINT ||
			m == MEASURE_HUMIDITY || m == MEASURE_WIND ||
			m == MEASURE_CLOUD);
	series_release(&s);
}

static void
converts_the_units_that_are_stated(void **state)
{
	(void)state;
	static const char other[] = MET_WITH(
	    MET_META("\"air_temperature\":\"fahrenheit\","
		     "\"wind_speed\":\"km/h\","
		     "\"precipitation_amount\":\"inch\""),
	    MET_ENTRY("00:00:00Z", MET_AIR("50") ",\"wind_speed\":36",
		MET_PERIOD("next_1_hours",
		    "\"precipitation_amount\":1")) "," MET_ENTRY("01:00:00Z",
		MET_AIR("68") ",\"wind_speed\":72", ""));
	struct series s;
	met_take(other, sizeof other - 1, &s);
	check_at(&s, MEASURE_AIR_TEMPERATURE, 0, 10);
	check_at(&s, MEASURE_AIR_TEMPERATURE, 1800, 15);
	check_at(&s, MEASURE_WIND, 1800, 15);
	check_at(&s, MEASURE_RAIN_BLOCK, 0, 25.4);
	series_release(&s);
}

static void
the_table_of_formats_finds_the_reader(void **state)
{
	(void)state;
	const struct format *format = format_find("met-norway");
	assert_non_null(format);
	assert_true(format->read == met_norway_read);
	assert_string_equal(format->accept, "application/json");
	/* The licence asks for the name, for itself and for the change. */
	assert_contains(format->credit, "MET Norway");
	assert_contains(format->credit, "CC BY 4.0");
	assert_contains(format->credit, "resampled");
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(reads_the_hourly_part),
		cmocka_unit_test(the_coarse_tail_knows_what_a_line_can_tell),
		cmocka_unit_test(overlapping_periods_are_not_counted_twice),
		cmocka_unit_test(a_period_counts_as_far_as_the_next_entry_only),
		cmocka_unit_test(
		    a_compact_document_lacks_columns_and_not_hours),
		cmocka_unit_test(null_and_missing_are_gaps_and_never_zero),
		cmocka_unit_test(
		    absurd_values_are_gaps_on_both_sides_and_counted_once),
		cmocka_unit_test(the_wind_turns_the_shorter_way),
		cmocka_unit_test(instants_run_on_and_periods_are_held),
		cmocka_unit_test(converts_the_units_that_are_stated),
		cmocka_unit_test(the_table_of_formats_finds_the_reader),
	};
	return RUN_TESTS(tests);
}
