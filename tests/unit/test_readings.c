#include "unit/test.h"

#include "unit/derive_fixture.h"

#include "advice/drift.h"
#include "advice/readings.h"
#include "advice/reason.h"

/* A job of 40 minutes at 8:00 on 6 April 2026: the cells from 8:00 to 8:45. */
struct lawn {
	struct site site;
	struct sensitive_side side;
	struct series series;
	size_t start;
	int64_t duration;
	struct readings readings;
};

static int64_t
clock_at(int hour, int minute)
{
	return local_2026(4, 6, hour, minute);
}

static void
lawn_init(struct lawn *lawn)
{
	*lawn = (struct lawn){ .site = plain_site(),
		.side = { 90, "the neighbour's beds" },
		.duration = minutes(40),
		.readings = { NAN, NAN, NAN, NAN, NAN, NAN, NAN } };
	lawn->site.side = &lawn->side;
	lawn->site.side_count = 1;
	series_init(&lawn->series, clock_at(0, 0), clock_at(0, 0) + DAY);
	lawn->start = cell_of(&lawn->series, clock_at(8, 0));
	fill(&lawn->series, MEASURE_AIR_TEMPERATURE, 20);
	fill(&lawn->series, MEASURE_HUMIDITY, 50);
	fill(&lawn->series, MEASURE_WIND, 3);
	fill(&lawn->series, MEASURE_GUST, 5);
	fill(&lawn->series, MEASURE_WIND_DIRECTION, 0);
	fill(&lawn->series, MEASURE_RAIN_BLOCK, 0);
	derive(&lawn->series, &lawn->site, NULL);
}

static void
overlay(struct lawn *lawn)
{
	readings_overlay(&lawn->readings, &lawn->site, lawn->start,
	    lawn->duration, &lawn->series);
}

/* The cells of the job have one value, those around it another. */
static void
assert_during(const struct lawn *lawn, enum measure measure, double inside,
    double outside)
{
	check_cell(&lawn->series, measure, clock_at(7, 45), outside);
	check_cell(&lawn->series, measure, clock_at(8, 0), inside);
	check_cell(&lawn->series, measure, clock_at(8, 30), inside);
	check_cell(&lawn->series, measure, clock_at(8, 45), outside);
}

static void
without_readings_nothing_changes(void **state)
{
	(void)state;
	struct lawn lawn, same;
	lawn_init(&lawn);
	lawn_init(&same);
	overlay(&lawn);
	for (int m = 0; m < MEASURES; m++) {
		const float *is = lawn.series.column[m];
		const float *was = same.series.column[m];
		assert_int_equal(is == NULL, was == NULL);
		if (is != NULL)
			assert_memory_equal(
			    is, was, lawn.series.count * sizeof *is);
	}
	series_release(&lawn.series);
	series_release(&same.series);
}

static void
readings_hold_for_the_cells_of_the_job_alone(void **state)
{
	(void)state;
	struct lawn lawn;
	lawn_init(&lawn);
	lawn.readings.gust = 7;
	lawn.readings.air = -1;
	overlay(&lawn);
	assert_during(&lawn, MEASURE_GUST, 7, 5);
	assert_during(&lawn, MEASURE_AIR_TEMPERATURE, -1, 20);
	assert_during(&lawn, MEASURE_FREEZE, 1, 0);
	series_release(&lawn.series);
}

/* Near the ground is where the label means it: no height is reckoned in. */
static void
wind_counts_as_measured_at_every_height(void **state)
{
	(void)state;
	struct lawn lawn;
	lawn_init(&lawn);
	double before = (double)lawn.series.column[MEASURE_WIND_2M][lawn.start];
	assert_true(before < 3);
	lawn.readings.wind = 4;
	overlay(&lawn);
	assert_during(&lawn, MEASURE_WIND, 4, 3);
	assert_during(&lawn, MEASURE_WIND_2M, 4, before);
	assert_during(&lawn, MEASURE_GUST, 5, 5);
	series_release(&lawn.series);
}

/*
 * 25 degC and 40 %: dew point 10.5 degC by FAO-56 eq. 11 solved for it, delta T
 * 8.7 K by FAO-56 eq. 15 (computed from the equations apart from this program,
 * to a tenth).
 */
