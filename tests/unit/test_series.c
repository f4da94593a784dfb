#include "unit/test.h"

#include "weather/series.h"

/* 2026-03-02T00:00:00Z */
#define MIDNIGHT INT64_C(1772409600)
#define HOUR     INT64_C(3600)

/* A wanted NaN is "not known". */
static void
check_at(const struct series *series, enum measure measure, int64_t time,
    double wanted)
{
	double value = (double)series_at(series, measure, time);
	if (isnan(wanted))
		assert_nan(value);
	else
		assert_close(value, wanted, 1e-6);
}

/* Sum of the known cells of a column. */
static double
total(const struct series *series, enum measure measure)
{
	double sum = 0;
	for (size_t i = 0; i < series->count; i++)
		if (!isnan(series->column[measure][i]))
			sum += (double)series->column[measure][i];
	return sum;
}

static void
rounds_its_span_out_to_whole_steps(void **state)
{
	(void)state;
	static const struct {
		int64_t from, to, start;
		size_t count;
	} rows[] = {
		{ MIDNIGHT, MIDNIGHT + HOUR, MIDNIGHT, 4 },
		{ MIDNIGHT + 1, MIDNIGHT + HOUR + 1, MIDNIGHT, 5 },
		{ MIDNIGHT + 899, MIDNIGHT + 900, MIDNIGHT, 1 },
		{ MIDNIGHT, MIDNIGHT, MIDNIGHT, 0 },
		{ MIDNIGHT + HOUR, MIDNIGHT, MIDNIGHT + HOUR, 0 },
		{ -1, 1, -900, 2 },
	};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		struct series series;
		series_init(&series, rows[i].from, rows[i].to);
		assert_true(series.start == rows[i].start);
		assert_int_equal(series.count, rows[i].count);
		assert_true(series_end(&series) ==
			    rows[i].start + (int64_t)rows[i].count * 900);
		series_release(&series);
	}
}

static void
new_columns_are_unknown(void **state)
{
	(void)state;
	struct series series;
	series_init(&series, MIDNIGHT, MIDNIGHT + HOUR);
	check_at(&series, MEASURE_WIND, MIDNIGHT, (double)NAN);
	float *column = series_column(&series, MEASURE_WIND);
	for (size_t i = 0; i < series.count; i++)
		assert_nan(column[i]);
	assert_ptr_equal(series_column(&series, MEASURE_WIND), column);
	series_release(&series);
	series_release(&series);
	series_release(NULL);
}

static void
holds_a_value_over_every_cell_it_touches(void **state)
{
	(void)state;
	struct series series;
	series_init(&series, MIDNIGHT, MIDNIGHT + 2 * HOUR);
	series_hold(&series, MEASURE_WIND, MIDNIGHT + 1000, MIDNIGHT + 2701, 4);
	check_at(&series, MEASURE_WIND, MIDNIGHT + 899, (double)NAN);
	check_at(&series, MEASURE_WIND, MIDNIGHT + 900, 4);
	check_at(&series, MEASURE_WIND, MIDNIGHT + 3599, 4);
	check_at(&series, MEASURE_WIND, MIDNIGHT + 3600, (double)NAN);
	series_release(&series);
}

static void
ignores_what_lies_outside(void **state)
{
	(void)state;
	struct series series;
	series_init(&series, MIDNIGHT, MIDNIGHT + HOUR);
	series_hold(&series, MEASURE_WIND, MIDNIGHT - HOUR, MIDNIGHT, 4);
	series_hold(
	    &series, MEASURE_WIND, MIDNIGHT + HOUR, MIDNIGHT + 2 * HOUR, 4);
	series_share(&series, MEASURE_RAIN, MIDNIGHT - HOUR, MIDNIGHT, 4);
	assert_null(series.column[MEASURE_WIND]);
	assert_null(series.column[MEASURE_RAIN]);
	series_hold(
	    &series, MEASURE_WIND, MIDNIGHT - HOUR, MIDNIGHT + 3 * HOUR, 4);
	assert_close(total(&series, MEASURE_WIND), 16, 0);
	check_at(&series, MEASURE_WIND, MIDNIGHT - 1, (double)NAN);
	check_at(&series, MEASURE_WIND, MIDNIGHT + HOUR, (double)NAN);
	series_release(&series);
}

