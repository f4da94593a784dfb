#include "cli/calibrate.h"

#include "base/memory.h"
#include "service/sprayers.h"
#include "turf/calibration.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

/* What a carrier and a pace can be, as in the configuration. */
#define LEAST_CARRIER 0.001 /* L/m2 */
#define MOST_CARRIER  10
#define LEAST_PACE    0.001 /* m2/s */
#define MOST_PACE     1000

/* A catch test as it was done; NaN for what was not measured. */
struct trial {
	double width, length;         /* m; of a course */
	struct calibration_walk walk; /* its time is the mean of all */
	size_t times;
	double carrier; /* L/m2 */
	double pace;    /* m2/s */
	char method[LIMIT_TEXT_BYTES];
	int64_t at;
	int64_t id; /* 0: not stored */
};

static bool
read_measures(
    struct session *session, const struct sprayer *sprayer, struct trial *trial)
{
	double times[ARGUMENTS_MAX] = { 0 };
	struct calibration_walk *walk = &trial->walk;
	if (!calibrate_read(session, "width", QUANTITY_LENGTH, &trial->width) ||
	    !calibrate_read(
		session, "length", QUANTITY_LENGTH, &trial->length) ||
	    !calibrate_read(session, "area", QUANTITY_AREA, &walk->area) ||
	    !calibrate_read(
		session, "caught", QUANTITY_VOLUME, &walk->caught) ||
	    !calibrate_read(
		session, "catch-time", QUANTITY_SPAN, &walk->caught_in) ||
	    !calibrate_read_all(
		session, "time", QUANTITY_SPAN, times, &trial->times))
		return false;
	walk->time = calibration_mean(times, trial->times);
	if (isnan(trial->width) && isnan(walk->area))
		trial->width = sprayer->swath;
	if (isnan(trial->length))
		trial->length = calibration_course(trial->width);
	return true;
}

/* The partner that a measure lacks; NULL when the test is whole. */
static const char *
find_fault(const struct session *session, const struct trial *trial)
{
	const struct calibration_walk *walk = &trial->walk;
	bool is_timed = trial->times > 0;
	if (!isnan(walk->area)) {
		if (isnan(walk->caught))
			return "--area wants --caught";
		return !isnan(walk->caught_in) && !is_timed
			   ? "--catch-time wants --time"
			   : NULL;
	}
	if (!isnan(walk->caught))
		return is_timed && !isnan(trial->width)
			   ? NULL
			   : "--caught wants --area, or --width and --time";
	if (is_timed)
		return "--time wants --caught";
	if (!isnan(walk->caught_in))
		return "--catch-time wants --caught and --time";
	if (session_option(session, "length") != NULL)
		return "--length wants --caught and --time";
	return session_option(session, "try") != NULL ? "--try wants --caught"
						      : NULL;
}

/* What was done, so that it can be done the same way again. */
static void
describe(struct trial *trial, enum unit_system units)
{
	const struct calibration_walk *walk = &trial->walk;
	char first[QUANTITY_BUFFER], second[QUANTITY_BUFFER];
	struct text text;
	text_init(&text, sizeof trial->method - 1);
	text_format(&text, "%s on ",
	    quantity_print(
		first, sizeof first, walk->caught, QUANTITY_VOLUME, units));
	if (isnan(trial->width))
		text_add(&text, quantity_print(first, sizeof first, walk->area,
				    QUANTITY_AREA, units));
	else
		text_format(&text, "a course of %s by %s",
		    quantity_print(first, sizeof first, trial->length,
			QUANTITY_LENGTH, units),
		    quantity_print(second, sizeof second, trial->width,
			QUANTITY_LENGTH, units));
	if (!isnan(walk->time))
		text_format(&text, ", covered in %.1f s", walk->time);
	if (trial->times > 1)
		text_format(&text, " (the mean of %zu)", trial->times);
	if (!isnan(walk->caught_in))
		text_format(&text, ", caught in %.1f s", walk->caught_in);
	(void)snprintf(
	    trial->method, sizeof trial->method, "%s", text_string(&text));
	text_release(&text);
}

