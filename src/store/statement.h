/*
 * What the files of this floor share and nobody above may see: the open store,
 * and statements that remember their first failure, so that a caller asks
 * once, at the end. Statements live within one call: a statement left open
 * would hold a snapshot, and the log could not be emptied.
 */
#ifndef STORE_STATEMENT_H
#define STORE_STATEMENT_H

#include "base/error.h"

#include <sqlite3.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

struct store {
	sqlite3 *database; /* owned */
	char *path;        /* owned; as given to store_open */
	bool transaction;  /* store_begin was called and not yet ended */
};

/* "PATH: " and the reason of SQLite's last failure; always false. */
bool store_fail(const struct store *store, struct error *error);

/* Runs SQL that needs no values and gives no rows. */
bool store_execute(struct store *store, const char *sql, struct error *error);

/*
 * The frame of one writing call: a transaction of its own, or a part of the
 * open one that can be undone alone. `done` says whether all went well; when
 * not, the call's changes are undone and `error` is left as it is.
 */
bool store_write_begin(struct store *store, struct error *error);
bool store_write_end(struct store *store, bool done, struct error *error);

/* Whether each document's body can be read: a part of store_check. */
bool store_check_documents(struct store *store, struct error *error);

struct statement {
	struct store *store;  /* borrowed */
	sqlite3_stmt *handle; /* owned */
	const char *refusal;  /* a reason of our own to fail; static */
	int code;             /* first failure, else SQLITE_OK */
	int bound;            /* values bound so far */
};

/* Never fails by itself: a wrong statement fails in its _end. */
struct statement statement_make(struct store *store, const char *sql);
void statement_release(struct statement *statement);

/* Each binds the next value. Text and blobs are borrowed until the end. */
void statement_bind_text(struct statement *statement, const char *text);
void statement_bind_integer(struct statement *statement, int64_t value);
void statement_bind_unless(/* NULL when value is `absent` */
    struct statement *statement, int64_t value, int64_t absent);
void statement_bind_real(struct statement *statement, double value);
void statement_bind_blob(
    struct statement *statement, const void *data, size_t length);

/* The next row; false at the end and on failure. */
bool statement_row(struct statement *statement);
void statement_refuse(struct statement *statement, const char *refusal);

/* Releases the statement; false when anything failed since _make. */
bool statement_end(struct statement *statement, struct error *error);
/* All rows, then the end. */
bool statement_run(struct statement *statement, struct error *error);
/* The same within its own store_write_begin and _end. */
bool statement_write(struct statement *statement, struct error *error);

/* Columns of the row. Text and blobs are copies that the caller frees. */
char *statement_text(struct statement *statement, int column); /* NULL: NULL */
int64_t statement_integer(/* `absent` for NULL */
    const struct statement *statement, int column, int64_t absent);
double statement_real(const struct statement *statement, int column);
char *statement_blob(
    struct statement *statement, int column, size_t *ret_length);

#endif
