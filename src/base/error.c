#include "base/error.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

/* A sentence that was cut does not end in half a UTF-8 sequence. */
static void
trim_end(char *text)
{
	size_t length = strlen(text), back = 0;
	while (back < length && back < 3 &&
	       ((unsigned char)text[length - 1 - back] & 0xC0) == 0x80)
		back++;
	if (back == length)
		return;
	unsigned char lead = (unsigned char)text[length - 1 - back];
	size_t wanted = lead >= 0xF0   ? 3
			: lead >= 0xE0 ? 2
			: lead >= 0xC0 ? 1
				       : 0;
	if (back < wanted)
		text[length - 1 - back] = '\0';
}

bool
error_set(struct error *error, enum error_kind kind, const char *format, ...)
{
	if (error == NULL)
		return false;
	va_list arguments;
	va_start(arguments, format);
	error->kind = kind;
	(void)vsnprintf(error->text, sizeof error->text, format, arguments);
	va_end(arguments);
	trim_end(error->text);
	return false;
}

bool
error_prefix(struct error *error, const char *format, ...)
{
	if (error == NULL)
		return false;
	char context[sizeof error->text];
	char sentence[sizeof error->text];
	va_list arguments;
	va_start(arguments, format);
	(void)vsnprintf(context, sizeof context, format, arguments);
	va_end(arguments);
	memcpy(sentence, error->text, sizeof sentence);
	size_t used = strnlen(context, sizeof error->text - 1);
	memcpy(error->text, context, used);
	(void)snprintf(
	    error->text + used, sizeof error->text - used, ": %s", sentence);
	trim_end(error->text);
	return false;
}
