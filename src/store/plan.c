#include "store/store.h"

#include "base/memory.h"
#include "store/statement.h"

#include <inttypes.h>
#include <stdlib.h>

bool
store_slot_put(
    struct store *store, const struct stored_slot *slot, struct error *error)
{
	if (slot->from >= slot->to)
		return error_set(error, ERROR_INPUT,
		    "%s: the slot of job %" PRId64 " ends before it begins",
		    store->path, slot->job);
	struct statement insert = statement_make(store,
	    "INSERT INTO slot (job, begins, ends, planned)"
	    " SELECT id, ?, ?, ? FROM job WHERE id = ? AND state = 'waiting'"
	    " ON CONFLICT (job) DO UPDATE SET begins = excluded.begins,"
	    " ends = excluded.ends, planned = excluded.planned");
	statement_bind_integer(&insert, slot->from);
	statement_bind_integer(&insert, slot->to);
	statement_bind_integer(&insert, slot->planned);
	statement_bind_integer(&insert, slot->job);
	if (!statement_write(&insert, error))
		return false;
	if (sqlite3_changes(store->database) > 0)
		return true;
	return error_set(
	    error, ERROR_ANSWER, "there is no waiting job %" PRId64, slot->job);
}

bool
store_slot_remove(struct store *store, int64_t job, struct error *error)
{
	struct statement removal =
	    statement_make(store, "DELETE FROM slot WHERE job = ?");
	statement_bind_integer(&removal, job);
	return statement_write(&removal, error);
}

bool
store_slots(struct store *store, struct stored_slot **ret, size_t *ret_count,
    struct error *error)
{
	struct statement query = statement_make(
	    store, "SELECT job, begins, ends, planned FROM slot ORDER BY job");
	struct stored_slot *slots = NULL;
	size_t count = 0;
	size_t capacity = 0;
	while (statement_row(&query)) {
		slots = memory_grow(slots, count, &capacity, sizeof *slots);
		slots[count++] = (struct stored_slot){
			.job = statement_integer(&query, 0, 0),
			.from = statement_integer(&query, 1, 0),
			.to = statement_integer(&query, 2, 0),
			.planned = statement_integer(&query, 3, 0),
		};
	}
	if (!statement_end(&query, error)) {
		free(slots);
		return false;
	}
	*ret = slots;
	*ret_count = count;
	return true;
}

bool
store_notice_put(struct store *store, const struct stored_notice *notice,
    struct error *error)
{
	struct statement insert = statement_make(store,
	    "INSERT INTO notice (uid, job, shown, until, title, text)"
	    " VALUES (?, ?, ?, ?, ?, ?)"
	    " ON CONFLICT (uid) DO UPDATE SET job = excluded.job,"
	    " shown = excluded.shown, until = excluded.until,"
	    " title = excluded.title, text = excluded.text");
	statement_bind_text(&insert, notice->uid);
	statement_bind_unless(&insert, notice->job, 0);
	statement_bind_integer(&insert, notice->at);
	statement_bind_integer(&insert, notice->until);
	statement_bind_text(&insert, notice->title);
	statement_bind_text(&insert, notice->text);
	return statement_write(&insert, error);
}

bool
store_notices(struct store *store, struct stored_notice **ret,
    size_t *ret_count, struct error *error)
{
	struct statement query = statement_make(store,
	    "SELECT uid, job, shown, until, title, text FROM notice"
	    " ORDER BY shown, uid");
	struct stored_notice *notices = NULL;
	size_t count = 0;
	size_t capacity = 0;
	while (statement_row(&query)) {
		notices =
		    memory_grow(notices, count, &capacity, sizeof *notices);
		notices[count++] = (struct stored_notice){
			.uid = statement_text(&query, 0),
			.job = statement_integer(&query, 1, 0),
			.at = statement_integer(&query, 2, 0),
			.until = statement_integer(&query, 3, 0),
			.title = statement_text(&query, 4),
			.text = statement_text(&query, 5),
		};
	}
	if (!statement_end(&query, error)) {
		stored_notices_free(notices, count);
		return false;
	}
	*ret = notices;
	*ret_count = count;
	return true;
}

void
stored_notices_free(struct stored_notice *notices, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		free(notices[i].uid);
		free(notices[i].title);
		free(notices[i].text);
	}
	free(notices);
}

bool
store_notices_prune(struct store *store, int64_t now, struct error *error)
{
	struct statement removal =
	    statement_make(store, "DELETE FROM notice WHERE until <= ?");
	statement_bind_integer(&removal, now);
	return statement_write(&removal, error);
}

bool
store_entry_put(
    struct store *store, const struct stored_entry *entry, struct error *error)
{
	struct statement insert = statement_make(store,
	    "INSERT INTO entry (uid, hash, sequence, revised)"
	    " VALUES (?, ?, ?, ?)"
	    " ON CONFLICT (uid) DO UPDATE SET hash = excluded.hash,"
	    " sequence = excluded.sequence, revised = excluded.revised"
	    " WHERE excluded.sequence >= entry.sequence");
	statement_bind_text(&insert, entry->uid);
	/* SQLite has no unsigned numbers: the same 64 bits go in and out. */
	statement_bind_integer(&insert, (int64_t)entry->hash);
	statement_bind_integer(&insert, entry->sequence);
	statement_bind_integer(&insert, entry->revised);
	if (!statement_write(&insert, error))
		return false;
	if (sqlite3_changes(store->database) > 0)
		return true;
	return error_set(error, ERROR_INPUT,
	    "%s: entry %s: sequence %d is lower than the published one",
	    store->path, entry->uid, entry->sequence);
}

bool
store_entries(struct store *store, struct stored_entry **ret, size_t *ret_count,
    struct error *error)
{
	struct statement query = statement_make(store,
	    "SELECT uid, hash, sequence, revised FROM entry ORDER BY uid");
	struct stored_entry *entries = NULL;
	size_t count = 0;
	size_t capacity = 0;
	while (statement_row(&query)) {
		entries =
		    memory_grow(entries, count, &capacity, sizeof *entries);
		entries[count++] = (struct stored_entry){
			.uid = statement_text(&query, 0),
			.hash = (uint64_t)statement_integer(&query, 1, 0),
			.sequence = (int)statement_integer(&query, 2, 0),
			.revised = statement_integer(&query, 3, 0),
		};
	}
	if (!statement_end(&query, error)) {
		stored_entries_free(entries, count);
		return false;
	}
	*ret = entries;
	*ret_count = count;
	return true;
}

void
stored_entries_free(struct stored_entry *entries, size_t count)
{
	for (size_t i = 0; i < count; i++)
		free(entries[i].uid);
	free(entries);
}
