/*
 * The fetching part of a pass: asks each forecast address that is due, once,
 * and puts what came into the store.
 */
#ifndef SERVICE_GATHER_H
#define SERVICE_GATHER_H

#include "service/fetch.h"
#include "service/keeper.h"

/*
 * Fetches every address that is due at `now` (all of them when `all`) and
 * waits until each has answered or failed. A document that cannot be read is
 * not stored and counts as a failure; the last good one stays in use. Failures
 * are remembered with their sentence and a time to try again; they are not
 * errors of this function, which fails on the store only. `interrupt` (or -1)
 * is a descriptor whose readiness ends the wait early.
 */
bool gather(const struct keeper *keeper, struct fetcher *fetcher, int64_t now,
    bool all, int interrupt, struct error *error);

/* The earliest time at which an address is due; INT64_MAX without any. */
bool gather_next_due(
    const struct keeper *keeper, int64_t *ret, struct error *error);

/*
 * Whether an address that was put off until `due` is to be asked at `now`. No
 * wait is longer than a day, so one that ends later was noted by a clock that
 * has been set back since.
 */
bool gather_is_due(int64_t due, int64_t now);

/* Seconds to wait after the n-th failure in a row (n from 1), before the
   server's own wish and the jitter. */
int64_t gather_backoff(int failures);

#endif
