#include "service/board.h"

#include "base/memory.h"
#include "config/values.h"
#include "service/history.h"
#include "turf/mix.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

bool
board_resolve(const struct config *config, const struct stored_job *stored,
    struct job *ret, struct error *error)
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

static bool
load_events(struct board_site *site, struct store *store, struct error *error)
{
	struct stored_observation *stored;
	size_t count;
	if (!store_observations(
		store, site->site->name, &stored, &count, error))
		return false;
	site->event = memory_array(count, sizeof *site->event);
	site->event_count = count;
	for (size_t i = 0; i < count; i++)
		site->event[i] =
		    (struct turf_event){ stored[i].kind, stored[i].from,
			    stored[i].to, stored[i].amount, stored[i].created };
	stored_observations_free(stored, count);
	return true;
}

static bool
load_site(struct board_site *site, const struct keeper *keeper, int64_t now,
    struct error *error)
{
	/* To the end of a local day: what is told of the last day is the same
	   at every hour of this one. */
	const struct zone *zone = &site->site->zone;
	series_init(&site->series, now - BOARD_PAST,
	    civil_day_start(zone, civil_day(zone, now + BOARD_AHEAD) + 1));
	if (!chain_load(
		&site->chain, site->site, keeper, now, &site->series, error) ||
	    !history_load(keeper, site->site, &site->series, &site->days,
		&site->day_count, error) ||
	    !load_events(site, keeper->store, error))
		return false;
	site->facts = (struct site_facts){ site->days, site->day_count,
		site->event, site->event_count, now };
	derive(&site->series, site->site, &site->facts);
	outlook_init(&site->outlook, &site->series, zone);
	return true;
}

static void
list_applications(struct board *board)
{
	size_t capacity = 0;
	for (size_t r = 0; r < board->record_count; r++) {
		const struct stored_record *record = &board->record[r];
		for (size_t i = 0; i < record->amount_count; i++) {
			board->application = memory_grow(board->application,
			    board->application_count, &capacity,
			    sizeof *board->application);
			const struct stored_amount *amount = &record->amount[i];
			board->application[board->application_count++] =
			    (struct application){ record->site, amount->product,
				    record->from, record->area, amount->amount,
				    amount->is_mass };
		}
	}
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

static size_t
find_conflicts(const struct board *board, const struct config *config,
    const struct job *job, struct conflict ret[CONFLICTS_MOST])
{
	const struct conflict_facts facts = { .products = config->products,
		.product_count = config->product_count,
		.applications = board->application,
		.application_count = board->application_count,
		.units = config->units };
	return conflicts_find(job, &facts, ret, CONFLICTS_MOST);
}

bool
board_conflicts(const struct keeper *keeper, const struct stored_job *stored,
    struct conflict ret[CONFLICTS_MOST], size_t *ret_count, struct error *error)
{
	struct board board = { 0 };
	struct job job;
	if (!board_resolve(&keeper->config, stored, &job, error) ||
	    !store_records(
		keeper->store, &board.record, &board.record_count, error))
		return false;
	list_applications(&board);
	*ret_count = find_conflicts(&board, &keeper->config, &job, ret);
	board_release(&board);
	return true;
}

/* What forbids is the job's trouble; the rest is said beside it. */
static void
note_conflicts(struct board_job *job, const struct board *board,
    const struct config *config)
{
	struct conflict *found = memory_array(CONFLICTS_MOST, sizeof *found);
	size_t count = find_conflicts(board, config, &job->job, found);
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
	job->limits = (struct window_limits){ .now = board->now,
		.after = earliest(job, board->now),
		.before = job->job.before,
		.duration = job_duration(&job->job) };
	judge(&site->outlook, job->book.check, job->book.count,
	    job->limits.duration, &job->verdicts);
	job->windows = windows_find(&site->outlook, job->book.check,
	    job->book.count, &job->verdicts, &job->limits, &job->window_count);
}

static void
give_slot(struct board_job *job, const struct stored_slot *slots, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		if (slots[i].job != job->job.id)
			continue;
		job->has_slot = true;
		job->slot = (struct slot){ slots[i].from, slots[i].to };
		job->planned = slots[i].planned;
	}
}

/*
 * A season's maximum holds for the queue, too: a job counts the slots of those
 * that were queued before it as kept.
 */
static void
promise(struct board *board, const struct board_job *job)
{
	struct mix mix;
	bool known = mix_make(&job->job, &mix, NULL);
	for (size_t i = 0; i < job->job.tank.count && job->has_slot; i++) {
		board->promised =
		    memory_grow(board->promised, board->promised_count,
			&board->promised_capacity, sizeof *board->promised);
		board->promised[board->promised_count++] =
		    (struct application){ job->job.site->name,
			    job->job.tank.dose[i].product->name, job->slot.from,
			    job->job.area, known ? mix.total[i] : NAN,
			    known && mix.kind[i] == QUANTITY_MASS };
	}
}

