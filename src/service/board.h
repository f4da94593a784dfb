/*
 * The board: every waiting job with its site's forecast, its rules, its masks,
 * its windows and the slot that it was promised. Made from the store and the
 * configuration at one moment; it fetches and writes nothing.
 */
#ifndef SERVICE_BOARD_H
#define SERVICE_BOARD_H

#include "advice/derive.h"
#include "advice/outcome.h"
#include "advice/plan.h"
#include "advice/rulebook.h"
#include "service/chain.h"
#include "turf/conflicts.h"

struct board_site {
	const struct site *site; /* borrowed from the configuration */
	struct chain chain;      /* where the series came from */
	struct daily *days;      /* owned; ascending (service/history.h) */
	size_t day_count;
	struct turf_event *event; /* owned; what the keeper told of */
	size_t event_count;
	struct site_facts facts; /* the two lists above, for advice/ */
	struct series series; /* all unknown when there is no usable forecast */
	struct outlook outlook;
};

struct board_job {
	struct job job; /* strings borrowed from the board's stored jobs */
	struct board_site *site; /* NULL when the job cannot be resolved */
	struct rulebook book;
	struct verdicts verdicts;
	struct window_limits limits;
	struct window *windows; /* owned */
	size_t window_count;
	bool has_slot;
	struct slot slot; /* as promised; a pass puts the new one here */
	int64_t planned;  /* when the slot was chosen */
	size_t promised;  /* so many of the board's promised slots are of jobs
			     that were queued before it */
	struct conflict *caution; /* owned; what should not be, though it may */
	size_t caution_count;
	char trouble[CONFLICT_TEXT]; /* it cannot be judged, or no start can
					ever be right; "" when fine */
};

struct board {
	int64_t now;
	struct stored_job *stored; /* owned */
	size_t stored_count;
	struct board_job *job; /* owned; the waiting jobs by id */
	size_t job_count;
	struct board_site *site; /* owned; one for each configured site */
	size_t site_count;
	struct stored_record *record; /* owned */
	size_t record_count;
	struct application *application; /* owned array, borrowed strings */
	size_t application_count;
	struct application *promised; /* owned; the slots of the jobs that have
					 been judged so far */
	size_t promised_count, promised_capacity;
};

/* How far the series reach from now, ahead to the end of that local day. */
enum { BOARD_PAST = 8 * 86400, BOARD_AHEAD = 8 * 86400 };

/*
 * `now` may lie in the past: then the forecasts are those that had been fetched
 * by then, and the queue is that of today.
 */
bool board_load(struct board *board, const struct keeper *keeper, int64_t now,
    struct error *error);
void board_release(struct board *board);

/* NULL when no waiting job has that id, or the job has trouble. */
struct board_job *board_find(const struct board *board, int64_t id);
struct board_site *board_find_site(const struct board *board, const char *name);

/* The rules of a job over a series of its own or its site's: with the records
   and with the slots that were promised to the jobs before it. */
void board_rulebook(const struct board *board, const struct config *config,
    const struct board_job *job, const struct series *series,
    struct rulebook *ret);

/* The judgement of a job, for advice/outcome.h. */
struct judgement board_judgement(const struct board_job *job);

/* The verdict for a start at that moment; *ret_start is its cell. UNKNOWN
   outside the series. */
enum verdict board_verdict(
    const struct board_job *job, int64_t time, size_t *ret_start);

/* The same for the job's slot, also when it has begun or when the forecast that
   it was chosen from is gone. */
enum verdict board_slot_verdict(const struct board_job *job, size_t *ret_start);

/*
 * What the tank of a stored job has against itself, its site and its sprayer,
 * those that forbid first (turf/conflicts.h): at most CONFLICTS_MOST, without a
 * look at any weather.
 */
bool board_conflicts(const struct keeper *keeper,
    const struct stored_job *stored, struct conflict ret[CONFLICTS_MOST],
    size_t *ret_count, struct error *error);

/* A stored job as a noun. False with a sentence when its site, a product or a
   rate is not in the configuration any more. */
bool board_resolve(const struct config *config, const struct stored_job *stored,
    struct job *ret, struct error *error);

#endif
