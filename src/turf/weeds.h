/* The weeds that cards list, by the names that keepers type. */
#ifndef TURF_WEEDS_H
#define TURF_WEEDS_H

#include "base/text.h"
#include "turf/turf.h"

/* The same name: letter case and blanks do not count. */
bool weed_same(const char *one, const char *other);

/* Does the card list the weed? */
bool product_controls(const struct product *product, const char *weed);

/*
 * Appends "yellow nutsedge, annual bluegrass", each name that stands on a
 * herbicide's card and has the weed in it, or the reverse; at most `most` of
 * them, in the order of the alphabet. Returns how many there are.
 */
size_t weeds_near(const char *weed, const struct product *products,
    size_t count, size_t most, struct text *ret);

#endif
