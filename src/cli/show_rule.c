/* How one rule at one start is shown, and where its numbers come from. */
#include "cli/show.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

/* What the keeper told of, and how it is told. */
static const char *
told_by(enum measure measure)
{
	switch (measure) {
	case MEASURE_DORMANT:
	case MEASURE_GREEN_UP:
	case MEASURE_GREEN:
		return "--green P";
	case MEASURE_SOIL:
		return "--soil T";
	case MEASURE_SINCE_MOWING:
		return "--mowed";
	case MEASURE_SINCE_SEEDING:
	case MEASURE_MOWINGS:
		return "--seeded --on DATE";
	case MEASURE_SINCE_SODDING:
		return "--sodded --on DATE";
	case MEASURE_SINCE_OVERSEEDING:
		return "--overseeded --on DATE";
	case MEASURE_SINCE_AERATING:
		return "--aerated --on DATE";
	default:
		return NULL;
	}
}

/* True for what no forecast brings: the clock, the records and the card. */
static bool
is_on_file(enum measure measure)
{
	return measure == MEASURE_HOURS || measure == MEASURE_SUN_HEIGHT ||
	       measure == MEASURE_SINCE_SUNRISE ||
	       measure == MEASURE_UNTIL_SUNSET ||
	       (measure >= MEASURE_DORMANT && measure < MEASURES);
}

const char *
show_hint(
    char *buffer, size_t size, const struct job *job, enum measure measure)
{
	const char *told = told_by(measure);
	/* a name with a blank is one word to the shell only in quotes */
	const char *quote = strchr(job->site->name, ' ') != NULL ? "'" : "";
	if (told != NULL)
		(void)snprintf(buffer, size, "%slull observe %s%s%s %s",
		    strcmp(told, "--green P") == 0 ? "look at the lawn: " : "",
		    quote, job->site->name, quote, told);
	else if (measure == MEASURE_DRIFT)
		(void)snprintf(buffer, size,
		    "lull now %" PRId64 " --wind W --direction D", job->id);
	else if (measure == MEASURE_DEGREE_DAYS)
		(void)snprintf(buffer, size,
		    "a day since the start of the season was not seen");
	else if (measure == MEASURE_INVERSION)
		(void)snprintf(buffer, size,
		    "the wind, cloud or rain of that night is not known");
	else if (is_on_file(measure))
		return NULL;
	else
		(void)snprintf(buffer, size, "lull refresh");
	return buffer;
}

void
show_reason(
    struct text *out, const struct reason *reason, const struct shown *shown)
{
	char sentence[REASON_BUFFER], margin[QUANTITY_BUFFER * 2];
	text_format(out, "%-7s  %s: %s", verdict_word(reason->verdict),
	    reason_print(sentence, sizeof sentence, reason,
		&shown->job->site->zone, shown->units),
	    reason_print_margin(margin, sizeof margin, reason, shown->units));
}

void
show_origin(struct text *out, const struct rule *rule)
{
	text_format(out, "         %s", origin_word(rule->origin));
	if (rule->origin != ORIGIN_PRACTICE)
		text_format(out, " of %s", rule->owner);
	if (rule->source[0] != '\0')
		text_format(out, ": %s", rule->source);
	if (rule->wording != NULL)
		text_format(out, ": \"%s\"", rule->wording);
	text_add(out, "\n");
}

/* Spans in seconds; what has a unit of its own in that. */
static void
add_number(cJSON *json, const char *name, double value, enum quantity_kind kind)
{
	double number = kind == QUANTITY_SPAN
			    ? value
			    : quantity_number(value, kind, UNITS_METRIC);
	cJSON_AddItemToObject(json, name, json_rounded(number, 3));
}

static const char *
unit_of(enum quantity_kind kind)
{
	return kind == QUANTITY_SPAN ? "s" : quantity_unit(kind, UNITS_METRIC);
}

