/*
 * Spray windows: runs of starts that no rule forbids. A window's edges are
 * refined to the minute where only continuous measures bind there; a value
 * that the service holds over an interval changes at the interval's edge.
 */
#ifndef ADVICE_WINDOW_H
#define ADVICE_WINDOW_H

#include "advice/judge.h"

/* What stops a window from being longer. */
enum edge_cause {
	EDGE_RULES,   /* the rules set in the verdict masks of edge_start */
	EDGE_NOW,     /* it is open already */
	EDGE_AFTER,   /* the job may not start earlier */
	EDGE_BEFORE,  /* the job has to be over */
	EDGE_HORIZON, /* the forecast ends */
};

struct window_edge {
	enum edge_cause cause;
	size_t start; /* the closed start beside the edge, for EDGE_RULES */
};

struct window {
	int64_t first, last;   /* first and last moment to start, UTC */
	int64_t opens, closes; /* first start, and the end of the last job */
	struct window_edge opened, closed;
};

struct window_limits {
	int64_t now;           /* starts before now are gone */
	int64_t after, before; /* as in struct job */
	int64_t duration;
};

/*
 * All windows, in order: an array for free(), NULL when there is none. The
 * checks are those that were judged.
 */
struct window *windows_find(struct outlook *outlook, const struct check *checks,
    size_t check_count, const struct verdicts *verdicts,
    const struct window_limits *limits, size_t *ret_count);

/* The window that holds a start at that moment, or NULL. */
const struct window *window_of(
    const struct window *windows, size_t count, int64_t start);

#endif
