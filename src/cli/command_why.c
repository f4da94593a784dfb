#include "cli/session.h"

#include "cli/show.h"

/* The start that is asked about: --at, else the slot, else now. */
static bool
find_time(struct session *session, const struct board_job *job, int64_t now,
    int64_t *ret)
{
	const char *at = session_option(session, "at");
	*ret = job->has_slot ? job->slot.from : now;
	if (at == NULL)
		return true;
	return civil_parse(at, &job->job.site->zone, ret, &session->error) ||
	       error_prefix(&session->error, "--at");
}

static void
add_rules(struct session *session, const struct board_job *job, size_t start,
    cJSON *list)
{
	char hint[HINT_BUFFER];
	struct shown shown = { &job->job, session->keeper.config.units, NULL };
	for (size_t r = 0; r < job->book.count; r++) {
		const struct check *check = &job->book.check[r];
		struct reason reason;
		reason_make(&job->site->outlook, check, job->limits.duration,
		    start, &reason);
		shown.hint = reason.verdict == VERDICT_UNKNOWN
				 ? show_hint(hint, sizeof hint, &job->job,
				       check->rule.measure)
				 : NULL;
		if (list != NULL) {
			cJSON_AddItemToArray(
			    list, show_reason_json(&reason, &shown));
			continue;
		}
		show_reason(&session->out, &reason, &shown);
		text_add(&session->out, "\n");
		show_origin(&session->out, &check->rule);
		if (shown.hint != NULL)
			text_format(&session->out, "         cannot tell: %s\n",
			    shown.hint);
	}
}

static void
add_tank_json(cJSON *list, const struct tank_mix *tank, const struct zone *zone,
    int64_t start)
{
	cJSON *json = cJSON_CreateObject();
	cJSON_AddItemToArray(list, json);
	cJSON *names = cJSON_AddArrayToObject(json, "tank");
	for (size_t i = 0; i < tank->count; i++)
		cJSON_AddItemToArray(
		    names, cJSON_CreateString(tank->dose[i].product->name));
	cJSON_AddItemToObject(json, "start", json_time(zone, start));
}

static void
add_help_json(cJSON *list, const struct zone *zone, const struct help *help)
{
	static const char *const change[] = { "leave out", "split",
		"other hours" };
	cJSON *json = cJSON_CreateObject();
	cJSON_AddItemToArray(list, json);
	cJSON_AddStringToObject(json, "change", change[help->change]);
	if (help->change == HELP_WITHOUT)
		cJSON_AddStringToObject(json, "product", help->without->name);
	cJSON_AddItemToObject(json, "start", json_time(zone, help->start));
	if (help->change != HELP_SPLIT)
		return;
	cJSON *tanks = cJSON_AddArrayToObject(json, "tanks");
	add_tank_json(tanks, &help->first, zone, help->start);
	add_tank_json(tanks, &help->second, zone, help->second_start);
}

/* What would open a window, or an earlier one when some are open later. */
static void
add_helps(struct session *session, const struct board_job *job, cJSON *list)
{
	struct judgement judgement = board_judgement(job);
	const struct zone *zone = &job->job.site->zone;
	struct help helps[HELPS_MAX];
	size_t count = helps_find(&judgement, helps);
	bool later = job->window_count > 0;
	char line[HELP_BUFFER];
	for (size_t i = 0; i < count && list != NULL; i++)
		add_help_json(list, zone, &helps[i]);
	if (list != NULL)
		return;
	if (count > 0)
		text_format(&session->out, "What would open %s window:\n",
		    later ? "an earlier" : "a");
	else if (!later)
		text_add(&session->out,
		    blockers_unknown(&judgement)
			? "What is not known has to be known first.\n"
			: "Nothing but time would open a window.\n");
	for (size_t i = 0; i < count; i++)
		text_format(&session->out, "- %s\n",
		    help_print(
			line, sizeof line, &helps[i], zone, CIVIL_DAY_CLOCK));
}

static int
explain(struct session *session, const struct board_job *job, int64_t time)
{
	const struct series *series = &job->site->series;
	char when[CIVIL_BUFFER];
	size_t start;
	if (time < series->start || time >= series_end(series))
		return session_fail(session, ERROR_ANSWER,
		    "the forecast in use does not reach that time");
	enum verdict verdict = job->has_slot && time == job->slot.from
				   ? board_slot_verdict(job, &start)
				   : board_verdict(job, time, &start);
	bool wants_help = verdict != VERDICT_GO || job->window_count == 0;
	cJSON *json = session->json ? cJSON_CreateObject() : NULL;
	civil_print(
	    when, sizeof when, &job->job.site->zone, time, CIVIL_DAY_CLOCK);
	if (json != NULL) {
		cJSON_AddNumberToObject(json, "job", (double)job->job.id);
		cJSON_AddItemToObject(
		    json, "at", json_time(&job->job.site->zone, time));
		cJSON_AddStringToObject(json, "verdict", verdict_word(verdict));
		show_forecast(session, job, json);
		add_rules(
		    session, job, start, cJSON_AddArrayToObject(json, "rules"));
		if (wants_help)
			add_helps(session, job,
			    cJSON_AddArrayToObject(json, "helps"));
		(void)session_print_json(session, json);
	} else {
		text_format(
		    &session->out, "%s: %s\n", when, verdict_word(verdict));
		show_forecast(session, job, NULL);
		add_rules(session, job, start, NULL);
		if (wants_help)
			add_helps(session, job, NULL);
	}
	return verdict == VERDICT_GO ? 0 : ERROR_ANSWER;
}

int
command_why(struct session *session)
{
	struct board board;
	int64_t id, time;
	if (!session_job(session, 0, &id) || !show_load(session, &board))
		return (int)session->error.kind;
	const struct board_job *job = show_find(session, &board, id);
	int code;
	if (job != NULL && find_time(session, job, board.now, &time))
		code = explain(session, job, time);
	else
		code = (int)session->error.kind;
	board_release(&board);
	return code;
}
