/*
 * A calendar entry as plain data, and its way onto the wire (RFC 5545, RFC
 * 7986) through libical. What an entry says is composed elsewhere; this file
 * knows no job, product or rule.
 */
#ifndef CALENDAR_ENTRY_H
#define CALENDAR_ENTRY_H

#include "base/error.h"
#include "base/text.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum { ENTRY_ALARMS_MAX = 3, ENTRY_CATEGORIES_MAX = 4 };

enum entry_status { ENTRY_TENTATIVE, ENTRY_CONFIRMED };

struct entry_alarm {
	int32_t before;   /* seconds before the start; 0 at the start */
	const char *text; /* borrowed; DISPLAY alarm's DESCRIPTION */
};

struct entry {
	/* identity and revision: not part of the content */
	const char *uid; /* borrowed; stable for the entry's whole life */
	int sequence;    /* SEQUENCE, from 0 */
	int64_t revised; /* UTC of the last change of content: DTSTAMP and
			    LAST-MODIFIED */
	/* content */
	bool all_day; /* from and to are days since 1970-01-01, to exclusive */
	int64_t from, to;        /* UTC seconds unless all_day; from < to */
	const char *summary;     /* borrowed, as are the strings below */
	const char *description; /* lines end with '\n' */
	const char *categories[ENTRY_CATEGORIES_MAX]; /* NULL after the last */
	enum entry_status status;
	bool has_place;
	double latitude, longitude; /* GEO, degrees */
	struct entry_alarm alarm[ENTRY_ALARMS_MAX];
	size_t alarm_count;
};

struct calendar_head {
	const char *name;        /* NAME and X-WR-CALNAME */
	const char *description; /* borrowed; NULL for none */
	int64_t refresh;         /* REFRESH-INTERVAL, seconds */
	int64_t revised; /* LAST-MODIFIED of the calendar: latest entry's; 0:
			    none, it is empty */
};

/*
 * Appends the whole calendar, CRLF lines of at most 75 octets, to `ret`. The
 * same entries give the same bytes. Text is cleaned first: control characters
 * and ill-formed UTF-8 never reach the wire, one-line fields lose their line
 * breaks, and blanks at the end of a text go.
 *
 * Fails with ERROR_INPUT, naming the entry, on one without uid or summary, with
 * from >= to, with a time outside the years 1 to 9999, a sequence below 0, a
 * place that is not on the earth, or an alarm after the start; with
 * ERROR_SYSTEM when `ret` is full, which keeps its content. Two entries of one
 * uid are the caller's fault and not looked for. No entries at all give a
 * calendar without components: RFC 5545 wants one at least, every reader that
 * was tried takes it.
 */
bool calendar_write(const struct calendar_head *head,
    const struct entry *entries, size_t count, struct text *ret,
    struct error *error);

/* A 64-bit FNV-1a hash of the content fields above: changes when they do. NULL
   and "" are alike, and so are places without has_place. */
uint64_t entry_hash(const struct entry *entry);

/* Call once at the end of the program: returns libical's own memory. */
void calendar_finish(void);

#endif