/* What JSON has no number for; NULL when it has. */
static const char *
infinite_word(const struct reason *reason)
{
	enum measure measure = reason->rule->measure;
	if (!isinf(reason->value))
		return NULL;
	if (measure >= MEASURE_UNTIL_MOWING &&
	    measure <= MEASURE_UNTIL_IRRIGATION)
		return "not planned";
	return measure == MEASURE_DAYS_SINCE ||
		       (measure >= MEASURE_SINCE_MOWING &&
			   measure <= MEASURE_SINCE_AERATING)
		   ? "never"
		   : "nothing in that time";
}

static void
add_text(cJSON *json, const char *name, const char *text)
{
	cJSON_AddItemToObject(json, name,
	    text != NULL ? cJSON_CreateString(text) : cJSON_CreateNull());
}

/* How a margin is told: the time of a yes or no in hours, as it ever was. */
static void
add_margin(cJSON *json, const struct reason *reason, enum unit_system units)
{
	const struct rule *rule = reason->rule;
	enum quantity_kind kind = reason_margin_kind(rule);
	char text[QUANTITY_BUFFER * 2];
	if (rule->fold == FOLD_ANY)
		cJSON_AddItemToObject(
		    json, "margin", json_rounded(reason->margin / 3600, 3));
	else
		add_number(json, "margin", reason->margin, kind);
	cJSON_AddStringToObject(
	    json, "margin-unit", rule->fold == FOLD_ANY ? "h" : unit_of(kind));
	cJSON_AddStringToObject(json, "margin-text",
	    reason_print_margin(text, sizeof text, reason, units));
}

static void
add_rule_members(cJSON *json, const struct reason *reason)
{
	static const char *const folds[] = { "max", "min", "sum", "mean",
		"any" };
	const struct rule *rule = reason->rule;
	enum quantity_kind kind = rule_kind(rule);
	char exposure[EXPOSURE_BUFFER];
	cJSON_AddStringToObject(
	    json, "measure", measure_info(rule->measure)->key);
	cJSON_AddStringToObject(json, "fold", folds[rule->fold]);
	cJSON_AddStringToObject(json, "exposure",
	    exposure_print(exposure, sizeof exposure, &rule->exposure));
	cJSON_AddStringToObject(json, "unit", unit_of(kind));
	add_number(json, "value", reason->value, kind);
	add_text(json, "value-text", infinite_word(reason));
	cJSON_AddStringToObject(json, "bound", bound_word(rule->bound));
	add_number(json, "limit", rule->limit, kind);
}

cJSON *
show_reason_json(const struct reason *reason, const struct shown *shown)
{
	const struct zone *zone = &shown->job->site->zone;
	const struct rule *rule = reason->rule;
	char sentence[REASON_BUFFER];
	cJSON *json = cJSON_CreateObject();
	cJSON_AddStringToObject(json, "rule", rule->name);
	cJSON_AddStringToObject(json, "verdict", verdict_word(reason->verdict));
	cJSON_AddStringToObject(json, "sentence",
	    reason_print(
		sentence, sizeof sentence, reason, zone, shown->units));
	add_rule_members(json, reason);
	add_margin(json, reason, shown->units);
	if (reason->at != INT64_MIN)
		cJSON_AddItemToObject(
		    json, "time", json_time(zone, reason->at));
	cJSON_AddStringToObject(json, "origin", origin_word(rule->origin));
	cJSON_AddStringToObject(json, "owner", rule->owner);
	cJSON_AddStringToObject(json, "source", rule->source);
	add_text(json, "wording", rule->wording);
	add_text(json, "hint", shown->hint);
	return json;
}

static void
add_forecast_members(cJSON *json, const struct board_job *job)
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

void
show_forecast(struct session *session, const struct board_job *job, cJSON *json)
{
	const struct chain *chain = &job->site->chain;
	const struct chain_link *link = chain_leader(chain);
	char line[256];
	if (json != NULL) {
		add_forecast_members(json, job);
		return;
	}
	if (link->issued != 0)
		text_format(&session->out, "forecast: %s\n",
		    chain_print_link(line, sizeof line, link,
			&job->job.site->zone, job->limits.now));
	if (chain->trouble[0] != '\0')
		text_format(&session->out, "%s\n", chain->trouble);
	else if (chain->fetch_trouble[0] != '\0')
		text_format(
		    &session->out, "beside it: %s\n", chain->fetch_trouble);
}
