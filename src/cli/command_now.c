/* The last look on site, with instruments in the hand. */
#include "cli/look.h"

#include "cli/show.h"
#include "turf/exclusion.h"

#include <stdio.h>
#include <string.h>

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
	char hint[HINT_BUFFER];
	struct shown shown = { &look->job->job, session->keeper.config.units,
		NULL };
	struct reason reason;
	look_reason(look, rule, &reason);
	enum readings_share share = readings_share(&look->readings,
	    &look->outlook, check, look_cell(look, rule), look->duration);
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
			if (look_verdict_of(look, r) == order[o])
				add_rule(session, look, r, list);
}

/* The keeper's own dates bind nobody who stands on site; they are said. */
static void
add_cautions(struct session *session, const struct look *look)
{
	const struct job *job = &look->job->job;
	char when[CIVIL_BUFFER];
	if (look->from < job->after)
		text_format(&session->out,
		    "This job was not to start before %s.\n",
		    civil_print(when, sizeof when, &job->site->zone, job->after,
			CIVIL_DAY_CLOCK));
	if (job->before != INT64_MAX &&
	    look->from + look->job->limits.duration > job->before)
		text_format(&session->out, "This job was to be over by %s.\n",
		    civil_print(when, sizeof when, &job->site->zone,
			job->before, CIVIL_DAY_CLOCK));
	char away[80];
	exclusion_print(away, sizeof away, look->job->job.sprayer,
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
	    json, "at", json_time(&look->job->job.site->zone, look->from));
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
	    civil_print(from, sizeof from, &job->site->zone, look->from,
		CIVIL_DAY_CLOCK),
	    civil_print(to, sizeof to, &job->site->zone,
		look->from + look->job->limits.duration, CIVIL_CLOCK));
	show_forecast(session, look->job, NULL);
	add_rules(session, look, NULL);
	add_cautions(session, look);
}

static int
look_now(struct session *session, const struct board *board,
    const struct board_job *job)
{
	struct look look = { .readings = look_nothing };
	if (!look_read(session, &look.readings))
		return (int)session->error.kind;
	look_init(&look, board, &session->keeper.config, job,
	    (struct slot){ board->now, board->now + job->limits.duration });
	enum verdict verdict = look_verdict(&look);
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
