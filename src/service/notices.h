/* Why a slot moved, as a notice for the calendar. */
#ifndef SERVICE_NOTICES_H
#define SERVICE_NOTICES_H

#include "service/board.h"

/*
 * Stores a notice that the job's slot `old` became job->slot (or nothing, when
 * !job->has_slot). Nothing is stored when the keeper postponed the job.
 */
bool notice_move(struct store *store, const struct board_job *job,
    const struct slot *old, int64_t now, enum unit_system units,
    struct error *error);

#endif
