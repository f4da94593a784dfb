#include "turf/follow.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

struct list {
	const struct follow_facts *facts;
	struct follow *follow;
	size_t count;
};

/* The measure of a card's floor that holds something up. */
static enum measure
held_by(enum follow_kind kind)
{
	switch (kind) {
	case FOLLOW_IRRIGATION:
		return MEASURE_UNTIL_IRRIGATION;
	case FOLLOW_MOWING:
		return MEASURE_UNTIL_MOWING;
	case FOLLOW_AERATING:
		return MEASURE_UNTIL_AERATING;
	case FOLLOW_OVERSEEDING:
		return MEASURE_UNTIL_OVERSEEDING;
	default:
		return MEASURE_UNTIL_SEEDING;
	}
}

static void
add(struct list *list, enum follow_kind kind, const struct product *product,
    int64_t from, int64_t to)
{
	list->follow[list->count++] =
	    (struct follow){ kind, product, from, to };
}

void
water_span(const struct water_wanted *water, const struct zone *zone,
    int64_t applied, int64_t *ret_opens, int64_t *ret_closes)
{
	int64_t within = (int64_t)water->within;
	*ret_opens = applied + (int64_t)water->not_before;
	*ret_closes = applied + within;
	if (within > INT64_C(2) * DAY_SECONDS && within % DAY_SECONDS == 0)
		*ret_closes = civil_day_start(
		    zone, civil_day(zone, applied) + within / DAY_SECONDS + 1);
}

int64_t
solution_until(
    const struct product *product, const struct zone *zone, int64_t made)
{
	if (product != NULL && product->stock_keeps > 0)
		return made + (int64_t)product->stock_keeps;
	return civil_day_start(zone, civil_day(zone, made) + 1);
}

double
tank_keep_off(const struct tank_mix *tank, double least)
{
	double span = 0;
	for (size_t i = 0; i < tank->count; i++)
		span = fmax(span, tank->dose[i].product->keep_off);
	return span > 0 ? span : least;
}

static double
hold_of(const struct product *product, enum measure measure)
{
	double hold = 0;
	for (size_t i = 0; i < product->rule_count; i++) {
		const struct rule *rule = &product->rules[i];
		if (rule->measure == measure && !bound_is_ceiling(rule->bound))
			hold = fmax(hold, rule->limit);
	}
	return hold;
}

static void
add_hold(struct list *list, enum follow_kind kind)
{
	const struct tank_mix *tank = list->facts->tank;
	const struct product *longest = NULL;
	double most = 0;
	for (size_t i = 0; i < tank->count; i++) {
		const struct product *product = tank->dose[i].product;
		double hold = hold_of(product, held_by(kind));
		longest = hold > most ? product : longest;
		most = fmax(most, hold);
	}
	if (longest != NULL)
		add(list, kind, longest, list->facts->to,
		    list->facts->to + (int64_t)most);
}

static void
add_water(struct list *list, const struct product *product)
{
	int64_t opens, closes;
	if (!(product->water.amount > 0))
		return;
	water_span(&product->water, &list->facts->site->zone, list->facts->to,
	    &opens, &closes);
	add(list, FOLLOW_WATER, product, opens, closes);
}

static void
add_look(struct list *list, const struct product *product)
{
	int64_t at = list->facts->to + (int64_t)product->effect;
	if (product->effect > 0)
		add(list, FOLLOW_LOOK, product, at, INT64_MAX);
}

/* The limit of the first rule on that measure; infinite without one. */
static double
limit_of(const struct product *product, enum measure measure)
{
	for (size_t i = 0; i < product->rule_count; i++)
		if (product->rules[i].measure == measure)
			return product->rules[i].limit;
	return (double)INFINITY;
}

static int
year_of(const struct zone *zone, int64_t at)
{
	return civil_from_utc(zone, at).year;
}

/* Is it over, or used up for the year of that moment? */
static bool
is_over(const struct follow_facts *facts, const struct product *product,
    int64_t again)
{
	const struct zone *zone = &facts->site->zone;
	double used = year_of(zone, facts->from) == year_of(zone, again);
	for (size_t i = 0; i < facts->application_count; i++) {
		const struct application *one = &facts->applications[i];
		if (strcmp(one->site, facts->site->name) != 0 ||
		    strcmp(one->product, product->name) != 0 ||
		    one->at == facts->from)
			continue;
		if (one->at > facts->from)
			return true;
		used += year_of(zone, one->at) == year_of(zone, again);
	}
	return used + 1 > limit_of(product, MEASURE_SEASON_COUNT);
}

