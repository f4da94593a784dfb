/* What the files of `lull done` share; for them alone. */
#ifndef CLI_DONE_H
#define CLI_DONE_H

#include "cli/session.h"

/* One recording: of a job that waits, or of a record that is replaced. */
struct done {
	struct session *session;
	struct board board;      /* owned; of now */
	struct stored_job *jobs; /* owned; all, also those that are done */
	size_t job_count;
	const struct stored_job *stored; /* one of them */
	/* The job as the configuration knows it today. A record can be
	   corrected without: */
	bool is_resolved;
	struct job job;
	const struct board_job *waits; /* NULL for a correction */
	struct stored_record record;   /* owned; the new one, all strings set */
	int64_t replaced_to; /* when the one that is replaced had ended */
	int64_t repeated_by; /* the job that repeats it, new or moved; 0 */
	char not_asked[200]; /* why the rules could not be asked; "" */
};

/* Fills the record from the job, the configuration and the options, or from the
   record that it replaces and the options. False and the session's error. */
bool done_fill(struct done *done);

/* The forecast of then, and what the rules and the label's rates say of the
   weather of then and of what was put down; a correction asks again only when
   times, weather or amounts are said again. */
bool done_judge(struct done *done);

/* After it was stored. */
void done_say(const struct done *done);

/*
 * The applications of the board without those of the record that is replaced
 * and those that began after `until`; an array that the caller frees.
 */
struct application *done_applications(
    const struct done *done, int64_t until, size_t *ret_count);

#endif
