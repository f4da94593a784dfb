/*
 * What was done, as journal entries (RFC 5545 section 3.6.3) for a program that
 * keeps a diary. Plain data and its way onto the wire; cleaned, checked and
 * folded as calendar/entry.h says.
 */
#ifndef CALENDAR_JOURNAL_H
#define CALENDAR_JOURNAL_H

#include "calendar/entry.h"

struct journal {
	const char *uid; /* borrowed, as are all strings; stable for ever */
	int64_t from;    /* DTSTART, UTC */
	int64_t created; /* CREATED */
	const char *summary;
	const char *description;
	const char *categories[ENTRY_CATEGORIES_MAX]; /* NULL after the last */
	/* The uid of the one that replaces it, and when that was made: the
	   status is CANCELLED then, else FINAL. NULL: none does. */
	const char *replaced_by;
	int64_t replaced;
};

/*
 * As calendar_write, which says what is refused; head->revised is not read: it
 * is that of the youngest journal, or 1970 without any.
 */
bool journal_write(const struct calendar_head *head,
    const struct journal *journals, size_t count, struct text *ret,
    struct error *error);

#endif
