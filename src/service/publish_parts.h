/* What the files that fill the calendar share; private to them. */
#ifndef SERVICE_PUBLISH_PARTS_H
#define SERVICE_PUBLISH_PARTS_H

#include "calendar/compose.h"
#include "service/board.h"

/* The entries of one calendar, each on its own so that strings stay put. */
struct agenda {
	struct composed **item; /* owned */
	size_t count, capacity;
};

/* One more entry, to be composed. */
struct composed *agenda_add(struct agenda *agenda);

struct compose_style agenda_style(const struct keeper *keeper);

/* What follows from the records, and from what stands on the shelf. */
bool agenda_add_records(struct agenda *agenda, const struct keeper *keeper,
    const struct board *board, struct error *error);

#endif