static void
delta_t_and_dew_point_follow_from_the_measured_pair(void **state)
{
	(void)state;
	struct lawn lawn;
	lawn_init(&lawn);
	size_t at = lawn.start;
	float forecast = lawn.series.column[MEASURE_DELTA_T][at];
	lawn.readings.air = 25;
	overlay(&lawn);
	/* one of the two is not as forecast: nobody knows what follows */
	assert_true(isnan(lawn.series.column[MEASURE_DELTA_T][at]));
	assert_true(isnan(lawn.series.column[MEASURE_DEW_POINT][at]));
	assert_close((double)lawn.series.column[MEASURE_DELTA_T][at + 3],
	    (double)forecast, 0);
	lawn.readings.humidity = 40;
	overlay(&lawn);
	assert_close(
	    (double)lawn.series.column[MEASURE_DEW_POINT][at], 10.5, 0.05);
	assert_close(
	    (double)lawn.series.column[MEASURE_DELTA_T][at], 8.7, 0.06);
	assert_close((double)lawn.series.column[MEASURE_WET_BULB][at],
	    25 - (double)lawn.series.column[MEASURE_DELTA_T][at], 1e-4);
	assert_close((double)lawn.series.column[MEASURE_DELTA_T][at + 3],
	    (double)forecast, 0);
	series_release(&lawn.series);
}

/* A west wind blows to the beds in the east; in light air nobody knows. */
static void
drift_follows_from_the_measured_direction(void **state)
{
	(void)state;
	struct lawn lawn;
	lawn_init(&lawn);
	assert_during(&lawn, MEASURE_DRIFT, 0, 0);
	lawn.readings.direction = 270;
	overlay(&lawn);
	assert_during(&lawn, MEASURE_DRIFT, 1, 0);
	lawn.readings.wind = DRIFT_LIGHT_AIR / 2;
	overlay(&lawn);
	assert_during(&lawn, MEASURE_DRIFT, NAN, 0);
	series_release(&lawn.series);
}

static void
a_direction_without_any_wind_stays_unknown(void **state)
{
	(void)state;
	struct lawn lawn;
	lawn_init(&lawn);
	fill(&lawn.series, MEASURE_WIND, NAN);
	lawn.readings.direction = 90;
	overlay(&lawn);
	check_cell(&lawn.series, MEASURE_DRIFT, clock_at(8, 0), NAN);
	lawn.readings.wind = 3;
	overlay(&lawn);
	check_cell(&lawn.series, MEASURE_DRIFT, clock_at(8, 0), 0);
	check_cell(&lawn.series, MEASURE_DRIFT, clock_at(9, 0), NAN);
	series_release(&lawn.series);
}

/* The bands are those of advice/turf_state.h. */
static void
the_green_part_tells_the_state_of_the_turf(void **state)
{
	(void)state;
	static const struct {
		double green, dormant, green_up, full;
	} row[] = { { 0, 1, 0, 0 }, { 5, 1, 0, 0 }, { 40, 0, 1, 0 },
		{ 95, 0, 0, 1 } };
	for (size_t i = 0; i < sizeof row / sizeof row[0]; i++) {
		struct lawn lawn;
		lawn_init(&lawn);
		lawn.readings.green = row[i].green;
		overlay(&lawn);
		assert_during(&lawn, MEASURE_DORMANT, row[i].dormant, NAN);
		assert_during(&lawn, MEASURE_GREEN_UP, row[i].green_up, NAN);
		assert_during(&lawn, MEASURE_GREEN, row[i].full, NAN);
		series_release(&lawn.series);
	}
}

/* Who sees dry leaves knows of the time before, too; rain to come is not seen.
 */
static void
leaves_count_for_the_time_before_the_job(void **state)
{
	(void)state;
	struct lawn lawn;
	lawn_init(&lawn);
	fill(&lawn.series, MEASURE_LEAF_WET, 1);
	fill(&lawn.series, MEASURE_WET, 1);
	lawn.readings.leaf_wet = 0;
	overlay(&lawn);
	check_cell(&lawn.series, MEASURE_LEAF_WET, clock_at(1, 0), 0);
	check_cell(&lawn.series, MEASURE_LEAF_WET, clock_at(8, 30), 0);
	check_cell(&lawn.series, MEASURE_LEAF_WET, clock_at(8, 45), 1);
	assert_during(&lawn, MEASURE_WET, 1, 1);
	series_release(&lawn.series);
}

