#include "store/store.h"

#include "base/memory.h"
#include "store/statement.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

/* In the order of enum stored_state. */
static const char *const state_names[] = { "waiting", "done", "dropped" };

enum { STATE_COUNT = sizeof state_names / sizeof state_names[0] };

static enum stored_state
state_of(const char *name)
{
	size_t state = 0;
	while (state + 1 < STATE_COUNT && strcmp(state_names[state], name) != 0)
		state++;
	return (enum stored_state)state;
}

static bool
refuse_absent(int64_t id, struct error *error)
{
	return error_set(
	    error, ERROR_ANSWER, "there is no waiting job %" PRId64, id);
}

static bool
insert_job(struct store *store, const struct stored_job *job, int64_t *ret_id,
    struct error *error)
{
	struct statement insert = statement_make(store,
	    "INSERT INTO job (uid, site, area, not_before, not_after,"
	    " priority, repeat, weeds, note, state, created)"
	    " VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)");
	statement_bind_text(&insert, job->uid);
	statement_bind_text(&insert, job->site);
	statement_bind_real(&insert, job->area);
	statement_bind_unless(&insert, job->after, INT64_MIN);
	statement_bind_unless(&insert, job->before, INT64_MAX);
	statement_bind_integer(&insert, job->priority);
	statement_bind_real(&insert, job->repeat);
	statement_bind_text(&insert, job->weeds);
	statement_bind_text(&insert, job->note);
	statement_bind_text(&insert, state_names[job->state]);
	statement_bind_integer(&insert, job->created);
	if (!statement_run(&insert, error))
		return false;
	*ret_id = sqlite3_last_insert_rowid(store->database);
	return true;
}

static bool
insert_dose(struct store *store, int64_t job, size_t position,
    const struct stored_dose *dose, struct error *error)
{
	struct statement insert = statement_make(store,
	    "INSERT INTO dose (job, position, product, rate)"
	    " VALUES (?, ?, ?, ?)");
	statement_bind_integer(&insert, job);
	statement_bind_integer(&insert, (int64_t)position);
	statement_bind_text(&insert, dose->product);
	statement_bind_text(&insert, dose->rate);
	return statement_run(&insert, error);
}

static bool
insert_tank(struct store *store, const struct stored_job *job, int64_t *ret_id,
    struct error *error)
{
	int64_t id = 0;
	if (!insert_job(store, job, &id, error))
		return false;
	for (size_t i = 0; i < job->dose_count; i++)
		if (!insert_dose(store, id, i, &job->dose[i], error))
			return false;
	*ret_id = id;
	return true;
}

bool
store_job_add(struct store *store, const struct stored_job *job,
    int64_t *ret_id, struct error *error)
{
	if (job->dose_count == 0 || job->dose_count > LIMIT_TANK_PRODUCTS)
		return error_set(error, ERROR_INPUT,
		    "%s: a job has 1 to %d products, not %zu", store->path,
		    LIMIT_TANK_PRODUCTS, job->dose_count);
	if ((size_t)job->state >= STATE_COUNT)
		return error_set(error, ERROR_INPUT,
		    "%s: a job has no state %d", store->path, (int)job->state);
	int64_t id = 0;
	if (!store_write_begin(store, error))
		return false;
	bool done = insert_tank(store, job, &id, error);
	if (!store_write_end(store, done, error))
		return false;
	*ret_id = id;
	return true;
}

static struct stored_job
read_job(struct statement *query)
{
	struct stored_job job = {
		.id = statement_integer(query, 0, 0),
		.uid = statement_text(query, 1),
		.site = statement_text(query, 2),
		.area = statement_real(query, 3),
		.after = statement_integer(query, 4, INT64_MIN),
		.before = statement_integer(query, 5, INT64_MAX),
		.priority = (int)statement_integer(query, 6, 0),
		.repeat = statement_real(query, 7),
		.weeds = statement_text(query, 8),
		.note = statement_text(query, 9),
		.created = statement_integer(query, 11, 0),
	};
	char *state = statement_text(query, 10);
	job.state = state_of(state == NULL ? "" : state);
	free(state);
	return job;
}

