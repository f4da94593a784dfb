#include "unit/test.h"

#include "service/freshness.h"

static void
max_age_is_read_as_the_standard_says(void **state)
{
	(void)state;
	static const struct {
		const char *value;
		int64_t wanted;
	} rows[] = {
		{ NULL, -1 },
		{ "", -1 },
		{ "public", -1 },
		{ "max-age=0", 0 },
		{ "max-age=600", 600 },
		{ "MAX-AGE=600", 600 },
		{ "public, max-age=600, s-maxage=3600", 600 },
		{ "s-maxage=3600", -1 },
		{ "public,max-age=600,", 600 },
		{ " ,, max-age = 600 ", 600 },
		{ "max-age=\"600\"", 600 },
		{ "max-age=\"600", -1 },
		{ "max-age", -1 },
		{ "max-age=", -1 },
		{ "max-age=-1", -1 },
		{ "max-age=+1", -1 },
		{ "max-age=1.5", -1 },
		{ "max-age=600s", -1 },
		{ "max-age=600 700", -1 },
		{ "x-max-age=600", -1 },
		{ "max-age-x=600", -1 },
		{ "max-age=60, max-age=70", 60 },
		{ "max-age=x, max-age=70", -1 },
		{ "no-store", 0 },
		{ "max-age=600, no-store", 0 },
		{ "no-cache, max-age=600", 0 },
		{ "no-cache=\"set-cookie, max-age=5\", max-age=9", 0 },
		{ "x=\"max-age=5, no-store\", max-age=9", 9 },
		{ "x=\"a\\\", no-store\", max-age=9", 9 },
		{ "x=\"a\\", -1 },
		{ "x=\"\\\\\", max-age=9", 9 },
		{ "max-age=99999999999999999999999999", INT32_MAX },
		{ "max-age=2147483647", INT32_MAX },
		{ "max-age=2147483648", INT32_MAX },
		{ "max-age=00000000000000000000000060", 60 },
	};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		int64_t age = freshness_max_age(rows[i].value);
		if (age != rows[i].wanted)
			fail_msg("'%s' is %lld, wanted %lld",
			    rows[i].value == NULL ? "(null)" : rows[i].value,
			    (long long)age, (long long)rows[i].wanted);
	}
}

enum { NOW = 1800000000 };

static const char *const noon = "Sun, 06 Nov 1994 12:00:00 GMT";

static void
max_age_goes_before_expires(void **state)
{
	(void)state;
	const char *later = "Sun, 06 Nov 1994 13:00:00 GMT";
	assert_int_equal(
	    freshness_until("max-age=60", later, noon, NOW), NOW + 60);
	assert_int_equal(freshness_until("no-store", later, noon, NOW), NOW);
	assert_int_equal(
	    freshness_until("max-age=x", later, noon, NOW), NOW + 3600);
	assert_int_equal(freshness_until(NULL, later, noon, NOW), NOW + 3600);
}

/* The three forms of a date: RFC 9110 section 5.6.7, its own example. */
static void
every_form_of_a_date_is_read(void **state)
{
	(void)state;
	static const char *const forms[] = { "Sun, 06 Nov 1994 08:49:37 GMT",
		"Sunday, 06-Nov-94 08:49:37 GMT", "Sun Nov  6 08:49:37 1994" };
	for (size_t i = 0; i < sizeof forms / sizeof forms[0]; i++) {
		assert_int_equal(
		    freshness_until(NULL, noon, forms[i], NOW), NOW + 11423);
		assert_int_equal(
		    freshness_retry_after(forms[i], 784111777 - 30), 30);
	}
}

static void
expires_without_a_use_is_unsaid(void **state)
{
	(void)state;
	const char *earlier = "Sun, 06 Nov 1994 11:59:59 GMT";
	assert_int_equal(freshness_until(NULL, NULL, NULL, NOW), 0);
	assert_int_equal(freshness_until(NULL, noon, NULL, NOW), 0);
	assert_int_equal(freshness_until(NULL, NULL, noon, NOW), 0);
	assert_int_equal(freshness_until(NULL, noon, noon, NOW), 0);
	assert_int_equal(freshness_until(NULL, earlier, noon, NOW), 0);
	assert_int_equal(freshness_until(NULL, "0", noon, NOW), 0);
	assert_int_equal(freshness_until(NULL, "-1", noon, NOW), 0);
	assert_int_equal(freshness_until(NULL, "20400101", noon, NOW), 0);
	assert_int_equal(freshness_until(NULL, "a: b", noon, NOW), 0);
}

static void
a_far_expiry_is_held_at_the_ceiling(void **state)
{
	(void)state;
	int64_t until =
	    freshness_until(NULL, "Fri, 31 Dec 9999 23:59:59 GMT", noon, NOW);
	assert_int_equal(until, (int64_t)NOW + INT32_MAX);
}

static void
retry_after_is_seconds_or_a_date(void **state)
{
	(void)state;
	static const struct {
		const char *value;
		int64_t now, wanted;
	} rows[] = {
		{ NULL, NOW, 0 },
		{ "", NOW, 0 },
		{ "7", NOW, 7 },
		{ " 120 ", NOW, 120 },
		{ "0", NOW, 0 },
		{ "-7", NOW, 0 },
		{ "7.5", NOW, 0 },
		{ "7 8", NOW, 0 },
		{ "soon", NOW, 0 },
		{ "99999999999999999999", NOW, INT32_MAX },
		{ "20991231", NOW, 20991231 },
		{ "Sun, 06 Nov 1994 08:49:37 GMT", 784111777, 0 },
		{ "Sun, 06 Nov 1994 08:49:37 GMT", 784111778, 0 },
		{ "Sun, 06 Nov 1994 08:49:37 GMT", 784111770, 7 },
		{ "Fri, 31 Dec 9999 23:59:59 GMT", NOW, INT32_MAX },
	};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		int64_t wait =
		    freshness_retry_after(rows[i].value, rows[i].now);
		if (wait != rows[i].wanted)
			fail_msg("'%s' is %lld, wanted %lld",
			    rows[i].value == NULL ? "(null)" : rows[i].value,
			    (long long)wait, (long long)rows[i].wanted);
	}
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(max_age_is_read_as_the_standard_says),
		cmocka_unit_test(max_age_goes_before_expires),
		cmocka_unit_test(every_form_of_a_date_is_read),
		cmocka_unit_test(expires_without_a_use_is_unsaid),
		cmocka_unit_test(a_far_expiry_is_held_at_the_ceiling),
		cmocka_unit_test(retry_after_is_seconds_or_a_date),
	};
	return RUN_TESTS(tests);
}
