/* One job of the board: what it means, what forbids it, and its judgement. */
#include "service/board.h"

#include "base/memory.h"
#include "config/values.h"
#include "service/board_parts.h"
#include "service/sprayers.h"
#include "turf/mix.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

bool
board_resolve(const struct config *config, const struct sprayer *sprayers,
    const struct stored_job *stored, struct job *ret, struct error *error)
{
	struct job job = { .id = stored->id,
		.uid = stored->uid,
		.site = config_site(config, stored->site),
		.after = stored->after,
		.before = stored->before,
		.priority = stored->priority,
		.repeat = stored->repeat,
		.note = stored->note };
	if (job.site == NULL)
		return error_set(error, ERROR_INPUT,
		    "site \"%s\" is not in the configuration", stored->site);
	job.sprayer = sprayers_of(config, sprayers, job.site);
	job.area = stored->area > 0 ? stored->area : job.site->area;
	for (size_t i = 0; i < stored->dose_count; i++) {
		const struct stored_dose *from = &stored->dose[i];
		struct dose *dose = &job.tank.dose[job.tank.count++];
		dose->product = config_product(config, from->product);
		if (dose->product == NULL)
			return error_set(error, ERROR_INPUT,
			    "product \"%s\" is not on file", from->product);
		dose->rate = dose->product->rate;
		dose->rate_kind = dose->product->rate_kind;
		if (from->rate != NULL && !value_rate(from->rate, &dose->rate,
					      &dose->rate_kind, error))
			return error_prefix(error, "%s", from->product);
	}
	*ret = job;
	return true;
}

/*
 * A slot that went by without a record: the job may have been done, so it is
 * not put into the very next hour but, at the earliest, into the next day.
 */
static int64_t
earliest(const struct board_job *job, int64_t now)
{
	const struct zone *zone = &job->job.site->zone;
	if (!job->has_slot || job->slot.to > now)
		return job->job.after;
	int64_t next =
	    civil_day_start(zone, civil_day(zone, job->slot.from) + 1);
	return next > job->job.after ? next : job->job.after;
}

/* The day on which the job is over; today for one that has no slot yet. */
static int64_t
last_day(const struct board *board, const struct board_job *job)
{
	int64_t today = board->shelf.today;
	if (!job->has_slot)
		return today;
	int64_t day = civil_day(&job->job.site->zone, job->slot.to);
	return day > today ? day : today;
}

static size_t
find_conflicts(const struct board *board, const struct config *config,
    const struct board_job *job, struct conflict ret[CONFLICTS_MOST])
{
	const struct conflict_facts facts = { .products = config->products,
		.product_count = config->product_count,
		.applications = board->application,
		.application_count = board->application_count,
		.shelf = &board->shelf,
		.promised = board->taken,
		.promised_count = job->promised,
		.day = last_day(board, job),
		.units = config->units };
	return conflicts_find(&job->job, &facts, ret, CONFLICTS_MOST);
}

bool
board_conflicts(const struct keeper *keeper, const struct stored_job *stored,
    struct conflict ret[CONFLICTS_MOST], size_t *ret_count, struct error *error)
{
	struct board board = { .now = clock_now(&keeper->clock) };
	struct board_job job = { 0 };
	bool good = sprayers_load(keeper, board.now, &board.sprayer, error) &&
		    board_resolve(&keeper->config, board.sprayer, stored,
			&job.job, error) &&
		    store_records(keeper->store, false, &board.record,
			&board.record_count, error);
	if (good) {
		board_list_applications(&board);
		*ret_count = find_conflicts(&board, &keeper->config, &job, ret);
	}
	board_release(&board);
	return good;
}

