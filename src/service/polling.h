/* When to ask an address again: pure functions of what it answered. */
#ifndef SERVICE_POLLING_H
#define SERVICE_POLLING_H

#include "service/fetch.h"

/*
 * Whether an address that was put off until `due` is to be asked at `now`. No
 * wait for a forecast is longer than a week and a bit, so one that ends later
 * was noted by a clock that has been set back since.
 */
bool polling_is_due(int64_t due, int64_t now);

/* Seconds to wait after the n-th failure in a row (n from 1), before the
   server's own wish and the jitter. */
int64_t polling_backoff(int failures);

/*
 * When to ask for a document again that came whole: when it expires, within the
 * hour when that is unsaid, after six hours at the latest, and not before
 * `minimum` seconds. A wait of ten minutes or more does not end in the first
 * minute of an hour, when everybody asks.
 */
int64_t polling_next(
    const struct fetch_reply *reply, int64_t minimum, int64_t now);

/* The same for a document that only leads to another: up to a week. */
int64_t polling_next_link(
    const struct fetch_reply *reply, int64_t minimum, int64_t now);

/* When to ask again after the n-th failure in a row: `address` spreads those
   who failed together over some seconds. */
int64_t polling_after_failure(const struct fetch_reply *reply, int failures,
    const char *address, int64_t now);

#endif
