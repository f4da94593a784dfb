/* A whole card as lines: what it is, what it limits, what it leaves out. */
#ifndef TESTS_UNIT_CARD_PRINT_H
#define TESTS_UNIT_CARD_PRINT_H

#include "advice/reason.h"
#include "config/config.h"

#include <string.h>

static inline void
print_names(
    struct text *text, const char *what, const char **names, size_t count)
{
	for (size_t i = 0; i < count; i++)
		text_format(text, "%s %s\n", what, names[i]);
}

/* " at least 1 pt/acre" in US units; nothing for 0. */
static inline void
print_amount(
    struct text *text, const char *what, double value, enum quantity_kind kind)
{
	char amount[QUANTITY_BUFFER];
	if (value > 0)
		text_format(text, "%s %s\n", what,
		    quantity_print(
			amount, sizeof amount, value, kind, UNITS_US));
}

static inline void
print_actives(struct text *text, const struct product *product)
{
	for (size_t i = 0; i < product->active_count; i++) {
		const struct active *active = &product->active[i];
		text_format(text, "active %s %.4g %s\n", active->name,
		    active->content, active->is_liquid ? "g/L" : "g/g");
	}
}

static inline void
print_species(struct text *text, unsigned species)
{
	static const char *const names[TURF_SPECIES_END] = { "", "bermuda",
		"zoysia", "centipede", "st-augustine" };
	for (int s = TURF_BERMUDA; s < TURF_SPECIES_END; s++)
		if ((species & 1U << s) != 0)
			text_format(text, "species %s\n", names[s]);
}

static inline void
print_water(struct text *text, const struct water_wanted *water)
{
	char within[QUANTITY_BUFFER], after[QUANTITY_BUFFER];
	if (water->amount > 0)
		text_format(text, "water %.4g mm within %s, not before %s\n",
		    water->amount,
		    span_print(within, sizeof within, water->within),
		    span_print(after, sizeof after, water->not_before));
}

static inline void
print_rules(struct text *text, const struct product *product)
{
	for (size_t i = 0; i < product->rule_count; i++) {
		const struct rule *rule = &product->rules[i];
		char words[REASON_BUFFER];
		text_format(text, "%s: %s", rule->name,
		    rule_print(words, sizeof words, rule, UNITS_US));
		if (rule->wording != NULL)
			text_format(text, " \"%s\"", rule->wording);
		if (strcmp(rule->source, product->label) != 0)
			text_format(text, " (%s)", rule->source);
		text_add(text, "\n");
	}
}

static inline void
print_card(struct text *text, const struct product *product)
{
	static const char *const adjuvants[] = { "", "required", "forbidden" };
	text_format(text, "%s\n", product->name);
	print_actives(text, product);
	print_names(text, "group", product->group, product->group_count);
	print_species(text, product->species);
	print_amount(text, "rate", product->rate, product->rate_kind);
	print_amount(
	    text, "rate at least", product->rate_least, product->rate_kind);
	print_amount(
	    text, "rate at most", product->rate_most, product->rate_kind);
	print_amount(text, "carrier at least", product->carrier_least,
	    QUANTITY_VOLUME_PER_AREA);
	print_amount(text, "carrier at most", product->carrier_most,
	    QUANTITY_VOLUME_PER_AREA);
	if (product->adjuvant != ADJUVANT_UNSAID)
		text_format(
		    text, "adjuvant %s\n", adjuvants[product->adjuvant]);
	if (product->droplets_least != DROPLETS_UNSAID)
		text_format(
		    text, "droplets %d\n", (int)product->droplets_least);
	print_names(
	    text, "not with", product->not_with, product->not_with_count);
	print_water(text, &product->water);
	print_amount(text, "keep off", product->keep_off, QUANTITY_SPAN);
	print_rules(text, product);
	print_names(text, "note", product->note, product->note_count);
	print_names(
	    text, "silent on", product->missing, product->missing_count);
	text_add(text, "\n");
}

#endif
