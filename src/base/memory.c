#include "base/memory.h"

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void *
checked(void *block)
{
	if (block != NULL)
		return block;
	(void)fputs("lull: out of memory\n", stderr);
	abort();
}

void *
memory_array(size_t count, size_t size)
{
	return checked(calloc(count > 0 ? count : 1, size > 0 ? size : 1));
}

void *
memory_resize(void *old, size_t count, size_t size)
{
	if (size > 0 && count > SIZE_MAX / size)
		return checked(NULL);
	size_t bytes = count * size;
	return checked(realloc(old, bytes > 0 ? bytes : 1));
}

char *
memory_string(const char *text)
{
	return text == NULL ? NULL : checked(strdup(text));
}

void *
memory_grow(void *items, size_t used, size_t *capacity, size_t size)
{
	if (used < *capacity)
		return items;
	*capacity = *capacity == 0 ? 8 : *capacity * 2;
	return memory_resize(items, *capacity, size);
}