static void
counts_implausible_values_and_leaves_them_unknown(void **state)
{
	(void)state;
	static const struct {
		enum measure measure;
		double value;
		size_t rejected;
	} rows[] = {
		{ MEASURE_AIR_TEMPERATURE, 60, 0 },
		{ MEASURE_AIR_TEMPERATURE, 60.01, 1 },
		{ MEASURE_AIR_TEMPERATURE, -60, 0 },
		{ MEASURE_AIR_TEMPERATURE, 9999, 1 },
		{ MEASURE_DEW_POINT, -80, 0 },
		{ MEASURE_DEW_POINT, 45.1, 1 },
		{ MEASURE_HUMIDITY, 100, 0 },
		{ MEASURE_HUMIDITY, -0.1, 1 },
		{ MEASURE_WIND, 1687 / 3.6, 1 },
		{ MEASURE_WIND, 75, 0 },
		{ MEASURE_GUST, 110, 0 },
		{ MEASURE_GUST, 111, 1 },
		{ MEASURE_WIND_DIRECTION, 360, 0 },
		{ MEASURE_RAIN_BLOCK, 601, 1 },
		{ MEASURE_DAYS_SINCE, 100000, 0 },
		{ MEASURE_DAYS_SINCE, INFINITY, 1 },
		{ MEASURE_DAYS_SINCE, 1e300, 1 },
		{ MEASURE_WIND, (double)NAN, 2 },
	};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		struct series series;
		bool kept = rows[i].rejected == 0;
		series_init(&series, MIDNIGHT, MIDNIGHT + HOUR);
		series_hold(&series, rows[i].measure, MIDNIGHT, MIDNIGHT + HOUR,
		    rows[i].value);
		/* An unknown value (2) is a gap, but no bad report. */
		assert_int_equal(
		    series.rejected, rows[i].rejected == 1 ? 1 : 0);
		check_at(&series, rows[i].measure, MIDNIGHT,
		    kept ? rows[i].value : (double)NAN);
		series_release(&series);
	}
}

static void
shares_an_amount_by_overlap(void **state)
{
	(void)state;
	struct series series;
	series_init(&series, MIDNIGHT, MIDNIGHT + 2 * HOUR);
	/* 60 minutes from 00:10: 5, 15, 15, 15 and 10 of them. */
	series_share(&series, MEASURE_RAIN, MIDNIGHT + 600, MIDNIGHT + 4200, 6);
	static const double wanted[] = { 0.5, 1.5, 1.5, 1.5, 1 };
	for (size_t i = 0; i < 5; i++)
		assert_close(series.column[MEASURE_RAIN][i], wanted[i], 1e-6);
	assert_nan(series.column[MEASURE_RAIN][5]);
	/* A second block adds to the cell that both touch. */
	series_share(
	    &series, MEASURE_RAIN, MIDNIGHT + 4200, MIDNIGHT + 4500, 2);
	assert_close(series.column[MEASURE_RAIN][4], 3, 1e-6);
	series_release(&series);
}

static void
shares_only_the_part_inside_the_series(void **state)
{
	(void)state;
	struct series series;
	series_init(&series, MIDNIGHT, MIDNIGHT + HOUR);
	series_share(
	    &series, MEASURE_RAIN, MIDNIGHT - 5 * HOUR, MIDNIGHT + HOUR, 12);
	assert_close(total(&series, MEASURE_RAIN), 2, 1e-6);
	series_share(&series, MEASURE_RAIN, MIDNIGHT, MIDNIGHT + HOUR, -1);
	assert_int_equal(series.rejected, 1);
	assert_close(total(&series, MEASURE_RAIN), 2, 1e-6);
	series_release(&series);
}

