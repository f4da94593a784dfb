#include "store/schema.h"

#include "store/statement.h"
#include "store/store.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

static bool
refuse_stranger(const struct store *store, struct error *error)
{
	return error_set(
	    error, ERROR_INPUT, "%s: this is not a lull store", store->path);
}

static bool
refuse_newer(const struct store *store, int64_t version,
    const struct schema *schema, struct error *error)
{
	return error_set(error, ERROR_INPUT,
	    "%s: written by a newer lull (store version %" PRId64
	    ", this program knows %zu)",
	    store->path, version, schema->count);
}

/* Big-endian, as in the header of the file. */
static int64_t
read_four(const unsigned char *bytes)
{
	uint32_t value = (uint32_t)bytes[0] << 24 | (uint32_t)bytes[1] << 16 |
			 (uint32_t)bytes[2] << 8 | (uint32_t)bytes[3];
	return (int32_t)value;
}

/* The places are those of SQLite's file format, section "The Database
   Header". The bytes come through SQLite's own handle: closing another
   descriptor of the file would drop the locks that this process holds. */
bool
schema_recognize(
    const struct store *store, const struct schema *schema, struct error *error)
{
	enum { HEADER = 100, VERSION_AT = 60, APPLICATION_AT = 68 };
	static const char magic[16] = "SQLite format 3";
	static const unsigned char nothing[HEADER] = { 0 };
	unsigned char header[HEADER] = { 0 };
	sqlite3_file *file = NULL;
	(void)sqlite3_file_control(
	    store->database, "main", SQLITE_FCNTL_FILE_POINTER, &file);
	if (file == NULL || file->pMethods == NULL)
		return error_set(
		    error, ERROR_SYSTEM, "%s: cannot be read", store->path);
	/* What is missing of a shorter file reads as zeros. */
	int code = file->pMethods->xRead(file, header, HEADER, 0);
	bool is_short = code == SQLITE_IOERR_SHORT_READ;
	if (is_short && memcmp(header, nothing, HEADER) == 0)
		return true;
	if (code != SQLITE_OK && !is_short)
		return error_set(
		    error, ERROR_SYSTEM, "%s: cannot be read", store->path);
	int64_t version = read_four(header + VERSION_AT);
	if (memcmp(header, magic, sizeof magic) != 0 ||
	    read_four(header + APPLICATION_AT) != SCHEMA_APPLICATION)
		return refuse_stranger(store, error);
	if (version > (int64_t)schema->count)
		return refuse_newer(store, version, schema, error);
	return true;
}

static bool
read_number(
    struct store *store, const char *sql, int64_t *ret, struct error *error)
{
	struct statement query = statement_make(store, sql);
	int64_t value = 0;
	if (statement_row(&query))
		value = statement_integer(&query, 0, 0);
	if (!statement_end(&query, error))
		return false;
	*ret = value;
	return true;
}

/* The version as SQLite sees it, with the log: 0 for an empty file. Within a
   transaction, or another program may make the file between two questions. */
static bool
read_version(struct store *store, const struct schema *schema, size_t *ret,
    struct error *error)
{
	int64_t application = 0;
	int64_t version = 0;
	int64_t objects = 0;
	if (!read_number(store, "PRAGMA application_id", &application, error) ||
	    !read_number(store, "PRAGMA user_version", &version, error) ||
	    !read_number(
		store, "SELECT count(*) FROM sqlite_schema", &objects, error))
		return false;
	bool is_new = application == 0 && version == 0 && objects == 0;
	bool is_ours = application == SCHEMA_APPLICATION && version > 0;
	if (!is_new && !is_ours)
		return refuse_stranger(store, error);
	if (version > (int64_t)schema->count)
		return refuse_newer(store, version, schema, error);
	*ret = (size_t)version;
	return true;
}

static bool
look_at_version(struct store *store, const struct schema *schema, size_t *ret,
    struct error *error)
{
	if (!store_execute(store, "BEGIN", error))
		return false;
	bool good = read_version(store, schema, ret, error);
	store_rollback(store);
	return good;
}

static bool
take_step(struct store *store, const char *const *step, struct error *error)
{
	for (; *step != NULL; step++)
		if (!store_execute(store, *step, error))
			return false;
	return true;
}

/* Within a transaction. The version is read again, since another program may
   have brought the file up to date while this one waited. */
static bool
take_steps(
    struct store *store, const struct schema *schema, struct error *error)
{
	size_t version = 0;
	if (!read_version(store, schema, &version, error))
		return false;
	for (size_t i = version; i < schema->count; i++)
		if (!take_step(store, schema->steps[i], error))
			return false;
	char mark[96];
	(void)snprintf(mark, sizeof mark,
	    "PRAGMA application_id = %d; PRAGMA user_version = %zu",
	    SCHEMA_APPLICATION, schema->count);
	return store_execute(store, mark, error) &&
	       schema_check_links(store, error);
}

bool
schema_upgrade(
    struct store *store, const struct schema *schema, struct error *error)
{
	size_t version = 0;
	if (!look_at_version(store, schema, &version, error))
		return false;
	if (version == schema->count)
		return true;
	if (!store_write_begin(store, error))
		return false;
	bool done = take_steps(store, schema, error);
	return store_write_end(store, done, error);
}

bool
schema_check_links(struct store *store, struct error *error)
{
	struct statement query =
	    statement_make(store, "PRAGMA foreign_key_check");
	if (statement_row(&query))
		statement_refuse(&query, "a row refers to one that is missing");
	return statement_end(&query, error);
}
