#include "service/publish.h"

#include "base/file.h"
#include "base/memory.h"
#include "calendar/compose.h"
#include "service/watering.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The entries of one calendar, each on its own so that strings stay put. */
struct sheet {
	struct composed **item; /* owned */
	size_t count, capacity;
};

static struct composed *
new_item(struct sheet *sheet)
{
	sheet->item = memory_grow(
	    sheet->item, sheet->count, &sheet->capacity, sizeof(void *));
	sheet->item[sheet->count] = memory_array(1, sizeof(struct composed));
	return sheet->item[sheet->count++];
}

static void
release_sheet(struct sheet *sheet)
{
	for (size_t i = 0; i < sheet->count; i++) {
		composed_release(sheet->item[i]);
		free(sheet->item[i]);
	}
	free(sheet->item);
}

static struct compose_style
style_of(const struct keeper *keeper)
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
add_job(struct sheet *sheet, const struct keeper *keeper,
    const struct board_job *job, enum plan_outcome outcome)
{
	struct compose_style style = style_of(keeper);
	struct judgement judgement = board_judgement(job);
	const char *credit = job->site->chain.credit;
	if (!job->has_slot) {
		struct compose_none none = { outcome, job->site->chain.trouble,
			credit };
		compose_none(&judgement, &none, &style, new_item(sheet));
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
		.caution_count = job->caution_count };
	facts.verdict = board_slot_verdict(job, &facts.start);
	compose_slot(&judgement, &facts, &style, new_item(sheet));
	free(around);
	char tank[LIMIT_TEXT_BYTES];
	compose_keep_off(job->job.uid, job->job.site,
	    tank_print(tank, sizeof tank, &job->job.tank), job->slot.to,
	    compose_keep_off_span(&job->job.tank, &style), new_item(sheet));
}

/* A card's keep-off, from the names in a record. */
static struct tank_mix
tank_of(const struct config *config, const struct stored_record *record)
{
	struct tank_mix tank = { .count = 0 };
	for (size_t i = 0; i < record->amount_count; i++) {
		const struct product *product =
		    config_product(config, record->amount[i].product);
		if (product != NULL)
			tank.dose[tank.count++].product = product;
	}
	return tank;
}

enum { RECORD_UID = 64 };

static void
name_record(char uid[RECORD_UID], const struct stored_record *record)
{
	(void)snprintf(uid, RECORD_UID, "record-%" PRId64 "-%" PRId64,
	    record->created, record->id);
}

/* People stay off what was sprayed, for as long as it is not a day ago. */
static void
add_record(struct sheet *sheet, const struct keeper *keeper,
    const struct board *board, const struct stored_record *record)
{
	struct compose_style style = style_of(keeper);
	const struct site *site = config_site(&keeper->config, record->site);
	struct tank_mix tank = tank_of(&keeper->config, record);
	double span = compose_keep_off_span(&tank, &style);
	char uid[RECORD_UID], name[LIMIT_TEXT_BYTES];
	if (site == NULL ||
	    record->to + (int64_t)span + DAY_SECONDS < board->now)
		return;
	name_record(uid, record);
	compose_keep_off(uid, site, tank_print(name, sizeof name, &tank),
	    record->to, span, new_item(sheet));
}

/* Whether the product's water can still be of interest. */
static bool
wants_water(const struct product *product, const struct stored_record *record,
    int64_t now)
{
	if (product == NULL || !(product->water.amount > 0))
		return false;
	int64_t shown = (int64_t)(WATER_SHOWN_DAYS + 2) * DAY_SECONDS;
	return record->to + (int64_t)product->water.within + shown > now;
}

static bool
add_water(struct sheet *sheet, const struct keeper *keeper,
    const struct board *board, const struct stored_record *record,
    struct error *error)
{
	const struct config *config = &keeper->config;
	const struct board_site *site = board_find_site(board, record->site);
	struct compose_style style = style_of(keeper);
	char uid[RECORD_UID];
	name_record(uid, record);
	for (size_t i = 0; site != NULL && i < record->amount_count; i++) {
		const struct product *product =
		    config_product(config, record->amount[i].product);
		struct water_ledger ledger;
		if (!wants_water(product, record, board->now))
			continue;
		if (!watering_account(
			keeper, board, record, product, &ledger, error))
			return false;
		if (!water_is_due(
			&ledger, civil_day(&site->site->zone, board->now)))
			continue;
		struct compose_water facts = { uid, i, site->site, product,
			record->to, &ledger, site->chain.credit };
		compose_irrigate(&facts, &style, new_item(sheet));
	}
	return true;
}

static bool
add_records(struct sheet *sheet, const struct keeper *keeper,
    const struct board *board, struct error *error)
{
	bool good = true;
	for (size_t i = 0; i < board->record_count && good; i++) {
		add_record(sheet, keeper, board, &board->record[i]);
		good =
		    add_water(sheet, keeper, board, &board->record[i], error);
	}
	return good;
}

static bool
add_notices(struct sheet *sheet, struct store *store,
    struct stored_notice **ret, size_t *ret_count, struct error *error)
{
	if (!store_notices(store, ret, ret_count, error))
		return false;
	for (size_t i = 0; i < *ret_count; i++) {
		const struct stored_notice *notice = &(*ret)[i];
		compose_notice(notice->uid, notice->at, notice->title,
		    notice->text, NULL, new_item(sheet));
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
revise_all(
    struct sheet *sheet, struct store *store, int64_t now, struct error *error)
{
	struct stored_entry *known;
	size_t count;
	if (!store_entries(store, &known, &count, error))
		return false;
	bool good = true;
	for (size_t i = 0; i < sheet->count && good; i++)
		good = revise(store, known, count, sheet->item[i], now, error);
	stored_entries_free(known, count);
	return good;
}

static bool
write_sheet(const struct sheet *sheet, struct text *ret, struct error *error)
{
	struct calendar_head head = { .name = "Spray windows",
		.description = "Good windows for the queued applications, made "
			       "from a forecast. The label rules.",
		.refresh = 3600 };
	struct entry *entries =
	    memory_array(sheet->count, sizeof(struct entry));
	for (size_t i = 0; i < sheet->count; i++) {
		entries[i] = sheet->item[i]->entry;
		if (entries[i].revised > head.revised)
			head.revised = entries[i].revised;
	}
	bool good = calendar_write(&head, entries, sheet->count, ret, error);
	free(entries);
	return good;
}

bool
publish_calendar(const struct keeper *keeper, const struct board *board,
    const struct result *results, struct text *ret, struct error *error)
{
	struct sheet sheet = { 0 };
	struct stored_notice *notices = NULL;
	size_t notice_count = 0;
	for (size_t i = 0; i < board->job_count; i++)
		if (board->job[i].trouble[0] == '\0')
			add_job(
			    &sheet, keeper, &board->job[i], results[i].outcome);
		else if (board->job[i].site != NULL)
			compose_refused(&board->job[i].job, board->now,
			    board->job[i].trouble, new_item(&sheet));
	bool good = add_records(&sheet, keeper, board, error) &&
		    add_notices(&sheet, keeper->store, &notices, &notice_count,
			error) &&
		    revise_all(&sheet, keeper->store, board->now, error) &&
		    write_sheet(&sheet, ret, error);
	release_sheet(&sheet);
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
