#include "unit/test.h"

#include "base/text.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

static void
text_grows_and_stays_terminated(void **state)
{
	(void)state;
	struct text text;
	text_init(&text, 100000);
	assert_string_equal(text_string(&text), "");
	for (int i = 0; i < 1000; i++) {
		assert_true(text_add(&text, "ab"));
		assert_true(text_append(&text, "cdXX", 2));
		assert_true(text_format(&text, "%03d;", i));
	}
	assert_int_equal(text.length, 8000);
	assert_int_equal(strlen(text_string(&text)), 8000);
	assert_memory_equal(text_string(&text), "abcd000;abcd001;", 16);
	assert_string_equal(text_string(&text) + 7992, "abcd999;");
	assert_false(text.failed);
	text_release(&text);
}

static void
nul_bytes_are_kept(void **state)
{
	(void)state;
	struct text text;
	text_init(&text, 10);
	assert_true(text_append(&text, "a\0b", 3));
	assert_int_equal(text.length, 3);
	assert_memory_equal(text.data, "a\0b", 4);
	text_release(&text);
}

/* The ceiling is the most bytes that fit, not the first that do not. */
static void
text_fills_up_to_its_ceiling(void **state)
{
	(void)state;
	struct text text;
	text_init(&text, 10);
	assert_true(text_add(&text, "12345"));
	assert_true(text_format(&text, "%d", 67890));
	assert_true(text_append(&text, "x", 0));
	assert_string_equal(text_string(&text), "1234567890");
	assert_false(text.failed);
	text_release(&text);
}

static bool
append_two(struct text *text)
{
	return text_append(text, "ab", 2);
}

static bool
add_two(struct text *text)
{
	return text_add(text, "ab");
}

static bool
format_two(struct text *text)
{
	return text_format(text, "%c%c", 'a', 'b');
}

static void
a_step_over_the_ceiling_changes_nothing_more(void **state)
{
	(void)state;
	bool (*const ways[])(
	    struct text *) = { append_two, add_two, format_two };
	for (size_t i = 0; i < COUNT(ways); i++) {
		struct text text;
		text_init(&text, 5);
		assert_true(text_add(&text, "1234"));
		assert_false(ways[i](&text));
		assert_true(text.failed);
		assert_string_equal(text_string(&text), "1234");
		/* nothing is let in afterwards, not even what would fit */
		assert_false(text_add(&text, "5"));
		assert_false(text_append(&text, "5", 1));
		assert_false(text_format(&text, "%d", 5));
		assert_false(text_add(&text, ""));
		assert_string_equal(text_string(&text), "1234");
		assert_int_equal(text.length, 4);
		text_release(&text);
	}
}

static void
an_absurd_length_is_refused(void **state)
{
	(void)state;
	struct text text;
	text_init(&text, 100);
	assert_true(text_add(&text, "x"));
	assert_false(text_append(&text, "y", SIZE_MAX));
	assert_true(text.failed);
	assert_string_equal(text_string(&text), "x");
	text_release(&text);
}

static void
cleared_text_begins_again(void **state)
{
	(void)state;
	struct text text;
	text_init(&text, 4);
	assert_true(text_add(&text, "abcd"));
	assert_false(text_add(&text, "e"));
	text_clear(&text);
	assert_false(text.failed);
	assert_int_equal(text.length, 0);
	assert_string_equal(text_string(&text), "");
	assert_true(text_add(&text, "wxyz"));
	assert_string_equal(text_string(&text), "wxyz");
	text_release(&text);
	struct text fresh;
	text_init(&fresh, 4);
	text_clear(&fresh);
	assert_string_equal(text_string(&fresh), "");
}

static void
released_text_can_be_used_again(void **state)
{
	(void)state;
	struct text text = { 0 };
	text_release(NULL);
	text_release(&text); /* a zeroed one */
	assert_false(text_add(&text, "x"));
	assert_string_equal(text_string(&text), "");
	text_init(&text, 3);
	assert_true(text_add(&text, "abc"));
	text_release(&text);
	text_release(&text);
	assert_int_equal(text.length, 0);
	assert_true(text_add(&text, "def"));
	assert_string_equal(text_string(&text), "def");
	text_release(&text);
}

struct sequence {
	const char *bytes;
	bool good;
};

