/*
 * Growable text with a ceiling. Appending past the ceiling sets `failed` and
 * changes nothing more, so a writer checks once, at the end.
 */
#ifndef BASE_TEXT_H
#define BASE_TEXT_H

#include <stdbool.h>
#include <stddef.h>

struct text {
	char *data;    /* owned; NUL-terminated once anything was appended */
	size_t length; /* without the NUL */
	size_t capacity;
	size_t ceiling; /* most bytes of `length` */
	bool failed;
};

void text_init(struct text *text, size_t ceiling);
void text_release(struct text *text); /* also of a zeroed one, or NULL */
void text_clear(struct text *text);   /* length 0, not failed, memory kept */

/* Each returns false once the text has failed. */
bool text_append(struct text *text, const char *data, size_t length);
bool text_add(struct text *text, const char *string);
bool text_format(struct text *text, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/* Borrowed, valid until the next append; "" when nothing was appended. */
const char *text_string(const struct text *text);

/* True when the bytes are well-formed UTF-8 without NUL (RFC 3629). */
bool text_is_utf8(const char *data, size_t length);

/* A string that was cut does not end in half a UTF-8 sequence. */
void text_trim_end(char *string);

#endif
