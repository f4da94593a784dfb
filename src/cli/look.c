#include "cli/look.h"

#include "advice/facts.h"

#include <math.h>
#include <stdlib.h>

const struct readings look_nothing = { NAN, NAN, NAN, NAN, NAN, NAN, NAN };

static bool
read_leaves(struct session *session, double *ret)
{
	bool dry = session_option(session, "dry") != NULL;
	bool wet = session_option(session, "wet") != NULL;
	if (dry && wet)
		return error_set(&session->error, ERROR_INPUT,
		    "--dry and --wet exclude each other");
	if (dry || wet)
		*ret = wet ? 1 : 0;
	return true;
}

/* The ranges are those of measures in a forecast. */
bool
look_read(struct session *session, struct readings *readings)
{
	if (!session_quantity(
		session, "wind", QUANTITY_SPEED, 0, 75, &readings->wind) ||
	    !session_quantity(
		session, "gust", QUANTITY_SPEED, 0, 110, &readings->gust) ||
	    !session_quantity(session, "direction", QUANTITY_ANGLE, 0, 360,
		&readings->direction) ||
	    !session_quantity(session, "air", QUANTITY_TEMPERATURE, -60, 60,
		&readings->air) ||
	    !session_quantity(session, "humidity", QUANTITY_PERCENT, 0, 100,
		&readings->humidity) ||
	    !session_quantity(
		session, "green", QUANTITY_PERCENT, 0, 100, &readings->green))
		return false;
	if (readings->gust < readings->wind)
		return error_set(
		    &session->error, ERROR_INPUT, "--gust: less than the wind");
	return read_leaves(session, &readings->leaf_wet);
}

/*
 * The moment lies inside a cell: the job is taken to have begun with it and to
 * last until it really ends, so that nothing is left out at its end.
 */
void
look_init(struct look *look, const struct board *board,
    const struct config *config, const struct board_job *job, struct slot slot)
{
	const struct series *forecast = &job->site->series;
	look->job = job;
	look->from = slot.from;
	look->start = (size_t)((slot.from - forecast->start) / SERIES_STEP);
	look->duration = slot.to - series_time(forecast, look->start);
	series_init(&look->series, forecast->start, series_end(forecast));
	series_overlay(&look->series, forecast);
	readings_overlay(&look->readings, job->job.site, look->start,
	    look->duration, &look->series);
	board_rulebook(board, config, job, &look->series, &look->book);
	look->checks = readings_checks(&look->readings, &look->series,
	    look->book.check, look->book.count, &look->check_count);
	outlook_init(&look->outlook, &look->series, &job->job.site->zone);
	judge(&look->outlook, look->checks, look->check_count, look->duration,
	    &look->verdicts);
}

void
look_release(struct look *look)
{
	verdicts_release(&look->verdicts);
	outlook_release(&look->outlook);
	free(look->checks);
	rulebook_release(&look->book, NULL);
	series_release(&look->series);
}

/* True for what is looked for before the start, or in the records. */
static bool
looks_back(const struct rule *rule)
{
	const struct instant *from = &rule->exposure.from;
	return facts_answer(rule->measure) ||
	       (from->anchor == ANCHOR_START && from->seconds < 0);
}

/*
 * The job begins within a cell, and what happened since the cell's start
 * counts, too: for a rule that looks back the next cell answers when its answer
 * is worse.
 */
size_t
look_cell(const struct look *look, size_t rule)
{
	size_t here = look->start, next = here + 1;
	const struct verdicts *verdicts = &look->verdicts;
	if (look->from % SERIES_STEP == 0 || next >= verdicts->count ||
	    !looks_back(&look->checks[rule].rule) ||
	    verdict_broken(verdicts, here, rule))
		return here;
	if (verdict_broken(verdicts, next, rule) ||
	    (verdict_unknown(verdicts, next, rule) &&
		!verdict_unknown(verdicts, here, rule)))
		return next;
	return here;
}

enum verdict
look_verdict_of(const struct look *look, size_t rule)
{
	size_t cell = look_cell(look, rule);
	return verdict_broken(&look->verdicts, cell, rule)    ? VERDICT_NO_GO
	       : verdict_unknown(&look->verdicts, cell, rule) ? VERDICT_UNKNOWN
							      : VERDICT_GO;
}

enum verdict
look_verdict(const struct look *look)
{
	enum verdict worst = VERDICT_GO;
	for (size_t r = 0; r < look->check_count; r++) {
		enum verdict one = look_verdict_of(look, r);
		if (one == VERDICT_NO_GO)
			return one;
		worst = one == VERDICT_UNKNOWN ? one : worst;
	}
	return worst;
}

void
look_reason(const struct look *look, size_t rule, struct reason *ret)
{
	reason_make(&look->outlook, &look->checks[rule], look->duration,
	    look_cell(look, rule), ret);
}
