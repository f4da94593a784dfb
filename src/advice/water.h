/*
 * Water wanted: whether rain and irrigation have brought, or will bring, what a
 * label asks for after an application ("activated by 0.5 in of rain or
 * irrigation within 14 days"). It closes no hour for spraying; when the water
 * will not come by itself, it is a task for the keeper.
 */
#ifndef ADVICE_WATER_H
#define ADVICE_WATER_H

#include "advice/derive.h"

/*
 * What falls in [opens, closes) counts: water_span of turf/follow.h.
 *
 * For each day that is over, what the keeper told of its rain rules over what
 * was observed. The last telling of a whole day is the one; else those of its
 * moments add up. One from within the day says nothing of the rest of it.
 * Irrigation counts once it has been done: told when it began, or later; a plan
 * does not count.
 *
 * From today's midnight on, the rain of the forecast is expected: that of the
 * steps whose chance is 50 % or more, or not known, so more likely than not. A
 * choice of ours. That of today counts as expected until the day is over, for
 * the hours gone by come from forecasts, too, and so nothing here changes with
 * the clock but at midnight and when it closes.
 *
 * Of a day that lies only partly in the span the hours count. When they are not
 * known, its rain may have come, and so may any amount on a day without any
 * number: `perhaps`. No gap is ever taken for rain, and none for a drought.
 */
enum water_state {
	WATER_SATISFIED, /* enough has come, on `day` */
	WATER_EXPECTED,  /* with the forecast it will be enough on `day` */
	WATER_SHORT,     /* `missing` has to come from the keeper */
	WATER_FAILED,    /* over, and too little has come */
	WATER_UNKNOWN,   /* short as far as is known; the gaps may hold it */
};

struct water_ledger {
	enum water_state state;
	int64_t opens, closes;   /* UTC */
	bool over;               /* it has closed */
	int64_t task_day;        /* civil day from which the keeper is asked:
				    two before the last, not before it opens */
	int64_t last_day;        /* civil day in which it closes */
	int64_t day;             /* SATISFIED, EXPECTED: civil day; else 0 */
	double needed;           /* mm, as are those that follow */
	double rain, irrigation; /* received */
	double expected;         /* from the forecast, not yet received */
	double perhaps; /* received besides, if the gaps hold it; INFINITY */
	double missing; /* what neither was received nor is expected; 0 */
	int64_t unknown_day;  /* first of the days that are not all known */
	size_t unknown_count; /* days until today of which `perhaps` tells */
	size_t blind_count;   /* days from today on without a whole forecast */
};

struct water_facts {
	const struct water_wanted *water; /* amount over 0 */
	const struct zone *zone;
	int64_t applied; /* when the application ended, UTC */
	int64_t now;
	const struct series *series;
	const struct series *hours; /* of water_hours; NULL: none */
	const struct site_facts *site;
};

void water_account(const struct water_facts *facts, struct water_ledger *ret);

/*
 * The span whose hours the account wants, on days that are over and lie only
 * partly in [opens, closes). False when the days, the keeper or the series tell
 * enough without them. facts->hours is not read.
 */
bool water_hours(
    const struct water_facts *facts, int64_t *ret_from, int64_t *ret_to);

/* How long the calendar shows that the water did not come, in days. */
enum { WATER_SHOWN_DAYS = 7 };

/*
 * Whether the keeper has to hear of it on that civil day: from the day before
 * the task's, so that it can be seen ahead, to WATER_SHOWN_DAYS after the last.
 */
bool water_is_due(const struct water_ledger *ledger, int64_t today);

#endif
