#include "weather/format.h"

#include "base/civil.h"
#include "base/limits.h"
#include "base/memory.h"
#include "weather/strict_json.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { HOUR = 3600, COARSE = 6 * HOUR };
static const struct zone utc = { 0 };

/* How a variable fills the time from one entry to the next. */
enum filling {
	FILL_LINE,  /* an instant: straight to the next one */
	FILL_ARC,   /* an angle: the shorter way round to the next one */
	FILL_HOLD,  /* of the whole step, though listed with the instants */
	FILL_BLOCK, /* of the period that the entry names */
};

/* What we use, and the longest step that it is known over; the rest of a
   document is passed over. */
static const struct variable {
	const char *name;
	enum measure measure;
	enum filling filling;
	int64_t reach;
} variables[] = {
	{ "air_temperature", MEASURE_AIR_TEMPERATURE, FILL_LINE, HOUR },
	{ "cloud_area_fraction", MEASURE_CLOUD, FILL_LINE, COARSE },
	{ "dew_point_temperature", MEASURE_DEW_POINT, FILL_LINE, COARSE },
	{ "relative_humidity", MEASURE_HUMIDITY, FILL_LINE, HOUR },
	{ "wind_from_direction", MEASURE_WIND_DIRECTION, FILL_ARC, HOUR },
	{ "wind_speed", MEASURE_WIND, FILL_LINE, HOUR },
	{ "wind_speed_of_gust", MEASURE_GUST, FILL_HOLD, HOUR },
	{ "precipitation_amount", MEASURE_RAIN_BLOCK, FILL_BLOCK, 0 },
	{ "probability_of_precipitation", MEASURE_RAIN_CHANCE, FILL_BLOCK, 0 },
};

/* Ordered as the service writes them: each is found behind the one before. The
   last two rows are those of FILL_BLOCK. */
enum {
	VARIABLES = sizeof variables / sizeof variables[0],
	AMOUNT = VARIABLES - 2,
	CHANCE = VARIABLES - 1
};

/* canonical = value * factor + offset; a factor of 0: no unit is stated */
struct scale {
	double factor, offset;
};

/* Values in canonical units, NaN for a gap. */
struct entry {
	int64_t time;
	int64_t block;     /* length of the period of the rain; 0 for none */
	const cJSON *data; /* borrowed; NULL for none */
	double value[VARIABLES];
};

struct document {
	int64_t issued;
	struct scale scale[VARIABLES];
	struct entry *entry; /* owned; ascending */
	size_t count;
	size_t rejected;
};

/* The member of that name, NULL for none or null. Anything but an object with
   each member once is refused. */
static bool
find_object(const cJSON *parent, const char *name, const cJSON **ret,
    struct error *error)
{
	const cJSON *item = json_member(parent, name);
	if (cJSON_IsNull(item))
		item = NULL;
	if (item != NULL &&
	    (!cJSON_IsObject(item) || !json_members_unique(item)))
		return error_set(error, ERROR_INPUT,
		    "'%s' is not one object with each member once", name);
	*ret = item;
	return true;
}

static const char *
print_time(char buffer[CIVIL_BUFFER], int64_t time)
{
	return civil_print(buffer, CIVIL_BUFFER, &utc, time, CIVIL_STAMP);
}

/* The service writes UTC only; a time without a zone is no moment. */
static bool
read_time(const cJSON *item, int64_t *ret)
{
	const char *text = json_string(item);
	return text != NULL && strchr(text, 'Z') != NULL &&
	       civil_parse(text, &utc, ret, NULL);
}

static bool
read_meta(
    const cJSON *properties, struct document *document, struct error *error)
{
	char shown[JSON_SHOWN];
	const cJSON *meta = NULL, *units = NULL;
	if (!find_object(properties, "meta", &meta, error) ||
	    !find_object(meta, "units", &units, error))
		return false;
	if (!read_time(json_member(meta, "updated_at"), &document->issued))
		return error_set(error, ERROR_INPUT,
		    "the document does not say when it was made "
		    "(no UTC time in updated_at)");
	for (size_t i = 0; i < VARIABLES; i++) {
		struct scale *scale = &document->scale[i];
		enum quantity_kind kind =
		    measure_info(variables[i].measure)->kind;
		const char *unit =
		    json_string(json_member(units, variables[i].name));
		if (unit != NULL && !unit_conversion(unit, kind, &scale->factor,
					&scale->offset))
			return error_set(error, ERROR_INPUT,
			    "%s: '%s' is not a unit of %s", variables[i].name,
			    json_show(shown, unit), quantity_kind_name(kind));
	}
	return true;
}

