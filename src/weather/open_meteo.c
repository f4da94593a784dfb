#include "weather/format.h"

#include "base/civil.h"
#include "base/limits.h"
#include "base/memory.h"
#include "weather/strict_json.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* What a value at stamp t tells of. */
enum meaning {
	MEANING_INSTANT, /* t itself: straight on to the next one */
	MEANING_ANGLE,   /* t itself: the shorter way round to the next one */
	MEANING_BEFORE,  /* the step that ends at t */
	MEANING_TOTAL,   /* the total of the step that ends at t */
};

/* The variables that we use; every other one is passed over. */
static const struct variable {
	const char *name;
	const char *old_name; /* of older documents; NULL: it never changed */
	enum measure measure;
	enum meaning meaning;
} variables[] = {
	{ "temperature_2m", NULL, MEASURE_AIR_TEMPERATURE, MEANING_INSTANT },
	{ "dew_point_2m", "dewpoint_2m", MEASURE_DEW_POINT, MEANING_INSTANT },
	{ "relative_humidity_2m", "relativehumidity_2m", MEASURE_HUMIDITY,
	    MEANING_INSTANT },
	{ "wind_speed_10m", "windspeed_10m", MEASURE_WIND, MEANING_INSTANT },
	{ "wind_gusts_10m", "windgusts_10m", MEASURE_GUST, MEANING_BEFORE },
	{ "wind_direction_10m", "winddirection_10m", MEASURE_WIND_DIRECTION,
	    MEANING_ANGLE },
	{ "cloud_cover", "cloudcover", MEASURE_CLOUD, MEANING_INSTANT },
	{ "precipitation", NULL, MEASURE_RAIN_BLOCK, MEANING_TOTAL },
	{ "precipitation_probability", NULL, MEASURE_RAIN_CHANCE,
	    MEANING_BEFORE },
};

enum {
	VARIABLES = sizeof variables / sizeof variables[0],
	USUAL_STEP = 3600,
	LONGEST_STEP = 6 * 3600,
	STAMP_BYTES = sizeof "2026-03-02T07:00" - 1,
	CLOCK_AT = sizeof "2026-03-02T" - 1,
};
static const struct zone utc = { 0 };

/* How the stamps are written. */
struct writing {
	bool seconds;   /* since 1970 in UTC, else local time without a zone */
	int64_t offset; /* of that local time, east of UTC; one for them all */
};

/* Evenly spaced, on quarter hours of UTC. */
struct stamps {
	int64_t first, step;
	size_t count;
};

/* One value for each stamp in canonical units, NaN for a gap. */
struct column {
	double *value; /* owned; NULL when the document has none */
	size_t rejected;
};

/* Without hourly values: the service's own error document, or another one. */
static bool
refuse_other(const cJSON *root, struct error *error)
{
	char shown[JSON_SHOWN];
	const char *reason = json_string(json_member(root, "reason"));
	if (cJSON_IsArray(root))
		return error_set(error, ERROR_INPUT,
		    "the document holds several places: ask for one");
	if (!cJSON_IsTrue(json_member(root, "error")))
		return error_set(error, ERROR_INPUT,
		    "not a forecast document: it has no hourly values");
	return error_set(error, ERROR_INPUT, "the service answered: %s",
	    json_show(
		shown, reason != NULL ? reason : "an error without a reason"));
}

/*
 * Each model and each member of an ensemble has a name of its own then, and
 * which one the keeper wants to go by cannot be told from them.
 */
static bool
refuse_models(const cJSON *hourly, struct error *error)
{
	static const char stem[] = "temperature_2m_";
	char shown[JSON_SHOWN];
	bool plain = json_member(hourly, "temperature_2m") != NULL;
	const cJSON *member;
	cJSON_ArrayForEach(member, hourly)
	{
		if (strncmp(member->string, stem, sizeof stem - 1) != 0)
			continue;
		const char *rest = member->string + sizeof stem - 1;
		if (!plain || strncmp(rest, "member", 6) == 0)
			return error_set(error, ERROR_INPUT,
			    "the document holds several models or members "
			    "(%s): ask for one model",
			    json_show(shown, member->string));
	}
	return true;
}

static bool
read_writing(const cJSON *root, const cJSON *units, struct writing *ret,
    struct error *error)
{
	double offset = 0;
	const char *unit = json_string(json_member(units, "time"));
	bool seconds = unit != NULL && strcmp(unit, "unixtime") == 0;
	if (!seconds && (unit == NULL || strcmp(unit, "iso8601") != 0))
		return error_set(error, ERROR_INPUT,
		    "time: its unit is neither unixtime nor iso8601");
	if (!seconds &&
	    (!json_number(json_member(root, "utc_offset_seconds"), &offset) ||
		offset != floor(offset) || fabs(offset) > DAY_SECONDS))
		return error_set(error, ERROR_INPUT,
		    "the stamps are in local time and utc_offset_seconds does "
		    "not say which");
	*ret = (struct writing){ seconds, (int64_t)offset };
	return true;
}

