/* What would help: the changes of advice/outcome.h, read from the masks. */
#include "advice/outcome.h"

#include "advice/facts.h"

#include <stdio.h>
#include <string.h>

enum { PLANES = (LIMIT_RULES + 31) / 32 };

/* The rules that bind after a change, as the verdicts' planes have them. */
struct binding {
	uint32_t plane[PLANES];
};

/* Some of a tank's products: bit p is the product of dose p. */
typedef unsigned products;

static bool
is_adjuvant(const struct tank_mix *tank, size_t p)
{
	return tank->dose[p].product->kind == PRODUCT_ADJUVANT;
}

static bool
has_need(
    const struct tank_mix *tank, products kept, enum adjuvant_need adjuvant)
{
	for (size_t p = 0; p < tank->count; p++)
		if ((kept >> p & 1) != 0 &&
		    tank->dose[p].product->adjuvant == adjuvant)
			return true;
	return false;
}

static products
adjuvants_of(const struct tank_mix *tank)
{
	products all = 0;
	for (size_t p = 0; p < tank->count; p++)
		if (is_adjuvant(tank, p))
			all |= 1U << p;
	return all;
}

/* What the tank is sprayed for; a dye alone does nothing. */
static products
herbicides_of(const struct tank_mix *tank)
{
	products found = 0;
	for (size_t p = 0; p < tank->count; p++)
		if (tank->dose[p].product->kind == PRODUCT_HERBICIDE)
			found |= 1U << p;
	return found;
}

/* True when a label of these counts applications or the days between them: what
   goes into both tanks is applied twice. */
static bool
has_count(const struct tank_mix *tank, products shared)
{
	for (size_t p = 0; p < tank->count; p++) {
		const struct product *product = tank->dose[p].product;
		if ((shared >> p & 1) == 0)
			continue;
		for (size_t r = 0; r < product->rule_count; r++)
			if (facts_answer(product->rules[r].measure) &&
			    product->rules[r].measure != MEASURE_DATES)
				return true;
	}
	return false;
}

/*
 * Whether these products can be sprayed without the others, and whether the
 * masks tell when. An adjuvant alone does nothing, and one that a label wants
 * stays. A practice rule was left unjudged only when every product with rules
 * of its own replaces it, so it stays replaced as long as one of those is
 * kept.
 */
static bool
is_tank(const struct tank_mix *tank, products kept)
{
	bool replaces = false, has_rules = false;
	for (size_t p = 0; p < tank->count; p++) {
		const struct product *product = tank->dose[p].product;
		replaces = replaces || product->override_count > 0;
		has_rules = has_rules ||
			    ((kept >> p & 1) != 0 && product->rule_count > 0);
	}
	products adjuvants = adjuvants_of(tank);
	products herbicides = herbicides_of(tank);
	return (kept & ~adjuvants) != 0 &&
	       (herbicides == 0 || (kept & herbicides) != 0) &&
	       (has_rules || !replaces) &&
	       ((kept & adjuvants) != 0 ||
		   !has_need(tank, kept, ADJUVANT_REQUIRED));
}

/* True for a rule of a product of the tank that is not among those kept. */
static bool
is_left_out(const struct tank_mix *tank, products kept, const struct rule *rule)
{
	for (size_t p = 0; p < tank->count; p++)
		if (rule->origin == ORIGIN_LABEL &&
		    strcmp(rule->owner, tank->dose[p].product->name) == 0)
			return (kept >> p & 1) == 0;
	return false;
}

static void
bind(struct binding *binding, size_t rule)
{
	binding->plane[rule / 32] |= (uint32_t)1 << rule % 32;
}

static struct binding
bind_products(const struct judgement *judgement, products kept)
{
	struct binding binding = { { 0 } };
	for (size_t r = 0; r < judgement->check_count; r++)
		if (!is_left_out(&judgement->job->tank, kept,
			&judgement->checks[r].rule))
			bind(&binding, r);
	return binding;
}

static struct binding
bind_without_preference(const struct judgement *judgement)
{
	struct binding binding = { { 0 } };
	for (size_t r = 0; r < judgement->check_count; r++)
		if (judgement->checks[r].rule.origin != ORIGIN_PREFERENCE)
			bind(&binding, r);
	return binding;
}

static bool
is_open(const struct verdicts *verdicts, const struct binding *binding,
    size_t start)
{
	for (size_t plane = 0; plane < verdicts->planes; plane++) {
		size_t word = plane * verdicts->count + start;
		if (((verdicts->broken[word] | verdicts->unknown[word]) &
			binding->plane[plane]) != 0)
			return false;
	}
	return true;
}

/* The first start from `from` on, INT64_MAX when there is none. */
static int64_t
first_open(const struct judgement *judgement, const struct binding *binding,
    int64_t from)
{
	const struct series *series = judgement->outlook->series;
	for (size_t i = 0; i < series->count; i++)
		if (judgement_allows(judgement, i, from) &&
		    is_open(judgement->verdicts, binding, i))
			return series_time(series, i);
	return INT64_MAX;
}

