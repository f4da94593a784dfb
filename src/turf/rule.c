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

enum quantity_kind
rule_kind(const struct rule *rule)
{
	return rule->is_volume ? QUANTITY_VOLUME_PER_AREA
			       : measure_info(rule->measure)->kind;
}

enum { INSTANT_BUFFER = 2 * QUANTITY_BUFFER };

/* "midnight", "2 d after midnight", "1 h before sunrise", "the start". */
static char *
print_instant(char *buffer, size_t size, const struct instant *instant)
{
	static const char *const anchors[] = { "the start", "the end",
		"midnight", "sunrise", "sunset" };
	const char *anchor = anchors[instant->anchor];
	char span[QUANTITY_BUFFER];
	double seconds = abs(instant->seconds);
	if (instant->anchor == ANCHOR_MIDNIGHT)
		seconds *= 86400;
	if (instant->seconds == 0)
		(void)snprintf(buffer, size, "%s", anchor);
	else
		(void)snprintf(buffer, size, "%s %s %s",
		    span_print(span, sizeof span, seconds),
		    instant->seconds < 0 ? "before" : "after", anchor);
	return buffer;
}

/* "3 days", "day". */
static char *
print_days(char *buffer, size_t size, int32_t days)
{
	if (days == 1)
		(void)snprintf(buffer, size, "day");
	else
		(void)snprintf(buffer, size, "%d days", (int)days);
	return buffer;
}

/* Whole local days; false when no short sentence says them. */
static bool
print_whole_days(char *buffer, size_t size, int32_t from, int32_t to)
{
	char days[QUANTITY_BUFFER];
	if (from == 0 && to == 1)
		(void)snprintf(buffer, size, "that day");
	else if (from == 0 && to > 1)
		(void)snprintf(buffer, size, "that day and the %s after",
		    print_days(days, sizeof days, to - 1));
	else if (from == 1 && to > 1)
		(void)snprintf(buffer, size, "in the %s after that day",
		    print_days(days, sizeof days, to - 1));
	else if (from < 0 && to == 1)
		(void)snprintf(buffer, size, "that day and the %s before",
		    print_days(days, sizeof days, -from));
	else if (from < 0 && to == 0)
		(void)snprintf(buffer, size, "in the %s before that day",
		    print_days(days, sizeof days, -from));
	else
		return false;
	return true;
}

/* What hangs on start and end alone; false as above. */
static bool
print_about_job(char *buffer, size_t size, const struct instant *from,
    const struct instant *to)
{
	char span[QUANTITY_BUFFER];
	bool from_start = from->anchor == ANCHOR_START && from->seconds == 0;
	if (from_start && to->anchor == ANCHOR_END && to->seconds == 0)
		(void)snprintf(buffer, size, "during the job");
	else if (from_start && to->anchor == ANCHOR_END && to->seconds > 0)
		(void)snprintf(buffer, size, "during the job and %s after",
		    span_print(span, sizeof span, to->seconds));
	else if (from->anchor == ANCHOR_END && from->seconds == 0 &&
		 to->anchor == ANCHOR_END)
		(void)snprintf(buffer, size, "in the %s after",
		    span_print(span, sizeof span, to->seconds));
	else if (from->anchor == ANCHOR_START && to->anchor == ANCHOR_START &&
		 to->seconds == 0)
		(void)snprintf(buffer, size, "in the %s before",
		    span_print(span, sizeof span, -from->seconds));
	else
		return false;
	return true;
}

