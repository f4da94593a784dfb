/*
 * What follows from an application that was done: until when to keep off, when
 * the lawn may be mown again, when to look at the result, between which days a
 * second application belongs. From the cards alone; the weather is not asked.
 */
#ifndef TURF_FOLLOW_H
#define TURF_FOLLOW_H

#include "turf/turf.h"

/* In the order in which they are told. */
enum follow_kind {
	FOLLOW_KEEP_OFF,
	FOLLOW_IRRIGATION, /* a hold, as are the next four */
	FOLLOW_MOWING,
	FOLLOW_AERATING,
	FOLLOW_OVERSEEDING,
	FOLLOW_SEEDING,
	FOLLOW_WATER, /* water is wanted */
	FOLLOW_LOOK,  /* the effect can be seen */
	FOLLOW_AGAIN, /* a second application may come */
	FOLLOW_KINDS
};

struct follow {
	enum follow_kind kind;
	const struct product *product; /* whose card says so; NULL: none */
	/* KEEP_OFF and holds: [from, to) is when not to. WATER and AGAIN: when
	   it belongs; `to` of AGAIN is INT64_MAX when the card has no end.
	   LOOK: `from` alone counts. UTC. */
	int64_t from, to;
};

struct follow_facts {
	const struct site *site;
	const struct tank_mix *tank;
	int64_t from, to; /* when it began and ended, UTC */
	double keep_off;  /* s, when no card says more */
	/* all that are known, this one among them or not, in any order */
	const struct application *applications;
	size_t application_count;
};

/* No tank gives more. */
enum { FOLLOWS_MOST = 2 + 5 + 3 * LIMIT_TANK_PRODUCTS };

/*
 * Fills `ret` by kind, then by place in the tank, and returns how many. Of a
 * hold the longest is told, once. AGAIN is told only by a card with a
 * re-treatment interval, and not when the product has been applied to the site
 * since, nor when its season-count leaves none for the calendar year of the
 * first day on which it may.
 */
size_t follow_list(
    const struct follow_facts *facts, struct follow ret[FOLLOWS_MOST]);

/*
 * "mow again from Thu 16 Apr 09:05", "su-b: look at the result from Tue 19
 * May", "su-b: second application from Tue 26 May to Tue 23 Jun". FOLLOW_BUFFER
 * bytes are enough.
 */
char *follow_print(char *buffer, size_t size, const struct follow *follow,
    const struct zone *zone, enum unit_system units);

enum { FOLLOW_BUFFER = LIMIT_NAME_BYTES + 160 };

/*
 * [*ret_opens, *ret_closes) is when water counts that a card wants after an
 * application that ended at `applied`. It opens `not_before` after it and
 * closes `within` after it; a span of more than 48 h that is whole days is
 * counted in days, as a label does, and closes with the last of them: a choice
 * of ours.
 */
void water_span(const struct water_wanted *water, const struct zone *zone,
    int64_t applied, int64_t *ret_opens, int64_t *ret_closes);

/*
 * When a stock solution goes that was made then: so long after it as the card
 * says, else with its local day. The card may be gone (NULL).
 */
int64_t solution_until(
    const struct product *product, const struct zone *zone, int64_t made);

/* The longest keep-off of the tank's cards, or `least` if none says more. */
double tank_keep_off(const struct tank_mix *tank, double least);

#endif
