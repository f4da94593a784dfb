/* When the exposure of a rule is, and what it means that it is never. */
#include "unit/judge_one.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

struct moment {
	struct instant instant;
	int64_t time;
};

/* The clocks go forward on 8 March 2026. */
static void
an_instant_is_tied_to_its_start_to_the_second(void **state)
{
	(void)state;
	struct series series;
	struct outlook outlook;
	struct zone zone = chicago();
	int64_t noon = local_2026(3, 8, 12, 0);
	const struct moment rows[] = {
		{ { ANCHOR_START, 0 }, noon },
		{ { ANCHOR_START, -77 }, noon - 77 },
		{ { ANCHOR_END, 77 }, noon + 1234 + 77 },
		{ { ANCHOR_MIDNIGHT, 0 }, noon - 11 * HOUR },
		{ { ANCHOR_MIDNIGHT, 1 }, noon + 12 * HOUR },
		{ { ANCHOR_MIDNIGHT, -1 }, noon - 35 * HOUR },
		{ { ANCHOR_MIDNIGHT, 20 }, noon + 12 * HOUR + 19 * DAY },
		/* days that no zone is asked for follow one another, too */
		{ { ANCHOR_MIDNIGHT, 100 }, noon + 12 * HOUR + 99 * DAY },
		{ { ANCHOR_MIDNIGHT, -90 }, noon - 11 * HOUR - 90 * DAY },
		/* no column, no sun */
		{ { ANCHOR_SUNRISE, 0 }, INT64_MIN },
		{ { ANCHOR_SUNSET, 0 }, INT64_MIN },
	};
	series_init(&series, noon - 2 * DAY, noon + 2 * DAY);
	outlook_init(&outlook, &series, &zone);
	for (size_t n = 0; n < COUNT(rows); n++)
		assert_int_equal(outlook_time(&outlook, &rows[n].instant, 1234,
				     cell_of(&series, noon)),
		    rows[n].time);
	outlook_release(&outlook);
	series_release(&series);
}

static void
only_an_exposure_that_hangs_on_the_job_slides(void **state)
{
	(void)state;
	for (int from = ANCHOR_START; from <= ANCHOR_SUNSET; from++)
		for (int to = ANCHOR_START; to <= ANCHOR_SUNSET; to++) {
			const struct exposure exposure = {
				{ (enum anchor)from, 0 }, { (enum anchor)to, 0 }
			};
			assert_int_equal(outlook_slides(&exposure),
			    from <= ANCHOR_END && to <= ANCHOR_END);
		}
}

struct nothing {
	enum fold fold;
	enum bound bound;
	double limit;
	enum verdict verdict;
};

/* The wind is 2. */
static const struct nothing nothings[] = {
	{ FOLD_MAX, BOUND_AT_MOST, 1, VERDICT_GO },
	{ FOLD_MAX, BOUND_BELOW, 1, VERDICT_GO },
	{ FOLD_MAX, BOUND_AT_LEAST, 1, VERDICT_NO_GO },
	{ FOLD_MIN, BOUND_AT_LEAST, 3, VERDICT_GO },
	{ FOLD_MIN, BOUND_ABOVE, 3, VERDICT_GO },
	{ FOLD_MIN, BOUND_AT_MOST, 3, VERDICT_NO_GO },
	{ FOLD_ANY, BOUND_AT_MOST, 0, VERDICT_GO },
	{ FOLD_ANY, BOUND_AT_LEAST, 1, VERDICT_NO_GO },
	{ FOLD_SUM, BOUND_AT_MOST, 0, VERDICT_GO },
	{ FOLD_SUM, BOUND_ABOVE, 0, VERDICT_NO_GO },
	{ FOLD_MEAN, BOUND_AT_MOST, 3, VERDICT_UNKNOWN },
};

static const struct exposure empty_ones[] = {
	{ { ANCHOR_START, 0 }, { ANCHOR_MIDNIGHT, 0 } },
	{ { ANCHOR_MIDNIGHT, 1 }, { ANCHOR_END, 0 } },
	{ { ANCHOR_MIDNIGHT, 1 }, { ANCHOR_MIDNIGHT, 0 } },
	{ { ANCHOR_END, 7200 }, { ANCHOR_END, 3600 } },
	/* within one cell: the moments count, not the cells that they touch */
	{ { ANCHOR_START, 500 }, { ANCHOR_START, 400 } },
	/* far outside of the series, where nothing is known */
	{ { ANCHOR_MIDNIGHT, 90 }, { ANCHOR_MIDNIGHT, 89 } },
};

