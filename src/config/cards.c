#include "config/cards.h"

#include "config/card_table.h"
#include "config/sentence.h"
#include "config/values.h"

#include <math.h>
#include <string.h>

/* One setting on its way to rules. */
struct expansion {
	struct arena *arena;
	const struct short_rule *short_rule;
	const struct setting *setting;
	const struct said *said;
	size_t count;
};

bool
card_is_rule(const char *name)
{
	return short_rule_find(name) != NULL;
}

bool
card_is_practice(const char *name)
{
	const struct short_rule *short_rule = short_rule_find(name);
	return short_rule != NULL && (short_rule->flags & CARD_PRACTICE) != 0;
}

static struct rule
begin_rule(const struct short_rule *short_rule, const struct said *said)
{
	return (struct rule){ .name = short_rule->name,
		.measure = short_rule->measure,
		.fold = short_rule->fold,
		.exposure = short_rule->exposure,
		.bound = short_rule->bound,
		.limit = short_rule->limit,
		.owner = "",
		.source = said->place != NULL ? said->place : "",
		.wording = said->words };
}

/* "At least" makes no ceiling. */
static bool
check_side(const struct short_rule *short_rule, const struct said *said,
    enum bound bound, struct error *error)
{
	bool ceiling = bound_is_ceiling(short_rule->bound);
	if (bound_is_ceiling(bound) == ceiling ||
	    (short_rule->flags & CARD_EITHER_WAY) != 0)
		return true;
	return error_set(error, ERROR_INPUT,
	    "'%s': this is a %s; write \"%s ...\" or the amount alone",
	    said->value, ceiling ? "ceiling" : "floor",
	    bound_word(short_rule->bound));
}

static int
expand_limit(
    const struct expansion *from, struct rule *ret, struct error *error)
{
	struct rule rule = begin_rule(from->short_rule, from->said);
	if (!value_limit(from->setting, from->said->value, &rule.bound,
		&rule.limit, error) ||
	    !check_side(from->short_rule, from->said, rule.bound, error))
		return -1;
	ret[0] = rule;
	return 1;
}

static int
expand_within(
    const struct expansion *from, struct rule *ret, struct error *error)
{
	struct rule rule = begin_rule(from->short_rule, from->said);
	double span;
	if (!value_within(
		from->said->value, &rule.bound, &rule.limit, &span, error) ||
	    !check_side(from->short_rule, from->said, rule.bound, error))
		return -1;
	rule.exposure.to.seconds = (int32_t)span;
	ret[0] = rule;
	return 1;
}

static int
expand_span(const struct expansion *from, struct rule *ret, struct error *error)
{
	struct rule rule = begin_rule(from->short_rule, from->said);
	enum shape shape = from->short_rule->shape;
	double value;
	if (!value_quantity(from->setting, from->said->value, &value, error))
		return -1;
	if (shape == SHAPE_AFTER)
		rule.exposure.to.seconds = (int32_t)value;
	else if (shape == SHAPE_BEFORE)
		rule.exposure.from.seconds = -(int32_t)value;
	else
		rule.limit = value;
	ret[0] = rule;
	return shape == SHAPE_BEFORE && value == 0 ? 0 : 1;
}

/* Days are counted, and so are mowings and applications. */
static int
expand_count(
    const struct expansion *from, struct rule *ret, struct error *error)
{
	struct rule rule = begin_rule(from->short_rule, from->said);
	bool days = from->short_rule->shape == SHAPE_DAYS;
	if (!value_quantity(
		from->setting, from->said->value, &rule.limit, error))
		return -1;
	rule.limit /= days ? DAY_SECONDS : 1;
	if (rule.limit != floor(rule.limit)) {
		(void)error_set(error, ERROR_INPUT,
		    "'%s' is not a whole number%s", from->said->value,
		    days ? " of days" : "");
		return -1;
	}
	ret[0] = rule;
	return 1;
}

static int
expand_rate(const struct expansion *from, struct rule *ret, struct error *error)
{
	struct rule rule = begin_rule(from->short_rule, from->said);
	enum quantity_kind kind;
	if (!value_rate_per_area(from->said->value, &rule.limit, &kind, error))
		return -1;
	rule.is_volume = kind == QUANTITY_VOLUME_PER_AREA;
	ret[0] = rule;
	return 1;
}

