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
rule_same_question(const struct rule *a, const struct rule *b)
{
	return a->measure == b->measure && a->fold == b->fold &&
	       same_instant(&a->exposure.from, &b->exposure.from) &&
	       same_instant(&a->exposure.to, &b->exposure.to) &&
	       bound_is_ceiling(a->bound) == bound_is_ceiling(b->bound);
}

bool
rule_is_tighter_or_equal(const struct rule *a, const struct rule *b)
{
	bool b_is_strict = b->bound == BOUND_BELOW || b->bound == BOUND_ABOVE;
	bool a_is_strict = a->bound == BOUND_BELOW || a->bound == BOUND_ABOVE;
	if (a->limit == b->limit)
		return a_is_strict || !b_is_strict;
	return bound_is_ceiling(a->bound) ? a->limit < b->limit
					  : a->limit > b->limit;
}
