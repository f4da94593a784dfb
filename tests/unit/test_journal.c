#include "unit/test.h"

#include "base/limits.h"
#include "calendar/journal.h"

static const struct calendar_head head = { .name = "Spray records" };

/* Sprayed 2026-03-10 13:00 UTC, written down at 14:00. */
static struct journal
sample(void)
{
	return (struct journal){ .uid = "record-1773151200-1",
		.from = 1773147600,
		.created = 1773151200,
		.summary = "front: warm 9 fl oz",
		.description = "wind 5 mph measured\nnote: dry, calm\n",
		.categories = { "RECORD", "front" } };
}

static struct text
render(const struct journal *journals, size_t count)
{
	struct text text;
	struct error error = { 0 };
	text_init(&text, LIMIT_CALENDAR_BYTES);
	if (!journal_write(&head, journals, count, &text, &error))
		fail_msg("%s", error.text);
	return text;
}

static void
writes_a_journal_byte_for_byte(void **state)
{
	(void)state;
	const struct journal journal = sample();
	struct text text = render(&journal, 1);
	assert_string_equal(text.data,
	    "BEGIN:VCALENDAR\r\n"
	    "VERSION:2.0\r\n"
	    "PRODID:-//lull//spray windows//EN\r\n"
	    "NAME:Spray records\r\n"
	    "X-WR-CALNAME:Spray records\r\n"
	    "LAST-MODIFIED:20260310T140000Z\r\n"
	    "BEGIN:VJOURNAL\r\n"
	    "UID:record-1773151200-1\r\n"
	    "DTSTAMP:20260310T140000Z\r\n"
	    "LAST-MODIFIED:20260310T140000Z\r\n"
	    "SEQUENCE:0\r\n"
	    "CREATED:20260310T140000Z\r\n"
	    "DTSTART:20260310T130000Z\r\n"
	    "SUMMARY:front: warm 9 fl oz\r\n"
	    "DESCRIPTION:wind 5 mph measured\\nnote: dry\\, calm\r\n"
	    "STATUS:FINAL\r\n"
	    "CATEGORIES:RECORD\r\n"
	    "CATEGORIES:front\r\n"
	    "END:VJOURNAL\r\n"
	    "END:VCALENDAR\r\n");
	text_release(&text);
}

static void
cancels_what_was_replaced_and_names_the_other(void **state)
{
	(void)state;
	struct journal journals[2] = { sample(), sample() };
	journals[0].replaced_by = "record-1773237600-2";
	journals[0].replaced = 1773237600;
	journals[1].uid = "record-1773237600-2";
	journals[1].created = 1773237600;
	struct text text = render(journals, 2);
	assert_contains(text.data, "UID:record-1773151200-1\r\n"
				   "DTSTAMP:20260311T140000Z\r\n"
				   "LAST-MODIFIED:20260311T140000Z\r\n"
				   "SEQUENCE:1\r\n"
				   "CREATED:20260310T140000Z\r\n");
	assert_contains(text.data, "STATUS:CANCELLED\r\n");
	assert_contains(
	    text.data, "RELATED-TO;RELTYPE=SIBLING:record-1773237600-2\r\n");
	const char *second = strstr(text.data, "UID:record-1773237600-2");
	assert_non_null(second);
	assert_contains(second, "STATUS:FINAL\r\n");
	assert_null(strstr(second, "RELATED-TO"));
	/* the calendar is as young as its youngest part */
	assert_contains(text.data, "X-WR-CALNAME:Spray records\r\n"
				   "LAST-MODIFIED:20260311T140000Z\r\n");
	text_release(&text);
}

static void
writes_no_journals_as_an_empty_calendar(void **state)
{
	(void)state;
	struct text text = render(NULL, 0);
	assert_null(strstr(text.data, "VJOURNAL"));
	assert_null(strstr(text.data, "LAST-MODIFIED"));
	text_release(&text);
}

static void
cleans_every_text(void **state)
{
	(void)state;
	struct journal journal = sample();
	journal.summary = "front\nEND:VJOURNAL\x07: warm";
	journal.description = "not UTF-8 \xE9; \x1b[2J\r\nsecond";
	journal.categories[1] = "front, back; side";
	struct text text = render(&journal, 1);
	assert_contains(text.data, "SUMMARY:front END:VJOURNAL: warm\r\n");
	assert_contains(text.data,
	    "DESCRIPTION:not UTF-8 \xEF\xBF\xBD\\; [2J\\nsecond\r\n");
	assert_contains(text.data, "CATEGORIES:front/ back/ side\r\n");
	text_release(&text);
}

static void
folds_long_lines_between_characters(void **state)
{
	(void)state;
	char long_text[601] = "";
	struct journal journal = sample();
	for (size_t i = 0; i < 300; i++)
		memcpy(long_text + 2 * i, "\xC3\xBC", 3);
	journal.description = long_text;
	struct text text = render(&journal, 1);
	size_t column = 0, longest = 0;
	for (const char *at = text.data; *at != '\0'; at++) {
		column = *at == '\n' ? 0 : column + 1;
		longest = column > longest ? column : longest;
		if (strncmp(at, "\r\n ", 3) == 0)
			assert_int_not_equal(at[3] & 0xC0, 0x80);
	}
	/* 75 octets and the CR */
	assert_int_equal(longest, 76);
	text_release(&text);
}

static void
refuses_what_no_calendar_can_say(void **state)
{
	(void)state;
	struct journal faulty[6];
	static const char *const sentence[] = { "has no uid", "has no summary",
		"outside the years", "outside the years", "outside the years",
		"replaced by one without a uid" };
	for (size_t i = 0; i < 6; i++)
		faulty[i] = sample();
	faulty[0].uid = " \n";
	faulty[1].summary = "\x07";
	faulty[2].from = INT64_MAX;
	faulty[3].created = INT64_MIN;
	faulty[4].replaced_by = "record-2";
	faulty[4].replaced = INT64_MAX;
	faulty[5].replaced_by = "";
	for (size_t i = 0; i < 6; i++) {
		const struct journal journals[2] = { sample(), faulty[i] };
		struct error error = { 0 };
		struct text text;
		text_init(&text, LIMIT_CALENDAR_BYTES);
		text_add(&text, "before");
		assert_false(journal_write(&head, journals, 2, &text, &error));
		assert_int_equal(error.kind, ERROR_INPUT);
		assert_contains(error.text, sentence[i]);
		assert_string_equal(text.data, "before");
		text_release(&text);
	}
}

static void
leaves_a_full_text_as_it_was(void **state)
{
	(void)state;
	const struct journal journal = sample();
	struct error error = { 0 };
	struct text text;
	text_init(&text, 100);
	text_add(&text, "before");
	assert_false(journal_write(&head, &journal, 1, &text, &error));
	assert_int_equal(error.kind, ERROR_SYSTEM);
	assert_string_equal(text.data, "before");
	assert_false(text.failed);
	text_release(&text);
}

static int
finish(void **state)
{
	(void)state;
	calendar_finish();
	return 0;
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(writes_a_journal_byte_for_byte),
		cmocka_unit_test(cancels_what_was_replaced_and_names_the_other),
		cmocka_unit_test(writes_no_journals_as_an_empty_calendar),
		cmocka_unit_test(cleans_every_text),
		cmocka_unit_test(folds_long_lines_between_characters),
		cmocka_unit_test(refuses_what_no_calendar_can_say),
		cmocka_unit_test(leaves_a_full_text_as_it_was),
	};
	return cmocka_run_group_tests_name(__FILE__, tests, NULL, finish);
}
