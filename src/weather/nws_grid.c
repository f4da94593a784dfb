#include "weather/format.h"

#include "base/civil.h"
#include "base/limits.h"
#include "base/memory.h"
#include "weather/interval.h"
#include "weather/nws_problem.h"
#include "weather/strict_json.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* The layers that we use; every other one is passed over. */
static const struct layer {
	const char *name;
	enum measure measure;
} layers[] = {
	{ "temperature", MEASURE_AIR_TEMPERATURE },
	{ "dewpoint", MEASURE_DEW_POINT },
	{ "relativeHumidity", MEASURE_HUMIDITY },
	{ "windSpeed", MEASURE_WIND },
	{ "windGust", MEASURE_GUST },
	{ "windDirection", MEASURE_WIND_DIRECTION },
	{ "skyCover", MEASURE_CLOUD },
	{ "quantitativePrecipitation", MEASURE_RAIN_BLOCK },
	{ "probabilityOfPrecipitation", MEASURE_RAIN_CHANCE },
};

enum { LAYERS = sizeof layers / sizeof layers[0] };

/* One interval of a layer; the value in canonical units, NaN for a gap. */
struct span {
	int64_t from, to;
	double value;
};

struct spans {
	struct span *item; /* owned; ascending, without overlap */
	size_t count;
	bool off_step; /* some interval ends inside a cell of the series */
};

/* canonical = value * factor + offset */
struct scale {
	double factor, offset;
};

/* The unit without its namespace. An unknown namespace stays, to be refused. */
static const char *
bare_unit(const char *uom)
{
	static const char *const spaces[] = {
		"wmoUnit:", "wmo:", "unit:", "uc:", "nwsUnit:"
	};
	for (size_t i = 0; i < sizeof spaces / sizeof spaces[0]; i++) {
		size_t length = strlen(spaces[i]);
		if (strncmp(uom, spaces[i], length) == 0)
			return uom + length;
	}
	return uom;
}

static bool
read_scale(const struct layer *layer, const cJSON *object, struct scale *ret,
    struct error *error)
{
	char shown[JSON_SHOWN];
	enum quantity_kind kind = measure_info(layer->measure)->kind;
	const char *uom = json_string(json_member(object, "uom"));
	if (uom == NULL)
		return error_set(error, ERROR_INPUT,
		    "%s has values but no unit", layer->name);
	if (!unit_conversion(bare_unit(uom), kind, &ret->factor, &ret->offset))
		return error_set(error, ERROR_INPUT,
		    "%s: '%s' is not a unit of %s", layer->name,
		    json_show(shown, uom), quantity_kind_name(kind));
	return true;
}

static bool
read_span(const struct layer *layer, const cJSON *item, struct scale scale,
    struct span *ret, struct error *error)
{
	char shown[JSON_SHOWN];
	const char *time = json_string(json_member(item, "validTime"));
	const cJSON *value = json_member(item, "value");
	double number = (double)NAN;
	if (time == NULL)
		return error_set(error, ERROR_INPUT,
		    "%s has a value without a validTime", layer->name);
	if (!json_members_unique(item))
		return error_set(error, ERROR_INPUT,
		    "%s: the entry of %s has a member twice", layer->name,
		    json_show(shown, time));
	if (!interval_parse(time, &ret->from, &ret->to, error))
		return error_prefix(error, "%s", layer->name);
	if (!cJSON_IsNull(value) && !json_number(value, &number))
		return error_set(error, ERROR_INPUT,
		    "%s: the value of %s is neither a number nor null",
		    layer->name, json_show(shown, time));
	ret->value = number * scale.factor + scale.offset;
	return true;
}

static int
compare_from(const void *a, const void *b)
{
	const struct span *x = a, *y = b;
	return (x->from > y->from) - (x->from < y->from);
}

/* A gap comes first. */
static int
compare_value(const void *a, const void *b)
{
	const struct span *x = a, *y = b;
	if (isnan(x->value) || isnan(y->value))
		return isnan(y->value) - isnan(x->value);
	return (x->value > y->value) - (x->value < y->value);
}

/* Puts the intervals in order of time; two that overlap are refused. */
static bool
order_spans(const struct layer *layer, struct spans *spans, struct error *error)
{
	static const struct zone utc = { 0 };
	char stamp[CIVIL_BUFFER];
	bool ascending = true;
	for (size_t i = 1; i < spans->count && ascending; i++)
		ascending = spans->item[i - 1].from <= spans->item[i].from;
	if (!ascending)
		qsort(spans->item, spans->count, sizeof *spans->item,
		    compare_from);
	for (size_t i = 1; i < spans->count; i++) {
		if (spans->item[i].from >= spans->item[i - 1].to)
			continue;
		return error_set(error, ERROR_INPUT,
		    "%s contradicts itself: two intervals overlap at %s",
		    layer->name,
		    civil_print(stamp, sizeof stamp, &utc, spans->item[i].from,
			CIVIL_STAMP));
	}
	return true;
}