/* Puts it in its place by start, if it is among the first few. */
static size_t
add_sorted(struct help *helps, size_t count, const struct help *help)
{
	size_t at = count;
	while (at > 0 && helps[at - 1].start > help->start)
		at--;
	if (at == HELPS_WITHOUT)
		return count;
	if (count == HELPS_WITHOUT)
		count--;
	memmove(&helps[at + 1], &helps[at], (count - at) * sizeof *helps);
	helps[at] = *help;
	return count + 1;
}

static size_t
find_without(
    const struct judgement *judgement, int64_t before, struct help *ret)
{
	const struct tank_mix *tank = &judgement->job->tank;
	products all = (1U << tank->count) - 1;
	size_t count = 0;
	for (size_t p = 0; p < tank->count; p++) {
		products kept = all & ~(1U << p);
		if (!is_tank(tank, kept))
			continue;
		struct binding binding = bind_products(judgement, kept);
		struct help help = { .change = HELP_WITHOUT,
			.without = tank->dose[p].product,
			.start = first_open(
			    judgement, &binding, judgement->limits->now) };
		if (help.start < before)
			count = add_sorted(ret, count, &help);
	}
	return count;
}

static void
put_tank(const struct tank_mix *tank, products kept, struct tank_mix *ret)
{
	*ret = (struct tank_mix){ .count = 0 };
	for (size_t p = 0; p < tank->count; p++)
		if ((kept >> p & 1) != 0)
			ret->dose[ret->count++] = tank->dose[p];
}

/* One tank after the other; kept in *best when it is done earlier. */
static void
try_order(const struct judgement *judgement, products first, products second,
    struct help *best)
{
	const struct tank_mix *tank = &judgement->job->tank;
	struct binding one = bind_products(judgement, first);
	struct binding other = bind_products(judgement, second);
	int64_t start = first_open(judgement, &one, judgement->limits->now);
	if (start == INT64_MAX)
		return;
	int64_t second_start =
	    first_open(judgement, &other, start + judgement->limits->duration);
	if (second_start >= best->second_start)
		return;
	best->start = start;
	best->second_start = second_start;
	put_tank(tank, first, &best->first);
	put_tank(tank, second, &best->second);
}

/* The adjuvants go with each tank that may have them. */
static products
with_adjuvants(const struct tank_mix *tank, products kept)
{
	return has_need(tank, kept, ADJUVANT_FORBIDDEN)
		   ? kept
		   : kept | adjuvants_of(tank);
}

static size_t
find_split(const struct judgement *judgement, struct help *ret)
{
	const struct tank_mix *tank = &judgement->job->tank;
	products active = ((1U << tank->count) - 1) & ~adjuvants_of(tank);
	struct help best = { .change = HELP_SPLIT, .second_start = INT64_MAX };
	for (size_t p = 0; p < tank->count; p++) {
		products alone = active & 1U << p, rest = active & ~alone;
		if (alone == 0 || rest == 0)
			continue;
		alone = with_adjuvants(tank, alone);
		rest = with_adjuvants(tank, rest);
		if (!is_tank(tank, alone) || !is_tank(tank, rest) ||
		    has_count(tank, alone & rest))
			continue;
		try_order(judgement, alone, rest, &best);
		try_order(judgement, rest, alone, &best);
	}
	if (best.second_start == INT64_MAX)
		return 0;
	*ret = best;
	return 1;
}

size_t
helps_find(const struct judgement *judgement, struct help ret[HELPS_MAX])
{
	int64_t now = judgement->limits->now;
	struct binding all = bind_products(judgement, ~0U);
	struct binding hours = bind_without_preference(judgement);
	int64_t open = first_open(judgement, &all, now);
	size_t count = find_without(judgement, open, ret);
	if (open == INT64_MAX)
		count += find_split(judgement, &ret[count]);
	struct help help = { .change = HELP_HOURS,
		.start = first_open(judgement, &hours, now) };
	if (help.start < open)
		ret[count++] = help;
	return count;
}

char *
help_print(char *buffer, size_t size, const struct help *help,
    const struct zone *zone, enum civil_style style)
{
	char first[LIMIT_TEXT_BYTES], second[LIMIT_TEXT_BYTES];
	char when[CIVIL_BUFFER], later[CIVIL_BUFFER];
	civil_print(when, sizeof when, zone, help->start, style);
	switch (help->change) {
	case HELP_WITHOUT:
		(void)snprintf(
		    buffer, size, "Without %s: %s", help->without->name, when);
		break;
	case HELP_SPLIT:
		(void)snprintf(buffer, size,
		    "In two tanks: %s %s and, once that has dried, %s %s",
		    tank_print(first, sizeof first, &help->first), when,
		    tank_print(second, sizeof second, &help->second),
		    civil_print(
			later, sizeof later, zone, help->second_start, style));
		break;
	case HELP_HOURS:
		(void)snprintf(
		    buffer, size, "Outside the preferred hours: %s", when);
		break;
	}
	return buffer;
}
