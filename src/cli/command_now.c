/* The last look on site, with instruments in the hand. */
#include "cli/session.h"

#include "advice/facts.h"
#include "advice/readings.h"
#include "cli/show.h"
#include "turf/exclusion.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* A start now, with the readings laid over a copy of the forecast. */
struct look {
	const struct board_job *job;
	int64_t now;
	struct readings readings;
	struct series series;
	struct rulebook book; /* tied to the copy */
	struct check *checks;
	size_t check_count;
	struct outlook outlook;
	struct verdicts verdicts;
	size_t start;     /* the cell of now */
	int64_t duration; /* from the start of that cell to the end of the job
			   */
};

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
static bool
read_readings(struct session *session, struct readings *ret)
{
	static const struct readings none = { NAN, NAN, NAN, NAN, NAN, NAN,
		NAN };
	*ret = none;
	if (!session_quantity(
		session, "wind", QUANTITY_SPEED, 0, 75, &ret->wind) ||
	    !session_quantity(
		session, "gust", QUANTITY_SPEED, 0, 110, &ret->gust) ||
	    !session_quantity(session, "direction", QUANTITY_ANGLE, 0, 360,
		&ret->direction) ||
	    !session_quantity(
		session, "air", QUANTITY_TEMPERATURE, -60, 60, &ret->air) ||
	    !session_quantity(session, "humidity", QUANTITY_PERCENT, 0, 100,
		&ret->humidity) ||
	    !session_quantity(
		session, "green", QUANTITY_PERCENT, 0, 100, &ret->green))
		return false;
	if (ret->gust < ret->wind)
		return error_set(
		    &session->error, ERROR_INPUT, "--gust: less than the wind");
	return read_leaves(session, &ret->leaf_wet);
}

/*
 * Now lies inside a cell: the job is taken to have begun with it and to last
 * until it really ends, so that nothing is left out at its end.
 */
