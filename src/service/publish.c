#include "service/publish.h"

#include "base/file.h"
#include "base/memory.h"
#include "service/publish_parts.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct composed *
agenda_add(struct agenda *agenda)
{
	agenda->item = memory_grow(
	    agenda->item, agenda->count, &agenda->capacity, sizeof(void *));
	agenda->item[agenda->count] = memory_array(1, sizeof(struct composed));
	return agenda->item[agenda->count++];
}

static void
release_agenda(struct agenda *agenda)
{
	for (size_t i = 0; i < agenda->count; i++) {
		composed_release(agenda->item[i]);
		free(agenda->item[i]);
	}
	free(agenda->item);
}

struct compose_style
agenda_style(const struct keeper *keeper)
{
	return (struct compose_style){ .units = keeper->config.units,
		.evening_alarm = keeper->config.evening_alarm,
		.keep_off = keeper->config.keep_off };
}

/*
 * The windows as they were before the slot began: windows begin now at the
 * earliest, and what is said of a slot may not change because time goes by.
 */
static struct window *
windows_around(const struct board_job *job, size_t *ret_count)
{
	struct window_limits limits = job->limits;
	if (job->slot.from < limits.now)
		limits.now = job->slot.from;
	return windows_find(&job->site->outlook, job->book.check,
	    job->book.count, &job->verdicts, &limits, ret_count);
}

static void
add_job(struct agenda *agenda, const struct keeper *keeper,
    const struct board *board, const struct board_job *job,
    enum plan_outcome outcome)
{
	const struct sheet_facts bench = { .bench = &keeper->config.bench,
		.solution = board->solution,
		.solution_count = board->made_count };
	struct compose_style style = agenda_style(keeper);
	struct judgement judgement = board_judgement(job);
	const char *credit = job->site->chain.credit;
	if (!job->has_slot) {
		struct compose_none none = { outcome, job->site->chain.trouble,
			credit };
		compose_none(&judgement, &none, &style, agenda_add(agenda));
		return;
	}
	size_t count;
	struct window *around = windows_around(job, &count);
	struct compose_slot facts = { .slot = job->slot,
		.planned = job->planned,
		.window = window_of(around, count, job->slot.from),
		.trouble = job->site->chain.trouble,
		.credit = credit,
		.caution = job->caution,
		.caution_count = job->caution_count,
		.sheet = &bench };
	facts.verdict = board_slot_verdict(job, &facts.start);
	compose_slot(&judgement, &facts, &style, agenda_add(agenda));
	free(around);
	char tank[LIMIT_TEXT_BYTES];
	compose_keep_off(job->job.uid, job->job.site,
	    tank_print(tank, sizeof tank, &job->job.tank), job->slot.to,
	    tank_keep_off(&job->job.tank, style.keep_off), agenda_add(agenda));
}

static bool
add_notices(struct agenda *agenda, struct store *store,
    struct stored_notice **ret, size_t *ret_count, struct error *error)
{
	if (!store_notices(store, ret, ret_count, error))
		return false;
	for (size_t i = 0; i < *ret_count; i++) {
		const struct stored_notice *notice = &(*ret)[i];
		compose_notice(notice->uid, notice->at, notice->title,
		    notice->text, NULL, agenda_add(agenda));
	}
	return true;
}

static const struct stored_entry *
find_entry(const struct stored_entry *entries, size_t count, const char *uid)
{
	for (size_t i = 0; i < count; i++)
		if (strcmp(entries[i].uid, uid) == 0)
			return &entries[i];
	return NULL;
}

/* The revision of an entry: a new one when its content is not as published. */
static bool
revise(struct store *store, const struct stored_entry *known, size_t count,
    struct composed *composed, int64_t now, struct error *error)
{
	struct entry *entry = &composed->entry;
	uint64_t hash = entry_hash(entry);
	const struct stored_entry *old = find_entry(known, count, entry->uid);
	if (old != NULL && old->hash == hash) {
		entry->sequence = old->sequence;
		entry->revised = old->revised;
		return true;
	}
	entry->sequence = old == NULL ? 0 : old->sequence + 1;
	entry->revised =
	    old != NULL && now <= old->revised ? old->revised + 1 : now;
	struct stored_entry fresh = { composed->uid, hash, entry->sequence,
		entry->revised };
	return store_entry_put(store, &fresh, error);
}

static bool
revise_all(struct agenda *agenda, struct store *store, int64_t now,
    struct error *error)
{
	struct stored_entry *known;
	size_t count;
	if (!store_entries(store, &known, &count, error))
		return false;
	bool good = true;
	for (size_t i = 0; i < agenda->count && good; i++)
		good = revise(store, known, count, agenda->item[i], now, error);
	stored_entries_free(known, count);
	return good;
}

static bool
write_agenda(const struct agenda *agenda, struct text *ret, struct error *error)
{
	struct calendar_head head = { .name = "Spray windows",
		.description = "Good windows for the queued applications, made "
			       "from a forecast. The label rules.",
		.refresh = 3600 };
	struct entry *entries =
	    memory_array(agenda->count, sizeof(struct entry));
	for (size_t i = 0; i < agenda->count; i++) {
		entries[i] = agenda->item[i]->entry;
		if (entries[i].revised > head.revised)
			head.revised = entries[i].revised;
	}
	bool good = calendar_write(&head, entries, agenda->count, ret, error);
	free(entries);
	return good;
}

bool
publish_calendar(const struct keeper *keeper, const struct board *board,
    const struct result *results, struct text *ret, struct error *error)
{
	struct agenda agenda = { 0 };
	struct stored_notice *notices = NULL;
	size_t notice_count = 0;
	for (size_t i = 0; i < board->job_count; i++)
		if (board->job[i].trouble[0] == '\0')
			add_job(&agenda, keeper, board, &board->job[i],
			    results[i].outcome);
		else if (board->job[i].site != NULL)
			compose_refused(&board->job[i].job, board->now,
			    board->job[i].trouble, agenda_add(&agenda));
	bool good = agenda_add_records(&agenda, keeper, board, error) &&
		    add_notices(&agenda, keeper->store, &notices, &notice_count,
			error) &&
		    revise_all(&agenda, keeper->store, board->now, error) &&
		    write_agenda(&agenda, ret, error);
	release_agenda(&agenda);
	stored_notices_free(notices, notice_count);
	return good;
}

bool
publish_file(const char *path, const struct text *bytes, struct error *error)
{
	struct text old;
	text_init(&old, LIMIT_CALENDAR_BYTES);
	bool same =
	    file_read(path, &old, NULL) && old.length == bytes->length &&
	    memcmp(text_string(&old), text_string(bytes), old.length) == 0;
	text_release(&old);
	return same ||
	       file_replace(path, text_string(bytes), bytes->length, error);
}

char *
publish_calendar_path(const struct keeper *keeper)
{
	return keeper->config.calendar != NULL
		   ? memory_string(keeper->config.calendar)
		   : keeper_path(keeper, "lull.ics");
}

char *
publish_page_path(const struct keeper *keeper)
{
	return keeper->config.page != NULL ? memory_string(keeper->config.page)
					   : keeper_path(keeper, "lull.html");
}
