/* What the records and the card say about one product on a site. */
#include "unit/test.h"

#include "unit/facts_lawn.h"

static const double unknown = (double)NAN;

/* What the measure of a product is at that moment. */
static double
ask(struct lawn *lawn, size_t dose, int64_t time)
{
	const struct facts_question question = { &lawn->rule, &lawn->job,
		&lawn->job.tank.dose[dose], &lawn->past };
	float *column = facts_column(&question, &lawn->series);
	double value = (double)column[cell_of(&lawn->series, time)];
	free(column);
	return value;
}

static void
the_columns_of_products_are_those_and_no_others(void **state)
{
	(void)state;
	for (int m = 0; m < MEASURES; m++)
		assert_int_equal(
		    facts_answer((enum measure)m), m >= MEASURE_DAYS_SINCE);
}

static void
days_since_are_local_days_over_a_clock_change(void **state)
{
	(void)state;
	static const struct {
		int month, day, hour;
		double days;
	} cases[] = { { 3, 6, 21, INFINITY }, { 3, 6, 23, 0 }, { 3, 7, 0, 1 },
		{ 3, 7, 23, 1 }, { 3, 8, 0, 2 }, { 3, 8, 23, 2 },
		{ 3, 9, 0, 3 }, { 3, 9, 22, 3 } };
	struct lawn lawn;
	open_lawn(&lawn, local_2026(3, 6, 20, 0), local_2026(3, 11, 0, 0));
	lawn.rule.measure = MEASURE_DAYS_SINCE;
	record(&lawn, "a", local_2026(3, 6, 22, 0), 1);
	record(&lawn, "a", local_2026(3, 8, 12, 0), 1);
	record(&lawn, "b", local_2026(3, 8, 12, 0), 1);
	lawn.record[1].site = "back";
	for (size_t i = 0; i < COUNT(cases); i++)
		assert_true(ask(&lawn, 0,
				local_2026(cases[i].month, cases[i].day,
				    cases[i].hour, 0)) == cases[i].days);
	lawn.job.tank.count = 3;
	assert_true(isinf(ask(&lawn, 2, local_2026(3, 9, 0, 0))));
	close_lawn(&lawn);
}

/* Against the list itself, cell by cell. */
static void
days_since_agree_with_the_list_of_applications(void **state)
{
	(void)state;
	uint64_t seed = 51;
	int64_t from = local_2026(10, 28, 0, 0);
	for (int n = 0; n < rounds(300); n++) {
		struct lawn lawn;
		open_lawn(&lawn, from, from + 8 * DAY);
		lawn.rule.measure = MEASURE_DAYS_SINCE;
		for (size_t a = 0; a < 6; a++)
			record(&lawn, draw_once_in(&seed, 2) ? "a" : "b",
			    from + minutes(draw_from(&seed, -9000, 14000)), 1);
		const struct facts_question question = { &lawn.rule, &lawn.job,
			&lawn.job.tank.dose[0], &lawn.past };
		float *column = facts_column(&question, &lawn.series);
		for (size_t i = 0; i < lawn.series.count; i++) {
			int64_t t = series_time(&lawn.series, i);
			int64_t last =
			    application_last(lawn.record, 6, "front", "a", t);
			double days = (double)INFINITY;
			if (last != INT64_MIN)
				days =
				    (double)(civil_day(&lawn.site.zone, t) -
					     civil_day(&lawn.site.zone, last));
			assert_true((double)column[i] == days);
		}
		free(column);
		close_lawn(&lawn);
	}
}

struct pair {
	int days[5];  /* of March and on, when it was applied; 0 ends them */
	int now, day; /* the same */
	double waited;
};

