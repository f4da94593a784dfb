#include "base/error.h"

#include "base/text.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

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
	text_trim_end(error->text);
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
	text_trim_end(error->text);
	return false;
}
