#include "cli/propose.h"

#include "base/memory.h"
#include "cli/show.h"
#include "service/sprayers.h"
#include "turf/mix.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The board as it will be once some tanks have been sprayed: a copy with lists
   of its own. */
struct ahead {
	const struct board *now;
	struct board board;
};

static void *
copy_list(const void *list, size_t count, size_t size)
{
	enum { ROOM = CHOOSE_TANKS * LIMIT_TANK_PRODUCTS };
	void *copy = memory_array(count + ROOM, size);
	if (count > 0)
		memcpy(copy, list, count * size);
	return copy;
}

static void
begin_ahead(struct ahead *ahead, const struct board *now)
{
	*ahead = (struct ahead){ now, *now };
	ahead->board.application = copy_list(
	    now->application, now->application_count, sizeof *now->application);
	ahead->board.promised = copy_list(
	    now->promised, now->promised_count, sizeof *now->promised);
	ahead->board.taken =
	    copy_list(now->taken, now->promised_count, sizeof *now->taken);
}

static void
end_ahead(struct ahead *ahead)
{
	free(ahead->board.application);
	free(ahead->board.promised);
	free(ahead->board.taken);
}

/* As at the start: nothing has been sprayed. */
static void
rewind_ahead(struct ahead *ahead)
{
	ahead->board.application_count = ahead->now->application_count;
	ahead->board.promised_count = ahead->now->promised_count;
}

/*
 * The job was done. It stands among the applications for all rules of the
 * season and of the days since; among what is promised for the shelf alone, so
 * there it has no site.
 */
static void
spray(struct ahead *ahead, const struct job *job, int64_t from, int64_t to)
{
	struct board *board = &ahead->board;
	struct mix mix;
	if (!mix_make(job, false, &mix, NULL))
		return;
	for (size_t i = 0; i < job->tank.count; i++) {
		struct application one = { job->site->name,
			job->tank.dose[i].product->name, from, job->area,
			mix.total[i], mix.kind[i] == QUANTITY_MASS };
		board->application[board->application_count++] = one;
		board->taken[board->promised_count] =
		    (struct draw){ one.product, civil_day(&job->site->zone, to),
			    one.amount, one.is_mass };
		one.site = "";
		board->promised[board->promised_count++] = one;
	}
}

/* The tank as a job of the queue; release_stored. */
static struct stored_job
store_tank(const struct propose *propose, const struct proposed_tank *tank,
    int64_t after)
{
	enum unit_system units = propose->session->keeper.config.units;
	struct stored_job stored = *propose->wish;
	char rate[QUANTITY_BUFFER];
	if (after > stored.after)
		stored.after = after;
	for (size_t i = 0; i < tank->mix.count; i++) {
		const struct dose *dose = &tank->mix.dose[i];
		struct stored_dose *to = &stored.dose[stored.dose_count++];
		to->product = memory_string(dose->product->name);
		if (!(dose->product->rate > 0))
			to->rate = memory_string(
			    propose_print_rate(rate, sizeof rate, dose, units));
	}
	return stored;
}

static void
release_stored(struct stored_job *stored)
{
	for (size_t i = 0; i < stored->dose_count; i++) {
		free(stored->dose[i].product);
		free(stored->dose[i].rate);
	}
}

static void
explain(
    const struct board_job *job, struct tried_tank *ret, enum unit_system units)
{
	if (job->trouble[0] != '\0') {
		(void)snprintf(ret->why, sizeof ret->why, "%s", job->trouble);
		return;
	}
	struct judgement judgement = board_judgement(job);
	const char *trouble = job->site->chain.trouble;
	ret->is_unknown = trouble[0] != '\0' || blockers_unknown(&judgement);
	blockers_tell(ret->why, sizeof ret->why, &judgement, units);
	if (trouble[0] != '\0')
		(void)snprintf(ret->why, sizeof ret->why, "%s", trouble);
}

/* The first start in the window that reads well on a clock. */
static int64_t
first_start(const struct window *window)
{
	int64_t start =
	    (window->first + PLAN_GRAIN - 1) / PLAN_GRAIN * PLAN_GRAIN;
	return start <= window->last ? start : window->first;
}

