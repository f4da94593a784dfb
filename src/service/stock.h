/* The keeper's shelf, from the configuration's packages and what was done. */
#ifndef SERVICE_STOCK_H
#define SERVICE_STOCK_H

#include "service/keeper.h"
#include "turf/surplus.h"

/* The local day of an application on a site; the UTC day when the site is not
   configured any more. */
int64_t stock_day(const struct config *config, const char *site, int64_t at);

/*
 * What is left by the records that began by `now`, each of the day on which it
 * ended, and by the stock solutions that were made by then. A solution takes
 * its whole mass out of the package when it is made; what was sprayed while it
 * was good is of it first. Today is that of the site where it is latest, so
 * that nothing lies in the future. Borrows from the configuration;
 * shelf_release.
 */
bool stock_load(const struct keeper *keeper,
    const struct stored_record *records, size_t count, int64_t now,
    struct shelf *ret, struct error *error);

/* What was made and done, both ascending. */
struct stock_past {
	int64_t now; /* nothing later counts */
	const struct stored_solution *made;
	size_t made_count;
	const struct stored_record *record;
	size_t record_count;
};

/* g that each solution still holds, for a mix sheet. NaN: an amount that nobody
   knows went out of it, or it is of a later time. */
void stock_left(const struct config *config, const struct stock_past *past,
    double *ret_left);

/* The clock of what belongs to no site: that of the first one. */
const struct zone *stock_zone(const struct config *config);

/* When a stock solution that was made goes (turf/follow.h), on that clock. */
int64_t stock_until(
    const struct config *config, const struct stored_solution *made);

/* Every site with its sprayer out of those of sprayers_load; the array is the
   caller's to free. */
struct lawn *stock_lawns(
    const struct config *config, const struct sprayer *sprayers);

#endif
