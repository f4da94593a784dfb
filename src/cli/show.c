#include "cli/show.h"

#include "base/memory.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

bool
show_load(struct session *session, struct board *ret)
{
	return board_load(
	    ret, &session->keeper, clock_now(&session->clock), &session->error);
}

struct board_job *
show_find(struct session *session, const struct board *board, int64_t id)
{
	struct board_job *job = board_find(board, id);
	if (job != NULL && job->trouble[0] == '\0')
		return job;
	if (job == NULL)
		(void)error_set(&session->error, ERROR_ANSWER,
		    "no job %" PRId64 " is waiting", id);
	else
		(void)error_set(&session->error, ERROR_INPUT,
		    "job %" PRId64 ": %s", id, job->trouble);
	return NULL;
}

bool
show_is_go(const struct board_job *job)
{
	size_t start;
	return job->trouble[0] == '\0' && job->has_slot &&
	       board_slot_verdict(job, &start) == VERDICT_GO;
}

/* The reason with the least room. */
static void
print_tightest(char *buffer, size_t size, const struct board_job *job,
    size_t start, enum unit_system units)
{
	struct judgement judgement = board_judgement(job);
	struct reason best;
	char sentence[REASON_BUFFER], margin[QUANTITY_BUFFER * 2];
	if (judgement_nearest(&judgement, start, &best, 1) == 0)
		(void)snprintf(buffer, size, "all rules hold");
	else
		(void)snprintf(buffer, size, "nearest limit: %s: %s",
		    reason_print(sentence, sizeof sentence, &best,
			&job->job.site->zone, units),
		    reason_print_margin(margin, sizeof margin, &best, units));
}

/* Why the slot is not go. */
static void
print_leading(char *buffer, size_t size, const struct board_job *job,
    size_t start, enum unit_system units)
{
	size_t rule = reason_leading(
	    job->book.check, job->book.count, &job->verdicts, start);
	char sentence[REASON_BUFFER];
	struct reason reason;
	if (job->site->chain.trouble[0] != '\0' || rule == job->book.count) {
		(void)snprintf(buffer, size, "%s", job->site->chain.trouble);
		return;
	}
	reason_make(&job->site->outlook, &job->book.check[rule],
	    job->limits.duration, start, &reason);
	(void)snprintf(buffer, size, "%s (%s)",
	    reason_print(sentence, sizeof sentence, &reason,
		&job->job.site->zone, units),
	    job->book.check[rule].rule.owner);
}

static void
print_why(char *buffer, size_t size, const struct board_job *job,
    enum verdict *ret_verdict, enum unit_system units)
{
	size_t start = 0;
	*ret_verdict = VERDICT_UNKNOWN;
	if (job->trouble[0] != '\0') {
		/* one with a site is known, and forbids itself */
		*ret_verdict =
		    job->site != NULL ? VERDICT_NO_GO : VERDICT_UNKNOWN;
		(void)snprintf(buffer, size, "%s", job->trouble);
		return;
	}
	struct judgement judgement = board_judgement(job);
	if (job->has_slot) {
		*ret_verdict = board_slot_verdict(job, &start);
		if (*ret_verdict == VERDICT_GO)
			print_tightest(buffer, size, job, start, units);
		else
			print_leading(buffer, size, job, start, units);
	} else if (job->site->chain.trouble[0] != '\0') {
		(void)snprintf(buffer, size, "%s", job->site->chain.trouble);
	} else {
		*ret_verdict = blockers_unknown(&judgement) ? VERDICT_UNKNOWN
							    : VERDICT_NO_GO;
		blockers_tell(buffer, size, &judgement, units);
		if (job->window_count > 0)
			(void)snprintf(
			    buffer, size, "other jobs have the open hours");
	}
}

static void
add_json(cJSON *list, const struct board_job *job, enum verdict verdict,
    const char *why)
{
	cJSON *json = cJSON_CreateObject();
	cJSON_AddItemToArray(list, json);
	cJSON_AddNumberToObject(json, "job", (double)job->job.id);
	cJSON_AddStringToObject(json, "uid", job->job.uid);
	cJSON_AddStringToObject(json, "verdict", verdict_word(verdict));
	cJSON_AddStringToObject(json, "reason", why);
	if (job->trouble[0] != '\0')
		return;
	const struct zone *zone = &job->job.site->zone;
	cJSON_AddStringToObject(json, "site", job->job.site->name);
	cJSON *tank = cJSON_AddArrayToObject(json, "tank");
	for (size_t i = 0; i < job->job.tank.count; i++)
		cJSON_AddItemToArray(tank,
		    cJSON_CreateString(job->job.tank.dose[i].product->name));
	cJSON_AddNumberToObject(json, "priority", job->job.priority);
	cJSON_AddNumberToObject(json, "windows", (double)job->window_count);
	cJSON *cautions = cJSON_AddArrayToObject(json, "cautions");
	for (size_t i = 0; i < job->caution_count; i++)
		cJSON_AddItemToArray(
		    cautions, cJSON_CreateString(job->caution[i].text));
	if (!job->has_slot) {
		cJSON_AddNullToObject(json, "slot");
		return;
	}
	cJSON *slot = cJSON_AddObjectToObject(json, "slot");
	cJSON_AddItemToObject(slot, "from", json_time(zone, job->slot.from));
	cJSON_AddItemToObject(slot, "to", json_time(zone, job->slot.to));
}

