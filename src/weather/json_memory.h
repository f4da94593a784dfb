/*
 * Memory for one cJSON tree, cut from a few chunks and given back with them: a
 * forecast has ten thousand nodes, and to allocate and free each of them costs
 * more than to parse it.
 */
#ifndef WEATHER_JSON_MEMORY_H
#define WEATHER_JSON_MEMORY_H

#include <cjson/cJSON.h>
#include <stddef.h>

/*
 * cJSON_ParseWithLengthOpts with the tree in such memory. *ret_end is where the
 * parser stopped. NULL when it refuses. Never give the tree to cJSON_Delete,
 * nor change it.
 */
cJSON *json_memory_parse(
    const char *bytes, size_t length, const char **ret_end);

void json_memory_release(cJSON *root); /* NULL is allowed */

#endif
