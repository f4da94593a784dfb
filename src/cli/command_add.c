#include "cli/session.h"

#include "base/memory.h"
#include "cli/show.h"
#include "config/values.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/random.h>

/* PRODUCT or PRODUCT=RATE; the dose's strings are the caller's to free. */
static bool
read_dose(const struct config *config, const char *word,
    struct stored_dose *ret, struct error *error)
{
	const char *equals = strchr(word, '=');
	size_t length = equals != NULL ? (size_t)(equals - word) : strlen(word);
	double rate;
	enum quantity_kind kind;
	struct stored_dose dose = { .product = memory_array(length + 1, 1) };
	memcpy(dose.product, word, length);
	bool good = config_product(config, dose.product) != NULL;
	if (!good)
		(void)error_set(error, ERROR_INPUT,
		    "product '%.64s' is not on file", dose.product);
	if (good && equals != NULL) {
		dose.rate = memory_string(equals + 1);
		good = value_rate(dose.rate, &rate, &kind, error) ||
		       error_prefix(error, "%s", dose.product);
	}
	if (good) {
		*ret = dose;
	} else {
		free(dose.product);
		free(dose.rate);
	}
	return good;
}

static bool
read_tank(struct session *session, struct stored_job *job)
{
	for (size_t i = 1; i < session->word_count; i++) {
		struct stored_dose *dose = &job->dose[job->dose_count];
		if (!read_dose(&session->keeper.config, session->word[i], dose,
			&session->error))
			return false;
		job->dose_count++;
		for (size_t j = 0; j + 1 < job->dose_count; j++)
			if (strcmp(job->dose[j].product, dose->product) == 0)
				return error_set(&session->error, ERROR_INPUT,
				    "%s is in the tank twice", dose->product);
	}
	return true;
}

static bool
read_priority(struct session *session, int *ret)
{
	const char *text = session_option(session, "priority");
	if (text == NULL)
		return true;
	if (text[0] < '1' || text[0] > '9' || text[1] != '\0')
		return error_set(&session->error, ERROR_INPUT,
		    "--priority: '%.40s' is none of 1 (first) to 9 (last)",
		    text);
	*ret = text[0] - '0';
	return true;
}

/* Does it fit between its own dates? */
static bool
check_span(
    struct session *session, const struct stored_job *stored, int64_t now)
{
	struct job job;
	if (!board_resolve(
		&session->keeper.config, stored, &job, &session->error))
		return false;
	if (job.before == INT64_MAX)
		return true;
	if (job.after >= job.before)
		return error_set(&session->error, ERROR_INPUT,
		    "the job would have to end before it starts: --before is "
		    "not later than --after");
	int64_t from = job.after > now ? job.after : now;
	char span[QUANTITY_BUFFER];
	if (from + job_duration(&job) <= job.before)
		return true;
	return error_set(&session->error, ERROR_INPUT,
	    "the job takes %s and does not fit before --before",
	    span_print(span, sizeof span, (double)job_duration(&job)));
}

/*
 * A random name (RFC 9562 version 4), so that it says nothing about anyone; on
 * a fixed clock one that follows from the job, so that a demonstration can be
 * repeated.
 */
static char *
make_uid(
    const struct session *session, const struct stored_job *job, size_t place)
{
	uint64_t half[2] = { 14695981039346656037U, 1099511628211U };
	char seed[LIMIT_TEXT_BYTES];
	int length = snprintf(seed, sizeof seed, "%lld %zu %s %s",
	    (long long)job->created, place, job->site, job->dose[0].product);
	for (int i = 0; i < length && i < (int)sizeof seed; i++) {
		half[0] = (half[0] ^ (unsigned char)seed[i]) * half[1];
		half[1] += half[0] << 1;
	}
	if (!session->clock.fixed)
		(void)!getrandom(half, sizeof half, 0);
	half[0] = (half[0] & 0xFFFFFFFFFFFF0FFFU) | 0x4000U;
	half[1] = (half[1] & 0x3FFFFFFFFFFFFFFFU) | 0x8000000000000000U;
	char *uid = memory_array(40, 1);
	(void)snprintf(uid, 40, "%08x-%04x-%04x-%04x-%012llx",
	    (unsigned)(half[0] >> 32), (unsigned)(half[0] >> 16 & 0xFFFF),
	    (unsigned)(half[0] & 0xFFFF), (unsigned)(half[1] >> 48),
	    (unsigned long long)(half[1] & 0xFFFFFFFFFFFFU));
	return uid;
}

static bool
read_job(struct session *session, struct stored_job *job)
{
	const struct site *site = session_site(session);
	if (site == NULL)
		return false;
	struct stored_job *before;
	size_t place; /* how many jobs there were before this one */
	job->site = memory_string(site->name);
	job->created = clock_now(&session->clock);
	if (!read_tank(session, job) ||
	    !session_quantity(
		session, "area", QUANTITY_AREA, 0.1, INFINITY, &job->area) ||
	    !session_quantity(session, "repeat", QUANTITY_SPAN, DAY_SECONDS,
		INFINITY, &job->repeat) ||
	    !session_time(session, "after", &site->zone, &job->after) ||
	    !session_time(session, "before", &site->zone, &job->before) ||
	    !read_priority(session, &job->priority) ||
	    !session_text(session, "weed", &job->weeds) ||
	    !session_text(session, "note", &job->note))
		return false;
	if (!store_jobs(
		session->keeper.store, false, &before, &place, &session->error))
		return false;
	stored_jobs_free(before, place);
	job->uid = make_uid(session, job, place);
	return check_span(session, job, job->created);
}

static void
free_parts(struct stored_job *job)
{
	for (size_t i = 0; i < job->dose_count; i++) {
		free(job->dose[i].product);
		free(job->dose[i].rate);
	}
	free(job->uid);
	free(job->site);
	free(job->weeds);
	free(job->note);
}

/* A tank that no weather makes right is not queued. */
static bool
may_be_queued(struct session *session, const struct stored_job *job)
{
	struct conflict *found = memory_array(CONFLICTS_MOST, sizeof *found);
	size_t count = 0;
	bool good = board_conflicts(
	    &session->keeper, job, found, &count, &session->error);
	if (good && count > 0 && found[0].forbids)
		good = error_set(&session->error, ERROR_ANSWER,
		    "not queued: %s", found[0].text);
	free(found);
	return good;
}

int
command_add(struct session *session)
{
	struct stored_job job = { .after = INT64_MIN,
		.before = INT64_MAX,
		.priority = 5,
		.state = STORED_WAITING };
	int64_t id = 0;
	int code;
	if (!read_job(session, &job) || !may_be_queued(session, &job) ||
	    !store_job_add(session->keeper.store, &job, &id, &session->error))
		code = (int)session->error.kind;
	else if ((code = session_pass(session)) != 0)
		/* So that nobody queues it again. */
		(void)error_prefix(
		    &session->error, "job %" PRId64 " is queued, but", id);
	free_parts(&job);
	return code != 0 ? code : show_job(session, id);
}
