/* What was caught with a sprayer, and the stock solutions that were made. */
#include "store/store.h"

#include "store/table.h"

static const struct column calibration_columns[] = {
#define AT(member) offsetof(struct stored_calibration, member)
	{ "id", COLUMN_ID, AT(id) },
	{ "sprayer", COLUMN_NAME, AT(sprayer) },
	{ "at", COLUMN_INTEGER, AT(at) },
	{ "carrier", COLUMN_REAL, AT(carrier) },
	{ "pace", COLUMN_REAL, AT(pace) },
	{ "method", COLUMN_TEXT, AT(method) },
	{ "created", COLUMN_INTEGER, AT(created) },
#undef AT
};

static const struct table calibration_table = { "calibration", "at, id",
	calibration_columns,
	sizeof calibration_columns / sizeof calibration_columns[0],
	sizeof(struct stored_calibration) };

static const struct column solution_columns[] = {
#define AT(member) offsetof(struct stored_solution, member)
	{ "id", COLUMN_ID, AT(id) },
	{ "product", COLUMN_NAME, AT(product) },
	{ "made", COLUMN_INTEGER, AT(made) },
	{ "mass", COLUMN_REAL, AT(mass) },
	{ "volume", COLUMN_REAL, AT(volume) },
	{ "created", COLUMN_INTEGER, AT(created) },
#undef AT
};

static const struct table solution_table = { "solution", "made, id",
	solution_columns, sizeof solution_columns / sizeof solution_columns[0],
	sizeof(struct stored_solution) };

static bool
add_row(struct store *store, const struct table *table, const void *row,
    int64_t *ret_id, struct error *error)
{
	int64_t id = 0;
	if (!store_write_begin(store, error))
		return false;
	bool done = table_insert(store, table, row, &id, error);
	if (!store_write_end(store, done, error))
		return false;
	*ret_id = id;
	return true;
}

bool
store_calibration_add(struct store *store,
    const struct stored_calibration *calibration, int64_t *ret_id,
    struct error *error)
{
	return add_row(store, &calibration_table, calibration, ret_id, error);
}

bool
store_calibrations(struct store *store, struct stored_calibration **ret,
    size_t *ret_count, struct error *error)
{
	void *rows = NULL;
	if (!table_list(store, &calibration_table, &rows, ret_count, error))
		return false;
	*ret = rows;
	return true;
}

void
stored_calibrations_free(struct stored_calibration *calibrations, size_t count)
{
	table_free(&calibration_table, calibrations, count);
}

bool
store_solution_add(struct store *store, const struct stored_solution *solution,
    int64_t *ret_id, struct error *error)
{
	return add_row(store, &solution_table, solution, ret_id, error);
}

bool
store_solutions(struct store *store, struct stored_solution **ret,
    size_t *ret_count, struct error *error)
{
	void *rows = NULL;
	if (!table_list(store, &solution_table, &rows, ret_count, error))
		return false;
	*ret = rows;
	return true;
}

void
stored_solutions_free(struct stored_solution *solutions, size_t count)
{
	table_free(&solution_table, solutions, count);
}