static bool
read_stamp(const cJSON *item, const struct writing *writing, int64_t *ret)
{
	double seconds;
	int64_t local;
	if (writing->seconds) {
		if (!json_number(item, &seconds) || seconds != floor(seconds) ||
		    fabs(seconds) > 1e11)
			return false;
		*ret = (int64_t)seconds;
		return true;
	}
	/* With a zone of its own a stamp would not be local time. */
	const char *text = json_string(item);
	if (text == NULL || strlen(text) != STAMP_BYTES ||
	    text[CLOCK_AT - 1] != 'T' ||
	    strpbrk(text + CLOCK_AT, "Z+-") != NULL ||
	    !civil_parse(text, &utc, &local, NULL))
		return false;
	*ret = local - writing->offset;
	return true;
}

/* Appends a stamp; the second one sets the step. */
static bool
add_stamp(struct stamps *stamps, int64_t stamp, struct error *error)
{
	char shown[CIVIL_BUFFER];
	int64_t due = stamps->first + (int64_t)stamps->count * stamps->step;
	if (stamps->count == 0)
		due = stamps->first = stamp;
	else if (stamps->count == 1)
		stamps->step = (due = stamp) - stamps->first;
	if (stamp != due || stamp % SERIES_STEP != 0 ||
	    stamps->step < SERIES_STEP || stamps->step > LONGEST_STEP ||
	    stamps->step % SERIES_STEP != 0)
		return error_set(error, ERROR_INPUT,
		    "time contradicts itself: not even steps of quarter hours "
		    "up to 6 h at %s",
		    civil_print(shown, sizeof shown, &utc, stamp, CIVIL_STAMP));
	stamps->count++;
	return true;
}

static bool
read_stamps(const cJSON *list, const struct writing *writing,
    struct stamps *ret, struct error *error)
{
	struct stamps stamps = { .step = USUAL_STEP };
	int64_t stamp;
	if (!cJSON_IsArray(list) || list->child == NULL ||
	    cJSON_GetArraySize(list) > LIMIT_LAYER_VALUES)
		return error_set(error, ERROR_INPUT,
		    "time is not a list of stamps, %d at most",
		    (int)LIMIT_LAYER_VALUES);
	const cJSON *item;
	cJSON_ArrayForEach(item, list)
	{
		if (!read_stamp(item, writing, &stamp))
			return error_set(error, ERROR_INPUT,
			    "time: stamp %zu is not %s", stamps.count + 1,
			    writing->seconds ? "a whole number of seconds"
					     : "like 2026-03-02T07:00");
		if (!add_stamp(&stamps, stamp, error))
			return false;
	}
	*ret = stamps;
	return true;
}

/* Converts in place. What cannot be is thrown out here, before anything is
   interpolated from it. */
static bool
convert(const struct variable *variable, const char *name, const cJSON *unit,
    size_t count, struct column *column, struct error *error)
{
	char shown[JSON_SHOWN];
	double factor = 1, offset = 0;
	const struct measure_info *info = measure_info(variable->measure);
	const char *text = json_string(unit);
	if (text == NULL)
		return error_set(
		    error, ERROR_INPUT, "%s has values but no unit", name);
	if (!unit_conversion(text, info->kind, &factor, &offset))
		return error_set(error, ERROR_INPUT,
		    "%s: '%s' is not a unit of %s", name,
		    json_show(shown, text), quantity_kind_name(info->kind));
	for (size_t i = 0; i < count; i++) {
		double value = column->value[i] * factor + offset;
		if (value < info->least || value > info->most) {
			column->rejected++;
			value = (double)NAN;
		}
		column->value[i] = value;
	}
	return true;
}

/* Numbers as they stand; *ret_known when there is one. */
static bool
read_numbers(const char *name, const cJSON *list, size_t count, double *ret,
    bool *ret_known, struct error *error)
{
	size_t used = 0;
	if (!cJSON_IsArray(list) || (size_t)cJSON_GetArraySize(list) != count)
		return error_set(error, ERROR_INPUT,
		    "%s is not a list of %zu values, one for each stamp", name,
		    count);
	const cJSON *item;
	cJSON_ArrayForEach(item, list)
	{
		ret[used] = (double)NAN;
		if (!cJSON_IsNull(item) && !json_number(item, &ret[used]))
			return error_set(error, ERROR_INPUT,
			    "%s: value %zu is neither a number nor null", name,
			    used + 1);
		*ret_known = *ret_known || !isnan(ret[used]);
		used++;
	}
	return true;
}

