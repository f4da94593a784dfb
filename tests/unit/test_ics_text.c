/* What awkward text does to the wire: folds, injected lines, separators. */
#include "unit/test.h"

#include "base/limits.h"
#include "calendar/entry.h"

static struct entry
sample(void)
{
	return (struct entry){ .uid = "slot-1",
		.from = 1772434800,
		.to = 1772443800,
		.summary = "GO: front lawn",
		.alarm = { { .before = 3600, .text = "in an hour" } },
		.alarm_count = 1 };
}

static struct text
render(const struct calendar_head *head, const struct entry *entry)
{
	struct text text;
	struct error error = { 0 };
	text_init(&text, LIMIT_CALENDAR_BYTES);
	if (!calendar_write(head, entry, 1, &text, &error))
		fail_msg("%s", error.text);
	return text;
}

static const struct calendar_head plain = { .name = "Spray windows" };

/* Takes the folds out, in place. */
static void
unfold(struct text *text)
{
	size_t kept = 0;
	for (size_t i = 0; i < text->length; i++) {
		if (strncmp(text->data + i, "\r\n ", 3) == 0)
			i += 2;
		else
			text->data[kept++] = text->data[i];
	}
	text->length = kept;
	text->data[kept] = '\0';
}

/* The value of the only line "NAME:...", TEXT escapes undone. Free it. */
static char *
read_text(const struct text *text, const char *name)
{
	char start[64];
	(void)snprintf(start, sizeof(start), "\r\n%s:", name);
	const char *at = strstr(text->data, start);
	assert_non_null(at);
	at += strlen(start);
	assert_null(strstr(at, start));
	char *value = test_calloc(1, strlen(at) + 1);
	size_t length = 0;
	for (; strncmp(at, "\r\n", 2) != 0; at++) {
		if (*at == '\\')
			at++;
		bool line_break = at[-1] == '\\' && *at == 'n';
		value[length++] = (char)(line_break ? '\n' : *at);
	}
	return value;
}

static size_t
count_of(const char *text, const char *part)
{
	size_t count = 0;
	for (const char *at = text; (at = strstr(at, part)) != NULL; at++)
		count++;
	return count;
}

static void
assert_well_formed_lines(const struct text *text)
{
	const char *at = text->data;
	while (*at != '\0') {
		const char *end = strstr(at, "\r\n");
		assert_non_null(end);
		size_t length = (size_t)(end - at);
		assert_in_range(length, 1, 75);
		assert_null(memchr(at, '\r', length));
		assert_null(memchr(at, '\n', length));
		assert_true(text_is_utf8(at, length));
		at = end + 2;
	}
}

static void
check_folds(const char *filler, size_t before)
{
	struct text raw;
	text_init(&raw, 1000);
	for (size_t i = 0; i < before; i++)
		text_add(&raw, "o");
	while (raw.length < 400)
		text_add(&raw, filler);
	text_add(&raw, ".");
	struct entry entry = sample();
	entry.summary = raw.data;
	struct text text = render(&plain, &entry);
	assert_well_formed_lines(&text);
	unfold(&text);
	char *summary = read_text(&text, "SUMMARY");
	assert_string_equal(summary, raw.data);
	test_free(summary);
	text_release(&text);
	text_release(&raw);
}

/* Some of these end where libical 3.0.16 folds inside a CR LF. */
static void
folds_long_text_between_characters(void **state)
{
	(void)state;
	static const char *const filler[] = { "x", "x ", "\xC3\xA9",
		"\xE2\x82\xAC", "\xF0\x9F\x8C\xB1", "a,", "b;", "\\", "word " };
	for (size_t i = 0; i < sizeof(filler) / sizeof(filler[0]); i++) {
		for (size_t before = 0; before < 90; before++)
			check_folds(filler[i], before);
	}
}

static void
lets_no_text_inject_a_line(void **state)
{
	(void)state;
	const char *evil = "x\r\nBEGIN:VALARM\r\nATTACH:file\nEND:VALARM";
	struct entry entry = sample();
	entry.uid = evil;
	entry.summary = evil;
	entry.description = evil;
	entry.categories[0] = evil;
	entry.alarm[0].text = evil;
	struct text text = render(&plain, &entry);
	assert_well_formed_lines(&text);
	unfold(&text);
	assert_int_equal(count_of(text.data, "\r\nBEGIN:VALARM\r\n"), 1);
	assert_int_equal(count_of(text.data, "\r\nATTACH"), 0);
	text_release(&text);
}

static void
keeps_a_comma_from_making_two_categories(void **state)
{
	(void)state;
	struct entry entry = sample();
	entry.categories[0] = "front, back";
	entry.categories[1] = "\a";
	entry.categories[2] = "a;b";
	struct text text = render(&plain, &entry);
	assert_int_equal(count_of(text.data, "\r\nCATEGORIES:"), 2);
	assert_contains(text.data, "\r\nCATEGORIES:front/ back\r\n");
	assert_contains(text.data, "\r\nCATEGORIES:a/b\r\n");
	text_release(&text);
}

static void
leaves_nothing_to_escape_in_the_old_calendar_name(void **state)
{
	(void)state;
	struct entry entry = sample();
	struct calendar_head awkward = plain;
	awkward.name = "Lawns, front; back\\side\r\nX-EVIL:1";
	awkward.description = "all\nof them";
	struct text text = render(&awkward, &entry);
	assert_contains(
	    text.data, "\r\nNAME:Lawns\\, front\\; back\\\\side X-EVIL:1\r\n");
	assert_contains(
	    text.data, "\r\nX-WR-CALNAME:Lawns- front- back-side X-EVIL:1\r\n");
	assert_contains(text.data, "\r\nDESCRIPTION:all\\nof them\r\n");
	text_release(&text);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(folds_long_text_between_characters),
		cmocka_unit_test(lets_no_text_inject_a_line),
		cmocka_unit_test(keeps_a_comma_from_making_two_categories),
		cmocka_unit_test(
		    leaves_nothing_to_escape_in_the_old_calendar_name),
	};
	int failures = RUN_TESTS(tests);
	calendar_finish();
	return failures;
}
