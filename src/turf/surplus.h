/*
 * Whether a package is far more than the keeper's lawns can ever use before it
 * expires, and what else would do. Pure.
 *
 * The law is what the cards say: season-amount, season-count x rate,
 * active-maximum, or as often as re-treatment lets it. Everywhere the careful
 * side is taken: the highest rate, each lawn that the turf does not exclude, a
 * whole season for each year that is begun.
 */
#ifndef TURF_SURPLUS_H
#define TURF_SURPLUS_H

#include "turf/shelf.h"

struct lawn {
	const struct site *site;
	const struct sprayer *sprayer; /* as it sprays today */
};

struct lawns {
	const struct lawn *lawn;
	size_t count;
};

/* True when the card does not exclude the turf of the site; one whose turf is
   not said may be any. */
bool product_suits(const struct product *product, const struct site *site);

/* g or L that one application over the whole site takes at the card's rate; NaN
   when it has none. */
double lawn_dose(const struct product *product, const struct lawn *lawn);

/*
 * The most that may go on the lawns that suit the product in one year: g, or L
 * when not is_mass. NaN when no limit tells, and without any lawn. `other` may
 * be NULL, else a lawn has to suit it, too.
 */
double season_most(const struct product *product, const struct product *other,
    bool is_mass, const struct lawns *lawns);

/* The most of a package that the lawns can use from today until it expires. NaN
   when the limits do not tell it, or nobody said when it expires. */
double package_use(
    const struct package *package, const struct lawns *lawns, int64_t today);

/* More than twice of that: a choice of ours, common practice, no source. False
   when one of them is not known. */
bool package_is_surplus(const struct shelf_item *item, double use);

/* Another product that controls one of the same weeds on some of the same
   lawns. Each NaN is what nobody can tell. */
struct substitute {
	const struct product *product;
	const char *weed;  /* as the package's card calls it */
	bool is_mass;      /* of the amounts below: g, else L */
	double season;     /* of it, over the lawns that suit both */
	double share;      /* of a package of it: 0.2 is a fifth */
	double cost;       /* of that season */
	double own_season; /* the same with what is in the package */
};

struct substitute_facts {
	const struct package *package; /* what there is too much of */
	const struct product *products;
	size_t product_count;
	const struct package *packages; /* all that are on file */
	size_t package_count;
	const struct lawns *lawns;
};

/* Fills `ret` with at most `most`, in the order of the cards; returns how many.
 */
size_t substitutes_find(
    const struct substitute_facts *facts, struct substitute *ret, size_t most);

#endif
