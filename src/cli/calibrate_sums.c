#include "cli/calibrate.h"

#include "turf/calibration.h"

#include <math.h>
#include <stdio.h>

/* gal/acre and L/ha of 1 L/m2, by the definitions of the units. */
#define GALLONS_PER_ACRE (4046.8564224 / 3.785411784)
#define LITRES_PER_HA    10000.0

static const struct {
	double least, most;
} ranges[QUANTITY_KINDS] = {
	[QUANTITY_LENGTH] = { 0.05, 10000 },
	[QUANTITY_AREA] = { 0.01, 1000000 },
	[QUANTITY_VOLUME] = { 0.001, 10000 },
	[QUANTITY_SPAN] = { 1, 86400 },
	[QUANTITY_VOLUME_PER_AREA] = { 0.001, 10 },
	[QUANTITY_VOLUME_PER_TIME] = { 0.0001, 100 },
	[QUANTITY_SPEED] = { 0.01, 30 },
};

static bool
read_value(struct session *session, const char *name, const char *text,
    enum quantity_kind kind, double *ret)
{
	double value;
	if (!quantity_parse(text, kind, &value, &session->error))
		return error_prefix(&session->error, "--%s", name);
	if (value < ranges[kind].least || value > ranges[kind].most)
		return error_set(&session->error, ERROR_INPUT,
		    "--%s: '%.40s' is too %s", name, text,
		    value < ranges[kind].least ? "little" : "much");
	*ret = value;
	return true;
}

bool
calibrate_read(struct session *session, const char *name,
    enum quantity_kind kind, double *ret)
{
	const char *text = session_option(session, name);
	*ret = NAN;
	return text == NULL || read_value(session, name, text, kind, ret);
}

bool
calibrate_read_all(struct session *session, const char *name,
    enum quantity_kind kind, double ret[ARGUMENTS_MAX], size_t *ret_count)
{
	size_t count = 0;
	for (const char *text;
	     (text = session_option_at(session, name, count)) != NULL; count++)
		if (!read_value(session, name, text, kind, &ret[count]))
			return false;
	*ret_count = count;
	return true;
}

/* Three figures, as a catch deserves. */
static int
count_decimals(double value)
{
	if (value < 9.995)
		return 2;
	return value < 99.95 ? 1 : 0;
}

char *
calibrate_print(
    char *buffer, size_t size, double carrier, enum unit_system units)
{
	char own[QUANTITY_BUFFER];
	double gallons = carrier * GALLONS_PER_ACRE;
	double litres = carrier * LITRES_PER_HA;
	(void)snprintf(buffer, size, "%s (%.*f gal/acre, %.*f L/ha)",
	    quantity_print(
		own, sizeof own, carrier, QUANTITY_VOLUME_PER_AREA, units),
	    count_decimals(gallons), gallons, count_decimals(litres), litres);
	return buffer;
}

cJSON *
calibrate_json(double carrier)
{
	cJSON *json = cJSON_CreateObject();
	cJSON_AddItemToObject(json, "gallons-per-acre",
	    json_rounded(carrier * GALLONS_PER_ACRE, 3));
	cJSON_AddItemToObject(
	    json, "litres-per-ha", json_rounded(carrier * LITRES_PER_HA, 3));
	return json;
}

void
calibrate_add_speed(struct session *session, double speed)
{
	enum unit_system units = session->keeper.config.units;
	char walk[QUANTITY_BUFFER], way[QUANTITY_BUFFER];
	double distance = units == UNITS_US ? 100 * 0.3048 : 30;
	text_format(&session->out, "Walk %s: %s in %.1f s\n",
	    quantity_print(walk, sizeof walk, speed, QUANTITY_SPEED, units),
	    quantity_print(way, sizeof way, distance, QUANTITY_LENGTH, units),
	    distance / speed);
}

void
calibrate_add_reach(struct session *session, const struct sprayer *sprayer,
    double carrier, double pace)
{
	enum unit_system units = session->keeper.config.units;
	char tank[QUANTITY_BUFFER], area[QUANTITY_BUFFER];
	char covered[QUANTITY_BUFFER];
	double reach = calibration_reach(sprayer->tank, carrier);
	text_format(&session->out, "One tank of %s covers %s",
	    quantity_print(
		tank, sizeof tank, sprayer->tank, QUANTITY_VOLUME, units),
	    quantity_print(area, sizeof area, reach, QUANTITY_AREA, units));
	if (!isnan(pace))
		text_format(&session->out, ", at %s",
		    quantity_print(covered, sizeof covered, pace,
			QUANTITY_AREA_PER_TIME, units));
	text_add(&session->out, "\n");
}

/* What the nozzles gave. */
struct nozzles {
	double caught[ARGUMENTS_MAX]; /* L */
	size_t count;
	double mean;
	double rated; /* L in the same time; NaN: not said */
};

