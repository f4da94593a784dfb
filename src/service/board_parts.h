/* What the files of the board share; private to them. */
#ifndef SERVICE_BOARD_PARTS_H
#define SERVICE_BOARD_PARTS_H

#include "service/board.h"

struct stored_slots {
	const struct stored_slot *slot;
	size_t count;
};

/* Makes board->application from board->record. */
void board_list_applications(struct board *board);

/* Puts one stored job at the end of board->job, with its slot, judged. */
void board_take_job(struct board *board, const struct config *config,
    const struct stored_job *stored, const struct stored_slots *slots);

#endif
