#include "cli/session.h"

#include "base/memory.h"

#include <errno.h>
#include <inttypes.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* The option of each kind of event, and what it takes. */
struct telling {
	const char *option;
	enum quantity_kind quantity; /* NUMBER: it takes nothing */
	double least, most;
	bool may_be_planned;
};

static const struct telling tellings[EVENT_KINDS] = {
	[EVENT_GREEN] = { "green", QUANTITY_PERCENT, 0, 100, false },
	[EVENT_SOIL] = { "soil", QUANTITY_TEMPERATURE, -40, 60, false },
	[EVENT_RAIN] = { "rain", QUANTITY_RAIN, 0, 600, false },
	[EVENT_IRRIGATION] = { "irrigation", QUANTITY_RAIN, 0.1, 600, true },
	[EVENT_MOWING] = { "mowed", QUANTITY_NUMBER, 0, 0, true },
	[EVENT_SEEDING] = { "seeded", QUANTITY_NUMBER, 0, 0, true },
	[EVENT_SODDING] = { "sodded", QUANTITY_NUMBER, 0, 0, true },
	[EVENT_OVERSEEDING] = { "overseeded", QUANTITY_NUMBER, 0, 0, true },
	[EVENT_AERATING] = { "aerated", QUANTITY_NUMBER, 0, 0, true },
};

/* What one call tells. All of its observations share these. */
struct report {
	const struct site *site;
	int64_t now;
	struct stored_observation common;
	struct stored_observation each[EVENT_KINDS];
	size_t count;
};

static bool
is_plan(const struct stored_observation *observation)
{
	return observation->created < observation->from;
}

static bool
is_whole_day(const struct stored_observation *observation)
{
	return observation->to > observation->from;
}

/* A date alone is its whole day; without any it was just now. */
static bool
read_when(struct session *session, struct report *report)
{
	const struct zone *zone = &report->site->zone;
	const char *text = session_option(session, "on");
	int64_t at = report->now;
	if (!session_time(session, "on", zone, &at))
		return false;
	report->common.from = report->common.to = at;
	if (text != NULL && strchr(text, ':') == NULL)
		report->common.to =
		    civil_day_start(zone, civil_day(zone, at) + 1);
	return true;
}

static bool
read_replaced(struct session *session, struct report *report)
{
	const char *text = session_option(session, "replaces");
	char *end;
	if (text == NULL)
		return true;
	errno = 0;
	long long id = strtoll(text, &end, 10);
	if (errno != 0 || end == text || *end != '\0' || id <= 0)
		return error_set(&session->error, ERROR_INPUT,
		    "--replaces: '%.40s' is not the number of an observation",
		    text);
	report->common.replaces = id;
	return true;
}

static bool
read_kind(struct session *session, struct report *report, enum event_kind kind)
{
	const struct telling *telling = &tellings[kind];
	struct stored_observation one = report->common;
	if (session_option(session, telling->option) == NULL)
		return true;
	if (telling->quantity != QUANTITY_NUMBER &&
	    !session_quantity(session, telling->option, telling->quantity,
		telling->least, telling->most, &one.amount))
		return false;
	if (is_plan(&one) && !telling->may_be_planned)
		return error_set(&session->error, ERROR_INPUT,
		    "--%s: nobody has seen that yet, it is in the future",
		    telling->option);
	one.kind = kind;
	report->each[report->count++] = one;
	return true;
}

/* With nothing in its place, what is replaced is taken back. */
static bool
read_kinds(struct session *session, struct report *report)
{
	for (int kind = 0; kind < EVENT_KINDS; kind++)
		if (!read_kind(session, report, (enum event_kind)kind))
			return false;
	if (report->count == 0 && report->common.replaces != 0) {
		report->each[report->count++] = report->common;
		return true;
	}
	if (report->count > 1 && report->common.replaces != 0)
		return error_set(&session->error, ERROR_INPUT,
		    "--replaces: one observation takes the place of one");
	if (report->count == 0 && (session_option(session, "on") != NULL ||
				      session_option(session, "note") != NULL))
		return error_set(&session->error, ERROR_INPUT,
		    "say what there is to tell: --green, --mowed ...");
	return true;
}

static bool
read_report(struct session *session, struct report *report)
{
	report->site = session_site(session);
	if (report->site == NULL)
		return false;
	report->now = clock_now(&session->clock);
	report->common = (struct stored_observation){ .site = memory_string(
							  report->site->name),
		.kind = EVENT_KINDS,
		.amount = NAN,
		.created = report->now };
	return read_when(session, report) &&
	       session_text(session, "note", &report->common.note) &&
	       read_replaced(session, report) && read_kinds(session, report);
}

