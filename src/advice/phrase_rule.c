/* Rules as sentences: advice/phrase.h and the rule_print of reason.h. */
#include "advice/phrase.h"

#include "advice/reason.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const struct phrase phrases[] = {
	{ MEASURE_WET, "rain", "no rain", "no rain" },
	{ MEASURE_DORMANT, "turf is dormant", "turf not dormant",
	    "turf not dormant" },
	{ MEASURE_GREEN_UP, "turf in green-up", "turf not in green-up",
	    "turf not in green-up" },
	{ MEASURE_GREEN, "turf is green", "turf not green", "turf not green" },
	{ MEASURE_HOURS, "outside the preferred hours",
	    "inside the preferred hours", "inside the preferred hours" },
	{ MEASURE_DATES, "outside the dates of the card",
	    "inside the dates of the card", "inside the dates of the card" },
	{ MEASURE_SUN_HEIGHT, "dark", "daylight", "daylight" },
	{ MEASURE_INVERSION, "an inversion is to be expected", "no inversion",
	    "no inversion" },
	{ MEASURE_DRIFT, "wind towards a side to spare",
	    "no wind towards a side to spare",
	    "no wind towards a side to spare" },
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

const struct phrase *
phrase_of(enum measure measure)
{
	for (size_t i = 0; i < sizeof phrases / sizeof phrases[0]; i++)
		if (phrases[i].measure == measure)
			return &phrases[i];
	return NULL;
}

/* A time that lies between the job and something else. */
struct distance {
	enum measure measure;
	bool after; /* the job comes after it */
	const char *what;
};

static const struct distance distances[] = {
	{ MEASURE_SINCE_SUNRISE, true, "sunrise" },
	{ MEASURE_UNTIL_SUNSET, false, "sunset" },
	{ MEASURE_SINCE_MOWING, true, "mowing" },
	{ MEASURE_SINCE_SEEDING, true, "seeding" },
	{ MEASURE_SINCE_SODDING, true, "sodding" },
	{ MEASURE_SINCE_OVERSEEDING, true, "overseeding" },
	{ MEASURE_SINCE_AERATING, true, "aerating" },
	{ MEASURE_UNTIL_MOWING, false, "mowing" },
	{ MEASURE_UNTIL_SEEDING, false, "seeding" },
	{ MEASURE_UNTIL_OVERSEEDING, false, "overseeding" },
	{ MEASURE_UNTIL_AERATING, false, "aerating" },
	{ MEASURE_UNTIL_IRRIGATION, false, "irrigation" },
};

static const struct distance *
distance_of(enum measure measure)
{
	for (size_t i = 0; i < sizeof distances / sizeof distances[0]; i++)
		if (distances[i].measure == measure)
			return &distances[i];
	return NULL;
}

/* "after mowing", "before sunset". */
static const char *
side_of(const struct distance *distance, bool other_side)
{
	return distance->after != other_side ? "after" : "before";
}

static bool
is_days(enum measure measure)
{
	return measure == MEASURE_DAYS_SINCE || measure == MEASURE_DAYS_WAITED;
}

static bool
is_season(enum measure measure)
{
	return measure == MEASURE_SEASON_COUNT ||
	       measure == MEASURE_SEASON_AMOUNT ||
	       measure == MEASURE_SEASON_ACTIVE;
}

/* The active, or the product that the rule is about. */
static const char *
subject_of(const struct rule *rule)
{
	return rule->subject != NULL ? rule->subject : rule->owner;
}

char *
phrase_value(char *buffer, size_t size, const struct rule *rule, double value,
    enum unit_system units)
{
	if (isinf(value))
		(void)snprintf(buffer, size, "never");
	else if (is_days(rule->measure))
		(void)snprintf(
		    buffer, size, "%.0f day%s", value, value == 1 ? "" : "s");
	else
		quantity_print(buffer, size, value, rule_kind(rule), units);
	return buffer;
}

/* A ceiling is over the highest, a floor under the lowest: what is otherwise
   has to be said. */
