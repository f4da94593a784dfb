#include "cli/session.h"

#include "cli/show.h"

int
command_queue(struct session *session)
{
	struct board board;
	if (!show_load(session, &board))
		return (int)session->error.kind;
	cJSON *json = session->json ? cJSON_CreateObject() : NULL;
	cJSON *list =
	    json != NULL ? cJSON_AddArrayToObject(json, "jobs") : NULL;
	for (size_t i = 0; i < board.job_count; i++)
		show_add(session, &board.job[i], list);
	if (json != NULL)
		(void)session_print_json(session, json);
	else if (board.job_count == 0)
		text_add(&session->out, "Nothing is queued.\n");
	board_release(&board);
	return 0;
}
