/*
 * One pass: fetch -> read -> derive -> judge -> windows -> plan -> compare with
 * the last plan -> publish. Read this file's .c from top to bottom and you know
 * the product.
 */
#ifndef SERVICE_PASS_H
#define SERVICE_PASS_H

#include "service/fetch.h"
#include "service/keeper.h"

struct pass_order {
	struct fetcher *fetcher; /* NULL: no fetching, what is stored is used */
	bool fetch_all;          /* also what is not due yet */
	int interrupt; /* descriptor that ends the wait for documents; -1 */
};

struct pass_report {
	size_t jobs, slots, moved;
	int64_t next;        /* when the next pass is due, UTC */
	struct text trouble; /* a line for each site or job with trouble;
				release it */
};

/*
 * Runs one pass at the keeper's clock. Two programs that pass at once take
 * turns. On failure the published files are as they were, or whole; nothing
 * that was queued is lost. *ret is set on success only.
 */
bool pass_run(const struct keeper *keeper, const struct pass_order *order,
    struct pass_report *ret, struct error *error);

#endif
