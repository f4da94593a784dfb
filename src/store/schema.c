#include "store/schema.h"

#include "store/statement.h"
#include "store/store.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

static const char *const version_1[] = {
	"CREATE TABLE job ("
	" id INTEGER PRIMARY KEY,"
	" uid TEXT NOT NULL UNIQUE,"
	" site TEXT NOT NULL,"
	" area REAL NOT NULL CHECK (area >= 0),"
	" not_before INTEGER,"
	" not_after INTEGER,"
	" priority INTEGER NOT NULL,"
	" repeat REAL NOT NULL CHECK (repeat >= 0),"
	" weeds TEXT NOT NULL,"
	" note TEXT NOT NULL,"
	" state TEXT NOT NULL CHECK (state IN ('waiting', 'done', 'dropped')),"
	" created INTEGER NOT NULL"
	") STRICT",

	"CREATE TABLE dose ("
	" job INTEGER NOT NULL REFERENCES job (id),"
	" position INTEGER NOT NULL CHECK (position >= 0),"
	" product TEXT NOT NULL,"
	" rate TEXT,"
	" PRIMARY KEY (job, position)"
	") STRICT, WITHOUT ROWID",

	"CREATE TABLE record ("
	" id INTEGER PRIMARY KEY,"
	" job INTEGER REFERENCES job (id),"
	" replaces INTEGER UNIQUE REFERENCES record (id),"
	" site TEXT NOT NULL,"
	" began INTEGER NOT NULL,"
	" ended INTEGER NOT NULL,"
	" area REAL,"
	" used REAL,"
	" air_temperature REAL,"
	" wind REAL,"
	" wind_direction REAL,"
	" humidity REAL,"
	" note TEXT NOT NULL,"
	" created INTEGER NOT NULL,"
	" CHECK (began <= ended),"
	" CHECK (replaces < id)"
	") STRICT",

	"CREATE TABLE amount ("
	" record INTEGER NOT NULL REFERENCES record (id),"
	" position INTEGER NOT NULL CHECK (position >= 0),"
	" product TEXT NOT NULL,"
	" amount REAL,"
	" unit TEXT NOT NULL CHECK (unit IN ('g', 'L')),"
	" PRIMARY KEY (record, position)"
	") STRICT, WITHOUT ROWID",

	"CREATE TABLE slot ("
	" job INTEGER PRIMARY KEY REFERENCES job (id),"
	" begins INTEGER NOT NULL,"
	" ends INTEGER NOT NULL,"
	" planned INTEGER NOT NULL,"
	" CHECK (begins < ends)"
	") STRICT",

	"CREATE TABLE notice ("
	" uid TEXT PRIMARY KEY NOT NULL,"
	" job INTEGER REFERENCES job (id),"
	" shown INTEGER NOT NULL,"
	" until INTEGER NOT NULL,"
	" title TEXT NOT NULL,"
	" text TEXT NOT NULL"
	") STRICT",

	"CREATE TABLE entry ("
	" uid TEXT PRIMARY KEY NOT NULL,"
	" hash INTEGER NOT NULL,"
	" sequence INTEGER NOT NULL CHECK (sequence >= 0),"
	" revised INTEGER NOT NULL"
	") STRICT",

	"CREATE TABLE source ("
	" address TEXT PRIMARY KEY NOT NULL,"
	" etag TEXT,"
	" last_modified TEXT,"
	" checked INTEGER NOT NULL,"
	" due INTEGER NOT NULL,"
	" failures INTEGER NOT NULL CHECK (failures >= 0),"
	" trouble TEXT"
	") STRICT",

	"CREATE TABLE document ("
	" id INTEGER PRIMARY KEY,"
	" address TEXT NOT NULL CHECK (address <> ''),"
	" fetched INTEGER NOT NULL,"
	" issued INTEGER NOT NULL,"
	" size INTEGER NOT NULL,"
	" body BLOB NOT NULL,"
	" CHECK (size = length(body))"
	") STRICT",

	"CREATE INDEX document_by_age ON document (address, fetched)",

	/* The guards hold for whoever opens the file with another program. */
	"CREATE TRIGGER record_is_final BEFORE UPDATE ON record BEGIN"
	" SELECT RAISE(ABORT, 'a record is never changed'); END",
	"CREATE TRIGGER record_is_kept BEFORE DELETE ON record BEGIN"
	" SELECT RAISE(ABORT, 'a record is never deleted'); END",
	"CREATE TRIGGER amount_is_final BEFORE UPDATE ON amount BEGIN"
	" SELECT RAISE(ABORT, 'a record is never changed'); END",
	"CREATE TRIGGER amount_is_kept BEFORE DELETE ON amount BEGIN"
	" SELECT RAISE(ABORT, 'a record is never changed'); END",
	/* REPLACE deletes without asking the trigger of deletion. */
	"CREATE TRIGGER record_is_new BEFORE INSERT ON record"
	" WHEN EXISTS (SELECT 1 FROM record"
	" WHERE id = NEW.id OR replaces = NEW.replaces) BEGIN"
	" SELECT RAISE(ABORT, 'a record is never deleted'); END",
	"CREATE TRIGGER amount_is_new BEFORE INSERT ON amount"
	" WHEN EXISTS (SELECT 1 FROM amount"
	" WHERE record = NEW.record AND position = NEW.position) BEGIN"
	" SELECT RAISE(ABORT, 'a record is never changed'); END",
	"CREATE TRIGGER slot_of_waiting BEFORE INSERT ON slot"
	" WHEN (SELECT state FROM job WHERE id = NEW.job) <> 'waiting' BEGIN"
	" SELECT RAISE(ABORT, 'only a waiting job has a slot'); END",
	"CREATE TRIGGER job_gives_up_slot BEFORE UPDATE OF state ON job"
	" WHEN NEW.state <> 'waiting'"
	" AND EXISTS (SELECT 1 FROM slot WHERE job = OLD.id) BEGIN"
	" SELECT RAISE(ABORT, 'only a waiting job has a slot'); END",
	"CREATE TRIGGER entry_rises BEFORE UPDATE ON entry"
	" WHEN NEW.sequence < OLD.sequence BEGIN"
	" SELECT RAISE(ABORT, 'the sequence of an entry never falls'); END",

	NULL,
};

