#include "unit/test.h"

#include "calendar/clean.h"

/* Each raw text and what it is cleaned to, as one line and as lines. */
static const struct {
	const char *raw, *line, *lines;
} cleaned[] = {
	{ "plain", "plain", "plain" },
	{ "a,b;c\\d\"e:f", "a,b;c\\d\"e:f", "a,b;c\\d\"e:f" },
	{ "a\r\nb\rc\nd\n\n", "a b c d", "a\nb\nc\nd" },
	{ "  two \t spaces ", "two spaces", "  two   spaces" },
	{ "bell\a esc\x1b[0m del\x7f.", "bell esc[0m del.",
	    "bell esc[0m del." },
	{ "nel\xC2\x85ls\xE2\x80\xA8ps\xE2\x80\xA9.", "nel ls ps .",
	    "nel\nls\nps\n." },
	{ "c1\xC2\x9B"
	  "31m nbsp\xC2\xA0.",
	    "c131m nbsp\xC2\xA0.", "c131m nbsp\xC2\xA0." },
	{ "non\xEF\xBF\xBE\xEF\xBF\xBF.", "non.", "non." },
	/* overlong slash, surrogate, lone lead and lone continuation byte */
	{ "\xC0\xAF", "\xEF\xBF\xBD\xEF\xBF\xBD", "\xEF\xBF\xBD\xEF\xBF\xBD" },
	{ "\xED\xA0\x80!", "\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD!",
	    "\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD!" },
	{ "cut\xF0\x9F\x8C", "cut\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD",
	    "cut\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD" },
	{ "\x80z", "\xEF\xBF\xBDz", "\xEF\xBF\xBDz" },
	{ "caf\xC3\xA9 \xF0\x9F\x8C\xB1", "caf\xC3\xA9 \xF0\x9F\x8C\xB1",
	    "caf\xC3\xA9 \xF0\x9F\x8C\xB1" },
};

static void
clean_and_compare(const char *raw, enum cleaning how, const char *wanted)
{
	struct text text;
	text_init(&text, 1000);
	assert_true(clean_text(raw, how, &text));
	assert_string_equal(text_string(&text), wanted);
	text_release(&text);
}

static void
cleans_to_one_line_or_to_lines(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof(cleaned) / sizeof(cleaned[0]); i++) {
		clean_and_compare(cleaned[i].raw, CLEAN_LINE, cleaned[i].line);
		clean_and_compare(
		    cleaned[i].raw, CLEAN_LINES, cleaned[i].lines);
	}
}

static void
replaces_what_libical_would_not_escape(void **state)
{
	(void)state;
	const char *raw = "a,b;c\\d";
	clean_and_compare(raw, CLEAN_CATEGORY, "a/b/c\\d");
	clean_and_compare(raw, CLEAN_PLAIN, "a-b-c-d");
	clean_and_compare(raw, CLEAN_LINE, raw);
}

static void
takes_nothing_for_empty(void **state)
{
	(void)state;
	clean_and_compare(NULL, CLEAN_LINE, "");
	clean_and_compare("", CLEAN_LINES, "");
	clean_and_compare(" \t\r\n\a", CLEAN_LINES, "");
	clean_and_compare(" \t\r\n\a", CLEAN_PLAIN, "");
}

static void
replaces_the_last_content(void **state)
{
	(void)state;
	struct text text;
	text_init(&text, 100);
	text_add(&text, "old");
	assert_true(clean_text("new", CLEAN_LINE, &text));
	assert_string_equal(text.data, "new");
	text_release(&text);
}

static void
says_when_the_room_is_too_small(void **state)
{
	(void)state;
	struct text text;
	text_init(&text, 4);
	assert_false(clean_text("\x80\x80", CLEAN_LINE, &text));
	assert_true(text.length <= 4);
	assert_true(clean_text("four", CLEAN_LINE, &text));
	text_release(&text);
}

/* Every pair of bytes: the result is UTF-8 and has no control character. */
static void
leaves_no_control_character_whatever_comes(void **state)
{
	(void)state;
	struct text text;
	text_init(&text, 100);
	for (unsigned i = 0; i < 65536; i++) {
		char raw[4] = { (char)(i >> 8), (char)(i & 0xFF), 'z', 0 };
		assert_true(clean_text(raw, CLEAN_LINE, &text));
		assert_true(text_is_utf8(text.data, text.length));
		for (size_t k = 0; k < text.length; k++) {
			unsigned char byte = (unsigned char)text.data[k];
			assert_true(byte >= 0x20 && byte != 0x7F);
		}
	}
	text_release(&text);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(cleans_to_one_line_or_to_lines),
		cmocka_unit_test(replaces_what_libical_would_not_escape),
		cmocka_unit_test(takes_nothing_for_empty),
		cmocka_unit_test(replaces_the_last_content),
		cmocka_unit_test(says_when_the_room_is_too_small),
		cmocka_unit_test(leaves_no_control_character_whatever_comes),
	};
	return RUN_TESTS(tests);
}
