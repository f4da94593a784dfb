/* The bulk judge on cases made by hand; test_judge.c has the random ones. */
#include "unit/test.h"

#include "unit/judge_one.h"

/* A limit as a card writes it, a value as a document gives it. */
struct at_limit {
	const char *limit;
	enum quantity_kind kind;
	enum measure measure;
	double value;
	const char *unit;
	enum bound bound;
	enum verdict verdict;
};

static const struct at_limit at_limits[] = {
	/* 85 degF is 29.444... degC */
	{ "85 degF", QUANTITY_TEMPERATURE, MEASURE_AIR_TEMPERATURE, 85, "degF",
	    BOUND_AT_MOST, VERDICT_GO },
	{ "85 degF", QUANTITY_TEMPERATURE, MEASURE_AIR_TEMPERATURE, 85, "degF",
	    BOUND_BELOW, VERDICT_NO_GO },
	{ "85 degF", QUANTITY_TEMPERATURE, MEASURE_AIR_TEMPERATURE, 85, "degF",
	    BOUND_AT_LEAST, VERDICT_GO },
	{ "85 degF", QUANTITY_TEMPERATURE, MEASURE_AIR_TEMPERATURE, 85, "degF",
	    BOUND_ABOVE, VERDICT_NO_GO },
	{ "85 degF", QUANTITY_TEMPERATURE, MEASURE_AIR_TEMPERATURE, 29.44444,
	    "Cel", BOUND_AT_MOST, VERDICT_GO },
	{ "85 degF", QUANTITY_TEMPERATURE, MEASURE_AIR_TEMPERATURE, 29.44445,
	    "Cel", BOUND_BELOW, VERDICT_NO_GO },
	{ "85 degF", QUANTITY_TEMPERATURE, MEASURE_AIR_TEMPERATURE, 85.1,
	    "degF", BOUND_AT_MOST, VERDICT_NO_GO },
	{ "85 degF", QUANTITY_TEMPERATURE, MEASURE_AIR_TEMPERATURE, 84.9,
	    "degF", BOUND_BELOW, VERDICT_GO },
	/* 10 mph is 16.09344 km/h by definition */
	{ "10 mph", QUANTITY_SPEED, MEASURE_WIND, 16.09344, "km_h-1",
	    BOUND_AT_MOST, VERDICT_GO },
	{ "10 mph", QUANTITY_SPEED, MEASURE_WIND, 16.09344, "km_h-1",
	    BOUND_BELOW, VERDICT_NO_GO },
	{ "10 mph", QUANTITY_SPEED, MEASURE_WIND, 16.09344, "km_h-1",
	    BOUND_AT_LEAST, VERDICT_GO },
	{ "10 mph", QUANTITY_SPEED, MEASURE_WIND, 16.09344, "km_h-1",
	    BOUND_ABOVE, VERDICT_NO_GO },
	{ "10 mph", QUANTITY_SPEED, MEASURE_WIND, 16.12, "km_h-1",
	    BOUND_AT_MOST, VERDICT_NO_GO },
	{ "10 mph", QUANTITY_SPEED, MEASURE_WIND, 16.07, "km_h-1", BOUND_BELOW,
	    VERDICT_GO },
	{ "3 mph", QUANTITY_SPEED, MEASURE_WIND, 4.828032, "km_h-1",
	    BOUND_AT_LEAST, VERDICT_GO },
	/* a difference has no 32 in it: 14.4 degF are 8 K */
	{ "8 K", QUANTITY_TEMPERATURE_DIFFERENCE, MEASURE_DELTA_T, 8, "K",
	    BOUND_AT_MOST, VERDICT_GO },
	{ "14.4 degF", QUANTITY_TEMPERATURE_DIFFERENCE, MEASURE_DELTA_T, 8, "K",
	    BOUND_AT_MOST, VERDICT_GO },
	{ "14.4 degF", QUANTITY_TEMPERATURE_DIFFERENCE, MEASURE_DELTA_T, 8, "K",
	    BOUND_BELOW, VERDICT_NO_GO },
	{ "14.4 degF", QUANTITY_TEMPERATURE_DIFFERENCE, MEASURE_DELTA_T, 8.01,
	    "K", BOUND_AT_MOST, VERDICT_NO_GO },
	/* a freezing limit: near 0 the grain is absolute */
	{ "32 degF", QUANTITY_TEMPERATURE, MEASURE_AIR_TEMPERATURE, 0, "Cel",
	    BOUND_ABOVE, VERDICT_NO_GO },
	{ "32 degF", QUANTITY_TEMPERATURE, MEASURE_AIR_TEMPERATURE, 0, "Cel",
	    BOUND_AT_LEAST, VERDICT_GO },
};