/* False when the session has an error. */
static bool
try_tank(const struct propose *propose, struct ahead *ahead,
    const struct proposed_tank *tank, int64_t after, struct tried_tank *ret)
{
	const struct config *config = &propose->session->keeper.config;
	struct stored_job stored = store_tank(propose, tank, after);
	struct board_job job = { 0 };
	bool good = board_try(
	    &ahead->board, config, &stored, &job, &propose->session->error);
	*ret = (struct tried_tank){ .tank = tank,
		.is_open = good && job.window_count > 0 };
	if (ret->is_open) {
		ret->window = job.windows[0];
		ret->from = first_start(&ret->window);
		ret->to = ret->from + job.limits.duration;
		board_give_slot(&ahead->board, config,
		    &(struct slot){ ret->from, ret->to }, &job);
		spray(ahead, &job.job, ret->from, ret->to);
	} else if (good) {
		explain(&job, ret, config->units);
	}
	ret->caution = job.caution;
	ret->caution_count = job.caution_count;
	job.caution = NULL;
	board_job_release(&job);
	release_stored(&stored);
	return good;
}

static void
release_tried(struct tried *tried)
{
	for (size_t t = 0; t < tried->tank_count; t++)
		free(tried->tank[t].caution);
	tried->tank_count = 0;
}

/* The tanks in that order, up to the first that has no window. */
static bool
try_order(const struct propose *propose, struct ahead *ahead,
    const struct proposal *proposal, const size_t order[CHOOSE_TANKS],
    struct tried *ret)
{
	int64_t after = INT64_MIN;
	*ret = (struct tried){ .proposal = proposal,
		.tank_count = proposal->tank_count,
		.is_open = true };
	rewind_ahead(ahead);
	for (size_t t = 0; t < ret->tank_count; t++) {
		const struct proposed_tank *tank = &proposal->tank[order[t]];
		struct tried_tank *tried = &ret->tank[t];
		tried->tank = tank;
		if (!ret->is_open)
			continue;
		if (!try_tank(propose, ahead, tank, after, tried))
			return false;
		ret->is_open = tried->is_open;
		ret->open_count += tried->is_open ? 1 : 0;
		after = tried->to;
	}
	return true;
}

/* More tanks that are open, then what is over first; else the first one stays.
 */
static bool
is_better(const struct tried *one, const struct tried *other)
{
	if (one->open_count != other->open_count)
		return one->open_count > other->open_count;
	return one->is_open && one->tank[one->tank_count - 1].to <
				   other->tank[other->tank_count - 1].to;
}

/* The order of the tanks that is over first. */
static bool
try_proposal(const struct propose *propose, struct ahead *ahead,
    const struct proposal *proposal, struct tried *ret)
{
	/* those of two come first, that of one at the very first */
	static const size_t orders[][CHOOSE_TANKS] = { { 0, 1, 2 }, { 1, 0, 2 },
		{ 0, 2, 1 }, { 1, 2, 0 }, { 2, 0, 1 }, { 2, 1, 0 } };
	static const size_t count[CHOOSE_TANKS + 1] = { 0, 1, 2, 6 };
	struct tried best = { 0 }, next;
	for (size_t i = 0; i < count[proposal->tank_count]; i++) {
		bool good =
		    try_order(propose, ahead, proposal, orders[i], &next);
		if (good && i > 0 && !is_better(&next, &best)) {
			release_tried(&next);
			continue;
		}
		release_tried(&best);
		best = next;
		if (!good) {
			release_tried(&best);
			return false;
		}
	}
	*ret = best;
	return true;
}

/* The first three with a window, and behind them, while there is room, the
   first without. */
static bool
try_all(struct propose *propose, const struct board *board,
    struct tried ret[PROPOSALS_SHOWN], size_t *ret_count)
{
	struct tried shut[PROPOSALS_SHOWN], one;
	size_t open_count = 0, shut_count = 0;
	struct ahead ahead;
	bool good = true;
	begin_ahead(&ahead, board);
	for (size_t i = 0;
	     i < propose->choice->count && good && open_count < PROPOSALS_SHOWN;
	     i++) {
		good = try_proposal(
		    propose, &ahead, &propose->choice->proposal[i], &one);
		if (!good)
			break;
		propose->looked_at++;
		if (one.is_open)
			ret[open_count++] = one;
		else if (shut_count < PROPOSALS_SHOWN)
			shut[shut_count++] = one;
		else
			release_tried(&one);
	}
	*ret_count = open_count;
	for (size_t i = 0; i < shut_count; i++) {
		if (*ret_count < PROPOSALS_SHOWN)
			ret[(*ret_count)++] = shut[i];
		else
			release_tried(&shut[i]);
	}
	end_ahead(&ahead);
	return good;
}

