/* The limits of cards and of practice. */
#include "config/build.h"

#include "config/cards.h"
#include "config/values.h"
#include "physics/wind.h"

#include <stdio.h>
#include <string.h>
#include <strings.h>

static bool
read_said(struct build *build, const struct item *item, struct said *ret)
{
	struct error error = { 0 };
	for (size_t i = 0; i < item->value_count; i++)
		if (!build_judge(build, item,
			value_said(&build->config->arena, item->value[i],
			    &ret[i], &error),
			&error))
			return false;
	return true;
}

/* The label, and the place on it: "invented label, 2026: page 3". */
static const char *
add_source(struct arena *arena, const char *source, const char *more)
{
	if (source == NULL || more[0] == '\0')
		return source;
	if (source[0] == '\0')
		return more;
	size_t size = strlen(source) + strlen(more) + sizeof ": ";
	char *both = arena_array(arena, size, 1);
	(void)snprintf(both, size, "%s: %s", source, more);
	return both;
}

/* An active that the card does not hold is a slip of the pen. */
static bool
check_subject(
    const struct product *product, struct rule *rule, struct error *error)
{
	if (rule->subject == NULL)
		return true;
	for (size_t i = 0; i < product->active_count; i++)
		if (strcasecmp(product->active[i].name, rule->subject) == 0) {
			rule->subject = product->active[i].name;
			return true;
		}
	return error_set(error, ERROR_INPUT,
	    "'%s' is none of the actives of this card", rule->subject);
}

/* More than fit into any tank are refused, so that none is ever left out. */
static void
keep_rules(struct build *build, const struct item *item,
    struct product *product, const struct rule *rules, size_t count)
{
	struct error error = { 0 };
	bool fits = product->rule_count + count <= LIMIT_CARD_RULES;
	if (!build_judge(build, item,
		fits || error_set(&error, ERROR_INPUT,
			    "this is more than the %d rules that one card may "
			    "have",
			    (int)LIMIT_CARD_RULES),
		&error))
		return;
	for (size_t r = 0; r < count; r++) {
		struct rule *rule = &product->rules[product->rule_count];
		*rule = rules[r];
		rule->origin = ORIGIN_LABEL;
		rule->owner = product->name;
		rule->source = add_source(
		    &build->config->arena, product->label, rule->source);
		if (rule->measure == MEASURE_DAYS_SINCE)
			product->retreatment = rule->limit;
		if (build_judge(build, item,
			check_subject(product, rule, &error), &error))
			product->rule_count++;
	}
}

/* The dates themselves: the rule only knows whether they are kept. */
static const char *
join(struct arena *arena, const struct said *said, size_t count)
{
	struct text text;
	text_init(&text, LIMIT_TEXT_BYTES);
	for (size_t i = 0; i < count; i++)
		text_format(&text, "%s%s", i == 0 ? "" : ", ", said[i].value);
	const char *joined = arena_string(arena, text_string(&text));
	text_release(&text);
	return joined;
}

static void
take_item(struct build *build, const struct item *item, struct product *product)
{
	struct arena *arena = &build->config->arena;
	struct said *said = arena_array(arena, item->value_count, sizeof *said);
	struct rule rules[CARD_RULES_MAX];
	struct error error = { 0 };
	if (!read_said(build, item, said))
		return;
	/* one rule for the whole list has one wording: that of its first */
	bool is_whole = item->setting->kind == SETTING_WORDS ||
			strcmp(item->setting->name, "dates") == 0;
	for (size_t i = 1; i < item->value_count && is_whole; i++)
		if (said[i].words != NULL || said[i].place != NULL) {
			(void)build_judge(build, item,
			    error_set(&error, ERROR_INPUT,
				"the label's words stand with the first of "
				"the list"),
			    &error);
			return;
		}
	int count = card_expand(
	    arena, item->setting, said, item->value_count, rules, &error);
	if (count == 1 && rules[0].measure == MEASURE_DATES)
		rules[0].source = add_source(arena, rules[0].source,
		    join(arena, said, item->value_count));
	if (build_judge(build, item, count >= 0, &error))
		keep_rules(build, item, product, rules, (size_t)count);
}

/*
 * A floor that is meant near the ground is asked of the forecast at 10 m, where
 * there is more wind. Both numbers are told with the rule.
 */
static void
raise_wind_minimum(
    struct build *build, const struct section *section, struct product *product)
{
	const double forecast_height = 10;
	const struct item *height = section_item(section, "wind-height");
	const struct item *floor = section_item(section, "wind-minimum");
	double metres = build_quantity(build, section, "wind-height");
	double factor = wind_at_height(1, forecast_height, metres);
	if (height == NULL || floor == NULL)
		return;
	struct said said;
	if (!(factor > 0) ||
	    !value_said(&build->config->arena, floor->value[0], &said, NULL))
		return;
	size_t size =
	    strlen(said.value) + strlen(height->value[0]) + sizeof " at ";
	char *both = arena_array(&build->config->arena, size, 1);
	(void)snprintf(both, size, "%s at %s", said.value, height->value[0]);
	for (size_t r = 0; r < product->rule_count; r++) {
		struct rule *rule = &product->rules[r];
		if (strcmp(rule->name, "wind-minimum") != 0)
			continue;
		rule->limit /= factor;
		rule->raised = 1 / factor;
		rule->source =
		    add_source(&build->config->arena, rule->source, both);
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
	for (size_t i = 0; i < item->value_count; i++) {
		bool good = value_choice(
		    item->setting->words, item->value[i], &position, &error);
		/* a label that is silent replaces nothing */
		if (good && section_item(section, item->value[i]) == NULL)
			good = error_set(&error, ERROR_INPUT,
			    "the card has no '%s' of its own", item->value[i]);
		if (build_judge(build, item, good, &error))
			product->overrides[product->override_count++] =
			    arena_string(arena, item->value[i]);
	}
}

void
build_rules(
    struct build *build, const struct section *section, struct product *product)
{
	product->rules = arena_array(
	    &build->config->arena, LIMIT_CARD_RULES, sizeof *product->rules);
	for (size_t i = 0; i < section->item_count; i++)
		if (card_is_rule(section->item[i].setting->name))
			take_item(build, &section->item[i], product);
	raise_wind_minimum(build, section, product);
	take_overrides(build, section, product);
}

void
build_practice(struct build *build, const struct section *section)
{
	struct config *config = build->config;
	const struct setting *setting =
	    setting_find(PLACE_PRODUCT, section->title);
	const struct item *item = section_item(section, "limit");
	struct error error = { 0 };
	if (setting == NULL || !card_is_practice(section->title)) {
		document_complain_section(build->document, section,
		    "there is no practice limit of that name");
		return;
	}
	if (item == NULL)
		return;
	struct rule *rules = &config->practice[config->practice_count];
	struct said said = { .value = item->value[0] };
	int count = -1;
	if (value_is_none(said.value))
		(void)error_set(&error, ERROR_INPUT,
		    "practice is no label: delete the section instead");
	else
		count = card_expand(
		    &config->arena, setting, &said, 1, rules, &error);
	(void)build_judge(build, item, count >= 0, &error);
	for (int r = 0; r < count; r++) {
		rules[r].origin = ORIGIN_PRACTICE;
		rules[r].owner = "practice";
		rules[r].source = build_keep(build, section, "source");
	}
	config->practice_count += count > 0 ? (size_t)count : 0;
}
