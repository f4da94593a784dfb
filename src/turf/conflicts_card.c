/* Each card of the tank against the site, the sprayer, the dose and the year.
 */
#include "turf/conflicts_parts.h"

#include <math.h>
#include <stdio.h>

static void
check_species(struct finding *finding, const struct product *product)
{
	const struct site *site = finding->job->site;
	char list[64], there[64];
	if (product->species == 0 || (product->species >> site->species & 1))
		return;
	species_print(list, sizeof list, product->species);
	if (site->species == TURF_UNSAID)
		finding_add(finding, false,
		    "%s is for %s: say which turf %s has", product->name, list,
		    site->name);
	else
		finding_add(finding, true, "%s is for %s, %s is %s",
		    product->name, list, site->name,
		    species_print(there, sizeof there, 1U << site->species));
}

static const char *
droplets_word(enum droplets droplets)
{
	static const char *const word[] = { "", "extremely fine", "very fine",
		"fine", "medium", "coarse", "very coarse", "extremely coarse",
		"ultra coarse" };
	return word[droplets];
}

static void
check_droplets(struct finding *finding, const struct product *product)
{
	const struct sprayer *sprayer = finding->job->sprayer;
	if (product->droplets_least == DROPLETS_UNSAID ||
	    sprayer->droplets >= product->droplets_least)
		return;
	if (sprayer->droplets == DROPLETS_UNSAID)
		finding_add(finding, false,
		    "%s wants droplets that are at least %s: say which %s "
		    "makes",
		    product->name, droplets_word(product->droplets_least),
		    sprayer->name);
	else
		finding_add(finding, true,
		    "%s wants droplets that are at least %s, those of %s are "
		    "%s",
		    product->name, droplets_word(product->droplets_least),
		    sprayer->name, droplets_word(sprayer->droplets));
}

struct range {
	double least, most; /* 0: not said */
	enum quantity_kind kind;
};

/* `what`: "the dose", "the carrier of backpack". */
static void
check_range(struct finding *finding, const struct product *product,
    const char *what, double value, const struct range *range)
{
	char is[QUANTITY_BUFFER], limit[QUANTITY_BUFFER];
	enum unit_system units = finding->facts->units;
	bool under = value < range->least * (1 - CONFLICT_GRAIN);
	bool over =
	    range->most > 0 && value > range->most * (1 + CONFLICT_GRAIN);
	if (!(value > 0) || (!under && !over))
		return;
	quantity_print(is, sizeof is, value, range->kind, units);
	quantity_print(limit, sizeof limit, under ? range->least : range->most,
	    range->kind, units);
	finding_add(finding, true, "%s allows %s %s, %s is %s", product->name,
	    under ? "at least" : "at most", limit, what, is);
}

/* g or L of the product on 1 m2; 0 when it has no rate. */
static double
amount_of(const struct finding *finding, const struct dose *dose)
{
	return dose->rate > 0 ? dose_on_ground(dose, finding->job->sprayer) : 0;
}

/* What the tank puts down of an active, of the part that is known: g/m2. */
static double
active_amount(const struct finding *finding, const char *name)
{
	double sum = 0;
	for (size_t i = 0; i < finding->job->tank.count; i++) {
		const struct dose *dose = &finding->job->tank.dose[i];
		const struct product *product = dose->product;
		for (size_t a = 0; a < product->active_count; a++) {
			const struct active *active = &product->active[a];
			if (conflict_same_name(active->name, name) &&
			    active->is_liquid !=
				quantity_is_by_mass(dose->rate_kind))
				sum += amount_of(finding, dose) *
				       fmax(active->content, 0);
		}
	}
	return sum;
}

/* What this job alone adds to the sum that a rule of the year limits; 0 when
   it is not known. */
static double
season_share(const struct finding *finding, const struct dose *dose,
    const struct rule *rule)
{
	if (rule->measure == MEASURE_SEASON_ACTIVE)
		return active_amount(finding, rule->subject);
	if (rule->measure == MEASURE_SEASON_AMOUNT &&
	    rule->is_volume != quantity_is_by_mass(dose->rate_kind))
		return amount_of(finding, dose);
	return 0;
}

static bool
is_over(const struct rule *rule, double value)
{
	if (rule->bound == BOUND_AT_MOST)
		return value > rule->limit * (1 + CONFLICT_GRAIN);
	return rule->bound == BOUND_BELOW &&
	       value >= rule->limit * (1 - CONFLICT_GRAIN);
}

static void
check_season(
    struct finding *finding, const struct dose *dose, const struct rule *rule)
{
	char limit[QUANTITY_BUFFER], here[QUANTITY_BUFFER];
	enum unit_system units = finding->facts->units;
	double share = season_share(finding, dose, rule);
	bool named = rule->measure == MEASURE_SEASON_ACTIVE;
	quantity_print(
	    limit, sizeof limit, rule->limit, rule_kind(rule), units);
	quantity_print(here, sizeof here, share, rule_kind(rule), units);
	if (rule->measure == MEASURE_SEASON_COUNT && is_over(rule, 1))
		finding_add(finding, true,
		    "%s allows %s %s applications a year, so not this one",
		    dose->product->name, bound_word(rule->bound), limit);
	else if (share > 0 && is_over(rule, share))
		finding_add(finding, true,
		    "%s allows %s %s%s%s a year, this job alone puts down %s",
		    dose->product->name, bound_word(rule->bound), limit,
		    named ? " of " : "", named ? rule->subject : "", here);
}

static void
check_carrier(struct finding *finding, const struct product *product)
{
	const struct sprayer *sprayer = finding->job->sprayer;
	const struct range range = { product->carrier_least,
		product->carrier_most, QUANTITY_VOLUME_PER_AREA };
	char what[LIMIT_NAME_BYTES + 32];
	(void)snprintf(what, sizeof what, "the carrier of %s", sprayer->name);
	check_range(finding, product, what, sprayer->carrier, &range);
}

/* The dose as the card gives its range: on the ground, or in the mix. */
static void
check_dose(struct finding *finding, const struct dose *dose)
{
	const struct product *product = dose->product;
	const double carrier = finding->job->sprayer->carrier;
	const struct range rates = { product->rate_least, product->rate_most,
		product->rate_kind };
	if (!(dose->rate > 0))
		finding_add(finding, false,
		    "%s has no rate, so nobody can mix it: put one on its card "
		    "or write %s=RATE when you queue it",
		    product->name, product->name);
	if (!(dose->rate > 0) || (!(rates.least > 0) && !(rates.most > 0)))
		return;
	if (quantity_is_by_mass(dose->rate_kind) !=
	    quantity_is_by_mass(rates.kind)) {
		finding_add(finding, true,
		    "the dose of %s is a %s, its card gives a %s",
		    product->name,
		    quantity_is_by_mass(dose->rate_kind) ? "weight" : "volume",
		    quantity_is_by_mass(rates.kind) ? "weight" : "volume");
		return;
	}
	double on_ground = amount_of(finding, dose);
	check_range(finding, product, "the dose",
	    quantity_is_per_area(rates.kind) ? on_ground : on_ground / carrier,
	    &rates);
}

void
find_card_conflicts(struct finding *finding)
{
	const struct tank_mix *tank = &finding->job->tank;
	for (size_t i = 0; i < tank->count; i++) {
		const struct dose *dose = &tank->dose[i];
		const struct product *product = dose->product;
		check_species(finding, product);
		check_droplets(finding, product);
		check_carrier(finding, product);
		check_dose(finding, dose);
		for (size_t r = 0; r < product->rule_count; r++)
			check_season(finding, dose, &product->rules[r]);
	}
}