static void
a_dry_block_is_zero_and_not_unknown(void **state)
{
	(void)state;
	struct series series;
	series_init(&series, MIDNIGHT, MIDNIGHT + HOUR);
	series_share(&series, MEASURE_RAIN, MIDNIGHT, MIDNIGHT + HOUR, 0);
	check_at(&series, MEASURE_RAIN, MIDNIGHT, 0);
	series_release(&series);
}

static void
many_plausible_blocks_stay_within_bounds_in_one_cell(void **state)
{
	(void)state;
	struct series series;
	series_init(&series, MIDNIGHT, MIDNIGHT + HOUR);
	for (int64_t i = 0; i < 15; i++)
		series_share(&series, MEASURE_RAIN, MIDNIGHT + i * 60,
		    MIDNIGHT + (i + 1) * 60, 500);
	check_at(&series, MEASURE_RAIN, MIDNIGHT, 600);
	series_release(&series);
}

/* An older issue: 00:00 to 04:00, all of it known. */
static void
make_older(struct series *older)
{
	series_init(older, MIDNIGHT, MIDNIGHT + 4 * HOUR);
	older->issued = MIDNIGHT;
	older->continuous[MEASURE_WIND] = true;
	series_hold(older, MEASURE_WIND, MIDNIGHT, MIDNIGHT + 4 * HOUR, 3);
	series_hold(
	    older, MEASURE_RAIN_BLOCK, MIDNIGHT, MIDNIGHT + 4 * HOUR, 8);
	series_hold(older, MEASURE_RAIN_BLOCK_SPAN, MIDNIGHT,
	    MIDNIGHT + 4 * HOUR, 14400);
	series_share(older, MEASURE_RAIN, MIDNIGHT, MIDNIGHT + 4 * HOUR, 8);
}

static void
fills_the_past_and_only_the_past(void **state)
{
	(void)state;
	struct series older, series;
	make_older(&older);
	series_init(&series, MIDNIGHT - HOUR, MIDNIGHT + 3 * HOUR);
	series.issued = MIDNIGHT + HOUR;
	(void)series_column(&series, MEASURE_RAIN);
	series_hold(
	    &series, MEASURE_WIND, MIDNIGHT + HOUR, MIDNIGHT + HOUR + 900, 7);
	/* 02:10 lies in a cell that is not over yet. */
	series_fill_past(&series, &older, MIDNIGHT + 2 * HOUR + 600);
	check_at(&series, MEASURE_WIND, MIDNIGHT - 1, (double)NAN);
	check_at(&series, MEASURE_WIND, MIDNIGHT, 3);
	check_at(&series, MEASURE_WIND, MIDNIGHT + HOUR, 7);
	check_at(&series, MEASURE_WIND, MIDNIGHT + 2 * HOUR - 1, 3);
	check_at(&series, MEASURE_WIND, MIDNIGHT + 2 * HOUR, (double)NAN);
	assert_true(series.issued == MIDNIGHT + HOUR);
	assert_false(series.continuous[MEASURE_WIND]);
	assert_close(total(&series, MEASURE_RAIN), 4, 1e-6);
	series_release(&series);
	series_release(&older);
}

static void
rain_columns_move_together_or_not_at_all(void **state)
{
	(void)state;
	struct series older, series;
	make_older(&older);
	series_init(&series, MIDNIGHT, MIDNIGHT + 2 * HOUR);
	series_hold(
	    &series, MEASURE_RAIN_CHANCE, MIDNIGHT, MIDNIGHT + HOUR, 20);
	(void)series_column(&series, MEASURE_RAIN);
	(void)series_column(&series, MEASURE_RAIN_BLOCK);
	(void)series_column(&series, MEASURE_RAIN_BLOCK_SPAN);
	series_fill_past(&series, &older, MIDNIGHT + 2 * HOUR);
	check_at(&series, MEASURE_RAIN_BLOCK, MIDNIGHT, (double)NAN);
	check_at(&series, MEASURE_RAIN, MIDNIGHT, (double)NAN);
	check_at(&series, MEASURE_RAIN_BLOCK, MIDNIGHT + HOUR, 8);
	check_at(&series, MEASURE_RAIN_BLOCK_SPAN, MIDNIGHT + HOUR, 4 * HOUR);
	series_release(&series);
	series_release(&older);
}

