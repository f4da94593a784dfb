/* Holds, maxima of a season and sequences, from the card to the verdict. */
#include "unit/test.h"

#include "advice/derive.h"
#include "unit/facts_lawn.h"

static double
read_quantity(const char *text, enum quantity_kind kind)
{
	struct error error = { 0 };
	double value = 0;
	if (!quantity_parse(text, kind, &value, &error))
		fail_msg("%s", error.text);
	return value;
}

/* The verdict of the lawn's job at a start, by the cards alone. */
static enum verdict
judge_start(struct lawn *lawn, int64_t time)
{
	const struct practice none = { 0 };
	struct rulebook book;
	struct outlook outlook;
	struct verdicts verdicts = { 0 };
	rulebook_init(&book, &lawn->job, &none, &lawn->series, &lawn->past);
	outlook_init(&outlook, &lawn->series, &lawn->site.zone);
	judge(&outlook, book.check, book.count, HOUR, &verdicts);
	enum verdict verdict =
	    verdict_at(&verdicts, cell_of(&lawn->series, time));
	verdicts_release(&verdicts);
	outlook_release(&outlook);
	rulebook_release(&book, NULL);
	return verdict;
}

/*
 * Two-sided mowing hold: "do not mow turf for 2 days before or 2 days after" an
 * application (halosulfuron with adjuvant, label text in a public file, EPA
 * Reg. No. 81880-24; trade facts B.4, read in part). Mown on Tuesday at 10:00,
 * to be mown again the Tuesday after, with the change of the clocks between.
 */
static void
a_mowing_holds_the_job_off_on_both_sides(void **state)
{
	(void)state;
	static const struct {
		int day, hour, minute;
		enum verdict verdict;
	} cases[] = {
		{ 1, 9, 0, VERDICT_UNKNOWN }, /* who knows what was before */
		{ 1, 9, 15, VERDICT_NO_GO },
		{ 3, 10, 0, VERDICT_NO_GO },
		{ 5, 9, 45, VERDICT_NO_GO },
		{ 5, 10, 0, VERDICT_GO },
		{ 8, 9, 0, VERDICT_GO }, /* over at 10:00 */
		{ 8, 9, 15, VERDICT_NO_GO },
		{ 10, 10, 0, VERDICT_NO_GO },
		{ 12, 9, 45, VERDICT_NO_GO },
		{ 12, 10, 0, VERDICT_GO },
	};
	struct rule cards[] = {
		rule_of(MEASURE_SINCE_MOWING, FOLD_MIN, during, BOUND_AT_LEAST,
		    2.0 * DAY),
		rule_of(MEASURE_UNTIL_MOWING, FOLD_MIN, during, BOUND_AT_LEAST,
		    2.0 * DAY),
	};
	const int64_t done = local_2026(3, 3, 10, 0);
	const int64_t plan = local_2026(3, 10, 10, 0);
	const struct turf_event events[] = {
		{ EVENT_MOWING, done, done, (double)NAN, done },
		{ EVENT_MOWING, plan, plan, (double)NAN, done },
	};
	const struct site_facts facts = { .event = events,
		.event_count = COUNT(events) };
	struct lawn lawn;
	open_lawn(&lawn, local_2026(2, 28, 0, 0), local_2026(3, 14, 0, 0));
	derive(&lawn.series, &lawn.site, &facts);
	lawn.product[0].rules = cards;
	lawn.product[0].rule_count = COUNT(cards);
	for (size_t i = 0; i < COUNT(cases); i++)
		assert_int_equal(
		    judge_start(&lawn, local_2026(3, cases[i].day,
					   cases[i].hour, cases[i].minute)),
		    cases[i].verdict);
	close_lawn(&lawn);
}

/*
 * Bentazon on turf: "season max 4 pt/A or 1.5 fl oz/1000 ft2", 2 pt/A or 0.75
 * fl oz/1000 ft2 at a time (trade facts I, row 7, read). Content 4 lb/gal, as
 * is usual for it (from memory); the second product and the sum over two tank
 * mixes are made up after the rule.
 */
static void
the_annual_maximum_counts_across_two_tank_mixes(void **state)
{
	(void)state;
	struct lawn lawn;
	struct rule cards[2];
	int64_t time = local_2026(6, 2, 8, 0);
	double pint = read_quantity("1 pt/acre", QUANTITY_VOLUME_PER_AREA);
	double content = read_quantity("4 lb/gal", QUANTITY_MASS_PER_VOLUME);
	open_lawn(&lawn, local_2026(6, 2, 0, 0), local_2026(6, 3, 0, 0));
	/* "a" has it; "b" has half as much of it beside another active */
	struct active mixed[] = { { "other", 10, true },
		{ "bentazon", content / 2, true } };
	lawn.active[0] = (struct active){ "bentazon", content, true };
	lawn.product[1].active = mixed;
	lawn.product[1].active_count = COUNT(mixed);
	for (size_t i = 0; i < 2; i++) {
		cards[i] = rule_of(MEASURE_SEASON_ACTIVE, FOLD_MAX, during,
		    BOUND_AT_MOST, 4 * pint * content);
		cards[i].subject = "bentazon";
		lawn.product[i].rules = &cards[i];
		lawn.product[i].rule_count = 1;
	}
	/* In spring "a" at 2 pt/A went out with "c". */
	record(&lawn, "a", local_2026(4, 1, 9, 0), 2 * pint * 500);
	record(&lawn, "c", local_2026(4, 1, 9, 0), 25);
	lawn.job.tank.count = 2; /* "a" and "b" together */
	static const struct {
		double a, b; /* pt/A of this mix */
		enum verdict verdict;
	} cases[] = {
		{ 2, 0.1, VERDICT_NO_GO },
		{ 1, 2, VERDICT_GO }, /* 2 + 1 + half of 2: just 4 */
		{ 1, 2.1, VERDICT_NO_GO },
		{ 0.001, 3.9, VERDICT_GO },
		{ 0.001, 4.1, VERDICT_NO_GO },
	};
	for (size_t i = 0; i < COUNT(cases); i++) {
		lawn.job.tank.dose[0].rate = cases[i].a * pint;
		lawn.job.tank.dose[1].rate = cases[i].b * pint;
		assert_int_equal(judge_start(&lawn, time), cases[i].verdict);
	}
	/* Last year's do not count; a forgotten amount cannot be told. */
	lawn.job.tank.dose[0].rate = lawn.job.tank.dose[1].rate = 2 * pint;
	lawn.record[0].at -= 365 * DAY;
	assert_int_equal(judge_start(&lawn, time), VERDICT_GO);
	lawn.record[0].at += 365 * DAY;
	lawn.record[0].amount = (double)NAN;
	assert_int_equal(judge_start(&lawn, time), VERDICT_UNKNOWN);
	close_lawn(&lawn);
}

