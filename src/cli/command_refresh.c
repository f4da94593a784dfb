#include "cli/session.h"

#include "service/loop.h"
#include "service/pass.h"

#include <inttypes.h>

int
command_refresh(struct session *session)
{
	struct text user_agent;
	struct pass_report report;
	struct fetcher *fetcher =
	    loop_open_fetcher(&session->keeper, &user_agent, &session->error);
	struct pass_order order = {
		.fetcher = fetcher, .fetch_all = true, .interrupt = -1
	};
	bool good = fetcher != NULL && pass_run(&session->keeper, &order,
					   &report, &session->error);
	fetcher_close(fetcher);
	text_release(&user_agent);
	if (!good)
		return (int)session->error.kind;
	bool trouble = report.trouble.length > 0;
	if (session->json) {
		cJSON *json = cJSON_CreateObject();
		cJSON_AddNumberToObject(json, "jobs", (double)report.jobs);
		cJSON_AddNumberToObject(json, "slots", (double)report.slots);
		cJSON_AddNumberToObject(json, "moved", (double)report.moved);
		cJSON_AddStringToObject(
		    json, "trouble", text_string(&report.trouble));
		(void)session_print_json(session, json);
	} else {
		text_format(&session->out,
		    "%zu waiting, %zu with a slot, %zu moved\n%s", report.jobs,
		    report.slots, report.moved, text_string(&report.trouble));
	}
	text_release(&report.trouble);
	return trouble ? ERROR_ANSWER : 0;
}
