/*
 * Thirty-two shapes of label rules, tests/data/cards/patterns.conf, and what
 * they expand to, patterns.expected beside it. Where each shape was met stands
 * with its card.
 */
#include "unit/test.h"

#include "base/file.h"
#include "base/limits.h"
#include "unit/card_print.h"

enum { PATTERNS = 32 };

static const char *
path_of(const char *name, char path[1024])
{
	const char *folder = getenv("srcdir");
	(void)snprintf(path, 1024, "%s/tests/data/cards/%s",
	    folder == NULL ? "." : folder, name);
	return path;
}

struct patterns {
	struct config config;
	struct text complaints;
};

static struct patterns
read_patterns(void)
{
	char path[1024];
	struct patterns patterns = { 0 };
	text_init(&patterns.complaints, LIMIT_OUTPUT_BYTES);
	if (!config_read(path_of("patterns.conf", path), &patterns.config,
		&patterns.complaints))
		fail_msg("%s", text_string(&patterns.complaints));
	return patterns;
}

static void
release_patterns(struct patterns *patterns)
{
	config_release(&patterns->config);
	text_release(&patterns->complaints);
}

/* The first line that differs, so that a failure can be read. */
static void
assert_same_lines(const char *got, const char *wanted)
{
	int line = 1;
	while (*got != '\0' || *wanted != '\0') {
		size_t a = strcspn(got, "\n"), b = strcspn(wanted, "\n");
		if (a != b || memcmp(got, wanted, a) != 0)
			fail_msg("line %d is\n%.*s\nwanted\n%.*s", line, (int)a,
			    got, (int)b, wanted);
		got += a + (got[a] == '\n' ? 1 : 0);
		wanted += b + (wanted[b] == '\n' ? 1 : 0);
		line++;
	}
}

static void
every_pattern_expands_as_it_is_written_down(void **state)
{
	(void)state;
	char path[1024];
	struct patterns patterns = read_patterns();
	struct text got, wanted;
	text_init(&got, LIMIT_OUTPUT_BYTES);
	text_init(&wanted, LIMIT_OUTPUT_BYTES);
	assert_int_equal(patterns.config.product_count, PATTERNS);
	for (size_t i = 0; i < patterns.config.product_count; i++)
		print_card(&got, &patterns.config.products[i]);
	assert_true(
	    file_read(path_of("patterns.expected", path), &wanted, NULL));
	assert_same_lines(text_string(&got), text_string(&wanted));
	text_release(&got);
	text_release(&wanted);
	release_patterns(&patterns);
}

/* The number in front of its name says which shape it is. */
static void
the_patterns_are_numbered_and_leave_nothing_out(void **state)
{
	(void)state;
	struct patterns patterns = read_patterns();
	for (size_t i = 0; i < patterns.config.product_count; i++) {
		const struct product *product = &patterns.config.products[i];
		char *end;
		assert_int_equal(strtol(product->name, &end, 10), i + 1);
		assert_int_equal(*end, '-');
		if (product->missing_count > 0)
			fail_msg("%s says nothing of its %s", product->name,
			    product->missing[0]);
		assert_int_equal(product->kind, PRODUCT_HERBICIDE);
	}
	release_patterns(&patterns);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(every_pattern_expands_as_it_is_written_down),
		cmocka_unit_test(
		    the_patterns_are_numbered_and_leave_nothing_out),
	};
	return RUN_TESTS(tests);
}
