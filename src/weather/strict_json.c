#include "weather/strict_json.h"

#include "base/limits.h"
#include "base/memory.h"
#include "base/text.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

/* Up to so many members each name is compared with each; above, sorted. */
enum { FEW_MEMBERS = 12 };

static bool
is_digit(char c)
{
	return c >= '0' && c <= '9';
}

/*
 * The checks below must cost little beside the parsing, so they go through
 * dull stretches a word at a time. The text is padded with WORD_BYTES NULs.
 */
enum { WORD_BYTES = 8 };

static const uint64_t ones = UINT64_C(0x0101010101010101);
static const uint64_t tops = UINT64_C(0x8080808080808080);

static uint64_t
word_at(const char *at)
{
	uint64_t word;
	memcpy(&word, at, sizeof word);
	return word;
}

/* True only when no byte of the word is below `least`, which is under 128. */
static bool
none_below(uint64_t word, uint64_t least)
{
	return ((word - ones * least) & ~word & tops) == 0;
}

/* True only when a string goes on through the next WORD_BYTES bytes. */
static bool
is_plain(const char *at)
{
	uint64_t word = word_at(at);
	return none_below(word, ' ') && none_below(word ^ (ones * '"'), 1) &&
	       none_below(word ^ (ones * '\\'), 1);
}

static bool
is_ascii(const char *bytes, size_t length)
{
	uint64_t seen = 0;
	size_t i = 0;
	for (; i + WORD_BYTES <= length; i += WORD_BYTES)
		seen |= word_at(bytes + i);
	for (; i < length; i++)
		seen |= (unsigned char)bytes[i] & 0x80U;
	return (seen & tops) == 0;
}

/* Past one digit or more; NULL when there is none. */
static const char *
pass_digits(const char *at)
{
	if (!is_digit(*at))
		return NULL;
	while (is_digit(*at))
		at++;
	return at;
}

/*
 * RFC 8259 section 6: no leading zero, digits on both sides of the point.
 * The text ends with a NUL. NULL when it is no number.
 */
static const char *
pass_number(const char *at)
{
	if (*at == '-')
		at++;
	if (*at == '0' && is_digit(at[1]))
		return NULL;
	at = pass_digits(at);
	if (at != NULL && *at == '.')
		at = pass_digits(at + 1);
	if (at == NULL || (*at != 'e' && *at != 'E'))
		return at;
	at++;
	if (*at == '+' || *at == '-')
		at++;
	return pass_digits(at);
}

/*
 * Passes the string that begins behind the quote at at[-1]; NULL when it holds
 * a raw control character, the escape of a NUL (which would cut it short
 * unseen), or no end.
 */
static const char *
pass_string(const char *at)
{
	for (;;) {
		while (is_plain(at))
			at += WORD_BYTES;
		if (*at == '"')
			return at + 1;
		if ((unsigned char)*at < ' ')
			return NULL;
		if (*at == '\\') {
			at++;
			if (strncmp(at, "u0000", 5) == 0 || *at == '\0')
				return NULL;
		}
		at++;
	}
}

/*
 * The first place where the text breaks a rule of RFC 8259 that cJSON does not
 * check; NULL when there is none. Structure is left to cJSON.
 */
static const char *
find_fault(const char *text)
{
	const char *at = text;
	while (*at != '\0') {
		while (word_at(at) == ones * ' ')
			at += WORD_BYTES;
		const char *token = at;
		if (*at == '"')
			at = pass_string(at + 1);
		else if (is_digit(*at) || *at == '-')
			at = pass_number(at);
		else if ((unsigned char)*at < ' ' && *at != '\n' &&
			 *at != '\r' && *at != '\t')
			return token;
		else
			at++;
		if (at == NULL)
			return token;
	}
	return NULL;
}