/* Two that belong together are at most 56 days apart. */
static const struct pair pairs[] = {
	{ { 0 }, 5, 7, 0 },
	{ { 1 }, 5, 5, 4 },
	{ { 1 }, 5, 12, 11 },
	/* the limit is a day that counts; beyond it the rule is broken ... */
	{ { 1 }, 50, 57, 56 },
	{ { 1 }, 57, 58, 57 },
	/* ... until it has passed: then the next one is a first one */
	{ { 1 }, 58, 58, 0 },
	{ { 1 }, 58, 60, 0 },
	{ { 1, 43 }, 45, 46, 0 },
	{ { 1, 57 }, 60, 61, 0 },
	/* too late for a pair: a first one again */
	{ { 1, 58 }, 60, 61, 3 },
	{ { 1, 43, 90 }, 92, 95, 5 },
	{ { 1, 43, 90, 130 }, 132, 133, 0 },
	/* two parts of one day are one */
	{ { 1, 1 }, 5, 5, 4 },
	{ { 1, 1, 43, 43 }, 45, 46, 0 },
	/* one far away, then a pair */
	{ { 1, 80, 125 }, 126, 127, 0 },
	{ { 1, 80, 125, 170 }, 172, 173, 3 },
};

static void
the_first_of_two_waits_for_the_second(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(pairs); i++) {
		const struct pair *pair = &pairs[i];
		struct lawn lawn;
		int64_t now = local_2026(3, pair->now, 7, 0);
		open_lawn(&lawn, now, now + 10 * DAY);
		lawn.rule = rule_of(
		    MEASURE_DAYS_WAITED, FOLD_MAX, during, BOUND_AT_MOST, 56);
		for (size_t d = 0; pair->days[d] != 0; d++) {
			record(&lawn, "a",
			    local_2026(3, pair->days[d], 8 + (int)d, 0), 1);
			record(&lawn, "b", local_2026(3, 40, 8, 0), 1);
		}
		double waited = ask(&lawn, 0, local_2026(3, pair->day, 9, 0));
		if (waited != pair->waited)
			fail_msg("row %zu: %g days", i, waited);
		close_lawn(&lawn);
	}
}

static void
a_year_begins_on_the_clock_of_the_site(void **state)
{
	(void)state;
	struct lawn lawn;
	/* 1 January 2027 begins in UTC six hours earlier */
	open_lawn(&lawn, local_2026(12, 30, 0, 0), local_2026(12, 33, 0, 0));
	lawn.rule.measure = MEASURE_SEASON_COUNT;
	record(&lawn, "a", local_2026(1, 1, 0, 0), 1);
	record(&lawn, "a", local_2026(1, 1, 0, 0) - 1, 1);
	record(&lawn, "a", local_2026(7, 1, 9, 0), 1);
	record(&lawn, "a", local_2026(12, 31, 12, 0), 1);
	record(&lawn, "b", local_2026(7, 2, 9, 0), 1);
	assert_close(ask(&lawn, 0, local_2026(12, 30, 9, 0)), 3, 0);
	assert_close(ask(&lawn, 0, local_2026(12, 31, 11, 45)), 3, 0);
	assert_close(ask(&lawn, 0, local_2026(12, 31, 12, 0)), 4, 0);
	assert_close(ask(&lawn, 0, local_2026(12, 31, 23, 45)), 4, 0);
	assert_close(ask(&lawn, 0, local_2026(12, 32, 0, 0)), 1, 0);
	lawn.record[2].site = "back";
	assert_close(ask(&lawn, 0, local_2026(12, 30, 9, 0)), 2, 0);
	close_lawn(&lawn);
}

