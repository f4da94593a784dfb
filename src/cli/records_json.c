#include "cli/records.h"

#include <math.h>
#include <string.h>

static const enum unit_system metric = UNITS_METRIC;

static void
add_text(cJSON *json, const char *name, const char *text)
{
	cJSON_AddItemToObject(json, name,
	    text[0] != '\0' ? cJSON_CreateString(text) : cJSON_CreateNull());
}

static void
add_id(cJSON *json, const char *name, int64_t id)
{
	cJSON_AddItemToObject(json, name,
	    id != 0 ? cJSON_CreateNumber((double)id) : cJSON_CreateNull());
}

/* The units of `lull now`. */
static cJSON *
weather_json(const struct stored_weather *weather)
{
	cJSON *json = cJSON_CreateObject();
	for (size_t i = 0; i < WEATHER_FIELDS; i++)
		cJSON_AddItemToObject(json, weather_fields[i].key,
		    json_rounded(quantity_number(weather_value(weather, i),
				     weather_fields[i].kind, metric),
			3));
	return json;
}

static const char *
rate_unit(enum quantity_kind kind)
{
	switch (kind) {
	case QUANTITY_MASS_PER_AREA:
		return "g/m2";
	case QUANTITY_VOLUME_PER_AREA:
		return "L/m2";
	case QUANTITY_MASS_PER_VOLUME:
		return "g/L";
	case QUANTITY_VOLUME_PER_VOLUME:
		return "L/L";
	default:
		return "";
	}
}

static void
add_product(
    cJSON *list, const struct stored_amount *amount, enum unit_system units)
{
	char text[QUANTITY_BUFFER];
	bool has_rate = !isnan(amount->rate);
	cJSON *json = cJSON_CreateObject();
	cJSON_AddItemToArray(list, json);
	cJSON_AddStringToObject(json, "product", amount->product);
	add_text(json, "registration", amount->registration);
	cJSON_AddItemToObject(json, "amount", json_rounded(amount->amount, 6));
	cJSON_AddStringToObject(json, "unit", amount->is_mass ? "g" : "L");
	cJSON_AddStringToObject(json, "amount-text",
	    record_print_amount(text, sizeof text, amount, units));
	cJSON_AddItemToObject(json, "rate", json_rounded(amount->rate, 12));
	add_text(json, "rate-unit", rate_unit(amount->rate_kind));
	add_text(json, "rate-text",
	    has_rate ? quantity_print(text, sizeof text, amount->rate,
			   amount->rate_kind, units)
		     : "");
}

static void
add_reasons(cJSON *list, const char *reasons)
{
	struct text line;
	text_init(&line, LIMIT_OUTPUT_BYTES);
	while (*reasons != '\0') {
		reasons = record_next_reason(reasons, &line);
		cJSON_AddItemToArray(
		    list, cJSON_CreateString(text_string(&line)));
	}
	text_release(&line);
}

static void
add_weather(
    cJSON *json, const struct zone *zone, const struct stored_record *record)
{
	cJSON_AddItemToObject(
	    json, "measured", weather_json(&record->measured));
	cJSON_AddItemToObject(
	    json, "forecast", weather_json(&record->forecast));
	cJSON *units = cJSON_AddObjectToObject(json, "weather-units");
	for (size_t i = 0; i < WEATHER_FIELDS; i++)
		cJSON_AddStringToObject(units, weather_fields[i].key,
		    quantity_unit(weather_fields[i].kind, metric));
	add_text(json, "forecast-source", record->forecast_source);
	cJSON_AddItemToObject(json, "forecast-issued",
	    record->forecast_issued != 0
		? json_time(zone, record->forecast_issued)
		: cJSON_CreateNull());
	add_text(json, "verdict", record->verdict);
	add_reasons(cJSON_AddArrayToObject(json, "reasons"), record->reasons);
}

static void
add_rest(cJSON *json, const struct stored_record *record)
{
	add_text(json, "applicator", record->who);
	add_text(json, "certification", record->certification);
	add_text(json, "client", record->client);
	add_text(json, "place", record->place);
	add_text(json, "weeds", record->weeds);
	add_text(json, "turf", record->turf);
	add_text(json, "sprayer", record->sprayer);
	cJSON_AddItemToObject(
	    json, "carrier-litres-per-m2", json_rounded(record->carrier, 6));
	add_text(json, "unusual", record->unusual);
	add_text(json, "left-over", record->leftover);
	add_text(json, "note", record->note);
}

cJSON *
record_json(const struct config *config, const struct stored_record *record)
{
	const struct zone zone = record_zone(config, record);
	struct missing missing[MISSING_MOST];
	cJSON *json = cJSON_CreateObject();
	add_id(json, "record", record->id);
	add_id(json, "job", record->job);
	add_id(json, "replaces", record->replaces);
	add_id(json, "replaced-by", record->replaced_by);
	cJSON_AddStringToObject(json, "site", record->site);
	cJSON_AddItemToObject(json, "from", json_time(&zone, record->from));
	cJSON_AddItemToObject(json, "to", json_time(&zone, record->to));
	cJSON_AddItemToObject(
	    json, "created", json_time(&zone, record->created));
	cJSON_AddItemToObject(json, "area-m2", json_rounded(record->area, 4));
	cJSON_AddItemToObject(
	    json, "used-litres", json_rounded(record->used, 4));
	cJSON *list = cJSON_AddArrayToObject(json, "products");
	for (size_t i = 0; i < record->amount_count; i++)
		add_product(list, &record->amount[i], config->units);
	add_weather(json, &zone, record);
	add_rest(json, record);
	size_t count = record_missing(config, record, missing);
	list = cJSON_AddArrayToObject(json, "not-told");
	for (size_t i = 0; i < count; i++)
		cJSON_AddItemToArray(list, cJSON_CreateString(missing[i].name));
	return json;
}

int
records_json(struct session *session, const struct records *records)
{
	cJSON *json = cJSON_CreateObject();
	cJSON *list = cJSON_AddArrayToObject(json, "records");
	for (size_t i = 0; i < records->count; i++)
		cJSON_AddItemToArray(
		    list, record_json(records->config, records->record[i]));
	return session_print_json(session, json);
}
