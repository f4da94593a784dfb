#include "cli/session.h"

int
command_check(struct session *session)
{
	const struct config *config = &session->keeper.config;
	if (session->json) {
		cJSON *json = cJSON_CreateObject();
		cJSON_AddStringToObject(json, "file", config->path);
		cJSON_AddBoolToObject(json, "good", true);
		cJSON_AddNumberToObject(
		    json, "sites", (double)config->site_count);
		cJSON_AddNumberToObject(
		    json, "sprayers", (double)config->sprayer_count);
		cJSON_AddNumberToObject(
		    json, "products", (double)config->product_count);
		cJSON_AddNumberToObject(
		    json, "practice-limits", (double)config->practice_count);
		return session_print_json(session, json);
	}
	text_format(&session->out,
	    "%s is good: sites %zu, sprayers %zu, products %zu, practice "
	    "limits %zu\n",
	    config->path, config->site_count, config->sprayer_count,
	    config->product_count, config->practice_count);
	if (config->practice_count == 0)
		text_add(&session->out,
		    "There are no practice limits: include(\"practice.conf\") "
		    "adds them.\n");
	return 0;
}