static void
a_value_at_its_limit_is_judged_the_same_in_every_unit(void **state)
{
	(void)state;
	struct zone zone = chicago();
	for (size_t n = 0; n < sizeof at_limits / sizeof at_limits[0]; n++) {
		const struct at_limit *one = &at_limits[n];
		struct series series;
		double limit, factor, offset;
		series_init(&series, 0, HOUR);
		assert_true(
		    quantity_parse(one->limit, one->kind, &limit, NULL));
		assert_true(
		    unit_conversion(one->unit, one->kind, &factor, &offset));
		fill(&series, one->measure, one->value * factor + offset);
		enum fold fold =
		    bound_is_ceiling(one->bound) ? FOLD_MAX : FOLD_MIN;
		struct rule rule =
		    rule_of(one->measure, fold, during, one->bound, limit);
		enum verdict got = judge_one(&series, &zone, rule, 900, 0);
		if (got != one->verdict)
			fail_msg("%s against %s %.10g %s: %s",
			    bound_word(one->bound), one->limit, one->value,
			    one->unit, verdict_word(got));
		series_release(&series);
	}
}

/* Delta T, K, by the bands of the Bureau of Meteorology (Australia), read as
   quoted by others: ideally between 2 and 8, not greater than 10. */
static void
delta_t_falls_into_its_four_bands(void **state)
{
	(void)state;
	static const struct {
		double value;
		enum verdict low, ideal, most; /* at least 2, at most 8, 10 */
	} rows[] = {
		{ 1.9, VERDICT_NO_GO, VERDICT_GO, VERDICT_GO },
		{ 2, VERDICT_GO, VERDICT_GO, VERDICT_GO },
		{ 8, VERDICT_GO, VERDICT_GO, VERDICT_GO },
		{ 8.1, VERDICT_GO, VERDICT_NO_GO, VERDICT_GO },
		{ 10, VERDICT_GO, VERDICT_NO_GO, VERDICT_GO },
		{ 10.1, VERDICT_GO, VERDICT_NO_GO, VERDICT_NO_GO },
		{ NAN, VERDICT_UNKNOWN, VERDICT_UNKNOWN, VERDICT_UNKNOWN },
	};
	struct zone zone = chicago();
	const struct rule low =
	    rule_of(MEASURE_DELTA_T, FOLD_MIN, during, BOUND_AT_LEAST, 2);
	const struct rule ideal =
	    rule_of(MEASURE_DELTA_T, FOLD_MAX, during, BOUND_AT_MOST, 8);
	const struct rule most =
	    rule_of(MEASURE_DELTA_T, FOLD_MAX, during, BOUND_AT_MOST, 10);
	for (size_t n = 0; n < sizeof rows / sizeof rows[0]; n++) {
		struct series series;
		series_init(&series, 0, HOUR);
		fill(&series, MEASURE_DELTA_T, rows[n].value);
		assert_int_equal(
		    judge_one(&series, &zone, low, 900, 0), rows[n].low);
		assert_int_equal(
		    judge_one(&series, &zone, ideal, 900, 0), rows[n].ideal);
		assert_int_equal(
		    judge_one(&series, &zone, most, 900, 0), rows[n].most);
		series_release(&series);
	}
}

