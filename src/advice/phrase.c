/* The sentences of advice/reason.h. */
#include "advice/reason.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* The measures that are yes or no, and how each is said. */
struct phrase {
	enum measure measure;
	const char *broken; /* the rule is broken */
	const char *kept;   /* the rule holds */
	const char *wish;   /* the rule itself */
};

static const struct phrase phrases[] = {
	{ MEASURE_WET, "rain", "no rain", "no rain" },
	{ MEASURE_DORMANT, "turf is dormant", "turf not dormant",
	    "turf not dormant" },
	{ MEASURE_GREEN_UP, "turf in green-up", "turf not in green-up",
	    "turf not in green-up" },
	{ MEASURE_GREEN, "turf is green", "turf not green", "turf not green" },
	{ MEASURE_HOURS, "outside the preferred hours",
	    "inside the preferred hours", "inside the preferred hours" },
	{ MEASURE_SUN_HEIGHT, "dark", "daylight", "daylight" },
	{ MEASURE_INVERSION, "an inversion is to be expected", "no inversion",
	    "no inversion" },
	{ MEASURE_LEAF_WET, "wet leaves", "dry leaves", "dry leaves" },
	{ MEASURE_FREEZE, "freezing air", "no freezing air",
	    "no freezing air" },
	{ MEASURE_ALERT_WIND, "an official wind alert",
	    "no official wind alert", "no official wind alert" },
	{ MEASURE_ALERT_FREEZE, "an official freeze alert",
	    "no official freeze alert", "no official freeze alert" },
	{ MEASURE_ALERT_HEAT, "an official heat alert",
	    "no official heat alert", "no official heat alert" },
	{ MEASURE_ALERT_FLOOD, "an official flood alert",
	    "no official flood alert", "no official flood alert" },
	{ MEASURE_ALERT_SMOKE, "an official alert of smoke or fire",
	    "no official alert of smoke or fire",
	    "no official alert of smoke or fire" },
};

static const struct phrase *
phrase_for(enum measure measure)
{
	for (size_t i = 0; i < sizeof phrases / sizeof phrases[0]; i++)
		if (phrases[i].measure == measure)
			return &phrases[i];
	return NULL;
}

/* "85 °F", or "21 days" for the count of days. */
static char *
print_value(char *buffer, size_t size, enum measure measure, double value,
    enum unit_system units)
{
	if (measure != MEASURE_DAYS_SINCE)
		return quantity_print(
		    buffer, size, value, measure_info(measure)->kind, units);
	if (isinf(value))
		(void)snprintf(buffer, size, "never");
	else
		(void)snprintf(
		    buffer, size, "%.0f day%s", value, value == 1 ? "" : "s");
	return buffer;
}

/* The rule without the name of its measure: "below 85 °F during the job". */
static char *
print_wish(
    char *buffer, size_t size, const struct rule *rule, enum unit_system units)
{
	char limit[QUANTITY_BUFFER], when[QUANTITY_BUFFER];
	const struct phrase *phrase = phrase_for(rule->measure);
	exposure_print(when, sizeof when, &rule->exposure);
	print_value(limit, sizeof limit, rule->measure, rule->limit, units);
	if (phrase != NULL)
		(void)snprintf(buffer, size, "%s %s", phrase->wish, when);
	else if (rule->measure == MEASURE_DAYS_SINCE)
		(void)snprintf(buffer, size, "%s %s since the last %s",
		    bound_word(rule->bound), limit, rule->owner);
	else
		(void)snprintf(buffer, size, "%s %s %s",
		    bound_word(rule->bound), limit, when);
	return buffer;
}

char *
rule_print(
    char *buffer, size_t size, const struct rule *rule, enum unit_system units)
{
	char wish[REASON_BUFFER];
	print_wish(wish, sizeof wish, rule, units);
	if (phrase_for(rule->measure) != NULL ||
	    rule->measure == MEASURE_DAYS_SINCE)
		(void)snprintf(buffer, size, "%s", wish);
	else
		(void)snprintf(buffer, size, "%s %s",
		    measure_info(rule->measure)->label, wish);
	return buffer;
}

char *
rule_print_short(
    char *buffer, size_t size, const struct rule *rule, enum unit_system units)
{
	char limit[QUANTITY_BUFFER];
	const struct phrase *phrase = phrase_for(rule->measure);
	if (phrase != NULL && rule->measure == MEASURE_WET &&
	    rule->exposure.from.seconds < 0)
		(void)snprintf(buffer, size, "wet leaves");
	else if (phrase != NULL)
		(void)snprintf(buffer, size, "%s", phrase->broken);
	else if (rule->measure == MEASURE_DAYS_SINCE)
		(void)snprintf(
		    buffer, size, "too soon after the last %s", rule->owner);
	else
		(void)snprintf(buffer, size, "%s %s %s",
		    measure_info(rule->measure)->label,
		    bound_is_ceiling(rule->bound) ? "over" : "under",
		    print_value(limit, sizeof limit, rule->measure, rule->limit,
			units));
	return buffer;
}

/* "(60 %, 0.1 in)"; a part that is not known is left out. */
static void
print_rain(char *buffer, size_t size, const struct reason *reason,
    enum unit_system units)
{
	char chance[QUANTITY_BUFFER] = "", rain[QUANTITY_BUFFER] = "";
	buffer[0] = '\0';
	if (!isnan(reason->chance))
		quantity_print(chance, sizeof chance, reason->chance,
		    QUANTITY_PERCENT, units);
	if (!isnan(reason->rain))
		quantity_print(
		    rain, sizeof rain, reason->rain, QUANTITY_RAIN, units);
	if (chance[0] != '\0' || rain[0] != '\0')
		(void)snprintf(buffer, size, " (%s%s%s)", chance,
		    chance[0] != '\0' && rain[0] != '\0' ? ", " : "", rain);
}

