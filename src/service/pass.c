#include "service/pass.h"

#include "base/file.h"
#include "base/memory.h"
#include "page/report.h"
#include "service/board.h"
#include "service/gather.h"
#include "service/history.h"
#include "service/notices.h"
#include "service/publish.h"

#include <inttypes.h>
#include <stdlib.h>

struct pass {
	const struct keeper *keeper;
	int64_t now;
	struct board board;         /* read, derived and judged */
	struct result *result;      /* planned; of each job of the board */
	struct text calendar, page; /* to be published */
	size_t moved;
};

/* What a job was promised before the pass. */
struct promise {
	bool has_slot;
	struct slot slot;
};

static struct promise
promise_of(const struct board_job *job)
{
	return (struct promise){ job->has_slot, job->slot };
}

static struct plan_item
item_of(struct board_job *job, const struct promise *before)
{
	size_t start;
	job->has_slot = before->has_slot;
	job->slot = before->slot;
	return (struct plan_item){ .job = &job->job,
		.duration = job->limits.duration,
		.windows = job->windows,
		.window_count = job->window_count,
		.had_slot = job->has_slot,
		.previous = job->slot,
		.hold = job->has_slot &&
			board_slot_verdict(job, &start) == VERDICT_UNKNOWN };
}

/* Gives the job what was planned; true when it was judged with that. */
static bool
take_plan(struct board_job *job, const struct plan_item *item,
    const struct promise *judged)
{
	job->has_slot =
	    item->outcome != PLAN_NO_WINDOW && item->outcome != PLAN_TAKEN;
	if (!job->has_slot)
		return !judged->has_slot;
	job->slot = item->slot;
	return judged->has_slot && job->slot.from == judged->slot.from &&
	       job->slot.to == judged->slot.to;
}

/* True when each job was judged with the slots that are planned now. */
static bool
plan_once(struct pass *pass, const struct promise *before)
{
	struct board *board = &pass->board;
	struct plan_item *items = memory_array(board->job_count, sizeof *items);
	size_t *place = memory_array(board->job_count, sizeof *place);
	struct promise *judged = memory_array(board->job_count, sizeof *judged);
	size_t count = 0;
	bool settled = true;
	for (size_t i = 0; i < board->job_count; i++) {
		if (board->job[i].trouble[0] != '\0')
			continue;
		judged[count] = promise_of(&board->job[i]);
		place[count] = i;
		items[count++] = item_of(&board->job[i], &before[i]);
	}
	plan_make(items, count, pass->now);
	for (size_t i = 0; i < count; i++) {
		struct board_job *job = &board->job[place[i]];
		pass->result[place[i]].outcome = items[i].outcome;
		settled = take_plan(job, &items[i], &judged[i]) && settled;
	}
	free(items);
	free(place);
	free(judged);
	return settled;
}

/* What a season does not allow is not published: who was queued later waits. */
static void
withdraw(struct pass *pass)
{
	struct board *board = &pass->board;
	board_withdraw(board, &pass->keeper->config);
	for (size_t i = 0; i < board->job_count; i++) {
		const struct board_job *job = &board->job[i];
		if (!job->has_slot)
			pass->result[i].outcome =
			    job->window_count > 0 ? PLAN_TAKEN : PLAN_NO_WINDOW;
	}
}

/*
 * Plans until no verdict changes any more. A slot that a job gets counts in the
 * season of those behind it, so they are judged and planned again. That comes
 * to rest soon, as a job counts only the slots of those before it. But one of
 * higher rank that is behind can take the time of the very slot that shuts it
 * out of another; then the two never rest, and it returns false.
 */
static bool
settle(struct pass *pass)
{
	enum { ROUNDS_MOST = 8 };
	struct board *board = &pass->board;
	struct promise *before = memory_array(board->job_count, sizeof *before);
	for (size_t i = 0; i < board->job_count; i++)
		before[i] = promise_of(&board->job[i]);
	bool settled = plan_once(pass, before);
	for (int round = 1; !settled && round < ROUNDS_MOST; round++)
		settled = !board_judge_again(board, &pass->keeper->config) ||
			  plan_once(pass, before);
	free(before);
	return settled;
}

