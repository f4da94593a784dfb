#include "service/freshness.h"

#include <curl/curl.h>
#include <stdbool.h>
#include <stddef.h>
#include <string.h>
#include <strings.h>

/* RFC 9111 section 1.2.2: a longer span may be taken as this one. */
enum { SPAN_MAX = INT32_MAX };

/* One directive of a Cache-Control list: name or name=value. */
struct directive {
	const char *name;
	size_t name_length;
	const char *value; /* NULL without "=" */
	size_t value_length;
};

static const char *
skip_space(const char *text)
{
	return text + strspn(text, " \t");
}

/* The end of a quoted string, behind its closing quote or at the NUL. */
static const char *
skip_quoted(const char *text)
{
	for (text++; *text != '\0' && *text != '"'; text++) {
		if (*text == '\\' && text[1] != '\0')
			text++;
	}
	return *text == '"' ? text + 1 : text;
}

/* Reads the directive at `text` and returns what follows its comma. */
static const char *
next_directive(const char *text, struct directive *ret)
{
	text = skip_space(text);
	*ret = (struct directive){ .name = text };
	ret->name_length = strcspn(text, "=, \t");
	text = skip_space(text + ret->name_length);
	if (*text == '=') {
		text = skip_space(text + 1);
		ret->value = text;
		text = *text == '"' ? skip_quoted(text)
				    : text + strcspn(text, ", \t");
		ret->value_length = (size_t)(text - ret->value);
		text = skip_space(text);
	}
	if (*text != ',' && *text != '\0') {
		/* Two words without a comma: no directive that we know. */
		ret->name_length = 0;
		text += strcspn(text, ",");
	}
	return *text == ',' ? text + 1 : text;
}

static bool
is_named(const struct directive *directive, const char *name)
{
	return directive->name_length == strlen(name) &&
	       strncasecmp(directive->name, name, directive->name_length) == 0;
}

/* Digits only, held at SPAN_MAX; -1 for anything else. */
static int64_t
read_span(const char *digits, size_t length)
{
	int64_t span = 0;
	for (size_t i = 0; i < length; i++) {
		if (digits[i] < '0' || digits[i] > '9')
			return -1;
		if (span < SPAN_MAX)
			span = span * 10 + (digits[i] - '0');
	}
	if (length == 0)
		return -1;
	return span < SPAN_MAX ? span : SPAN_MAX;
}

/* A number may stand in quotes (RFC 9111 section 5.2). */
static int64_t
read_age(const struct directive *directive)
{
	const char *value = directive->value;
	size_t length = directive->value_length;
	if (length >= 2 && value[0] == '"' && value[length - 1] == '"')
		return read_span(value + 1, length - 2);
	return read_span(value, length);
}

int64_t
freshness_max_age(const char *cache_control)
{
	int64_t age = -1;
	bool seen = false;
	const char *text = cache_control == NULL ? "" : cache_control;
	while (*text != '\0') {
		struct directive directive;
		text = next_directive(text, &directive);
		if (is_named(&directive, "no-store") ||
		    is_named(&directive, "no-cache"))
			return 0;
		/* Of several the first holds (RFC 9111 section 4.2.1). */
		if (is_named(&directive, "max-age") && !seen) {
			age = read_age(&directive);
			seen = true;
		}
	}
	return age;
}

/* An HTTP date, or -1. A bare number is a date to curl_getdate, not here. */
static int64_t
read_date(const char *text)
{
	if (text == NULL || strchr(text, ':') == NULL)
		return -1;
	return (int64_t)curl_getdate(text, NULL);
}

int64_t
freshness_until(const char *cache_control, const char *expires,
    const char *date, int64_t now)
{
	int64_t age = freshness_max_age(cache_control);
	if (age >= 0)
		return now + age;
	int64_t end = read_date(expires);
	int64_t start = read_date(date);
	if (end < 0 || start < 0 || end <= start)
		return 0;
	int64_t span = end - start;
	return now + (span < SPAN_MAX ? span : SPAN_MAX);
}

int64_t
freshness_retry_after(const char *value, int64_t now)
{
	if (value == NULL)
		return 0;
	value = skip_space(value);
	size_t length = strcspn(value, " \t");
	if (*skip_space(value + length) == '\0') {
		int64_t span = read_span(value, length);
		if (span >= 0)
			return span;
	}
	int64_t date = read_date(value);
	if (date <= now)
		return 0;
	int64_t span = date - now;
	return span < SPAN_MAX ? span : SPAN_MAX;
}
