#include "advice/rulebook.h"

#include "advice/derive.h"
#include "base/memory.h"

#include <stdlib.h>
#include <string.h>

/* More than LIMIT_RULES cannot be configured. */
static void
add_rule(
    struct rulebook *book, const struct rule *rule, const struct series *series)
{
	if (book->count == LIMIT_RULES)
		return;
	book->check[book->count++] = (struct check){ .rule = *rule,
		.column = series->column[rule->measure],
		.continuous = series->continuous[rule->measure] };
}

static bool
asks_days_since(const struct product *product)
{
	for (size_t i = 0; i < product->rule_count; i++)
		if (product->rules[i].measure == MEASURE_DAYS_SINCE)
			return true;
	return false;
}

/* `since`: the days-since column of this product; NULL when no rule asks. */
static void
add_card(struct rulebook *book, const struct product *product,
    const struct series *series, const float *since)
{
	for (size_t i = 0; i < product->rule_count; i++) {
		size_t before = book->count;
		add_rule(book, &product->rules[i], series);
		if (product->rules[i].measure == MEASURE_DAYS_SINCE &&
		    book->count > before)
			book->check[before].column = since;
	}
}

static bool
overrides(const struct product *product, const char *rule)
{
	for (size_t i = 0; i < product->override_count; i++)
		if (strcmp(product->overrides[i], rule) == 0)
			return true;
	return false;
}

/*
 * A practice rule gives way only when every product in the tank that has
 * rules of its own says that its label rules here.
 */
static bool
is_replaced(const struct tank_mix *tank, const char *rule)
{
	bool replaced = false;
	for (size_t p = 0; p < tank->count; p++) {
		const struct product *product = tank->dose[p].product;
		if (overrides(product, rule))
			replaced = true;
		else if (product->rule_count > 0)
			return false;
	}
	return replaced;
}

static void
add_preferences(
    struct rulebook *book, const struct site *site, const struct series *series)
{
	const struct rule hours = { .name = "hours",
		.measure = MEASURE_HOURS,
		.fold = FOLD_MIN,
		.exposure = { { ANCHOR_START, 0 }, { ANCHOR_END, 0 } },
		.bound = BOUND_AT_LEAST,
		.limit = 1,
		.origin = ORIGIN_PREFERENCE,
		.owner = site->name,
		.source = "" };
	if (site->hours_count > 0)
		add_rule(book, &hours, series);
}

void
rulebook_init(struct rulebook *book, const struct job *job,
    const struct practice *practice, const struct series *series,
    const struct application *applications, size_t application_count)
{
	*book = (struct rulebook){ 0 };
	for (size_t p = 0; p < job->tank.count; p++) {
		const struct product *product = job->tank.dose[p].product;
		float *since = NULL;
		if (asks_days_since(product)) {
			since = memory_array(series->count, sizeof *since);
			derive_days_since(series, job->site, product->name,
			    applications, application_count, since);
			book->since[book->since_count++] = since;
		}
		add_card(book, product, series, since);
	}
	for (size_t i = 0; i < practice->count; i++)
		if (!is_replaced(&job->tank, practice->rules[i].name))
			add_rule(book, &practice->rules[i], series);
	add_preferences(book, job->site, series);
}

void
rulebook_release(struct rulebook *book)
{
	if (book == NULL)
		return;
	for (size_t i = 0; i < book->since_count; i++)
		free(book->since[i]);
	*book = (struct rulebook){ 0 };
}
