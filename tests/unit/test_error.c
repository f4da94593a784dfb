#include "unit/test.h"

#include "base/error.h"
#include "base/text.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

enum { ROOM = sizeof((struct error *)0)->text - 1 };

static void
a_sentence_is_set_with_its_kind(void **state)
{
	(void)state;
	struct error error = { 0 };
	assert_false(
	    error_set(&error, ERROR_ANSWER, "there is no waiting job %d", 7));
	assert_int_equal(error.kind, ERROR_ANSWER);
	assert_string_equal(error.text, "there is no waiting job 7");
	assert_false(error_set(&error, ERROR_SYSTEM, "%s", ""));
	assert_int_equal(error.kind, ERROR_SYSTEM);
	assert_string_equal(error.text, "");
}

static void
the_kinds_are_exit_codes(void **state)
{
	(void)state;
	assert_int_equal(ERROR_NONE, 0);
	assert_int_equal(ERROR_ANSWER, 1);
	assert_int_equal(ERROR_INPUT, 2);
	assert_int_equal(ERROR_SYSTEM, 3);
}

static void
context_goes_in_front(void **state)
{
	(void)state;
	struct error error = { 0 };
	(void)error_set(&error, ERROR_INPUT, "'12 hours of' is no span");
	assert_false(error_prefix(&error, "%s", "rain-free"));
	assert_false(error_prefix(&error, "%s:%d", "lull.conf", 31));
	assert_int_equal(error.kind, ERROR_INPUT);
	assert_string_equal(
	    error.text, "lull.conf:31: rain-free: '12 hours of' is no span");
}

/* A sentence may be its own context's argument. */
static void
context_may_quote_the_sentence(void **state)
{
	(void)state;
	struct error error = { 0 };
	(void)error_set(&error, ERROR_INPUT, "b");
	(void)error_prefix(&error, "a(%s)", error.text);
	assert_string_equal(error.text, "a(b): b");
}

static void
no_error_is_needed(void **state)
{
	(void)state;
	assert_false(error_set(NULL, ERROR_INPUT, "%d", 1));
	assert_false(error_prefix(NULL, "%d", 1));
}

static void
too_long_a_sentence_is_cut(void **state)
{
	(void)state;
	struct error error = { 0 };
	char many[2 * ROOM + 1];
	memset(many, 'x', sizeof many - 1);
	many[sizeof many - 1] = '\0';
	(void)error_set(&error, ERROR_INPUT, "%s", many);
	assert_int_equal(strlen(error.text), ROOM);
	(void)error_set(&error, ERROR_INPUT, "%s", "the end");
	(void)error_prefix(&error, "%s", many);
	assert_int_equal(strlen(error.text), ROOM);
	(void)error_set(&error, ERROR_INPUT, "%s", many);
	(void)error_prefix(&error, "front");
	assert_int_equal(strlen(error.text), ROOM);
	assert_memory_equal(error.text, "front: xxx", 10);
}

/*
 * Letters of one to four bytes pushed over the end byte by byte: what is left
 * is whole letters, and no more is lost than the one that did not fit.
 */
static void
a_cut_never_splits_a_letter(void **state)
{
	(void)state;
	static const char *const letters[] = { "x", "\xc3\xa9", "\xe2\x82\xac",
		"\xf0\x9f\x8c\xb1" };
	for (size_t i = 0; i < COUNT(letters); i++)
		for (size_t lead = 0; lead < 8; lead++) {
			size_t size = strlen(letters[i]);
			char many[2 * ROOM];
			memset(many, 'a', lead);
			size_t used = lead;
			for (; used + size < sizeof many; used += size)
				memcpy(many + used, letters[i], size);
			many[used] = '\0';
			struct error set = { 0 }, put = { 0 }, far = { 0 };
			(void)error_set(&set, ERROR_INPUT, "%s", many);
			(void)error_set(&put, ERROR_INPUT, "%s", "tail");
			(void)error_prefix(&put, "%s", many);
			(void)error_set(&far, ERROR_INPUT, "%s", many);
			(void)error_prefix(&far, "front");
			const struct error *const all[] = { &set, &put, &far };
			for (size_t e = 0; e < COUNT(all); e++) {
				size_t length = strlen(all[e]->text);
				assert_true(text_is_utf8(all[e]->text, length));
				assert_true(length > ROOM - size);
			}
		}
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_sentence_is_set_with_its_kind),
		cmocka_unit_test(the_kinds_are_exit_codes),
		cmocka_unit_test(context_goes_in_front),
		cmocka_unit_test(context_may_quote_the_sentence),
		cmocka_unit_test(no_error_is_needed),
		cmocka_unit_test(too_long_a_sentence_is_cut),
		cmocka_unit_test(a_cut_never_splits_a_letter),
	};
	return RUN_TESTS(tests);
}
