#include "cli/session.h"

#include "cli/calibrate.h"
#include "service/sprayers.h"
#include "turf/calibration.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { WAY_OPTIONS = 6 };

/* One way to calibrate: the options that ask for it, and those beside them. */
struct way {
	const char *asks[WAY_OPTIONS];
	const char *takes[WAY_OPTIONS];
	int (*run)(struct session *session, const struct sprayer *sprayer);
};

static const struct way ways[] = {
	{ { "nozzle", "rated" }, { "catch-time" }, calibrate_nozzles },
	{ { "flow", "speed", "carrier" }, { "width" }, calibrate_sum },
	{ { "area" }, { "caught", "time", "catch-time", "try" },
	    calibrate_catch },
	{ { "caught", "time", "catch-time", "width", "length", "try" },
	    { NULL }, calibrate_catch },
};

static bool
has(const char *const names[WAY_OPTIONS], const char *name)
{
	for (size_t i = 0; i < WAY_OPTIONS && names[i] != NULL; i++)
		if (strcmp(names[i], name) == 0)
			return true;
	return false;
}

static const char *
find_given(const struct session *session, const char *const names[WAY_OPTIONS])
{
	for (size_t i = 0; i < WAY_OPTIONS && names[i] != NULL; i++)
		if (session_option(session, names[i]) != NULL)
			return names[i];
	return NULL;
}

/* The first option that says another thing than the way; NULL when none. */
static const char *
find_stray(const struct session *session, const struct way *way)
{
	const char *const *options = session->command->options;
	for (size_t i = 0; options[i] != NULL; i++) {
		const char *name = options[i] + strspn(options[i], "+*");
		if (session_option(session, name) != NULL &&
		    !has(way->asks, name) && !has(way->takes, name))
			return name;
	}
	return NULL;
}

static int64_t
today_of(const struct session *session, const struct zone *zone)
{
	return civil_day(zone, clock_now(&session->clock));
}

static void
add_in_use(struct session *session, const struct sprayer *sprayer)
{
	const struct zone *zone =
	    sprayers_zone(&session->keeper.config, sprayer->name);
	char carrier[CALIBRATE_BUFFER], pace[QUANTITY_BUFFER];
	char date[CIVIL_BUFFER], span[QUANTITY_BUFFER];
	enum unit_system units = session->keeper.config.units;
	struct text *out = &session->out;
	text_format(out, "%s puts down %s, at %s\n", sprayer->name,
	    calibrate_print(carrier, sizeof carrier, sprayer->carrier, units),
	    quantity_print(pace, sizeof pace, sprayer->pace,
		QUANTITY_AREA_PER_TIME, units));
	if (sprayer->calibrated == INT64_MIN)
		text_add(out, "Nobody has said when that was caught.\n");
	else
		text_format(out, "That was caught on %s.\n",
		    civil_print(date, sizeof date, zone,
			civil_day_start(zone, sprayer->calibrated),
			CIVIL_DATE));
	if (calibration_is_stale(sprayer, today_of(session, zone)))
		text_format(out, "It is older than %s: catch again.\n",
		    span_print(span, sizeof span, sprayer->calibration_holds));
}

static void
add_row(struct session *session, const struct sprayer *sprayer,
    const struct stored_calibration *row)
{
	const struct zone *zone =
	    sprayers_zone(&session->keeper.config, sprayer->name);
	enum unit_system units = session->keeper.config.units;
	char date[CIVIL_BUFFER], carrier[CALIBRATE_BUFFER];
	char pace[QUANTITY_BUFFER];
	int64_t age = today_of(session, zone) - civil_day(zone, row->at);
	char ago[48] = "today";
	if (age > 0)
		(void)snprintf(ago, sizeof ago, "%" PRId64 " %s ago", age,
		    age == 1 ? "day" : "days");
	text_format(&session->out, "%4" PRId64 "  %s, %s  %s", row->id,
	    civil_print(date, sizeof date, zone, row->at, CIVIL_DATE), ago,
	    calibrate_print(carrier, sizeof carrier, row->carrier, units));
	if (!isnan(row->pace))
		text_format(&session->out, ", at %s",
		    quantity_print(pace, sizeof pace, row->pace,
			QUANTITY_AREA_PER_TIME, units));
	text_format(&session->out, "\n      %s\n", row->method);
}

