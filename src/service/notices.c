#include "service/notices.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

enum { MORNING = 7, EVENING = 21, HOUR = 3600, NOTICE_BYTES = 2000 };

/*
 * When the notice rings: now by day, at seven when it is night, but an hour
 * before the earlier of the two slots at the latest.
 */
static int64_t
ringing_time(const struct board_job *job, const struct slot *old, int64_t now)
{
	const struct zone *zone = &job->job.site->zone;
	struct civil civil = civil_from_utc(zone, now);
	int64_t at = now + 60;
	if (civil.hour >= MORNING && civil.hour < EVENING)
		return at;
	int64_t day = civil_day(zone, now) + (civil.hour >= EVENING ? 1 : 0);
	int64_t morning = civil_day_start(zone, day) + (int64_t)MORNING * HOUR;
	int64_t least = job->has_slot && job->slot.from < old->from
			    ? job->slot.from
			    : old->from;
	int64_t latest = least - HOUR;
	int64_t wanted = morning < latest ? morning : latest;
	return wanted > at ? wanted : at;
}

/* Why the old slot is no good, in a sentence. */
static void
explain(const struct board_job *job, const struct slot *old, int64_t now,
    enum unit_system units, char *buffer, size_t size)
{
	size_t start;
	const struct zone *zone = &job->job.site->zone;
	enum verdict verdict = board_verdict(job, old->from, &start);
	size_t rule = reason_leading(
	    job->book.check, job->book.count, &job->verdicts, start);
	if (old->to <= now) {
		(void)snprintf(buffer, size,
		    "the slot went by and no record says that it was done");
	} else if (job->site->chain.trouble[0] != '\0') {
		(void)snprintf(
		    buffer, size, "cannot tell: %s", job->site->chain.trouble);
	} else if (verdict == VERDICT_GO || rule == job->book.count) {
		(void)snprintf(buffer, size,
		    "another job of higher priority has that time, or the job "
		    "takes longer now");
	} else {
		const struct check *check = &job->book.check[rule];
		struct reason reason;
		char sentence[REASON_BUFFER];
		reason_make(&job->site->outlook, check, job->limits.duration,
		    start, &reason);
		(void)snprintf(buffer, size, "%s (%s)",
		    reason_print(
			sentence, sizeof sentence, &reason, zone, units),
		    check->rule.owner);
	}
}

/* "MOVED: front, post-a: Tue 3 Mar 07:00 to Thu 5 Mar 06:45" */
static void
write_title(struct text *title, const struct board_job *job,
    const struct slot *old, bool went_by)
{
	const struct zone *zone = &job->job.site->zone;
	char tank[LIMIT_TEXT_BYTES], when[CIVIL_BUFFER];
	text_format(title, "%s %s, %s: %s",
	    went_by         ? "DONE?"
	    : job->has_slot ? "MOVED:"
			    : "NO LONGER GO:",
	    job->job.site->name, tank_print(tank, sizeof tank, &job->job.tank),
	    civil_print(when, sizeof when, zone, old->from, CIVIL_DAY_CLOCK));
	if (went_by)
		text_add(title, " went by");
	else if (!job->has_slot)
		text_add(title, " is withdrawn");
	if (job->has_slot)
		text_format(title, "%s%s", went_by ? ", next " : " to ",
		    civil_print(when, sizeof when, zone, job->slot.from,
			CIVIL_DAY_CLOCK));
}

static void
write_text(struct text *text, const struct board_job *job,
    const struct slot *old, int64_t now, enum unit_system units)
{
	char why[LIMIT_TEXT_BYTES];
	explain(job, old, now, units, why, sizeof why);
	text_format(text, "Why: %s.\n", why);
	if (old->to <= now)
		text_format(text, "If it was done: lull done %" PRId64 "\n",
		    job->job.id);
	text_format(
	    text, "Everything about it: lull why %" PRId64 "\n", job->job.id);
}

bool
notice_move(struct store *store, const struct board_job *job,
    const struct slot *old, int64_t now, enum unit_system units,
    struct error *error)
{
	struct text title, text;
	char uid[96];
	if (job->job.after > old->from && old->to > now)
		return true; /* the keeper did it */
	text_init(&title, NOTICE_BYTES);
	text_init(&text, NOTICE_BYTES);
	write_title(&title, job, old, old->to <= now);
	write_text(&text, job, old, now, units);
	(void)snprintf(uid, sizeof uid, "%s-move-%" PRId64, job->job.uid, now);
	struct stored_notice notice = { .uid = uid,
		.job = job->job.id,
		.at = ringing_time(job, old, now),
		.title = (char *)text_string(&title),
		.text = (char *)text_string(&text) };
	notice.until = notice.at + DAY_SECONDS;
	bool good = store_notice_put(store, &notice, error);
	text_release(&title);
	text_release(&text);
	return good;
}
