/* Who may not be with whom in one tank. */
#include "turf/conflicts_parts.h"

#include <string.h>

static void
refuse_partner(struct finding *finding, const struct product *owner,
    const struct product *partner)
{
	for (size_t i = 0; i < owner->not_with_count; i++) {
		const char *word = owner->not_with[i];
		if (conflict_same_name(word, partner->name)) {
			finding_add(finding, true,
			    "%s may not be mixed with %s", owner->name,
			    partner->name);
			return;
		}
		for (size_t a = 0; a < partner->active_count; a++) {
			const char *active = partner->active[a].name;
			if (!conflict_same_name(word, active))
				continue;
			finding_add(finding, true,
			    "%s may not be mixed with %s, which is in %s",
			    owner->name, active, partner->name);
			return;
		}
		if (conflict_same_name(word, partner->formulation)) {
			finding_add(finding, true,
			    "%s may not be mixed with %s formulations, and "
			    "%s is one",
			    owner->name, partner->formulation, partner->name);
			return;
		}
	}
}

/* An adjuvant in the tank that is not the product itself; or NULL. */
static const struct product *
find_adjuvant(const struct tank_mix *tank, const struct product *beside)
{
	for (size_t i = 0; i < tank->count; i++) {
		const struct product *product = tank->dose[i].product;
		if (product->kind == PRODUCT_ADJUVANT &&
		    strcmp(product->name, beside->name) != 0)
			return product;
	}
	return NULL;
}

static void
check_adjuvant(struct finding *finding, const struct product *owner)
{
	const struct tank_mix *tank = &finding->job->tank;
	const struct product *adjuvant = find_adjuvant(tank, owner);
	if (owner->adjuvant == ADJUVANT_REQUIRED && adjuvant == NULL)
		finding_add(finding, true,
		    "%s needs an adjuvant, there is none in the tank",
		    owner->name);
	if (owner->adjuvant != ADJUVANT_FORBIDDEN)
		return;
	for (size_t i = 0; i < tank->count; i++) {
		const struct product *partner = tank->dose[i].product;
		if (strcmp(partner->name, owner->name) == 0)
			continue;
		if (partner->kind == PRODUCT_ADJUVANT)
			finding_add(finding, true,
			    "%s may have no adjuvant, %s is one", owner->name,
			    partner->name);
		if (partner->adjuvant == ADJUVANT_REQUIRED)
			finding_add(finding, true,
			    "%s may have no adjuvant, %s needs one",
			    owner->name, partner->name);
	}
}

/* No sprayer can put down a carrier that suits both. */
static void
check_carriers(struct finding *finding, const struct product *low,
    const struct product *high)
{
	char least[QUANTITY_BUFFER], most[QUANTITY_BUFFER];
	enum unit_system units = finding->facts->units;
	if (!(high->carrier_most > 0) ||
	    !(low->carrier_least * (1 - CONFLICT_GRAIN) > high->carrier_most))
		return;
	quantity_print(least, sizeof least, low->carrier_least,
	    QUANTITY_VOLUME_PER_AREA, units);
	quantity_print(most, sizeof most, high->carrier_most,
	    QUANTITY_VOLUME_PER_AREA, units);
	finding_add(finding, true,
	    "%s wants at least %s of carrier, %s at most %s", low->name, least,
	    high->name, most);
}

static void
check_partner(struct finding *finding, const struct product *owner,
    const struct product *partner)
{
	if (strcmp(owner->name, partner->name) == 0) {
		finding_add(
		    finding, true, "%s is in the tank twice", owner->name);
		return;
	}
	refuse_partner(finding, owner, partner);
	check_carriers(finding, owner, partner);
}

void
find_partner_conflicts(struct finding *finding)
{
	const struct tank_mix *tank = &finding->job->tank;
	for (size_t a = 0; a < tank->count; a++) {
		check_adjuvant(finding, tank->dose[a].product);
		for (size_t b = 0; b < tank->count; b++)
			if (a != b)
				check_partner(finding, tank->dose[a].product,
				    tank->dose[b].product);
	}
}
