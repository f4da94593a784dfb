#include "cli/done.h"

#include "cli/show.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

enum { UID_BUFFER = 80 };

/* Of the job that repeats this one. */
static void
print_uid(char buffer[UID_BUFFER], const struct stored_job *job)
{
	(void)snprintf(
	    buffer, UID_BUFFER, "%.36s-r%" PRId64, job->uid, job->id);
}

/* A job that repeats stands in the queue again, not before its time. */
static bool
queue_again(struct done *done)
{
	const struct stored_job *old = done->stored;
	struct session *session = done->session;
	struct stored_job next = *old;
	char uid[UID_BUFFER];
	if (!(old->repeat > 0))
		return true;
	print_uid(uid, old);
	next.uid = uid;
	next.after = done->record.to + (int64_t)old->repeat;
	next.before = INT64_MAX;
	next.created = done->record.created;
	return store_job_add(
	    session->keeper.store, &next, &done->repeated_by, &session->error);
}

/* A correction of the time moves the job that repeats it, unless that is done
   or somebody has postponed it. */
static bool
move_repeat(struct done *done)
{
	const struct stored_job *old = done->stored;
	struct session *session = done->session;
	int64_t repeat = (int64_t)old->repeat;
	char uid[UID_BUFFER];
	if (!(old->repeat > 0) || done->record.to == done->replaced_to)
		return true;
	print_uid(uid, old);
	for (size_t i = 0; i < done->job_count; i++) {
		const struct stored_job *job = &done->jobs[i];
		if (job->state == STORED_WAITING &&
		    strcmp(job->uid, uid) == 0 &&
		    job->after == done->replaced_to + repeat)
			done->repeated_by = job->id;
	}
	return done->repeated_by == 0 ||
	       store_job_postpone(session->keeper.store, done->repeated_by,
		   done->record.to + repeat, &session->error);
}

static bool
finish_job(struct done *done)
{
	struct session *session = done->session;
	return store_job_finish(session->keeper.store, done->stored->id,
		   STORED_DONE, &session->error) &&
	       queue_again(done);
}

static bool
store_it(struct done *done)
{
	struct error *error = &done->session->error;
	struct store *store = done->session->keeper.store;
	bool is_new = done->record.replaces == 0;
	if (!store_begin(store, error))
		return false;
	bool good =
	    store_record_add(store, &done->record, &done->record.id, error) &&
	    (is_new ? finish_job(done) : move_repeat(done)) &&
	    store_commit(store, error);
	if (!good)
		store_rollback(store);
	return good;
}

/* A job that waits; a correction takes any, whatever has become of it. */
static bool
find_job(struct done *done, int64_t id)
{
	struct session *session = done->session;
	struct error error = { 0 };
	bool corrects = session_option(session, "replaces") != NULL;
	if (!store_jobs(session->keeper.store, false, &done->jobs,
		&done->job_count, &session->error))
		return false;
	for (size_t i = 0; i < done->job_count; i++)
		if (done->jobs[i].id == id)
			done->stored = &done->jobs[i];
	if (!corrects)
		done->waits = board_find(&done->board, id);
	if (done->stored == NULL || (!corrects && done->waits == NULL))
		return error_set(&session->error, ERROR_ANSWER,
		    corrects ? "there is no job %" PRId64
			     : "no job %" PRId64 " is waiting",
		    id);
	done->is_resolved = board_resolve(&session->keeper.config,
	    done->board.sprayer, done->stored, &done->job, &error);
	return done->is_resolved || corrects ||
	       error_set(&session->error, ERROR_INPUT, "job %" PRId64 ": %s",
		   id, error.text);
}

static bool
record(struct done *done, int64_t id)
{
	if (!find_job(done, id) || !done_fill(done) || !done_judge(done) ||
	    !store_it(done))
		return false;
	done_say(done);
	return true;
}

int
command_done(struct session *session)
{
	struct done done = { .session = session };
	int64_t id;
	if (!session_job(session, 0, &id) || !show_load(session, &done.board))
		return (int)session->error.kind;
	stored_record_init(&done.record);
	bool good = record(&done, id);
	stored_record_release(&done.record);
	stored_jobs_free(done.jobs, done.job_count);
	board_release(&done.board);
	return good ? session_pass(session) : (int)session->error.kind;
}
