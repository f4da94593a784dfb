#include "store/table.h"

#include "base/memory.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

void
table_print_names(const struct table *table, struct text *ret)
{
	for (size_t i = 0; i < table->count; i++)
		(void)text_format(
		    ret, "%s%s", i == 0 ? "" : ", ", table->column[i].name);
}

static void
bind(struct statement *insert, const struct column *column, const void *row)
{
	const void *member = (const char *)row + column->offset;
	const char *const *string = member;
	switch (column->kind) {
	case COLUMN_ID:
		statement_bind_text(insert, NULL);
		break;
	case COLUMN_INTEGER:
		statement_bind_integer(insert, *(const int64_t *)member);
		break;
	case COLUMN_LINK:
		statement_bind_unless(insert, *(const int64_t *)member, 0);
		break;
	case COLUMN_REAL:
		statement_bind_real(insert, *(const double *)member);
		break;
	case COLUMN_NAME:
		statement_bind_text(insert, *string);
		break;
	case COLUMN_TEXT:
		statement_bind_text(insert, *string == NULL ? "" : *string);
		break;
	}
}

bool
table_insert(struct store *store, const struct table *table, const void *row,
    int64_t *ret_id, struct error *error)
{
	struct text sql;
	text_init(&sql, TABLE_SQL_BYTES);
	(void)text_format(&sql, "INSERT INTO %s (", table->name);
	table_print_names(table, &sql);
	(void)text_add(&sql, ") VALUES (");
	for (size_t i = 0; i < table->count; i++)
		(void)text_add(&sql, i == 0 ? "?" : ", ?");
	(void)text_add(&sql, ")");
	struct statement insert = statement_make(store, text_string(&sql));
	text_release(&sql);
	for (size_t i = 0; i < table->count; i++)
		bind(&insert, &table->column[i], row);
	if (!statement_run(&insert, error))
		return false;
	*ret_id = sqlite3_last_insert_rowid(store->database);
	return true;
}

static void
read_member(
    struct statement *query, int place, enum column_kind kind, void *ret)
{
	switch (kind) {
	case COLUMN_ID:
	case COLUMN_INTEGER:
	case COLUMN_LINK:
		*(int64_t *)ret = statement_integer(query, place, 0);
		break;
	case COLUMN_REAL:
		*(double *)ret = statement_real(query, place);
		break;
	case COLUMN_NAME:
	case COLUMN_TEXT:
		*(char **)ret = statement_text(query, place);
		break;
	}
}

void
table_read(const struct table *table, struct statement *query, void *ret_row)
{
	for (size_t i = 0; i < table->count; i++)
		read_member(query, (int)i, table->column[i].kind,
		    (char *)ret_row + table->column[i].offset);
}

bool
table_list(struct store *store, const struct table *table, void **ret,
    size_t *ret_count, struct error *error)
{
	struct text sql;
	text_init(&sql, TABLE_SQL_BYTES);
	(void)text_add(&sql, "SELECT ");
	table_print_names(table, &sql);
	(void)text_format(
	    &sql, " FROM %s ORDER BY %s", table->name, table->order);
	struct statement query = statement_make(store, text_string(&sql));
	text_release(&sql);
	char *rows = NULL;
	size_t count = 0;
	size_t capacity = 0;
	while (statement_row(&query)) {
		rows = memory_grow(rows, count, &capacity, table->size);
		void *row = rows + count++ * table->size;
		table_init_row(table, row);
		table_read(table, &query, row);
	}
	if (!statement_end(&query, error)) {
		table_free(table, rows, count);
		return false;
	}
	*ret = rows;
	*ret_count = count;
	return true;
}

void
table_init_row(const struct table *table, void *row)
{
	memset(row, 0, table->size);
	for (size_t i = 0; i < table->count; i++) {
		void *member = (char *)row + table->column[i].offset;
		if (table->column[i].kind == COLUMN_REAL)
			*(double *)member = NAN;
	}
}

void
table_release_row(const struct table *table, void *row)
{
	for (size_t i = 0; i < table->count; i++) {
		char **member = (void *)((char *)row + table->column[i].offset);
		if (table->column[i].kind == COLUMN_NAME ||
		    table->column[i].kind == COLUMN_TEXT)
			free(*member);
	}
}

void
table_free(const struct table *table, void *rows, size_t count)
{
	for (size_t i = 0; i < count; i++)
		table_release_row(table, (char *)rows + i * table->size);
	free(rows);
}
