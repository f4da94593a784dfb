#include "unit/test.h"

#include "weather/interval.h"

#define HOUR INT64_C(3600)
#define DAY  INT64_C(86400)

static void
reads_durations(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		int64_t seconds;
	} rows[] = {
		{ "PT1H", HOUR },
		{ "PT12H", 12 * HOUR },
		{ "PT72H", 72 * HOUR },
		{ "P1D", DAY },
		{ "P2DT3H", 2 * DAY + 3 * HOUR },
		{ "P8DT6H", 8 * DAY + 6 * HOUR },
		{ "PT90M", 5400 },
		{ "P1DT2H3M4S", DAY + 2 * HOUR + 184 },
		{ "PT1S", 1 },
		{ "P2W", 14 * DAY },
		{ "P0DT1H", HOUR },
		{ "PT007H", 7 * HOUR },
	};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		int64_t seconds = 0;
		assert_true(duration_parse(rows[i].text, &seconds, NULL));
		assert_true(seconds == rows[i].seconds);
	}
}

static void
refuses_durations_and_leaves_output_alone(void **state)
{
	(void)state;
	static const char *const rows[] = { "", "P", "PT", "P1", "1H", "PT1",
		"P1DT", "PT0H", "P0D", "PT-1H", "-PT1H", "PT1.5H", "PT1,5H",
		"P1H", "PT1D", "PT1M1H", "PT1H1H", "PTT1H", "P1DT1HT1M", "pt1h",
		"PT1h", "PT1H ", " PT1H", "PT12345678H", "P1Y", "P1M",
		"P1Y2M10DT2H", "PT1H/PT1H" };
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		int64_t seconds = 42;
		struct error error = { 0 };
		if (duration_parse(rows[i], &seconds, &error))
			fail_msg("'%s' was taken", rows[i]);
		assert_true(seconds == 42);
		assert_int_equal(error.kind, ERROR_INPUT);
	}
}

static void
says_why_months_are_refused(void **state)
{
	(void)state;
	int64_t from, to;
	struct error error = { 0 };
	assert_false(
	    interval_parse("2026-03-02T07:00:00Z/P1M", &from, &to, &error));
	assert_contains(error.text, "'P1M'");
	assert_contains(error.text, "years and months");
}

/* 2026-03-02T07:00:00Z; from date(1). */
#define SEVEN INT64_C(1772434800)

static void
reads_intervals_in_all_forms(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		int64_t from, to;
	} rows[] = {
		{ "2026-03-02T07:00:00+00:00/PT3H", SEVEN, SEVEN + 3 * HOUR },
		{ "2026-03-02T07:00:00Z/PT3H", SEVEN, SEVEN + 3 * HOUR },
		{ "2026-03-02T07:00Z/PT3H", SEVEN, SEVEN + 3 * HOUR },
		{ "2026-03-02T01:00:00-06:00/PT1H", SEVEN, SEVEN + HOUR },
		{ "2026-03-02T12:30:00+05:30/PT1H", SEVEN, SEVEN + HOUR },
		{ "2026-03-02T07:00:00Z/2026-03-02T08:00:00Z", SEVEN,
		    SEVEN + HOUR },
		{ "PT1H/2026-03-02T08:00:00Z", SEVEN, SEVEN + HOUR },
		{ "2026-03-02T01:00:00-06:00/2026-03-02T08:00:00+00:00", SEVEN,
		    SEVEN + HOUR },
	};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		int64_t from = 0, to = 0;
		if (!interval_parse(rows[i].text, &from, &to, NULL))
			fail_msg("'%s' was refused", rows[i].text);
		assert_true(from == rows[i].from);
		assert_true(to == rows[i].to);
	}
}

static void
a_leap_day_is_a_day(void **state)
{
	(void)state;
	int64_t from, to, next;
	assert_true(
	    interval_parse("2028-02-28T12:00:00Z/P1D", &from, &to, NULL));
	assert_true(interval_parse(
	    "2028-02-29T12:00:00Z/2028-03-01T12:00:00Z", &from, &next, NULL));
	assert_true(from == to);
	assert_true(next == to + DAY);
	assert_false(
	    interval_parse("2026-02-29T12:00:00Z/PT1H", &from, &to, NULL));
}

static void
refuses_intervals_and_leaves_output_alone(void **state)
{
	(void)state;
	static const char *const rows[] = { "", "/", "PT1H", "PT1H/PT1H",
		"2026-03-02T07:00:00Z", "2026-03-02T07:00:00Z/", "/PT1H",
		"NOW/PT3H", "2026-03-02T07:00:00/PT1H", "2026-03-02/PT1H",
		"2026-03-02 07:00:00Z/PT1H", "2026-03-02T07:00:00Z/PT1H/PT1H",
		"2026-03-02T08:00:00Z/2026-03-02T07:00:00Z",
		"2026-03-02T08:00:00Z/2026-03-02T08:00:00Z",
		"2026-13-02T07:00:00Z/PT1H", "2026-03-02T24:00:00Z/PT1H",
		"2026-03-02T07:00:00+25:00/PT1H", "2026-03-02T07:00:00Z/PT0S",
		"\x1b[31m/PT1H",
		"2026-03-02T07:00:00Z/PT0000000000000000000000000001H" };
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		int64_t from = 1, to = 2;
		struct error error = { 0 };
		if (interval_parse(rows[i], &from, &to, &error))
			fail_msg("'%s' was taken", rows[i]);
		assert_true(from == 1 && to == 2);
		assert_int_equal(error.kind, ERROR_INPUT);
		assert_null(strchr(error.text, '\x1b'));
	}
}

static void
does_not_quote_a_text_of_any_length(void **state)
{
	(void)state;
	char text[2000];
	int64_t from, to;
	struct error error = { 0 };
	memset(text, '0', sizeof text - 1);
	text[sizeof text - 1] = '\0';
	text[20] = '/';
	assert_false(interval_parse(text, &from, &to, &error));
	assert_true(strlen(error.text) < 200);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(reads_durations),
		cmocka_unit_test(refuses_durations_and_leaves_output_alone),
		cmocka_unit_test(says_why_months_are_refused),
		cmocka_unit_test(reads_intervals_in_all_forms),
		cmocka_unit_test(a_leap_day_is_a_day),
		cmocka_unit_test(refuses_intervals_and_leaves_output_alone),
		cmocka_unit_test(does_not_quote_a_text_of_any_length),
	};
	return RUN_TESTS(tests);
}
