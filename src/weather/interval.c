#include "weather/interval.h"

#include "base/civil.h"

#include <stddef.h>
#include <string.h>

enum {
	INTERVAL_BYTES = 80, /* two of the longest times are 52 */
	NUMBER_DIGITS = 7,   /* keeps a sum of weeks far from overflow */
};

/* The designators in the order that ISO 8601 demands; 'T' parts them. */
static const struct designator {
	char letter;
	bool clock; /* stands after 'T' */
	int64_t seconds;
} designators[] = {
	{ 'W', false, 7 * (int64_t)DAY_SECONDS },
	{ 'D', false, DAY_SECONDS },
	{ 'H', true, 3600 },
	{ 'M', true, 60 },
	{ 'S', true, 1 },
};

enum { DESIGNATORS = sizeof designators / sizeof designators[0] };

/* 1 to NUMBER_DIGITS digits at *cursor, which moves past them. */
static bool
take_count(const char **cursor, int64_t *ret)
{
	int64_t value = 0;
	int digits = 0;
	while (**cursor >= '0' && **cursor <= '9') {
		if (++digits > NUMBER_DIGITS)
			return false;
		value = value * 10 + (**cursor - '0');
		(*cursor)++;
	}
	*ret = value;
	return digits > 0;
}

/* Index of the designator, at or after `next`; DESIGNATORS for none. */
static size_t
find_designator(char letter, bool clock, size_t next)
{
	for (size_t i = next; i < DESIGNATORS; i++)
		if (designators[i].letter == letter &&
		    designators[i].clock == clock)
			return i;
	return DESIGNATORS;
}

/* Everything after the 'P'. */
static bool
take_duration(const char *cursor, int64_t *ret)
{
	int64_t sum = 0;
	bool clock = false;
	size_t next = 0;
	do {
		int64_t count;
		if (*cursor == 'T' && !clock) {
			clock = true;
			cursor++;
		}
		if (!take_count(&cursor, &count))
			return false;
		size_t i = find_designator(*cursor, clock, next);
		if (i == DESIGNATORS)
			return false;
		sum += count * designators[i].seconds;
		next = i + 1;
		cursor++;
	} while (*cursor != '\0');
	if (sum == 0)
		return false;
	*ret = sum;
	return true;
}

/* True when a year or month is counted: "P1Y", "P2M", but not "PT2M". */
static bool
counts_months(const char *text)
{
	return text[strcspn(text, "TYM")] != 'T' && strpbrk(text, "YM") != NULL;
}

/*
 * Text that can be quoted in a sentence: short, and without any character
 * that no interval has. A stranger's text may hold line ends or worse.
 */
static bool
is_quotable(const char *text)
{
	size_t length = strnlen(text, INTERVAL_BYTES);
	return length < INTERVAL_BYTES &&
	       strspn(text, "0123456789+-:/.,ABCDEFGHIJKLMNOPQRSTUVWXYZ") ==
		   length;
}

static bool
refuse(const char *text, const char *what, struct error *error)
{
	if (!is_quotable(text))
		return error_set(
		    error, ERROR_INPUT, "a text that is not %s", what);
	return error_set(error, ERROR_INPUT, "'%s' is not %s", text, what);
}

bool
duration_parse(const char *text, int64_t *ret, struct error *error)
{
	if (text[0] == 'P' && take_duration(text + 1, ret))
		return true;
	if (text[0] == 'P' && counts_months(text))
		return refuse(
		    text, "of a fixed length: years and months are not", error);
	return refuse(text, "a duration such as PT6H or P1DT6H, over 0", error);
}

/*
 * A time with its offset, "Z" or "+hh:mm"; without one the same text would
 * mean different hours in different places.
 */
static bool
take_time(const char *text, int64_t *ret)
{
	static const struct zone utc = { 0 };
	enum { CLOCK_AT = 11, OFFSET_BYTES = 6 };
	size_t length = strlen(text);
	if (length <= CLOCK_AT || text[CLOCK_AT - 1] != 'T')
		return false;
	char sign = text[length - OFFSET_BYTES];
	return (text[length - 1] == 'Z' || sign == '+' || sign == '-') &&
	       civil_parse(text, &utc, ret, NULL);
}

/* The half that is a duration, NULL when both are times. */
static const char *
find_duration(const char *left, const char *right)
{
	if (right[0] == 'P')
		return right;
	return left[0] == 'P' ? left : NULL;
}

bool
interval_parse(
    const char *text, int64_t *ret_from, int64_t *ret_to, struct error *error)
{
	const char *what = "a time interval such as "
			   "2026-03-02T07:00:00+00:00/PT1H";
	char left[INTERVAL_BYTES];
	size_t length = strnlen(text, sizeof left);
	const char *slash =
	    length < sizeof left ? memchr(text, '/', length) : NULL;
	if (slash == NULL)
		return refuse(text, what, error);
	const char *right = slash + 1;
	memcpy(left, text, (size_t)(slash - text));
	left[slash - text] = '\0';
	const char *duration = find_duration(left, right);
	int64_t from = 0, to = 0, span = 0;
	if (duration != NULL && !duration_parse(duration, &span, error))
		return false;
	if ((duration != left && !take_time(left, &from)) ||
	    (duration != right && !take_time(right, &to)))
		return refuse(text, what, error);
	if (duration == left)
		from = to - span;
	else if (duration == right)
		to = from + span;
	if (from >= to)
		return refuse(
		    text, "a time interval: it ends before it starts", error);
	*ret_from = from;
	*ret_to = to;
	return true;
}
