#include "cli/session.h"

#include "cli/show.h"

#include <inttypes.h>
#include <string.h>

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
add_rule_json(cJSON *list, const struct board_job *job,
    const struct reason *reason, const char *sentence)
{
	const struct rule *rule = reason->rule;
	enum quantity_kind kind = measure_info(rule->measure)->kind;
	cJSON *json = cJSON_CreateObject();
	cJSON_AddItemToArray(list, json);
	cJSON_AddStringToObject(json, "rule", rule->name);
	cJSON_AddStringToObject(json, "verdict", verdict_word(reason->verdict));
	cJSON_AddStringToObject(json, "sentence", sentence);
	cJSON_AddStringToObject(
	    json, "measure", measure_info(rule->measure)->key);
	cJSON_AddStringToObject(
	    json, "unit", quantity_unit(kind, UNITS_METRIC));
	cJSON_AddItemToObject(json, "value",
	    json_rounded(
		quantity_number(reason->value, kind, UNITS_METRIC), 3));
	cJSON_AddStringToObject(json, "bound", bound_word(rule->bound));
	cJSON_AddItemToObject(json, "limit",
	    json_rounded(quantity_number(rule->limit, kind, UNITS_METRIC), 3));
	enum quantity_kind margin = reason_margin_kind(rule);
	cJSON_AddItemToObject(json, "margin",
	    json_rounded(
		quantity_number(reason->margin, margin, UNITS_METRIC), 3));
	cJSON_AddStringToObject(
	    json, "margin-unit", quantity_unit(margin, UNITS_METRIC));
	if (reason->at != INT64_MIN)
		cJSON_AddItemToObject(
		    json, "time", json_time(&job->job.site->zone, reason->at));
	cJSON_AddStringToObject(json, "origin", origin_word(rule->origin));
	cJSON_AddStringToObject(json, "owner", rule->owner);
	cJSON_AddStringToObject(json, "source", rule->source);
}

/* "label of post-a: section 4", "practice: a handbook". */
static void
add_origin(struct text *out, const struct rule *rule)
{
	text_format(out, "         %s", origin_word(rule->origin));
	if (rule->origin != ORIGIN_PRACTICE)
		text_format(out, " of %s", rule->owner);
	if (rule->source[0] != '\0')
		text_format(out, ": %s", rule->source);
	text_add(out, "\n");
}

static void
add_rules(struct session *session, const struct board_job *job, size_t start,
    cJSON *list)
{
	enum unit_system units = session->keeper.config.units;
	char sentence[REASON_BUFFER], margin[QUANTITY_BUFFER * 2];
	for (size_t r = 0; r < job->book.count; r++) {
		const struct rule *rule = &job->book.check[r].rule;
		struct reason reason;
		reason_make(&job->site->outlook, &job->book.check[r],
		    job->limits.duration, start, &reason);
		reason_print(sentence, sizeof sentence, &reason,
		    &job->job.site->zone, units);
		if (list != NULL) {
			add_rule_json(list, job, &reason, sentence);
			continue;
		}
		text_format(&session->out, "%-7s  %s: %s\n",
		    verdict_word(reason.verdict), sentence,
		    reason_print_margin(margin, sizeof margin, &reason, units));
		add_origin(&session->out, rule);
	}
}

static void
add_help_json(cJSON *list, const struct zone *zone, const struct help *help)
{
	cJSON *json = cJSON_CreateObject();
	cJSON_AddItemToArray(list, json);
	cJSON_AddStringToObject(
	    json, "change", help->preference ? "other hours" : "leave out");
	if (!help->preference)
		cJSON_AddStringToObject(json, "product", help->without->name);
	cJSON_AddItemToObject(json, "start", json_time(zone, help->start));
}

static void
add_helps(struct session *session, const struct board_job *job, cJSON *list)
{
	struct judgement judgement = board_judgement(job);
	const struct zone *zone = &job->job.site->zone;
	struct help helps[HELPS_MAX];
	size_t count = helps_find(&judgement, helps);
	char when[CIVIL_BUFFER];
	for (size_t i = 0; i < count && list != NULL; i++)
		add_help_json(list, zone, &helps[i]);
	if (list != NULL)
		return;
	text_add(&session->out,
	    count > 0 ? "What would open a window:\n"
		      : "Nothing but time would open a window.\n");
	for (size_t i = 0; i < count; i++) {
		civil_print(
		    when, sizeof when, zone, helps[i].start, CIVIL_DAY_CLOCK);
		text_format(&session->out, "- %s%s: %s\n",
		    helps[i].preference ? "other hours than preferred"
					: "without ",
		    helps[i].preference ? "" : helps[i].without->name, when);
	}
}

/* Where the numbers come from, and how old they are. */
static void
add_forecast(struct session *session, const struct board_job *job, int64_t now)
{
	const struct chain *chain = &job->site->chain;
	const struct chain_link *link = chain_leader(chain);
	char line[256];
	if (link->issued != 0)
		text_format(&session->out, "forecast: %s\n",
		    chain_print_link(
			line, sizeof line, link, &job->job.site->zone, now));
	if (chain->trouble[0] != '\0')
		text_format(&session->out, "%s\n", chain->trouble);
	else if (chain->fetch_trouble[0] != '\0')
		text_format(
		    &session->out, "beside it: %s\n", chain->fetch_trouble);
}

static void
add_forecast_json(cJSON *json, const struct board_job *job)
{
	const struct chain *chain = &job->site->chain;
	const struct chain_link *link = chain_leader(chain);
	cJSON_AddStringToObject(json, "forecast", link->format->name);
	cJSON_AddItemToObject(json, "issued",
	    link->issued != 0 ? json_time(&job->job.site->zone, link->issued)
			      : cJSON_CreateNull());
	cJSON_AddStringToObject(json, "trouble", chain->trouble);
	cJSON_AddStringToObject(json, "fetch-trouble", chain->fetch_trouble);
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
	cJSON *json = session->json ? cJSON_CreateObject() : NULL;
	civil_print(
	    when, sizeof when, &job->job.site->zone, time, CIVIL_DAY_CLOCK);
	if (json != NULL) {
		cJSON_AddNumberToObject(json, "job", (double)job->job.id);
		cJSON_AddItemToObject(
		    json, "at", json_time(&job->job.site->zone, time));
		cJSON_AddStringToObject(json, "verdict", verdict_word(verdict));
		add_forecast_json(json, job);
		add_rules(
		    session, job, start, cJSON_AddArrayToObject(json, "rules"));
		if (job->window_count == 0)
			add_helps(session, job,
			    cJSON_AddArrayToObject(json, "helps"));
		(void)session_print_json(session, json);
	} else {
		text_format(
		    &session->out, "%s: %s\n", when, verdict_word(verdict));
		add_forecast(session, job, job->limits.now);
		add_rules(session, job, start, NULL);
		if (job->window_count == 0)
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