static void
fills_nothing_from_a_series_that_ended_before(void **state)
{
	(void)state;
	struct series older, series;
	make_older(&older);
	series_init(&series, MIDNIGHT + 4 * HOUR, MIDNIGHT + 6 * HOUR);
	(void)series_column(&series, MEASURE_WIND);
	series_fill_past(&series, &older, MIDNIGHT + 6 * HOUR);
	check_at(&series, MEASURE_WIND, MIDNIGHT + 4 * HOUR, (double)NAN);
	check_at(&series, MEASURE_WIND, MIDNIGHT + 6 * HOUR - 1, (double)NAN);
	series_release(&series);
	series_release(&older);
}

static void
makes_no_column_that_is_not_there(void **state)
{
	(void)state;
	struct series older, series;
	make_older(&older);
	series_init(&series, MIDNIGHT, MIDNIGHT + HOUR);
	series_fill_past(&series, &older, MIDNIGHT + HOUR);
	for (int i = 0; i < MEASURES; i++)
		assert_null(series.column[i]);
	series_release(&series);
	series_release(&older);
}

static void
overlays_cells_gaps_and_issue_time(void **state)
{
	(void)state;
	struct series from, series;
	make_older(&from);
	from.column[MEASURE_WIND][5] = NAN;
	from.rejected = 2;
	series_init(&series, MIDNIGHT + HOUR, MIDNIGHT + 6 * HOUR);
	series_hold(
	    &series, MEASURE_WIND, MIDNIGHT + HOUR, MIDNIGHT + 6 * HOUR, 9);
	series_hold(
	    &series, MEASURE_GUST, MIDNIGHT + HOUR, MIDNIGHT + 6 * HOUR, 11);
	series_overlay(&series, &from);
	assert_true(series.issued == MIDNIGHT);
	assert_int_equal(series.rejected, 2);
	assert_true(series.continuous[MEASURE_WIND]);
	check_at(&series, MEASURE_WIND, MIDNIGHT + HOUR, 3);
	check_at(&series, MEASURE_WIND, MIDNIGHT + HOUR + 900, (double)NAN);
	check_at(&series, MEASURE_WIND, MIDNIGHT + 4 * HOUR, 9);
	check_at(&series, MEASURE_GUST, MIDNIGHT + HOUR, 11);
	series_release(&series);
	series_release(&from);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(rounds_its_span_out_to_whole_steps),
		cmocka_unit_test(new_columns_are_unknown),
		cmocka_unit_test(holds_a_value_over_every_cell_it_touches),
		cmocka_unit_test(ignores_what_lies_outside),
		cmocka_unit_test(
		    counts_implausible_values_and_leaves_them_unknown),
		cmocka_unit_test(shares_an_amount_by_overlap),
		cmocka_unit_test(shares_only_the_part_inside_the_series),
		cmocka_unit_test(a_dry_block_is_zero_and_not_unknown),
		cmocka_unit_test(
		    many_plausible_blocks_stay_within_bounds_in_one_cell),
		cmocka_unit_test(fills_the_past_and_only_the_past),
		cmocka_unit_test(rain_columns_move_together_or_not_at_all),
		cmocka_unit_test(fills_nothing_from_a_series_that_ended_before),
		cmocka_unit_test(makes_no_column_that_is_not_there),
		cmocka_unit_test(overlays_cells_gaps_and_issue_time),
	};
	return RUN_TESTS(tests);
}