static void
load_job(struct board *board, const struct config *config,
    const struct stored_job *stored, const struct stored_slot *slots,
    size_t slot_count)
{
	struct board_job *job = &board->job[board->job_count++];
	struct error error = { 0 };
	if (!board_resolve(config, stored, &job->job, &error)) {
		job->job.id = stored->id;
		job->job.uid = stored->uid;
		(void)snprintf(
		    job->trouble, sizeof job->trouble, "%.150s", error.text);
	}
	give_slot(job, slots, slot_count);
	if (job->trouble[0] != '\0')
		return;
	job->site = board_find_site(board, job->job.site->name);
	note_conflicts(job, board, config);
	if (job->trouble[0] != '\0')
		return;
	job->promised = board->promised_count;
	judge_job(job, board, config);
	promise(board, job);
}

static bool
load_jobs(struct board *board, const struct keeper *keeper, struct error *error)
{
	struct stored_slot *slots;
	size_t count;
	if (!store_slots(keeper->store, &slots, &count, error))
		return false;
	board->job = memory_array(board->stored_count, sizeof *board->job);
	for (size_t i = 0; i < board->stored_count; i++)
		load_job(
		    board, &keeper->config, &board->stored[i], slots, count);
	free(slots);
	return true;
}

bool
board_load(struct board *board, const struct keeper *keeper, int64_t now,
    struct error *error)
{
	const struct config *config = &keeper->config;
	*board = (struct board){ .now = now };
	bool good = store_jobs(keeper->store, true, &board->stored,
			&board->stored_count, error) &&
		    store_records(keeper->store, &board->record,
			&board->record_count, error);
	board->site = memory_array(config->site_count, sizeof *board->site);
	for (size_t i = 0; i < config->site_count && good; i++) {
		board->site[i].site = &config->sites[i];
		board->site_count++;
		good = load_site(&board->site[i], keeper, now, error);
	}
	if (good) {
		list_applications(board);
		good = load_jobs(board, keeper, error);
	}
	if (!good)
		board_release(board);
	return good;
}

void
board_release(struct board *board)
{
	for (size_t i = 0; i < board->site_count; i++) {
		chain_release(&board->site[i].chain);
		free(board->site[i].days);
		free(board->site[i].event);
		outlook_release(&board->site[i].outlook);
		series_release(&board->site[i].series);
	}
	for (size_t i = 0; i < board->job_count; i++) {
		rulebook_release(&board->job[i].book);
		verdicts_release(&board->job[i].verdicts);
		free(board->job[i].windows);
		free(board->job[i].caution);
	}
	free(board->job);
	free(board->site);
	free(board->application);
	free(board->promised);
	stored_jobs_free(board->stored, board->stored_count);
	stored_records_free(board->record, board->record_count);
	*board = (struct board){ 0 };
}

struct board_job *
board_find(const struct board *board, int64_t id)
{
	for (size_t i = 0; i < board->job_count; i++)
		if (board->job[i].job.id == id)
			return &board->job[i];
	return NULL;
}

struct board_site *
board_find_site(const struct board *board, const char *name)
{
	for (size_t i = 0; i < board->site_count; i++)
		if (strcmp(board->site[i].site->name, name) == 0)
			return &board->site[i];
	return NULL;
}

struct judgement
board_judgement(const struct board_job *job)
{
	return (struct judgement){ .job = &job->job,
		.outlook = &job->site->outlook,
		.checks = job->book.check,
		.check_count = job->book.count,
		.verdicts = &job->verdicts,
		.limits = &job->limits };
}

enum verdict
board_verdict(const struct board_job *job, int64_t time, size_t *ret_start)
{
	const struct series *series = &job->site->series;
	*ret_start = 0;
	if (time < series->start || time >= series_end(series))
		return VERDICT_UNKNOWN;
	size_t start = (size_t)((time - series->start) / SERIES_STEP);
	bool open = window_of(job->windows, job->window_count, time) != NULL;
	if (open && verdict_at(&job->verdicts, start) != VERDICT_GO)
		start++; /* an edge that was refined into the cell before */
	/* no window holds the moment, though its cell begins well: what shuts
	   it stands in the next one */
	if (!open && time % SERIES_STEP != 0 && start + 1 < series->count &&
	    verdict_at(&job->verdicts, start) == VERDICT_GO &&
	    verdict_at(&job->verdicts, start + 1) != VERDICT_GO)
		start++;
	*ret_start = start;
	return open ? VERDICT_GO : verdict_at(&job->verdicts, start);
}

/*
 * A slot may begin inside a step whose start is shut, at the edge of a window
 * that was refined to the minute. No window says so any more once the slot has
 * begun, for windows begin now; nor once nothing is known. Then the step that
 * follows tells.
 */
enum verdict
board_slot_verdict(const struct board_job *job, size_t *ret_start)
{
	int64_t from = job->slot.from;
	enum verdict verdict = board_verdict(job, from, ret_start);
	size_t next = *ret_start + 1;
	if (verdict != VERDICT_NO_GO || from % SERIES_STEP == 0 ||
	    next >= job->site->series.count)
		return verdict;
	enum verdict later = verdict_at(&job->verdicts, next);
	bool begun = from <= job->limits.now;
	if (later == VERDICT_NO_GO || (later == VERDICT_GO && !begun))
		return verdict;
	*ret_start = next;
	return later;
}
