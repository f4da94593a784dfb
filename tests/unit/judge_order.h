/* Two judgements of which one must not be kinder than the other. */
#ifndef TESTS_UNIT_JUDGE_ORDER_H
#define TESTS_UNIT_JUDGE_ORDER_H

#include "unit/test.h"

#include "advice/judge.h"

/* Every start that is open in `narrow` must be open in `wide`. */
static inline void
check_no_start_gained(
    const struct verdicts *narrow, const struct verdicts *wide)
{
	assert_int_equal(narrow->count, wide->count);
	for (size_t i = 0; i < narrow->count; i++)
		if (verdict_at(narrow, i) == VERDICT_GO)
			assert_int_equal(verdict_at(wide, i), VERDICT_GO);
}

/* What is broken in `before` must be so in `after`. */
static inline void
check_broken_stays(
    const struct verdicts *before, const struct verdicts *after, size_t rules)
{
	for (size_t i = 0; i < before->count; i++)
		for (size_t r = 0; r < rules; r++)
			if (verdict_broken(before, i, r))
				assert_true(verdict_broken(after, i, r));
}

#endif
