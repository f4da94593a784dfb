#include "store/store.h"

#include "base/memory.h"
#include "store/statement.h"

#include <inttypes.h>
#include <stdlib.h>

/* The number that `sql` gives for `id`; 0 when it gives none. */
static bool
look_up(struct store *store, const char *sql, int64_t id, int64_t *ret,
    struct error *error)
{
	struct statement query = statement_make(store, sql);
	statement_bind_integer(&query, id);
	int64_t found = 0;
	if (statement_row(&query))
		found = statement_integer(&query, 0, 0);
	if (!statement_end(&query, error))
		return false;
	*ret = found;
	return true;
}

/* The tables refuse these too, but not in words for a person. */
static bool
check_links(struct store *store, const struct stored_record *record,
    struct error *error)
{
	int64_t job = 0;
	int64_t old = 0;
	int64_t newer = 0;
	if (!look_up(store, "SELECT id FROM job WHERE id = ?", record->job,
		&job, error) ||
	    !look_up(store, "SELECT id FROM record WHERE id = ?",
		record->replaces, &old, error) ||
	    !look_up(store, "SELECT id FROM record WHERE replaces = ?",
		record->replaces, &newer, error))
		return false;
	if (job != record->job)
		return error_set(error, ERROR_ANSWER,
		    "there is no job %" PRId64, record->job);
	if (old != record->replaces)
		return error_set(error, ERROR_ANSWER,
		    "there is no record %" PRId64, record->replaces);
	if (newer != 0)
		return error_set(error, ERROR_ANSWER,
		    "record %" PRId64 " is already replaced by record %" PRId64,
		    record->replaces, newer);
	return true;
}

static bool
insert_record(struct store *store, const struct stored_record *record,
    int64_t *ret_id, struct error *error)
{
	struct statement insert = statement_make(store,
	    "INSERT INTO record (job, replaces, site, began, ended, area, used,"
	    " air_temperature, wind, wind_direction, humidity, note, created)"
	    " VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)");
	statement_bind_unless(&insert, record->job, 0);
	statement_bind_unless(&insert, record->replaces, 0);
	statement_bind_text(&insert, record->site);
	statement_bind_integer(&insert, record->from);
	statement_bind_integer(&insert, record->to);
	statement_bind_real(&insert, record->area);
	statement_bind_real(&insert, record->used);
	statement_bind_real(&insert, record->air_temperature);
	statement_bind_real(&insert, record->wind);
	statement_bind_real(&insert, record->wind_direction);
	statement_bind_real(&insert, record->humidity);
	statement_bind_text(&insert, record->note);
	statement_bind_integer(&insert, record->created);
	if (!statement_run(&insert, error))
		return false;
	*ret_id = sqlite3_last_insert_rowid(store->database);
	return true;
}

static bool
insert_amount(struct store *store, int64_t record, size_t position,
    const struct stored_amount *amount, struct error *error)
{
	struct statement insert = statement_make(store,
	    "INSERT INTO amount (record, position, product, amount, unit)"
	    " VALUES (?, ?, ?, ?, ?)");
	statement_bind_integer(&insert, record);
	statement_bind_integer(&insert, (int64_t)position);
	statement_bind_text(&insert, amount->product);
	statement_bind_real(&insert, amount->amount);
	statement_bind_text(&insert, amount->is_mass ? "g" : "L");
	return statement_run(&insert, error);
}

static bool
insert_whole(struct store *store, const struct stored_record *record,
    int64_t *ret_id, struct error *error)
{
	int64_t id = 0;
	if (!check_links(store, record, error) ||
	    !insert_record(store, record, &id, error))
		return false;
	for (size_t i = 0; i < record->amount_count; i++)
		if (!insert_amount(store, id, i, &record->amount[i], error))
			return false;
	*ret_id = id;
	return true;
}

bool
store_record_add(struct store *store, const struct stored_record *record,
    int64_t *ret_id, struct error *error)
{
	if (record->amount_count == 0 ||
	    record->amount_count > LIMIT_TANK_PRODUCTS)
		return error_set(error, ERROR_INPUT,
		    "%s: a record has 1 to %d products, not %zu", store->path,
		    LIMIT_TANK_PRODUCTS, record->amount_count);
	if (record->from > record->to)
		return error_set(error, ERROR_INPUT,
		    "%s: a record ends before it begins", store->path);
	int64_t id = 0;
	if (!store_write_begin(store, error))
		return false;
	bool done = insert_whole(store, record, &id, error);
	if (!store_write_end(store, done, error))
		return false;
	*ret_id = id;
	return true;
}

static struct stored_record
read_record(struct statement *query)
{
	return (struct stored_record){
		.id = statement_integer(query, 0, 0),
		.job = statement_integer(query, 1, 0),
		.replaces = statement_integer(query, 2, 0),
		.site = statement_text(query, 3),
		.from = statement_integer(query, 4, 0),
		.to = statement_integer(query, 5, 0),
		.area = statement_real(query, 6),
		.used = statement_real(query, 7),
		.air_temperature = statement_real(query, 8),
		.wind = statement_real(query, 9),
		.wind_direction = statement_real(query, 10),
		.humidity = statement_real(query, 11),
		.note = statement_text(query, 12),
		.created = statement_integer(query, 13, 0),
	};
}

static void
read_amount(struct statement *query, struct stored_record *record)
{
	char *product = statement_text(query, 14);
	if (product == NULL)
		return; /* the outer join found none */
	if (record->amount_count == LIMIT_TANK_PRODUCTS) {
		statement_refuse(query, "a record has too many products");
		free(product);
		return;
	}
	record->amount[record->amount_count++] = (struct stored_amount){
		.product = product,
		.amount = statement_real(query, 15),
		.is_mass = statement_integer(query, 16, 0) != 0,
	};
}

bool
store_records(struct store *store, struct stored_record **ret,
    size_t *ret_count, struct error *error)
{
	struct statement query = statement_make(store,
	    "SELECT id, job, replaces, site, began, ended, area, used,"
	    " air_temperature, wind, wind_direction, humidity, note, created,"
	    " product, amount, unit = 'g'"
	    " FROM record LEFT JOIN amount ON amount.record = record.id"
	    " WHERE NOT EXISTS (SELECT 1 FROM record AS later"
	    " WHERE later.replaces = record.id)"
	    " ORDER BY began, id, position");
	struct stored_record *records = NULL;
	size_t count = 0;
	size_t capacity = 0;
	while (statement_row(&query)) {
		int64_t id = statement_integer(&query, 0, 0);
		if (count == 0 || records[count - 1].id != id) {
			records = memory_grow(
			    records, count, &capacity, sizeof *records);
			records[count++] = read_record(&query);
		}
		read_amount(&query, &records[count - 1]);
	}
	if (!statement_end(&query, error)) {
		stored_records_free(records, count);
		return false;
	}
	*ret = records;
	*ret_count = count;
	return true;
}

void
stored_records_free(struct stored_record *records, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		free(records[i].site);
		for (size_t j = 0; j < records[i].amount_count; j++)
			free(records[i].amount[j].product);
		free(records[i].note);
	}
	free(records);
}
