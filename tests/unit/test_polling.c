#include "unit/test.h"

#include "base/civil.h"
#include "service/polling.h"

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
		    polling_backoff(rows[i].failures), rows[i].seconds);
	for (int n = 1; n < 20; n++)
		assert_true(polling_backoff(n) <= polling_backoff(n + 1));
}

/* Counting begins at 1; a count that went wrong does not ask at once. */
static void
no_failure_waits_like_the_first(void **state)
{
	(void)state;
	assert_int_equal(polling_backoff(0), 10);
	assert_int_equal(polling_backoff(-1), 10);
	assert_int_equal(polling_backoff(INT32_MIN), 10);
}

static void
a_wait_of_weeks_comes_from_a_clock_that_was_set_back(void **state)
{
	(void)state;
	int64_t now = 1773662400;
	assert_true(polling_is_due(0, now)); /* never asked */
	assert_true(polling_is_due(now, now));
	assert_false(polling_is_due(now + 1, now));
	assert_false(polling_is_due(now + 7 * (int64_t)DAY_SECONDS, now));
	assert_true(polling_is_due(now + 8 * (int64_t)DAY_SECONDS, now));
	assert_true(polling_is_due(INT64_MAX, now));
}

/* 2026-03-16T12:10:00Z */
#define NOW INT64_C(1773663000)

static void
a_document_is_asked_for_again_when_it_expires(void **state)
{
	(void)state;
	static const struct {
		int64_t expires, minimum, due;
	} rows[] = {
		{ NOW + 1800, 600, NOW + 1800 },
		{ 0, 600, NOW + 3600 },            /* unsaid: an hour */
		{ NOW + 1, 600, NOW + 600 },       /* not so soon */
		{ NOW + 90000, 600, NOW + 21600 }, /* not so late */
		{ NOW + 3000, 600, NOW + 3060 },   /* 13:00 is busy */
		{ NOW + 3059, 600, NOW + 3060 },
		{ NOW + 3060, 600, NOW + 3060 },
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		struct fetch_reply reply = { .class = FETCH_BODY,
			.expires = rows[i].expires };
		assert_int_equal(
		    polling_next(&reply, rows[i].minimum, NOW), rows[i].due);
	}
}

static void
a_link_holds_for_a_day_unless_its_service_says_more(void **state)
{
	(void)state;
	struct fetch_reply reply = { .class = FETCH_BODY };
	assert_int_equal(
	    polling_next_link(&reply, 600, NOW), NOW + DAY_SECONDS);
	reply.expires = NOW + 30 * (int64_t)DAY_SECONDS;
	assert_int_equal(polling_next_link(&reply, 600, NOW),
	    NOW + 7 * (int64_t)DAY_SECONDS);
	/* so that it still counts as put off, not as noted by a wrong clock */
	assert_false(polling_is_due(polling_next_link(&reply, 600, NOW), NOW));
}

static void
a_failure_waits_as_its_kind_and_the_server_want(void **state)
{
	(void)state;
	static const struct {
		enum fetch_class class;
		int failures;
		int64_t retry_after, wait;
	} rows[] = {
		{ FETCH_LATER, 1, 0, 10 },
		{ FETCH_LATER, 3, 0, 600 },
		{ FETCH_LATER, 1, 120, 120 },
		{ FETCH_LATER, 4, 120, 1800 },
		{ FETCH_LATER, 1, 1000000, DAY_SECONDS },
		{ FETCH_REFUSED, 1, 0, 3600 },
		{ FETCH_REFUSED, 9, 7200, 7200 },
		{ FETCH_WRONG, 1, 0, 21600 },
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		struct fetch_reply reply = { .class = rows[i].class,
			.retry_after = rows[i].retry_after };
		int64_t wait = polling_after_failure(&reply, rows[i].failures,
				   "https://example.net/x", NOW) -
			       NOW;
		assert_in_range(wait, rows[i].wait, rows[i].wait + 29);
	}
}

/* Those who failed together do not come back together. */
static void
addresses_wait_for_different_seconds(void **state)
{
	(void)state;
	struct fetch_reply reply = { .class = FETCH_LATER };
	bool seen[40] = { false };
	size_t different = 0;
	for (int i = 0; i < 100; i++) {
		char address[40];
		(void)snprintf(
		    address, sizeof address, "https://example.net/%d", i);
		int64_t wait =
		    polling_after_failure(&reply, 1, address, NOW) - NOW;
		assert_in_range(wait, 10, 39);
		different += seen[wait] ? 0 : 1;
		seen[wait] = true;
		assert_int_equal(
		    polling_after_failure(&reply, 1, address, NOW) - NOW, wait);
	}
	assert_true(different > 20);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(the_wait_grows_with_each_failure_in_a_row),
		cmocka_unit_test(no_failure_waits_like_the_first),
		cmocka_unit_test(
		    a_wait_of_weeks_comes_from_a_clock_that_was_set_back),
		cmocka_unit_test(a_document_is_asked_for_again_when_it_expires),
		cmocka_unit_test(
		    a_link_holds_for_a_day_unless_its_service_says_more),
		cmocka_unit_test(
		    a_failure_waits_as_its_kind_and_the_server_want),
		cmocka_unit_test(addresses_wait_for_different_seconds),
	};
	return RUN_TESTS(tests);
}
