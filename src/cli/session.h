/*
 * What a command works with: its arguments, the keeper, and the text that goes
 * to standard output when it is over.
 */
#ifndef CLI_SESSION_H
#define CLI_SESSION_H

#include "base/text.h"
#include "service/board.h"

#include <cjson/cJSON.h>

enum { ARGUMENTS_MAX = 64, OPTIONS_MAX = 24 };

/* The mark in front of an option that takes no value, "+mowed", and of one that
   may be given several times, "*weed". */
enum { OPTION_ALONE = '+', OPTION_OFTEN = '*' };

/* One option as it was given. */
struct given {
	size_t option; /* of command->options, by position */
	const char *value;
};

struct session {
	const struct command *command;
	const char *word[ARGUMENTS_MAX]; /* after the command's name */
	size_t word_count;
	struct given given[ARGUMENTS_MAX]; /* in order */
	size_t given_count;
	const char *config_path, *state; /* NULL: the usual ones */
	struct clock clock;
	bool json;
	struct keeper keeper;
	struct text out;
	struct error error; /* printed when its text is not empty */
};

enum command_needs {
	NEEDS_CONFIG, /* the configuration alone */
	NEEDS_STORE,
};

struct command {
	const char *name;
	const char *synopsis;       /* after the name */
	const char *help;           /* one line */
	const char *const *options; /* names, NULL at the end */
	size_t least, most;         /* words */
	enum command_needs needs;
	int (*run)(struct session *session); /* returns the exit code */
};

/* The table, NULL after the last. */
const struct command *command_at(size_t i);
const struct command *command_find(const char *name);

/* The value of an option of the command, or NULL when it is not given; "" for
   one that takes no value. */
const char *session_option(const struct session *session, const char *name);

/* The i-th value of one that may be given several times, NULL after the last.
 */
const char *session_option_at(
    const struct session *session, const char *name, size_t i);

/* Fills the session from the command line; false and the error. */
bool session_read_arguments(struct session *session, int argc, char **argv);

/* A time option, in the zone; *ret stays when it is not given. */
bool session_time(struct session *session, const char *name,
    const struct zone *zone, int64_t *ret);

/* The same for a quantity from `least` to `most`. */
bool session_quantity(struct session *session, const char *name,
    enum quantity_kind kind, double least, double most, double *ret);

/* One line of text for people, ", " between what was given several times; ""
   when it is not given. The caller frees it. */
bool session_text(struct session *session, const char *name, char **ret);

/* The site that the first word names; NULL and the error when there is none. */
const struct site *session_site(struct session *session);

/* A job number. */
bool session_job(struct session *session, size_t word, int64_t *ret);

/* Takes `json`, gives it "format": 1 in front, prints and frees it. */
int session_print_json(struct session *session, cJSON *json);

/* {"format": 1, "job": id, "state": state} */
int session_print_outcome(
    struct session *session, int64_t id, const char *state);

/* A number for JSON with a fixed few decimals, null when not known. */
cJSON *json_rounded(double value, int decimals);

/* An RFC 3339 time in the zone. */
cJSON *json_time(const struct zone *zone, int64_t utc);

/* Sets the session's error and returns its exit code. */
int session_fail(struct session *session, enum error_kind kind,
    const char *format, ...) __attribute__((format(printf, 3, 4)));

/* One pass over what is stored, without fetching; an exit code. */
int session_pass(struct session *session);

int command_add(struct session *session);
int command_calibrate(struct session *session);
int command_check(struct session *session);
int command_done(struct session *session);
int command_drop(struct session *session);
int command_help(struct session *session);
int command_mix(struct session *session);
int command_now(struct session *session);
int command_observe(struct session *session);
int command_postpone(struct session *session);
int command_queue(struct session *session);
int command_records(struct session *session);
int command_refresh(struct session *session);
int command_stock(struct session *session);
int command_weather(struct session *session);
int command_why(struct session *session);
int command_windows(struct session *session);

#endif