static const char *
fold_word(const struct rule *rule)
{
	bool ceiling = bound_is_ceiling(rule->bound);
	if (rule->fold == FOLD_MEAN)
		return "mean ";
	if (rule->fold == FOLD_MAX && !ceiling)
		return "highest ";
	return rule->fold == FOLD_MIN && ceiling ? "lowest " : "";
}

char *
phrase_name(char *buffer, size_t size, const struct rule *rule)
{
	if (rule->measure == MEASURE_SEASON_COUNT)
		(void)snprintf(buffer, size, "applications of %s", rule->owner);
	else if (is_season(rule->measure))
		(void)snprintf(buffer, size, "%s", subject_of(rule));
	else
		(void)snprintf(buffer, size, "%s%s", fold_word(rule),
		    measure_info(rule->measure)->label);
	return buffer;
}

bool
phrase_has_moment(const struct rule *rule)
{
	return rule->measure < MEASURE_DAYS_SINCE &&
	       rule->measure != MEASURE_MOWINGS &&
	       distance_of(rule->measure) == NULL;
}

/* "last post-a 8 days before", "no post-a before". */
static void
print_days(char *buffer, size_t size, const struct rule *rule, double value,
    enum unit_system units)
{
	char days[QUANTITY_BUFFER];
	bool second = rule->measure == MEASURE_DAYS_WAITED;
	phrase_value(days, sizeof days, rule, value, units);
	if (second && value <= 0)
		(void)snprintf(
		    buffer, size, "no second %s is due", rule->owner);
	else if (isinf(value))
		(void)snprintf(buffer, size, "no %s before", rule->owner);
	else
		(void)snprintf(buffer, size, "%s %s %s before",
		    second ? "first" : "last", rule->owner, days);
}

static void
print_distance(
    char *buffer, size_t size, const struct distance *distance, double value)
{
	char span[QUANTITY_BUFFER];
	if (isinf(value))
		(void)snprintf(buffer, size, "no %s %s", distance->what,
		    distance->after ? "before" : "ahead");
	else
		(void)snprintf(buffer, size, "%s %s %s",
		    span_print(span, sizeof span, fabs(value)),
		    side_of(distance, value < 0), distance->what);
}

char *
phrase_found(char *buffer, size_t size, const struct rule *rule, double value,
    enum unit_system units)
{
	char number[QUANTITY_BUFFER], name[REASON_BUFFER];
	const struct distance *distance = distance_of(rule->measure);
	phrase_value(number, sizeof number, rule, value, units);
	phrase_name(name, sizeof name, rule);
	if (is_days(rule->measure))
		print_days(buffer, size, rule, value, units);
	else if (distance != NULL)
		print_distance(buffer, size, distance, value);
	else if (rule->measure == MEASURE_MOWINGS)
		(void)snprintf(buffer, size, "%s mowing%s since seeding",
		    number, value == 1 ? "" : "s");
	else if (rule->measure == MEASURE_SEASON_COUNT)
		(void)snprintf(buffer, size, "application %s of %s this year",
		    number, rule->owner);
	else if (is_season(rule->measure))
		(void)snprintf(buffer, size, "%s %s this year", name, number);
	else
		(void)snprintf(buffer, size, "%s %s", name, number);
	return buffer;
}

/* " during the job" needs no saying where a rule can mean nothing else. */
static void
print_when(char *buffer, size_t size, const struct rule *rule)
{
	static const struct exposure during = { { ANCHOR_START, 0 },
		{ ANCHOR_END, 0 } };
	char when[EXPOSURE_BUFFER];
	buffer[0] = '\0';
	if (!exposure_same(&rule->exposure, &during))
		(void)snprintf(buffer, size, " %s",
		    exposure_print(when, sizeof when, &rule->exposure));
}

