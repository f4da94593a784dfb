#include "cli/session.h"

#include "base/memory.h"
#include "cli/show.h"
#include "turf/mix.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Without times: the slot when it has begun, else a job that ends now. */
static bool
read_span(struct session *session, const struct board_job *job, int64_t now,
    struct stored_record *record)
{
	const struct zone *zone = &job->job.site->zone;
	bool from_slot = job->has_slot && job->slot.from < now;
	record->to = from_slot && job->slot.to <= now ? job->slot.to : now;
	record->from =
	    from_slot ? job->slot.from : record->to - job->limits.duration;
	if (!session_time(session, "from", zone, &record->from))
		return false;
	if (session_option(session, "from") != NULL &&
	    session_option(session, "to") == NULL)
		record->to = record->from + job->limits.duration;
	if (!session_time(session, "to", zone, &record->to))
		return false;
	if (record->from >= record->to)
		return error_set(&session->error, ERROR_INPUT,
		    "it would have ended before it began");
	if (record->from > now)
		return error_set(&session->error, ERROR_INPUT,
		    "it would have begun in the future");
	return true;
}

/* As planned, or in the share of the mix that was used. */
static void
fill_amounts(const struct job *job, struct stored_record *record)
{
	struct mix mix;
	bool known = mix_make(job, &mix, NULL);
	double share = known && !isnan(record->used) && mix.carrier > 0
			   ? record->used / mix.carrier
			   : 1;
	for (size_t i = 0; i < job->tank.count; i++)
		record->amount[record->amount_count++] = (struct stored_amount){
			memory_string(job->tank.dose[i].product->name),
			known ? mix.total[i] * share : NAN,
			!known || mix.kind[i] == QUANTITY_MASS
		};
}

static bool
read_record(struct session *session, const struct board_job *job, int64_t now,
    struct stored_record *record)
{
	record->site = memory_string(job->job.site->name);
	record->area = job->job.area;
	if (!session_text(session, "note", &record->note) ||
	    !session_quantity(
		session, "used", QUANTITY_VOLUME, 0, 1e6, &record->used))
		return false;
	fill_amounts(&job->job, record);
	return read_span(session, job, now, record) &&
	       session_quantity(
		   session, "wind", QUANTITY_SPEED, 0, 75, &record->wind) &&
	       session_quantity(session, "direction", QUANTITY_ANGLE, 0, 360,
		   &record->wind_direction) &&
	       session_quantity(session, "air", QUANTITY_TEMPERATURE, -60, 60,
		   &record->air_temperature) &&
	       session_quantity(session, "humidity", QUANTITY_PERCENT, 0, 100,
		   &record->humidity);
}

/* A job that repeats stands in the queue again, not before its time. */
static bool
queue_again(struct session *session, const struct stored_job *old,
    const struct stored_record *record)
{
	struct stored_job next = *old;
	char uid[80];
	int64_t id;
	if (!(old->repeat > 0))
		return true;
	(void)snprintf(uid, sizeof uid, "%.36s-r%" PRId64, old->uid, old->id);
	next.uid = uid;
	next.after = record->to + (int64_t)old->repeat;
	next.before = INT64_MAX;
	next.created = record->created;
	if (!store_job_add(session->keeper.store, &next, &id, &session->error))
		return false;
	if (!session->json)
		text_format(&session->out, "job %" PRId64 " repeats it\n", id);
	return true;
}

static bool
store_it(struct session *session, const struct stored_job *old,
    const struct stored_record *record)
{
	struct store *store = session->keeper.store;
	int64_t id;
	if (!store_begin(store, &session->error))
		return false;
	bool good =
	    store_record_add(store, record, &id, &session->error) &&
	    store_job_finish(store, old->id, STORED_DONE, &session->error) &&
	    queue_again(session, old, record) &&
	    store_commit(store, &session->error);
	if (!good)
		store_rollback(store);
	return good;
}

static const struct stored_job *
find_stored(const struct board *board, int64_t id)
{
	for (size_t i = 0; i < board->stored_count; i++)
		if (board->stored[i].id == id)
			return &board->stored[i];
	return NULL;
}

static void
say_done(struct session *session, const struct board_job *job,
    const struct stored_record *record)
{
	const struct zone *zone = &job->job.site->zone;
	char from[CIVIL_BUFFER], to[CIVIL_BUFFER];
	text_format(&session->out, "job %" PRId64 " is recorded: %s, %s-%s\n",
	    job->job.id, job->job.site->name,
	    civil_print(from, sizeof from, zone, record->from, CIVIL_DAY_CLOCK),
	    civil_print(to, sizeof to, zone, record->to, CIVIL_CLOCK));
}

int
command_done(struct session *session)
{
	struct board board;
	int64_t id;
	if (!session_job(session, 0, &id) || !show_load(session, &board))
		return (int)session->error.kind;
	const struct board_job *job = show_find(session, &board, id);
	struct stored_record record = { .job = id,
		.used = NAN,
		.air_temperature = NAN,
		.wind = NAN,
		.wind_direction = NAN,
		.humidity = NAN,
		.created = board.now };
	bool good = job != NULL &&
		    read_record(session, job, board.now, &record) &&
		    store_it(session, find_stored(&board, id), &record);
	if (good && session->json)
		session_print_outcome(session, id, "done");
	else if (good)
		say_done(session, job, &record);
	for (size_t i = 0; i < record.amount_count; i++)
		free(record.amount[i].product);
	free(record.site);
	free(record.note);
	board_release(&board);
	return good ? session_pass(session) : (int)session->error.kind;
}