static void
the_amount_of_the_year_is_over_the_site_with_this_job(void **state)
{
	(void)state;
	static const struct {
		size_t dose;
		double first, second, wanted;
	} cases[] = {
		/* 0.5 L and 0.25 L on 500 m2, and 1 mL/m2 */
		{ 0, 0.5, 0.25, 0.0025 },
		{ 0, 0.5, 0, 0.002 },
		/* 10 g and 5 g, and 0.05 g/m2 */
		{ 2, 10, 5, 0.08 },
		/* 0.25 % of 0.04 L/m2 */
		{ 3, 0.05, 0, 0.0002 },
		/* an amount that nobody wrote down */
		{ 0, 0.5, NAN, NAN },
	};
	for (size_t i = 0; i < COUNT(cases); i++) {
		struct lawn lawn;
		int64_t time = local_2026(6, 2, 0, 0);
		open_lawn(&lawn, time, time + DAY);
		const char *name = lawn.product[cases[i].dose].name;
		lawn.rule.measure = MEASURE_SEASON_AMOUNT;
		lawn.rule.is_volume = true;
		lawn.rule.is_volume = cases[i].dose != 2;
		lawn.job.tank.count = PRODUCTS;
		record(&lawn, name, local_2026(3, 1, 9, 0), cases[i].first);
		record(&lawn, name, local_2026(4, 1, 9, 0), cases[i].second);
		record(&lawn, name, local_2026(1, 1, 0, 0) - 1, 99);
		record(&lawn, "b", local_2026(4, 1, 9, 0), 99);
		double amount = ask(&lawn, cases[i].dose, time);
		if (isnan(cases[i].wanted))
			assert_nan(amount);
		else
			assert_close(amount, cases[i].wanted, 1e-8);
		close_lawn(&lawn);
	}
}

static void
grams_and_litres_are_not_added(void **state)
{
	(void)state;
	struct lawn lawn;
	int64_t time = local_2026(6, 2, 0, 0);
	open_lawn(&lawn, time, time + DAY);
	record(&lawn, "a", local_2026(3, 1, 9, 0), 0.5);
	lawn.record[0].is_mass = true;
	lawn.rule.measure = MEASURE_SEASON_AMOUNT;
	lawn.rule.is_volume = true;
	assert_nan(ask(&lawn, 0, time));
	lawn.rule.measure = MEASURE_SEASON_ACTIVE;
	lawn.rule.subject = "other";
	assert_nan(ask(&lawn, 0, time));
	lawn.rule.measure = MEASURE_SEASON_COUNT;
	assert_close(ask(&lawn, 0, time), 2, 0);
	close_lawn(&lawn);
}

/* A maximum in grams says nothing of a dose in litres, or the other way. */
static void
a_maximum_of_the_other_kind_is_unknown(void **state)
{
	(void)state;
	struct lawn lawn;
	int64_t time = local_2026(6, 2, 0, 0);
	open_lawn(&lawn, time, time + DAY);
	lawn.job.tank.count = PRODUCTS;
	lawn.rule.measure = MEASURE_SEASON_AMOUNT;
	for (size_t dose = 0; dose < PRODUCTS; dose++) {
		bool grams = dose == 2;
		lawn.rule.is_volume = grams;
		assert_nan(ask(&lawn, dose, time));
		lawn.rule.is_volume = !grams;
		assert_true(isfinite(ask(&lawn, dose, time)));
	}
	close_lawn(&lawn);
}

/* 0.1 L on a fifth of the site is as much there as 0.5 L on the whole. */
static void
a_spot_counts_over_the_ground_that_it_covered(void **state)
{
	(void)state;
	struct lawn lawn;
	int64_t time = local_2026(6, 2, 0, 0);
	open_lawn(&lawn, time, time + DAY);
	lawn.rule.measure = MEASURE_SEASON_AMOUNT;
	lawn.rule.is_volume = true;
	record(&lawn, "a", local_2026(3, 1, 9, 0), 0.1);
	lawn.record[0].area = 100;
	assert_close(ask(&lawn, 0, time), 0.001 + 0.001, 1e-9);
	lawn.record[0].area = (double)NAN;
	assert_nan(ask(&lawn, 0, time));
	close_lawn(&lawn);
}

