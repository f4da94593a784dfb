/*
 * The plain planner: one operator, so no two slots overlap; jobs in order of
 * priority, then deadline, then age; a slot that is still good stays. Two
 * jobs that share a product on one site keep its re-treatment interval between
 * them, planned slots included. Pure: `now` is an argument.
 */
#ifndef ADVICE_PLAN_H
#define ADVICE_PLAN_H

#include "advice/window.h"
#include "turf/turf.h"

struct slot {
	int64_t from, to; /* UTC */
};

enum plan_outcome {
	PLAN_KEPT,   /* where it was */
	PLAN_PLACED, /* new, or moved */
	PLAN_HELD,   /* where it was, though nobody can tell: nothing better */
	PLAN_NO_WINDOW, /* nothing is open in the horizon */
	PLAN_TAKEN,     /* windows are open, other jobs have them */
};

struct plan_item {
	/* wanted */
	const struct job *job;
	int64_t duration;
	const struct window *windows;
	size_t window_count;
	bool had_slot;
	struct slot previous; /* meaningful when had_slot */
	bool hold; /* the previous slot is unknown, not broken: a missing
		      forecast alone does not take it away */
	/* answer */
	enum plan_outcome outcome;
	struct slot slot; /* for KEPT, PLACED and HELD */
};

/* Starts are rounded up to this, so that a slot reads well on a clock. */
enum { PLAN_GRAIN = 300 };

/*
 * Answers every item, in place. A slot that has begun (from <= now < to) is
 * kept whatever the forecast says now: the keeper is out there.
 */
void plan_make(struct plan_item *items, size_t count, int64_t now);

#endif
