#include "store/store.h"

#include "base/memory.h"
#include "store/statement.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>
#include <zlib.h>

/* NULL when zlib lacks memory. */
static char *
pack(const char *body, size_t length, size_t *ret_length)
{
	uLongf packed = compressBound(length);
	char *bytes = memory_array(packed, 1);
	if (compress2((Bytef *)bytes, &packed, (const Bytef *)body, length,
		Z_DEFAULT_COMPRESSION) != Z_OK) {
		free(bytes);
		return NULL;
	}
	*ret_length = packed;
	return bytes;
}

/* False unless the bytes are one whole body of that size. One byte of room too
   many shows a body that is longer. */
static bool
unpack(const char *bytes, size_t length, size_t size, struct text *ret)
{
	uLongf room = size + 1;
	uLong used = length;
	char *body = memory_array(room, 1);
	if (uncompress2((Bytef *)body, &room, (const Bytef *)bytes, &used) !=
		Z_OK ||
	    room != size || used != length) {
		free(body);
		return false;
	}
	body[size] = '\0';
	*ret = (struct text){ .data = body,
		.length = size,
		.capacity = size + 1,
		.ceiling = size };
	return true;
}

bool
store_document_add(struct store *store, const char *address,
    const struct stored_document *document, const char *body,
    struct error *error)
{
	size_t length = 0;
	if (document->length > LIMIT_FORECAST_BYTES)
		return error_set(error, ERROR_INPUT,
		    "%s: a document of %zu bytes is too long (%d at most)",
		    store->path, document->length, LIMIT_FORECAST_BYTES);
	char *bytes = pack(body, document->length, &length);
	struct statement insert = statement_make(store,
	    "INSERT INTO document (address, fetched, issued, etag,"
	    " last_modified, size, packing, body)"
	    " VALUES (?, ?, ?, ?, ?, ?, 'zlib', ?)");
	if (bytes == NULL)
		statement_refuse(&insert, sqlite3_errstr(SQLITE_NOMEM));
	statement_bind_text(&insert, address);
	statement_bind_integer(&insert, document->fetched);
	statement_bind_integer(&insert, document->issued);
	statement_bind_text(&insert, document->etag);
	statement_bind_text(&insert, document->last_modified);
	statement_bind_integer(&insert, (int64_t)document->length);
	statement_bind_blob(&insert, bytes, length);
	bool done = statement_write(&insert, error);
	free(bytes);
	return done;
}

bool
store_documents(struct store *store, const char *address,
    struct stored_span span, struct stored_document **ret, size_t *ret_count,
    struct error *error)
{
	struct statement query = statement_make(store,
	    "SELECT id, fetched, issued, etag, last_modified, size"
	    " FROM document WHERE address = ?1 AND fetched <= ?3"
	    " AND (fetched >= ?2 OR id = (SELECT id FROM document"
	    " WHERE address = ?1 AND fetched <= ?3"
	    " ORDER BY fetched DESC, id DESC LIMIT 1))"
	    " ORDER BY fetched DESC, id DESC");
	statement_bind_text(&query, address);
	statement_bind_integer(&query, span.since);
	statement_bind_integer(&query, span.until);
	struct stored_document *documents = NULL;
	size_t count = 0;
	size_t capacity = 0;
	while (statement_row(&query)) {
		documents =
		    memory_grow(documents, count, &capacity, sizeof *documents);
		documents[count++] = (struct stored_document){
			.id = statement_integer(&query, 0, 0),
			.fetched = statement_integer(&query, 1, 0),
			.issued = statement_integer(&query, 2, 0),
			.etag = statement_text(&query, 3),
			.last_modified = statement_text(&query, 4),
			.length = (size_t)statement_integer(&query, 5, 0),
		};
	}
	if (!statement_end(&query, error)) {
		stored_documents_free(documents, count);
		return false;
	}
	*ret = documents;
	*ret_count = count;
	return true;
}

void
stored_documents_free(struct stored_document *documents, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		free(documents[i].etag);
		free(documents[i].last_modified);
	}
	free(documents);
}

/* The row that read_body reads. */
#define BODIES                                                                 \
	"SELECT address, coalesce(strftime('%Y-%m-%d %H:%M:%S UTC', fetched,"  \
	" 'unixepoch'), fetched), size, packing = 'plain', body FROM "         \
	"document "

/* Host and path: the rest of an address may hold secrets. */
static bool
refuse_damaged(const struct store *store, const char *address, const char *time,
    struct error *error)
{
	const char *start = strstr(address, "//");
	start = start == NULL ? address : start + 2;
	const char *user = start + strcspn(start, "@/?#");
	if (*user == '@')
		start = user + 1;
	return error_set(error, ERROR_INPUT,
	    "%s: the document that was fetched at %s is damaged: %.*s",
	    store->path, time, (int)strcspn(start, "?#"), start);
}

static bool
read_bytes(struct statement *row, struct text *ret)
{
	int64_t size = statement_integer(row, 2, -1);
	if (size < 0 || size > LIMIT_FORECAST_BYTES)
		return false;
	size_t length = 0;
	char *bytes = statement_blob(row, 4, &length);
	bool good = false;
	if (statement_integer(row, 3, 0) == 0) {
		good = unpack(bytes, length, (size_t)size, ret);
	} else if (length == (size_t)size) {
		text_init(ret, length);
		good = text_append(ret, bytes, length);
	}
	free(bytes);
	return good;
}

