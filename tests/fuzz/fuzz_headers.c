/*
 * libFuzzer over service/freshness.h. The input is up to three header values,
 * one a line: Cache-Control, Expires (also read as Retry-After), Date.
 */
#include "service/freshness.h"

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

enum { NOW = 1800000000 };

static void
require(int good, const char *what)
{
	if (good)
		return;
	(void)fprintf(stderr, "broken: %s\n", what);
	abort();
}

/* Ends the line at `text` and returns the next one, NULL when none follows. */
static char *
split(char *text)
{
	char *end = text == NULL ? NULL : strchr(text, '\n');
	if (end == NULL)
		return NULL;
	*end = '\0';
	return end + 1;
}

int
LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	/* Exactly as long as the text, so that a read past it is seen. */
	char *control = malloc(size + 1);
	if (control == NULL)
		return 0;
	if (size > 0)
		memcpy(control, data, size);
	control[size] = '\0';
	char *expires = split(control);
	char *date = split(expires);

	int64_t age = freshness_max_age(control);
	require(age >= -1 && age <= INT32_MAX, "max-age in range");
	int64_t until = freshness_until(control, expires, date, NOW);
	require(until == 0 || (until >= NOW && until - NOW <= INT32_MAX),
	    "fresh until now or later");
	require(age < 0 || until == NOW + age, "max-age goes first");
	int64_t wait = freshness_retry_after(expires, NOW);
	require(wait >= 0 && wait <= INT32_MAX, "wait in range");
	free(control);
	return 0;
}
