#include "store/store.h"

#include "base/memory.h"
#include "store/table.h"

#include <inttypes.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static const struct column columns[] = {
#define AT(member) offsetof(struct stored_record, member)
	{ "id", COLUMN_ID, AT(id) },
	{ "job", COLUMN_LINK, AT(job) },
	{ "replaces", COLUMN_LINK, AT(replaces) },
	{ "site", COLUMN_NAME, AT(site) },
	{ "began", COLUMN_INTEGER, AT(from) },
	{ "ended", COLUMN_INTEGER, AT(to) },
	{ "utc_offset", COLUMN_LINK, AT(utc_offset) },
	{ "area", COLUMN_REAL, AT(area) },
	{ "used", COLUMN_REAL, AT(used) },
	{ "air_temperature", COLUMN_REAL, AT(measured.air_temperature) },
	{ "wind", COLUMN_REAL, AT(measured.wind) },
	{ "gust", COLUMN_REAL, AT(measured.gust) },
	{ "wind_direction", COLUMN_REAL, AT(measured.wind_direction) },
	{ "humidity", COLUMN_REAL, AT(measured.humidity) },
	{ "forecast_air_temperature", COLUMN_REAL,
	    AT(forecast.air_temperature) },
	{ "forecast_wind", COLUMN_REAL, AT(forecast.wind) },
	{ "forecast_gust", COLUMN_REAL, AT(forecast.gust) },
	{ "forecast_wind_direction", COLUMN_REAL, AT(forecast.wind_direction) },
	{ "forecast_humidity", COLUMN_REAL, AT(forecast.humidity) },
	{ "forecast_source", COLUMN_TEXT, AT(forecast_source) },
	{ "forecast_issued", COLUMN_LINK, AT(forecast_issued) },
	{ "verdict", COLUMN_TEXT, AT(verdict) },
	{ "reasons", COLUMN_TEXT, AT(reasons) },
	{ "who", COLUMN_TEXT, AT(who) },
	{ "certification", COLUMN_TEXT, AT(certification) },
	{ "client", COLUMN_TEXT, AT(client) },
	{ "place", COLUMN_TEXT, AT(place) },
	{ "weeds", COLUMN_TEXT, AT(weeds) },
	{ "turf", COLUMN_TEXT, AT(turf) },
	{ "sprayer", COLUMN_TEXT, AT(sprayer) },
	{ "carrier", COLUMN_REAL, AT(carrier) },
	{ "unusual", COLUMN_TEXT, AT(unusual) },
	{ "leftover", COLUMN_TEXT, AT(leftover) },
	{ "note", COLUMN_TEXT, AT(note) },
	{ "created", COLUMN_INTEGER, AT(created) },
#undef AT
};

enum { COLUMNS = sizeof columns / sizeof columns[0] };

static const struct table table = { "record", "began, id", columns, COLUMNS,
	sizeof(struct stored_record) };

static const struct {
	const char *word;
	enum quantity_kind kind;
} rate_units[] = {
	{ "g/m2", QUANTITY_MASS_PER_AREA },
	{ "L/m2", QUANTITY_VOLUME_PER_AREA },
	{ "g/L", QUANTITY_MASS_PER_VOLUME },
	{ "L/L", QUANTITY_VOLUME_PER_VOLUME },
};

enum { RATE_UNITS = sizeof rate_units / sizeof rate_units[0] };

/* NULL for a kind that no rate has; the table refuses it beside a rate. */
static const char *
rate_word(const struct stored_amount *amount)
{
	if (isnan(amount->rate))
		return NULL;
	for (size_t i = 0; i < RATE_UNITS; i++)
		if (rate_units[i].kind == amount->rate_kind)
			return rate_units[i].word;
	return NULL;
}