/* What forbids is the job's trouble; the rest is said beside it. */
static void
note_conflicts(struct board_job *job, const struct board *board,
    const struct config *config)
{
	struct conflict *found = memory_array(CONFLICTS_MOST, sizeof *found);
	size_t count = find_conflicts(board, config, job, found);
	free(job->caution);
	job->caution = NULL;
	job->caution_count = 0;
	if (count > 0 && found[0].forbids)
		memcpy(job->trouble, found[0].text, sizeof job->trouble);
	if (count == 0 || found[0].forbids) {
		free(found);
		return;
	}
	job->caution = found;
	job->caution_count = count;
}

void
board_rulebook(const struct board *board, const struct config *config,
    const struct board_job *job, const struct series *series,
    struct rulebook *ret)
{
	const struct practice practice = { config->practice,
		config->practice_count };
	const struct past past = { .application = board->application,
		.application_count = board->application_count,
		.promised = board->promised,
		.promised_count = job->promised,
		.product = config->products,
		.product_count = config->product_count,
		.now = board->now };
	rulebook_init(ret, &job->job, &practice, series, &past);
}

static void
judge_job(struct board_job *job, const struct board *board,
    const struct config *config)
{
	struct board_site *site = job->site;
	board_rulebook(board, config, job, &site->series, &job->book);
	judge(&site->outlook, job->book.check, job->book.count,
	    job->limits.duration, &job->verdicts);
	job->windows = windows_find(&site->outlook, job->book.check,
	    job->book.count, &job->verdicts, &job->limits, &job->window_count);
}

static void
give_slot(struct board_job *job, const struct stored_slots *slots)
{
	for (size_t i = 0; i < slots->count; i++) {
		const struct stored_slot *slot = &slots->slot[i];
		if (slot->job != job->job.id)
			continue;
		job->has_slot = true;
		job->slot = (struct slot){ slot->from, slot->to };
		job->planned = slot->planned;
	}
}

/*
 * A season's maximum holds for the queue, too: a job counts the slots of those
 * that were queued before it as kept, and what they take as gone.
 */
static void
promise(struct board *board, const struct board_job *job)
{
	struct mix mix;
	bool known = mix_make(&job->job, false, &mix, NULL);
	for (size_t i = 0; i < job->job.tank.count && job->has_slot; i++) {
		size_t capacity = board->promised_capacity;
		board->taken = memory_grow(board->taken, board->promised_count,
		    &capacity, sizeof *board->taken);
		board->promised =
		    memory_grow(board->promised, board->promised_count,
			&board->promised_capacity, sizeof *board->promised);
		struct application one = { job->job.site->name,
			job->job.tank.dose[i].product->name, job->slot.from,
			job->job.area, known ? mix.total[i] : NAN,
			known && mix.kind[i] == QUANTITY_MASS };
		board->taken[board->promised_count] =
		    (struct draw){ one.product, last_day(board, job),
			    one.amount, one.is_mass };
		board->promised[board->promised_count++] = one;
	}
}

/* Judges a job that is resolved, unless something forbids it anyway. */
static void
look_at_job(struct board_job *job, const struct board *board,
    const struct config *config)
{
	job->site = board_find_site(board, job->job.site->name);
	job->promised = board->promised_count;
	note_conflicts(job, board, config);
	if (job->trouble[0] != '\0')
		return;
	job->limits = (struct window_limits){ .now = board->now,
		.after = earliest(job, board->now),
		.before = job->job.before,
		.duration = job_duration(&job->job) };
	judge_job(job, board, config);
}

void
board_take_job(struct board *board, const struct config *config,
    const struct stored_job *stored, const struct stored_slots *slots)
{
	struct board_job *job = &board->job[board->job_count++];
	struct error error = { 0 };
	if (!board_resolve(config, board->sprayer, stored, &job->job, &error)) {
		job->job.id = stored->id;
		job->job.uid = stored->uid;
		(void)snprintf(
		    job->trouble, sizeof job->trouble, "%.150s", error.text);
	}
	give_slot(job, slots);
	if (job->trouble[0] != '\0')
		return;
	look_at_job(job, board, config);
	if (job->trouble[0] == '\0')
		promise(board, job);
}

