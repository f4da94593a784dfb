#include "store/store.h"

#include "base/memory.h"
#include "base/text.h"
#include "store/schema.h"
#include "store/statement.h"

#include <stdlib.h>
#include <string.h>

enum { BUSY_MILLISECONDS = 10000, RETRY_MILLISECONDS = 10 };

struct setting {
	const char *sql;
	const char *answer; /* NULL: gives none, and is asked in the next row */
};

static const struct setting settings[] = {
	{ "PRAGMA foreign_keys = ON", NULL },
	{ "PRAGMA foreign_keys", "1" },
	{ "PRAGMA synchronous = FULL", NULL },
	{ "PRAGMA synchronous", "2" },
	{ "PRAGMA journal_size_limit = 4194304", "4194304" },
};

static bool
apply(struct store *store, const struct setting *setting, struct error *error)
{
	struct statement query = statement_make(store, setting->sql);
	char *answer = NULL;
	if (statement_row(&query))
		answer = statement_text(&query, 0);
	bool good = statement_end(&query, error);
	if (good && setting->answer != NULL &&
	    (answer == NULL || strcmp(answer, setting->answer) != 0))
		good = error_set(error, ERROR_SYSTEM,
		    "%s: SQLite answers \"%s\" to \"%s\"", store->path,
		    answer == NULL ? "" : answer, setting->sql);
	free(answer);
	return good;
}

/* The journal is changed after the schema: a new file gets its tables in
   rollback mode, so that its header says from the first moment whose it is.
   SQLite does not wait for the lock with which it changes the journal. */
static bool
start_log(struct store *store, struct error *error)
{
	static const struct setting setting = { "PRAGMA journal_mode = WAL",
		"wal" };
	int left = BUSY_MILLISECONDS / RETRY_MILLISECONDS;
	(void)sqlite3_busy_timeout(store->database, 0);
	bool good = apply(store, &setting, error);
	while (!good && --left > 0 &&
	       sqlite3_errcode(store->database) == SQLITE_BUSY) {
		(void)sqlite3_sleep(RETRY_MILLISECONDS);
		good = apply(store, &setting, error);
	}
	(void)sqlite3_busy_timeout(store->database, BUSY_MILLISECONDS);
	return good;
}

static bool
configure(struct store *store, struct error *error)
{
	sqlite3 *database = store->database;
	if (sqlite3_db_readonly(database, "main") != 0)
		return error_set(
		    error, ERROR_SYSTEM, "%s: cannot be written", store->path);
	/* Until the file is known to be ours, closing it writes nothing. */
	if (sqlite3_busy_timeout(database, BUSY_MILLISECONDS) != SQLITE_OK ||
	    sqlite3_db_config(
		database, SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, 1, NULL) != 0 ||
	    sqlite3_db_config(database, SQLITE_DBCONFIG_DEFENSIVE, 1, NULL) !=
		0 ||
	    sqlite3_db_config(
		database, SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0, NULL) != 0 ||
	    sqlite3_db_config(database, SQLITE_DBCONFIG_DQS_DML, 0, NULL) !=
		0 ||
	    sqlite3_db_config(database, SQLITE_DBCONFIG_DQS_DDL, 0, NULL) != 0)
		return error_set(error, ERROR_SYSTEM,
		    "%s: this SQLite lacks a setting", store->path);
	return true;
}

static bool
prepare(struct store *store, const struct schema *schema, struct error *error)
{
	if (!configure(store, error) ||
	    !schema_recognize(store, schema, error) ||
	    !store_execute(store,
		"PRAGMA foreign_keys = OFF; PRAGMA synchronous = FULL",
		error) ||
	    !schema_upgrade(store, schema, error) || !start_log(store, error))
		return false;
	for (size_t i = 0; i < sizeof settings / sizeof settings[0]; i++)
		if (!apply(store, &settings[i], error))
			return false;
	(void)sqlite3_db_config(
	    store->database, SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, 0, NULL);
	return true;
}

struct store *
store_open_as(
    const char *path, const struct schema *schema, struct error *error)
{
	struct store *store = memory_array(1, sizeof *store);
	store->path = memory_string(path);
	/* Names such as ":memory:" and "file:x" are to be plain files too. */
	struct text name;
	text_init(&name, strlen(path) + 2);
	(void)text_add(&name, path[0] == '/' ? "" : "./");
	(void)text_add(&name, path);
	int code = sqlite3_open_v2(text_string(&name), &store->database,
	    SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, NULL);
	text_release(&name);
	bool good = code == SQLITE_OK ? prepare(store, schema, error)
				      : store_fail(store, error);
	if (good)
		return store;
	store_close(store);
	return NULL;
}

struct store *
store_open(const char *path, struct error *error)
{
	return store_open_as(path, &schema_current, error);
}

void
store_close(struct store *store)
{
	if (store == NULL)
		return;
	(void)sqlite3_close(store->database);
	free(store->path);
	free(store);
}

/* A full disk can end the whole transaction inside SQLite. What follows would
   then be written alone, so it must not be written at all. */