static cJSON *
make_row(const struct session *session, const struct sprayer *sprayer,
    const struct stored_calibration *row)
{
	const struct zone *zone =
	    sprayers_zone(&session->keeper.config, sprayer->name);
	int64_t age = today_of(session, zone) - civil_day(zone, row->at);
	cJSON *json = cJSON_CreateObject();
	cJSON_AddNumberToObject(json, "calibration", (double)row->id);
	cJSON_AddItemToObject(json, "at", json_time(zone, row->at));
	cJSON_AddNumberToObject(json, "age-days", (double)age);
	cJSON_AddItemToObject(json, "carrier", calibrate_json(row->carrier));
	cJSON_AddItemToObject(
	    json, "pace-m2-per-min", json_rounded(row->pace * 60, 3));
	cJSON_AddStringToObject(json, "method", row->method);
	return json;
}

static cJSON *
make_in_use(const struct session *session, const struct sprayer *sprayer)
{
	const struct zone *zone =
	    sprayers_zone(&session->keeper.config, sprayer->name);
	char date[CIVIL_BUFFER];
	bool is_dated = sprayer->calibrated != INT64_MIN;
	cJSON *json = cJSON_CreateObject();
	cJSON_AddItemToObject(
	    json, "carrier", calibrate_json(sprayer->carrier));
	cJSON_AddItemToObject(
	    json, "pace-m2-per-min", json_rounded(sprayer->pace * 60, 3));
	cJSON_AddItemToObject(json, "day",
	    is_dated
		? cJSON_CreateString(civil_print(date, sizeof date, zone,
		      civil_day_start(zone, sprayer->calibrated), CIVIL_DATE))
		: cJSON_CreateNull());
	cJSON_AddBoolToObject(json, "stale",
	    calibration_is_stale(sprayer, today_of(session, zone)));
	return json;
}

/* Newest first; those of a later time than the clock's are not known yet. */
static void
list(struct session *session, const struct sprayer *sprayer,
    const struct stored_calibration *rows, size_t count, cJSON *array)
{
	int64_t now = clock_now(&session->clock);
	for (size_t i = count; i-- > 0;) {
		if (rows[i].at > now ||
		    strcmp(rows[i].sprayer, sprayer->name) != 0)
			continue;
		if (array != NULL)
			cJSON_AddItemToArray(
			    array, make_row(session, sprayer, &rows[i]));
		else
			add_row(session, sprayer, &rows[i]);
	}
}

static int
show(struct session *session, const struct sprayer *sprayer)
{
	struct stored_calibration *rows;
	size_t count;
	if (!store_calibrations(
		session->keeper.store, &rows, &count, &session->error))
		return (int)session->error.kind;
	if (session->json) {
		cJSON *json = cJSON_CreateObject();
		cJSON_AddStringToObject(json, "sprayer", sprayer->name);
		cJSON_AddItemToObject(
		    json, "in-use", make_in_use(session, sprayer));
		list(session, sprayer, rows, count,
		    cJSON_AddArrayToObject(json, "calibrations"));
		(void)session_print_json(session, json);
	} else {
		add_in_use(session, sprayer);
		list(session, sprayer, rows, count, NULL);
	}
	stored_calibrations_free(rows, count);
	return 0;
}

static int
calibrate(struct session *session, const struct sprayer *sprayer)
{
	for (size_t i = 0; i < sizeof ways / sizeof ways[0]; i++) {
		const char *asked = find_given(session, ways[i].asks);
		if (asked == NULL)
			continue;
		const char *stray = find_stray(session, &ways[i]);
		if (stray != NULL)
			return session_fail(session, ERROR_INPUT,
			    "--%s does not go with --%s", stray, asked);
		return ways[i].run(session, sprayer);
	}
	return show(session, sprayer);
}

int
command_calibrate(struct session *session)
{
	const struct config *config = &session->keeper.config;
	struct sprayer *sprayers;
	if (!sprayers_load(&session->keeper, clock_now(&session->clock),
		&sprayers, &session->error))
		return (int)session->error.kind;
	const struct sprayer *found = NULL;
	for (size_t i = 0; i < config->sprayer_count; i++)
		if (strcmp(sprayers[i].name, session->word[0]) == 0)
			found = &sprayers[i];
	int code = found != NULL
		       ? calibrate(session, found)
		       : session_fail(session, ERROR_ANSWER,
			     "there is no sprayer '%.64s'", session->word[0]);
	free(sprayers);
	return code;
}