/* Every state that is not allowed may not be there at all. */
static int
expand_states(
    const struct expansion *from, struct rule *ret, struct error *error)
{
	static const enum measure measure[TURF_STATES] = { MEASURE_DORMANT,
		MEASURE_GREEN_UP, MEASURE_GREEN };
	bool allowed[TURF_STATES] = { false };
	int used = 0;
	for (size_t i = 0; i < from->count; i++) {
		size_t state;
		if (!value_choice(from->setting->words, from->said[i].value,
			&state, error))
			return -1;
		allowed[state] = true;
	}
	for (size_t state = 0; state < TURF_STATES; state++) {
		if (allowed[state])
			continue;
		ret[used] = begin_rule(from->short_rule, from->said);
		ret[used++].measure = measure[state];
	}
	return used;
}

static int
expand_yes(const struct expansion *from, struct rule *ret, struct error *error)
{
	bool yes;
	if (!value_yes_no(from->said->value, &yes, error))
		return -1;
	ret[0] = begin_rule(from->short_rule, from->said);
	return yes ? 1 : 0;
}

static int
expand_no_alert(
    const struct expansion *from, struct rule *ret, struct error *error)
{
	static const enum measure measure[] = { MEASURE_ALERT_WIND,
		MEASURE_ALERT_FREEZE, MEASURE_ALERT_HEAT, MEASURE_ALERT_FLOOD,
		MEASURE_ALERT_SMOKE };
	const size_t count = sizeof measure / sizeof measure[0];
	bool yes;
	if (!value_yes_no(from->said->value, &yes, error))
		return -1;
	for (size_t i = 0; i < count; i++) {
		ret[i] = begin_rule(from->short_rule, from->said);
		ret[i].measure = measure[i];
	}
	return yes ? (int)count : 0;
}

/* The product keeps the dates; the rule asks its column. */
static int
expand_dates(
    const struct expansion *from, struct rule *ret, struct error *error)
{
	struct date_span span;
	for (size_t i = 0; i < from->count; i++)
		if (!value_dates(from->said[i].value, &span, error))
			return -1;
	ret[0] = begin_rule(from->short_rule, from->said);
	return 1;
}

static int
expand_actives(
    const struct expansion *from, struct rule *ret, struct error *error)
{
	for (size_t i = 0; i < from->count; i++) {
		struct rule rule = begin_rule(from->short_rule, &from->said[i]);
		char name[LIMIT_NAME_BYTES + 1];
		if (!value_active_rate(
			from->said[i].value, name, &rule.limit, error))
			return -1;
		rule.subject = arena_string(from->arena, name);
		ret[i] = rule;
	}
	return (int)from->count;
}

static int
expand_sentences(
    const struct expansion *from, struct rule *ret, struct error *error)
{
	for (size_t i = 0; i < from->count; i++) {
		const struct said *said = &from->said[i];
		struct rule rule;
		if (!sentence_parse(said->value, &rule, error))
			return -1;
		rule.name = from->short_rule->name;
		rule.owner = "";
		rule.source = said->place != NULL ? said->place : "";
		rule.wording = said->words;
		ret[i] = rule;
	}
	return (int)from->count;
}

typedef int expander(
    const struct expansion *from, struct rule *ret, struct error *error);

int
card_expand(struct arena *arena, const struct setting *setting,
    const struct said *said, size_t count, struct rule ret[CARD_RULES_MAX],
    struct error *error)
{
	static expander *const expanders[] = { [SHAPE_LIMIT] = expand_limit,
		[SHAPE_SPAN] = expand_span,
		[SHAPE_DAYS] = expand_count,
		[SHAPE_COUNT] = expand_count,
		[SHAPE_AFTER] = expand_span,
		[SHAPE_BEFORE] = expand_span,
		[SHAPE_WITHIN] = expand_within,
		[SHAPE_RATE] = expand_rate,
		[SHAPE_YES] = expand_yes,
		[SHAPE_NO_ALERT] = expand_no_alert,
		[SHAPE_STATES] = expand_states,
		[SHAPE_DATES] = expand_dates,
		[SHAPE_ACTIVES] = expand_actives,
		[SHAPE_SENTENCES] = expand_sentences };
	struct expansion from = { arena, short_rule_find(setting->name),
		setting, said, count };
	if (from.short_rule == NULL || count == 0) {
		(void)error_set(error, ERROR_INPUT, "says nothing");
		return -1;
	}
	if (count > CARD_RULES_MAX) {
		(void)error_set(error, ERROR_INPUT, "lists more than %d",
		    (int)CARD_RULES_MAX);
		return -1;
	}
	if ((from.short_rule->flags & CARD_MAY_BE_NONE) != 0 &&
	    value_is_none(said->value))
		return 0;
	struct rule rules[CARD_RULES_MAX];
	int used = expanders[from.short_rule->shape](&from, rules, error);
	for (int i = 0; i < used; i++)
		ret[i] = rules[i];
	return used;
}
