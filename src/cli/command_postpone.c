#include "cli/session.h"

#include "cli/show.h"

int
command_postpone(struct session *session)
{
	struct board board;
	int64_t id, until;
	if (!session_job(session, 0, &id) || !show_load(session, &board))
		return (int)session->error.kind;
	const struct board_job *job = show_find(session, &board, id);
	bool good =
	    job != NULL && (civil_parse(session->word[1], &job->job.site->zone,
				&until, &session->error) ||
			       error_prefix(&session->error, "UNTIL"));
	if (good && job->job.before != INT64_MAX &&
	    until + job->limits.duration > job->job.before)
		good = error_set(&session->error, ERROR_INPUT,
		    "the job has to be over before that: it would not fit any "
		    "more");
	good = good && store_job_postpone(
			   session->keeper.store, id, until, &session->error);
	board_release(&board);
	if (!good)
		return (int)session->error.kind;
	int code = session_pass(session);
	return code != 0 ? code : show_job(session, id, NULL, 0);
}
