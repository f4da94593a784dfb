#include "base/pool.h"

#include "base/memory.h"

#include <stdint.h>
#include <stdlib.h>

enum { LEAST_CHUNK = 64 * 1024, ALIGNMENT = 64 };

struct pool_chunk {
	struct pool_chunk *next;
	size_t used, size; /* of what follows, alignment included */
};

static void
add_chunk(struct pool *pool, size_t bytes)
{
	size_t size = bytes > LEAST_CHUNK ? bytes : LEAST_CHUNK;
	struct pool_chunk *chunk =
	    memory_resize(NULL, size + sizeof *chunk + ALIGNMENT, 1);
	uintptr_t data = (uintptr_t)(chunk + 1);
	chunk->next = pool->chunk;
	chunk->used = (ALIGNMENT - data % ALIGNMENT) % ALIGNMENT;
	chunk->size = size + ALIGNMENT;
	pool->chunk = chunk;
}

void *
pool_room(struct pool *pool, size_t count, size_t size)
{
	if (size > 0 && count > SIZE_MAX / 2 / size)
		return memory_resize(NULL, count, size); /* says so and ends */
	size_t bytes = (count * size + ALIGNMENT - 1) / ALIGNMENT * ALIGNMENT;
	struct pool_chunk *chunk = pool->chunk;
	if (chunk == NULL || chunk->size - chunk->used < bytes) {
		add_chunk(pool, bytes);
		chunk = pool->chunk;
	}
	void *room = (char *)(chunk + 1) + chunk->used;
	chunk->used += bytes;
	return room;
}

void
pool_release(struct pool *pool)
{
	if (pool == NULL)
		return;
	while (pool->chunk != NULL) {
		struct pool_chunk *next = pool->chunk->next;
		free(pool->chunk);
		pool->chunk = next;
	}
}