void
show_add(struct session *session, const struct board_job *job, cJSON *list)
{
	char why[LIMIT_TEXT_BYTES], tank[LIMIT_TEXT_BYTES];
	char from[CIVIL_BUFFER], to[CIVIL_BUFFER];
	enum verdict verdict;
	print_why(why, sizeof why, job, &verdict, session->keeper.config.units);
	if (list != NULL) {
		add_json(list, job, verdict, why);
		return;
	}
	text_format(&session->out, "%3" PRId64 "  ", job->job.id);
	if (job->site == NULL) {
		text_format(&session->out, "cannot be judged: %s\n", why);
		return;
	}
	const struct zone *zone = &job->job.site->zone;
	text_format(&session->out, "%s, %s\n     ", job->job.site->name,
	    tank_print(tank, sizeof tank, &job->job.tank));
	if (job->has_slot && job->trouble[0] == '\0')
		text_format(&session->out, "%s-%s  %s: ",
		    civil_print(from, sizeof from, zone, job->slot.from,
			CIVIL_DAY_CLOCK),
		    civil_print(to, sizeof to, zone, job->slot.to, CIVIL_CLOCK),
		    verdict_word(verdict));
	else
		text_format(&session->out, "%s: ",
		    job->trouble[0] != '\0'      ? "no-go"
		    : verdict == VERDICT_UNKNOWN ? "unknown"
						 : "no window");
	text_format(&session->out, "%s\n", why);
	for (size_t i = 0; i < job->caution_count; i++)
		text_format(
		    &session->out, "     caution: %s\n", job->caution[i].text);
}

/* Behind those that the job has. */
static void
add_cautions(struct board_job *job, const struct conflict *more, size_t count)
{
	size_t capacity = job->caution_count;
	for (size_t i = 0; i < count; i++) {
		job->caution = memory_grow(job->caution, job->caution_count,
		    &capacity, sizeof *job->caution);
		job->caution[job->caution_count++] = more[i];
	}
}

int
show_job(struct session *session, int64_t id, const struct conflict *more,
    size_t count)
{
	struct board board;
	if (!show_load(session, &board))
		return (int)session->error.kind;
	struct board_job *job = board_find(&board, id);
	cJSON *json = session->json ? cJSON_CreateObject() : NULL;
	cJSON *list =
	    json != NULL ? cJSON_AddArrayToObject(json, "jobs") : NULL;
	bool go = job != NULL && show_is_go(job);
	if (job != NULL) {
		add_cautions(job, more, count);
		show_add(session, job, list);
	}
	if (json != NULL)
		(void)session_print_json(session, json);
	board_release(&board);
	return go ? 0 : ERROR_ANSWER;
}

char *
show_edge(char *buffer, size_t size, const struct board_job *job,
    const struct window_edge *edge, enum unit_system units)
{
	static const char *const cause[] = { "", "now", "not to start before",
		"to be over by then", "the forecast ends" };
	char words[REASON_BUFFER];
	size_t used = 0;
	(void)snprintf(buffer, size, "%s", cause[edge->cause]);
	if (edge->cause != EDGE_RULES)
		return buffer;
	for (size_t r = 0; r < job->book.count; r++) {
		const struct rule *rule = &job->book.check[r].rule;
		bool broken = verdict_broken(&job->verdicts, edge->start, r);
		if (!broken && !verdict_unknown(&job->verdicts, edge->start, r))
			continue;
		rule_print_short(words, sizeof words, rule, units);
		if (strstr(buffer, words) != NULL)
			continue;
		int wrote = snprintf(buffer + used, size - used, "%s%s%s",
		    used > 0 ? ", " : "", words, broken ? "" : " not known");
		used += wrote > 0 ? (size_t)wrote : 0;
		used = used >= size ? size - 1 : used;
	}
	return buffer;
}
