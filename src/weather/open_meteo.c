#include "weather/format.h"

#include "base/civil.h"
#include "base/limits.h"
#include "weather/open_meteo.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* The variables that we use; every other one is passed over. */
static const struct open_meteo_variable variables[] = {
	{ { "temperature_2m" }, MEASURE_AIR_TEMPERATURE, MEANING_INSTANT },
	{ { "dew_point_2m", "dewpoint_2m" }, MEASURE_DEW_POINT,
	    MEANING_INSTANT },
	{ { "relative_humidity_2m", "relativehumidity_2m" }, MEASURE_HUMIDITY,
	    MEANING_INSTANT },
	{ { "wind_speed_10m", "windspeed_10m" }, MEASURE_WIND,
	    MEANING_INSTANT },
	{ { "wind_gusts_10m", "windgusts_10m" }, MEASURE_GUST, MEANING_BEFORE },
	{ { "wind_direction_10m", "winddirection_10m" }, MEASURE_WIND_DIRECTION,
	    MEANING_ANGLE },
	{ { "cloud_cover", "cloudcover" }, MEASURE_CLOUD, MEANING_INSTANT },
	{ { "precipitation" }, MEASURE_RAIN_BLOCK, MEANING_TOTAL },
	{ { "precipitation_probability" }, MEASURE_RAIN_CHANCE,
	    MEANING_BEFORE },
	{ { "soil_temperature_6cm", "soil_temperature_0_to_10cm",
	      "soil_temperature_0_to_7cm" },
	    MEASURE_SOIL, MEANING_INSTANT },
};

enum { VARIABLES = sizeof variables / sizeof variables[0] };

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
 * Each model has a name of its own when there are several, and which one the
 * keeper wants to go by cannot be told from them.
 */
static bool
is_of_model(const char *key, bool plain)
{
	static const char stem[] = "temperature_2m_";
	return strncmp(key, stem, sizeof stem - 1) == 0 &&
	       (!plain || strncmp(key + sizeof stem - 1, "member", 6) == 0);
}

static bool
check_names(const struct open_meteo *document, struct error *error)
{
	static const char name[] = "temperature_2m";
	char shown[JSON_SHOWN];
	bool plain = json_member(document->hourly, name) != NULL;
	size_t runs = 0;
	const cJSON *member;
	cJSON_ArrayForEach(member, document->hourly)
	{
		if (open_meteo_run(member->string, name) < OPEN_METEO_RUNS)
			runs++;
		else if (is_of_model(member->string, plain))
			return error_set(error, ERROR_INPUT,
			    "the document holds several models (%s): ask for "
			    "one model",
			    json_show(shown, member->string));
	}
	if (!document->ensemble && runs > (plain ? 1 : 0))
		return error_set(error, ERROR_INPUT,
		    "the document holds members of an ensemble: read it with "
		    "the format open-meteo-ensemble");
	if (document->ensemble && runs < 2)
		return error_set(error, ERROR_INPUT,
		    "the document holds a single run and no ensemble: read it "
		    "with the format open-meteo");
	return true;
}

/* Each cell gets the value at its start; beside a gap only the stamp has it. */
static void
place_instants(struct series *series,
    const struct open_meteo_variable *variable,
    const struct open_meteo_stamps *stamps, const double *value)
{
	const bool around = variable->meaning != MEANING_INSTANT;
	const int64_t cells = stamps->step / SERIES_STEP;
	/* The cells of the first stamps can lie before the series. */
	int64_t cell = (stamps->first - series->start) / SERIES_STEP;
	for (size_t i = 0; i < stamps->count; i++) {
		/* Nothing follows the last stamp: it has its own cell only. */
		int64_t end = i + 1 < stamps->count ? cells : 1;
		for (int64_t k = 0; k < end; k++, cell++) {
			double here = value[i];
			if (k > 0)
				here = series_between(around, here,
				    value[i + 1], (double)k / (double)cells);
			if (cell >= 0 && !isnan(here))
				series_column(series, variable->measure)[cell] =
				    (float)here;
		}
	}
	series->continuous[variable->measure] =
	    !around && series->column[variable->measure] != NULL;
}

/* A stamp ends the step that it tells of. */
static void
place_steps(struct series *series, const struct open_meteo_variable *variable,
    const struct open_meteo_stamps *stamps, const double *value)
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
fill_series(struct series *series, const struct open_meteo *document)
{
	const int64_t most = (int64_t)LIMIT_FORECAST_DAYS * DAY_SECONDS;
	const struct open_meteo_stamps *stamps = &document->stamps;
	int64_t from = stamps->first - stamps->step;
	int64_t to = stamps->first +
		     (int64_t)(stamps->count - 1) * stamps->step + SERIES_STEP;
	/* A document can be asked for months of the past: its end counts. */
	series_init(series, to - from > most ? to - most : from, to);
	series->rejected = document->rejected;
	for (size_t i = 0; i < VARIABLES; i++) {
		const struct open_meteo_variable *variable = &variables[i];
		const double *value = document->value[variable->measure];
		if (value == NULL)
			continue;
		if (variable->meaning <= MEANING_ANGLE)
			place_instants(series, variable, stamps, value);
		else
			place_steps(series, variable, stamps, value);
	}
}

/* The caller releases the document's values on failure too. */
static bool
read_document(struct open_meteo *document, const cJSON *root,
    struct series *ret, struct error *error)
{
	document->hourly = json_member(root, "hourly");
	document->units = json_member(root, "hourly_units");
	if (!cJSON_IsObject(document->hourly))
		return refuse_other(root, error);
	if (!json_members_unique(root) ||
	    !json_members_unique(document->hourly) ||
	    !json_members_unique(document->units))
		return error_set(
		    error, ERROR_INPUT, "the document has a member twice");
	if (!check_names(document, error) ||
	    !open_meteo_stamps_read(document, root, error))
		return false;
	for (size_t i = 0; i < VARIABLES; i++)
		if (!open_meteo_values_read(document, &variables[i], error))
			return false;
	struct series series;
	fill_series(&series, document);
	if (series.column[MEASURE_AIR_TEMPERATURE] == NULL) {
		series_release(&series);
		return error_set(error, ERROR_INPUT,
		    "the document holds no air temperature");
	}
	*ret = series;
	return true;
}

static bool
read_bytes(bool ensemble, const char *bytes, size_t length, struct series *ret,
    struct error *error)
{
	struct open_meteo document = { .ensemble = ensemble };
	cJSON *root = json_parse(bytes, length, error);
	if (root == NULL)
		return false;
	bool good = read_document(&document, root, ret, error);
	for (size_t i = 0; i < MEASURES; i++)
		free(document.value[i]);
	json_release(root);
	return good;
}

bool
open_meteo_read(
    const char *bytes, size_t length, struct series *ret, struct error *error)
{
	return read_bytes(false, bytes, length, ret, error);
}

bool
open_meteo_ensemble_read(
    const char *bytes, size_t length, struct series *ret, struct error *error)
{
	return read_bytes(true, bytes, length, ret, error);
}
