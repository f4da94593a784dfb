#include "cli/session.h"

#include "base/memory.h"
#include "cli/propose.h"
#include "cli/show.h"
#include "config/values.h"
#include "service/sprayers.h"
#include "turf/weeds.h"

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
	struct sprayer *sprayers;
	struct job job;
	if (!sprayers_load(&session->keeper, now, &sprayers, &session->error))
		return false;
	bool good = board_resolve(
	    &session->keeper.config, sprayers, stored, &job, &session->error);
	int64_t duration = good ? job_duration(&job) : 0;
	free(sprayers);
	if (!good)
		return false;
	if (job.before == INT64_MAX)
		return true;
	if (job.after >= job.before)
		return error_set(&session->error, ERROR_INPUT,
		    "the job would have to end before it starts: --before is "
		    "not later than --after");
	int64_t from = job.after > now ? job.after : now;
	char span[QUANTITY_BUFFER];
	if (from + duration <= job.before)
		return true;
	return error_set(&session->error, ERROR_INPUT,
	    "the job takes %s and does not fit before --before",
	    span_print(span, sizeof span, (double)duration));
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
	return check_span(session, job, job->created);
}

static bool
name_job(struct session *session, struct stored_job *job)
{
	struct stored_job *before;
	size_t place; /* how many jobs there were before this one */
	if (!store_jobs(
		session->keeper.store, false, &before, &place, &session->error))
		return false;
	stored_jobs_free(before, place);
	job->uid = make_uid(session, job, place);
	return true;
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

/* True when cards of the tank list weeds, and none of them this one. */
static bool
is_off_the_cards(
    const struct config *config, const struct stored_job *job, const char *weed)
{
	bool any = false;
	for (size_t i = 0; i < job->dose_count; i++) {
		const struct product *product =
		    config_product(config, job->dose[i].product);
		any |= product->control_count > 0;
		if (product_controls(product, weed))
			return false;
	}
	return any;
}

/* The weeds that no card of the tank lists; an array that the caller frees. */
static struct conflict *
find_weed_cautions(const struct session *session, const struct stored_job *job,
    size_t *ret_count)
{
	struct conflict *cautions =
	    memory_array(session->given_count, sizeof *cautions);
	const char *weed;
	size_t count = 0;
	for (size_t i = 0;
	     (weed = session_option_at(session, "weed", i)) != NULL; i++)
		if (is_off_the_cards(&session->keeper.config, job, weed))
			(void)snprintf(cautions[count++].text, CONFLICT_TEXT,
			    "no card in the tank lists %s among the weeds that "
			    "it controls",
			    weed);
	*ret_count = count;
	return cautions;
}

/* The job, with what the weeds have to say. */
static int
show_queued(
    struct session *session, const struct stored_job *stored, int64_t id)
{
	size_t count;
	struct conflict *cautions = find_weed_cautions(session, stored, &count);
	int code = show_job(session, id, cautions, count);
	free(cautions);
	return code;
}

static int
queue_job(struct session *session, struct stored_job *job)
{
	int64_t id = 0;
	if (!name_job(session, job) || !may_be_queued(session, job) ||
	    !store_job_add(session->keeper.store, job, &id, &session->error))
		return (int)session->error.kind;
	int code = session_pass(session);
	if (code != 0) {
		/* So that nobody queues it again. */
		(void)error_prefix(
		    &session->error, "job %" PRId64 " is queued, but", id);
		return code;
	}
	return show_queued(session, job, id);
}

int
command_add(struct session *session)
{
	struct stored_job job = { .after = INT64_MIN,
		.before = INT64_MAX,
		.priority = 5,
		.state = STORED_WAITING };
	int code;
	if (session->word_count == 1 && session_option(session, "weed") == NULL)
		return session_fail(session, ERROR_INPUT,
		    "name what to spray (lull add %.64s PRODUCT...) or what "
		    "against (lull add %.64s --weed W...), then tanks are "
		    "proposed",
		    session->word[0], session->word[0]);
	if (!read_job(session, &job))
		code = (int)session->error.kind;
	else if (session->word_count == 1)
		code = propose_tanks(session, &job);
	else
		code = queue_job(session, &job);
	free_parts(&job);
	return code;
}