static enum quantity_kind
read_rate_kind(struct statement *query, int place)
{
	enum quantity_kind kind = QUANTITY_NUMBER;
	char *word = statement_text(query, place);
	for (size_t i = 0; word != NULL && i < RATE_UNITS; i++)
		if (strcmp(rate_units[i].word, word) == 0)
			kind = rate_units[i].kind;
	free(word);
	return kind;
}

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
insert_amount(struct store *store, int64_t record, size_t position,
    const struct stored_amount *amount, struct error *error)
{
	struct statement insert = statement_make(store,
	    "INSERT INTO amount (record, position, product, amount, unit,"
	    " registration, rate, rate_unit) VALUES (?, ?, ?, ?, ?, ?, ?, ?)");
	const char *registration = amount->registration;
	statement_bind_integer(&insert, record);
	statement_bind_integer(&insert, (int64_t)position);
	statement_bind_text(&insert, amount->product);
	statement_bind_real(&insert, amount->amount);
	statement_bind_text(&insert, amount->is_mass ? "g" : "L");
	statement_bind_text(&insert, registration == NULL ? "" : registration);
	statement_bind_real(&insert, amount->rate);
	statement_bind_text(&insert, rate_word(amount));
	return statement_run(&insert, error);
}

static bool
insert_whole(struct store *store, const struct stored_record *record,
    int64_t *ret_id, struct error *error)
{
	int64_t id = 0;
	if (!check_links(store, record, error) ||
	    !table_insert(store, &table, record, &id, error))
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

/* Behind the columns of the record stand replaced_by and the amount's. */
static void
read_amount(struct statement *query, struct stored_record *record)
{
	char *product = statement_text(query, COLUMNS + 1);
	if (product == NULL)
		return; /* the outer join found none */
	if (record->amount_count == LIMIT_TANK_PRODUCTS) {
		statement_refuse(query, "a record has too many products");
		free(product);
		return;
	}
	record->amount[record->amount_count++] = (struct stored_amount){
		.product = product,
		.amount = statement_real(query, COLUMNS + 2),
		.is_mass = statement_integer(query, COLUMNS + 3, 0) != 0,
		.registration = statement_text(query, COLUMNS + 4),
		.rate = statement_real(query, COLUMNS + 5),
		.rate_kind = read_rate_kind(query, COLUMNS + 6),
	};
}

/* One statement sees records and amounts of the same moment. */
static struct statement
ask_all(struct store *store, bool with_replaced)
{
	struct text sql;
	text_init(&sql, TABLE_SQL_BYTES);
	(void)text_add(&sql, "SELECT ");
	table_print_names(&table, &sql);
	(void)text_format(&sql,
	    ", (SELECT later.id FROM record AS later"
	    " WHERE later.replaces = record.id) AS replaced_by,"
	    " product, amount, unit = 'g', registration, rate, rate_unit"
	    " FROM record LEFT JOIN amount ON amount.record = record.id"
	    " WHERE ? OR replaced_by IS NULL ORDER BY %s, position",
	    table.order);
	struct statement query = statement_make(store, text_string(&sql));
	text_release(&sql);
	statement_bind_integer(&query, with_replaced);
	return query;
}

bool
store_records(struct store *store, bool with_replaced,
    struct stored_record **ret, size_t *ret_count, struct error *error)
{
	struct statement query = ask_all(store, with_replaced);
	struct stored_record *records = NULL;
	size_t count = 0;
	size_t capacity = 0;
	while (statement_row(&query)) {
		int64_t id = statement_integer(&query, 0, 0);
		if (count == 0 || records[count - 1].id != id) {
			records = memory_grow(
			    records, count, &capacity, sizeof *records);
			struct stored_record *record = &records[count++];
			stored_record_init(record);
			table_read(&table, &query, record);
			record->replaced_by =
			    statement_integer(&query, COLUMNS, 0);
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
stored_record_init(struct stored_record *record)
{
	table_init_row(&table, record);
	for (size_t i = 0; i < LIMIT_TANK_PRODUCTS; i++)
		record->amount[i] = (struct stored_amount){
			.amount = NAN, .rate = NAN, .rate_kind = QUANTITY_NUMBER
		};
}

void
stored_record_release(struct stored_record *record)
{
	for (size_t i = 0; i < record->amount_count; i++) {
		free(record->amount[i].product);
		free(record->amount[i].registration);
	}
	table_release_row(&table, record);
}

void
stored_records_free(struct stored_record *records, size_t count)
{
	for (size_t i = 0; i < count; i++)
		stored_record_release(&records[i]);
	free(records);
}