/* What can be told from the bytes before they are read as JSON. */
static bool
check_bytes(const char *bytes, size_t length, struct error *error)
{
	if (length > LIMIT_FORECAST_BYTES)
		return error_set(error, ERROR_INPUT,
		    "the document is larger than %d bytes",
		    (int)LIMIT_FORECAST_BYTES);
	size_t first = 0;
	while (first < length && strchr(" \t\r\n", bytes[first]) != NULL &&
	       bytes[first] != '\0')
		first++;
	if (first == length)
		return error_set(error, ERROR_INPUT, "the document is empty");
	if (bytes[first] == '<')
		return error_set(error, ERROR_INPUT,
		    "the document is a web page or XML, not JSON");
	if (length >= 3 && memcmp(bytes, "\xEF\xBB\xBF", 3) == 0)
		return error_set(error, ERROR_INPUT,
		    "the document starts with a byte-order mark");
	if (memchr(bytes, '\0', length) != NULL ||
	    (!is_ascii(bytes, length) && !text_is_utf8(bytes, length)))
		return error_set(error, ERROR_INPUT,
		    "the document is not UTF-8, or holds a NUL");
	return true;
}

cJSON *
json_parse(const char *bytes, size_t length, struct error *error)
{
	if (!check_bytes(bytes, length, error))
		return NULL;
	char *text = memory_array(length + WORD_BYTES, 1);
	memcpy(text, bytes, length);
	const char *fault = find_fault(text);
	cJSON *root = NULL;
	if (fault == NULL)
		root = cJSON_ParseWithLengthOpts(text, length + 1, &fault, 1);
	if (root == NULL)
		(void)error_set(error, ERROR_INPUT,
		    "not well-formed JSON at byte %zu of %zu",
		    (size_t)(fault - text) + 1, length);
	free(text);
	return root;
}

const cJSON *
json_member(const cJSON *object, const char *name)
{
	return cJSON_IsObject(object)
		   ? cJSON_GetObjectItemCaseSensitive(object, name)
		   : NULL;
}

bool
json_number(const cJSON *item, double *ret)
{
	if (!cJSON_IsNumber(item) || !isfinite(item->valuedouble))
		return false;
	*ret = item->valuedouble;
	return true;
}

const char *
json_string(const cJSON *item)
{
	return cJSON_IsString(item) ? item->valuestring : NULL;
}

const char *
json_show(char buffer[JSON_SHOWN], const char *text)
{
	size_t length = strnlen(text, JSON_SHOWN - 1);
	while (length > 0 && ((unsigned char)text[length] & 0xC0) == 0x80)
		length--;
	memcpy(buffer, text, length);
	for (size_t i = 0; i < length; i++)
		if ((unsigned char)buffer[i] < ' ' || buffer[i] == 0x7F)
			buffer[i] = '?';
	buffer[length] = '\0';
	return buffer;
}

static bool
compare_each(const cJSON *object)
{
	const cJSON *a;
	cJSON_ArrayForEach(a, object)
	{
		for (const cJSON *b = a->next; b != NULL; b = b->next)
			if (strcmp(a->string, b->string) == 0)
				return false;
	}
	return true;
}

static int
compare_names(const void *a, const void *b)
{
	return strcmp(*(const char *const *)a, *(const char *const *)b);
}

static bool
compare_sorted(const cJSON *object, size_t count)
{
	const char **names = memory_array(count, sizeof *names);
	size_t used = 0;
	const cJSON *member;
	cJSON_ArrayForEach(member, object) names[used++] = member->string;
	qsort(names, used, sizeof *names, compare_names);
	bool unique = true;
	for (size_t i = 1; i < used && unique; i++)
		unique = strcmp(names[i - 1], names[i]) != 0;
	free(names);
	return unique;
}

bool
json_members_unique(const cJSON *object)
{
	if (!cJSON_IsObject(object))
		return true;
	size_t count = 0;
	for (const cJSON *m = object->child; m != NULL; m = m->next)
		count++;
	return count <= FEW_MEMBERS ? compare_each(object)
				    : compare_sorted(object, count);
}
