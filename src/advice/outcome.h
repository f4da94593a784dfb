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

/* The same for a sentence: it says so when no start lies ahead. */
char *blockers_tell(char *buffer, size_t size,
    const struct judgement *judgement, enum unit_system units);

/* True when all that blockers_print tells is not known: a window may be there.
 */
bool blockers_unknown(const struct judgement *judgement);

/* The end of what blockers_print speaks of, UTC: a week, or less when the
   forecast or the job's deadline ends before. */
int64_t blockers_until(const struct judgement *judgement);

/* True when the job's own limits allow the start and it is not before `from`.
 */
bool judgement_allows(
    const struct judgement *judgement, size_t start, int64_t from);

enum help_change {
	HELP_WITHOUT, /* leave a product out of the tank */
	HELP_SPLIT,   /* spray a product and the rest as two tanks */
	HELP_HOURS,   /* set the keeper's preferred hours aside */
};

/* One change and the first start that it would open. */
struct help {
	enum help_change change;
	const struct product *without; /* of HELP_WITHOUT, else NULL */
	int64_t start;
	struct tank_mix first, second; /* of HELP_SPLIT, in that order */
	int64_t second_start;          /* the other tank's, of HELP_SPLIT */
};

/* At most so many are told: of leaving out, of splitting, of hours. */
enum { HELPS_WITHOUT = 2, HELPS_MAX = HELPS_WITHOUT + 2 };

/*
 * Changes that open a start before the first one that is open: leaving out one
 * product, relaxing the keeper's own preference, or, when no start is open at
 * all, splitting the tank. Label and practice rules are never relaxed. A tank
 * is split into one product and the rest, each with the adjuvants that it may
 * have; the second starts when the first is over at the earliest. Of several
 * splits the one that is done first is told. Returns how many were found.
 */
size_t helps_find(
    const struct judgement *judgement, struct help ret[HELPS_MAX]);

/*
 * "Without hot-a: Tue 3 Mar 07:15", "Outside the preferred hours: Tue 3 Mar
 * 07:15", "In two tanks: mild-b Tue 3 Mar 07:15 and, once that has dried, hot-a
 * Fri 6 Mar 09:00". The style is that of the times; HELP_BUFFER bytes are
 * enough.
 */
char *help_print(char *buffer, size_t size, const struct help *help,
    const struct zone *zone, enum civil_style style);

enum { HELP_BUFFER = 2 * LIMIT_TEXT_BYTES };

#endif
