#include "config/source.h"

#include "base/file.h"
#include "base/limits.h"
#include "base/memory.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum mode { MODE_PLAIN, MODE_DOUBLE, MODE_SINGLE, MODE_LINE, MODE_BLOCK };

/* One file on the way in. */
struct reader {
	const char *name;  /* in the arena */
	const char *bytes; /* in the arena */
	size_t length, at;
	int line;
	enum mode mode;
	enum mode line_mode; /* when the line began */
	size_t line_start;   /* in the text */
};

struct building {
	struct source *source;
	struct arena *arena;
	struct reader stack[SOURCE_DEPTH];
	size_t depth;
	struct error *error;
};

void
source_release(struct source *source)
{
	text_release(&source->text);
	free(source->line);
	*source = (struct source){ 0 };
}

struct source_line
source_origin(const struct source *source, int number)
{
	size_t i = number < 1 ? 0 : (size_t)number - 1;
	if (i >= source->count)
		i = source->count - 1;
	return source->line[i];
}

static bool
fail(struct building *building, const struct reader *reader,
    const char *sentence)
{
	return error_set(building->error, ERROR_INPUT, "%s:%d: %s",
	    reader->name, reader->line, sentence);
}

static bool
push(struct building *building, const char *name, const char *bytes,
    size_t length)
{
	struct reader reader = { .name = arena_string(building->arena, name),
		.bytes = bytes,
		.length = length,
		.line = 1,
		.line_start = building->source->text.length };
	if (length == 0)
		return fail(building, &reader, "the file is empty");
	if (memchr(bytes, '\0', length) != NULL)
		return fail(
		    building, &reader, "the file holds a NUL byte: not text");
	building->stack[building->depth++] = reader;
	return true;
}

/* The file that `name` means beside the file `beside`; free it. */
static char *
path_beside(const char *beside, const char *name)
{
	const char *slash = strrchr(beside, '/');
	int folder =
	    slash == NULL || name[0] == '/' ? 0 : (int)(slash - beside) + 1;
	size_t size = (size_t)folder + strlen(name) + 1;
	char *path = memory_array(size, 1);
	(void)snprintf(path, size, "%.*s%s", folder, beside, name);
	return path;
}

static bool
open_include(struct building *building, const char *name)
{
	const struct reader *from = &building->stack[building->depth - 1];
	struct error fault = { 0 };
	if (building->depth == SOURCE_DEPTH)
		return fail(building, from, "files are included too deeply");
	struct text bytes;
	text_init(&bytes, LIMIT_CONFIG_BYTES);
	char *path = path_beside(from->name, name);
	bool good = file_read(path, &bytes, &fault);
	if (good) {
		char *kept = arena_array(building->arena, bytes.length + 1, 1);
		memcpy(kept, text_string(&bytes), bytes.length);
		good = push(building, path, kept, bytes.length);
	} else {
		(void)fail(building, from, fault.text);
	}
	free(path);
	text_release(&bytes);
	return good;
}

static const char *
skip_blanks(const char *text)
{
	return text + strspn(text, " \t\r");
}

/* The FILE of a line that is include("FILE") alone; false for others. */
static bool
is_include(const char *line, char *ret, size_t size)
{
	const char *at = skip_blanks(line);
	if (strncmp(at, "include", 7) != 0)
		return false;
	at = skip_blanks(at + 7);
	if (*at != '(')
		return false;
	at = skip_blanks(at + 1);
	if (*at != '"' && *at != '\'')
		return false;
	char quote[2] = { *at, '\0' };
	size_t length = strcspn(at + 1, quote);
	if (at[1 + length] == '\0' || length == 0 || length >= size)
		return false;
	memcpy(ret, at + 1, length);
	ret[length] = '\0';
	at = skip_blanks(at + length + 2);
	return *at == ')' && *skip_blanks(at + 1) == '\0';
}

/* The line is whole: takes it into the source, or what it includes. */
static bool
end_line(struct building *building)
{
	struct source *source = building->source;
	struct reader *reader = &building->stack[building->depth - 1];
	char name[LIMIT_TEXT_BYTES];
	bool plain =
	    reader->line_mode == MODE_PLAIN && reader->mode == MODE_PLAIN;
	bool include =
	    plain && is_include(text_string(&source->text) + reader->line_start,
			 name, sizeof name);
	if (include) {
		source->text.length = reader->line_start;
		source->text.data[source->text.length] = '\0';
	}
	source->line = memory_grow(source->line, source->count,
	    &source->capacity, sizeof *source->line);
	source->line[source->count++] =
	    (struct source_line){ reader->name, reader->line };
	text_append(&source->text, "\n", 1);
	bool good = !include || open_include(building, name);
	reader->line++;
	reader->line_mode = reader->mode;
	reader->line_start = source->text.length;
	return good;
}