/* The judge looks at the instant that ends a job as well. */
static void
a_column_that_runs_on_has_the_reading_at_the_end(void **state)
{
	(void)state;
	struct lawn lawn;
	lawn_init(&lawn);
	lawn.series.continuous[MEASURE_AIR_TEMPERATURE] = true;
	lawn.readings.air = 25;
	overlay(&lawn);
	check_cell(&lawn.series, MEASURE_AIR_TEMPERATURE, clock_at(8, 45), 25);
	check_cell(&lawn.series, MEASURE_AIR_TEMPERATURE, clock_at(9, 0), 20);
	series_release(&lawn.series);
}

static void
a_job_at_the_end_of_the_series_is_clipped(void **state)
{
	(void)state;
	struct lawn lawn;
	lawn_init(&lawn);
	lawn.series.continuous[MEASURE_WIND] = true;
	lawn.start = lawn.series.count - 1;
	lawn.readings.wind = 9;
	overlay(&lawn);
	check_cell(&lawn.series, MEASURE_WIND, clock_at(23, 45), 9);
	check_cell(&lawn.series, MEASURE_WIND, clock_at(23, 30), 3);
	series_release(&lawn.series);
}

/* The checks of one rule for a look; the caller frees them. */
static struct check *
checks_of(const struct lawn *lawn, struct rule rule, size_t *ret_count)
{
	struct check check = check_of(&lawn->series, rule);
	return readings_checks(
	    &lawn->readings, &lawn->series, &check, 1, ret_count);
}

static void
a_ceiling_on_wind_holds_for_a_measured_gust(void **state)
{
	(void)state;
	struct lawn lawn;
	size_t count;
	lawn_init(&lawn);
	struct rule most =
	    rule_of(MEASURE_WIND, FOLD_MAX, during, BOUND_AT_MOST, 4.5);
	struct rule least =
	    rule_of(MEASURE_WIND, FOLD_MIN, during, BOUND_AT_LEAST, 1.5);
	/* the gust of the forecast is no concern of the label's wind */
	struct check *checks = checks_of(&lawn, most, &count);
	assert_int_equal(count, 1);
	free(checks);
	lawn.readings.gust = 6;
	overlay(&lawn);
	checks = checks_of(&lawn, most, &count);
	assert_int_equal(count, 2);
	assert_int_equal(checks[0].rule.measure, MEASURE_WIND);
	assert_int_equal(checks[1].rule.measure, MEASURE_GUST);
	assert_ptr_equal(checks[1].column, lawn.series.column[MEASURE_GUST]);
	struct outlook outlook;
	struct reason reason;
	outlook_init(&outlook, &lawn.series, &lawn.site.zone);
	reason_make(&outlook, &checks[0], lawn.duration, lawn.start, &reason);
	assert_int_equal(reason.verdict, VERDICT_GO);
	reason_make(&outlook, &checks[1], lawn.duration, lawn.start, &reason);
	assert_int_equal(reason.verdict, VERDICT_NO_GO);
	outlook_release(&outlook);
	free(checks);
	checks = checks_of(&lawn, least, &count);
	assert_int_equal(count, 1);
	free(checks);
	series_release(&lawn.series);
}

/* 3 m/s near the ground are 6 m/s at 10 m, say. */
static void
a_raised_floor_is_the_card_s_own_for_a_wind_measured_there(void **state)
{
	(void)state;
	struct lawn lawn;
	size_t count;
	lawn_init(&lawn);
	struct rule least =
	    rule_of(MEASURE_WIND, FOLD_MIN, during, BOUND_AT_LEAST, 6);
	least.raised = 2;
	struct check *checks = checks_of(&lawn, least, &count);
	assert_close(checks[0].rule.limit, 6, 0);
	free(checks);
	lawn.readings.wind = 3.5;
	checks = checks_of(&lawn, least, &count);
	assert_close(checks[0].rule.limit, 3, 1e-12);
	free(checks);
	least.raised = 0;
	checks = checks_of(&lawn, least, &count);
	assert_close(checks[0].rule.limit, 6, 0);
	free(checks);
	series_release(&lawn.series);
}

