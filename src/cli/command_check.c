#include "cli/session.h"

/* One entry for each product that leaves something out. */
static void
add_missing(cJSON *json, const struct config *config)
{
	cJSON *list = cJSON_AddArrayToObject(json, "missing");
	for (size_t p = 0; p < config->product_count; p++) {
		const struct product *product = &config->products[p];
		if (product->missing_count == 0)
			continue;
		cJSON *entry = cJSON_CreateObject();
		cJSON_AddStringToObject(entry, "product", product->name);
		cJSON *what = cJSON_AddArrayToObject(entry, "says-nothing-of");
		for (size_t i = 0; i < product->missing_count; i++)
			cJSON_AddItemToArray(
			    what, cJSON_CreateString(product->missing[i]));
		cJSON_AddItemToArray(list, entry);
	}
}

static int
print_json(struct session *session)
{
	const struct config *config = &session->keeper.config;
	cJSON *json = cJSON_CreateObject();
	cJSON_AddStringToObject(json, "file", config->path);
	cJSON_AddBoolToObject(json, "good", true);
	cJSON_AddNumberToObject(json, "sites", (double)config->site_count);
	cJSON_AddNumberToObject(
	    json, "sprayers", (double)config->sprayer_count);
	cJSON_AddNumberToObject(
	    json, "products", (double)config->product_count);
	cJSON_AddNumberToObject(
	    json, "packages", (double)config->package_count);
	cJSON_AddNumberToObject(
	    json, "practice-limits", (double)config->practice_count);
	add_missing(json, config);
	return session_print_json(session, json);
}

/* A card may be right and say too little: that is told, and no fault. */
static void
print_missing(struct text *out, const struct product *product)
{
	for (size_t i = 0; i < product->missing_count; i++)
		text_format(out,
		    "%s: the card does not say: %s; type it, or none on "
		    "label\n",
		    product->name, product->missing[i]);
}

int
command_check(struct session *session)
{
	const struct config *config = &session->keeper.config;
	if (session->json)
		return print_json(session);
	text_format(&session->out,
	    "%s is good: sites %zu, sprayers %zu, products %zu, packages "
	    "%zu, practice limits %zu\n",
	    config->path, config->site_count, config->sprayer_count,
	    config->product_count, config->package_count,
	    config->practice_count);
	if (config->practice_count == 0)
		text_add(&session->out,
		    "There are no practice limits: include(\"practice.conf\") "
		    "adds them.\n");
	for (size_t i = 0; i < config->product_count; i++)
		print_missing(&session->out, &config->products[i]);
	return 0;
}
