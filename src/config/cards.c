#include "config/cards.h"

#include "config/values.h"
#include "physics/sun.h"

#include <math.h>
#include <string.h>

enum shape {
	SHAPE_LIMIT,      /* a bound and a quantity */
	SHAPE_DRY_AFTER,  /* a span after the job */
	SHAPE_DRY_BEFORE, /* a span before it */
	SHAPE_YES,        /* a fixed limit, when the answer is yes */
	SHAPE_NO_ALERT,   /* one for each kind of alert, when it is yes */
	SHAPE_DAYS,       /* whole days */
	SHAPE_STATES,     /* the states that are allowed */
};

struct short_rule {
	const char *name;
	enum shape shape;
	enum measure measure;
	enum fold fold;
	bool whole_day;   /* that local day instead of during the job */
	enum bound bound; /* when the card does not say */
	bool either_way;  /* floor and ceiling are both sensible */
	double limit;     /* of what is answered with yes */
};

static const struct short_rule short_rules[] = {
	{ "temperature-ceiling", SHAPE_LIMIT, MEASURE_AIR_TEMPERATURE, FOLD_MAX,
	    false, BOUND_AT_MOST, false, 0 },
	{ "temperature-floor", SHAPE_LIMIT, MEASURE_AIR_TEMPERATURE, FOLD_MIN,
	    false, BOUND_AT_LEAST, false, 0 },
	{ "day-high", SHAPE_LIMIT, MEASURE_AIR_TEMPERATURE, FOLD_MAX, true,
	    BOUND_AT_MOST, true, 0 },
	{ "rain-free", SHAPE_DRY_AFTER, MEASURE_WET, FOLD_ANY, false,
	    BOUND_AT_MOST, false, 0 },
	{ "dry-leaf", SHAPE_DRY_BEFORE, MEASURE_WET, FOLD_ANY, false,
	    BOUND_AT_MOST, false, 0 },
	{ "wind-minimum", SHAPE_LIMIT, MEASURE_WIND, FOLD_MIN, false,
	    BOUND_AT_LEAST, false, 0 },
	{ "wind-maximum", SHAPE_LIMIT, MEASURE_WIND, FOLD_MAX, false,
	    BOUND_AT_MOST, false, 0 },
	{ "gust-maximum", SHAPE_LIMIT, MEASURE_GUST, FOLD_MAX, false,
	    BOUND_AT_MOST, false, 0 },
	{ "delta-t-minimum", SHAPE_LIMIT, MEASURE_DELTA_T, FOLD_MIN, false,
	    BOUND_AT_LEAST, false, 0 },
	{ "delta-t-maximum", SHAPE_LIMIT, MEASURE_DELTA_T, FOLD_MAX, false,
	    BOUND_AT_MOST, false, 0 },
	{ "daylight", SHAPE_YES, MEASURE_SUN_HEIGHT, FOLD_MIN, false,
	    BOUND_AT_LEAST, false, SUN_HEIGHT_HORIZON },
	{ "no-inversion", SHAPE_YES, MEASURE_INVERSION, FOLD_ANY, false,
	    BOUND_AT_MOST, false, 0 },
	{ "no-alert", SHAPE_NO_ALERT, MEASURE_ALERT_WIND, FOLD_ANY, false,
	    BOUND_AT_MOST, false, 0 },
	{ "turf", SHAPE_STATES, MEASURE_DORMANT, FOLD_ANY, false, BOUND_AT_MOST,
	    false, 0 },
	{ "re-treatment", SHAPE_DAYS, MEASURE_DAYS_SINCE, FOLD_MIN, false,
	    BOUND_AT_LEAST, false, 0 },
};

static const struct short_rule *
find_short(const char *name)
{
	for (size_t i = 0; i < sizeof short_rules / sizeof short_rules[0]; i++)
		if (strcmp(short_rules[i].name, name) == 0)
			return &short_rules[i];
	return NULL;
}

bool
card_is_rule(const char *name)
{
	return find_short(name) != NULL;
}

static struct rule
begin_rule(const struct short_rule *sentence)
{
	struct rule rule = { .name = sentence->name,
		.measure = sentence->measure,
		.fold = sentence->fold,
		.exposure = { { ANCHOR_START, 0 }, { ANCHOR_END, 0 } },
		.bound = sentence->bound,
		.limit = sentence->limit,
		.owner = "",
		.source = "" };
	if (sentence->whole_day)
		rule.exposure = (struct exposure){ { ANCHOR_MIDNIGHT, 0 },
			{ ANCHOR_MIDNIGHT, 1 } };
	return rule;
}