static bool
read_body(struct statement *row, struct text *ret, struct error *error)
{
	if (read_bytes(row, ret))
		return true;
	char *address = statement_text(row, 0);
	char *time = statement_text(row, 1);
	if (address != NULL && time != NULL)
		(void)refuse_damaged(row->store, address, time, error);
	free(address);
	free(time);
	return false;
}

bool
store_document_body(
    struct store *store, int64_t id, struct text *ret, struct error *error)
{
	struct statement query = statement_make(store, BODIES "WHERE id = ?");
	statement_bind_integer(&query, id);
	struct text body = { 0 };
	bool found = statement_row(&query);
	bool whole = found && read_body(&query, &body, error);
	if (!statement_end(&query, error)) {
		text_release(&body);
		return false;
	}
	if (!found)
		return error_set(
		    error, ERROR_ANSWER, "there is no document %" PRId64, id);
	if (whole)
		*ret = body;
	return whole;
}

bool
store_document_is_newest(struct store *store, const char *address,
    const struct stored_document *document, const char *body, bool *ret,
    struct error *error)
{
	struct statement query = statement_make(store,
	    BODIES "WHERE address = ? AND fetched <= ?"
		   " ORDER BY fetched DESC, id DESC LIMIT 1");
	statement_bind_text(&query, address);
	statement_bind_integer(&query, document->fetched);
	size_t length = document->length;
	struct text newest = { 0 };
	bool same = statement_row(&query) &&
		    statement_integer(&query, 2, -1) == (int64_t)length &&
		    read_body(&query, &newest, NULL) &&
		    (length == 0 || memcmp(newest.data, body, length) == 0);
	text_release(&newest);
	if (!statement_end(&query, error))
		return false;
	*ret = same;
	return true;
}

bool
store_check_documents(struct store *store, struct error *error)
{
	struct statement query = statement_make(store, BODIES "ORDER BY id");
	bool whole = true;
	while (whole && statement_row(&query)) {
		struct text body = { 0 };
		whole = read_body(&query, &body, error);
		text_release(&body);
	}
	return statement_end(&query, error) && whole;
}

/* In the order of the sum, what goes for its size comes last. Materialized,
   because a window over the table itself would read the bodies, not only their
   lengths. */
bool
store_documents_prune(struct store *store, int64_t before, int64_t bytes_most,
    struct error *error)
{
	struct statement removal = statement_make(store,
	    "WITH aged AS MATERIALIZED (SELECT id, fetched,"
	    " length(body) AS bytes, id = (SELECT id FROM document AS other"
	    " WHERE other.address = document.address"
	    " ORDER BY fetched DESC, id DESC LIMIT 1) AS newest FROM document),"
	    " summed AS (SELECT id, fetched, newest, sum(bytes) OVER"
	    " (ORDER BY newest DESC, fetched DESC, id DESC) AS total FROM aged)"
	    " DELETE FROM document WHERE id IN (SELECT id FROM summed"
	    " WHERE NOT newest AND (fetched < ? OR total > ?))");
	statement_bind_integer(&removal, before);
	statement_bind_integer(&removal, bytes_most);
	return statement_write(&removal, error);
}

bool
store_day_put(struct store *store, const char *site, const struct daily *day,
    struct error *error)
{
	struct statement insert = statement_make(store,
	    "INSERT INTO day_weather (site, day, high, low, mean, soil,"
	    " rain) VALUES (?, ?, ?, ?, ?, ?, ?)"
	    " ON CONFLICT (site, day) DO UPDATE SET high = excluded.high,"
	    " low = excluded.low, mean = excluded.mean, soil = excluded.soil,"
	    " rain = excluded.rain");
	statement_bind_text(&insert, site);
	statement_bind_integer(&insert, day->day);
	statement_bind_real(&insert, day->high);
	statement_bind_real(&insert, day->low);
	statement_bind_real(&insert, day->mean);
	statement_bind_real(&insert, day->soil);
	statement_bind_real(&insert, day->rain);
	return statement_write(&insert, error);
}

bool
store_days(struct store *store, const char *site, int64_t first_day,
    struct daily **ret, size_t *ret_count, struct error *error)
{
	struct statement query = statement_make(store,
	    "SELECT day, high, low, mean, soil, rain FROM day_weather"
	    " WHERE site = ? AND day >= ? ORDER BY day");
	statement_bind_text(&query, site);
	statement_bind_integer(&query, first_day);
	struct daily *days = NULL;
	size_t count = 0;
	size_t capacity = 0;
	while (statement_row(&query)) {
		days = memory_grow(days, count, &capacity, sizeof *days);
		days[count++] = (struct daily){
			.day = statement_integer(&query, 0, 0),
			.high = statement_real(&query, 1),
			.low = statement_real(&query, 2),
			.mean = statement_real(&query, 3),
			.soil = statement_real(&query, 4),
			.rain = statement_real(&query, 5),
		};
	}
	if (!statement_end(&query, error)) {
		free(days);
		return false;
	}
	*ret = days;
	*ret_count = count;
	return true;
}

bool
store_days_prune(struct store *store, int64_t before_day, struct error *error)
{
	struct statement removal =
	    statement_make(store, "DELETE FROM day_weather WHERE day < ?");
	statement_bind_integer(&removal, before_day);
	return statement_write(&removal, error);
}