void
board_ask_shelf(const struct board *board, const struct board_job *job,
    const struct dose *dose, double amount, struct shelf_answer *ret)
{
	const struct shelf_wish wish = { .product = dose->product,
		.amount = amount,
		.is_mass = quantity_is_by_mass(dose->rate_kind),
		.day = last_day(board, job),
		.before = board->taken,
		.before_count = job->promised };
	shelf_ask(&board->shelf, &wish, ret);
}

bool
board_try(const struct board *board, const struct config *config,
    const struct stored_job *stored, struct board_job *ret, struct error *error)
{
	struct board_job job = { 0 };
	if (!board_resolve(config, board->sprayer, stored, &job.job, error) ||
	    job.job.site == NULL)
		return false;
	look_at_job(&job, board, config);
	*ret = job;
	return true;
}

void
board_give_slot(const struct board *board, const struct config *config,
    const struct slot *slot, struct board_job *job)
{
	job->has_slot = true;
	job->slot = *slot;
	note_conflicts(job, board, config);
}

static void
release_judgement(struct board_job *job)
{
	rulebook_release(
	    &job->book, job->site != NULL ? &job->site->outlook : NULL);
	verdicts_release(&job->verdicts);
	free(job->windows);
}

void
board_job_release(struct board_job *job)
{
	release_judgement(job);
	free(job->caution);
}

static bool
is_broken(const struct board_job *job)
{
	size_t start;
	return job->has_slot && job->slot.from > job->limits.now &&
	       board_slot_verdict(job, &start) == VERDICT_NO_GO;
}

/* What is promised on the job's site, from the i-th on; NULL: no more. */
static const struct application *
next_here(const struct application *promised, size_t count,
    const struct board_job *job, size_t *i)
{
	while (*i < count) {
		const struct application *one = &promised[(*i)++];
		if (strcmp(one->site, job->job.site->name) == 0)
			return one;
	}
	return NULL;
}

/* Nothing equals what is not known. */
static bool
is_same(const struct application *one, const struct application *other)
{
	return one->product == other->product && one->at == other->at &&
	       one->area == other->area && one->amount == other->amount &&
	       one->is_mass == other->is_mass;
}

/* Is what was promised on the site before the job as it was? */
static bool
counts_the_same(const struct board *board, const struct application *before,
    const struct board_job *job)
{
	const struct application *one, *other;
	size_t i = 0, j = 0;
	do {
		one = next_here(before, job->promised, job, &i);
		other =
		    next_here(board->promised, board->promised_count, job, &j);
		if (one != NULL && other != NULL && !is_same(one, other))
			return false;
	} while (one != NULL && other != NULL);
	return one == NULL && other == NULL;
}

/* Judges one job again, behind those before it; false when that cannot change
   anything. */
static bool
judge_anew(struct board *board, const struct config *config,
    const struct application *before, struct board_job *job)
{
	bool same = !rulebook_counts_promised(&job->book) ||
		    counts_the_same(board, before, job);
	job->promised = board->promised_count;
	if (same)
		return false;
	release_judgement(job);
	judge_job(job, board, config);
	return true;
}

static bool
judge_queue(struct board *board, const struct config *config, bool withdraw)
{
	struct application *before =
	    memory_array(board->promised_count, sizeof *before);
	bool any = false;
	if (board->promised_count > 0)
		memcpy(before, board->promised,
		    board->promised_count * sizeof *before);
	board->promised_count = 0;
	for (size_t i = 0; i < board->job_count; i++) {
		struct board_job *job = &board->job[i];
		if (job->trouble[0] != '\0')
			continue;
		any |= judge_anew(board, config, before, job);
		if (withdraw && is_broken(job))
			job->has_slot = false;
		note_conflicts(job, board, config);
		promise(board, job);
	}
	free(before);
	return any;
}

bool
board_judge_again(struct board *board, const struct config *config)
{
	return judge_queue(board, config, false);
}

void
board_withdraw(struct board *board, const struct config *config)
{
	(void)judge_queue(board, config, true);
}