static bool
store_report(struct session *session, struct report *report)
{
	struct store *store = session->keeper.store;
	bool good = store_begin(store, &session->error);
	if (!good)
		return false;
	for (size_t i = 0; i < report->count && good; i++)
		good = store_observation_add(store, &report->each[i],
		    &report->each[i].id, &session->error);
	good = good && store_commit(store, &session->error);
	if (!good)
		store_rollback(store);
	return good;
}

static cJSON *
make_json(const struct stored_observation *one, const struct site *site)
{
	enum quantity_kind quantity = tellings[one->kind].quantity;
	cJSON *json = cJSON_CreateObject();
	cJSON_AddNumberToObject(json, "observation", (double)one->id);
	cJSON_AddStringToObject(json, "site", site->name);
	cJSON_AddStringToObject(json, "kind", event_word(one->kind));
	cJSON_AddItemToObject(json, "from", json_time(&site->zone, one->from));
	cJSON_AddItemToObject(json, "to", json_time(&site->zone, one->to));
	cJSON_AddItemToObject(json, "amount",
	    json_rounded(
		quantity_number(one->amount, quantity, UNITS_METRIC), 3));
	cJSON_AddStringToObject(
	    json, "unit", quantity_unit(quantity, UNITS_METRIC));
	cJSON_AddBoolToObject(json, "plan", is_plan(one));
	cJSON_AddStringToObject(json, "note", one->note);
	cJSON_AddItemToObject(
	    json, "told", json_time(&site->zone, one->created));
	return json;
}

static void
add_line(struct session *session, const struct stored_observation *one,
    const struct zone *zone)
{
	char date[CIVIL_BUFFER], clock[CIVIL_BUFFER], amount[QUANTITY_BUFFER];
	bool whole_day = is_whole_day(one);
	struct text *out = &session->out;
	text_format(out, "%4" PRId64 "  %s %-5s  %s", one->id,
	    civil_print(date, sizeof date, zone, one->from, CIVIL_DATE),
	    whole_day ? ""
		      : civil_print(
			    clock, sizeof clock, zone, one->from, CIVIL_CLOCK),
	    event_word(one->kind));
	if (!isnan(one->amount))
		text_format(out, " %s",
		    quantity_print(amount, sizeof amount, one->amount,
			tellings[one->kind].quantity,
			session->keeper.config.units));
	text_add(out, is_plan(one) ? ", planned" : "");
	text_format(out, "%s%s\n", one->note[0] != '\0' ? "  " : "", one->note);
}

/* Newest first. What is taken back has nothing to show. */
static int
show(struct session *session, const struct site *site,
    const struct stored_observation *list, size_t count)
{
	cJSON *array = cJSON_CreateArray();
	for (size_t i = count; i-- > 0;) {
		if (list[i].kind == EVENT_KINDS)
			continue;
		if (session->json)
			cJSON_AddItemToArray(array, make_json(&list[i], site));
		else
			add_line(session, &list[i], &site->zone);
	}
	if (session->json) {
		cJSON *json = cJSON_CreateObject();
		cJSON_AddItemToObject(json, "observations", array);
		return session_print_json(session, json);
	}
	cJSON_Delete(array);
	return 0;
}

static int
show_known(struct session *session, const struct site *site)
{
	struct stored_observation *list;
	size_t count;
	if (!store_observations(session->keeper.store, site->name, &list,
		&count, &session->error))
		return (int)session->error.kind;
	if (count == 0 && !session->json)
		text_add(&session->out, "Nothing has been observed.\n");
	int code = show(session, site, list, count);
	stored_observations_free(list, count);
	return code;
}

static int
tell(struct session *session, struct report *report)
{
	if (!store_report(session, report))
		return (int)session->error.kind;
	int code = session_pass(session);
	if (code != 0) {
		/* So that nobody tells it again. */
		(void)error_prefix(&session->error, "it is stored, but");
		return code;
	}
	if (report->each[0].kind == EVENT_KINDS && !session->json)
		text_format(&session->out,
		    "observation %" PRId64 " is taken back\n",
		    report->common.replaces);
	return show(session, report->site, report->each, report->count);
}

int
command_observe(struct session *session)
{
	struct report report = { 0 };
	int code;
	if (!read_report(session, &report))
		code = (int)session->error.kind;
	else if (report.count == 0)
		code = show_known(session, report.site);
	else
		code = tell(session, &report);
	free(report.common.site);
	free(report.common.note);
	return code;
}
