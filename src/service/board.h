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
#include "turf/sheet.h"

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
	struct sprayer *sprayer; /* owned; service/sprayers.h */
	struct board_site *site; /* owned; one for each configured site */
	size_t site_count;
	struct stored_record *record; /* owned */
	size_t record_count;
	struct application *application; /* owned array, borrowed strings */
	size_t application_count;
	struct stored_solution *made;    /* owned; stock solutions */
	struct sheet_solution *solution; /* owned; the same, for a mix sheet */
	size_t made_count;
	struct shelf shelf; /* owned; what is left in the keeper's packages */
	struct application *promised; /* owned; the slots of the jobs that have
					 been judged so far */
	struct draw *taken; /* owned; what each of those takes of the shelf */
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

/*
 * A job that is not stored, judged as if it were the last of the queue. Its
 * strings are those of `stored`, the rest is the board's. Released with
 * board_job_release, before the board.
 */
bool board_try(const struct board *board, const struct config *config,
    const struct stored_job *stored, struct board_job *ret,
    struct error *error);
/* The same job in a slot: what is said beside it is of that day. */
void board_give_slot(const struct board *board, const struct config *config,
    const struct slot *slot, struct board_job *job);
void board_job_release(struct board_job *job);

/* Judges the queue anew, with the slots that its jobs have now. False when no
   verdict hangs on these: then all is as it was, but for what the shelf says.
 */
bool board_judge_again(struct board *board, const struct config *config);

/* The same, and each job whose slot is not right beside those of the jobs
   before it loses it, unless it has begun. */
void board_withdraw(struct board *board, const struct config *config);

/* NULL when no waiting job has that id, or the job has trouble. */
struct board_job *board_find(const struct board *board, int64_t id);
struct board_site *board_find_site(const struct board *board, const char *name);

/* The rules of a job over a series of its own or its site's: with the records
   and with the slots that were promised to the jobs before it. */
void board_rulebook(const struct board *board, const struct config *config,
    const struct board_job *job, const struct series *series,
    struct rulebook *ret);

/* What the shelf says of g or L (by the kind of its rate) of a dose of the job,
   when those that were queued before it have taken theirs. */
void board_ask_shelf(const struct board *board, const struct board_job *job,
    const struct dose *dose, double amount, struct shelf_answer *ret);

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

/* A stored job as a noun, with one of the sprayers of sprayers_load. False with
   a sentence when its site, a product or a rate is not in the configuration any
   more. */
bool board_resolve(const struct config *config, const struct sprayer *sprayers,
    const struct stored_job *stored, struct job *ret, struct error *error);

#endif