/* RFC 3629, sections 3 and 4: the syntax and what it leaves out. */
static const struct sequence sequences[] = {
	{ "", true }, { "plain", true }, { "\x01\x1f\x7f", true },
	{ "\xc2\x80", true },         /* U+0080, the first of two bytes */
	{ "\xdf\xbf", true },         /* U+07FF, the last */
	{ "\xe0\xa0\x80", true },     /* U+0800 */
	{ "\xed\x9f\xbf", true },     /* U+D7FF, before the surrogates */
	{ "\xee\x80\x80", true },     /* U+E000, behind them */
	{ "\xef\xbf\xbf", true },     /* U+FFFF */
	{ "\xf0\x90\x80\x80", true }, /* U+10000 */
	{ "\xf4\x8f\xbf\xbf", true }, /* U+10FFFF, the last of all */
	{ "85 \xc2\xb0"
	  "F",
	    true },
	{ "\xc0\x80", false },                 /* overlong U+0000 */
	{ "\xc0\xaf", false },                 /* overlong '/' */
	{ "\xc1\xbf", false },                 /* overlong U+007F */
	{ "\xe0\x80\xaf", false },             /* overlong '/' in three */
	{ "\xe0\x9f\xbf", false },             /* overlong U+07FF */
	{ "\xf0\x80\x80\xaf", false },         /* overlong '/' in four */
	{ "\xf0\x8f\xbf\xbf", false },         /* overlong U+FFFF */
	{ "\xed\xa0\x80", false },             /* U+D800 */
	{ "\xed\xaf\xbf", false },             /* U+DBFF */
	{ "\xed\xb0\x80", false },             /* U+DC00 */
	{ "\xed\xbf\xbf", false },             /* U+DFFF */
	{ "\xed\xa0\x80\xed\xb0\x80", false }, /* a pair of them */
	{ "\xf4\x90\x80\x80", false },         /* U+110000 */
	{ "\xf5\x80\x80\x80", false },
	{ "\xf8\x88\x80\x80\x80", false }, /* five bytes */
	{ "\xfc\x84\x80\x80\x80\x80", false }, { "\xfe", false },
	{ "\xff", false }, { "\x80", false },  /* a continuation alone */
	{ "a\xbf", false }, { "\xc3", false }, /* cut off */
	{ "\xe2\x82", false }, { "\xf0\x9f\x8c", false }, { "\xc3(", false },
	{ "\xe2(\xa1", false }, { "\xe2\x82(", false },
	{ "\xf0\x9f\x8c(", false }, { "\xc3\xc3\xa9", false },
	{ "caf\xe9", false }, /* Latin-1 */
};

static void
utf8_is_what_rfc_3629_says(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(sequences); i++) {
		const struct sequence *row = &sequences[i];
		char around[32];
		int length =
		    snprintf(around, sizeof around, "ab%scd", row->bytes);
		if (text_is_utf8(row->bytes, strlen(row->bytes)) != row->good)
			fail_msg("row %zu alone", i);
		if (text_is_utf8(around, (size_t)length) != row->good)
			fail_msg("row %zu in the middle", i);
	}
}

/* Every code point, written by the other formula. */
static void
every_code_point_but_the_surrogates_is_utf8(void **state)
{
	(void)state;
	for (unsigned long point = 1; point <= 0x110000; point++) {
		char bytes[4] = { (char)(0xF0 | point >> 18),
			(char)(0x80 | (point >> 12 & 0x3F)),
			(char)(0x80 | (point >> 6 & 0x3F)),
			(char)(0x80 | (point & 0x3F)) };
		size_t skip = 0;
		if (point < 0x80) {
			skip = 3;
			bytes[3] = (char)point;
		} else if (point < 0x800) {
			skip = 2;
			bytes[2] = (char)(0xC0 | point >> 6);
		} else if (point < 0x10000) {
			skip = 1;
			bytes[1] = (char)(0xE0 | point >> 12);
		}
		bool wanted =
		    point <= 0x10FFFF && (point < 0xD800 || point > 0xDFFF);
		if (text_is_utf8(bytes + skip, 4 - skip) != wanted)
			fail_msg("U+%04lX", point);
	}
}

static void
a_nul_is_not_text(void **state)
{
	(void)state;
	assert_false(text_is_utf8("", 1));
	assert_false(text_is_utf8("a\0b", 3));
	assert_true(text_is_utf8("a\0b", 1));
	/* never looks behind the length */
	assert_false(text_is_utf8("\xc3\xa9", 1));
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(text_grows_and_stays_terminated),
		cmocka_unit_test(nul_bytes_are_kept),
		cmocka_unit_test(text_fills_up_to_its_ceiling),
		cmocka_unit_test(a_step_over_the_ceiling_changes_nothing_more),
		cmocka_unit_test(an_absurd_length_is_refused),
		cmocka_unit_test(cleared_text_begins_again),
		cmocka_unit_test(released_text_can_be_used_again),
		cmocka_unit_test(utf8_is_what_rfc_3629_says),
		cmocka_unit_test(every_code_point_but_the_surrogates_is_utf8),
		cmocka_unit_test(a_nul_is_not_text),
	};
	return RUN_TESTS(tests);
}