/* The wind may be steady and low while its gusts are over; and a service that
   tells of no gusts has not told that there are none. */
static void
a_gust_is_judged_apart_from_the_wind(void **state)
{
	(void)state;
	static const struct {
		double wind, gust; /* m/s */
		enum verdict by_wind, by_gust;
	} rows[] = {
		{ 3, 6.7, VERDICT_GO, VERDICT_GO },
		{ 3, 6.8, VERDICT_GO, VERDICT_NO_GO },
		{ 5, 6.0, VERDICT_NO_GO, VERDICT_GO },
		{ 3, NAN, VERDICT_GO, VERDICT_UNKNOWN },
	};
	struct zone zone = chicago();
	/* 10 and 15 mph */
	const struct rule wind =
	    rule_of(MEASURE_WIND, FOLD_MAX, during, BOUND_AT_MOST, 4.4704);
	const struct rule gust =
	    rule_of(MEASURE_GUST, FOLD_MAX, during, BOUND_AT_MOST, 6.7056);
	for (size_t n = 0; n < sizeof rows / sizeof rows[0]; n++) {
		struct series series;
		series_init(&series, 0, 4 * HOUR);
		fill(&series, MEASURE_WIND, 2);
		fill(&series, MEASURE_GUST, 2);
		/* one quarter of an hour decides */
		series.column[MEASURE_WIND][5] = (float)rows[n].wind;
		series.column[MEASURE_GUST][5] = (float)rows[n].gust;
		assert_int_equal(
		    judge_one(&series, &zone, wind, 3600, 4), rows[n].by_wind);
		assert_int_equal(
		    judge_one(&series, &zone, gust, 3600, 4), rows[n].by_gust);
		assert_int_equal(
		    judge_one(&series, &zone, gust, 3600, 6), VERDICT_GO);
		series_release(&series);
	}
}

/* The very floats around an edge: the bulk judge and the single one agree. */
static void
check_around(struct series *series, enum bound bound, double limit, double edge)
{
	struct zone zone = chicago();
	struct rule rule =
	    rule_of(MEASURE_WIND, FOLD_MAX, during, bound, limit);
	float value = nextafterf((float)edge, -INFINITY);
	for (int k = 0; k < 3; k++) {
		fill(series, MEASURE_WIND, (double)value);
		enum verdict verdict = judge_one(series, &zone, rule, 900, 0);
		assert_int_equal(verdict == VERDICT_GO,
		    bound_holds(bound, limit, (double)value));
		value = nextafterf(value, INFINITY);
	}
}

static void
one_value_has_one_verdict_at_the_edge_of_the_grain(void **state)
{
	(void)state;
	static const double limits[] = { 0, 1, 29.444444444444443, 4.4704, -5,
		0.25, 21, 1000 };
	for (size_t n = 0; n < sizeof limits / sizeof limits[0] * 4; n++) {
		enum bound bound = (enum bound)(n % 4);
		double limit = limits[n / 4];
		double grain = JUDGE_GRAIN * fmax(1, fabs(limit));
		struct series series;
		series_init(&series, 0, HOUR);
		check_around(&series, bound, limit, limit - grain);
		check_around(&series, bound, limit, limit + grain);
		series_release(&series);
	}
}

struct dst_day {
	int month, day;
	int64_t cells; /* quarters of an hour in the local day */
};