static void
the_rule_of_dry_leaves_goes_by_the_leaves_once_they_were_seen(void **state)
{
	(void)state;
	struct lawn lawn;
	size_t count;
	lawn_init(&lawn);
	struct rule rule = rule_of(MEASURE_WET, FOLD_ANY,
	    before_start(2 * (int)HOUR), BOUND_AT_MOST, 0);
	rule.name = "dry-leaf";
	struct check *checks = checks_of(&lawn, rule, &count);
	assert_int_equal(checks[0].rule.measure, MEASURE_WET);
	free(checks);
	lawn.readings.leaf_wet = 1;
	overlay(&lawn);
	checks = checks_of(&lawn, rule, &count);
	assert_int_equal(count, 1);
	assert_int_equal(checks[0].rule.measure, MEASURE_LEAF_WET);
	assert_ptr_equal(
	    checks[0].column, lawn.series.column[MEASURE_LEAF_WET]);
	free(checks);
	/* a sentence about rain before is about rain */
	rule.name = "rules";
	checks = checks_of(&lawn, rule, &count);
	assert_int_equal(checks[0].rule.measure, MEASURE_WET);
	free(checks);
	series_release(&lawn.series);
}

static void
tells_how_much_was_measured(void **state)
{
	(void)state;
	struct lawn lawn;
	lawn_init(&lawn);
	lawn.readings.direction = 90;
	lawn.readings.air = 25;
	lawn.readings.leaf_wet = 0;
	const struct exposure and_after = { { ANCHOR_START, 0 },
		{ ANCHOR_END, 7200 } };
	const struct {
		enum measure measure;
		struct exposure exposure;
		enum readings_share share;
	} row[] = {
		{ MEASURE_AIR_TEMPERATURE, during, READINGS_ALL },
		{ MEASURE_AIR_TEMPERATURE, that_day, READINGS_PART },
		{ MEASURE_AIR_TEMPERATURE, and_after, READINGS_PART },
		{ MEASURE_AIR_TEMPERATURE, after_end(7200), READINGS_NONE },
		{ MEASURE_AIR_TEMPERATURE, before_start(7200), READINGS_NONE },
		{ MEASURE_LEAF_WET, before_start(7200), READINGS_ALL },
		{ MEASURE_DRIFT, during, READINGS_PART },
		{ MEASURE_DELTA_T, during, READINGS_NONE },
		{ MEASURE_WIND, during, READINGS_NONE },
		{ MEASURE_WET, during, READINGS_NONE },
	};
	struct outlook outlook;
	lawn.duration = minutes(45); /* ends with a cell */
	overlay(&lawn);
	outlook_init(&outlook, &lawn.series, &lawn.site.zone);
	for (size_t i = 0; i < sizeof row / sizeof row[0]; i++) {
		struct check check = check_of(
		    &lawn.series, rule_of(row[i].measure, FOLD_MAX,
				      row[i].exposure, BOUND_AT_MOST, 1));
		assert_int_equal(readings_share(&lawn.readings, &outlook,
				     &check, lawn.start, lawn.duration),
		    row[i].share);
	}
	outlook_release(&outlook);
	series_release(&lawn.series);
}

static void
names_the_options_that_would_measure_it(void **state)
{
	(void)state;
	assert_string_equal(
	    readings_options(MEASURE_DELTA_T), "--air T --humidity H");
	assert_null(readings_options(MEASURE_DAYS_SINCE));
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(without_readings_nothing_changes),
		cmocka_unit_test(readings_hold_for_the_cells_of_the_job_alone),
		cmocka_unit_test(wind_counts_as_measured_at_every_height),
		cmocka_unit_test(
		    delta_t_and_dew_point_follow_from_the_measured_pair),
		cmocka_unit_test(drift_follows_from_the_measured_direction),
		cmocka_unit_test(a_direction_without_any_wind_stays_unknown),
		cmocka_unit_test(the_green_part_tells_the_state_of_the_turf),
		cmocka_unit_test(leaves_count_for_the_time_before_the_job),
		cmocka_unit_test(
		    a_column_that_runs_on_has_the_reading_at_the_end),
		cmocka_unit_test(a_job_at_the_end_of_the_series_is_clipped),
		cmocka_unit_test(a_ceiling_on_wind_holds_for_a_measured_gust),
		cmocka_unit_test(
		    a_raised_floor_is_the_card_s_own_for_a_wind_measured_there),
		cmocka_unit_test(
		    the_rule_of_dry_leaves_goes_by_the_leaves_once_they_were_seen),
		cmocka_unit_test(tells_how_much_was_measured),
		cmocka_unit_test(names_the_options_that_would_measure_it),
	};
	return RUN_TESTS(tests);
}
