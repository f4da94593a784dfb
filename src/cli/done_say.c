/* What is told once it is stored. */
#include "cli/done.h"

#include "cli/records.h"
#include "turf/follow.h"

#include <inttypes.h>
#include <math.h>
#include <stdlib.h>

static size_t
list_follows(const struct done *done, struct follow ret[FOLLOWS_MOST])
{
	const struct config *config = &done->session->keeper.config;
	const struct stored_record *record = &done->record;
	const struct tank_mix tank = record_tank(config, record);
	struct follow_facts facts = { .site = config_site(config, record->site),
		.tank = &tank,
		.from = record->from,
		.to = record->to,
		.keep_off = config->keep_off };
	if (facts.site == NULL)
		return 0;
	struct application *applications =
	    done_applications(done, INT64_MAX, &facts.application_count);
	facts.applications = applications;
	size_t count = follow_list(&facts, ret);
	free(applications);
	return count;
}

/* L of the planned mix that was not sprayed; NaN when nobody can tell. */
static double
left_over(const struct done *done)
{
	const struct stored_record *record = &done->record;
	if (!done->is_resolved)
		return (double)NAN;
	double planned = done->job.area * record->carrier;
	double left = planned - record->used;
	/* less than what a keeper can read off a tank is none */
	return left <= planned * RECORD_GRAIN ? 0 : left;
}

/* A usual caution: common practice, no source. */
static void
say_leftover(const struct done *done)
{
	struct text *out = &done->session->out;
	const struct stored_record *record = &done->record;
	double left = left_over(done);
	char amount[QUANTITY_BUFFER];
	if (!(left > 0))
		return;
	text_format(out, "Left over: %s of mix",
	    quantity_print(amount, sizeof amount, left, QUANTITY_VOLUME,
		done->session->keeper.config.units));
	if (record->leftover[0] != '\0') {
		text_format(out, ": %s\n", record->leftover);
		return;
	}
	text_format(out,
	    ". Spray it out on the treated area within\nthe label's rate, or "
	    "do with it what the label says; rinse three times; never\ninto a "
	    "drain. Then say what became of it:\n"
	    "lull done %" PRId64 " --replaces %" PRId64 " --leftover TEXT\n",
	    record->job, record->id);
}

static void
say_head(const struct done *done, const struct zone *zone)
{
	struct text *out = &done->session->out;
	const struct stored_record *record = &done->record;
	char from[CIVIL_BUFFER], to[CIVIL_BUFFER];
	if (record->replaces == 0)
		text_format(out, "job %" PRId64 " is recorded", record->job);
	else
		text_format(out, "record %" PRId64 " replaces record %" PRId64,
		    record->id, record->replaces);
	text_format(out, ": %s, %s-%s%s\n", record->site,
	    civil_print(from, sizeof from, zone, record->from, CIVIL_DAY_CLOCK),
	    civil_print(to, sizeof to, zone, record->to, CIVIL_CLOCK),
	    zone->count == 0 ? " UTC" : "");
}

static void
say_missing(const struct done *done)
{
	const struct config *config = &done->session->keeper.config;
	struct text line;
	text_init(&line, LIMIT_OUTPUT_BYTES);
	text_add(&line, "Not told: ");
	size_t before = line.length;
	record_add_missing(&line, config, &done->record);
	if (line.length > before) {
		text_format(&line,
		    ". Your state may ask for more. Complete lull.conf where "
		    "it is silent, then: lull done %" PRId64
		    " --replaces %" PRId64 " ...",
		    done->record.job, done->record.id);
		records_wrap(&done->session->out, 0, text_string(&line));
	}
	text_release(&line);
}

static void
say_follows(const struct done *done, const struct zone *zone)
{
	struct follow follows[FOLLOWS_MOST];
	size_t count = list_follows(done, follows);
	char line[FOLLOW_BUFFER];
	if (count > 0)
		text_add(&done->session->out, "What follows:\n");
	for (size_t i = 0; i < count; i++)
		text_format(&done->session->out, "- %s\n",
		    follow_print(line, sizeof line, &follows[i], zone,
			done->session->keeper.config.units));
}

static void
say_verdict(const struct done *done)
{
	struct text *out = &done->session->out;
	if (done->not_asked[0] != '\0')
		text_format(out, "Recorded; the rules could not be asked: %s\n",
		    done->not_asked);
	if (done->record.verdict[0] == '\0')
		return;
	text_add(out, "Recorded; ");
	record_add_verdict(out, &done->record, "you measured");
}

static void
add_follows_json(const struct done *done, const struct zone *zone, cJSON *list)
{
	struct follow follows[FOLLOWS_MOST];
	size_t count = list_follows(done, follows);
	char line[FOLLOW_BUFFER];
	for (size_t i = 0; i < count; i++) {
		const struct follow *follow = &follows[i];
		cJSON *json = cJSON_CreateObject();
		cJSON_AddItemToArray(list, json);
		cJSON_AddStringToObject(json, "sentence",
		    follow_print(line, sizeof line, follow, zone,
			done->session->keeper.config.units));
		cJSON_AddItemToObject(json, "product",
		    follow->product != NULL
			? cJSON_CreateString(follow->product->name)
			: cJSON_CreateNull());
		cJSON_AddItemToObject(
		    json, "from", json_time(zone, follow->from));
		cJSON_AddItemToObject(json, "to",
		    follow->to != INT64_MAX ? json_time(zone, follow->to)
					    : cJSON_CreateNull());
	}
}

static void
say_json(const struct done *done, const struct zone *zone)
{
	const struct stored_record *record = &done->record;
	cJSON *json = cJSON_CreateObject();
	cJSON_AddNumberToObject(json, "job", (double)record->job);
	cJSON_AddStringToObject(json, "state", "done");
	cJSON_AddItemToObject(
	    json, "record", record_json(&done->session->keeper.config, record));
	cJSON_AddItemToObject(
	    json, "left-over-litres", json_rounded(left_over(done), 4));
	cJSON_AddItemToObject(json, "repeated-by",
	    done->repeated_by != 0
		? cJSON_CreateNumber((double)done->repeated_by)
		: cJSON_CreateNull());
	cJSON_AddItemToObject(json, "not-asked",
	    done->not_asked[0] != '\0' ? cJSON_CreateString(done->not_asked)
				       : cJSON_CreateNull());
	add_follows_json(done, zone, cJSON_AddArrayToObject(json, "follows"));
	(void)session_print_json(done->session, json);
}

void
done_say(const struct done *done)
{
	struct session *session = done->session;
	const struct config *config = &session->keeper.config;
	const struct zone zone = record_zone(config, &done->record);
	if (session->json) {
		say_json(done, &zone);
		return;
	}
	say_head(done, &zone);
	if (done->record.replaces == 0)
		text_format(
		    &session->out, "record %" PRId64 ": ", done->record.id);
	record_add_work(&session->out, config, &done->record);
	say_verdict(done);
	say_missing(done);
	say_leftover(done);
	say_follows(done, &zone);
	if (done->repeated_by != 0)
		text_format(&session->out, "job %" PRId64 " repeats it\n",
		    done->repeated_by);
}