/* A slip of a unit must not become the carrier of every job. */
static bool
check_sense(const struct session *session, const struct trial *trial,
    struct error *error)
{
	enum unit_system units = session->keeper.config.units;
	char text[CALIBRATE_BUFFER];
	if (trial->carrier < LEAST_CARRIER || trial->carrier > MOST_CARRIER)
		return error_set(error, ERROR_INPUT,
		    "that would be a carrier of %s: is a unit mistaken?",
		    calibrate_print(text, sizeof text, trial->carrier, units));
	if (trial->pace < LEAST_PACE || trial->pace > MOST_PACE)
		return error_set(error, ERROR_INPUT,
		    "that would be a pace of %s: is a unit mistaken?",
		    quantity_print(text, sizeof text, trial->pace,
			QUANTITY_AREA_PER_TIME, units));
	return true;
}

static bool
work_out(struct session *session, struct trial *trial)
{
	struct calibration_walk *walk = &trial->walk;
	if (isnan(walk->area))
		walk->area = trial->width * trial->length;
	describe(trial, session->keeper.config.units);
	if (isnan(walk->caught_in))
		walk->caught_in = walk->time;
	trial->carrier = isnan(walk->time)
			     ? calibration_carrier(walk->caught, walk->area)
			     : calibration_walk_carrier(walk);
	trial->pace = walk->area / walk->time;
	trial->at = clock_now(&session->clock);
	return check_sense(session, trial, &session->error);
}

static bool
store_trial(
    struct session *session, const struct sprayer *sprayer, struct trial *trial)
{
	struct stored_calibration row = { .sprayer =
					      memory_string(sprayer->name),
		.at = trial->at,
		.carrier = trial->carrier,
		.pace = trial->pace,
		.method = memory_string(trial->method),
		.created = trial->at };
	bool good = store_calibration_add(
	    session->keeper.store, &row, &trial->id, &session->error);
	free(row.sprayer);
	free(row.method);
	/* So that nobody tells it again. */
	if (good && session_pass(session) != 0)
		return error_prefix(&session->error, "it is stored, but");
	return good;
}

/* What the spot sprayer asks: how much on a small piece. */
static void
add_spot(struct session *session, double carrier)
{
	char us[QUANTITY_BUFFER], metric[QUANTITY_BUFFER];
	text_format(&session->out, "For a spot: %s on 1000 ft2, %s on 100 m2\n",
	    quantity_print(
		us, sizeof us, carrier * 92.90304, QUANTITY_VOLUME, UNITS_US),
	    quantity_print(metric, sizeof metric, carrier * 100,
		QUANTITY_VOLUME, UNITS_METRIC));
}

static void
add_difference(struct session *session, const struct sprayer *before,
    const struct trial *trial)
{
	char text[CALIBRATE_BUFFER];
	double excess = calibration_excess(trial->carrier, before->carrier);
	text_format(&session->out, "Before: %s; ",
	    calibrate_print(text, sizeof text, before->carrier,
		session->keeper.config.units));
	if (fabs(excess) < 0.0005)
		text_add(&session->out, "this is the same\n");
	else
		text_format(&session->out, "this is %.1f %% %s\n",
		    fabs(excess) * 100, excess < 0 ? "less" : "more");
}

/* The configuration's date may be yet to come, and rules then. */
static bool
is_in_use(const struct sprayer *before, const struct trial *trial, int64_t day)
{
	return trial->id != 0 && day >= before->calibrated;
}

static void
add_outcome(struct session *session, const struct sprayer *before,
    const struct trial *trial)
{
	const struct zone *zone =
	    sprayers_zone(&session->keeper.config, before->name);
	int64_t day = civil_day(zone, trial->at);
	char date[CIVIL_BUFFER];
	if (trial->id == 0) {
		text_add(&session->out, "Not stored: it was a try.\n");
		return;
	}
	text_format(&session->out, "Stored as calibration %" PRId64, trial->id);
	if (is_in_use(before, trial, day))
		text_format(&session->out,
		    ": it counts from %s on, for every job.\n",
		    civil_print(
			date, sizeof date, zone, trial->at, CIVIL_DATE));
	else
		text_format(&session->out,
		    ", but the configuration has a later one, of %s.\n",
		    civil_print(date, sizeof date, zone,
			civil_day_start(zone, before->calibrated), CIVIL_DATE));
}