static void
read_dose(struct statement *query, struct stored_job *job)
{
	char *product = statement_text(query, 12);
	if (product == NULL)
		return; /* the outer join found none */
	if (job->dose_count == LIMIT_TANK_PRODUCTS) {
		statement_refuse(query, "a job has too many products");
		free(product);
		return;
	}
	job->dose[job->dose_count++] = (struct stored_dose){ .product = product,
		.rate = statement_text(query, 13) };
}

bool
store_jobs(struct store *store, bool waiting_only, struct stored_job **ret,
    size_t *ret_count, struct error *error)
{
	/* One statement sees jobs and doses of the same moment. */
	struct statement query = statement_make(store,
	    "SELECT job.id, uid, site, area, not_before, not_after, priority,"
	    " repeat, weeds, note, state, created, product, rate"
	    " FROM job LEFT JOIN dose ON dose.job = job.id"
	    " WHERE state = 'waiting' OR NOT ?"
	    " ORDER BY job.id, position");
	statement_bind_integer(&query, waiting_only);
	struct stored_job *jobs = NULL;
	size_t count = 0;
	size_t capacity = 0;
	while (statement_row(&query)) {
		int64_t id = statement_integer(&query, 0, 0);
		if (count == 0 || jobs[count - 1].id != id) {
			jobs =
			    memory_grow(jobs, count, &capacity, sizeof *jobs);
			jobs[count++] = read_job(&query);
		}
		read_dose(&query, &jobs[count - 1]);
	}
	if (!statement_end(&query, error)) {
		stored_jobs_free(jobs, count);
		return false;
	}
	*ret = jobs;
	*ret_count = count;
	return true;
}

static void
release_job(struct stored_job *job)
{
	free(job->uid);
	free(job->site);
	for (size_t i = 0; i < job->dose_count; i++) {
		free(job->dose[i].product);
		free(job->dose[i].rate);
	}
	free(job->weeds);
	free(job->note);
}

void
stored_jobs_free(struct stored_job *jobs, size_t count)
{
	for (size_t i = 0; i < count; i++)
		release_job(&jobs[i]);
	free(jobs);
}

static bool
give_up_slot(struct store *store, int64_t id, struct error *error)
{
	struct statement removal =
	    statement_make(store, "DELETE FROM slot WHERE job = ?");
	statement_bind_integer(&removal, id);
	return statement_run(&removal, error);
}

static bool
change_state(struct store *store, int64_t id, enum stored_state state,
    struct error *error)
{
	struct statement update = statement_make(store,
	    "UPDATE job SET state = ? WHERE id = ? AND state = 'waiting'");
	statement_bind_text(&update, state_names[state]);
	statement_bind_integer(&update, id);
	if (!statement_run(&update, error))
		return false;
	return sqlite3_changes(store->database) > 0 || refuse_absent(id, error);
}

bool
store_job_finish(struct store *store, int64_t id, enum stored_state state,
    struct error *error)
{
	if (state != STORED_DONE && state != STORED_DROPPED)
		return error_set(error, ERROR_INPUT,
		    "%s: a job ends as done or dropped", store->path);
	if (!store_write_begin(store, error))
		return false;
	bool done = give_up_slot(store, id, error) &&
		    change_state(store, id, state, error);
	return store_write_end(store, done, error);
}

bool
store_job_postpone(
    struct store *store, int64_t id, int64_t after, struct error *error)
{
	struct statement update = statement_make(store,
	    "UPDATE job SET not_before = ? WHERE id = ? AND state = 'waiting'");
	statement_bind_unless(&update, after, INT64_MIN);
	statement_bind_integer(&update, id);
	if (!statement_write(&update, error))
		return false;
	return sqlite3_changes(store->database) > 0 || refuse_absent(id, error);
}
