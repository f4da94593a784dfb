/*
 * Errors are values. A function that can fail takes a struct error last,
 * returns false (or NULL) on failure and leaves a sentence fit to show as it
 * is; each caller on the way up may put its context in front. Library code
 * never prints. A NULL error is allowed everywhere: the sentence is dropped.
 */
#ifndef BASE_ERROR_H
#define BASE_ERROR_H

#include <stdbool.h>

/* The kinds are the exit codes of both programs. */
enum error_kind {
	ERROR_NONE = 0,
	ERROR_ANSWER = 1, /* the question has a "no" for an answer */
	ERROR_INPUT = 2,  /* usage, configuration or a document is wrong */
	ERROR_SYSTEM = 3, /* the machine or the network failed */
};

struct error {
	enum error_kind kind;
	char text[480]; /* UTF-8, no newline at the end; cut when too long */
};

/* Sets kind and sentence; always returns false, so callers can return it. */
bool error_set(struct error *error, enum error_kind kind, const char *format,
    ...) __attribute__((format(printf, 3, 4)));

/* Puts "context: " in front of the sentence; always returns false. */
bool error_prefix(struct error *error, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

#endif