static bool
is_undone(const struct store *store)
{
	return store->transaction &&
	       sqlite3_get_autocommit(store->database) != 0;
}

static bool
refuse_undone(const struct store *store, struct error *error)
{
	return error_set(error, ERROR_SYSTEM,
	    "%s: an earlier failure has undone the transaction", store->path);
}

bool
store_begin(struct store *store, struct error *error)
{
	if (store->transaction)
		return error_set(error, ERROR_SYSTEM,
		    "%s: a transaction is already open", store->path);
	if (!store_execute(store, "BEGIN IMMEDIATE", error))
		return false;
	store->transaction = true;
	return true;
}

bool
store_commit(struct store *store, struct error *error)
{
	if (!store->transaction)
		return error_set(error, ERROR_SYSTEM,
		    "%s: no transaction is open", store->path);
	bool good = is_undone(store) ? refuse_undone(store, error)
				     : store_execute(store, "COMMIT", error);
	if (!good)
		store_rollback(store);
	store->transaction = false;
	return good;
}

void
store_rollback(struct store *store)
{
	if (sqlite3_get_autocommit(store->database) == 0)
		(void)store_execute(store, "ROLLBACK", NULL);
	store->transaction = false;
}

bool
store_write_begin(struct store *store, struct error *error)
{
	if (is_undone(store))
		return refuse_undone(store, error);
	return store_execute(store,
	    store->transaction ? "SAVEPOINT writing" : "BEGIN IMMEDIATE",
	    error);
}

bool
store_write_end(struct store *store, bool done, struct error *error)
{
	if (done &&
	    store_execute(store,
		store->transaction ? "RELEASE writing" : "COMMIT", error))
		return true;
	if (sqlite3_get_autocommit(store->database) == 0)
		(void)store_execute(store,
		    store->transaction ? "ROLLBACK TO writing; RELEASE writing"
				       : "ROLLBACK",
		    NULL);
	return false;
}

/* Each gives a sentence for a row that breaks an invariant of store.h. */
static const char *const broken[] = {
	/* 1 */
	"SELECT 'job ' || id || ' has no product' FROM job"
	" WHERE id NOT IN (SELECT job FROM dose)",
	"SELECT 'record ' || id || ' has no product' FROM record"
	" WHERE id NOT IN (SELECT record FROM amount)",
	/* 2, 3, 5, 6, 8 and 9 tell of the past; the guards are what can be
	   seen now */
	"WITH guard (name) AS (VALUES ('record_is_final'),"
	" ('record_is_kept'), ('record_is_new'), ('amount_is_final'),"
	" ('amount_is_kept'), ('amount_is_new'), ('slot_of_waiting'),"
	" ('job_gives_up_slot'), ('entry_rises'), ('document_is_final'),"
	" ('document_is_new'), ('observation_is_final'),"
	" ('observation_is_kept'), ('observation_is_new'),"
	" ('calibration_is_final'), ('calibration_is_kept'),"
	" ('calibration_is_new'), ('solution_is_final'),"
	" ('solution_is_kept'), ('solution_is_new'))"
	" SELECT 'the guard ' || name || ' is missing' FROM guard"
	" WHERE name NOT IN"
	" (SELECT name FROM sqlite_schema WHERE type = 'trigger')",
	"SELECT 'record ' || id || ' replaces a later one' FROM record"
	" WHERE replaces >= id",
	/* 3 */
	"SELECT 'job ' || slot.job || ' has a slot but does not wait'"
	" FROM slot JOIN job ON job.id = slot.job WHERE state <> 'waiting'",
	/* 4 */
	"SELECT 'the slot of job ' || job || ' ends before it begins'"
	" FROM slot WHERE begins >= ends",
	/* 6 */
	"SELECT 'document ' || id || ' has no address' FROM document"
	" WHERE address = ''",
	/* 8 */
	"SELECT 'observation ' || later.id || ' replaces one of another site'"
	" FROM observation AS later JOIN observation AS old"
	" ON old.id = later.replaces WHERE old.site <> later.site",
};

static bool
ask(struct store *store, const char *sql, struct error *error)
{
	struct statement query = statement_make(store, sql);
	char *sentence = NULL;
	if (statement_row(&query))
		sentence = statement_text(&query, 0);
	bool good = statement_end(&query, error);
	if (good && sentence != NULL)
		good = error_set(
		    error, ERROR_SYSTEM, "%s: %s", store->path, sentence);
	free(sentence);
	return good;
}

bool
store_check(struct store *store, struct error *error)
{
	/* Before SQLite's own check, which is true to the letter but says
	   less: "CHECK constraint failed in slot". */
	for (size_t i = 0; i < sizeof broken / sizeof broken[0]; i++)
		if (!ask(store, broken[i], error))
			return false;
	const struct setting sound = { "PRAGMA integrity_check(1)", "ok" };
	return store_check_documents(store, error) &&
	       schema_check_links(store, error) && apply(store, &sound, error);
}
