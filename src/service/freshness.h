/*
 * How long an answer is fresh (RFC 9111): pure functions over header values,
 * fuzzed. Times are UTC seconds.
 */
#ifndef SERVICE_FRESHNESS_H
#define SERVICE_FRESHNESS_H

#include <stdint.h>

/*
 * max-age of a Cache-Control value in seconds; -1 when there is none or it is
 * malformed; 0 for no-store and no-cache. s-maxage is for shared caches and
 * ignored.
 */
int64_t freshness_max_age(const char *cache_control);

/*
 * UTC until which a reply received at `now` is fresh: now + max-age when
 * given, else now + (Expires - Date) when both are readable and that is
 * positive, else 0. Any pointer may be NULL. The server's clock is compared
 * only with itself.
 */
int64_t freshness_until(const char *cache_control, const char *expires,
    const char *date, int64_t now);

/* Retry-After as seconds from `now`: a number or an HTTP date; 0: unsaid. */
int64_t freshness_retry_after(const char *value, int64_t now);

#endif
