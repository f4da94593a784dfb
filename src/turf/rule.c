#include "turf/rule.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

bool
bound_is_ceiling(enum bound bound)
{
	return bound == BOUND_AT_MOST || bound == BOUND_BELOW;
}

const char *
bound_word(enum bound bound)
{
	static const char *const word[] = { "at most", "below", "at least",
		"above" };
	return word[bound];
}

const char *
origin_word(enum origin origin)
{
	static const char *const word[] = { "label", "practice", "preference" };
	return word[origin];
}

char *
exposure_print(char *buffer, size_t size, const struct exposure *exposure)
{
	const struct instant *from = &exposure->from, *to = &exposure->to;
	char span[QUANTITY_BUFFER];
	bool from_start = from->anchor == ANCHOR_START;
	if (from_start && to->anchor == ANCHOR_END && to->seconds == 0)
		(void)snprintf(buffer, size, "during the job");
	else if (from_start && to->anchor == ANCHOR_END)
		(void)snprintf(buffer, size, "during the job and %s after",
		    span_print(span, sizeof span, to->seconds));
	else if (from->anchor == ANCHOR_END)
		(void)snprintf(buffer, size, "in the %s after",
		    span_print(span, sizeof span, to->seconds - from->seconds));
	else if (from_start && to->anchor == ANCHOR_START)
		(void)snprintf(buffer, size, "in the %s before",
		    span_print(span, sizeof span, -from->seconds));
	else
		(void)snprintf(buffer, size, "that day");
	return buffer;
}

static bool
same_instant(const struct instant *a, const struct instant *b)
{
	return a->anchor == b->anchor && a->seconds == b->seconds;
}

bool
exposure_same(const struct exposure *a, const struct exposure *b)
{
	return same_instant(&a->from, &b->from) && same_instant(&a->to, &b->to);
}
