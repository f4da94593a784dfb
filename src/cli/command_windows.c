#include "cli/session.h"

#include "cli/show.h"

#include <inttypes.h>

static void
add_json(cJSON *list, const struct board_job *job, const struct window *window,
    enum unit_system units)
{
	const struct zone *zone = &job->job.site->zone;
	char edge[LIMIT_TEXT_BYTES];
	cJSON *json = cJSON_CreateObject();
	cJSON_AddItemToArray(list, json);
	cJSON_AddItemToObject(json, "opens", json_time(zone, window->opens));
	cJSON_AddItemToObject(json, "closes", json_time(zone, window->closes));
	cJSON_AddItemToObject(
	    json, "last-start", json_time(zone, window->last));
	cJSON_AddStringToObject(json, "opened-by",
	    show_edge(edge, sizeof edge, job, &window->opened, units));
	cJSON_AddStringToObject(json, "closed-by",
	    show_edge(edge, sizeof edge, job, &window->closed, units));
}

static void
add_line(struct session *session, const struct board_job *job,
    const struct window *window)
{
	const struct zone *zone = &job->job.site->zone;
	enum unit_system units = session->keeper.config.units;
	char from[CIVIL_BUFFER], to[CIVIL_BUFFER], last[CIVIL_BUFFER];
	char opened[LIMIT_TEXT_BYTES], closed[LIMIT_TEXT_BYTES];
	bool one_day =
	    civil_day(zone, window->opens) == civil_day(zone, window->closes);
	text_format(&session->out,
	    "%s to %s, start by %s\n     before it: %s; after it: %s\n",
	    civil_print(
		from, sizeof from, zone, window->opens, CIVIL_DAY_CLOCK),
	    civil_print(to, sizeof to, zone, window->closes,
		one_day ? CIVIL_CLOCK : CIVIL_DAY_CLOCK),
	    civil_print(last, sizeof last, zone, window->last, CIVIL_CLOCK),
	    show_edge(opened, sizeof opened, job, &window->opened, units),
	    show_edge(closed, sizeof closed, job, &window->closed, units));
}

static int
list_windows(struct session *session, const struct board_job *job)
{
	struct judgement judgement = board_judgement(job);
	enum unit_system units = session->keeper.config.units;
	char why[LIMIT_TEXT_BYTES];
	int code = job->window_count > 0 ? 0 : ERROR_ANSWER;
	if (session->json) {
		cJSON *json = cJSON_CreateObject();
		cJSON_AddNumberToObject(json, "job", (double)job->job.id);
		cJSON *list = cJSON_AddArrayToObject(json, "windows");
		for (size_t i = 0; i < job->window_count; i++)
			add_json(list, job, &job->windows[i], units);
		(void)session_print_json(session, json);
		return code;
	}
	for (size_t i = 0; i < job->window_count; i++)
		add_line(session, job, &job->windows[i]);
	if (job->window_count > 0)
		return code;
	if (job->site->chain.trouble[0] != '\0')
		text_format(
		    &session->out, "unknown: %s\n", job->site->chain.trouble);
	else
		text_format(&session->out, "no window: %s\n",
		    blockers_tell(why, sizeof why, &judgement, units));
	return code;
}

int
command_windows(struct session *session)
{
	struct board board;
	int64_t id;
	if (!session_job(session, 0, &id) || !show_load(session, &board))
		return (int)session->error.kind;
	const struct board_job *job = show_find(session, &board, id);
	int code =
	    job != NULL ? list_windows(session, job) : (int)session->error.kind;
	board_release(&board);
	return code;
}