/* --rated is a volume like the catches, or a flow over --catch-time. */
static bool
read_rated(struct session *session, double *ret)
{
	static const enum quantity_kind kinds[] = { QUANTITY_VOLUME,
		QUANTITY_VOLUME_PER_TIME };
	const char *text = session_option(session, "rated");
	enum quantity_kind kind = QUANTITY_VOLUME;
	double rated = NAN, time;
	if (text != NULL &&
	    !quantity_parse_any(text, kinds, 2, &rated, &kind, &session->error))
		return error_prefix(&session->error, "--rated");
	if (!calibrate_read(session, "catch-time", QUANTITY_SPAN, &time))
		return false;
	if (isnan(time) == (kind == QUANTITY_VOLUME_PER_TIME))
		return error_set(&session->error, ERROR_INPUT,
		    "--rated as a flow and --catch-time want each other");
	if (rated <= 0)
		return error_set(&session->error, ERROR_INPUT,
		    "--rated: '%.40s' is too little", text);
	*ret = isnan(time) ? rated : rated * time;
	return true;
}

static bool
read_nozzles(struct session *session, struct nozzles *ret)
{
	if (!calibrate_read_all(
		session, "nozzle", QUANTITY_VOLUME, ret->caught, &ret->count) ||
	    !read_rated(session, &ret->rated))
		return false;
	if (ret->count == 0)
		return error_set(
		    &session->error, ERROR_INPUT, "--rated wants --nozzle");
	if (ret->count == 1 && isnan(ret->rated))
		return error_set(&session->error, ERROR_INPUT,
		    "--nozzle wants a second --nozzle, or --rated");
	ret->mean = calibration_mean(ret->caught, ret->count);
	return true;
}

/* One alone has no mean to be held against. */
static bool
is_uneven(const struct nozzles *nozzles, size_t i)
{
	return nozzles->count > 1 && calibration_is_uneven(calibration_excess(
					 nozzles->caught[i], nozzles->mean));
}

static bool
is_changed(const struct nozzles *nozzles)
{
	return calibration_is_unlike_new(
	    calibration_excess(nozzles->mean, nozzles->rated));
}

/* "20 fl oz, 2.4 % over the mean" */
static void
add_catch(
    struct session *session, double caught, double usual, const char *name)
{
	char volume[QUANTITY_BUFFER];
	double excess = calibration_excess(caught, usual);
	text_format(&session->out, "%s, %.1f %% %s %s",
	    quantity_print(volume, sizeof volume, caught, QUANTITY_VOLUME,
		session->keeper.config.units),
	    fabs(excess) * 100, excess < 0 ? "under" : "over", name);
}

static void
add_advice(struct text *out, bool is_over)
{
	text_add(out, is_over ? ": replace it\n"
			      : ": clean it, and replace it if it stays so\n");
}

static void
add_each(struct session *session, const struct nozzles *nozzles)
{
	for (size_t i = 0; i < nozzles->count; i++) {
		text_format(&session->out, "nozzle %zu: ", i + 1);
		add_catch(
		    session, nozzles->caught[i], nozzles->mean, "the mean");
		if (is_uneven(nozzles, i))
			add_advice(
			    &session->out, nozzles->caught[i] > nozzles->mean);
		else
			text_add(&session->out, "\n");
	}
	text_add(&session->out, "More than 5 % off their mean is too much.\n");
}

static void
add_rated(struct session *session, const struct nozzles *nozzles)
{
	add_catch(
	    session, nozzles->mean, nozzles->rated, "what a new one gives");
	if (!is_changed(nozzles))
		text_add(&session->out, "\n");
	else if (nozzles->count > 1)
		text_add(&session->out, ": replace all\n");
	else
		add_advice(&session->out, nozzles->mean > nozzles->rated);
	text_add(&session->out, "More than 10 % off a new one is too much.\n");
}

static void
print_nozzles(struct session *session, const struct nozzles *nozzles)
{
	char mean[QUANTITY_BUFFER];
	if (nozzles->count > 1) {
		text_format(&session->out, "mean: %s\n",
		    quantity_print(mean, sizeof mean, nozzles->mean,
			QUANTITY_VOLUME, session->keeper.config.units));
		add_each(session, nozzles);
	}
	if (isnan(nozzles->rated))
		return;
	text_add(&session->out, nozzles->count > 1 ? "mean: " : "nozzle: ");
	add_rated(session, nozzles);
}

static cJSON *
make_nozzles_json(const struct sprayer *sprayer, const struct nozzles *nozzles)
{
	cJSON *json = cJSON_CreateObject();
	cJSON_AddStringToObject(json, "sprayer", sprayer->name);
	cJSON *list = cJSON_AddArrayToObject(json, "nozzles");
	for (size_t i = 0; i < nozzles->count; i++) {
		cJSON *item = cJSON_CreateObject();
		cJSON_AddItemToArray(list, item);
		cJSON_AddItemToObject(
		    item, "litres", json_rounded(nozzles->caught[i], 4));
		cJSON_AddBoolToObject(item, "uneven", is_uneven(nozzles, i));
	}
	cJSON_AddItemToObject(
	    json, "mean-litres", json_rounded(nozzles->mean, 4));
	cJSON_AddItemToObject(
	    json, "rated-litres", json_rounded(nozzles->rated, 4));
	cJSON_AddBoolToObject(json, "unlike-new", is_changed(nozzles));
	return json;
}

