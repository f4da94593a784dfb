/*
 * The text of a configuration before it is parsed: included files put in
 * place, comments taken out, and for each line where it came from. libconfuse
 * 3.3 could do the first two, but counts a comment as several lines, so that
 * its complaints would name wrong ones.
 */
#ifndef CONFIG_SOURCE_H
#define CONFIG_SOURCE_H

#include "base/arena.h"
#include "base/error.h"
#include "base/text.h"

struct source_line {
	const char *file; /* in the arena given to source_build */
	int line;
};

struct source {
	struct text text;         /* owned */
	struct source_line *line; /* owned; of each line of `text` */
	size_t count, capacity;
};

enum { SOURCE_DEPTH = 8 }; /* files inside files */

/*
 * Builds the source from the bytes of the file `name`. A line that says
 * include("FILE") and nothing else is replaced by that file, whose name counts
 * from the folder of the file that names it. False with "file:line: sentence"
 * when a file cannot be read, includes itself, ends inside a quotation or a
 * comment, or is no text. Release in either case.
 */
bool source_build(struct source *source, struct arena *arena, const char *name,
    const char *bytes, size_t length, struct error *error);
void source_release(struct source *source);

/* Where line `number` (from 1) of the text came from; the last line for any
   number beyond it. */
struct source_line source_origin(const struct source *source, int number);

#endif