static void
print_trial(struct session *session, const struct sprayer *before,
    const struct trial *trial)
{
	char text[CALIBRATE_BUFFER];
	text_format(&session->out, "%s: %s\n", before->name,
	    calibrate_print(text, sizeof text, trial->carrier,
		session->keeper.config.units));
	add_spot(session, trial->carrier);
	if (!isnan(trial->width))
		calibrate_add_speed(session, trial->length / trial->walk.time);
	calibrate_add_reach(session, before, trial->carrier, trial->pace);
	add_difference(session, before, trial);
	add_outcome(session, before, trial);
}

static int
print_trial_json(struct session *session, const struct sprayer *before,
    const struct trial *trial)
{
	const struct zone *zone =
	    sprayers_zone(&session->keeper.config, before->name);
	int64_t day = civil_day(zone, trial->at);
	cJSON *json = cJSON_CreateObject();
	cJSON_AddStringToObject(json, "sprayer", before->name);
	cJSON_AddItemToObject(json, "calibration",
	    trial->id != 0 ? cJSON_CreateNumber((double)trial->id)
			   : cJSON_CreateNull());
	cJSON_AddBoolToObject(json, "in-use", is_in_use(before, trial, day));
	cJSON_AddItemToObject(json, "at", json_time(zone, trial->at));
	cJSON_AddItemToObject(json, "carrier", calibrate_json(trial->carrier));
	cJSON_AddItemToObject(
	    json, "pace-m2-per-min", json_rounded(trial->pace * 60, 3));
	cJSON_AddItemToObject(json, "tank-m2",
	    json_rounded(calibration_reach(before->tank, trial->carrier), 2));
	cJSON_AddItemToObject(
	    json, "carrier-before", calibrate_json(before->carrier));
	cJSON_AddItemToObject(json, "change-percent",
	    json_rounded(
		100 * calibration_excess(trial->carrier, before->carrier), 2));
	cJSON_AddStringToObject(json, "method", trial->method);
	return session_print_json(session, json);
}

/* How to do the test of the 1/128 acre. */
static int
explain(struct session *session, const struct sprayer *sprayer, double width)
{
	enum unit_system units = session->keeper.config.units;
	char course[QUANTITY_BUFFER], swath[QUANTITY_BUFFER];
	double length = calibration_course(width);
	if (session->json) {
		cJSON *json = cJSON_CreateObject();
		cJSON_AddStringToObject(json, "sprayer", sprayer->name);
		cJSON_AddItemToObject(json, "width-m", json_rounded(width, 4));
		cJSON_AddItemToObject(
		    json, "course-m", json_rounded(length, 3));
		return session_print_json(session, json);
	}
	quantity_print(course, sizeof course, length, QUANTITY_LENGTH, units);
	quantity_print(swath, sizeof swath, width, QUANTITY_LENGTH, units);
	text_format(&session->out,
	    "A swath of %s covers 1/128 acre in %s.\n"
	    "1. Water in the tank, nothing else. Mark %s on ground like the "
	    "lawn's.\n"
	    "2. Walk it as you spray, and take the time; twice or more.\n"
	    "3. Stand, and spray into a jug for the mean of these times: all "
	    "nozzles of the swath.\n"
	    "4. lull calibrate %s --width \"%s\" --time T --time T --caught V\n"
	    "%s in the jug: %s.\n",
	    swath, course, course, sprayer->name, swath,
	    units == UNITS_US ? "Each fluid ounce" : "Each 100 mL",
	    units == UNITS_US ? "1 gal/acre" : "31.6 L/ha");
	return 0;
}

int
calibrate_catch(struct session *session, const struct sprayer *sprayer)
{
	struct trial trial = { 0 };
	if (!read_measures(session, sprayer, &trial))
		return (int)session->error.kind;
	const char *fault = find_fault(session, &trial);
	if (fault != NULL)
		return session_fail(session, ERROR_INPUT, "%s", fault);
	if (isnan(trial.walk.caught))
		return explain(session, sprayer, trial.width);
	if (!work_out(session, &trial))
		return (int)session->error.kind;
	if (session_option(session, "try") == NULL &&
	    !store_trial(session, sprayer, &trial))
		return (int)session->error.kind;
	if (session->json)
		return print_trial_json(session, sprayer, &trial);
	print_trial(session, sprayer, &trial);
	return 0;
}
