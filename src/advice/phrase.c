/* Reasons as sentences: those of advice/reason.h. */
#include "advice/phrase.h"

#include "advice/reason.h"
#include "base/limits.h"

#include <math.h>
#include <stdio.h>

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
	const struct phrase *phrase = phrase_of(rule->measure);
	char when[CIVIL_BUFFER], rain[QUANTITY_BUFFER * 2 + 8] = "";
	char exposure[EXPOSURE_BUFFER], broken[LIMIT_NAME_BYTES * 2];
	exposure_print(exposure, sizeof exposure, &rule->exposure);
	if (reason->verdict == VERDICT_GO) {
		(void)snprintf(buffer, size, "%s %s", phrase->kept, exposure);
		return;
	}
	if (rule->measure == MEASURE_WET)
		print_rain(rain, sizeof rain, reason, units);
	(void)snprintf(broken, sizeof broken, "%s", phrase->broken);
	if (reason->side != NULL)
		(void)snprintf(broken, sizeof broken, "wind towards the %.80s",
		    reason->side);
	(void)snprintf(buffer, size, "%s %s%s, wanted %s %s", broken,
	    civil_print(when, sizeof when, zone, reason->at, CIVIL_DAY_CLOCK),
	    rain, phrase->wish, exposure);
}

/* What is not known, in a word or two. */
static char *
print_unknown(char *buffer, size_t size, const struct rule *rule)
{
	const char *name = NULL;
	switch (rule->measure) {
	case MEASURE_WET:
		name = "rain";
		break;
	case MEASURE_INVERSION:
		name = "the risk of an inversion";
		break;
	case MEASURE_DRIFT:
		name = "where the wind blows";
		break;
	case MEASURE_ALERT_WIND:
	case MEASURE_ALERT_FREEZE:
	case MEASURE_ALERT_HEAT:
	case MEASURE_ALERT_FLOOD:
	case MEASURE_ALERT_SMOKE:
		name = "official alerts";
		break;
	case MEASURE_DORMANT:
	case MEASURE_GREEN_UP:
	case MEASURE_GREEN:
		name = "the turf's state";
		break;
	case MEASURE_SEASON_AMOUNT:
	case MEASURE_SEASON_ACTIVE:
		(void)snprintf(buffer, size, "how much %s this year",
		    rule->subject != NULL ? rule->subject : rule->owner);
		return buffer;
	default:
		name = measure_info(rule->measure)->label;
		break;
	}
	(void)snprintf(buffer, size, "%s", name);
	return buffer;
}

/* " Tue 3 Mar 15:00"; what adds up over an exposure begins there. */
static void
print_moment(char *buffer, size_t size, const struct reason *reason,
    const struct zone *zone)
{
	char when[CIVIL_BUFFER];
	enum fold fold = reason->rule->fold;
	bool adds = fold == FOLD_SUM || fold == FOLD_MEAN;
	buffer[0] = '\0';
	if (phrase_has_moment(reason->rule))
		(void)snprintf(buffer, size, "%s %s%s", adds ? " from" : "",
		    civil_print(
			when, sizeof when, zone, reason->at, CIVIL_DAY_CLOCK),
		    adds ? " on" : "");
}

char *
reason_print(char *buffer, size_t size, const struct reason *reason,
    const struct zone *zone, enum unit_system units)
{
	const struct rule *rule = reason->rule;
	char wish[REASON_BUFFER], found[REASON_BUFFER];
	char when[CIVIL_BUFFER + sizeof " from  on"];
	phrase_wish(wish, sizeof wish, rule, units);
	if (reason->verdict == VERDICT_UNKNOWN) {
		(void)snprintf(buffer, size, "%s not known, wanted %s",
		    print_unknown(found, sizeof found, rule), wish);
	} else if (phrase_of(rule->measure) != NULL) {
		print_yes_or_no(buffer, size, reason, zone, units);
	} else {
		phrase_found(found, sizeof found, rule, reason->value, units);
		print_moment(when, sizeof when, reason, zone);
		(void)snprintf(
		    buffer, size, "%s%s, wanted %s", found, when, wish);
	}
	return buffer;
}

enum quantity_kind
reason_margin_kind(const struct rule *rule)
{
	enum quantity_kind kind = rule_kind(rule);
	if (rule->fold == FOLD_ANY)
		return QUANTITY_SPAN;
	return kind == QUANTITY_TEMPERATURE ? QUANTITY_TEMPERATURE_DIFFERENCE
					    : kind;
}

/* Inside or outside, with nothing to count. */
static bool
is_either_or(const struct reason *reason)
{
	enum measure measure = reason->rule->measure;
	return measure == MEASURE_HOURS || measure == MEASURE_DATES ||
	       isinf(reason->margin);
}

char *
reason_print_margin(char *buffer, size_t size, const struct reason *reason,
    enum unit_system units)
{
	const struct rule *rule = reason->rule;
	enum quantity_kind kind = reason_margin_kind(rule);
	char amount[QUANTITY_BUFFER];
	bool keeps = reason->verdict == VERDICT_GO;
	if (reason->verdict == VERDICT_UNKNOWN) {
		(void)snprintf(buffer, size, "not known");
		return buffer;
	}
	if (is_either_or(reason)) {
		(void)snprintf(buffer, size, "%s", keeps ? "clear" : "no");
		return buffer;
	}
	double distance = fabs(reason->margin);
	if (rule->fold != FOLD_ANY && (rule->measure == MEASURE_DAYS_SINCE ||
					  rule->measure == MEASURE_DAYS_WAITED))
		phrase_value(amount, sizeof amount, rule, distance, units);
	else
		quantity_print(amount, sizeof amount, distance, kind, units);
	const char *word = keeps                           ? "to spare"
			   : rule->fold == FOLD_ANY        ? "short"
			   : bound_is_ceiling(rule->bound) ? "over"
							   : "under";
	(void)snprintf(buffer, size, "%s %s", amount, word);
	return buffer;
}
