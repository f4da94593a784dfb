/* The columns that another source fills. */
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

/* Another source: 01:00 to 03:00, everything that a source can have. */
static void
make_other(struct series *other)
{
	series_init(other, MIDNIGHT + HOUR, MIDNIGHT + 3 * HOUR);
	other->issued = MIDNIGHT + 2 * HOUR;
	other->rejected = 5;
	for (int m = 0; m <= MEASURE_RAIN_CHANCE; m++)
		series_hold(other, (enum measure)m, other->start,
		    series_end(other), 1 + m);
	other->column[MEASURE_CLOUD][1] = NAN;
	other->continuous[MEASURE_CLOUD] = true;
}

static void
fills_whole_columns_that_are_absent(void **state)
{
	(void)state;
	struct series other, series;
	bool came[MEASURES] = { false };
	make_other(&other);
	series_init(&series, MIDNIGHT, MIDNIGHT + 4 * HOUR);
	series_hold(
	    &series, MEASURE_WIND, MIDNIGHT + 2 * HOUR, MIDNIGHT + 3 * HOUR, 9);
	series_fill_columns(&series, &other, came);
	for (int m = 0; m < MEASURES; m++)
		assert_int_equal(
		    came[m], m <= MEASURE_RAIN_CHANCE && m != MEASURE_WIND);
	/* One known cell is a column, and its gaps stay. */
	check_at(&series, MEASURE_WIND, MIDNIGHT + HOUR, (double)NAN);
	check_at(&series, MEASURE_WIND, MIDNIGHT + 2 * HOUR, 9);
	check_at(&series, MEASURE_CLOUD, MIDNIGHT + HOUR - 1, (double)NAN);
	check_at(&series, MEASURE_CLOUD, MIDNIGHT + HOUR, 1 + MEASURE_CLOUD);
	check_at(&series, MEASURE_CLOUD, MIDNIGHT + HOUR + 900, (double)NAN);
	check_at(&series, MEASURE_CLOUD, MIDNIGHT + 3 * HOUR, (double)NAN);
	assert_true(series.continuous[MEASURE_CLOUD]);
	assert_false(series.continuous[MEASURE_GUST]);
	/* These are of the source that answers. */
	assert_true(series.issued == 0);
	assert_int_equal(series.rejected, 0);
	series_release(&series);
	series_release(&other);
}

static void
columns_that_mean_little_apart_come_together(void **state)
{
	(void)state;
	static const struct {
		enum measure has; /* alone in the series */
		enum measure stay[3], come[3];
		size_t stays, comes;
	} rows[] = {
		{ MEASURE_HUMIDITY, { MEASURE_DEW_POINT },
		    { MEASURE_RAIN, MEASURE_WIND }, 1, 2 },
		{ MEASURE_DEW_POINT, { MEASURE_HUMIDITY },
		    { MEASURE_RAIN_BLOCK, MEASURE_CLOUD }, 1, 2 },
		{ MEASURE_RAIN, { MEASURE_RAIN_BLOCK, MEASURE_RAIN_BLOCK_SPAN },
		    { MEASURE_RAIN_CHANCE, MEASURE_HUMIDITY }, 2, 2 },
		{ MEASURE_RAIN_BLOCK, { MEASURE_RAIN, MEASURE_RAIN_BLOCK_SPAN },
		    { MEASURE_RAIN_CHANCE, MEASURE_DEW_POINT }, 2, 2 },
		{ MEASURE_RAIN_CHANCE, { MEASURES },
		    { MEASURE_RAIN, MEASURE_RAIN_BLOCK,
			MEASURE_RAIN_BLOCK_SPAN },
		    0, 3 },
		{ MEASURE_WIND, { MEASURES },
		    { MEASURE_GUST, MEASURE_WIND_DIRECTION }, 0, 2 },
	};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		struct series other, series;
		bool came[MEASURES] = { false };
		make_other(&other);
		series_init(&series, MIDNIGHT, MIDNIGHT + 4 * HOUR);
		series_hold(
		    &series, rows[i].has, MIDNIGHT, MIDNIGHT + HOUR, 0.5);
		series_fill_columns(&series, &other, came);
		assert_false(came[rows[i].has]);
		for (size_t s = 0; s < rows[i].stays; s++) {
			assert_false(came[rows[i].stay[s]]);
			assert_null(series.column[rows[i].stay[s]]);
		}
		for (size_t c = 0; c < rows[i].comes; c++)
			assert_true(came[rows[i].come[c]]);
		series_release(&series);
		series_release(&other);
	}
}

static void
a_source_of_another_time_fills_no_column(void **state)
{
	(void)state;
	struct series other, series;
	bool came[MEASURES] = { false };
	make_other(&other);
	series_init(&series, MIDNIGHT + 3 * HOUR, MIDNIGHT + 4 * HOUR);
	series_fill_columns(&series, &other, came);
	for (int m = 0; m < MEASURES; m++) {
		assert_false(came[m]);
		assert_null(series.column[m]);
	}
	series_release(&series);
	series_release(&other);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(fills_whole_columns_that_are_absent),
		cmocka_unit_test(columns_that_mean_little_apart_come_together),
		cmocka_unit_test(a_source_of_another_time_fills_no_column),
	};
	return RUN_TESTS(tests);
}
