/* How jobs are shown: shared by the commands that print one or all. */
#ifndef CLI_SHOW_H
#define CLI_SHOW_H

#include "cli/session.h"
#include "service/board.h"

/* The job's lines as `queue` prints them, or its JSON, with `count` cautions
   more than its own. An exit code: a job without a slot that is go is
   ERROR_ANSWER. */
int show_job(struct session *session, int64_t id, const struct conflict *more,
    size_t count);

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

/* One rule: what a reason is told with. */
struct shown {
	const struct job *job;
	enum unit_system units;
	const char *hint; /* what would tell what is not known; NULL */
};

/*
 * What the keeper can do about a value that is not known: "lull refresh", "look
 * at the lawn: lull observe front --green P"; NULL when nothing. HINT_BUFFER
 * bytes are enough.
 */
const char *show_hint(
    char *buffer, size_t size, const struct job *job, enum measure measure);

enum { HINT_BUFFER = 2 * LIMIT_NAME_BYTES + 64 };

/* "go       wind 5 mph ..., wanted at most 10 mph during the job: 5 mph to
   spare", without the end of the line. */
void show_reason(
    struct text *out, const struct reason *reason, const struct shown *shown);

/* "label of post-a: page 3: "Do not apply above 85 F"", a whole line. */
void show_origin(struct text *out, const struct rule *rule);

/* The same as an object. */
cJSON *show_reason_json(const struct reason *reason, const struct shown *shown);

/* Where the numbers come from, and how old they are: lines, or members of
   `json` when that is not NULL. */
void show_forecast(
    struct session *session, const struct board_job *job, cJSON *json);

/* The names of the rules that are closed at a start: "wind over 10 mph". */
char *show_edge(char *buffer, size_t size, const struct board_job *job,
    const struct window_edge *edge, enum unit_system units);

#endif
