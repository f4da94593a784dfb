/* Cards: what a product is, beside its limits. */
#include "config/build.h"

#include "config/card_values.h"
#include "config/values.h"

#include <string.h>
#include <strings.h>

enum droplets
build_droplets(struct build *build, const struct section *section)
{
	if (section_item(section, "droplets") == NULL)
		return DROPLETS_UNSAID;
	return (enum droplets)(
	    build_choice(build, section, "droplets", 0) + DROPLETS_UNSAID + 1);
}

static void
take_rate(struct build *build, const struct section *section, const char *name,
    double *ret, enum quantity_kind *ret_kind)
{
	const struct item *item = section_item(section, name);
	struct error error = { 0 };
	if (item != NULL)
		(void)build_judge(build, item,
		    value_rate(item->value[0], ret, ret_kind, &error), &error);
}

/* The least and the most are of the kind of the usual rate. */
static void
take_rate_end(struct build *build, const struct section *section,
    const char *name, struct product *product, double *ret)
{
	double rate = 0;
	enum quantity_kind kind = product->rate_kind;
	bool first = product->rate == 0 && product->rate_least == 0;
	take_rate(build, section, name, &rate, &kind);
	struct error error = { 0 };
	bool same = first || kind == product->rate_kind ||
		    error_set(&error, ERROR_INPUT,
			"a rate of another kind than the one before it");
	if (!build_judge(build, section_item(section, name), same, &error))
		return;
	product->rate_kind = kind;
	*ret = rate;
}

static void
take_rates(
    struct build *build, const struct section *section, struct product *product)
{
	take_rate(build, section, "rate", &product->rate, &product->rate_kind);
	take_rate_end(
	    build, section, "rate-minimum", product, &product->rate_least);
	take_rate_end(
	    build, section, "rate-maximum", product, &product->rate_most);
	product->carrier_least =
	    build_quantity(build, section, "carrier-minimum");
	product->carrier_most =
	    build_quantity(build, section, "carrier-maximum");
}

static void
take_actives(
    struct build *build, const struct section *section, struct product *product)
{
	struct arena *arena = &build->config->arena;
	const struct item *item = section_item(section, "actives");
	if (item == NULL)
		return;
	product->active =
	    arena_array(arena, item->value_count, sizeof *product->active);
	for (size_t i = 0; i < item->value_count; i++) {
		char name[LIMIT_NAME_BYTES + 1];
		struct error error = { 0 };
		struct active active = { 0 };
		if (!build_judge(build, item,
			value_active(item->value[i], name, &active, &error),
			&error))
			continue;
		bool twice = false;
		for (size_t a = 0; a < product->active_count; a++)
			twice = twice ||
				strcasecmp(product->active[a].name, name) == 0;
		if (twice && !build_judge(build, item,
				 error_set(&error, ERROR_INPUT,
				     "'%s' is named twice", name),
				 &error))
			continue;
		active.name = arena_string(arena, name);
		product->active[product->active_count++] = active;
	}
}

/* A list of names; NULL when there is none. */
static const char **
take_partners(struct build *build, const struct section *section,
    const char *name, size_t *ret_count)
{
	struct arena *arena = &build->config->arena;
	const struct item *item = section_item(section, name);
	if (item == NULL)
		return NULL;
	const char **partners =
	    arena_array(arena, item->value_count, sizeof *partners);
	for (size_t i = 0; i < item->value_count; i++) {
		struct error error = { 0 };
		if (build_judge(build, item,
			value_partner(item->value[i], &error), &error))
			partners[(*ret_count)++] =
			    arena_string(arena, item->value[i]);
	}
	return partners;
}

/* A list of texts; NULL when there is none. */
static const char **
take_texts(struct build *build, const struct section *section, const char *name,
    size_t *ret_count)
{
	struct arena *arena = &build->config->arena;
	const struct item *item = section_item(section, name);
	if (item == NULL)
		return NULL;
	const char **texts =
	    arena_array(arena, item->value_count, sizeof *texts);
	for (size_t i = 0; i < item->value_count; i++)
		texts[(*ret_count)++] = arena_string(arena, item->value[i]);
	return texts;
}

/* How it is measured out and mixed. */
static void
take_bench(
    struct build *build, const struct section *section, struct product *product)
{
	product->scoop = build_quantity(build, section, "scoop");
	product->stock = build_quantity(build, section, "stock-solution");
	product->stock_keeps = build_quantity(build, section, "stock-keeps");
	if (section_item(section, "mix-order") != NULL)
		product->mix_step = (enum mix_step)(
		    build_choice(build, section, "mix-order", 0) + MIX_UNSAID +
		    1);
}

static unsigned
take_species(struct build *build, const struct section *section)
{
	const struct item *item = section_item(section, "species");
	unsigned species = 0;
	for (size_t i = 0; item != NULL && i < item->value_count; i++) {
		struct error error = { 0 };
		size_t position;
		if (build_judge(build, item,
			value_choice(item->setting->words, item->value[i],
			    &position, &error),
			&error))
			species |= 1U << (position + TURF_UNSAID + 1);
	}
	return species;
}

static void
take_water(
    struct build *build, const struct section *section, struct product *product)
{
	const struct item *item = section_item(section, "water-in");
	const struct item *after = section_item(section, "water-in-after");
	enum bound bound = BOUND_AT_LEAST;
	struct water_wanted water = { 0 };
	struct error error = { 0 };
	if (item == NULL) {
		(void)build_judge(build, after,
		    after == NULL || error_set(&error, ERROR_INPUT,
					 "there is no water-in on this card"),
		    &error);
		return;
	}
	bool good = value_within(
	    item->value[0], &bound, &water.amount, &water.within, &error);
	if (good && bound != BOUND_AT_LEAST)
		good = error_set(&error, ERROR_INPUT,
		    "'%s': this is a least amount", item->value[0]);
	water.not_before = build_quantity(build, section, "water-in-after");
	if (build_judge(build, item, good, &error))
		product->water = water;
}

static void
take_dates(
    struct build *build, const struct section *section, struct product *product)
{
	struct arena *arena = &build->config->arena;
	const struct item *item = section_item(section, "dates");
	if (item == NULL)
		return;
	product->date =
	    arena_array(arena, item->value_count, sizeof *product->date);
	/* what is wrong with them is told with their rule */
	for (size_t i = 0; i < item->value_count; i++) {
		struct said said;
		if (value_said(arena, item->value[i], &said, NULL) &&
		    value_dates(
			said.value, &product->date[product->date_count], NULL))
			product->date_count++;
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
	product->kind = (enum product_kind)build_choice(
	    build, section, "kind", PRODUCT_HERBICIDE);
	product->species = take_species(build, section);
	product->droplets_least = build_droplets(build, section);
	if (section_item(section, "adjuvant") != NULL)
		product->adjuvant = (enum adjuvant_need)(
		    build_choice(build, section, "adjuvant", 0) +
		    ADJUVANT_UNSAID + 1);
	product->group =
	    take_partners(build, section, "groups", &product->group_count);
	product->not_with =
	    take_partners(build, section, "not-with", &product->not_with_count);
	take_rates(build, section, product);
	take_actives(build, section, product);
	take_water(build, section, product);
	take_dates(build, section, product);
	product->note =
	    take_texts(build, section, "notes", &product->note_count);
	product->control =
	    take_texts(build, section, "controls", &product->control_count);
	product->registration = build_words(build, section, "registration");
	product->effect = build_quantity(build, section, "effect-after");
	take_bench(build, section, product);
	build_rules(build, section, product);
	build_check_card(build, section, product);
}