/* Slots of jobs that were queued before, on either side of the start. */
static void
promised_slots_count_for_their_year_and_for_sums_alone(void **state)
{
	(void)state;
	struct lawn lawn;
	int64_t time = local_2026(6, 2, 0, 0);
	struct application slots[] = {
		{ "front", "a", time - DAY, 500, 0.5, false },
		{ "front", "a", time + 3 * DAY, 500, 0.5, false },
		{ "back", "a", time, 500, 0.5, false },
		{ "front", "b", time, 500, 0.5, false },
		{ "front", "a", local_2026(6, 2, 0, 0) + 300 * DAY, 500, 0.5,
		    false },
	};
	open_lawn(&lawn, time, time + DAY);
	lawn.past.promised = slots;
	lawn.past.promised_count = COUNT(slots);
	lawn.rule.measure = MEASURE_SEASON_COUNT;
	assert_close(ask(&lawn, 0, time), 3, 0);
	lawn.rule.measure = MEASURE_SEASON_AMOUNT;
	lawn.rule.is_volume = true;
	assert_close(ask(&lawn, 0, time), 3 * 0.001, 1e-9);
	lawn.rule.measure = MEASURE_DAYS_SINCE;
	assert_true(isinf(ask(&lawn, 0, time)));
	close_lawn(&lawn);
}

static void
a_job_without_a_rate_has_no_amount(void **state)
{
	(void)state;
	struct lawn lawn;
	int64_t time = local_2026(6, 2, 0, 0);
	open_lawn(&lawn, time, time + DAY);
	lawn.job.tank.dose[0].rate = 0;
	lawn.rule.measure = MEASURE_SEASON_AMOUNT;
	lawn.rule.is_volume = true;
	assert_nan(ask(&lawn, 0, time));
	close_lawn(&lawn);
}

/* "b" contains what "a" does; "c" has another; "d" is asked in each way. */
static void
an_active_is_summed_over_all_that_contain_it(void **state)
{
	(void)state;
	struct lawn lawn;
	int64_t time = local_2026(6, 2, 0, 0);
	open_lawn(&lawn, time, time + DAY);
	lawn.active[0] = (struct active){ "Alphazon", 480, true };
	lawn.active[1] = (struct active){ "alphazon", 120, true };
	lawn.rule.measure = MEASURE_SEASON_ACTIVE;
	lawn.rule.subject = "alphazon";
	/* this job: 1 mL/m2 of 480 g/L */
	assert_close(ask(&lawn, 0, time), 0.48, 1e-6);
	/* and with 2 mL/m2 of 120 g/L in the same tank */
	lawn.job.tank.count = 3;
	assert_close(ask(&lawn, 0, time), 0.72, 1e-6);
	lawn.job.tank.count = 1;
	record(&lawn, "a", local_2026(3, 1, 9, 0), 0.5);
	record(&lawn, "b", local_2026(4, 1, 9, 0), 1);
	record(&lawn, "c", local_2026(5, 1, 9, 0), unknown);
	assert_close(ask(&lawn, 0, time), 0.48 + (240 + 120) / 500.0, 1e-6);
	lawn.record[1].amount = unknown;
	assert_nan(ask(&lawn, 0, time));
	close_lawn(&lawn);
}

static void
a_product_that_nobody_knows_any_more_may_have_had_it(void **state)
{
	(void)state;
	struct lawn lawn;
	int64_t time = local_2026(6, 2, 0, 0);
	open_lawn(&lawn, time, time + DAY);
	lawn.rule.measure = MEASURE_SEASON_ACTIVE;
	lawn.rule.subject = "other";
	record(&lawn, "gone", local_2026(1, 1, 0, 0) - 1, 1);
	assert_close(ask(&lawn, 0, time), 0.1, 1e-6); /* not this year */
	lawn.record[0].at = local_2026(1, 1, 0, 0);
	assert_nan(ask(&lawn, 0, time));
	close_lawn(&lawn);
}