/* The caller releases `column` on failure too. */
static bool
read_column(const struct variable *variable, const cJSON *hourly,
    const cJSON *units, size_t count, struct column *column,
    struct error *error)
{
	const char *name = variable->name;
	bool known = false;
	if (json_member(hourly, name) == NULL && variable->old_name != NULL)
		name = variable->old_name;
	const cJSON *list = json_member(hourly, name);
	if (list == NULL || cJSON_IsNull(list))
		return true;
	column->value = memory_array(count, sizeof *column->value);
	if (!read_numbers(name, list, count, column->value, &known, error))
		return false;
	/* A model without the variable gives nulls, without a real unit. */
	return !known || convert(variable, name, json_member(units, name),
			     count, column, error);
}

/* Each cell gets the value at its start; beside a gap only the stamp has it. */
static void
place_instants(struct series *series, const struct variable *variable,
    const struct stamps *stamps, const double *value)
{
	const int64_t cells = stamps->step / SERIES_STEP;
	const int64_t last = (int64_t)(stamps->count - 1) * cells;
	/* The cells of the first stamps can lie before the series. */
	const int64_t first = (stamps->first - series->start) / SERIES_STEP;
	for (int64_t i = first < 0 ? -first : 0; i <= last; i++) {
		double here = value[i / cells];
		if (i % cells != 0)
			here =
			    series_between(variable->meaning != MEANING_INSTANT,
				here, value[i / cells + 1],
				(double)(i % cells) / (double)cells);
		if (!isnan(here))
			series_column(series, variable->measure)[first + i] =
			    (float)here;
	}
	series->continuous[variable->measure] =
	    variable->meaning == MEANING_INSTANT &&
	    series->column[variable->measure] != NULL;
}

/* A stamp ends the step that it tells of. */
static void
place_steps(struct series *series, const struct variable *variable,
    const struct stamps *stamps, const double *value)
{
	for (size_t i = 0; i < stamps->count; i++) {
		int64_t to = stamps->first + (int64_t)i * stamps->step;
		int64_t from = to - stamps->step;
		if (isnan(value[i]))
			continue;
		series_hold(series, variable->measure, from, to, value[i]);
		if (variable->meaning != MEANING_TOTAL)
			continue;
		series_hold(series, MEASURE_RAIN_BLOCK_SPAN, from, to,
		    (double)stamps->step);
		series_share(series, MEASURE_RAIN, from, to, value[i]);
	}
}

static void
fill_series(struct series *series, const struct stamps *stamps,
    const struct column columns[VARIABLES])
{
	const int64_t most = (int64_t)LIMIT_FORECAST_DAYS * DAY_SECONDS;
	int64_t from = stamps->first - stamps->step;
	int64_t to = stamps->first +
		     (int64_t)(stamps->count - 1) * stamps->step + SERIES_STEP;
	/* A document can be asked for months of the past: its end counts. */
	series_init(series, to - from > most ? to - most : from, to);
	for (size_t i = 0; i < VARIABLES; i++) {
		const struct variable *variable = &variables[i];
		if (columns[i].value == NULL)
			continue;
		series->rejected += columns[i].rejected;
		if (variable->meaning <= MEANING_ANGLE)
			place_instants(
			    series, variable, stamps, columns[i].value);
		else
			place_steps(series, variable, stamps, columns[i].value);
	}
}

/* `columns` is zeroed; the caller releases it on failure too. */
static bool
read_document(const cJSON *root, struct column columns[VARIABLES],
    struct series *ret, struct error *error)
{
	const cJSON *hourly = json_member(root, "hourly");
	const cJSON *units = json_member(root, "hourly_units");
	struct writing writing = { 0 };
	struct stamps stamps = { 0 };
	if (!cJSON_IsObject(hourly))
		return refuse_other(root, error);
	if (!json_members_unique(root) || !json_members_unique(hourly) ||
	    !json_members_unique(units))
		return error_set(
		    error, ERROR_INPUT, "the document has a member twice");
	if (!refuse_models(hourly, error) ||
	    !read_writing(root, units, &writing, error) ||
	    !read_stamps(json_member(hourly, "time"), &writing, &stamps, error))
		return false;
	for (size_t i = 0; i < VARIABLES; i++)
		if (!read_column(&variables[i], hourly, units, stamps.count,
			&columns[i], error))
			return false;
	struct series series;
	fill_series(&series, &stamps, columns);
	if (series.column[MEASURE_AIR_TEMPERATURE] == NULL) {
		series_release(&series);
		return error_set(error, ERROR_INPUT,
		    "the document holds no air temperature");
	}
	*ret = series;
	return true;
}

bool
open_meteo_read(
    const char *bytes, size_t length, struct series *ret, struct error *error)
{
	struct column columns[VARIABLES] = { 0 };
	cJSON *root = json_parse(bytes, length, error);
	if (root == NULL)
		return false;
	bool good = read_document(root, columns, ret, error);
	for (size_t i = 0; i < VARIABLES; i++)
		free(columns[i].value);
	json_release(root);
	return good;
}