char *
phrase_wish(
    char *buffer, size_t size, const struct rule *rule, enum unit_system units)
{
	char limit[QUANTITY_BUFFER], when[EXPOSURE_BUFFER + 1];
	const char *bound = bound_word(rule->bound);
	const struct phrase *phrase = phrase_of(rule->measure);
	const struct distance *distance = distance_of(rule->measure);
	phrase_value(limit, sizeof limit, rule, rule->limit, units);
	print_when(when, sizeof when, rule);
	if (distance != NULL) {
		(void)snprintf(buffer, size, "%s %s %s %s%s", bound, limit,
		    side_of(distance, false), distance->what, when);
		return buffer;
	}
	if (is_days(rule->measure)) {
		(void)snprintf(buffer, size, "%s %s since the %s %s", bound,
		    limit,
		    rule->measure == MEASURE_DAYS_SINCE ? "last" : "first",
		    rule->owner);
		return buffer;
	}
	if (is_season(rule->measure)) {
		(void)snprintf(buffer, size, "%s %s a year", bound, limit);
		return buffer;
	}
	if (rule->measure == MEASURE_MOWINGS) {
		(void)snprintf(buffer, size, "%s %s%s", bound, limit, when);
		return buffer;
	}
	exposure_print(when, sizeof when, &rule->exposure);
	if (phrase != NULL)
		(void)snprintf(buffer, size, "%s %s", phrase->wish, when);
	else
		(void)snprintf(buffer, size, "%s %s %s", bound, limit, when);
	return buffer;
}

char *
rule_print(
    char *buffer, size_t size, const struct rule *rule, enum unit_system units)
{
	char wish[REASON_BUFFER], name[REASON_BUFFER];
	phrase_wish(wish, sizeof wish, rule, units);
	phrase_name(name, sizeof name, rule);
	if (phrase_of(rule->measure) != NULL ||
	    distance_of(rule->measure) != NULL || is_days(rule->measure))
		(void)snprintf(buffer, size, "%s", wish);
	else
		(void)snprintf(buffer, size, "%s %s", name, wish);
	return buffer;
}

/* What is too far or too near, without a number. */
static bool
print_too(char *buffer, size_t size, const struct rule *rule)
{
	const struct distance *distance = distance_of(rule->measure);
	bool ceiling = bound_is_ceiling(rule->bound);
	const char *far = ceiling ? "long" : "soon";
	if (distance != NULL)
		(void)snprintf(buffer, size, "too %s %s %s", far,
		    side_of(distance, false), distance->what);
	else if (is_days(rule->measure))
		(void)snprintf(buffer, size, "too %s after the %s %s", far,
		    rule->measure == MEASURE_DAYS_SINCE ? "last" : "first",
		    rule->owner);
	else if (rule->measure == MEASURE_MOWINGS)
		(void)snprintf(buffer, size, "too %s mowings since seeding",
		    ceiling ? "many" : "few");
	else if (rule->measure == MEASURE_SEASON_COUNT)
		(void)snprintf(
		    buffer, size, "%s too often this year", rule->owner);
	else if (is_season(rule->measure))
		(void)snprintf(
		    buffer, size, "too much %s this year", subject_of(rule));
	else
		return false;
	return true;
}

char *
rule_print_short(
    char *buffer, size_t size, const struct rule *rule, enum unit_system units)
{
	char limit[QUANTITY_BUFFER], name[REASON_BUFFER];
	const struct phrase *phrase = phrase_of(rule->measure);
	if (print_too(buffer, size, rule))
		return buffer;
	if (phrase != NULL && rule->measure == MEASURE_WET &&
	    rule->exposure.from.seconds < 0)
		(void)snprintf(buffer, size, "wet leaves");
	else if (phrase != NULL)
		(void)snprintf(buffer, size, "%s", phrase->broken);
	else
		(void)snprintf(buffer, size, "%s %s %s",
		    phrase_name(name, sizeof name, rule),
		    bound_is_ceiling(rule->bound) ? "over" : "under",
		    phrase_value(
			limit, sizeof limit, rule, rule->limit, units));
	return buffer;
}
