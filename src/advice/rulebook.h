/*
 * The rules that one job is judged by: those on the cards of its tank, the
 * practice limits that no label replaces, and the keeper's preferences, each
 * tied to its column.
 */
#ifndef ADVICE_RULEBOOK_H
#define ADVICE_RULEBOOK_H

#include "advice/judge.h"
#include "turf/turf.h"

struct rulebook {
	struct check check[LIMIT_RULES];
	size_t count;
	float *since[LIMIT_TANK_PRODUCTS]; /* owned days-since columns */
	size_t since_count;
};

struct practice {
	const struct rule *rules; /* borrowed */
	size_t count;
};

/*
 * Never fails: more than LIMIT_RULES cannot be configured. The rulebook borrows
 * the job, the practice rules and the series' columns. An outlook that judged
 * it knows its days-since columns by address: release the outlook first.
 */
void rulebook_init(struct rulebook *book, const struct job *job,
    const struct practice *practice, const struct series *series,
    const struct application *applications, size_t application_count);
void rulebook_release(struct rulebook *book);

#endif
