/*
 * What stands in the way when a job has no window, said briefly, and what
 * would help: both read from the verdict masks.
 */
#ifndef ADVICE_OUTCOME_H
#define ADVICE_OUTCOME_H

#include "advice/judge.h"
#include "advice/reason.h"
#include "advice/window.h"
#include "turf/turf.h"

/* A job's judgement with all that is needed to talk about it. */
struct judgement {
	const struct job *job;
	const struct outlook *outlook;
	const struct check *checks;
	size_t check_count;
	const struct verdicts *verdicts;
	const struct window_limits *limits;
};

/*
 * The reasons at a start with the least room (reason_tightness), least first,
 * among those that a number can tell. At most `most` of them, which is over 0;
 * returns how many.
 */
size_t judgement_nearest(const struct judgement *judgement, size_t start,
    struct reason *ret, size_t most);

/*
 * "rain Tue-Wed, wind over 10 mph Thu": for each local day from today to the
 * end of the forecast the rule that closes most of its starts, among the starts
 * by day and in the preferred hours when there are any. Days in a row under one
 * rule are joined. "" when no start lies ahead.
 */
char *blockers_print(char *buffer, size_t size,
    const struct judgement *judgement, enum unit_system units);

/* True when all that blockers_print tells is not known: a window may be there.
 */
bool blockers_unknown(const struct judgement *judgement);

/* The end of what blockers_print speaks of, UTC: a week, or less when the
   forecast or the job's deadline ends before. */
int64_t blockers_until(const struct judgement *judgement);

enum { HELPS_MAX = LIMIT_TANK_PRODUCTS + 2 };

/* One change and the first start that it would open. */
struct help {
	const struct product *without; /* left out of the tank, or NULL */
	bool preference;               /* the preferred hours are set aside */
	int64_t start;
};

/*
 * Changes that open a start where none is open: leaving out one product, or
 * relaxing the keeper's own preference. Label and practice rules are never
 * relaxed. Returns how many were found.
 */
size_t helps_find(
    const struct judgement *judgement, struct help ret[HELPS_MAX]);

#endif
