/* Proposals as JSON. */
#include "cli/propose.h"

#include "turf/mix.h"

#include <string.h>

static cJSON *
dose_json(const struct propose *propose, const struct tried_tank *tried,
    const struct mix *amounts, size_t i)
{
	const struct dose *dose = &tried->tank->mix.dose[i];
	const struct product *product = dose->product;
	const struct choice *choice = propose->choice;
	char rate[QUANTITY_BUFFER];
	bool mass = amounts->kind[i] == QUANTITY_MASS;
	int64_t effect = propose_effect(tried, product);
	cJSON *json = cJSON_CreateObject();
	cJSON_AddStringToObject(json, "product", product->name);
	cJSON_AddStringToObject(json, "rate",
	    propose_print_rate(rate, sizeof rate, dose,
		propose->session->keeper.config.units));
	cJSON_AddItemToObject(json, "amount",
	    json_rounded(amounts->total[i] * (mass ? 1 : 1000), 3));
	cJSON_AddStringToObject(json, "unit", mass ? "g" : "mL");
	cJSON *covers = cJSON_AddArrayToObject(json, "covers");
	for (size_t w = 0; w < choice->weed_count; w++)
		if (propose_covers(product, choice->weed[w]))
			cJSON_AddItemToArray(
			    covers, cJSON_CreateString(choice->weed[w]));
	cJSON_AddItemToObject(json, "effect-from",
	    effect != 0 ? json_time(&propose->job.site->zone, effect)
			: cJSON_CreateNull());
	return json;
}

static void
add_window(cJSON *json, const struct tried_tank *tried, const struct zone *zone)
{
	const struct window *window = &tried->window;
	cJSON_AddStringToObject(json, "verdict",
	    tried->is_open                               ? "go"
	    : tried->is_unknown || tried->why[0] == '\0' ? "unknown"
							 : "no-go");
	if (!tried->is_open) {
		cJSON_AddNullToObject(json, "window");
		cJSON_AddStringToObject(json, "reason", tried->why);
		return;
	}
	cJSON *item = cJSON_AddObjectToObject(json, "window");
	cJSON_AddItemToObject(item, "opens", json_time(zone, window->opens));
	cJSON_AddItemToObject(item, "closes", json_time(zone, window->closes));
	cJSON_AddItemToObject(
	    item, "last-start", json_time(zone, window->last));
}

static void
add_groups(cJSON *json, const struct tried_tank *tried)
{
	const char *group[PROPOSE_GROUPS];
	size_t count = propose_groups(&tried->tank->mix, group);
	enum rotation rotation = propose_rotation(tried);
	cJSON *groups = cJSON_AddArrayToObject(json, "groups");
	for (size_t i = 0; i < count; i++)
		cJSON_AddItemToArray(groups, cJSON_CreateString(group[i]));
	cJSON_AddItemToObject(json, "rotation-kept",
	    rotation == ROTATION_UNKNOWN
		? cJSON_CreateNull()
		: cJSON_CreateBool(rotation == ROTATION_KEPT));
}

static cJSON *
tank_json(const struct propose *propose, const struct tried_tank *tried)
{
	struct job job = propose->job;
	struct mix amounts = { 0 };
	struct text command;
	cJSON *json = cJSON_CreateObject();
	cJSON *products = cJSON_AddArrayToObject(json, "products");
	job.tank = tried->tank->mix;
	(void)mix_make(&job, false, &amounts, NULL);
	for (size_t i = 0; i < job.tank.count; i++)
		cJSON_AddItemToArray(
		    products, dose_json(propose, tried, &amounts, i));
	add_window(json, tried, &job.site->zone);
	add_groups(json, tried);
	cJSON_AddItemToObject(json, "cost", json_rounded(tried->tank->cost, 2));
	cJSON *cautions = cJSON_AddArrayToObject(json, "cautions");
	for (size_t i = 0; i < tried->caution_count; i++)
		cJSON_AddItemToArray(
		    cautions, cJSON_CreateString(tried->caution[i].text));
	text_init(&command, LIMIT_OUTPUT_BYTES);
	propose_add_command(&command, propose, tried->tank);
	cJSON_AddStringToObject(json, "command", text_string(&command));
	text_release(&command);
	return json;
}

static cJSON *
proposal_json(const struct propose *propose, const struct tried *tried)
{
	cJSON *json = cJSON_CreateObject();
	cJSON_AddBoolToObject(json, "has-window", tried->is_open);
	cJSON_AddItemToObject(
	    json, "cost", json_rounded(tried->proposal->cost, 2));
	cJSON *tanks = cJSON_AddArrayToObject(json, "tanks");
	for (size_t t = 0; t < tried->tank_count; t++)
		cJSON_AddItemToArray(
		    tanks, tank_json(propose, &tried->tank[t]));
	return json;
}

void
propose_show_json(
    const struct propose *propose, const struct tried *tried, size_t count)
{
	const struct choice *choice = propose->choice;
	const struct config *config = &propose->session->keeper.config;
	cJSON *json = cJSON_CreateObject();
	cJSON_AddStringToObject(json, "site", propose->job.site->name);
	cJSON *weeds = cJSON_AddArrayToObject(json, "weeds");
	for (size_t w = 0; w < choice->weed_count; w++)
		cJSON_AddItemToArray(
		    weeds, cJSON_CreateString(choice->weed[w]));
	cJSON_AddStringToObject(json, "currency", config->currency);
	cJSON_AddBoolToObject(json, "shelf-known", config->package_count > 0);
	cJSON *list = cJSON_AddArrayToObject(json, "proposals");
	for (size_t i = 0; i < count; i++)
		cJSON_AddItemToArray(list, proposal_json(propose, &tried[i]));
	cJSON_AddNumberToObject(json, "found", (double)choice->found);
	cJSON_AddNumberToObject(json, "looked-at", (double)propose->looked_at);
	cJSON_AddNumberToObject(json, "herbicides", (double)choice->usable);
	cJSON_AddNumberToObject(json, "searched", (double)choice->searched);
	list = cJSON_AddArrayToObject(json, "not-proposed");
	for (size_t i = 0; i < choice->left_out_count; i++) {
		cJSON *item = cJSON_CreateObject();
		cJSON_AddItemToArray(list, item);
		cJSON_AddStringToObject(
		    item, "product", choice->left_out[i].product->name);
		cJSON_AddStringToObject(
		    item, "reason", choice->left_out[i].why);
	}
	(void)session_print_json(propose->session, json);
}
