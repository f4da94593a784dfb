#include "cli/session.h"

#include "base/memory.h"
#include "cli/sheet_json.h"
#include "cli/show.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>

enum { CAUTIONS_MOST = 2 * CONFLICTS_MOST };

/* A job's sheet, and what its facts borrow. */
struct mixing {
	struct board board;
	const struct board_job *job;
	struct sheet_stock stock[LIMIT_TANK_PRODUCTS];
	struct conflict caution[CAUTIONS_MOST];
	size_t caution_count;
	struct sheet_facts facts;
	struct sheet sheet;
};

/* What a card or a site forbids is a no, where no tank is mixed from it. */
static bool
find_job(struct session *session, struct mixing *mixing, int64_t id)
{
	const struct board_job *job = board_find(&mixing->board, id);
	mixing->job = show_find(session, &mixing->board, id);
	if (mixing->job == NULL && job != NULL && job->site != NULL)
		session->error.kind = ERROR_ANSWER;
	return mixing->job != NULL;
}

static bool
is_season(enum measure measure)
{
	return measure == MEASURE_SEASON_COUNT ||
	       measure == MEASURE_SEASON_AMOUNT ||
	       measure == MEASURE_SEASON_ACTIVE;
}

/* The maximum of a year that the job would exceed, at its slot or now; one that
   cannot be told is a caution. */
static bool
keeps_season(struct session *session, struct mixing *mixing)
{
	const struct board_job *job = mixing->job;
	int64_t now = mixing->board.now;
	char sentence[REASON_BUFFER];
	size_t start;
	for (size_t i = 0; i < job->caution_count; i++)
		mixing->caution[mixing->caution_count++] = job->caution[i];
	(void)board_verdict(job,
	    job->has_slot && job->slot.from > now ? job->slot.from : now,
	    &start);
	for (size_t r = 0; r < job->book.count; r++) {
		const struct check *check = &job->book.check[r];
		struct reason reason;
		if (!is_season(check->rule.measure))
			continue;
		reason_make(&job->site->outlook, check, job->limits.duration,
		    start, &reason);
		reason_print(sentence, sizeof sentence, &reason,
		    &job->job.site->zone, session->keeper.config.units);
		if (reason.verdict == VERDICT_NO_GO)
			return error_set(&session->error, ERROR_ANSWER,
			    "job %" PRId64 ": %s (%s)", job->job.id, sentence,
			    check->rule.owner);
		if (reason.verdict == VERDICT_UNKNOWN &&
		    mixing->caution_count < CAUTIONS_MOST)
			(void)snprintf(
			    mixing->caution[mixing->caution_count++].text,
			    CONFLICT_TEXT, "cannot tell: %s (%s)", sentence,
			    check->rule.owner);
	}
	return true;
}

/* What the packages have for what the sheet takes. */
static void
ask_shelf(struct mixing *mixing)
{
	for (size_t i = 0; i < mixing->sheet.line_count; i++) {
		const struct sheet_line *line = &mixing->sheet.line[i];
		struct shelf_answer answer;
		board_ask_shelf(&mixing->board, mixing->job,
		    &mixing->job->job.tank.dose[line->place],
		    sheet_line_taken(line), &answer);
		mixing->stock[line->place] =
		    (struct sheet_stock){ answer.packages > 0, answer.on_hand,
			    answer.left, answer.cost };
	}
	mixing->facts.stock = mixing->stock;
}

/* The sheet twice: what is taken from the shelf is known by the first. */
static bool
make_sheet(struct session *session, struct mixing *mixing)
{
	const struct config *config = &session->keeper.config;
	const struct job *job = &mixing->job->job;
	mixing->facts = (struct sheet_facts){ .bench = &config->bench,
		.at = mixing->board.now,
		.even = session_option(session, "even") != NULL,
		.application = mixing->board.application,
		.application_count = mixing->board.application_count,
		.solution = mixing->board.solution,
		.solution_count = mixing->board.made_count,
		.caution = mixing->caution,
		.caution_count = mixing->caution_count,
		.currency = config->currency };
	if (!sheet_make(job, &mixing->facts, &mixing->sheet, &session->error))
		return false;
	ask_shelf(mixing);
	return sheet_make(job, &mixing->facts, &mixing->sheet, &session->error);
}

/* To be released in either case. */
static bool
load(struct session *session, int64_t id, struct mixing *ret)
{
	*ret = (struct mixing){ 0 };
	return show_load(session, &ret->board) && find_job(session, ret, id) &&
	       keeps_season(session, ret) && make_sheet(session, ret);
}

/* The solutions that the sheet asks for were made just now. */
static bool
store_made(struct session *session, const struct mixing *mixing)
{
	struct store *store = session->keeper.store;
	const struct sheet *sheet = &mixing->sheet;
	size_t count = 0;
	bool good = store_begin(store, &session->error);
	for (size_t i = 0; i < sheet->line_count && good; i++) {
		const struct sheet_line *line = &sheet->line[i];
		if (!line->is_drawn || line->made != NULL)
			continue;
		struct stored_solution made = { .product = memory_string(
						    line->product->name),
			.made = mixing->board.now,
			.mass = line->make.mass,
			.volume = line->make.volume,
			.created = mixing->board.now };
		int64_t id;
		good = store_solution_add(store, &made, &id, &session->error);
		free(made.product);
		count++;
	}
	if (good && count == 0)
		good = error_set(&session->error, ERROR_INPUT,
		    "--made: job %" PRId64 " needs no new stock solution",
		    sheet->job->id);
	if (good)
		return store_commit(store, &session->error);
	store_rollback(store);
	return false;
}

int
command_mix(struct session *session)
{
	enum unit_system units = session->keeper.config.units;
	struct mixing mixing;
	int64_t id;
	bool good = session_job(session, 0, &id);
	if (good && session_option(session, "made") != NULL) {
		good =
		    load(session, id, &mixing) && store_made(session, &mixing);
		board_release(&mixing.board);
		good = good && session_pass(session) == 0;
	}
	if (!good)
		return (int)session->error.kind;
	good = load(session, id, &mixing);
	if (good && session->json)
		(void)session_print_json(
		    session, sheet_json(&mixing.sheet, units));
	else if (good)
		sheet_print(&session->out, &mixing.sheet, units);
	board_release(&mixing.board);
	return good ? 0 : (int)session->error.kind;
}
