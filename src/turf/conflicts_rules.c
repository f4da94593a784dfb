/* Limits of partners that no weather can satisfy together. */
#include "turf/conflicts_parts.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { SENTENCE = 256 };

/* Of which values of its exposure a rule speaks: of all, when they have to
   stay on its side of the limit. */
static bool
is_of_all(const struct rule *rule)
{
	if (bound_is_ceiling(rule->bound))
		return rule->fold == FOLD_MAX || rule->fold == FOLD_ANY;
	return rule->fold == FOLD_MIN;
}

bool
conflict_holds_at_start(const struct rule *rule)
{
	static const struct exposure start = { { ANCHOR_START, 0 },
		{ ANCHOR_START, 1 } };
	return is_of_all(rule) && exposure_meets(&start, &rule->exposure);
}

/* Measures that belong to one product, or that other parts look at. */
static bool
is_compared(enum measure measure)
{
	switch (measure) {
	case MEASURE_DORMANT:
	case MEASURE_GREEN_UP:
	case MEASURE_GREEN:
	case MEASURE_DAYS_SINCE:
	case MEASURE_DAYS_WAITED:
	case MEASURE_SEASON_COUNT:
	case MEASURE_SEASON_AMOUNT:
	case MEASURE_SEASON_ACTIVE:
	case MEASURE_DATES:
		return false;
	default:
		return true;
	}
}

/* "air temperature at most 85 °F during the job". */
static char *
print_wish(char *buffer, const struct rule *rule, enum unit_system units)
{
	static const char *const word[] = { [FOLD_MAX] = "once ",
		[FOLD_ANY] = "once ",
		[FOLD_MIN] = "once ",
		[FOLD_MEAN] = "on average ",
		[FOLD_SUM] = "in all " };
	const struct measure_info *info = measure_info(rule->measure);
	char limit[QUANTITY_BUFFER], when[EXPOSURE_BUFFER];
	exposure_print(when, sizeof when, &rule->exposure);
	quantity_print(limit, sizeof limit, rule->limit, info->kind, units);
	if (info->kind == QUANTITY_NUMBER && info->most == 1)
		(void)snprintf(buffer, SENTENCE, "%s%s %s",
		    bound_is_ceiling(rule->bound) ? "no " : "", info->label,
		    when);
	else
		(void)snprintf(buffer, SENTENCE, "%s %s%s %s %s", info->label,
		    is_of_all(rule) ? "" : word[rule->fold],
		    bound_word(rule->bound), limit, when);
	return buffer;
}

static void
compare_rules(struct finding *finding, const struct product *one,
    const struct product *other)
{
	enum unit_system units = finding->facts->units;
	char wish[SENTENCE], against[SENTENCE];
	for (size_t i = 0; i < one->rule_count; i++) {
		const struct rule *a = &one->rules[i];
		for (size_t j = 0; j < other->rule_count; j++) {
			const struct rule *b = &other->rules[j];
			if (!is_compared(a->measure) ||
			    (!rules_exclude(a, b) && !rules_exclude(b, a)))
				continue;
			finding_add(finding, true, "%s wants %s, %s wants %s",
			    one->name, print_wish(wish, a, units), other->name,
			    print_wish(against, b, units));
		}
	}
}

/* How long after the job a rule keeps water away without a break; 0: not at
   all. */
static double
dry_span(const struct rule *rule)
{
	const struct instant *to = &rule->exposure.to;
	bool ceiling = bound_is_ceiling(rule->bound);
	if (!is_of_all(rule))
		return 0;
	if (rule->measure == MEASURE_UNTIL_IRRIGATION && !ceiling)
		return rule->limit;
	const struct exposure after = { { ANCHOR_END, 0 }, *to };
	if (rule->measure == MEASURE_WET && ceiling && rule->limit < 1 &&
	    to->anchor == ANCHOR_END &&
	    exposure_inside(&after, &rule->exposure))
		return to->seconds;
	return 0;
}

static void
compare_water(struct finding *finding, const struct product *dry,
    const struct product *wet)
{
	double within = wet->water.within, span = dry->water.not_before;
	char dry_for[QUANTITY_BUFFER], wet_by[QUANTITY_BUFFER];
	for (size_t i = 0; i < dry->rule_count; i++)
		span = fmax(span, dry_span(&dry->rules[i]));
	if (wet->water.amount > 0 && within > 0 && within <= span)
		finding_add(finding, true,
		    "%s wants it dry for %s, %s wants water within %s",
		    dry->name, span_print(dry_for, sizeof dry_for, span),
		    wet->name, span_print(wet_by, sizeof wet_by, within));
}

void
find_rule_conflicts(struct finding *finding)
{
	const struct tank_mix *tank = &finding->job->tank;
	for (size_t a = 0; a < tank->count; a++) {
		const struct product *one = tank->dose[a].product;
		for (size_t b = a + 1; b < tank->count; b++) {
			const struct product *other = tank->dose[b].product;
			if (strcmp(one->name, other->name) == 0)
				continue;
			compare_rules(finding, one, other);
			compare_water(finding, one, other);
			compare_water(finding, other, one);
		}
	}
}