int
calibrate_nozzles(struct session *session, const struct sprayer *sprayer)
{
	struct nozzles nozzles = { .rated = NAN };
	if (!read_nozzles(session, &nozzles))
		return (int)session->error.kind;
	if (session->json)
		return session_print_json(
		    session, make_nozzles_json(sprayer, &nozzles));
	print_nozzles(session, &nozzles);
	return 0;
}

static size_t
count_missing(const struct calibration_nozzle *sum)
{
	const double part[] = { sum->carrier, sum->flow, sum->swath,
		sum->speed };
	size_t count = 0;
	for (size_t i = 0; i < sizeof part / sizeof part[0]; i++)
		count += isnan(part[i]) ? 1 : 0;
	return count;
}

/* A slip of a unit shows in what it leads to. */
static bool
check_sum(struct session *session, const struct calibration_nozzle *sum)
{
	const struct {
		const char *name;
		enum quantity_kind kind;
		double value;
	} parts[] = { { "carrier", QUANTITY_VOLUME_PER_AREA, sum->carrier },
		{ "flow", QUANTITY_VOLUME_PER_TIME, sum->flow },
		{ "width", QUANTITY_LENGTH, sum->swath },
		{ "speed", QUANTITY_SPEED, sum->speed } };
	char text[QUANTITY_BUFFER];
	for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++)
		if (parts[i].value < ranges[parts[i].kind].least ||
		    parts[i].value > ranges[parts[i].kind].most)
			return error_set(&session->error, ERROR_INPUT,
			    "that would be a %s of %s: is a unit mistaken?",
			    parts[i].name,
			    quantity_print(text, sizeof text, parts[i].value,
				parts[i].kind, session->keeper.config.units));
	return true;
}

/* The sprayer's swath stands in when just that one is left to be said. */
static bool
read_sum(struct session *session, const struct sprayer *sprayer,
    struct calibration_nozzle *ret)
{
	if (!calibrate_read(
		session, "carrier", QUANTITY_VOLUME_PER_AREA, &ret->carrier) ||
	    !calibrate_read(
		session, "flow", QUANTITY_VOLUME_PER_TIME, &ret->flow) ||
	    !calibrate_read(session, "width", QUANTITY_LENGTH, &ret->swath) ||
	    !calibrate_read(session, "speed", QUANTITY_SPEED, &ret->speed))
		return false;
	size_t missing = count_missing(ret);
	if (missing == 2 && isnan(ret->swath)) {
		ret->swath = sprayer->swath;
		missing = count_missing(ret);
	}
	if (missing == 1)
		return calibration_solve(ret, &session->error) &&
		       check_sum(session, ret);
	return error_set(&session->error, ERROR_INPUT,
	    "three of --flow, --width, --speed and --carrier give the fourth");
}

static int
print_sum_json(struct session *session, const struct sprayer *sprayer,
    const struct calibration_nozzle *sum)
{
	cJSON *json = cJSON_CreateObject();
	cJSON_AddStringToObject(json, "sprayer", sprayer->name);
	cJSON_AddItemToObject(json, "carrier", calibrate_json(sum->carrier));
	cJSON_AddItemToObject(
	    json, "flow-litres-per-min", json_rounded(sum->flow * 60, 4));
	cJSON_AddItemToObject(json, "width-m", json_rounded(sum->swath, 4));
	cJSON_AddItemToObject(
	    json, "speed-m-per-min", json_rounded(sum->speed * 60, 3));
	cJSON_AddItemToObject(json, "pace-m2-per-min",
	    json_rounded(calibration_pace(sum->swath, sum->speed) * 60, 3));
	cJSON_AddItemToObject(json, "tank-m2",
	    json_rounded(calibration_reach(sprayer->tank, sum->carrier), 2));
	return session_print_json(session, json);
}

int
calibrate_sum(struct session *session, const struct sprayer *sprayer)
{
	enum unit_system units = session->keeper.config.units;
	struct calibration_nozzle sum;
	char carrier[CALIBRATE_BUFFER], flow[QUANTITY_BUFFER];
	char swath[QUANTITY_BUFFER];
	if (!read_sum(session, sprayer, &sum))
		return (int)session->error.kind;
	if (session->json)
		return print_sum_json(session, sprayer, &sum);
	text_format(&session->out, "%s from %s over %s\n",
	    calibrate_print(carrier, sizeof carrier, sum.carrier, units),
	    quantity_print(
		flow, sizeof flow, sum.flow, QUANTITY_VOLUME_PER_TIME, units),
	    quantity_print(
		swath, sizeof swath, sum.swath, QUANTITY_LENGTH, units));
	calibrate_add_speed(session, sum.speed);
	calibrate_add_reach(session, sprayer, sum.carrier,
	    calibration_pace(sum.swath, sum.speed));
	return 0;
}
