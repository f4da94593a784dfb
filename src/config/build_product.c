/* Cards and practice limits. */
#include "config/build.h"

#include "config/cards.h"
#include "config/values.h"

#include <string.h>

static void
take_rules(
    struct build *build, const struct section *section, struct product *product)
{
	product->rules = arena_array(&build->config->arena,
	    section->item_count * CARD_RULES_MAX, sizeof *product->rules);
	for (size_t i = 0; i < section->item_count; i++) {
		const struct item *item = &section->item[i];
		struct rule *rules = &product->rules[product->rule_count];
		struct error error = { 0 };
		if (!card_is_rule(item->setting->name))
			continue;
		int count = card_expand(item->setting, item->value,
		    item->value_count, rules, &error);
		(void)build_judge(build, item, count >= 0, &error);
		for (int r = 0; r < count; r++) {
			rules[r].origin = ORIGIN_LABEL;
			rules[r].owner = product->name;
			rules[r].source = product->label;
			if (rules[r].measure == MEASURE_DAYS_SINCE)
				product->retreatment = rules[r].limit;
		}
		product->rule_count += count > 0 ? (size_t)count : 0;
	}
}

static void
take_overrides(
    struct build *build, const struct section *section, struct product *product)
{
	struct arena *arena = &build->config->arena;
	const struct item *item = section_item(section, "label-rules");
	struct error error = { 0 };
	size_t position;
	if (item == NULL)
		return;
	product->overrides =
	    arena_array(arena, item->value_count, sizeof *product->overrides);
	for (size_t i = 0; i < item->value_count; i++)
		if (build_judge(build, item,
			value_choice(item->setting->words, item->value[i],
			    &position, &error),
			&error))
			product->overrides[product->override_count++] =
			    arena_string(arena, item->value[i]);
}

/*
 * True when nothing satisfies both. A floor under the highest of a day does
 * not contradict a ceiling during the job: mornings are cooler.
 */
static bool
exclude(const struct rule *low, const struct rule *high)
{
	if (bound_is_ceiling(low->bound) || !bound_is_ceiling(high->bound) ||
	    low->measure != high->measure || low->fold != FOLD_MIN)
		return false;
	bool strict = low->bound == BOUND_ABOVE || high->bound == BOUND_BELOW;
	return low->limit > high->limit ||
	       (strict && low->limit >= high->limit);
}

/* A floor over its own ceiling can never be kept. */
static void
check_contradictions(struct build *build, const struct section *section,
    const struct product *product)
{
	for (size_t a = 0; a < product->rule_count; a++) {
		const struct rule *low = &product->rules[a];
		for (size_t b = 0; b < product->rule_count; b++) {
			const struct rule *high = &product->rules[b];
			if (!exclude(low, high))
				continue;
			struct error error = { 0 };
			const struct item *item =
			    section_item(section, low->name);
			(void)build_judge(build, item,
			    error_set(&error, ERROR_INPUT,
				"this floor leaves nothing under the ceiling "
				"%s in line %d",
				high->name,
				section_item(section, high->name)->line),
			    &error);
		}
	}
}

void
build_product(struct build *build, const struct section *section)
{
	struct config *config = build->config;
	struct product *product = &config->products[config->product_count++];
	product->name = arena_string(&config->arena, section->title);
	product->label = build_keep(build, section, "label");
	product->formulation = build_keep(build, section, "formulation");
	product->keep_off = build_quantity(build, section, "keep-off");
	const struct item *rate = section_item(section, "rate");
	struct error error = { 0 };
	if (rate != NULL)
		(void)build_judge(build, rate,
		    value_rate(rate->value[0], &product->rate,
			&product->rate_kind, &error),
		    &error);
	take_rules(build, section, product);
	take_overrides(build, section, product);
	check_contradictions(build, section, product);
}

void
build_practice(struct build *build, const struct section *section)
{
	struct config *config = build->config;
	const struct setting *setting =
	    setting_find(PLACE_PRODUCT, section->title);
	const struct item *item = section_item(section, "limit");
	struct error error = { 0 };
	/* the states of turf and the days between are a product's alone */
	if (setting == NULL || !card_is_rule(section->title) ||
	    setting->kind == SETTING_WORDS ||
	    strcmp(section->title, "re-treatment") == 0) {
		document_complain_section(build->document, section,
		    "there is no practice limit of that name");
		return;
	}
	if (item == NULL)
		return;
	struct rule *rules = &config->practice[config->practice_count];
	int count =
	    card_expand(setting, item->value, item->value_count, rules, &error);
	(void)build_judge(build, item, count >= 0, &error);
	for (int r = 0; r < count; r++) {
		rules[r].origin = ORIGIN_PRACTICE;
		rules[r].owner = "practice";
		rules[r].source = build_keep(build, section, "source");
	}
	config->practice_count += count > 0 ? (size_t)count : 0;
}