/* May a comment begin behind this character? In a word it does not. */
static bool
ends_token(char before)
{
	return strchr(" \t\r\n={}(),\"'", before) != NULL;
}

static enum mode
plain_mode(const struct reader *reader)
{
	char here = reader->bytes[reader->at];
	char next = '\0';
	if (reader->at + 1 < reader->length)
		next = reader->bytes[reader->at + 1];
	bool fresh =
	    reader->at == 0 || ends_token(reader->bytes[reader->at - 1]);
	if (here == '"')
		return MODE_DOUBLE;
	if (here == '\'')
		return MODE_SINGLE;
	if (fresh && (here == '#' || (here == '/' && next == '/')))
		return MODE_LINE;
	return fresh && here == '/' && next == '*' ? MODE_BLOCK : MODE_PLAIN;
}

/* A character that is no line end, in a quotation: copied with what it hides.
 */
static void
take_quoted(struct reader *reader, struct text *text)
{
	char quote = reader->mode == MODE_DOUBLE ? '"' : '\'';
	const char *here = reader->bytes + reader->at;
	bool hides = here[0] == '\\' && reader->at + 1 < reader->length &&
		     here[1] != '\n';
	size_t count = hides ? 2 : 1;
	text_append(text, here, count);
	reader->at += count;
	if (here[0] == quote)
		reader->mode = MODE_PLAIN;
}

static void
take_character(struct reader *reader, struct text *text)
{
	const char *here = reader->bytes + reader->at;
	switch (reader->mode) {
	case MODE_DOUBLE:
	case MODE_SINGLE:
		take_quoted(reader, text);
		return;
	case MODE_PLAIN:
		reader->mode = plain_mode(reader);
		if (reader->mode != MODE_LINE && reader->mode != MODE_BLOCK &&
		    here[0] != '\r')
			text_append(text, here, 1);
		reader->at += reader->mode == MODE_BLOCK ? 2 : 1;
		return;
	case MODE_BLOCK:
		if (here[0] == '*' && reader->at + 1 < reader->length &&
		    here[1] == '/') {
			reader->mode = MODE_PLAIN;
			text_append(text, " ", 1);
			reader->at++;
		}
		break;
	case MODE_LINE:
		break;
	}
	reader->at++;
}

/* One step: a line end, a character, or the end of a file. */
static bool
step(struct building *building)
{
	struct reader *reader = &building->stack[building->depth - 1];
	if (reader->at < reader->length && reader->bytes[reader->at] != '\n') {
		take_character(reader, &building->source->text);
		return true;
	}
	if (reader->mode == MODE_LINE)
		reader->mode = MODE_PLAIN;
	bool over = reader->at == reader->length;
	if (over && reader->mode != MODE_PLAIN)
		return fail(building, reader,
		    reader->mode == MODE_BLOCK
			? "premature end of file inside a comment"
			: "premature end of file inside a quotation");
	reader->at++;
	bool empty = building->source->text.length == reader->line_start;
	if (over && empty) {
		building->depth--;
		if (building->depth > 0)
			building->stack[building->depth - 1].line_start =
			    building->source->text.length;
		return true;
	}
	if (over)
		reader->at = reader->length; /* the line end is missing */
	return end_line(building);
}

bool
source_build(struct source *source, struct arena *arena, const char *name,
    const char *bytes, size_t length, struct error *error)
{
	struct building building = {
		.source = source, .arena = arena, .error = error
	};
	*source = (struct source){ 0 };
	text_init(&source->text, LIMIT_CONFIG_BYTES);
	bool good = push(&building, name, bytes, length);
	while (good && building.depth > 0 && !source->text.failed)
		good = step(&building);
	if (good && source->text.failed)
		good = error_set(error, ERROR_INPUT,
		    "%s:1: longer than %d bytes with all that it includes",
		    name, (int)LIMIT_CONFIG_BYTES);
	if (good && source->count == 0)
		good = error_set(
		    error, ERROR_INPUT, "%s:1: the file is empty", name);
	return good;
}
