/*
 * A job on site, with instruments in the hand: a start at one moment, judged
 * with the readings laid over a copy of the forecast. `lull now` asks it of a
 * job that is about to begin, `lull done` of one that was done.
 */
#ifndef CLI_LOOK_H
#define CLI_LOOK_H

#include "advice/readings.h"
#include "cli/session.h"
#include "service/board.h"

struct look {
	struct readings readings; /* filled before look_init */
	const struct board_job *job;
	int64_t from; /* when the job begins, in the cell `start` */
	struct series series;
	struct rulebook book; /* tied to that series */
	struct check *checks;
	size_t check_count;
	struct outlook outlook;
	struct verdicts verdicts;
	size_t start;
	int64_t duration; /* from the start of that cell to the end of the job
			   */
};

/* Nothing was measured. */
extern const struct readings look_nothing;

/* Puts the options over what is there; one that is not given changes nothing.
   A command without an option of that name never has it. */
bool look_read(struct session *session, struct readings *readings);

/* The job lasts as the slot says, which begins inside the site's series. */
void look_init(struct look *look, const struct board *board,
    const struct config *config, const struct board_job *job, struct slot slot);
void look_release(struct look *look);

/* The cell that answers for a rule, by its place in the checks. */
size_t look_cell(const struct look *look, size_t rule);
enum verdict look_verdict_of(const struct look *look, size_t rule);
/* No-go before unknown before go, over all rules. */
enum verdict look_verdict(const struct look *look);
void look_reason(const struct look *look, size_t rule, struct reason *ret);

#endif
