#include "weather/json_memory.h"

#include "base/memory.h"

#include <stdint.h>
#include <stdlib.h>

enum { CHUNK_BYTES = 64 * 1024, ALIGNMENT = sizeof(max_align_t) };

struct chunk {
	struct chunk *next;
	size_t used, size; /* bytes of the room */
	max_align_t room[];
};

/*
 * The one state that cJSON's hooks leave no place for: they are functions
 * without a context. It is set within json_memory_parse only.
 */
static _Thread_local struct chunk *first, *last;

static void
add_chunk(size_t bytes)
{
	size_t size = bytes > CHUNK_BYTES ? bytes : CHUNK_BYTES;
	struct chunk *chunk = memory_resize(NULL, sizeof *chunk + size, 1);
	*chunk = (struct chunk){ .size = size };
	if (last != NULL)
		last->next = chunk;
	else
		first = chunk;
	last = chunk;
}

static void *
cut(size_t bytes)
{
	if (bytes > SIZE_MAX / 2)
		return NULL;
	bytes = (bytes + ALIGNMENT - 1) / ALIGNMENT * ALIGNMENT;
	if (last == NULL || last->size - last->used < bytes)
		add_chunk(bytes);
	void *room = (char *)last->room + last->used;
	last->used += bytes;
	return room;
}

/* All of it goes at once. */
static void
leave(void *room)
{
	(void)room;
}

static void
free_from(struct chunk *chunk)
{
	while (chunk != NULL) {
		struct chunk *next = chunk->next;
		free(chunk);
		chunk = next;
	}
}

cJSON *
json_memory_parse(const char *bytes, size_t length, const char **ret_end)
{
	cJSON_Hooks hooks = { .malloc_fn = cut, .free_fn = leave };
	first = last = NULL;
	cJSON_InitHooks(&hooks);
	cJSON *root = cJSON_ParseWithLengthOpts(bytes, length, ret_end, 0);
	cJSON_InitHooks(NULL);
	if (root == NULL)
		free_from(first);
	first = last = NULL;
	return root;
}

/* The root is the first thing that a parser allocates. */
void
json_memory_release(cJSON *root)
{
	if (root != NULL)
		free_from(
		    (struct chunk *)(void *)((char *)root -
					     offsetof(struct chunk, room)));
}
