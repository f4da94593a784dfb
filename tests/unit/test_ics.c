#include "unit/test.h"

#include "base/limits.h"
#include "calendar/entry.h"

static const struct calendar_head head = {
	.name = "Spray windows", .refresh = 3600, .revised = 1772434800
};

/* 2026-03-02 07:00 UTC to 09:30, revised the day before at 12:00. */
static struct entry
sample(void)
{
	return (struct entry){ .uid = "slot-1",
		.sequence = 2,
		.revised = 1772366400,
		.from = 1772434800,
		.to = 1772443800,
		.summary = "GO: front lawn",
		.description = "Dry until noon\nWind 5 mph\n",
		.categories = { "GO", "front" },
		.status = ENTRY_CONFIRMED,
		.has_place = true,
		.latitude = 29.5,
		.longitude = -98.25,
		.alarm = { { .before = 3600, .text = "in an hour" } },
		.alarm_count = 1 };
}

static struct text
render_under(
    const struct calendar_head *any, const struct entry *entries, size_t count)
{
	struct text text;
	struct error error = { 0 };
	text_init(&text, LIMIT_CALENDAR_BYTES);
	if (!calendar_write(any, entries, count, &text, &error))
		fail_msg("%s", error.text);
	return text;
}

static struct text
render(const struct entry *entries, size_t count)
{
	return render_under(&head, entries, count);
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
writes_a_timed_entry_byte_for_byte(void **state)
{
	(void)state;
	struct entry entry = sample();
	struct text text = render(&entry, 1);
	assert_string_equal(text.data,
	    "BEGIN:VCALENDAR\r\n"
	    "VERSION:2.0\r\n"
	    "PRODID:-//lull//spray windows//EN\r\n"
	    "NAME:Spray windows\r\n"
	    "X-WR-CALNAME:Spray windows\r\n"
	    "REFRESH-INTERVAL;VALUE=DURATION:PT1H\r\n"
	    "X-PUBLISHED-TTL:PT1H\r\n"
	    "LAST-MODIFIED:20260302T070000Z\r\n"
	    "BEGIN:VEVENT\r\n"
	    "UID:slot-1\r\n"
	    "DTSTAMP:20260301T120000Z\r\n"
	    "LAST-MODIFIED:20260301T120000Z\r\n"
	    "SEQUENCE:2\r\n"
	    "DTSTART:20260302T070000Z\r\n"
	    "DTEND:20260302T093000Z\r\n"
	    "SUMMARY:GO: front lawn\r\n"
	    "DESCRIPTION:Dry until noon\\nWind 5 mph\r\n"
	    "STATUS:CONFIRMED\r\n"
	    "TRANSP:TRANSPARENT\r\n"
	    "CATEGORIES:GO\r\n"
	    "CATEGORIES:front\r\n"
	    "GEO:29.500000;-98.250000\r\n"
	    "BEGIN:VALARM\r\n"
	    "UID:slot-1-a1\r\n"
	    "ACTION:DISPLAY\r\n"
	    "DESCRIPTION:in an hour\r\n"
	    "TRIGGER:-PT1H\r\n"
	    "END:VALARM\r\n"
	    "END:VEVENT\r\n"
	    "END:VCALENDAR\r\n");
	text_release(&text);
}

static void
writes_an_all_day_entry_as_dates(void **state)
{
	(void)state;
	struct entry entry = { .uid = "note-1",
		.revised = 1772366400,
		.all_day = true,
		.from = 20515, /* 2026-03-03 */
		.to = 20516,
		.summary = "Look at the weeds" };
	struct text text = render(&entry, 1);
	assert_contains(text.data, "\r\nDTSTART;VALUE=DATE:20260303\r\n");
	assert_contains(text.data, "\r\nDTEND;VALUE=DATE:20260304\r\n");
	assert_contains(text.data, "\r\nSTATUS:TENTATIVE\r\n");
	static const char *const absent[] = { "DESCRIPTION", "GEO",
		"CATEGORIES", "VALARM", "METHOD" };
	for (size_t i = 0; i < sizeof(absent) / sizeof(absent[0]); i++)
		assert_null(strstr(text.data, absent[i]));
	text_release(&text);
}

static void
gives_the_same_bytes_for_the_same_entries(void **state)
{
	(void)state;
	struct entry entries[2] = { sample(), sample() };
	entries[1].uid = "slot-2";
	struct text first = render(entries, 2);
	struct text second = render(entries, 2);
	assert_string_equal(first.data, second.data);
	assert_int_equal(count_of(first.data, "BEGIN:VEVENT"), 2);
	text_release(&first);
	text_release(&second);
}

static void
writes_a_calendar_without_entries(void **state)
{
	(void)state;
	struct text text = render(NULL, 0);
	assert_int_equal(count_of(text.data, "BEGIN:"), 1);
	assert_contains(text.data, "\r\nEND:VCALENDAR\r\n");
	text_release(&text);
}

static void
appends_after_what_is_there(void **state)
{
	(void)state;
	struct text text;
	text_init(&text, LIMIT_CALENDAR_BYTES);
	text_add(&text, "before\r\n");
	assert_true(calendar_write(&head, NULL, 0, &text, NULL));
	assert_int_equal(strncmp(text.data, "before\r\nBEGIN:", 14), 0);
	text_release(&text);
}

static void
leaves_out_what_the_head_does_not_say(void **state)
{
	(void)state;
	struct calendar_head bare = { .name = NULL };
	struct text text = render_under(&bare, NULL, 0);
	assert_string_equal(text.data, "BEGIN:VCALENDAR\r\n"
				       "VERSION:2.0\r\n"
				       "PRODID:-//lull//spray windows//EN\r\n"
				       "END:VCALENDAR\r\n");
	text_release(&text);
}

static void
gives_each_alarm_an_identity_and_a_text(void **state)
{
	(void)state;
	struct entry entry = sample();
	entry.alarm_count = 3;
	entry.alarm[0] = (struct entry_alarm){ 86400, "tomorrow" };
	entry.alarm[1] = (struct entry_alarm){ 5400, NULL };
	entry.alarm[2] = (struct entry_alarm){ 0, "\n" };
	struct text text = render(&entry, 1);
	assert_contains(text.data,
	    "UID:slot-1-a1\r\nACTION:DISPLAY\r\nDESCRIPTION:tomorrow\r\n"
	    "TRIGGER:-P1D\r\n");
	assert_contains(text.data,
	    "UID:slot-1-a2\r\nACTION:DISPLAY\r\n"
	    "DESCRIPTION:GO: front lawn\r\nTRIGGER:-PT1H30M\r\n");
	assert_contains(text.data,
	    "UID:slot-1-a3\r\nACTION:DISPLAY\r\n"
	    "DESCRIPTION:GO: front lawn\r\nTRIGGER:PT0S\r\n");
	text_release(&text);
}

static const struct {
	const char *complaint;
	struct entry entry;
} refused[] = {
	{ "entry 2 has no uid", { .to = 1, .summary = "s" } },
	{ "entry 2 has no uid", { .to = 1, .uid = " \a\r\n", .summary = "s" } },
	{ "\"u\" has no summary", { .to = 1, .uid = "u" } },
	{ "\"u\" has no summary", { .to = 1, .uid = "u", .summary = "\x1b" } },
	{ "\"u\" does not end after its start",
	    { .from = 1, .to = 1, .uid = "u", .summary = "s" } },
	{ "\"u\" has a time outside the years 1 to 9999",
	    { .to = 253402300800, .uid = "u", .summary = "s" } },
	{ "\"u\" has a time outside the years 1 to 9999",
	    { .all_day = true, .to = 2932897, .uid = "u", .summary = "s" } },
	{ "\"u\" has a time outside the years 1 to 9999",
	    { .revised = INT64_MIN, .to = 1, .uid = "u", .summary = "s" } },
	{ "\"u\" has a sequence below 0",
	    { .sequence = -1, .to = 1, .uid = "u", .summary = "s" } },
	{ "\"u\" has a place that is not on the earth", { .to = 1,
							    .uid = "u",
							    .summary = "s",
							    .has_place = true,
							    .latitude = NAN } },
	{ "\"u\" has a place that is not on the earth",
	    { .to = 1,
		.uid = "u",
		.summary = "s",
		.has_place = true,
		.longitude = 180.5 } },
	{ "\"u\" has too many alarms or one after its start",
	    { .to = 1,
		.uid = "u",
		.summary = "s",
		.alarm_count = 1,
		.alarm = { { -1, "late" } } } },
	{ "\"u\" has too many alarms or one after its start",
	    { .to = 1,
		.uid = "u",
		.summary = "s",
		.alarm_count = ENTRY_ALARMS_MAX + 1 } },
};

static void
check_refusal(const struct calendar_head *any, const struct entry *entry,
    const char *complaint)
{
	struct entry entries[2] = { sample(), *entry };
	struct text text;
	struct error error = { 0 };
	text_init(&text, LIMIT_CALENDAR_BYTES);
	text_add(&text, "kept");
	assert_false(calendar_write(any, entries, 2, &text, &error));
	assert_int_equal(error.kind, ERROR_INPUT);
	assert_contains(error.text, complaint);
	assert_string_equal(text.data, "kept");
	assert_false(text.failed);
	text_release(&text);
}

static void
names_the_entry_it_refuses_and_leaves_output_alone(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof(refused) / sizeof(refused[0]); i++)
		check_refusal(&head, &refused[i].entry, refused[i].complaint);
}

