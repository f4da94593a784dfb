#include "unit/test.h"

#include "base/limits.h"
#include "weather/format.h"

static const struct format four = { .name = "four", .decimals = 4 };
static const struct format two = { .name = "two",
	.decimals = 2,
	.query = "at={latitude}/{longitude}&hourly=rain" };
static const struct format whole = { .name = "whole", .decimals = 0 };
static const struct format circle = { .name = "circle", .query = "{query}" };

struct point {
	double latitude, longitude;
};

static void
check_address(const struct format *format, const char *pattern,
    struct point point, const char *wanted)
{
	struct text text;
	struct error error = { 0 };
	text_init(&text, LIMIT_TEXT_BYTES);
	if (!format_address(format, pattern, point.latitude, point.longitude,
		&text, &error))
		fail_msg("%s: %s", pattern, error.text);
	assert_string_equal(text_string(&text), wanted);
	text_release(&text);
}

static void
degrees_have_the_decimals_of_the_format_and_no_zeros_behind(void **state)
{
	(void)state;
	static const struct {
		const struct format *format;
		struct point point;
		const char *wanted;
	} rows[] = {
		{ &four, { 33.21098, -97.12344 }, "33.211,-97.1234" },
		{ &four, { 33.2, -97 }, "33.2,-97" },
		{ &four, { 30, -100 }, "30,-100" },
		{ &four, { -37.81366, 144.96305 }, "-37.8137,144.9631" },
		{ &four, { -0.00004, 0.00004 }, "0,0" },
		{ &four, { -0.0, -0.00006 }, "0,-0.0001" },
		{ &two, { 33.21098, -97.12344 }, "33.21,-97.12" },
		{ &two, { 89.999, -179.999 }, "90,-180" },
		{ &two, { 0.004, -0.1 }, "0,-0.1" },
		{ &whole, { 10.4, -100.2 }, "10,-100" },
		{ &whole, { -0.4, 0.4 }, "0,0" },
	};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
		check_address(rows[i].format, "{latitude},{longitude}",
		    rows[i].point, rows[i].wanted);
}

static void
words_may_stand_anywhere_and_more_than_once(void **state)
{
	(void)state;
	static const struct point point = { 33.5, -97.25 };
	check_address(&two, "", point, "");
	check_address(&two, "no word", point, "no word");
	check_address(&two, "a}b", point, "a}b");
	check_address(
	    &two, "{longitude}{latitude}x{latitude}", point, "-97.2533.5x33.5");
	check_address(&two, "/f?{query}&past_days=2", point,
	    "/f?at=33.5/-97.25&hourly=rain&past_days=2");
}

static void
refuses_other_words(void **state)
{
	(void)state;
	static const struct {
		const struct format *format;
		const char *pattern, *shown;
	} rows[] = {
		{ &two, "x{lat}", "'{lat}'" },
		{ &two, "{Latitude}", "'{Latitude}'" },
		{ &two, "{latitude }", "'{latitude }'" },
		{ &two, "{latitudes}", "'{latitudes}'" },
		{ &two, "{}", "'{}'" },
		{ &two, "{{latitude}}", "'{{latitude}'" },
		{ &two, "x{", "'{'" },
		{ &two, "{latitude", "'{latitude'" },
		{ &two, "{longitude},{latitude", "'{latitude'" },
		{ &four, "{query}",
		    "'{query}' is not a word that an address "
		    "of four knows" },
		{ &circle, "{query}", "'{query}'" },
	};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		struct text text;
		struct error error = { 0 };
		text_init(&text, LIMIT_TEXT_BYTES);
		if (format_address(
			rows[i].format, rows[i].pattern, 1, 2, &text, &error))
			fail_msg("was taken: %s", rows[i].pattern);
		text_release(&text);
		assert_int_equal(error.kind, ERROR_INPUT);
		assert_contains(error.text, rows[i].shown);
	}
}

static void
a_long_stray_word_is_shown_in_part(void **state)
{
	(void)state;
	char pattern[300];
	struct text text;
	struct error error = { 0 };
	memset(pattern, 'x', sizeof pattern);
	pattern[0] = '{';
	pattern[sizeof pattern - 1] = '\0';
	text_init(&text, LIMIT_TEXT_BYTES);
	assert_false(format_address(&two, pattern, 1, 2, &text, &error));
	assert_contains(error.text, "is not a word that an address of two");
	assert_true(strlen(error.text) < 100);
	text_release(&text);
}

/* RFC 3986: what may stand in a path or a query, less what nobody needs. */
static const char letters[] = "abcdefghijklmnopqrstuvwxyz"
			      "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789"
			      "-._~,=&?/";

/* "https://", a host, a path, and nothing that would have to be escaped. */
static void
check_https(const char *address)
{
	static const char scheme[] = "https://";
	const size_t start = sizeof scheme - 1;
	assert_int_equal(strncmp(address, scheme, start), 0);
	const char *host = address + start;
	size_t length = strspn(host, "abcdefghijklmnopqrstuvwxyz0123456789-.");
	assert_true(length > 0 && host[0] != '.' && host[length - 1] != '.');
	assert_int_equal(host[length], '/');
	assert_int_equal(host[strspn(host, letters)], '\0');
	const char *mark = strchr(host, '?');
	assert_true(mark == NULL || strchr(mark + 1, '?') == NULL);
}

/* The number stands there whole: no digit before or behind it. */
static void
check_holds(const char *address, const char *number)
{
	const char *at = strstr(address, number);
	assert_contains(address, number);
	if (at == NULL || at == address)
		return;
	assert_null(strchr("0123456789.-", at[-1]));
	char next = at[strlen(number)];
	assert_true(next == '\0' || strchr("0123456789.", next) == NULL);
}

static void
each_row_makes_an_address_at_its_decimals(void **state)
{
	(void)state;
	static const char *const north[] = { "51", "51.1", "51.12", "51.123",
		"51.1235" };
	static const char *const west[] = { "-97", "-97.3", "-97.35", "-97.346",
		"-97.3457" };
	const struct format *format;
	size_t i = 0;
	for (; (format = format_at(i)) != NULL; i++) {
		struct text text;
		struct error error = { 0 };
		text_init(&text, LIMIT_TEXT_BYTES);
		assert_in_range(format->decimals, 0, 4);
		if (!format_address(format, format->address, 51.12346,
			-97.345678, &text, &error))
			fail_msg("%s: %s", format->name, error.text);
		assert_false(text.failed);
		check_https(text_string(&text));
		check_holds(text_string(&text), north[format->decimals]);
		check_holds(text_string(&text), west[format->decimals]);
		text_release(&text);
	}
	assert_true(i > 0);
}

static void
each_row_is_found_by_its_name(void **state)
{
	(void)state;
	const struct format *format;
	for (size_t i = 0; (format = format_at(i)) != NULL; i++) {
		assert_ptr_equal(format_find(format->name), format);
		assert_non_null(format->accept);
		assert_non_null(format->credit);
		assert_true(format->read != NULL);
		assert_true(format->home_host == NULL ||
			    strstr(format->address, format->home_host) != NULL);
	}
	assert_null(format_find("nws"));
	assert_null(format_find(""));
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(
		    degrees_have_the_decimals_of_the_format_and_no_zeros_behind),
		cmocka_unit_test(words_may_stand_anywhere_and_more_than_once),
		cmocka_unit_test(refuses_other_words),
		cmocka_unit_test(a_long_stray_word_is_shown_in_part),
		cmocka_unit_test(each_row_makes_an_address_at_its_decimals),
		cmocka_unit_test(each_row_is_found_by_its_name),
	};
	return RUN_TESTS(tests);
}
