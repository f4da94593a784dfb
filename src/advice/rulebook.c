#include "advice/rulebook.h"

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

/* So that a reason can name the side that the wind blows towards. */
static void
name_sides(struct rulebook *book, const struct site *site)
{
	for (size_t i = 0; i < book->count; i++)
		if (book->check[i].rule.measure == MEASURE_DRIFT)
			book->check[i].site = site;
}

static bool
is_same_text(const char *a, const char *b)
{
	return a == b || (a != NULL && b != NULL && strcmp(a, b) == 0);
}

/* Two limits on one measure of one product share its column. The days waited
   depend on the limit. */
static bool
asks_the_same(const struct rule *a, const struct rule *b)
{
	return a->measure == b->measure &&
	       is_same_text(a->subject, b->subject) &&
	       (a->measure != MEASURE_DAYS_WAITED || a->limit == b->limit);
}

/* What the rules of one card are added from. */
struct card {
	const struct job *job;
	const struct dose *dose;
	const struct series *series;
	const struct past *past;
	size_t first; /* its first rule in the book */
};

static const float *
find_fact(struct rulebook *book, const struct card *card,
    const struct rule *rule, size_t end)
{
	for (size_t i = card->first; i < end; i++)
		if (asks_the_same(&book->check[i].rule, rule))
			return book->check[i].column;
	const struct facts_question question = { rule, card->job, card->dose,
		card->past };
	return book->fact[book->fact_count++] =
		   facts_column(&question, card->series);
}

static void
add_card(struct rulebook *book, const struct card *card)
{
	const struct product *product = card->dose->product;
	for (size_t i = 0; i < product->rule_count; i++) {
		const struct rule *rule = &product->rules[i];
		size_t place = book->count;
		add_rule(book, rule, card->series);
		if (facts_answer(rule->measure) && book->count > place)
			book->check[place].column =
			    find_fact(book, card, rule, place);
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
    const struct past *past)
{
	static const struct past none = { 0 };
	*book = (struct rulebook){ 0 };
	for (size_t i = 0; i < job->tank.count; i++) {
		const struct card card = { job, &job->tank.dose[i], series,
			past == NULL ? &none : past, book->count };
		add_card(book, &card);
	}
	for (size_t i = 0; i < practice->count; i++)
		if (!is_replaced(&job->tank, practice->rules[i].name))
			add_rule(book, &practice->rules[i], series);
	add_preferences(book, job->site, series);
	name_sides(book, job->site);
}

bool
rulebook_counts_promised(const struct rulebook *book)
{
	for (size_t i = 0; i < book->count; i++)
		if (facts_count_promised(book->check[i].rule.measure))
			return true;
	return false;
}

void
rulebook_release(struct rulebook *book, struct outlook *outlook)
{
	if (book == NULL)
		return;
	for (size_t i = 0; i < book->fact_count; i++) {
		if (outlook != NULL)
			outlook_forget(outlook, book->fact[i]);
		free(book->fact[i]);
	}
	*book = (struct rulebook){ 0 };
}