/* The same label by the amount of the product: two of 0.75 fl oz/1000 ft2 are
   1.5, and no third one fits. */
static void
the_amount_of_a_season_is_used_up(void **state)
{
	(void)state;
	struct lawn lawn;
	struct rule card;
	int64_t time = local_2026(6, 2, 8, 0);
	double once =
	    read_quantity("0.75 fl oz/1000 ft2", QUANTITY_VOLUME_PER_AREA);
	open_lawn(&lawn, local_2026(6, 2, 0, 0), local_2026(6, 3, 0, 0));
	card = rule_of(MEASURE_SEASON_AMOUNT, FOLD_MAX, during, BOUND_AT_MOST,
	    read_quantity("1.5 fl oz/1000 ft2", QUANTITY_VOLUME_PER_AREA));
	card.is_volume = true;
	lawn.product[0].rules = &card;
	lawn.product[0].rule_count = 1;
	lawn.job.tank.dose[0].rate = once;
	assert_int_equal(judge_start(&lawn, time), VERDICT_GO);
	record(&lawn, "a", local_2026(4, 1, 9, 0), once * 500);
	assert_int_equal(judge_start(&lawn, time), VERDICT_GO);
	/* two in a hundred too much are too much */
	lawn.record[0].amount *= 1.02;
	assert_int_equal(judge_start(&lawn, time), VERDICT_NO_GO);
	lawn.record[0].amount /= 1.02;
	record(&lawn, "a", local_2026(4, 14, 9, 0), once * 500);
	assert_int_equal(judge_start(&lawn, time), VERDICT_NO_GO);
	close_lawn(&lawn);
}

/* Halosulfuron: two applications a season, the second 6 to 10 weeks after the
   first (trade facts I, row 5; from memory there). */
static void
the_second_of_two_is_neither_early_nor_late_nor_a_third(void **state)
{
	(void)state;
	static const struct {
		int days[3]; /* of March and on; 0 ends them */
		int now, start;
		enum verdict verdict;
	} cases[] = {
		{ { 0 }, 1, 2, VERDICT_GO },
		{ { 1 }, 40, 42, VERDICT_NO_GO },
		{ { 1 }, 40, 43, VERDICT_GO },
		{ { 1 }, 65, 71, VERDICT_GO },
		{ { 1 }, 65, 72, VERDICT_NO_GO },
		/* late: it is the first of a new pair, and the second of two */
		{ { 1 }, 72, 73, VERDICT_GO },
		{ { 1, 50 }, 99, 100, VERDICT_NO_GO },
	};
	struct rule cards[] = {
		rule_of(
		    MEASURE_DAYS_SINCE, FOLD_MIN, during, BOUND_AT_LEAST, 42),
		rule_of(
		    MEASURE_DAYS_WAITED, FOLD_MAX, during, BOUND_AT_MOST, 70),
		rule_of(
		    MEASURE_SEASON_COUNT, FOLD_MAX, during, BOUND_AT_MOST, 2),
	};
	for (size_t i = 0; i < COUNT(cases); i++) {
		struct lawn lawn;
		int64_t now = local_2026(3, cases[i].now, 7, 0);
		open_lawn(&lawn, now, now + 10 * DAY);
		lawn.product[0].rules = cards;
		lawn.product[0].rule_count = COUNT(cards);
		for (size_t d = 0; cases[i].days[d] != 0; d++)
			record(&lawn, "a",
			    local_2026(3, cases[i].days[d], 9, 0), 1);
		enum verdict verdict =
		    judge_start(&lawn, local_2026(3, cases[i].start, 9, 0));
		if (verdict != cases[i].verdict)
			fail_msg("row %zu is %s", i, verdict_word(verdict));
		close_lawn(&lawn);
	}
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_mowing_holds_the_job_off_on_both_sides),
		cmocka_unit_test(
		    the_annual_maximum_counts_across_two_tank_mixes),
		cmocka_unit_test(the_amount_of_a_season_is_used_up),
		cmocka_unit_test(
		    the_second_of_two_is_neither_early_nor_late_nor_a_third),
	};
	return RUN_TESTS(tests);
}
