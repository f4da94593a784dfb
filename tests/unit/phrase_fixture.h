/* Rows of rules, what was found, and the exact sentences about them. */
#ifndef TESTS_UNIT_PHRASE_FIXTURE_H
#define TESTS_UNIT_PHRASE_FIXTURE_H

#include "unit/test.h"

#include "advice/reason.h"
#include "base/limits.h"
#include "unit/heart.h"

struct sentence {
	struct rule rule;
	enum verdict verdict;
	double value, margin, rain, chance;
	const char *rule_text, *shortly, *why, *how_far; /* US units */
	const char *why_metric, *how_far_metric;         /* NULL: the same */
};

#define F(degrees)   (((degrees)-32) / 1.8)
#define MPH(miles)   ((miles)*0.44704)
#define NO_RAIN_DATA NAN, NAN
#define NONE_OF(what)                                                          \
	{                                                                      \
		.measure = (what), .fold = FOLD_ANY, .exposure = {             \
			.to = { ANCHOR_END, 0 }                                \
		}                                                              \
	}

static inline struct rule
rule_for(const struct sentence *sentence)
{
	struct rule rule = sentence->rule;
	rule.owner = "post-a";
	return rule;
}

static inline struct reason
reason_for(const struct sentence *sentence, const struct rule *rule)
{
	return (struct reason){ .rule = rule,
		.verdict = sentence->verdict,
		.value = sentence->value,
		.margin = sentence->margin,
		.at = local_2026(3, 3, 15, 0),
		.rain = sentence->rain,
		.chance = sentence->chance };
}

static inline void
check_rule_sentences(const struct sentence *sentences, size_t count)
{
	char text[REASON_BUFFER];
	for (size_t i = 0; i < count; i++) {
		struct rule rule = rule_for(&sentences[i]);
		assert_string_equal(
		    rule_print(text, sizeof text, &rule, UNITS_US),
		    sentences[i].rule_text);
		assert_string_equal(
		    rule_print_short(text, sizeof text, &rule, UNITS_US),
		    sentences[i].shortly);
	}
}

static inline void
check_reasons(const struct sentence *sentences, size_t count)
{
	struct zone zone = chicago();
	char text[REASON_BUFFER]; /* enough, says the header */
	for (size_t i = 0; i < count; i++) {
		struct rule rule = rule_for(&sentences[i]);
		struct reason reason = reason_for(&sentences[i], &rule);
		assert_string_equal(
		    reason_print(text, sizeof text, &reason, &zone, UNITS_US),
		    sentences[i].why);
		assert_string_equal(
		    reason_print_margin(text, sizeof text, &reason, UNITS_US),
		    sentences[i].how_far);
	}
}

/* What is not said in metric units reads the same. */
static inline void
check_metric_reasons(const struct sentence *sentences, size_t count)
{
	struct zone zone = chicago();
	char text[REASON_BUFFER];
	for (size_t i = 0; i < count; i++) {
		const struct sentence *one = &sentences[i];
		struct rule rule = rule_for(one);
		struct reason reason = reason_for(one, &rule);
		const char *why =
		    one->why_metric != NULL ? one->why_metric : one->why;
		const char *how_far = one->how_far_metric != NULL
					  ? one->how_far_metric
					  : one->how_far;
		assert_string_equal(reason_print(text, sizeof text, &reason,
					&zone, UNITS_METRIC),
		    why);
		assert_string_equal(reason_print_margin(text, sizeof text,
					&reason, UNITS_METRIC),
		    how_far);
	}
}

/* The longest name that can be configured still fits. */
static inline void
check_longest_names(const struct sentence *sentences, size_t count)
{
	struct zone zone = chicago();
	char owner[LIMIT_NAME_BYTES + 1], text[400];
	memset(owner, 'x', LIMIT_NAME_BYTES);
	owner[LIMIT_NAME_BYTES] = '\0';
	for (size_t i = 0; i < count; i++) {
		struct rule rule = rule_for(&sentences[i]);
		rule.owner = owner;
		rule.subject = rule.subject != NULL ? owner : NULL;
		struct reason reason = reason_for(&sentences[i], &rule);
		reason_print(text, sizeof text, &reason, &zone, UNITS_US);
		assert_in_range(strlen(text), 1, REASON_BUFFER - 1);
	}
}

#endif