static int
expand_limit(const struct short_rule *sentence, const struct setting *setting,
    const char *text, struct rule *ret, struct error *error)
{
	struct rule rule = begin_rule(sentence);
	if (!value_limit(setting, text, &rule.bound, &rule.limit, error))
		return -1;
	if (bound_is_ceiling(rule.bound) != bound_is_ceiling(sentence->bound) &&
	    !sentence->either_way) {
		(void)error_set(error, ERROR_INPUT,
		    "'%s': this is a %s; write \"%s ...\" or the amount alone",
		    text,
		    bound_is_ceiling(sentence->bound) ? "ceiling" : "floor",
		    bound_word(sentence->bound));
		return -1;
	}
	ret[0] = rule;
	return 1;
}

static int
expand_span(const struct short_rule *sentence, const struct setting *setting,
    const char *text, struct rule *ret, struct error *error)
{
	struct rule rule = begin_rule(sentence);
	double seconds;
	if (!value_quantity(setting, text, &seconds, error))
		return -1;
	if (sentence->shape == SHAPE_DAYS && fmod(seconds, DAY_SECONDS) != 0) {
		(void)error_set(error, ERROR_INPUT,
		    "'%s' is not a whole number of days", text);
		return -1;
	}
	if (sentence->shape == SHAPE_DRY_AFTER) {
		rule.exposure.to.seconds = (int32_t)seconds;
	} else if (sentence->shape == SHAPE_DRY_BEFORE) {
		rule.exposure.from.seconds = -(int32_t)seconds;
		rule.exposure.to = (struct instant){ ANCHOR_START, 0 };
	} else {
		rule.limit = seconds / DAY_SECONDS;
	}
	ret[0] = rule;
	return sentence->shape == SHAPE_DRY_BEFORE && seconds == 0 ? 0 : 1;
}

/* Every state that is not allowed may not be there at all. */
static int
expand_states(const struct short_rule *sentence, const struct setting *setting,
    const char **values, size_t count, struct rule *ret, struct error *error)
{
	static const enum measure measure[TURF_STATES] = { MEASURE_DORMANT,
		MEASURE_GREEN_UP, MEASURE_GREEN };
	bool allowed[TURF_STATES] = { false };
	int used = 0;
	for (size_t i = 0; i < count; i++) {
		size_t state;
		if (!value_choice(setting->words, values[i], &state, error))
			return -1;
		allowed[state] = true;
	}
	for (size_t state = 0; state < TURF_STATES; state++) {
		if (allowed[state])
			continue;
		ret[used] = begin_rule(sentence);
		ret[used++].measure = measure[state];
	}
	return used;
}

static int
expand_yes(const struct short_rule *sentence, const char *text,
    struct rule *ret, struct error *error)
{
	bool yes;
	if (!value_yes_no(text, &yes, error))
		return -1;
	ret[0] = begin_rule(sentence);
	return yes ? 1 : 0;
}

static int
expand_no_alert(const struct short_rule *sentence, const char *text,
    struct rule *ret, struct error *error)
{
	static const enum measure measure[] = { MEASURE_ALERT_WIND,
		MEASURE_ALERT_FREEZE, MEASURE_ALERT_HEAT, MEASURE_ALERT_FLOOD,
		MEASURE_ALERT_SMOKE };
	const size_t count = sizeof measure / sizeof measure[0];
	bool yes;
	if (!value_yes_no(text, &yes, error))
		return -1;
	for (size_t i = 0; i < count; i++) {
		ret[i] = begin_rule(sentence);
		ret[i].measure = measure[i];
	}
	return yes ? (int)count : 0;
}

int
card_expand(const struct setting *setting, const char **values, size_t count,
    struct rule ret[CARD_RULES_MAX], struct error *error)
{
	const struct short_rule *sentence = find_short(setting->name);
	if (sentence == NULL || count == 0) {
		(void)error_set(error, ERROR_INPUT, "says nothing");
		return -1;
	}
	switch (sentence->shape) {
	case SHAPE_LIMIT:
		return expand_limit(sentence, setting, values[0], ret, error);
	case SHAPE_YES:
		return expand_yes(sentence, values[0], ret, error);
	case SHAPE_NO_ALERT:
		return expand_no_alert(sentence, values[0], ret, error);
	case SHAPE_STATES:
		return expand_states(
		    sentence, setting, values, count, ret, error);
	case SHAPE_DRY_AFTER:
	case SHAPE_DRY_BEFORE:
	case SHAPE_DAYS:
		break;
	}
	return expand_span(sentence, setting, values[0], ret, error);
}
