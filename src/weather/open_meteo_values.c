#include "weather/open_meteo.h"

#include "base/memory.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* mm in a step: the least that a gauge of hundredths of an inch shows. */
static const double wet_amount = 0.25;

/* The values of those runs that know any, run after run. */
struct runs {
	double *value; /* owned */
	size_t stamps; /* values in each run */
	size_t count;
};

size_t
open_meteo_run(const char *key, const char *name)
{
	static const char mark[] = "_member";
	size_t length = strlen(name);
	if (strncmp(key, name, length) != 0)
		return OPEN_METEO_RUNS;
	key += length;
	if (*key == '\0')
		return 0;
	if (strncmp(key, mark, sizeof mark - 1) != 0)
		return OPEN_METEO_RUNS;
	key += sizeof mark - 1;
	if (strspn(key, "0123456789") != 2 || key[2] != '\0' ||
	    strcmp(key, "00") == 0)
		return OPEN_METEO_RUNS;
	return (size_t)(key[0] - '0') * 10 + (size_t)(key[1] - '0');
}

/* Sorts what is not null by its run, up to `most`; how many there are. */
static size_t
find_runs(const cJSON *object, const char *name, size_t most,
    const cJSON *ret[OPEN_METEO_RUNS])
{
	size_t found = 0;
	const cJSON *member;
	cJSON_ArrayForEach(member, object)
	{
		size_t run = open_meteo_run(member->string, name);
		if (run >= most || cJSON_IsNull(member))
			continue;
		ret[run] = member;
		found++;
	}
	return found;
}

/* Numbers as they stand; *ret_known when there is one. */
static bool
read_numbers(const cJSON *list, size_t count, double *ret, bool *ret_known,
    struct error *error)
{
	size_t used = 0;
	const char *name = list->string;
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

/* Converts in place. What cannot be is thrown out here, before anything is
   made from it. */
static bool
convert(struct open_meteo *document, const struct measure_info *info,
    const cJSON *list, const cJSON *unit, double *values, struct error *error)
{
	char shown[JSON_SHOWN];
	double factor = 1, offset = 0;
	const char *text = json_string(unit);
	if (text == NULL)
		return error_set(error, ERROR_INPUT,
		    "%s has values but no unit", list->string);
	if (!unit_conversion(text, info->kind, &factor, &offset))
		return error_set(error, ERROR_INPUT,
		    "%s: '%s' is not a unit of %s", list->string,
		    json_show(shown, text), quantity_kind_name(info->kind));
	for (size_t i = 0; i < document->stamps.count; i++) {
		values[i] = values[i] * factor + offset;
		if (values[i] < info->least || values[i] > info->most) {
			document->rejected++;
			values[i] = (double)NAN;
		}
	}
	return true;
}

/* Adds a run when it knows anything. */
static bool
add_run(struct open_meteo *document, enum measure measure, const cJSON *list,
    const cJSON *unit, struct runs *runs, struct error *error)
{
	bool known = false;
	double *values = runs->value + runs->count * runs->stamps;
	if (!read_numbers(list, runs->stamps, values, &known, error))
		return false;
	/* A model without the variable gives nulls, without a real unit. */
	if (!known)
		return true;
	runs->count++;
	return convert(
	    document, measure_info(measure), list, unit, values, error);
}

/* `runs` is zeroed; the caller releases it on failure too. */
static bool
read_runs(struct open_meteo *document,
    const struct open_meteo_variable *variable, const char *name,
    struct runs *runs, struct error *error)
{
	const cJSON *lists[OPEN_METEO_RUNS] = { 0 };
	const cJSON *units[OPEN_METEO_RUNS] = { 0 };
	/* Directions have no middle: that of the control run stands. */
	bool alone = !document->ensemble || variable->meaning == MEANING_ANGLE;
	size_t most = alone ? 1 : OPEN_METEO_RUNS;
	size_t found = find_runs(document->hourly, name, most, lists);
	if (found == 0)
		return true;
	(void)find_runs(document->units, name, most, units);
	runs->stamps = document->stamps.count;
	runs->value = memory_array(found * runs->stamps, sizeof *runs->value);
	for (size_t run = 0; run < most; run++)
		if (lists[run] != NULL &&
		    !add_run(document, variable->measure, lists[run],
			units[run], runs, error))
			return false;
	return true;
}

/* Half of those that know stamp i are below it; NaN when none knows. */
static double
find_median(const struct runs *runs, size_t i)
{
	double sorted[OPEN_METEO_RUNS];
	size_t known = 0;
	for (size_t run = 0; run < runs->count; run++) {
		double value = runs->value[run * runs->stamps + i];
		size_t at = known;
		if (isnan(value))
			continue;
		for (; at > 0 && sorted[at - 1] > value; at--)
			sorted[at] = sorted[at - 1];
		sorted[at] = value;
		known++;
	}
	if (known == 0)
		return (double)NAN;
	return (sorted[(known - 1) / 2] + sorted[known / 2]) / 2;
}

/* Percent of those that know stamp i; one run alone has no chances. */
static double
find_chance(const struct runs *runs, size_t i)
{
	size_t known = 0, wet = 0;
	for (size_t run = 0; run < runs->count; run++) {
		double value = runs->value[run * runs->stamps + i];
		known += isnan(value) ? 0 : 1;
		wet += value >= wet_amount ? 1 : 0;
	}
	return known < 2 ? (double)NAN : 100 * (double)wet / (double)known;
}

static double *
sum_up(const struct runs *runs, double (*find)(const struct runs *, size_t))
{
	double *values = memory_array(runs->stamps, sizeof *values);
	for (size_t i = 0; i < runs->stamps; i++)
		values[i] = find(runs, i);
	return values;
}

bool
open_meteo_values_read(struct open_meteo *document,
    const struct open_meteo_variable *variable, struct error *error)
{
	struct runs runs = { 0 };
	bool good = true;
	/* In an ensemble the chance comes of the amounts. */
	if (document->ensemble && variable->measure == MEASURE_RAIN_CHANCE)
		return true;
	for (size_t i = 0; i < OPEN_METEO_NAMES && variable->names[i] != NULL &&
			   good && runs.count == 0;
	     i++) {
		free(runs.value);
		runs.value = NULL;
		good = read_runs(
		    document, variable, variable->names[i], &runs, error);
	}
	if (good && runs.count > 0) {
		document->value[variable->measure] = sum_up(&runs, find_median);
		if (document->ensemble && variable->meaning == MEANING_TOTAL)
			document->value[MEASURE_RAIN_CHANCE] =
			    sum_up(&runs, find_chance);
	}
	free(runs.value);
	return good;
}
