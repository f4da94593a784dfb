/*
 * Which column of a table is which member of a struct, said once: writing,
 * reading and freeing a row all follow from it.
 */
#ifndef STORE_TABLE_H
#define STORE_TABLE_H

#include "base/error.h"
#include "base/text.h"
#include "store/statement.h"

#include <stddef.h>
#include <stdint.h>

enum column_kind {
	COLUMN_ID,      /* int64_t; the table gives it */
	COLUMN_INTEGER, /* int64_t */
	COLUMN_LINK,    /* int64_t; NULL is 0 */
	COLUMN_REAL,    /* double; NULL is NaN */
	COLUMN_NAME,    /* char *; the table refuses NULL */
	COLUMN_TEXT,    /* char *, owned; a NULL pointer is written as "" */
};

struct column {
	const char *name;
	enum column_kind kind;
	size_t offset; /* of the member */
};

enum { TABLE_SQL_BYTES = 4000 };

struct table {
	const char *name;
	const char *order; /* of a list */
	const struct column *column;
	size_t count;
	size_t size; /* of the struct */
};

/* "id, site, ...", in the order that table_read expects. */
void table_print_names(const struct table *table, struct text *ret);

/* Adds one row; a statement, not a write of its own. */
bool table_insert(struct store *store, const struct table *table,
    const void *row, int64_t *ret_id, struct error *error);

/* Fills the members from the first columns of the statement's row. */
void table_read(
    const struct table *table, struct statement *query, void *ret_row);

/* All rows; table_free frees them. */
bool table_list(struct store *store, const struct table *table, void **ret,
    size_t *ret_count, struct error *error);

/* NaN for every real, 0 and NULL for all else. */
void table_init_row(const struct table *table, void *row);
void table_release_row(const struct table *table, void *row);
void table_free(const struct table *table, void *rows, size_t count);

#endif
