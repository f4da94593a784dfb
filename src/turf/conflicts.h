/*
 * What cannot be, or should not be, whatever the weather: partners in a tank
 * that exclude each other, and a tank that its site or sprayer does not suit.
 * Told before anyone looks for a window.
 */
#ifndef TURF_CONFLICTS_H
#define TURF_CONFLICTS_H

#include "turf/shelf.h"

enum { CONFLICT_TEXT = 480, CONFLICTS_MOST = 32 };

struct conflict {
	bool forbids; /* no start can ever be right; else a caution */
	char text[CONFLICT_TEXT]; /* one line, no full stop; UTF-8 */
};

/* What is known beside the job; all may be empty. */
struct conflict_facts {
	const struct product *products; /* to look up what was applied */
	size_t product_count;
	const struct application *applications;
	size_t application_count;
	const struct shelf *shelf;   /* what is left; NULL: nobody looked */
	const struct draw *promised; /* what jobs before this one take of it */
	size_t promised_count;
	int64_t day; /* the civil day on which the job ends, as far as known */
	enum unit_system units; /* of the sentences */
};

/*
 * Fills `ret` with at most `most` conflicts, those that forbid first and none
 * twice, and returns how many. A contradiction within one card is the
 * configuration's to refuse.
 */
size_t conflicts_find(const struct job *job, const struct conflict_facts *facts,
    struct conflict *ret, size_t most);

#endif
