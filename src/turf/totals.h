/*
 * What was put down in a year: for each site, product and active how often, how
 * much, on how much ground. What is not known stays out of a sum and is
 * counted beside it, so that a sum with gaps reads "at least".
 */
#ifndef TURF_TOTALS_H
#define TURF_TOTALS_H

#include "turf/turf.h"

/* One product of one record. */
struct totals_item {
	int64_t record; /* those of one record follow each other */
	int year;       /* calendar year of its start on the site's clock */
	struct application application;
};

/* A sum of what is known of it. */
struct totals_sum {
	double known;
	size_t unknown; /* so many shares of it are not known */
};

enum totals_kind { TOTALS_SITE, TOTALS_PRODUCT, TOTALS_ACTIVE };

/*
 * One line of the year: a site, or a product or an active on a site (`site`
 * NULL: on all of them).
 */
struct total {
	int year;
	enum totals_kind kind;
	const char *site;       /* borrowed, as is `name` */
	const char *name;       /* of the product or active; the site's own */
	size_t count;           /* records */
	struct totals_sum area; /* m2; ground that was treated twice counts
				   twice */
	/* g, or L of a product that is a liquid; of a site: nothing */
	struct totals_sum amount;
	bool is_mass;
	/*
	 * Of one site: g/m2 or L/m2, the sum of each record's amount over the
	 * area that it covered. Two spots may have been the same one, so they
	 * add up, as in advice/facts.h.
	 */
	struct totals_sum per_area;
};

/*
 * Fills an array that the caller frees: ascending by year; in a year the sites
 * in the order in which they first occur, each before its products and
 * actives, and last the products and actives of all sites, when there is more
 * than one. Cards that are on file tell of the actives; how much of an active
 * is in a product that is on no card, in a herbicide whose card names no
 * active, or in one whose amount is told in the other kind, is not known.
 * An amount that is told in grams once and in litres once makes two lines.
 */
struct total *totals_find(const struct totals_item *items, size_t count,
    const struct product *products, size_t product_count, size_t *ret_count);

#endif