static void
add_again(struct list *list, const struct product *product)
{
	const struct zone *zone = &list->facts->site->zone;
	int64_t day = civil_day(zone, list->facts->from);
	double most = limit_of(product, MEASURE_DAYS_WAITED);
	if (!(product->retreatment > 0))
		return;
	int64_t from =
	    civil_day_start(zone, day + (int64_t)product->retreatment);
	int64_t to = isfinite(most)
			 ? civil_day_start(zone, day + (int64_t)most + 1)
			 : INT64_MAX;
	if (!is_over(list->facts, product, from))
		add(list, FOLLOW_AGAIN, product, from, to);
}

size_t
follow_list(const struct follow_facts *facts, struct follow ret[FOLLOWS_MOST])
{
	static void (*const adders[])(struct list *,
	    const struct product *) = { add_water, add_look, add_again };
	struct list list = { facts, ret, 0 };
	double keep_off = tank_keep_off(facts->tank, facts->keep_off);
	add(&list, FOLLOW_KEEP_OFF, NULL, facts->to,
	    facts->to + (int64_t)keep_off);
	for (int kind = FOLLOW_IRRIGATION; kind <= FOLLOW_SEEDING; kind++)
		add_hold(&list, (enum follow_kind)kind);
	for (size_t a = 0; a < sizeof adders / sizeof adders[0]; a++)
		for (size_t i = 0; i < facts->tank->count; i++)
			adders[a](&list, facts->tank->dose[i].product);
	return list.count;
}

/* The last moment of a span: its day when it ends with one. */
static char *
print_end(char *buffer, size_t size, const struct zone *zone, int64_t to)
{
	bool whole = civil_day_start(zone, civil_day(zone, to)) == to;
	return civil_print(buffer, size, zone, whole ? to - 1 : to,
	    whole ? CIVIL_DAY : CIVIL_DAY_CLOCK);
}

static void
print_product(char *buffer, size_t size, const struct follow *follow,
    const struct zone *zone, enum unit_system units)
{
	const struct product *product = follow->product;
	char from[CIVIL_BUFFER], to[CIVIL_BUFFER] = "", amount[QUANTITY_BUFFER];
	if (follow->to != INT64_MAX)
		print_end(to, sizeof to, zone, follow->to);
	if (follow->kind == FOLLOW_WATER)
		(void)snprintf(buffer, size, "%s: %s of water from %s to %s",
		    product->name,
		    quantity_print(amount, sizeof amount, product->water.amount,
			QUANTITY_RAIN, units),
		    civil_print(
			from, sizeof from, zone, follow->from, CIVIL_DAY_CLOCK),
		    to);
	else if (follow->kind == FOLLOW_LOOK)
		(void)snprintf(buffer, size, "%s: look at the result from %s",
		    product->name,
		    civil_print(
			from, sizeof from, zone, follow->from, CIVIL_DAY));
	else
		(void)snprintf(buffer, size, "%s: %s %s%s%s", product->name,
		    to[0] != '\0' ? "second application from"
				  : "not again before",
		    civil_print(
			from, sizeof from, zone, follow->from, CIVIL_DAY),
		    to[0] != '\0' ? " to " : "", to);
}

char *
follow_print(char *buffer, size_t size, const struct follow *follow,
    const struct zone *zone, enum unit_system units)
{
	static const char *const verb[] = { "keep off until",
		"no irrigation before", "mow again from", "no aerating before",
		"no overseeding before", "no seeding before" };
	char to[CIVIL_BUFFER];
	if (follow->kind > FOLLOW_SEEDING)
		print_product(buffer, size, follow, zone, units);
	else
		(void)snprintf(buffer, size, "%s %s%s", verb[follow->kind],
		    civil_print(
			to, sizeof to, zone, follow->to, CIVIL_DAY_CLOCK),
		    follow->kind == FOLLOW_KEEP_OFF ? " and until dry" : "");
	return buffer;
}
