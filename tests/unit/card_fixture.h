/* Rows of short names, what is typed behind them, and the rules they give. */
#ifndef TESTS_UNIT_CARD_FIXTURE_H
#define TESTS_UNIT_CARD_FIXTURE_H

#include "unit/test.h"

#include "base/limits.h"
#include "config/cards.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

enum { HOUR = 3600, DAY = 86400, ROWS_VALUES = 3 };

#define DURING                                                                 \
	{                                                                      \
		{ ANCHOR_START, 0 },                                           \
		{                                                              \
			ANCHOR_END, 0                                          \
		}                                                              \
	}

/* May not be there at all. */
#define NOT(what)                                                              \
	{                                                                      \
		.measure = (what), .fold = FOLD_ANY, .exposure = DURING,       \
		.bound = BOUND_AT_MOST                                         \
	}

struct row {
	const char *name;
	const char *values[ROWS_VALUES];
	int count; /* of rules; -1: refused */
	struct rule rule[CARD_RULES_MAX];
};

static inline int
expand(struct arena *arena, const char *name, const char *const *values,
    struct rule *ret, struct error *error)
{
	const struct setting *setting = setting_find(PLACE_PRODUCT, name);
	struct said said[ROWS_VALUES] = { 0 };
	size_t count = 0;
	assert_non_null(setting);
	for (; count < ROWS_VALUES && values[count] != NULL; count++)
		said[count].value = values[count];
	return card_expand(arena, setting, said, count, ret, error);
}

static inline void
check_rule(
    const struct row *row, const struct rule *rule, const struct rule *wanted)
{
	if (rule->measure != wanted->measure || rule->fold != wanted->fold ||
	    rule->bound != wanted->bound ||
	    rule->is_volume != wanted->is_volume ||
	    !exposure_same(&rule->exposure, &wanted->exposure))
		fail_msg(
		    "%s = %s is another sentence", row->name, row->values[0]);
	assert_close(rule->limit, wanted->limit, 1e-9);
	assert_string_equal(rule->name, row->name);
	if (wanted->subject == NULL)
		assert_null(rule->subject);
	else
		assert_string_equal(rule->subject, wanted->subject);
	/* left to the caller, but never dangling */
	assert_string_equal(rule->owner, "");
	assert_string_equal(rule->source, "");
	assert_null(rule->wording);
}

static inline void
check_rows(const struct row *rows, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		const struct row *row = &rows[i];
		struct rule rules[CARD_RULES_MAX] = { 0 };
		struct error error = { 0 };
		struct arena arena = { 0 };
		int got = expand(&arena, row->name, row->values, rules, &error);
		if (got != row->count)
			fail_msg("%s = %s gives %d: %s", row->name,
			    row->values[0], got, error.text);
		for (int r = 0; r < got; r++)
			check_rule(row, &rules[r], &row->rule[r]);
		assert_int_equal(
		    error.kind, got < 0 ? ERROR_INPUT : ERROR_NONE);
		arena_release(&arena);
	}
}

#endif
