/*
 * What the outside sees: the calendar file and the report page, made from a
 * board after a pass and replaced whole or not at all.
 */
#ifndef SERVICE_PUBLISH_H
#define SERVICE_PUBLISH_H

#include "service/board.h"

/* How one job came out of the pass, in the order of board->job. */
struct result {
	enum plan_outcome outcome; /* meaningless for a job with trouble */
};

/*
 * Composes every entry, gives each its revision (SEQUENCE and stamps move only
 * with content; they are kept in the store, in the transaction that the caller
 * has open) and appends the calendar to `ret`.
 */
bool publish_calendar(const struct keeper *keeper, const struct board *board,
    const struct result *results, struct text *ret, struct error *error);

/* Replaces the file when its bytes differ; no write when they do not. */
bool publish_file(
    const char *path, const struct text *bytes, struct error *error);

/* Where the calendar and the page go; free it. */
char *publish_calendar_path(const struct keeper *keeper);
char *publish_page_path(const struct keeper *keeper);

#endif
