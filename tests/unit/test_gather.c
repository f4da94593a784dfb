#include "unit/test.h"

#include "service/gather.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

/* Ten seconds, a minute, ten minutes, then half an hour for good. */
static void
the_wait_grows_with_each_failure_in_a_row(void **state)
{
	(void)state;
	static const struct {
		int failures;
		int64_t seconds;
	} rows[] = { { 1, 10 }, { 2, 60 }, { 3, 600 }, { 4, 1800 }, { 5, 1800 },
		{ 100, 1800 }, { INT32_MAX, 1800 } };
	for (size_t i = 0; i < COUNT(rows); i++)
		assert_int_equal(
		    gather_backoff(rows[i].failures), rows[i].seconds);
	for (int n = 1; n < 20; n++)
		assert_true(gather_backoff(n) <= gather_backoff(n + 1));
}

/* Counting begins at 1; a count that went wrong does not ask at once. */
static void
no_failure_waits_like_the_first(void **state)
{
	(void)state;
	assert_int_equal(gather_backoff(0), 10);
	assert_int_equal(gather_backoff(-1), 10);
	assert_int_equal(gather_backoff(INT32_MIN), 10);
}

static void
a_wait_of_days_comes_from_a_clock_that_was_set_back(void **state)
{
	(void)state;
	int64_t now = 1773662400;
	assert_true(gather_is_due(0, now)); /* never asked */
	assert_true(gather_is_due(now, now));
	assert_false(gather_is_due(now + 1, now));
	assert_false(gather_is_due(now + DAY_SECONDS, now));
	assert_true(gather_is_due(now + 2 * (int64_t)DAY_SECONDS, now));
	assert_true(gather_is_due(INT64_MAX, now));
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(the_wait_grows_with_each_failure_in_a_row),
		cmocka_unit_test(no_failure_waits_like_the_first),
		cmocka_unit_test(
		    a_wait_of_days_comes_from_a_clock_that_was_set_back),
	};
	return RUN_TESTS(tests);
}