char *
exposure_print(char *buffer, size_t size, const struct exposure *exposure)
{
	const struct instant *from = &exposure->from, *to = &exposure->to;
	char first[INSTANT_BUFFER], last[INSTANT_BUFFER];
	bool by_day =
	    from->anchor == ANCHOR_MIDNIGHT && to->anchor == ANCHOR_MIDNIGHT;
	if (by_day &&
	    print_whole_days(buffer, size, from->seconds, to->seconds))
		return buffer;
	if (print_about_job(buffer, size, from, to))
		return buffer;
	(void)snprintf(buffer, size, "from %s to %s",
	    print_instant(first, sizeof first, from),
	    print_instant(last, sizeof last, to));
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

/* Where one of the two is a midnight, whose seconds are days. */
static bool
day_before(const struct instant *a, const struct instant *b)
{
	bool from_midnight = a->anchor == ANCHOR_MIDNIGHT;
	if (from_midnight && b->anchor == ANCHOR_MIDNIGHT)
		return a->seconds <= b->seconds;
	/* a start, an end, a sunrise or a sunset comes after its midnight */
	if (from_midnight)
		return a->seconds <= 0 && b->seconds >= 0;
	/* and all but an end before the next one */
	return a->anchor != ANCHOR_END && a->seconds <= 0 && b->seconds >= 1;
}

/* True when a is not after b, whatever the application. */
static bool
certainly_before(const struct instant *a, const struct instant *b)
{
	if (a->anchor == ANCHOR_MIDNIGHT || b->anchor == ANCHOR_MIDNIGHT)
		return day_before(a, b);
	bool in_order =
	    a->anchor == b->anchor ||
	    (a->anchor == ANCHOR_START && b->anchor == ANCHOR_END) ||
	    (a->anchor == ANCHOR_SUNRISE && b->anchor == ANCHOR_SUNSET);
	return in_order && a->seconds <= b->seconds;
}

bool
exposure_inside(const struct exposure *inner, const struct exposure *outer)
{
	return certainly_before(&outer->from, &inner->from) &&
	       certainly_before(&inner->to, &outer->to);
}

/* The same without being one moment: a job may start at midnight. */
static bool
certainly_under(const struct instant *a, const struct instant *b)
{
	bool one = same_instant(a, b) ||
		   (a->anchor == ANCHOR_MIDNIGHT && b->anchor == ANCHOR_START &&
		       a->seconds == 0 && b->seconds == 0);
	return certainly_before(a, b) && !one;
}

bool
exposure_meets(const struct exposure *a, const struct exposure *b)
{
	return certainly_under(&a->from, &b->to) &&
	       certainly_under(&b->from, &a->to);
}

bool
exposure_empty(const struct exposure *exposure)
{
	return certainly_before(&exposure->to, &exposure->from);
}

/*
 * True when the fold of `high` is at least the fold of `low`, whatever the
 * weather: more cells have a higher highest and a lower lowest.
 */
static bool
reaches(const struct rule *low, const struct rule *high)
{
	const struct exposure *a = &low->exposure, *b = &high->exposure;
	if (low->fold == FOLD_SUM || high->fold == FOLD_SUM)
		return low->fold == high->fold && exposure_inside(a, b);
	if (low->fold == FOLD_MIN && high->fold == FOLD_MAX)
		return exposure_meets(a, b);
	if (low->fold == FOLD_MIN)
		return exposure_inside(b, a);
	if (high->fold == FOLD_MAX)
		return exposure_inside(a, b);
	return low->fold == FOLD_MEAN && high->fold == FOLD_MEAN &&
	       exposure_same(a, b);
}

static bool
same_subject(const struct rule *a, const struct rule *b)
{
	if (a->subject == NULL || b->subject == NULL)
		return a->subject == b->subject;
	return strcmp(a->subject, b->subject) == 0;
}

bool
rules_exclude(const struct rule *low, const struct rule *high)
{
	if (bound_is_ceiling(low->bound) || !bound_is_ceiling(high->bound) ||
	    low->measure != high->measure || low->fold == FOLD_ANY ||
	    high->fold == FOLD_ANY || low->is_volume != high->is_volume ||
	    !same_subject(low, high) || !reaches(low, high))
		return false;
	bool strict = low->bound == BOUND_ABOVE || high->bound == BOUND_BELOW;
	return low->limit > high->limit ||
	       (strict && low->limit >= high->limit);
}
