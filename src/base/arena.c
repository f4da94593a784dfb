#include "base/arena.h"

#include "base/memory.h"

#include <stdlib.h>
#include <string.h>

static void *
keep(struct arena *arena, void *block)
{
	arena->block = memory_grow(
	    arena->block, arena->count, &arena->capacity, sizeof *arena->block);
	arena->block[arena->count++] = block;
	return block;
}

void *
arena_array(struct arena *arena, size_t count, size_t size)
{
	return keep(arena, memory_array(count, size));
}

char *
arena_string(struct arena *arena, const char *text)
{
	return text == NULL ? NULL : keep(arena, memory_string(text));
}

void
arena_release(struct arena *arena)
{
	for (size_t i = 0; i < arena->count; i++)
		free(arena->block[i]);
	free(arena->block);
	*arena = (struct arena){ 0 };
}
