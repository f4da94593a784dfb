/*
 * What is left in the keeper's packages. Nothing is drawn down by writing: all
 * of it follows from what was recorded, so a corrected record corrects the
 * stock. Pure.
 */
#ifndef TURF_SHELF_H
#define TURF_SHELF_H

#include "turf/turf.h"

/* What an application took of a product. */
struct draw {
	const char *product;
	int64_t day;   /* civil day */
	double amount; /* g or L; NaN: used, not known how much */
	bool is_mass;  /* g, else L */
};

struct shelf_item {
	const struct package *package; /* borrowed */
	double left;                   /* g or L; NaN: not known */
	double drawn; /* since it was opened or last weighed; NaN: not known */
};

/* The packages of one product. */
struct shelf_row {
	const struct product *product;
	struct shelf_item *item; /* in the order in which they are used up */
	size_t count;
	double overdrawn; /* taken, though no open package held so much; NaN:
			     not known how much */
	double earlier;   /* taken before any of these was opened: of packages
			     that are not on file any more; NaN: the same */
};

struct shelf {
	int64_t today;           /* civil day */
	struct shelf_item *item; /* owned; the rows point into it */
	size_t item_count;
	struct shelf_row *row; /* owned; by the product's name */
	size_t row_count;
};

/*
 * Draws may come in any order. One is taken from the packages that are open on
 * its day, those first that are still good then, by the day of opening and by
 * name; what one does not hold comes out of the next. One whose amount is not
 * known, or told in the wrong kind, leaves all that were open unknown, and so
 * does a known one where it cannot be told which package gave it. A weighing
 * settles its package at the end of its day, and what was overdrawn until then
 * besides. Packages that are not open are full. Weighings later than `today`
 * are not yet; no draw is.
 *
 * Packages of one product are all weights or all volumes.
 */
void shelf_count(const struct package *packages, size_t package_count,
    const struct draw *draws, size_t draw_count, int64_t today,
    struct shelf *ret);
void shelf_release(struct shelf *shelf);

/* NULL when no package of that product is on file. */
const struct shelf_row *shelf_find(
    const struct shelf *shelf, const char *product);

/* The day is later than the last one on which it is good. */
bool package_is_expired(const struct package *package, int64_t day);

/* Price of what is left; NaN when one of them is not known. */
double shelf_item_worth(const struct shelf_item *item);

/* An amount that somebody wants to take. */
struct shelf_wish {
	const struct product *product;
	double amount; /* g or L */
	bool is_mass;
	int64_t day;               /* civil day on which it is used */
	const struct draw *before; /* what others take before, in this order */
	size_t before_count;
};

struct shelf_answer {
	size_t packages; /* on file; 0: then nothing below is known */
	double on_hand;  /* good on that day, opened or not; NaN: not known */
	double stale;    /* expired by that day; NaN */
	double left;     /* of on_hand, when the wish is taken; NaN */
	double missing;  /* what on_hand and stale together cannot give; NaN */
	double cost;     /* of the packages that it would come from; NaN when
			    one has no price, or something is missing */
	const struct package *expires_first; /* of what is on hand; NULL */
	const struct package *expired; /* which it would have to use; NULL */
};

/* A wish may open packages: open ones come first, expired ones last. */
void shelf_ask(const struct shelf *shelf, const struct shelf_wish *wish,
    struct shelf_answer *ret);

#endif
