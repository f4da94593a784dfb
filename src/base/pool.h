/*
 * Memory for many blocks that live and die together, cut from a few large
 * ones: where the cost of each allocation would be felt.
 */
#ifndef BASE_POOL_H
#define BASE_POOL_H

#include <stddef.h>

struct pool_chunk;

/* Zeroed to begin with. */
struct pool {
	struct pool_chunk *chunk; /* owned; the newest first */
};

/* Room that is not zeroed, for any type; it stays until the pool goes. */
void *pool_room(struct pool *pool, size_t count, size_t size);

void pool_release(struct pool *pool); /* also of a zeroed one, or NULL */

#endif
