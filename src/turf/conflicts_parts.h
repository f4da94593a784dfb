/* The parts of conflicts_find, and the list that they fill. */
#ifndef TURF_CONFLICTS_PARTS_H
#define TURF_CONFLICTS_PARTS_H

#include "turf/conflicts.h"

struct finding {
	const struct job *job;
	const struct conflict_facts *facts;
	struct conflict *conflict; /* the forbidding ones first */
	size_t most, count, forbidding;
};

/* Two quantities closer than this, relative to the limit, are equal: they may
   have been typed in different units. As small as the judge's grain. */
#define CONFLICT_GRAIN 1e-4

/* Adds a sentence, unless it is there. When the list is full a caution gives
   way to what forbids. */
void finding_add(struct finding *finding, bool forbids, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* True when both are the same name; letter case does not count. */
bool conflict_same_name(const char *a, const char *b);

/* True when the rule speaks of all values of its exposure, and the start of
   the job is always one of them. */
bool conflict_holds_at_start(const struct rule *rule);

/* Floors over ceilings of partners; dry against water wanted. */
void find_rule_conflicts(struct finding *finding);

/* Who may not be with whom, and adjuvants. */
void find_partner_conflicts(struct finding *finding);

/* States, dates and turf that have nothing in common. */
void find_empty_sets(struct finding *finding);

/* Each card against the site, the sprayer, the dose and the year. */
void find_card_conflicts(struct finding *finding);

/* More than the shelf holds, or holds good; cautions all. */
void find_shelf_conflicts(struct finding *finding);

/* "bermuda, zoysia": the turf of those bits. Returns buffer. */
char *species_print(char *buffer, size_t size, unsigned species);

#endif
