/*
 * The fetching part of a pass: asks each forecast address that is due, once,
 * and puts what came into the store.
 */
#ifndef SERVICE_GATHER_H
#define SERVICE_GATHER_H

#include "service/fetch.h"
#include "service/keeper.h"

struct gather_order {
	int64_t now;
	bool all;      /* also what is not due yet */
	int interrupt; /* a descriptor whose readiness ends the wait; -1 */
};

/*
 * Fetches every address that is due and waits until each has answered or
 * failed. Sites with the same address share one request; of two programs at
 * work at once one asks, and the other leaves the address alone for a minute. A
 * document that only names where the forecast lies is kept as a link: what it
 * leads to is fetched in the next round, and when that is gone (404) the link
 * is asked for anew. A document that cannot be read is not stored and counts as
 * a failure; the last good one stays in use. Failures are remembered with their
 * sentence and a time to try again; they are not errors of this function, which
 * fails on the store only.
 */
bool gather(const struct keeper *keeper, struct fetcher *fetcher,
    const struct gather_order *order, struct error *error);

/* The earliest time at which an address is due; INT64_MAX without any. */
bool gather_next_due(
    const struct keeper *keeper, int64_t *ret, struct error *error);

#endif