/* Plans: the earliest good slots, and those that are still good stay. What came
   to no rest is begun anew without the slots that cannot be. */
static void
plan(struct pass *pass)
{
	enum { TRIES_MOST = 3 };
	for (int tries = 0; tries < TRIES_MOST && !settle(pass); tries++)
		withdraw(pass);
}

/* Compares one job's slot with the promised one and stores the difference. */
static bool
compare_job(struct pass *pass, struct board_job *job,
    const struct stored_slot *old, struct error *error)
{
	struct store *store = pass->keeper->store;
	bool same = old != NULL && job->has_slot &&
		    job->slot.from == old->from && job->slot.to == old->to;
	if (same || (old == NULL && !job->has_slot))
		return true;
	job->planned = pass->now;
	struct stored_slot fresh = { job->job.id, job->slot.from, job->slot.to,
		pass->now };
	bool good = job->has_slot
			? store_slot_put(store, &fresh, error)
			: store_slot_remove(store, job->job.id, error);
	if (!good || old == NULL)
		return good;
	struct slot before = { old->from, old->to };
	pass->moved++;
	return notice_move(
	    store, job, &before, pass->now, pass->keeper->config.units, error);
}

static bool
compare(struct pass *pass, struct error *error)
{
	struct stored_slot *slots;
	size_t count;
	if (!store_slots(pass->keeper->store, &slots, &count, error))
		return false;
	bool good = true;
	for (size_t i = 0; i < pass->board.job_count && good; i++) {
		struct board_job *job = &pass->board.job[i];
		const struct stored_slot *old = NULL;
		for (size_t s = 0; s < count; s++)
			if (slots[s].job == job->job.id)
				old = &slots[s];
		if (job->trouble[0] == '\0')
			good = compare_job(pass, job, old, error);
	}
	free(slots);
	return good;
}

static void
write_page(struct pass *pass)
{
	struct board *board = &pass->board;
	struct page_row *rows = memory_array(board->job_count, sizeof *rows);
	struct judgement *judgements =
	    memory_array(board->job_count, sizeof *judgements);
	size_t count = 0, start;
	for (size_t i = 0; i < board->job_count; i++) {
		const struct board_job *job = &board->job[i];
		if (job->trouble[0] != '\0')
			continue;
		judgements[count] = board_judgement(job);
		rows[count] = (struct page_row){ &judgements[count],
			job->windows, job->window_count, job->has_slot,
			job->slot, VERDICT_UNKNOWN, job->site->chain.trouble,
			job->site->chain.credit };
		if (job->has_slot)
			rows[count].verdict = board_slot_verdict(job, &start);
		count++;
	}
	page_report(
	    rows, count, pass->now, pass->keeper->config.units, &pass->page);
	free(judgements);
	free(rows);
}

/* What outlives its forecast, and what has been kept for long enough. */
static bool
keep(struct pass *pass, struct error *error)
{
	const struct keeper *keeper = pass->keeper;
	const struct config *config = &keeper->config;
	bool good = true;
	for (size_t i = 0; i < pass->board.site_count && good; i++) {
		const struct board_site *site = &pass->board.site[i];
		good = history_keep(keeper, site->site, site->days,
		    site->day_count, pass->now, error);
	}
	return good && history_prune(keeper, pass->now, error) &&
	       store_notices_prune(keeper->store, pass->now, error) &&
	       store_requests_prune(keeper->store, pass->now, error) &&
	       store_documents_prune(keeper->store,
		   pass->now - (int64_t)config->archive_for,
		   (int64_t)(config->archive_megabytes * 1e6), error);
}

