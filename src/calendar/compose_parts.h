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

#endif