static void
refuses_a_head_out_of_time(void **state)
{
	(void)state;
	struct calendar_head bad = head;
	struct entry entry = sample();
	bad.revised = INT64_MAX;
	check_refusal(&bad, &entry, "the calendar's revision is outside");
}

static void
keeps_a_full_output_as_it_was(void **state)
{
	(void)state;
	struct entry entry = sample();
	struct text text;
	struct error error = { 0 };
	text_init(&text, 100);
	text_add(&text, "kept");
	assert_false(calendar_write(&head, &entry, 1, &text, &error));
	assert_int_equal(error.kind, ERROR_SYSTEM);
	assert_contains(error.text, "larger than 100 bytes");
	assert_string_equal(text.data, "kept");
	text_release(&text);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(writes_a_timed_entry_byte_for_byte),
		cmocka_unit_test(writes_an_all_day_entry_as_dates),
		cmocka_unit_test(gives_the_same_bytes_for_the_same_entries),
		cmocka_unit_test(writes_a_calendar_without_entries),
		cmocka_unit_test(appends_after_what_is_there),
		cmocka_unit_test(leaves_out_what_the_head_does_not_say),
		cmocka_unit_test(gives_each_alarm_an_identity_and_a_text),
		cmocka_unit_test(
		    names_the_entry_it_refuses_and_leaves_output_alone),
		cmocka_unit_test(refuses_a_head_out_of_time),
		cmocka_unit_test(keeps_a_full_output_as_it_was),
	};
	int failures = RUN_TESTS(tests);
	calendar_finish();
	return failures;
}