static void
a_herbicide_that_names_no_active_may_contain_it(void **state)
{
	(void)state;
	static const struct {
		enum product_kind kind;
		bool known;
	} cases[] = { { PRODUCT_HERBICIDE, false }, { PRODUCT_ADJUVANT, true },
		{ PRODUCT_OTHER, true } };
	for (size_t i = 0; i < COUNT(cases); i++) {
		struct lawn lawn;
		int64_t time = local_2026(6, 2, 0, 0);
		open_lawn(&lawn, time, time + DAY);
		lawn.rule.measure = MEASURE_SEASON_ACTIVE;
		lawn.rule.subject = "other";
		lawn.product[3].kind = cases[i].kind;
		lawn.product[3].active_count = 0;
		record(&lawn, "d", local_2026(3, 1, 9, 0), 1);
		assert_int_equal(!isnan(ask(&lawn, 0, time)), cases[i].known);
		close_lawn(&lawn);
	}
}

static void
dates_of_a_card_may_run_over_new_year(void **state)
{
	(void)state;
	static const struct {
		struct date_span span;
		int month, day, inside;
	} cases[] = {
		{ { 2, 1, 4, 15 }, 1, 31, 0 },
		{ { 2, 1, 4, 15 }, 2, 1, 1 },
		{ { 2, 1, 4, 15 }, 4, 15, 1 },
		{ { 2, 1, 4, 15 }, 4, 16, 0 },
		{ { 11, 15, 2, 28 }, 11, 14, 0 },
		{ { 11, 15, 2, 28 }, 11, 15, 1 },
		{ { 11, 15, 2, 28 }, 12, 31, 1 },
		{ { 11, 15, 2, 28 }, 1, 1, 1 },
		{ { 11, 15, 2, 28 }, 2, 28, 1 },
		{ { 11, 15, 2, 28 }, 3, 1, 0 },
		{ { 5, 9, 5, 9 }, 5, 9, 1 },
		{ { 5, 9, 5, 9 }, 5, 10, 0 },
	};
	for (size_t i = 0; i < COUNT(cases); i++) {
		struct lawn lawn;
		struct date_span spans[] = { { 9, 1, 9, 1 }, cases[i].span };
		int64_t day = local_2026(cases[i].month, cases[i].day, 0, 0);
		open_lawn(&lawn, day, day + DAY);
		lawn.rule.measure = MEASURE_DATES;
		lawn.product[0].date = spans;
		assert_close(ask(&lawn, 0, day), 1, 0); /* none on the card */
		lawn.product[0].date_count = COUNT(spans);
		assert_close(ask(&lawn, 0, day), cases[i].inside, 0);
		assert_close(
		    ask(&lawn, 0, day + DAY - SERIES_STEP), cases[i].inside, 0);
		close_lawn(&lawn);
	}
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(
		    the_columns_of_products_are_those_and_no_others),
		cmocka_unit_test(days_since_are_local_days_over_a_clock_change),
		cmocka_unit_test(
		    days_since_agree_with_the_list_of_applications),
		cmocka_unit_test(the_first_of_two_waits_for_the_second),
		cmocka_unit_test(a_year_begins_on_the_clock_of_the_site),
		cmocka_unit_test(
		    the_amount_of_the_year_is_over_the_site_with_this_job),
		cmocka_unit_test(grams_and_litres_are_not_added),
		cmocka_unit_test(a_maximum_of_the_other_kind_is_unknown),
		cmocka_unit_test(a_spot_counts_over_the_ground_that_it_covered),
		cmocka_unit_test(
		    promised_slots_count_for_their_year_and_for_sums_alone),
		cmocka_unit_test(a_job_without_a_rate_has_no_amount),
		cmocka_unit_test(an_active_is_summed_over_all_that_contain_it),
		cmocka_unit_test(
		    a_product_that_nobody_knows_any_more_may_have_had_it),
		cmocka_unit_test(
		    a_herbicide_that_names_no_active_may_contain_it),
		cmocka_unit_test(dates_of_a_card_may_run_over_new_year),
	};
	return RUN_TESTS(tests);
}
