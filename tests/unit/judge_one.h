/* One rule at one start, by the bulk judge and by the reason at once. */
#ifndef TESTS_UNIT_JUDGE_ONE_H
#define TESTS_UNIT_JUDGE_ONE_H

#include "unit/test.h"

#include "advice/reason.h"
#include "unit/heart.h"

static inline enum verdict
judge_one(struct series *series, const struct zone *zone, struct rule rule,
    int64_t duration, size_t start)
{
	struct outlook outlook;
	struct verdicts verdicts = { 0 };
	struct check check = check_of(series, rule);
	outlook_init(&outlook, series, zone);
	judge(&outlook, &check, 1, duration, &verdicts);
	enum verdict verdict = verdict_at(&verdicts, start);
	struct reason reason;
	reason_make(&outlook, &check, duration, start, &reason);
	assert_int_equal(reason.verdict, verdict);
	verdicts_release(&verdicts);
	outlook_release(&outlook);
	return verdict;
}

#endif
