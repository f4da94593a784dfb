#include "store/statement.h"

#include "base/memory.h"

#include <errno.h>
#include <math.h>
#include <string.h>

/* SQLite calls a disk that filled up while the log's index grew an I/O error;
   the keeper needs the reason, not the place. */
static bool
is_full(int code, int cause)
{
	return code == SQLITE_FULL ||
	       (code == SQLITE_IOERR && (cause == ENOSPC || cause == EDQUOT));
}

bool
store_fail(const struct store *store, struct error *error)
{
	int code = sqlite3_errcode(store->database) & 0xff;
	int cause = sqlite3_system_errno(store->database);
	if (is_full(code, cause))
		return error_set(error, ERROR_SYSTEM, "%s: %s", store->path,
		    sqlite3_errstr(SQLITE_FULL));
	const char *reason = sqlite3_errmsg(store->database);
	if ((code == SQLITE_IOERR || code == SQLITE_CANTOPEN) && cause != 0)
		return error_set(error, ERROR_SYSTEM, "%s: %s: %s", store->path,
		    reason, strerror(cause));
	enum error_kind kind =
	    code == SQLITE_CONSTRAINT ? ERROR_INPUT : ERROR_SYSTEM;
	return error_set(error, kind, "%s: %s", store->path, reason);
}

bool
store_execute(struct store *store, const char *sql, struct error *error)
{
	if (sqlite3_exec(store->database, sql, NULL, NULL, NULL) == SQLITE_OK)
		return true;
	return store_fail(store, error);
}

struct statement
statement_make(struct store *store, const char *sql)
{
	struct statement statement = { .store = store };
	statement.code = sqlite3_prepare_v2(
	    store->database, sql, -1, &statement.handle, NULL);
	return statement;
}

void
statement_release(struct statement *statement)
{
	(void)sqlite3_finalize(statement->handle);
	statement->handle = NULL;
}

void
statement_bind_text(struct statement *statement, const char *text)
{
	if (statement->code == SQLITE_OK)
		statement->code = sqlite3_bind_text(statement->handle,
		    ++statement->bound, text, -1, SQLITE_STATIC);
}

void
statement_bind_integer(struct statement *statement, int64_t value)
{
	if (statement->code == SQLITE_OK)
		statement->code = sqlite3_bind_int64(
		    statement->handle, ++statement->bound, value);
}

void
statement_bind_unless(
    struct statement *statement, int64_t value, int64_t absent)
{
	if (value != absent)
		statement_bind_integer(statement, value);
	else
		statement_bind_text(statement, NULL);
}

void
statement_bind_real(struct statement *statement, double value)
{
	if (isnan(value))
		statement_bind_text(statement, NULL);
	else if (statement->code == SQLITE_OK)
		statement->code = sqlite3_bind_double(
		    statement->handle, ++statement->bound, value);
}

void
statement_bind_blob(
    struct statement *statement, const void *data, size_t length)
{
	/* A NULL pointer would bind NULL instead of no bytes. */
	const void *bytes = length > 0 ? data : "";
	if (statement->code == SQLITE_OK)
		statement->code = sqlite3_bind_blob64(statement->handle,
		    ++statement->bound, bytes, length, SQLITE_STATIC);
}

bool
statement_row(struct statement *statement)
{
	if (statement->code != SQLITE_OK)
		return false;
	int code = sqlite3_step(statement->handle);
	if (code == SQLITE_ROW)
		return true;
	if (code != SQLITE_DONE)
		statement->code = code;
	return false;
}

void
statement_refuse(struct statement *statement, const char *refusal)
{
	if (statement->code != SQLITE_OK)
		return;
	statement->code = SQLITE_ERROR;
	statement->refusal = refusal;
}

bool
statement_end(struct statement *statement, struct error *error)
{
	bool good = statement->code == SQLITE_OK;
	if (statement->refusal != NULL)
		(void)error_set(error, ERROR_SYSTEM, "%s: %s",
		    statement->store->path, statement->refusal);
	else if (!good)
		(void)store_fail(statement->store, error);
	statement_release(statement);
	return good;
}

bool
statement_run(struct statement *statement, struct error *error)
{
	while (statement_row(statement))
		continue;
	return statement_end(statement, error);
}

bool
statement_write(struct statement *statement, struct error *error)
{
	struct store *store = statement->store;
	if (statement->code != SQLITE_OK)
		return statement_end(statement, error);
	if (!store_write_begin(store, error)) {
		statement_release(statement);
		return false;
	}
	bool done = statement_run(statement, error);
	return store_write_end(store, done, error);
}

char *
statement_text(struct statement *statement, int column)
{
	sqlite3_stmt *handle = statement->handle;
	if (sqlite3_column_type(handle, column) == SQLITE_NULL)
		return NULL;
	const unsigned char *text = sqlite3_column_text(handle, column);
	if (text == NULL)
		statement_refuse(statement, sqlite3_errstr(SQLITE_NOMEM));
	return memory_string((const char *)text);
}

int64_t
statement_integer(const struct statement *statement, int column, int64_t absent)
{
	if (sqlite3_column_type(statement->handle, column) == SQLITE_NULL)
		return absent;
	return sqlite3_column_int64(statement->handle, column);
}

double
statement_real(const struct statement *statement, int column)
{
	if (sqlite3_column_type(statement->handle, column) == SQLITE_NULL)
		return NAN;
	return sqlite3_column_double(statement->handle, column);
}

char *
statement_blob(struct statement *statement, int column, size_t *ret_length)
{
	const void *bytes = sqlite3_column_blob(statement->handle, column);
	size_t length = (size_t)sqlite3_column_bytes(statement->handle, column);
	char *copy = memory_array(length, 1);
	if (bytes != NULL)
		memcpy(copy, bytes, length);
	else if (length > 0)
		statement_refuse(statement, sqlite3_errstr(SQLITE_NOMEM));
	*ret_length = length;
	return copy;
}