/* The hot quarter is the last one before the next midnight. */
static void
a_day_of_23_or_25_hours_ends_at_its_own_midnight(void **state)
{
	(void)state;
	static const struct dst_day days[] = { { 3, 7, 96 }, { 3, 8, 92 },
		{ 3, 9, 96 }, { 10, 31, 96 }, { 11, 1, 100 }, { 11, 2, 96 } };
	struct zone zone = chicago();
	struct rule rule = rule_of(
	    MEASURE_AIR_TEMPERATURE, FOLD_MAX, that_day, BOUND_BELOW, 29.4444);
	for (size_t n = 0; n < sizeof days / sizeof days[0]; n++) {
		int64_t from = local_2026(days[n].month, days[n].day, 0, 0);
		int64_t to = from + days[n].cells * SERIES_STEP;
		struct series series;
		series_init(&series, from - minutes(5760), to + minutes(5760));
		fill(&series, MEASURE_AIR_TEMPERATURE, 20);
		put(&series, MEASURE_AIR_TEMPERATURE, to - SERIES_STEP, to, 31);
		size_t first = cell_of(&series, from);
		size_t last = cell_of(&series, to) - 1;
		const struct {
			size_t start;
			enum verdict verdict;
		} starts[] = { { first - 1, VERDICT_GO },
			{ first, VERDICT_NO_GO }, { last, VERDICT_NO_GO },
			{ last + 1, VERDICT_GO } };
		for (size_t k = 0; k < 4; k++)
			assert_int_equal(judge_one(&series, &zone, rule, 1800,
					     starts[k].start),
			    starts[k].verdict);
		series_release(&series);
	}
}

/* 12 h are 12 h of the clock that runs, not of the one on the wall. */
static void
a_span_over_a_clock_change_counts_real_hours(void **state)
{
	(void)state;
	struct zone zone = chicago();
	int64_t start =
	    local_2026(3, 7, 18, 0); /* the night is an hour short */
	struct series series;
	struct rule rule = rule_of(
	    MEASURE_WET, FOLD_ANY, after_end(12 * HOUR), BOUND_AT_MOST, 0);
	series_init(&series, start - DAY, start + 3 * DAY);
	fill(&series, MEASURE_WET, 0);
	put(&series, MEASURE_WET, start + 13 * HOUR, start + 14 * HOUR, 1);
	size_t cell = cell_of(&series, start);
	assert_int_equal(
	    judge_one(&series, &zone, rule, HOUR, cell), VERDICT_GO);
	assert_int_equal(
	    judge_one(&series, &zone, rule, HOUR, cell + 1), VERDICT_NO_GO);
	series_release(&series);
}

/* A ceiling that is broken already stays broken whatever else is missing. */
static void
what_is_missing_makes_unknown_only_where_it_matters(void **state)
{
	(void)state;
	struct zone zone = chicago();
	struct series series;
	struct rule day = rule_of(
	    MEASURE_AIR_TEMPERATURE, FOLD_MAX, that_day, BOUND_AT_MOST, 30);
	struct rule wind =
	    rule_of(MEASURE_WIND, FOLD_MAX, during, BOUND_AT_MOST, 4);
	int64_t midnight = local_2026(6, 10, 0, 0);
	series_init(&series, midnight, midnight + DAY);
	fill(&series, MEASURE_AIR_TEMPERATURE, 25);
	assert_int_equal(judge_one(&series, &zone, day, 900, 5), VERDICT_GO);
	series_column(&series, MEASURE_AIR_TEMPERATURE)[50] = NAN;
	assert_int_equal(
	    judge_one(&series, &zone, day, 900, 5), VERDICT_UNKNOWN);
	series_column(&series, MEASURE_AIR_TEMPERATURE)[60] = 31;
	assert_int_equal(judge_one(&series, &zone, day, 900, 5), VERDICT_NO_GO);
	/* no wind column at all */
	assert_int_equal(
	    judge_one(&series, &zone, wind, 900, 5), VERDICT_UNKNOWN);
	/* the job outlasts the forecast */
	fill(&series, MEASURE_WIND, 2);
	assert_int_equal(judge_one(&series, &zone, wind, 901, 94), VERDICT_GO);
	assert_int_equal(
	    judge_one(&series, &zone, wind, 901, 95), VERDICT_UNKNOWN);
	series_release(&series);
}

