/* How jobs are shown: shared by the commands that print one or all. */
#ifndef CLI_SHOW_H
#define CLI_SHOW_H

#include "cli/session.h"
#include "service/board.h"

/* The job's lines as `queue` prints them, or its JSON. An exit code: a job
   without a slot that is go is ERROR_ANSWER. */
int show_job(struct session *session, int64_t id);

/* Adds one job's lines, or its object to `list` when that is not NULL. */
void show_add(
    struct session *session, const struct board_job *job, cJSON *list);

/* True when the job has a slot whose verdict is go. */
bool show_is_go(const struct board_job *job);

/* Loads the board; false and the session's error. */
bool show_load(struct session *session, struct board *ret);

/* The waiting job, with a site and rules; else the error of a no answer. */
struct board_job *show_find(
    struct session *session, const struct board *board, int64_t id);

/* The names of the rules that are closed at a start: "wind over 10 mph". */
char *show_edge(char *buffer, size_t size, const struct board_job *job,
    const struct window_edge *edge, enum unit_system units);

#endif
