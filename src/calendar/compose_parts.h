/* What the composing files share; for them alone. */
#ifndef CALENDAR_COMPOSE_PARTS_H
#define CALENDAR_COMPOSE_PARTS_H

#include "calendar/compose.h"

/* The usual cautions, which end every description but for the credit. */
extern const char compose_cautions[];

/* Empties the entry; its uid is the two parts together. */
void compose_begin(
    struct composed *composed, const char *uid, const char *suffix);

/* At most ENTRY_ALARMS_MAX of them. `before` is in seconds. */
void compose_alarm(struct composed *composed, int64_t before, const char *text);

/* Points the entry at its strings, once they are whole. */
void compose_finish(
    struct composed *composed, const char *category, const struct site *site);

/*
 * On the evening before an all-day entry whose day is set: no alarm stands
 * after the start of its entry, and this one starts at midnight. None when that
 * evening came before `known`, the moment from which on it could be told.
 */
void compose_ring(struct composed *composed, const struct zone *zone,
    int64_t known, const struct compose_style *style, const char *text);

#endif