static void
look_init(struct look *look, const struct board *board,
    const struct config *config, const struct board_job *job)
{
	const struct series *forecast = &job->site->series;
	look->job = job;
	look->now = board->now;
	look->start = (size_t)((look->now - forecast->start) / SERIES_STEP);
	look->duration = job->limits.duration + look->now -
			 series_time(forecast, look->start);
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

/* True for what is looked for before the start, or in the records. */
static bool
looks_back(const struct rule *rule)
{
	const struct instant *from = &rule->exposure.from;
	return facts_answer(rule->measure) ||
	       (from->anchor == ANCHOR_START && from->seconds < 0);
}

/*
 * The cell that answers for a rule. Now lies within a cell, and what happened
 * since its start counts, too: for a rule that looks back the next cell answers
 * when its answer is worse.
 */
static size_t
cell_of(const struct look *look, size_t rule)
{
	size_t here = look->start, next = here + 1;
	const struct verdicts *verdicts = &look->verdicts;
	if (look->now % SERIES_STEP == 0 || next >= verdicts->count ||
	    !looks_back(&look->checks[rule].rule) ||
	    verdict_broken(verdicts, here, rule))
		return here;
	if (verdict_broken(verdicts, next, rule) ||
	    (verdict_unknown(verdicts, next, rule) &&
		!verdict_unknown(verdicts, here, rule)))
		return next;
	return here;
}

static enum verdict
verdict_of_rule(const struct look *look, size_t rule)
{
	size_t cell = cell_of(look, rule);
	return verdict_broken(&look->verdicts, cell, rule)    ? VERDICT_NO_GO
	       : verdict_unknown(&look->verdicts, cell, rule) ? VERDICT_UNKNOWN
							      : VERDICT_GO;
}

/* No-go before unknown before go, over all rules. */
static enum verdict
verdict_of_all(const struct look *look)
{
	enum verdict worst = VERDICT_GO;
	for (size_t r = 0; r < look->check_count; r++) {
		enum verdict one = verdict_of_rule(look, r);
		if (one == VERDICT_NO_GO)
			return one;
		worst = one == VERDICT_UNKNOWN ? one : worst;
	}
	return worst;
}

static void
look_release(struct look *look)
{
	verdicts_release(&look->verdicts);
	outlook_release(&look->outlook);
	free(look->checks);
	rulebook_release(&look->book);
	series_release(&look->series);
}

/* Where the value of a rule comes from, when no reading gave all of it. */
static const char *
basis_of(enum measure measure, enum readings_share share)
{
	if (share == READINGS_ALL)
		return "measured";
	if (share == READINGS_PART)
		return "measured, forecast";
	if (measure == MEASURE_SUN_HEIGHT || measure == MEASURE_SINCE_SUNRISE ||
	    measure == MEASURE_UNTIL_SUNSET || measure == MEASURE_HOURS ||
	    measure == MEASURE_DATES)
		return "clock";
	return measure >= MEASURE_DORMANT ? "records" : "forecast";
}

/* A reading that is still missing, else what `lull why` says. */
static const char *
find_hint(char *buffer, size_t size, const struct look *look,
    const struct check *check, enum readings_share share)
{
	static const struct exposure during = { { ANCHOR_START, 0 },
		{ ANCHOR_END, 0 } };
	enum measure measure = check->rule.measure;
	if (strcmp(check->rule.name, "dry-leaf") == 0)
		measure = MEASURE_LEAF_WET;
	const char *options = readings_options(measure);
	if (share == READINGS_ALL)
		return "it cannot be told in air so light";
	if (options == NULL ||
	    (!exposure_meets(&check->rule.exposure, &during) &&
		measure != MEASURE_LEAF_WET))
		return show_hint(buffer, size, &look->job->job, measure);
	(void)snprintf(buffer, size, "look, and say %s", options);
	return buffer;
}

static void
add_rule(
    struct session *session, const struct look *look, size_t rule, cJSON *list)
{
	const struct check *check = &look->checks[rule];
	size_t cell = cell_of(look, rule);
	char hint[HINT_BUFFER];
	struct shown shown = { &look->job->job, session->keeper.config.units,
		NULL };
	struct reason reason;
	reason_make(&look->outlook, check, look->duration, cell, &reason);
	enum readings_share share = readings_share(
	    &look->readings, &look->outlook, check, cell, look->duration);
	const char *basis = basis_of(check->rule.measure, share);
	if (reason.verdict == VERDICT_UNKNOWN)
		shown.hint = find_hint(hint, sizeof hint, look, check, share);
	if (list != NULL) {
		cJSON *json = show_reason_json(&reason, &shown);
		cJSON_AddStringToObject(json, "basis", basis);
		cJSON_AddItemToArray(list, json);
		return;
	}
	show_reason(&session->out, &reason, &shown);
	text_format(&session->out, " (%s) [%s]\n", check->rule.owner, basis);
	if (shown.hint != NULL)
		text_format(
		    &session->out, "         still unknown: %s\n", shown.hint);
}

/* What stands in the way first. */
static void
add_rules(struct session *session, const struct look *look, cJSON *list)
{
	static const enum verdict order[] = { VERDICT_NO_GO, VERDICT_UNKNOWN,
		VERDICT_GO };
	for (size_t o = 0; o < sizeof order / sizeof order[0]; o++)
		for (size_t r = 0; r < look->check_count; r++)
			if (verdict_of_rule(look, r) == order[o])
				add_rule(session, look, r, list);
}

/* The keeper's own dates bind nobody who stands on site; they are said. */
static void
add_cautions(struct session *session, const struct look *look)
{
	const struct job *job = &look->job->job;
	char when[CIVIL_BUFFER];
	if (look->now < job->after)
		text_format(&session->out,
		    "This job was not to start before %s.\n",
		    civil_print(when, sizeof when, &job->site->zone, job->after,
			CIVIL_DAY_CLOCK));
	if (job->before != INT64_MAX &&
	    look->now + look->job->limits.duration > job->before)
		text_format(&session->out, "This job was to be over by %s.\n",
		    civil_print(when, sizeof when, &job->site->zone,
			job->before, CIVIL_DAY_CLOCK));
	char away[80];
	exclusion_print(away, sizeof away, look->job->job.site->sprayer,
	    session->keeper.config.units);
	if (away[0] != '\0')
		text_format(&session->out, "%s\n", away);
	text_add(&session->out,
	    "The label in your hand is the law and rules over this. Wear what "
	    "it asks for. Keep\npeople and pets off until the spray has dried. "
	    "Keep away from water and from\nflowers in bloom. Look again when "
	    "the wind turns or rises; stop when a rule is broken.\n");
}

static void
add_reading(
    cJSON *json, const char *name, double value, enum quantity_kind kind)
{
	cJSON_AddItemToObject(json, name,
	    json_rounded(quantity_number(value, kind, UNITS_METRIC), 3));
}

static void
print_json(
    struct session *session, const struct look *look, enum verdict verdict)
{
	const struct readings *readings = &look->readings;
	cJSON *json = cJSON_CreateObject();
	cJSON_AddNumberToObject(json, "job", (double)look->job->job.id);
	cJSON_AddItemToObject(
	    json, "at", json_time(&look->job->job.site->zone, look->now));
	cJSON_AddStringToObject(json, "verdict", verdict_word(verdict));
	show_forecast(session, look->job, json);
	cJSON *list = cJSON_AddObjectToObject(json, "readings");
	add_reading(list, "wind", readings->wind, QUANTITY_SPEED);
	add_reading(list, "gust", readings->gust, QUANTITY_SPEED);
	add_reading(
	    list, "wind-direction", readings->direction, QUANTITY_ANGLE);
	add_reading(
	    list, "air-temperature", readings->air, QUANTITY_TEMPERATURE);
	add_reading(list, "humidity", readings->humidity, QUANTITY_PERCENT);
	add_reading(list, "green", readings->green, QUANTITY_PERCENT);
	add_reading(list, "leaf-wet", readings->leaf_wet, QUANTITY_NUMBER);
	add_rules(session, look, cJSON_AddArrayToObject(json, "rules"));
	(void)session_print_json(session, json);
}

static void
print_text(
    struct session *session, const struct look *look, enum verdict verdict)
{
	static const char *const word[] = { "GO", "NO-GO", "UNKNOWN" };
	const struct job *job = &look->job->job;
	char tank[LIMIT_TEXT_BYTES], from[CIVIL_BUFFER], to[CIVIL_BUFFER];
	text_format(&session->out, "%s: %s, %s, %s-%s\n", word[verdict],
	    job->site->name, tank_print(tank, sizeof tank, &job->tank),
	    civil_print(from, sizeof from, &job->site->zone, look->now,
		CIVIL_DAY_CLOCK),
	    civil_print(to, sizeof to, &job->site->zone,
		look->now + look->job->limits.duration, CIVIL_CLOCK));
	show_forecast(session, look->job, NULL);
	add_rules(session, look, NULL);
	add_cautions(session, look);
}

static int
look_now(struct session *session, const struct board *board,
    const struct board_job *job)
{
	struct look look = { 0 };
	if (!read_readings(session, &look.readings))
		return (int)session->error.kind;
	look_init(&look, board, &session->keeper.config, job);
	enum verdict verdict = verdict_of_all(&look);
	if (session->json)
		print_json(session, &look, verdict);
	else
		print_text(session, &look, verdict);
	look_release(&look);
	return verdict == VERDICT_GO ? 0 : ERROR_ANSWER;
}

int
command_now(struct session *session)
{
	struct board board;
	int64_t id;
	if (!session_job(session, 0, &id) || !show_load(session, &board))
		return (int)session->error.kind;
	const struct board_job *job = show_find(session, &board, id);
	int code = job != NULL ? look_now(session, &board, job)
			       : (int)session->error.kind;
	board_release(&board);
	return code;
}
