#include "service/board.h"

#include "base/memory.h"
#include "service/board_parts.h"
#include "service/history.h"
#include "service/sprayers.h"
#include "service/stock.h"

#include <stdlib.h>
#include <string.h>

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

void
board_list_applications(struct board *board)
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

static bool
load_jobs(struct board *board, const struct keeper *keeper, struct error *error)
{
	struct stored_slot *slots;
	size_t count;
	if (!store_slots(keeper->store, &slots, &count, error))
		return false;
	const struct stored_slots known = { slots, count };
	board->job = memory_array(board->stored_count, sizeof *board->job);
	for (size_t i = 0; i < board->stored_count; i++)
		board_take_job(
		    board, &keeper->config, &board->stored[i], &known);
	free(slots);
	return true;
}

static bool
load_solutions(
    struct board *board, const struct keeper *keeper, struct error *error)
{
	const struct config *config = &keeper->config;
	if (!store_solutions(
		keeper->store, &board->made, &board->made_count, error))
		return false;
	board->solution =
	    memory_array(board->made_count, sizeof *board->solution);
	double *left = memory_array(board->made_count, sizeof *left);
	stock_left(config,
	    &(struct stock_past){ board->now, board->made, board->made_count,
		board->record, board->record_count },
	    left);
	for (size_t i = 0; i < board->made_count; i++) {
		const struct stored_solution *made = &board->made[i];
		board->solution[i] = (struct sheet_solution){ made->product,
			made->made, stock_until(config, made),
			made->mass / made->volume, left[i] };
	}
	free(left);
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
		    store_records(keeper->store, false, &board->record,
			&board->record_count, error) &&
		    sprayers_load(keeper, now, &board->sprayer, error);
	board->site = memory_array(config->site_count, sizeof *board->site);
	for (size_t i = 0; i < config->site_count && good; i++) {
		board->site[i].site = &config->sites[i];
		board->site_count++;
		good = load_site(&board->site[i], keeper, now, error);
	}
	if (good) {
		board_list_applications(board);
		good = stock_load(keeper, board->record, board->record_count,
			   now, &board->shelf, error) &&
		       load_solutions(board, keeper, error) &&
		       load_jobs(board, keeper, error);
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
	for (size_t i = 0; i < board->job_count; i++)
		board_job_release(&board->job[i]);
	free(board->job);
	free(board->sprayer);
	free(board->site);
	free(board->application);
	free(board->promised);
	free(board->taken);
	free(board->solution);
	stored_solutions_free(board->made, board->made_count);
	shelf_release(&board->shelf);
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