/* Held or continuous, with a column or without. */
static void
an_exposure_that_ends_before_it_begins_holds_nothing(void **state)
{
	(void)state;
	struct zone zone = chicago();
	int64_t midnight = local_2026(6, 10, 0, 0);
	for (size_t n = 0; n < 3 * COUNT(nothings) * COUNT(empty_ones); n++) {
		const struct nothing *one = &nothings[n % COUNT(nothings)];
		size_t kind = n / COUNT(nothings) % 3;
		struct rule rule = rule_of(MEASURE_WIND, one->fold,
		    empty_ones[n / COUNT(nothings) / 3], one->bound,
		    one->limit);
		struct series series;
		series_init(&series, midnight, midnight + DAY);
		if (kind > 0)
			fill(&series, MEASURE_WIND, 2);
		series.continuous[MEASURE_WIND] = kind == 2;
		enum verdict got = judge_one(&series, &zone, rule, HOUR, 40);
		if (got != one->verdict)
			fail_msg("case %zu: %s, wanted %s", n,
			    verdict_word(got), verdict_word(one->verdict));
		series_release(&series);
	}
}

/* "So far today" at midnight: no time for a held value, one instant for a
   continuous one. */
static void
an_exposure_of_no_length_holds_an_instant_of_what_runs(void **state)
{
	(void)state;
	struct zone zone = chicago();
	struct series series;
	const struct exposure so_far = { { ANCHOR_MIDNIGHT, 0 },
		{ ANCHOR_START, 0 } };
	const struct rule rule =
	    rule_of(MEASURE_WIND, FOLD_MAX, so_far, BOUND_AT_MOST, 1);
	int64_t midnight = local_2026(6, 10, 0, 0);
	series_init(&series, midnight, midnight + DAY);
	fill(&series, MEASURE_WIND, 2);
	assert_int_equal(judge_one(&series, &zone, rule, HOUR, 0), VERDICT_GO);
	assert_int_equal(
	    judge_one(&series, &zone, rule, HOUR, 1), VERDICT_NO_GO);
	series.continuous[MEASURE_WIND] = true;
	assert_int_equal(
	    judge_one(&series, &zone, rule, HOUR, 0), VERDICT_NO_GO);
	series_release(&series);
}

/* Both ends lie beyond the days laid out, but it is not empty. */
static void
an_exposure_far_ahead_is_unknown(void **state)
{
	(void)state;
	struct zone zone = chicago();
	struct series series;
	int64_t midnight = local_2026(6, 10, 0, 0);
	static const int32_t days[] = { 2, 30, 40, 400, -2, -40, -400 };
	series_init(&series, midnight, midnight + DAY);
	fill(&series, MEASURE_WIND, 2);
	for (size_t n = 0; n < COUNT(days); n++) {
		const struct exposure far = { { ANCHOR_MIDNIGHT, days[n] },
			{ ANCHOR_MIDNIGHT, days[n] + 1 } };
		const struct rule rule =
		    rule_of(MEASURE_WIND, FOLD_MAX, far, BOUND_AT_MOST, 3);
		assert_int_equal(
		    judge_one(&series, &zone, rule, HOUR, 40), VERDICT_UNKNOWN);
	}
	series_release(&series);
}

/* One column goes, and another one comes to lie in its place. */
static void
a_column_that_is_forgotten_is_folded_anew(void **state)
{
	(void)state;
	struct zone zone = chicago();
	struct series series;
	struct outlook outlook;
	int64_t midnight = local_2026(6, 10, 0, 0);
	series_init(&series, midnight, midnight + DAY);
	outlook_init(&outlook, &series, &zone);
	float *column = calloc(series.count, sizeof *column);
	float *other = calloc(series.count, sizeof *other);
	assert_non_null(column);
	assert_non_null(other);
	const struct band *old =
	    outlook_fold(&outlook, column, false, FOLD_MAX, &during, HOUR);
	const struct band *kept =
	    outlook_fold(&outlook, other, false, FOLD_MAX, &during, HOUR);
	for (size_t i = 0; i < series.count; i++)
		column[i] = 7;
	/* so it is while nobody says a word: each fold is kept */
	assert_ptr_equal(
	    outlook_fold(&outlook, column, false, FOLD_MAX, &during, HOUR),
	    old);
	outlook_forget(&outlook, column);
	const struct band *fresh =
	    outlook_fold(&outlook, column, false, FOLD_MAX, &during, HOUR);
	assert_close(fresh->high[0], 7, 0);
	assert_close(fresh->low[series.count / 2], 7, 0);
	assert_ptr_equal(
	    outlook_fold(&outlook, other, false, FOLD_MAX, &during, HOUR),
	    kept);
	free(column);
	free(other);
	outlook_release(&outlook);
	series_release(&series);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(an_instant_is_tied_to_its_start_to_the_second),
		cmocka_unit_test(only_an_exposure_that_hangs_on_the_job_slides),
		cmocka_unit_test(
		    an_exposure_that_ends_before_it_begins_holds_nothing),
		cmocka_unit_test(
		    an_exposure_of_no_length_holds_an_instant_of_what_runs),
		cmocka_unit_test(an_exposure_far_ahead_is_unknown),
		cmocka_unit_test(a_column_that_is_forgotten_is_folded_anew),
	};
	return RUN_TESTS(tests);
}
