/* Memory that goes away all at once: what a configuration hands out. */
#ifndef BASE_ARENA_H
#define BASE_ARENA_H

#include <stddef.h>

struct arena {
	void **block; /* owned */
	size_t count, capacity;
};

/* Zeroed room for count items of size bytes, freed with the arena. */
void *arena_array(struct arena *arena, size_t count, size_t size);

/* Copy of a string (NULL gives NULL), freed with the arena. */
char *arena_string(struct arena *arena, const char *text);

void arena_release(struct arena *arena); /* also of a zeroed one */

#endif