/* Everything that the pass decided, stored in one transaction. */
static bool
decide(struct pass *pass, struct error *error)
{
	struct store *store = pass->keeper->store;
	if (!store_begin(store, error))
		return false;
	bool good = compare(pass, error) && keep(pass, error) &&
		    publish_calendar(pass->keeper, &pass->board, pass->result,
			&pass->calendar, error) &&
		    store_commit(store, error);
	if (!good)
		store_rollback(store);
	return good;
}

static bool
publish(struct pass *pass, struct error *error)
{
	char *calendar = publish_calendar_path(pass->keeper);
	char *page = publish_page_path(pass->keeper);
	bool good = publish_file(calendar, &pass->calendar, error) &&
		    publish_file(page, &pass->page, error);
	free(calendar);
	free(page);
	return good;
}

/* The next moment at which something changes by itself. */
static bool
next_pass(const struct pass *pass, int64_t *ret, struct error *error)
{
	int64_t next;
	if (!gather_next_due(pass->keeper, &next, error))
		return false;
	for (size_t i = 0; i < pass->board.job_count; i++) {
		const struct board_job *job = &pass->board.job[i];
		if (job->has_slot && job->slot.to > pass->now &&
		    job->slot.to < next)
			next = job->slot.to;
	}
	*ret = next;
	return true;
}

static void
list_trouble(const struct pass *pass, struct text *ret)
{
	const struct board *board = &pass->board;
	for (size_t i = 0; i < board->site_count; i++) {
		const struct board_site *site = &board->site[i];
		const char *trouble[] = { site->chain.trouble,
			site->chain.fetch_trouble };
		for (size_t t = 0; t < 2; t++)
			if (trouble[t][0] != '\0')
				text_format(ret, "site %s: %s\n",
				    site->site->name, trouble[t]);
	}
	for (size_t i = 0; i < board->job_count; i++)
		if (board->job[i].trouble[0] != '\0')
			text_format(ret, "job %" PRId64 ": %s\n",
			    board->job[i].job.id, board->job[i].trouble);
}

static bool
report(const struct pass *pass, struct pass_report *ret, struct error *error)
{
	struct pass_report fresh = { .jobs = pass->board.job_count,
		.moved = pass->moved };
	for (size_t i = 0; i < pass->board.job_count; i++)
		fresh.slots += pass->board.job[i].has_slot ? 1 : 0;
	if (!next_pass(pass, &fresh.next, error))
		return false;
	text_init(&fresh.trouble, LIMIT_OUTPUT_BYTES);
	list_trouble(pass, &fresh.trouble);
	*ret = fresh;
	return true;
}

static bool
pass_once(
    const struct keeper *keeper, struct pass_report *ret, struct error *error)
{
	struct pass pass = { .keeper = keeper,
		.now = clock_now(&keeper->clock) };
	if (!board_load(&pass.board, keeper, pass.now, error))
		return false;
	pass.result = memory_array(pass.board.job_count, sizeof *pass.result);
	text_init(&pass.calendar, LIMIT_CALENDAR_BYTES);
	text_init(&pass.page, LIMIT_OUTPUT_BYTES);
	plan(&pass);
	bool good = decide(&pass, error);
	if (good) {
		write_page(&pass);
		good = publish(&pass, error) && report(&pass, ret, error);
	}
	text_release(&pass.calendar);
	text_release(&pass.page);
	free(pass.result);
	board_release(&pass.board);
	return good;
}

/*
 * Documents are fetched before the lock is taken: whoever wants to pass over
 * what is stored does not wait for a slow server.
 */
bool
pass_run(const struct keeper *keeper, const struct pass_order *order,
    struct pass_report *ret, struct error *error)
{
	struct gather_order errands = { .now = clock_now(&keeper->clock),
		.all = order->fetch_all,
		.interrupt = order->interrupt };
	if (order->fetcher != NULL &&
	    !gather(keeper, order->fetcher, &errands, error))
		return false;
	char *path = keeper_path(keeper, "pass.lock");
	int lock = file_lock(path, true, error);
	free(path);
	if (lock < 0)
		return false;
	bool good = pass_once(keeper, ret, error);
	file_unlock(lock);
	return good;
}
