/*
 * What the files that write a calendar share, for them alone: text is cleaned,
 * properties are put, and the whole is folded. libical's own failures are
 * remembered and told once, at the end.
 */
#ifndef CALENDAR_ICS_PARTS_H
#define CALENDAR_ICS_PARTS_H

#include "calendar/clean.h"
#include "calendar/entry.h"

#include <libical/ical.h>

struct ics {
	icalcomponent *calendar; /* owned */
	struct text clean;       /* the string cleaned last */
	bool lost;               /* libical could not make a part */
};

/* Begins a calendar with its head; ics_release in either case. */
bool ics_begin(
    struct ics *ics, const struct calendar_head *head, struct error *error);

/* Appends the whole to `ret` in one step, so that a full one is left as it was.
 */
bool ics_finish(struct ics *ics, struct text *ret, struct error *error);
void ics_release(struct ics *ics);

/* The cleaned string, valid until the next call of anything here. */
const char *ics_clean(struct ics *ics, const char *raw, enum cleaning how);

/* True for what a calendar can write, the years 1 to 9999. */
bool ics_second_fits(int64_t utc);
bool ics_day_fits(int64_t day);

struct icaltimetype ics_time(int64_t utc);

icalcomponent *ics_open(
    struct ics *ics, icalcomponent *parent, icalcomponent_kind kind);
void ics_put(struct ics *ics, icalcomponent *parent, icalproperty *property);

/* UID, DTSTAMP, LAST-MODIFIED and SEQUENCE. */
void ics_put_revision(struct ics *ics, icalcomponent *parent, const char *uid,
    int64_t revised, int sequence);
void ics_put_summary(struct ics *ics, icalcomponent *parent, const char *raw);
/* Nothing for one that is empty once it is clean. */
void ics_put_description(
    struct ics *ics, icalcomponent *parent, const char *raw);
/* At most ENTRY_CATEGORIES_MAX, NULL after the last. */
void ics_put_categories(
    struct ics *ics, icalcomponent *parent, const char *const *categories);

#endif