/* The member of that name; looked for behind `last` first. */
static const cJSON *
find_behind(const cJSON *last, const cJSON *object, const char *name)
{
	const cJSON *item = last != NULL ? last->next : NULL;
	while (item != NULL && strcmp(item->string, name) != 0)
		item = item->next;
	return item != NULL ? item : json_member(object, name);
}

/* A value outside of what its measure can be is a gap, and counted. */
static bool
read_value(struct document *document, struct entry *entry, const cJSON *item,
    size_t i, struct error *error)
{
	const struct scale *scale = &document->scale[i];
	const struct measure_info *info = measure_info(variables[i].measure);
	char stamp[CIVIL_BUFFER];
	double number;
	if (item == NULL || cJSON_IsNull(item))
		return true;
	if (scale->factor == 0)
		return error_set(error, ERROR_INPUT,
		    "%s has values but no unit", variables[i].name);
	if (!json_number(item, &number))
		return error_set(error, ERROR_INPUT,
		    "%s: the value of %s is neither a number nor null",
		    variables[i].name, print_time(stamp, entry->time));
	number = number * scale->factor + scale->offset;
	if (number >= info->least && number <= info->most)
		entry->value[i] = number;
	else
		document->rejected++;
	return true;
}

/* The variables [first, end) from data -> period -> details. */
static bool
read_details(struct document *document, struct entry *entry, const char *period,
    size_t first, size_t end, struct error *error)
{
	char stamp[CIVIL_BUFFER];
	const cJSON *object = NULL, *details = NULL;
	if (!find_object(entry->data, period, &object, error) ||
	    !find_object(object, "details", &details, error))
		return error_prefix(
		    error, "%s", print_time(stamp, entry->time));
	const cJSON *item = NULL;
	for (size_t i = first; i < end; i++) {
		item = find_behind(item, details, variables[i].name);
		if (!read_value(document, entry, item, i, error))
			return false;
	}
	return true;
}

/*
 * Each entry may foretell the next hour and the next six, and the six of
 * neighbours overlap. The longest period that ends by the next entry counts,
 * so that no rain is counted twice.
 */
static bool
read_rain(struct document *document, struct entry *entry, int64_t step,
    struct error *error)
{
	static const struct {
		const char *name;
		int64_t span;
	} periods[] = { { "next_6_hours", COARSE }, { "next_1_hours", HOUR } };
	const double *value = entry->value;
	for (size_t i = 0; i < 2 && entry->block == 0; i++) {
		if (periods[i].span > step)
			continue;
		if (!read_details(document, entry, periods[i].name, AMOUNT,
			VARIABLES, error))
			return false;
		if (!isnan(value[AMOUNT]) || !isnan(value[CHANCE]))
			entry->block = periods[i].span;
	}
	return true;
}

static bool
refuse_entry(const struct entry *entry, const char *why, struct error *error)
{
	char stamp[CIVIL_BUFFER];
	return error_set(error, ERROR_INPUT, "the entry of %s %s",
	    print_time(stamp, entry->time), why);
}

static bool
read_entry(const cJSON *item, const struct entry *before, struct entry *ret,
    struct error *error)
{
	*ret = (struct entry){ 0 };
	for (size_t i = 0; i < VARIABLES; i++)
		ret->value[i] = (double)NAN;
	if (!read_time(json_member(item, "time"), &ret->time))
		return error_set(error, ERROR_INPUT,
		    "an entry of the timeseries has no time in UTC");
	/* The service counts in whole hours; none may straddle two cells. */
	if (ret->time % SERIES_STEP != 0)
		return refuse_entry(
		    ret, "is not on a quarter of an hour", error);
	if (before != NULL && ret->time <= before->time)
		return refuse_entry(ret, "is not in order of time", error);
	if (!json_members_unique(item))
		return refuse_entry(ret, "has a member twice", error);
	return find_object(item, "data", &ret->data, error) ||
	       refuse_entry(ret, "has no data", error);
}

/* Appends to the document, which the caller releases on failure too. */
static bool
read_timeseries(
    const cJSON *properties, struct document *document, struct error *error)
{
	size_t capacity = 0;
	const cJSON *list = json_member(properties, "timeseries");
	if (!cJSON_IsArray(list))
		return error_set(
		    error, ERROR_INPUT, "the document has no timeseries");
	const cJSON *item;
	cJSON_ArrayForEach(item, list)
	{
		if (document->count == LIMIT_LAYER_VALUES)
			return error_set(error, ERROR_INPUT,
			    "the timeseries has more than %d entries",
			    (int)LIMIT_LAYER_VALUES);
		document->entry = memory_grow(document->entry, document->count,
		    &capacity, sizeof *document->entry);
		struct entry *entry = &document->entry[document->count];
		if (!read_entry(item, document->count > 0 ? entry - 1 : NULL,
			entry, error))
			return false;
		document->count++;
	}
	return true;
}

