/*
 * `lull add SITE --weed W...` without products: tanks from the shelf that cover
 * the weeds, with the first window of each. Nothing is queued.
 */
#ifndef CLI_PROPOSE_H
#define CLI_PROPOSE_H

#include "cli/session.h"
#include "turf/choose.h"

/* A tank of a proposal against the forecast. */
struct tried_tank {
	const struct proposed_tank *tank;
	bool is_open;         /* there is a window */
	bool is_unknown;      /* there is none that anybody could tell of */
	struct window window; /* the first, after the tank before it */
	int64_t from, to;     /* the job at its begin */
	char why[LIMIT_TEXT_BYTES]; /* one line: why there is no window; ""
				       when nobody looked, for a tank before
				       it has none */
	struct conflict *caution;   /* owned */
	size_t caution_count;
};

/* A proposal with its tanks in the order in which they are sprayed. */
struct tried {
	const struct proposal *proposal;
	struct tried_tank tank[CHOOSE_TANKS];
	size_t tank_count;
	size_t open_count; /* of the first tanks */
	bool is_open;      /* all of them are */
};

/* What all of the proposals have in common. */
struct propose {
	struct session *session;
	const struct stored_job *wish; /* the job without its tank */
	struct job job;                /* the same, as a noun */
	const struct choice *choice;
	size_t looked_at; /* proposals that were tried */
};

enum { PROPOSALS_SHOWN = 3 };

/*
 * The session's weeds for the job, which has a site and no products. Returns an
 * exit code: 0 when a proposal has a window.
 */
int propose_tanks(struct session *session, const struct stored_job *wish);

/* The proposals, those with a window first, and what else there is to say. */
void propose_show(
    const struct propose *propose, const struct tried *tried, size_t count);
void propose_show_json(
    const struct propose *propose, const struct tried *tried, size_t count);

/* Appends the command that queues the tank, as a shell wants it. */
void propose_add_command(struct text *text, const struct propose *propose,
    const struct proposed_tank *tank);

/* A rate that reads back as the same one. Returns buffer; QUANTITY_BUFFER bytes
   are enough. */
char *propose_print_rate(
    char *buffer, size_t size, const struct dose *dose, enum unit_system units);

/* True for a herbicide whose card lists the weed. */
bool propose_covers(const struct product *product, const char *weed);

/* The resistance groups of the tank's herbicides, each once. */
enum { PROPOSE_GROUPS = 64 };
size_t propose_groups(
    const struct tank_mix *mix, const char *ret[PROPOSE_GROUPS]);

/* Not known when a herbicide's card names no group. */
enum rotation { ROTATION_UNKNOWN, ROTATION_KEPT, ROTATION_BROKEN };
enum rotation propose_rotation(const struct tried_tank *tried);

/* When the effect of a product can be seen, after the tank's first window; 0
   when that or the card does not tell. */
int64_t propose_effect(
    const struct tried_tank *tried, const struct product *product);

#endif
