#include "weather/nws_problem.h"

bool
nws_refuse_problem(const cJSON *root, const char *wanted, const char *lacking,
    struct error *error)
{
	char title_shown[JSON_SHOWN], detail_shown[JSON_SHOWN];
	const char *title = json_string(json_member(root, "title"));
	const char *detail = json_string(json_member(root, "detail"));
	double status;
	if (title == NULL && detail == NULL)
		return error_set(error, ERROR_INPUT, "not %s: it has no %s",
		    wanted, lacking);
	title = json_show(title_shown, title != NULL ? title : "no title");
	detail = json_show(detail_shown, detail != NULL ? detail : "no detail");
	if (!json_number(json_member(root, "status"), &status))
		return error_set(error, ERROR_INPUT,
		    "the service answered '%s': %s", title, detail);
	return error_set(error, ERROR_INPUT,
	    "the service answered '%s' (status %.0f): %s", title, status,
	    detail);
}