static bool
read_weather(struct document *document, struct error *error)
{
	for (size_t i = 0; i < document->count; i++) {
		struct entry *entry = &document->entry[i];
		/* Nothing follows the last one: at most its hour counts. */
		int64_t step = i + 1 < document->count
				   ? entry[1].time - entry->time
				   : HOUR;
		if (!read_details(
			document, entry, "instant", 0, AMOUNT, error) ||
		    !read_rain(document, entry, step, error))
			return false;
	}
	return true;
}

/* The value of a cell is that at its start: the instant of `b` has one too. */
static void
place_instants(struct series *series, const struct variable *variable,
    const struct entry *a, const struct entry *b)
{
	double from = a->value[variable - variables];
	double to = b->value[variable - variables];
	int64_t step = b->time - a->time, room = series_end(series) - a->time;
	if (isnan(from) || isnan(to) || step > variable->reach || room <= 0)
		return;
	float *cell = series_column(series, variable->measure) +
		      (a->time - series->start) / SERIES_STEP;
	int64_t past = 0;
	for (; past <= step && past < room; past += SERIES_STEP) {
		double value = past == 0 ? from : to;
		if (past > 0 && past < step)
			value = series_between(variable->filling == FILL_ARC,
			    from, to, (double)past / (double)step);
		if (!isnan(value))
			cell[past / SERIES_STEP] = (float)value;
	}
	series->continuous[variable->measure] = variable->filling == FILL_LINE;
}

static void
place_step(struct series *series, const struct entry *a, const struct entry *b)
{
	for (size_t i = 0; i < AMOUNT; i++) {
		if (variables[i].filling != FILL_HOLD)
			place_instants(series, &variables[i], a, b);
		else if (b->time - a->time <= variables[i].reach)
			series_hold(series, variables[i].measure, a->time,
			    b->time, a->value[i]);
	}
}

static void
place_rain(struct series *series, const struct entry *entry)
{
	int64_t from = entry->time, to = from + entry->block;
	double amount = entry->value[AMOUNT];
	series_hold(
	    series, MEASURE_RAIN_CHANCE, from, to, entry->value[CHANCE]);
	if (isnan(amount))
		return;
	series_hold(series, MEASURE_RAIN_BLOCK, from, to, amount);
	series_hold(
	    series, MEASURE_RAIN_BLOCK_SPAN, from, to, (double)entry->block);
	series_share(series, MEASURE_RAIN, from, to, amount);
}

/* From the first entry to the end of the last one, within the ceiling. */
static void
place_document(const struct document *document, struct series *ret)
{
	const struct entry *entry = document->entry;
	const int64_t most = (int64_t)LIMIT_FORECAST_DAYS * DAY_SECONDS;
	const struct entry *last = entry + document->count - 1;
	int64_t from = entry->time,
		to = last->time + (last->block > 0 ? last->block : SERIES_STEP);
	series_init(ret, from, to - from > most ? from + most : to);
	ret->issued = document->issued;
	ret->rejected = document->rejected;
	for (size_t i = 0; i + 1 < document->count; i++)
		place_step(ret, &entry[i], &entry[i + 1]);
	for (size_t i = 0; i < document->count; i++)
		place_rain(ret, &entry[i]);
}

/* `document` is zeroed; the caller releases it on failure too. */
static bool
read_document(const cJSON *root, struct document *document, struct series *ret,
    struct error *error)
{
	struct series series;
	const cJSON *properties = NULL;
	if (!json_members_unique(root))
		return error_set(
		    error, ERROR_INPUT, "the document has a member twice");
	if (!find_object(root, "properties", &properties, error))
		return false;
	if (properties == NULL)
		return error_set(error, ERROR_INPUT,
		    "not a Locationforecast document: it has no properties");
	if (!read_meta(properties, document, error) ||
	    !read_timeseries(properties, document, error) ||
	    !read_weather(document, error))
		return false;
	if (document->count == 0)
		return error_set(error, ERROR_INPUT, "the timeseries is empty");
	place_document(document, &series);
	if (series.column[MEASURE_AIR_TEMPERATURE] == NULL) {
		series_release(&series);
		return error_set(error, ERROR_INPUT,
		    "the document holds no air temperature by the hour");
	}
	*ret = series;
	return true;
}

bool
met_norway_read(
    const char *bytes, size_t length, struct series *ret, struct error *error)
{
	struct document document = { 0 };
	cJSON *root = json_parse(bytes, length, error);
	if (root == NULL)
		return false;
	bool good = read_document(root, &document, ret, error);
	free(document.entry);
	json_release(root);
	return good;
}
