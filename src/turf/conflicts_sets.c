/* States of the turf, days of the year and kinds of turf: what each card
   allows is a set, and a tank needs one thing that all of them allow. */
#include "turf/conflicts_parts.h"

#include "base/text.h"

#include <stdio.h>

enum { WORDS = 6, DAYS = 366 };

struct set {
	uint64_t word[WORDS];
};

typedef void print_set(struct text *text, const struct product *product);

static void
put(struct set *set, int i)
{
	set->word[i / 64] |= UINT64_C(1) << (i % 64);
}

static struct set
full_set(int count)
{
	struct set set = { { 0 } };
	for (int i = 0; i < count; i++)
		put(&set, i);
	return set;
}

/* Do the chosen sets have nothing in common? */
static bool
is_empty(const struct set *sets, size_t count, unsigned chosen)
{
	for (size_t w = 0; w < WORDS; w++) {
		uint64_t common = UINT64_MAX;
		for (size_t i = 0; i < count; i++)
			if ((chosen >> i & 1) != 0)
				common &= sets[i].word[w];
		if (common != 0)
			return false;
	}
	return true;
}

/* Nothing suits all of the chosen, but something suits all but any one. */
static bool
is_core(const struct set *sets, size_t count, unsigned chosen)
{
	if (!is_empty(sets, count, chosen))
		return false;
	for (size_t i = 0; i < count; i++)
		if ((chosen >> i & 1) != 0 &&
		    is_empty(sets, count, chosen & ~(1U << i)))
			return false;
	return true;
}

/* "no day of the year suits pre-a (1 Mar to 15 May) and post-b (1 Nov to 28
   Feb)"; the smallest groups of products alone, so that each can be helped. */
static void
tell_cores(struct finding *finding, const struct set *sets, const char *what,
    print_set *print)
{
	const struct tank_mix *tank = &finding->job->tank;
	for (unsigned chosen = 1; chosen < 1U << tank->count; chosen++) {
		struct text text;
		if (!is_core(sets, tank->count, chosen))
			continue;
		text_init(&text, CONFLICT_TEXT);
		for (size_t i = 0; i < tank->count; i++) {
			const struct product *product = tank->dose[i].product;
			unsigned rest = chosen >> i;
			if ((rest & 1) == 0)
				continue;
			const char *link = rest == 1 ? " and " : ", ";
			text_format(&text, "%s%s (",
			    text.length > 0 ? link : "", product->name);
			print(&text, product);
			text_add(&text, ")");
		}
		finding_add(
		    finding, true, "no %s suits %s", what, text_string(&text));
		text_release(&text);
	}
}

/* May the turf be in that state when the job starts? */
static bool
allows_state(const struct product *product, enum turf_state state)
{
	static const enum measure measure[TURF_STATES] = { MEASURE_DORMANT,
		MEASURE_GREEN_UP, MEASURE_GREEN };
	for (size_t i = 0; i < product->rule_count; i++) {
		const struct rule *rule = &product->rules[i];
		bool ceiling = bound_is_ceiling(rule->bound);
		bool none = ceiling && rule->limit < 1;
		bool only = !ceiling && rule->limit > 0;
		if (!conflict_holds_at_start(rule))
			continue;
		for (size_t s = 0; s < TURF_STATES; s++)
			if (rule->measure == measure[s] &&
			    (s == state ? none : only))
				return false;
	}
	return true;
}

static void
print_states(struct text *text, const struct product *product)
{
	static const char *const word[TURF_STATES] = { "dormant", "green-up",
		"green" };
	size_t before = text->length;
	for (size_t state = 0; state < TURF_STATES; state++)
		if (allows_state(product, (enum turf_state)state))
			text_format(text, "%s%s",
			    text->length > before ? ", " : "", word[state]);
	if (text->length == before)
		text_add(text, "none");
}

/* The place of a day in a year with a 29 February. */
static int
day_of(int month, int day)
{
	static const int before[] = { 0, 31, 60, 91, 121, 152, 182, 213, 244,
		274, 305, 335 };
	return before[month - 1] + day - 1;
}

static struct set
days_of(const struct product *product)
{
	struct set set = { { 0 } };
	if (product->date_count == 0)
		return full_set(DAYS);
	for (size_t i = 0; i < product->date_count; i++) {
		const struct date_span *span = &product->date[i];
		int day = day_of(span->from_month, span->from_day);
		int last = day_of(span->to_month, span->to_day);
		for (; day != last; day = (day + 1) % DAYS)
			put(&set, day);
		put(&set, last);
	}
	return set;
}

static void
print_dates(struct text *text, const struct product *product)
{
	static const char *const month[] = { "Jan", "Feb", "Mar", "Apr", "May",
		"Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec" };
	for (size_t i = 0; i < product->date_count; i++) {
		const struct date_span *span = &product->date[i];
		text_format(text, "%s%d %s to %d %s", i > 0 ? ", " : "",
		    span->from_day, month[span->from_month - 1], span->to_day,
		    month[span->to_month - 1]);
	}
}

char *
species_print(char *buffer, size_t size, unsigned species)
{
	static const char *const word[TURF_SPECIES_END] = { "", "bermuda",
		"zoysia", "centipede", "St. Augustine" };
	size_t used = 0;
	buffer[0] = '\0';
	for (unsigned i = TURF_BERMUDA; i < TURF_SPECIES_END; i++) {
		if ((species >> i & 1) == 0 || used >= size)
			continue;
		int wrote = snprintf(buffer + used, size - used, "%s%s",
		    used > 0 ? ", " : "", word[i]);
		used += wrote > 0 ? (size_t)wrote : 0;
	}
	return buffer;
}

static void
print_species(struct text *text, const struct product *product)
{
	char list[64];
	text_add(text, species_print(list, sizeof list, product->species));
}

void
find_empty_sets(struct finding *finding)
{
	const struct tank_mix *tank = &finding->job->tank;
	struct set states[LIMIT_TANK_PRODUCTS] = { 0 };
	struct set days[LIMIT_TANK_PRODUCTS] = { 0 };
	struct set species[LIMIT_TANK_PRODUCTS] = { 0 };
	for (size_t i = 0; i < tank->count; i++) {
		const struct product *product = tank->dose[i].product;
		days[i] = days_of(product);
		for (int state = 0; state < TURF_STATES; state++)
			if (allows_state(product, (enum turf_state)state))
				put(&states[i], state);
		if (product->species == 0)
			species[i] = full_set(TURF_SPECIES_END);
		else
			species[i].word[0] = product->species;
	}
	tell_cores(finding, states, "state of the turf", print_states);
	tell_cores(finding, days, "day of the year", print_dates);
	/* else each card that is not for this turf says so itself */
	if (finding->job->site->species == TURF_UNSAID)
		tell_cores(finding, species, "turf", print_species);
}