/* Appends to `spans`, which the caller releases on failure too. */
static bool
read_values(const struct layer *layer, const cJSON *object, const cJSON *values,
    struct spans *spans, struct error *error)
{
	size_t capacity = 0;
	struct scale scale = { 1, 0 };
	if (!read_scale(layer, object, &scale, error))
		return false;
	const cJSON *item;
	cJSON_ArrayForEach(item, values)
	{
		if (spans->count == LIMIT_LAYER_VALUES)
			return error_set(error, ERROR_INPUT,
			    "%s has more than %d values", layer->name,
			    (int)LIMIT_LAYER_VALUES);
		spans->item = memory_grow(
		    spans->item, spans->count, &capacity, sizeof *spans->item);
		struct span *span = &spans->item[spans->count];
		if (!read_span(layer, item, scale, span, error))
			return false;
		spans->off_step = spans->off_step ||
				  span->from % SERIES_STEP != 0 ||
				  span->to % SERIES_STEP != 0;
		spans->count++;
	}
	return order_spans(layer, spans, error);
}

static bool
read_layer(const struct layer *layer, const cJSON *properties,
    struct spans *spans, struct error *error)
{
	const cJSON *object = json_member(properties, layer->name);
	if (object == NULL || cJSON_IsNull(object))
		return true;
	const cJSON *values = json_member(object, "values");
	if (!cJSON_IsArray(values) || !json_members_unique(object))
		return error_set(error, ERROR_INPUT,
		    "%s is not one list of values", layer->name);
	/* An empty layer states no unit. */
	return values->child == NULL ||
	       read_values(layer, object, values, spans, error);
}

static bool
read_issued(const cJSON *properties, int64_t *ret, struct error *error)
{
	static const struct zone utc = { 0 };
	char shown[JSON_SHOWN];
	const char *text = json_string(json_member(properties, "updateTime"));
	if (text == NULL)
		return error_set(error, ERROR_INPUT,
		    "the document does not say when it was made "
		    "(no updateTime)");
	if (!civil_parse(text, &utc, ret, NULL))
		return error_set(error, ERROR_INPUT,
		    "updateTime: '%s' is not a time", json_show(shown, text));
	return true;
}

/*
 * A rain amount is the total of its interval, wherever in it the rain falls:
 * sums take shares of it, rain-free rules the whole.
 */
static void
place_rain(struct series *series, const struct span *span)
{
	size_t rejected = series->rejected;
	series_hold(
	    series, MEASURE_RAIN_BLOCK, span->from, span->to, span->value);
	if (isnan(span->value) || series->rejected > rejected)
		return;
	series_hold(series, MEASURE_RAIN_BLOCK_SPAN, span->from, span->to,
	    (double)(span->to - span->from));
	series_share(series, MEASURE_RAIN, span->from, span->to, span->value);
}

static void
place_layer(
    struct series *series, const struct layer *layer, struct spans *spans)
{
	/* Where two intervals meet inside a cell, the larger value has the
	   last word, so that a short shower is not hidden by a dry rest. */
	if (spans->off_step)
		qsort(spans->item, spans->count, sizeof *spans->item,
		    compare_value);
	for (size_t i = 0; i < spans->count; i++) {
		const struct span *span = &spans->item[i];
		if (layer->measure == MEASURE_RAIN_BLOCK)
			place_rain(series, span);
		else
			series_hold(series, layer->measure, span->from,
			    span->to, span->value);
	}
}

/* From the first to the last interval of all layers, within the ceiling. */
static void
size_series(struct series *series, const struct spans spans[LAYERS])
{
	int64_t from = INT64_MAX, to = INT64_MIN;
	for (size_t i = 0; i < LAYERS; i++) {
		if (spans[i].count == 0)
			continue;
		const struct span *first = spans[i].item;
		const struct span *last = first + spans[i].count - 1;
		from = first->from < from ? first->from : from;
		to = last->to > to ? last->to : to;
	}
	const int64_t most = (int64_t)LIMIT_FORECAST_DAYS * DAY_SECONDS;
	if (from > to)
		from = to = 0;
	series_init(series, from, to - from > most ? from + most : to);
}

/* `spans` is zeroed; the caller releases it on failure too. */
static bool
read_document(const cJSON *root, struct spans spans[LAYERS], struct series *ret,
    struct error *error)
{
	const cJSON *properties = json_member(root, "properties");
	int64_t issued;
	if (!cJSON_IsObject(properties))
		return nws_refuse_problem(
		    root, "a gridpoint document", "properties", error);
	if (!json_members_unique(root) || !json_members_unique(properties))
		return error_set(
		    error, ERROR_INPUT, "the document has a member twice");
	if (!read_issued(properties, &issued, error))
		return false;
	for (size_t i = 0; i < LAYERS; i++)
		if (!read_layer(&layers[i], properties, &spans[i], error))
			return false;
	struct series series;
	size_series(&series, spans);
	series.issued = issued;
	for (size_t i = 0; i < LAYERS; i++)
		place_layer(&series, &layers[i], &spans[i]);
	if (series.column[MEASURE_AIR_TEMPERATURE] == NULL) {
		series_release(&series);
		return error_set(error, ERROR_INPUT,
		    "the document holds no air temperature");
	}
	*ret = series;
	return true;
}

bool
nws_grid_read(
    const char *bytes, size_t length, struct series *ret, struct error *error)
{
	struct spans spans[LAYERS] = { 0 };
	cJSON *root = json_parse(bytes, length, error);
	if (root == NULL)
		return false;
	bool good = read_document(root, spans, ret, error);
	for (size_t i = 0; i < LAYERS; i++)
		free(spans[i].item);
	json_release(root);
	return good;
}
