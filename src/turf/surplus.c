#include "turf/surplus.h"

#include "base/civil.h"
#include "turf/weeds.h"

#include <math.h>
#include <string.h>

static const double unknown = (double)NAN;

/* How many times the use of a package is far too much: a choice of ours. */
enum { FAR_TOO_MUCH = 2, DAYS_OF_YEAR = 366 };

bool
product_suits(const struct product *product, const struct site *site)
{
	return product->species == 0 || site->species == TURF_UNSAID ||
	       (product->species >> site->species & 1) != 0;
}

/* The product at that rate, on 1 m2. */
static double
on_ground(
    const struct product *product, double rate, const struct sprayer *sprayer)
{
	const struct dose dose = { product, rate, product->rate_kind };
	return dose_on_ground(&dose, sprayer);
}

double
lawn_dose(const struct product *product, const struct lawn *lawn)
{
	return lawn->site->area *
	       on_ground(product, product->rate, lawn->sprayer);
}

/* The most that one application puts on 1 m2. */
static double
highest(
    const struct product *product, bool is_mass, const struct sprayer *sprayer)
{
	if (quantity_is_by_mass(product->rate_kind) != is_mass)
		return unknown;
	return on_ground(
	    product, fmax(product->rate, product->rate_most), sprayer);
}

/* What of the product holds 1 g of the active; NaN when it has none. */
static double
carries(const struct product *product, const char *name, bool is_mass)
{
	const struct active *active = product_find_active(product, name);
	return active != NULL && active->is_liquid != is_mass &&
		       active->content > 0
		   ? 1 / active->content
		   : unknown;
}

/* What the rule allows of the product on 1 m2 in a year; NaN when it is about
   something else. */
static double
allowed(const struct product *product, const struct rule *rule, bool is_mass,
    double once)
{
	if (!bound_is_ceiling(rule->bound))
		return unknown;
	switch (rule->measure) {
	case MEASURE_SEASON_AMOUNT:
		return rule->is_volume != is_mass ? rule->limit : unknown;
	case MEASURE_SEASON_ACTIVE:
		return rule->limit * carries(product, rule->subject, is_mass);
	case MEASURE_SEASON_COUNT:
		return once * (rule->bound == BOUND_BELOW
				      ? ceil(rule->limit) - 1
				      : floor(rule->limit));
	default:
		return unknown;
	}
}

/* The tightest of the limits, on 1 m2; fmin leaves out what is not known. */
static double
season_on_ground(
    const struct product *product, bool is_mass, const struct sprayer *sprayer)
{
	double once = highest(product, is_mass, sprayer);
	double most = unknown;
	if (product->retreatment > 0)
		most = once * (floor(DAYS_OF_YEAR / product->retreatment) + 1);
	for (size_t i = 0; i < product->rule_count; i++)
		most = fmin(
		    most, allowed(product, &product->rules[i], is_mass, once));
	return most;
}

double
season_most(const struct product *product, const struct product *other,
    bool is_mass, const struct lawns *lawns)
{
	double sum = lawns->count > 0 ? 0 : unknown;
	for (size_t i = 0; i < lawns->count; i++) {
		const struct lawn *lawn = &lawns->lawn[i];
		if (product_suits(product, lawn->site) &&
		    (other == NULL || product_suits(other, lawn->site)))
			sum += lawn->site->area * season_on_ground(product,
						      is_mass, lawn->sprayer);
	}
	return sum;
}

static int
year_of(int64_t day)
{
	static const struct zone no_zone = { 0 };
	return civil_from_utc(&no_zone, day * DAY_SECONDS).year;
}

double
package_use(
    const struct package *package, const struct lawns *lawns, int64_t today)
{
	if (package->expires == INT64_MAX)
		return unknown;
	int years = year_of(package->expires) - year_of(today) + 1;
	if (package_is_expired(package, today))
		years = 0;
	return years *
	       season_most(package->product, NULL, package->is_mass, lawns);
}

bool
package_is_surplus(const struct shelf_item *item, double use)
{
	return item->left > FAR_TOO_MUCH * use;
}

static const char *
shared_weed(const struct product *one, const struct product *other)
{
	for (size_t i = 0; i < one->control_count; i++)
		if (product_controls(other, one->control[i]))
			return one->control[i];
	return NULL;
}

static bool
share_a_lawn(const struct product *one, const struct product *other,
    const struct lawns *lawns)
{
	for (size_t i = 0; i < lawns->count; i++)
		if (product_suits(one, lawns->lawn[i].site) &&
		    product_suits(other, lawns->lawn[i].site))
			return true;
	return false;
}

/* A package of the product, one with a price rather than one without. */
static const struct package *
find_package(
    const struct substitute_facts *facts, const struct product *product)
{
	const struct package *found = NULL;
	for (size_t i = 0; i < facts->package_count; i++) {
		const struct package *package = &facts->packages[i];
		if (strcmp(package->product->name, product->name) != 0)
			continue;
		if (found == NULL ||
		    (isnan(found->price) && !isnan(package->price)))
			found = package;
	}
	return found;
}

static void
make_substitute(const struct substitute_facts *facts,
    const struct product *product, const char *weed, struct substitute *ret)
{
	const struct package *own = facts->package;
	const struct package *package = find_package(facts, product);
	bool is_mass = package != NULL
			   ? package->is_mass
			   : quantity_is_by_mass(product->rate_kind);
	*ret = (struct substitute){ .product = product,
		.weed = weed,
		.is_mass = is_mass,
		.season =
		    season_most(product, own->product, is_mass, facts->lawns),
		.share = unknown,
		.cost = unknown,
		.own_season = season_most(
		    own->product, product, own->is_mass, facts->lawns) };
	if (package != NULL) {
		ret->share = ret->season / package->size;
		ret->cost = ret->share * package->price;
	}
}

size_t
substitutes_find(
    const struct substitute_facts *facts, struct substitute *ret, size_t most)
{
	const struct product *own = facts->package->product;
	size_t count = 0;
	for (size_t i = 0; i < facts->product_count && count < most; i++) {
		const struct product *product = &facts->products[i];
		const char *weed = shared_weed(own, product);
		if (strcmp(product->name, own->name) != 0 && weed != NULL &&
		    share_a_lawn(own, product, facts->lawns))
			make_substitute(facts, product, weed, &ret[count++]);
	}
	return count;
}
