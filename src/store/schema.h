/*
 * The tables of the store, and how a file comes to have them. A schema is a
 * list of steps: step i takes a file from version i to version i + 1, so the
 * next version is one more step, and a step that was ever released is never
 * edited. PRAGMA user_version says which steps a file has behind it and
 * PRAGMA application_id that it is ours.
 */
#ifndef STORE_SCHEMA_H
#define STORE_SCHEMA_H

#include "base/error.h"

#include <stdbool.h>
#include <stddef.h>

struct store;

enum { SCHEMA_APPLICATION = 0x6c756c6c }; /* "lull" */

struct schema {
	/* Each step is a list of statements that ends with NULL. */
	const char *const *const *steps;
	size_t count; /* the version that the last step leads to */
};

extern const struct schema schema_current;

/* store_open of a program whose schema is `schema`. */
struct store *store_open_as(
    const char *path, const struct schema *schema, struct error *error);

/*
 * Whether the file may be ours, from its first bytes alone: nothing is locked,
 * recovered or written. ERROR_INPUT when it is not, or is of a newer version.
 */
bool schema_recognize(const struct store *store, const struct schema *schema,
    struct error *error);

/*
 * Takes the steps that the file lacks, all or none. Foreign keys must be off,
 * because a step may rebuild a table; they are checked before the commit.
 */
bool schema_upgrade(
    struct store *store, const struct schema *schema, struct error *error);

/* Every reference leads to a row. */
bool schema_check_links(struct store *store, struct error *error);

#endif
