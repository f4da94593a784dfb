/*
 * The rules that one job is judged by: those on the cards of its tank, the
 * practice limits that no label replaces, and the keeper's preferences, each
 * tied to its column.
 */
#ifndef ADVICE_RULEBOOK_H
#define ADVICE_RULEBOOK_H

#include "advice/facts.h"
#include "advice/judge.h"

struct rulebook {
	struct check check[LIMIT_RULES];
	size_t count;
	float *fact[LIMIT_RULES]; /* owned columns of the products */
	size_t fact_count;
};

struct practice {
	const struct rule *rules; /* borrowed */
	size_t count;
};

/*
 * Never fails: more than LIMIT_RULES cannot be configured. The rulebook borrows
 * the job, the practice rules and the series' columns; `past` is not needed any
 * more, and is NULL when nothing is known to have been done.
 */
void rulebook_init(struct rulebook *book, const struct job *job,
    const struct practice *practice, const struct series *series,
    const struct past *past);
/* Whether a verdict may hang on the slots that other jobs were promised. */
bool rulebook_counts_promised(const struct rulebook *book);
/* An outlook that judged it and lives on forgets its columns; NULL: none does.
 */
void rulebook_release(struct rulebook *book, struct outlook *outlook);

#endif
