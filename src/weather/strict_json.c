#include "weather/strict_json.h"

#include "base/limits.h"
#include "base/memory.h"
#include "base/text.h"
#include "weather/json_memory.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

/*
 * The checks below must cost little beside the parsing, so they go through
 * long stretches a word at a time. Short ones go by the byte: a loop that ends
 * where the last one ended is foretold by the processor, a count must be
 * waited for.
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

/* True when the next byte of a string is neither its end nor in need of a
   closer look. */
static bool
is_plain(char c)
{
	return (unsigned char)c >= ' ' && c != '"' && c != '\\';
}

/* The same of a whole word, but for an escape that is no fault. */
static bool
is_plain_word(uint64_t word)
{
	return none_below(word ^ (ones * 2), ' ' + 1) &&
	       none_below(word ^ (ones * '\\'), 1);
}

static bool
is_digit(char c)
{
	return c >= '0' && c <= '9';
}

/* NUL past the end, as no byte before it is. */
static char
byte_at(const char *at, const char *end)
{
	if (at < end)
		return *at;
	return '\0';
}

/* Past one digit or more; NULL when there is none. */
static const char *
pass_digits(const char *at, const char *end)
{
	const char *start = at;
	while (at < end && is_digit(*at))
		at++;
	return at > start ? at : NULL;
}

/*
 * RFC 8259 section 6: no leading zero, digits on both sides of the point.
 * NULL when it is no number.
 */
static const char *
pass_number(const char *at, const char *end)
{
	if (*at == '-')
		at++;
	const char *whole = at;
	at = pass_digits(at, end);
	if (at == NULL || (*whole == '0' && at - whole > 1))
		return NULL;
	if (byte_at(at, end) == '.')
		at = pass_digits(at + 1, end);
	if (at == NULL || (byte_at(at, end) | ' ') != 'e')
		return at;
	at++;
	if (byte_at(at, end) == '+' || byte_at(at, end) == '-')
		at++;
	return pass_digits(at, end);
}

/*
 * Passes the string that begins behind the quote at at[-1]; NULL when it holds
 * a raw control character, the escape of a NUL (which would cut it short
 * unseen), or no end.
 */
static const char *
pass_string(const char *at, const char *end)
{
	for (;;) {
		while (end - at >= WORD_BYTES && is_plain_word(word_at(at)))
			at += WORD_BYTES;
		while (at < end && is_plain(*at))
			at++;
		if (byte_at(at, end) == '"')
			return at + 1;
		if (byte_at(at, end) != '\\' || end - at < 2 ||
		    (end - at >= 6 && memcmp(at + 1, "u0000", 5) == 0))
			return NULL;
		at += 2;
	}
}

/* Past an indentation, which is all of the one byte that stands at `at`. */
static const char *
pass_run(const char *at, const char *end)
{
	const char first = *at;
	const uint64_t word = ones * (unsigned char)first;
	while (end - at >= WORD_BYTES && word_at(at) == word)
		at += WORD_BYTES;
	while (at < end && *at == first)
		at++;
	return at;
}

/* Past one byte or more of white space; NULL for a control character. */
static const char *
pass_space(const char *at, const char *end)
{
	if (*at == '\n' || *at == '\r')
		at++;
	else if (*at != ' ' && *at != '\t')
		return NULL;
	return at < end && (*at == ' ' || *at == '\t') ? pass_run(at, end) : at;
}

/*
 * The first place where the text breaks a rule of RFC 8259 that cJSON does not
 * check; NULL when there is none. Structure is left to cJSON.
 */
static const char *
find_fault(const char *at, const char *end)
{
	while (at < end) {
		const char *token = at;
		if (*at == '"')
			at = pass_string(at + 1, end);
		else if (is_digit(*at) || *at == '-')
			at = pass_number(at, end);
		else if ((unsigned char)*at <= ' ')
			at = pass_space(at, end);
		else
			at++;
		if (at == NULL)
			return token;
	}
	return NULL;
}

/* True when the next block is whole and ASCII. */
enum { BLOCK_BYTES = 8 * WORD_BYTES };
static bool
is_ascii_block(const char *at, const char *end)
{
	uint64_t seen = 0;
	if (end - at < BLOCK_BYTES)
		return false;
	for (int i = 0; i < BLOCK_BYTES; i += WORD_BYTES)
		seen |= word_at(at + i);
	return (seen & tops) == 0;
}

/* A stretch without ASCII is UTF-8 or not whatever stands around it. */
static bool
is_utf8(const char *at, const char *end)
{
	while (at < end) {
		if (is_ascii_block(at, end)) {
			at += BLOCK_BYTES;
			continue;
		}
		const char *start = at;
		while (at < end && ((unsigned char)*at & 0x80U) != 0)
			at++;
		if (!text_is_utf8(start, (size_t)(at - start)))
			return false;
		while (at < end && ((unsigned char)*at & 0x80U) == 0)
			at++;
	}
	return true;
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
	    !is_utf8(bytes, bytes + length))
		return error_set(error, ERROR_INPUT,
		    "the document is not UTF-8, or holds a NUL");
	return true;
}

/* NULL and the place of the fault, or a tree of the whole text. */
static cJSON *
parse(const char *bytes, const char *end, const char **ret_fault)
{
	const char *at = find_fault(bytes, end);
	cJSON *root = NULL;
	if (at == NULL)
		root = json_memory_parse(bytes, (size_t)(end - bytes), &at);
	while (root != NULL && at < end && (unsigned char)*at <= ' ')
		at++;
	if (root != NULL && at == end)
		return root;
	json_release(root);
	*ret_fault = at;
	return NULL;
}

cJSON *
json_parse(const char *bytes, size_t length, struct error *error)
{
	const char *fault;
	if (!check_bytes(bytes, length, error))
		return NULL;
	cJSON *root = parse(bytes, bytes + length, &fault);
	if (root == NULL)
		(void)error_set(error, ERROR_INPUT,
		    "not well-formed JSON at byte %zu of %zu",
		    (size_t)(fault - bytes) + 1, length);
	return root;
}

void
json_release(cJSON *root)
{
	json_memory_release(root);
}

const cJSON *
json_member(const cJSON *object, const char *name)
{
	if (!cJSON_IsObject(object))
		return NULL;
	const cJSON *member = object->child;
	while (member != NULL && (member->string[0] != name[0] ||
				     strcmp(member->string, name) != 0))
		member = member->next;
	return member;
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

/* As most documents have them: then none can stand twice. */
static bool
are_ascending(const cJSON *object)
{
	const cJSON *a = object->child;
	while (a != NULL && a->next != NULL &&
	       strcmp(a->string, a->next->string) < 0)
		a = a->next;
	return a == NULL || a->next == NULL;
}

static int
compare_names(const void *a, const void *b)
{
	return strcmp(*(const char *const *)a, *(const char *const *)b);
}

bool
json_members_unique(const cJSON *object)
{
	if (!cJSON_IsObject(object) || are_ascending(object))
		return true;
	size_t count = (size_t)cJSON_GetArraySize(object), used = 0;
	const char **names = memory_array(count, sizeof *names);
	const cJSON *member;
	cJSON_ArrayForEach(member, object) names[used++] = member->string;
	qsort(names, used, sizeof *names, compare_names);
	bool unique = true;
	for (size_t i = 1; i < used && unique; i++)
		unique = strcmp(names[i - 1], names[i]) != 0;
	free(names);
	return unique;
}