static void
print_yes_or_no(char *buffer, size_t size, const struct reason *reason,
    const struct zone *zone, enum unit_system units)
{
	const struct rule *rule = reason->rule;
	const struct phrase *phrase = phrase_for(rule->measure);
	char when[CIVIL_BUFFER], rain[QUANTITY_BUFFER * 2 + 8] = "";
	char exposure[QUANTITY_BUFFER];
	exposure_print(exposure, sizeof exposure, &rule->exposure);
	if (reason->verdict == VERDICT_GO) {
		(void)snprintf(buffer, size, "%s %s", phrase->kept, exposure);
		return;
	}
	if (rule->measure == MEASURE_WET)
		print_rain(rain, sizeof rain, reason, units);
	(void)snprintf(buffer, size, "%s %s%s, wanted %s %s", phrase->broken,
	    civil_print(when, sizeof when, zone, reason->at, CIVIL_DAY_CLOCK),
	    rain, phrase->wish, exposure);
}

/* What is not known, in a word or two. */
static const char *
name_of(enum measure measure)
{
	switch (measure) {
	case MEASURE_WET:
		return "rain";
	case MEASURE_INVERSION:
		return "the risk of an inversion";
	case MEASURE_ALERT_WIND:
	case MEASURE_ALERT_FREEZE:
	case MEASURE_ALERT_HEAT:
	case MEASURE_ALERT_FLOOD:
	case MEASURE_ALERT_SMOKE:
		return "official alerts";
	case MEASURE_DORMANT:
	case MEASURE_GREEN_UP:
	case MEASURE_GREEN:
		return "the turf's state";
	default:
		return measure_info(measure)->label;
	}
}

/* "post-a 8 days before", "no post-a before". */
static void
print_last(char *buffer, size_t size, const struct reason *reason,
    enum unit_system units)
{
	char days[QUANTITY_BUFFER];
	if (isinf(reason->value))
		(void)snprintf(
		    buffer, size, "no %s before", reason->rule->owner);
	else
		(void)snprintf(buffer, size, "last %s %s before",
		    reason->rule->owner,
		    print_value(days, sizeof days, MEASURE_DAYS_SINCE,
			reason->value, units));
}

char *
reason_print(char *buffer, size_t size, const struct reason *reason,
    const struct zone *zone, enum unit_system units)
{
	const struct rule *rule = reason->rule;
	char wish[REASON_BUFFER], value[QUANTITY_BUFFER];
	char last[REASON_BUFFER], when[CIVIL_BUFFER];
	print_wish(wish, sizeof wish, rule, units);
	if (reason->verdict == VERDICT_UNKNOWN) {
		(void)snprintf(buffer, size, "%s not known, wanted %s",
		    name_of(rule->measure), wish);
	} else if (phrase_for(rule->measure) != NULL) {
		print_yes_or_no(buffer, size, reason, zone, units);
	} else if (rule->measure == MEASURE_DAYS_SINCE) {
		print_last(last, sizeof last, reason, units);
		(void)snprintf(buffer, size, "%s, wanted %s", last, wish);
	} else {
		print_value(
		    value, sizeof value, rule->measure, reason->value, units);
		civil_print(
		    when, sizeof when, zone, reason->at, CIVIL_DAY_CLOCK);
		(void)snprintf(buffer, size, "%s %s %s, wanted %s",
		    measure_info(rule->measure)->label, value, when, wish);
	}
	return buffer;
}

enum quantity_kind
reason_margin_kind(const struct rule *rule)
{
	enum quantity_kind kind = measure_info(rule->measure)->kind;
	if (rule->fold == FOLD_ANY)
		return QUANTITY_SPAN;
	return kind == QUANTITY_TEMPERATURE ? QUANTITY_TEMPERATURE_DIFFERENCE
					    : kind;
}

char *
reason_print_margin(char *buffer, size_t size, const struct reason *reason,
    enum unit_system units)
{
	const struct rule *rule = reason->rule;
	char amount[QUANTITY_BUFFER];
	if (reason->verdict == VERDICT_UNKNOWN) {
		(void)snprintf(buffer, size, "not known");
		return buffer;
	}
	if (rule->measure == MEASURE_HOURS || isinf(reason->margin)) {
		(void)snprintf(buffer, size, "%s",
		    reason->verdict == VERDICT_GO ? "clear" : "no");
		return buffer;
	}
	double distance = fabs(reason->margin);
	if (reason_margin_kind(rule) == QUANTITY_SPAN)
		span_print(amount, sizeof amount, distance);
	else if (rule->measure == MEASURE_DAYS_SINCE)
		print_value(
		    amount, sizeof amount, rule->measure, distance, units);
	else
		quantity_print(amount, sizeof amount, distance,
		    reason_margin_kind(rule), units);
	const char *word = reason->verdict == VERDICT_GO   ? "to spare"
			   : rule->fold == FOLD_ANY        ? "short"
			   : bound_is_ceiling(rule->bound) ? "over"
							   : "under";
	(void)snprintf(buffer, size, "%s %s", amount, word);
	return buffer;
}
