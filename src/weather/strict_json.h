/*
 * cJSON behind a gate that closes its known leniencies: whole-buffer UTF-8, no
 * NUL or byte-order mark, nothing after the document, bounded size, numbers
 * that are finite, exact key case, and duplicate keys where it matters.
 */
#ifndef WEATHER_STRICT_JSON_H
#define WEATHER_STRICT_JSON_H

#include "base/error.h"

#include <cjson/cJSON.h>
#include <stddef.h>

/*
 * NULL and ERROR_INPUT on failure. `bytes` need not end with a NUL. The tree is
 * for reading only, and is released with json_release, not with cJSON_Delete
 * (weather/json_memory.h).
 */
cJSON *json_parse(const char *bytes, size_t length, struct error *error);
void json_release(cJSON *root); /* NULL is allowed */

/* The member of that exact name, or NULL. */
const cJSON *json_member(const cJSON *object, const char *name);

/* True and *ret when the item is a finite number. */
bool json_number(const cJSON *item, double *ret);

/* The item's string (borrowed), or NULL when it is not a string. */
const char *json_string(const cJSON *item);

/*
 * A stranger's text as a sentence may quote it: at most JSON_SHOWN - 1 bytes,
 * no control characters, no half of a UTF-8 sequence at the end. Returns
 * buffer.
 */
enum { JSON_SHOWN = 96 };
const char *json_show(char buffer[JSON_SHOWN], const char *text);

/* False when the object has two members of the same name. */
bool json_members_unique(const cJSON *object);

#endif
