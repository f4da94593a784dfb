/*
 * Memory that never comes back NULL. On exhaustion the program says so and
 * aborts: everything that must survive is in the store already, and no path
 * through the code has to cope with half an answer.
 */
#ifndef BASE_MEMORY_H
#define BASE_MEMORY_H

#include <stddef.h>

/* Zeroed array; count * size may not overflow. Release with free(). */
void *memory_array(size_t count, size_t size);

/* Like realloc, for count items of size bytes; new items are not zeroed. */
void *memory_resize(void *old, size_t count, size_t size);

/* Copy of a string (NULL gives NULL). Release with free(). */
char *memory_string(const char *text);

/*
 * Room for one more item: returns items, moved if need be, when *capacity
 * items are in use. Doubles the capacity; size is that of one item.
 */
void *memory_grow(void *items, size_t used, size_t *capacity, size_t size);

#endif
