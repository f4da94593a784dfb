/*
 * The days of a site: those that were stored as they went by, and those of the
 * series, past and to come.
 */
#ifndef SERVICE_HISTORY_H
#define SERVICE_HISTORY_H

#include "service/keeper.h"
#include "weather/daily.h"

enum { HISTORY_DAYS = 800 }; /* that are kept */

/*
 * Ascending by day, the caller frees *ret. A number that the series knows wins
 * over a stored one. The series holds what its sources gave, nothing derived.
 */
bool history_load(const struct keeper *keeper, const struct site *site,
    const struct series *series, struct daily **ret, size_t *ret_count,
    struct error *error);

/* Stores those of the last days that are over and not stored yet, each as a
   whole row: `days` are those of history_load. */
bool history_keep(const struct keeper *keeper, const struct site *site,
    const struct daily *days, size_t count, int64_t now, struct error *error);

/* Removes what is older than HISTORY_DAYS. */
bool history_prune(
    const struct keeper *keeper, int64_t now, struct error *error);

#endif