/* What the shelf has of each card, when the jobs of the queue have taken
   theirs. */
static struct choose_item *
list_items(const struct propose *propose, const struct board *board)
{
	const struct config *config = &propose->session->keeper.config;
	struct choose_item *item =
	    memory_array(config->product_count, sizeof *item);
	struct board_job ask = { .job = propose->job,
		.promised = board->promised_count };
	for (size_t i = 0; i < config->product_count; i++) {
		const struct product *product = &config->products[i];
		struct shelf_answer answer;
		struct mix mix;
		ask.job.tank = (struct tank_mix){ { choose_dose(product) }, 1 };
		bool known = mix_make(&ask.job, false, &mix, NULL);
		board_ask_shelf(board, &ask, &ask.job.tank.dose[0],
		    known ? mix.total[0] : (double)NAN, &answer);
		item[i] = (struct choose_item){ product, answer.on_hand,
			answer.cost };
		if (config->package_count > 0 && answer.packages == 0)
			item[i].on_hand = 0;
	}
	return item;
}

static bool
find_choice(const struct propose *propose, const struct board *board,
    struct choice **ret)
{
	struct session *session = propose->session;
	const struct config *config = &session->keeper.config;
	const struct conflict_facts facts = { .products = config->products,
		.product_count = config->product_count,
		.applications = board->application,
		.application_count = board->application_count,
		.units = config->units };
	const char *weed[ARGUMENTS_MAX + 1];
	struct choose_item *item = list_items(propose, board);
	struct choose_wish wish = { .item = item,
		.item_count = config->product_count,
		.weed = weed,
		.job = &propose->job,
		.facts = &facts };
	while ((weed[wish.weed_count] = session_option_at(
		    session, "weed", wish.weed_count)) != NULL)
		wish.weed_count++;
	bool good = choose_tanks(&wish, ret, &session->error);
	free(item);
	return good;
}

/* Why there is no proposal at all. */
static void
refuse(struct session *session, const struct choice *choice)
{
	struct text open;
	text_init(&open, sizeof session->error.text);
	for (size_t w = 0; w < choice->weed_count; w++)
		if ((choice->covered >> w & 1) == 0)
			text_format(&open, "%s%s", open.length > 0 ? ", " : "",
			    choice->weed[w]);
	if (open.length > 0)
		(void)error_set(&session->error, ERROR_ANSWER,
		    "nothing that can be used controls %s", text_string(&open));
	else
		(void)error_set(&session->error, ERROR_ANSWER,
		    "%d tanks of %d herbicides do not cover these weeds%s",
		    (int)CHOOSE_TANKS, (int)CHOOSE_PARTNERS,
		    choice->searched < choice->usable
			? ", as far as they were searched"
			: "");
	text_release(&open);
}

static int
propose_from(struct propose *propose, const struct board *board)
{
	struct session *session = propose->session;
	struct tried tried[PROPOSALS_SHOWN];
	struct choice *choice = NULL;
	size_t count = 0;
	int code = ERROR_ANSWER;
	if (!find_choice(propose, board, &choice))
		return (int)session->error.kind;
	propose->choice = choice;
	if (!try_all(propose, board, tried, &count)) {
		code = (int)session->error.kind;
	} else {
		if (session->json)
			propose_show_json(propose, tried, count);
		else
			propose_show(propose, tried, count);
		if (count == 0)
			refuse(session, choice);
		else if (tried[0].is_open)
			code = 0;
	}
	for (size_t i = 0; i < count; i++)
		release_tried(&tried[i]);
	choice_free(choice);
	return code;
}

int
propose_tanks(struct session *session, const struct stored_job *wish)
{
	struct propose propose = { .session = session, .wish = wish };
	struct board board;
	if (!show_load(session, &board))
		return (int)session->error.kind;
	int code = board_resolve(&session->keeper.config, board.sprayer, wish,
		       &propose.job, &session->error)
		       ? propose_from(&propose, &board)
		       : (int)session->error.kind;
	board_release(&board);
	return code;
}
