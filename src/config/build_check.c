/* What a card contradicts itself in, and what it leaves out. */
#include "config/build.h"

#include "config/values.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static void
complain(struct build *build, const struct item *item, const char *sentence)
{
	if (item != NULL)
		document_complain(build->document, item, sentence);
}

/* "this floor leaves nothing under the ceiling wind-maximum in line 7" */
static void
complain_pair(struct build *build, const struct section *section,
    const struct rule *low, const struct rule *high)
{
	char sentence[LIMIT_NAME_BYTES + 96];
	const struct item *other = section_item(section, high->name);
	(void)snprintf(sentence, sizeof sentence,
	    "this floor leaves nothing under the ceiling %s in line %d",
	    high->name, other != NULL ? other->line : 0);
	complain(build, section_item(section, low->name), sentence);
}

static void
check_rules(struct build *build, const struct section *section,
    const struct product *product)
{
	for (size_t a = 0; a < product->rule_count; a++)
		for (size_t b = 0; b < product->rule_count; b++)
			if (rules_exclude(
				&product->rules[a], &product->rules[b]))
				complain_pair(build, section,
				    &product->rules[a], &product->rules[b]);
}

static const struct rule *
find_rule(const struct product *product, enum measure measure)
{
	for (size_t i = 0; i < product->rule_count; i++)
		if (product->rules[i].measure == measure)
			return &product->rules[i];
	return NULL;
}

/* A second application has to be both late and early enough. */
static void
check_repeats(struct build *build, const struct section *section,
    const struct product *product)
{
	const struct rule *most = find_rule(product, MEASURE_DAYS_WAITED);
	if (most != NULL && product->retreatment > most->limit)
		complain(build, section_item(section, "re-treatment-maximum"),
		    "there are fewer days in it than in re-treatment");
}

/* How long after the job the card wants no water. */
static double
dry_after(const struct product *product)
{
	double dry = product->water.not_before;
	for (size_t i = 0; i < product->rule_count; i++) {
		const struct rule *rule = &product->rules[i];
		if (rule->measure == MEASURE_WET &&
		    rule->exposure.to.anchor == ANCHOR_END)
			dry = fmax(dry, rule->exposure.to.seconds);
		if (rule->measure == MEASURE_UNTIL_IRRIGATION &&
		    !bound_is_ceiling(rule->bound))
			dry = fmax(dry, rule->limit);
	}
	return dry;
}

static void
check_water(struct build *build, const struct section *section,
    const struct product *product)
{
	if (product->water.amount > 0 &&
	    dry_after(product) >= product->water.within)
		complain(build, section_item(section, "water-in"),
		    "it is over before the card allows any water");
}

static void
check_range(struct build *build, const struct item *item, double value,
    double least, double most)
{
	const double grain = 1e-6; /* of two units for one rate */
	if (value > 0 && least > 0 && value < least * (1 - grain))
		complain(build, item, "it is under its own minimum");
	if (value > 0 && most > 0 && value > most * (1 + grain))
		complain(build, item, "it is over its own maximum");
}

static void
check_rates(struct build *build, const struct section *section,
    const struct product *product)
{
	check_range(build, section_item(section, "rate"), product->rate,
	    product->rate_least, product->rate_most);
	check_range(build, section_item(section, "rate-minimum"),
	    product->rate_least, 0, product->rate_most);
	check_range(build, section_item(section, "carrier-minimum"),
	    product->carrier_least, 0, product->carrier_most);
}

static bool
has_rate(const struct product *product)
{
	return product->rate > 0 || product->rate_least > 0 ||
	       product->rate_most > 0;
}

/* What is weighed holds its actives by weight, what is poured by volume. */
static void
check_actives(struct build *build, const struct section *section,
    const struct product *product)
{
	const struct rule *amount = find_rule(product, MEASURE_SEASON_AMOUNT);
	bool weighed = quantity_is_by_mass(product->rate_kind);
	if (!has_rate(product))
		return;
	for (size_t i = 0; i < product->active_count; i++)
		if (product->active[i].is_liquid == weighed) {
			complain(build, section_item(section, "actives"),
			    weighed ? "the rate is a weight, so a content is "
				      "a share of it: write 65 %"
				    : "the rate is a volume, so a content is "
				      "a weight in it: write 480 g/L");
			return;
		}
	if (amount != NULL && amount->is_volume == weighed)
		complain(build, section_item(section, "season-amount"),
		    "this is a volume where the rate is a weight, or the "
		    "other way round");
}

static double
content_of(const struct product *product, const char *active)
{
	for (size_t i = 0; i < product->active_count; i++)
		if (strcmp(product->active[i].name, active) == 0)
			return product->active[i].content;
	return 0;
}

/* One application at the least rate may not be too much for a year. */
static void
check_season(struct build *build, const struct section *section,
    const struct product *product)
{
	double rate =
	    product->rate_least > 0 ? product->rate_least : product->rate;
	bool per_area = quantity_is_per_area(product->rate_kind);
	for (size_t i = 0; i < product->rule_count && per_area; i++) {
		const struct rule *rule = &product->rules[i];
		double share = 0;
		if (rule->measure == MEASURE_SEASON_AMOUNT)
			share = rate;
		else if (rule->measure == MEASURE_SEASON_ACTIVE)
			share = rate * content_of(product, rule->subject);
		if (share > 0 && share > rule->limit * (1 + 1e-6))
			complain(build, section_item(section, rule->name),
			    "one application is more than that");
	}
}

/* True when one of the settings stands on the card, "none on label" too. */
static bool
states(const struct section *section, const char *const *names, size_t count)
{
	for (size_t i = 0; i < count; i++)
		if (section_item(section, names[i]) != NULL)
			return true;
	return false;
}

static void
add_missing(struct product *product, bool stated, const char *what)
{
	if (!stated)
		product->missing[product->missing_count++] = what;
}

/* A sentence about the hours after the job says it, too; dry-leaf does not. */
static bool
speaks_of_rain_after(const struct product *product)
{
	for (size_t i = 0; i < product->rule_count; i++)
		if (product->rules[i].measure == MEASURE_WET &&
		    product->rules[i].exposure.to.anchor == ANCHOR_END &&
		    product->rules[i].exposure.to.seconds > 0)
			return true;
	return false;
}

/* What no label of a herbicide leaves out, or is at least asked for. */
static void
find_missing(
    struct build *build, const struct section *section, struct product *product)
{
	static const char *const rain[] = { "rain-free" };
	static const char *const warmth[] = { "temperature-ceiling",
		"temperature-floor", "day-high" };
	static const char *const season[] = { "season-count", "season-amount",
		"active-maximum" };
	if (product->kind != PRODUCT_HERBICIDE)
		return;
	product->missing =
	    arena_array(&build->config->arena, 3, sizeof *product->missing);
	add_missing(product,
	    states(section, rain, 1) || speaks_of_rain_after(product),
	    "rain-free period");
	add_missing(product,
	    states(section, warmth, 3) ||
		find_rule(product, MEASURE_AIR_TEMPERATURE) != NULL,
	    "temperature limit");
	add_missing(product, states(section, season, 3), "season maximum");
}

void
build_check_card(
    struct build *build, const struct section *section, struct product *product)
{
	check_rules(build, section, product);
	check_repeats(build, section, product);
	check_water(build, section, product);
	check_rates(build, section, product);
	check_actives(build, section, product);
	check_season(build, section, product);
	find_missing(build, section, product);
}
