#include "cli/session.h"

#include <inttypes.h>

int
command_drop(struct session *session)
{
	int64_t id;
	if (!session_job(session, 0, &id) ||
	    !store_job_finish(
		session->keeper.store, id, STORED_DROPPED, &session->error))
		return (int)session->error.kind;
	if (session->json)
		session_print_outcome(session, id, "dropped");
	else
		text_format(
		    &session->out, "job %" PRId64 " is off the queue\n", id);
	return session_pass(session);
}
