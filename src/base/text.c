#include "base/text.h"

#include "base/memory.h"

#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void
text_init(struct text *text, size_t ceiling)
{
	*text = (struct text){ .ceiling = ceiling };
}

void
text_release(struct text *text)
{
	if (text == NULL)
		return;
	free(text->data);
	*text = (struct text){ .ceiling = text->ceiling };
}

void
text_clear(struct text *text)
{
	text->length = 0;
	text->failed = false;
	if (text->data != NULL)
		text->data[0] = '\0';
}

/* Makes room for `more` bytes and the NUL; fails at the ceiling. */
static bool
reserve(struct text *text, size_t more)
{
	if (text->failed || more > text->ceiling - text->length) {
		text->failed = true;
		return false;
	}
	size_t need = text->length + more + 1;
	if (need <= text->capacity)
		return true;
	size_t capacity = text->capacity < 64 ? 64 : text->capacity;
	while (capacity < need)
		capacity *= 2;
	text->data = memory_resize(text->data, capacity, 1);
	text->capacity = capacity;
	return true;
}

bool
text_append(struct text *text, const char *data, size_t length)
{
	if (!reserve(text, length))
		return false;
	if (length > 0)
		memcpy(text->data + text->length, data, length);
	text->length += length;
	text->data[text->length] = '\0';
	return true;
}

bool
text_add(struct text *text, const char *string)
{
	return text_append(text, string, strlen(string));
}

bool
text_format(struct text *text, const char *format, ...)
{
	va_list arguments;
	va_start(arguments, format);
	int length = vsnprintf(NULL, 0, format, arguments);
	va_end(arguments);
	if (length < 0 || !reserve(text, (size_t)length)) {
		text->failed = true;
		return false;
	}
	va_start(arguments, format);
	(void)vsnprintf(
	    text->data + text->length, (size_t)length + 1, format, arguments);
	va_end(arguments);
	text->length += (size_t)length;
	return true;
}

const char *
text_string(const struct text *text)
{
	return text->data == NULL ? "" : text->data;
}

/* Length of the well-formed sequence at `byte`, or 0. */
static size_t
sequence_length(const unsigned char *byte, size_t left)
{
	if (byte[0] == 0)
		return 0;
	if (byte[0] < 0x80)
		return 1;
	size_t length = byte[0] >= 0xF0 ? 4 : byte[0] >= 0xE0 ? 3 : 2;
	if (byte[0] < 0xC2 || byte[0] > 0xF4 || length > left)
		return 0;
	uint32_t point = byte[0] & (0x7FU >> length);
	for (size_t i = 1; i < length; i++) {
		if ((byte[i] & 0xC0) != 0x80)
			return 0;
		point = point << 6 | (byte[i] & 0x3FU);
	}
	static const uint32_t least[] = { 0, 0, 0x80, 0x800, 0x10000 };
	bool surrogate = point >= 0xD800 && point <= 0xDFFF;
	return point < least[length] || point > 0x10FFFF || surrogate ? 0
								      : length;
}

bool
text_is_utf8(const char *data, size_t length)
{
	const unsigned char *bytes = (const unsigned char *)data;
	size_t at = 0;
	while (at < length) {
		size_t step = sequence_length(bytes + at, length - at);
		if (step == 0)
			return false;
		at += step;
	}
	return true;
}

void
text_trim_end(char *string)
{
	size_t length = strlen(string), back = 0;
	while (back < length && back < 3 &&
	       ((unsigned char)string[length - 1 - back] & 0xC0) == 0x80)
		back++;
	if (back == length)
		return;
	unsigned char lead = (unsigned char)string[length - 1 - back];
	size_t wanted = lead >= 0xF0   ? 3
			: lead >= 0xE0 ? 2
			: lead >= 0xC0 ? 1
				       : 0;
	if (back < wanted)
		string[length - 1 - back] = '\0';
}