static const char *const version_2[] = {
	"ALTER TABLE source ADD COLUMN leads_to TEXT",

	/* Bodies that are there stay plain: to pack them is work for C, and
	   they are pruned in time. AUTOINCREMENT, so that whoever holds the id
	   of a document that is gone never gets another one. The body is last,
	   or each look at a column behind it would read through the body. */
	"CREATE TABLE document_2 ("
	" id INTEGER PRIMARY KEY AUTOINCREMENT,"
	" address TEXT NOT NULL CHECK (address <> ''),"
	" fetched INTEGER NOT NULL,"
	" issued INTEGER NOT NULL,"
	" etag TEXT,"
	" last_modified TEXT,"
	" size INTEGER NOT NULL CHECK (size >= 0),"
	" packing TEXT NOT NULL CHECK (packing IN ('plain', 'zlib')),"
	" body BLOB NOT NULL,"
	" CHECK (packing <> 'plain' OR size = length(body))"
	") STRICT",
	"INSERT INTO document_2 (id, address, fetched, issued, size, packing,"
	" body) SELECT id, address, fetched, issued, size, 'plain', body"
	" FROM document ORDER BY id",
	"DROP TABLE document",
	"ALTER TABLE document_2 RENAME TO document",
	"CREATE INDEX document_by_age ON document (address, fetched)",
	"CREATE TRIGGER document_is_final BEFORE UPDATE ON document BEGIN"
	" SELECT RAISE(ABORT, 'a document is never changed'); END",
	"CREATE TRIGGER document_is_new BEFORE INSERT ON document"
	" WHEN EXISTS (SELECT 1 FROM document WHERE id = NEW.id) BEGIN"
	" SELECT RAISE(ABORT, 'a document is never changed'); END",

	"CREATE TABLE day_weather ("
	" site TEXT NOT NULL CHECK (site <> ''),"
	" day INTEGER NOT NULL,"
	" high REAL,"
	" low REAL,"
	" mean REAL,"
	" soil REAL,"
	" PRIMARY KEY (site, day),"
	" CHECK (low <= high)"
	") STRICT, WITHOUT ROWID",

	"CREATE TABLE request ("
	" host TEXT NOT NULL CHECK (host <> ''),"
	" at INTEGER NOT NULL"
	") STRICT",
	"CREATE INDEX request_by_host ON request (host, at)",

	NULL,
};

/* The words are those of event_word; one more takes a row back. */
#define WITH_AMOUNT "'green', 'soil', 'rain', 'irrigation'"
#define WITHOUT_AMOUNT                                                         \
	"'mowing', 'seeding', 'sodding', 'overseeding', 'aerating',"           \
	" 'nothing'"

static const char *const version_3[] = {
	"ALTER TABLE day_weather ADD COLUMN rain REAL CHECK (rain >= 0)",

	"CREATE TABLE observation ("
	" id INTEGER PRIMARY KEY,"
	" replaces INTEGER UNIQUE REFERENCES observation (id),"
	" site TEXT NOT NULL CHECK (site <> ''),"
	" kind TEXT NOT NULL CHECK (kind IN (" WITH_AMOUNT ", " WITHOUT_AMOUNT
	")),"
	" at_from INTEGER NOT NULL,"
	" at_to INTEGER NOT NULL,"
	" amount REAL,"
	" note TEXT NOT NULL,"
	" created INTEGER NOT NULL,"
	" CHECK (at_from <= at_to),"
	" CHECK (replaces < id),"
	" CHECK ((amount IS NOT NULL) = (kind IN (" WITH_AMOUNT "))),"
	" CHECK (kind <> 'nothing' OR replaces IS NOT NULL)"
	") STRICT",
	"CREATE TRIGGER observation_is_final BEFORE UPDATE ON observation BEGIN"
	" SELECT RAISE(ABORT, 'an observation is never changed'); END",
	"CREATE TRIGGER observation_is_kept BEFORE DELETE ON observation BEGIN"
	" SELECT RAISE(ABORT, 'an observation is never deleted'); END",
	"CREATE TRIGGER observation_is_new BEFORE INSERT ON observation"
	" WHEN EXISTS (SELECT 1 FROM observation"
	" WHERE id = NEW.id OR replaces = NEW.replaces) BEGIN"
	" SELECT RAISE(ABORT, 'an observation is never deleted'); END",

	NULL,
};

static const char *const *const steps[] = { version_1, version_2, version_3 };

const struct schema schema_current = {
	.steps = steps,
	.count = sizeof steps / sizeof steps[0],
};

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