/* "Never applied" is an infinity, and no sum over it says anything. */
static void
a_sum_over_an_infinity_is_unknown(void **state)
{
	(void)state;
	struct zone zone = chicago();
	struct series series;
	struct rule rule =
	    rule_of(MEASURE_DAYS_SINCE, FOLD_SUM, during, BOUND_AT_LEAST, 3);
	series_init(&series, 0, HOUR);
	fill(&series, MEASURE_DAYS_SINCE, 2);
	series_column(&series, MEASURE_DAYS_SINCE)[0] = INFINITY;
	assert_int_equal(
	    judge_one(&series, &zone, rule, 1800, 0), VERDICT_UNKNOWN);
	assert_int_equal(judge_one(&series, &zone, rule, 1800, 1), VERDICT_GO);
	rule.fold = FOLD_MIN;
	assert_int_equal(
	    judge_one(&series, &zone, rule, 1800, 0), VERDICT_NO_GO);
	assert_int_equal(judge_one(&series, &zone, rule, 900, 0), VERDICT_GO);
	series_release(&series);
}

/* Bit 31 of one word and bit 0 of the next. */
static void
the_33rd_rule_has_a_plane_of_its_own(void **state)
{
	(void)state;
	struct zone zone = chicago();
	struct series series;
	struct outlook outlook;
	struct verdicts verdicts = { 0 };
	struct check checks[40];
	series_init(&series, 0, 2 * HOUR);
	fill(&series, MEASURE_WIND, 3);
	for (size_t r = 0; r < 40; r++)
		checks[r] = check_of(&series,
		    rule_of(MEASURE_WIND, FOLD_MAX, during, BOUND_AT_MOST, 4));
	outlook_init(&outlook, &series, &zone);
	for (size_t broken = 30; broken < 35; broken++) {
		checks[broken].rule.limit = 2;
		judge(&outlook, checks, 40, 900, &verdicts);
		assert_int_equal(verdicts.planes, 2);
		for (size_t r = 0; r < 40; r++)
			assert_int_equal(
			    verdict_broken(&verdicts, 3, r), r == broken);
		assert_int_equal(verdict_at(&verdicts, 3), VERDICT_NO_GO);
		checks[broken].rule.limit = 4;
	}
	/* fewer rules next, in the same memory: nothing is left over */
	judge(&outlook, checks, 1, 900, &verdicts);
	assert_int_equal(verdicts.planes, 1);
	assert_int_equal(verdict_at(&verdicts, 3), VERDICT_GO);
	judge(&outlook, checks, 40, 900, &verdicts);
	assert_int_equal(verdict_at(&verdicts, 3), VERDICT_GO);
	judge(&outlook, checks, 0, 900, &verdicts);
	assert_int_equal(verdict_at(&verdicts, 3), VERDICT_GO);
	verdicts_release(&verdicts);
	outlook_release(&outlook);
	series_release(&series);
}

static void
names_the_verdicts(void **state)
{
	(void)state;
	assert_string_equal(verdict_word(VERDICT_GO), "go");
	assert_string_equal(verdict_word(VERDICT_NO_GO), "no-go");
	assert_string_equal(verdict_word(VERDICT_UNKNOWN), "unknown");
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(
		    a_value_at_its_limit_is_judged_the_same_in_every_unit),
		cmocka_unit_test(delta_t_falls_into_its_four_bands),
		cmocka_unit_test(a_gust_is_judged_apart_from_the_wind),
		cmocka_unit_test(
		    one_value_has_one_verdict_at_the_edge_of_the_grain),
		cmocka_unit_test(
		    a_day_of_23_or_25_hours_ends_at_its_own_midnight),
		cmocka_unit_test(a_span_over_a_clock_change_counts_real_hours),
		cmocka_unit_test(
		    what_is_missing_makes_unknown_only_where_it_matters),
		cmocka_unit_test(a_sum_over_an_infinity_is_unknown),
		cmocka_unit_test(the_33rd_rule_has_a_plane_of_its_own),
		cmocka_unit_test(names_the_verdicts),
	};
	return RUN_TESTS(tests);
}
