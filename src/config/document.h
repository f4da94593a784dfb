/*
 * The configuration file as text: sections, settings, their values and lines,
 * checked against the table of settings but not yet understood. libconfuse
 * reads the syntax.
 */
#ifndef CONFIG_DOCUMENT_H
#define CONFIG_DOCUMENT_H

#include "base/arena.h"
#include "base/text.h"
#include "config/settings.h"

struct item {
	const struct setting *setting;
	const char *file; /* of this line: an included one, perhaps */
	int line;
	const char **value; /* one, or all of a list */
	size_t value_count;
};

struct section {
	enum setting_place place;
	const char *title; /* "" at the top */
	const char *file;
	int line; /* of its closing brace */
	struct item *item;
	size_t item_count, item_capacity;
};

struct document {
	struct arena arena;      /* owns all that the others point to */
	struct section *section; /* owned; section[0] is the top */
	size_t section_count, section_capacity;
	struct text complaints; /* one "file:line: sentence\n" each */
	size_t complaint_count;
};

/*
 * Reads the file `path` with what it includes. Complaints about single values
 * are collected; a fault of syntax or an unknown key ends the reading. Returns
 * false when there is any complaint. Release in either case.
 */
bool document_read(const char *path, struct document *ret);

/* The same for bytes; `name` stands for the file in complaints. */
bool document_read_bytes(
    const char *name, const char *bytes, size_t length, struct document *ret);
void document_release(struct document *document);

/* Adds "file:line: key: sentence" up to LIMIT_CONFIG_ERRORS of them. */
void document_complain(
    struct document *document, const struct item *item, const char *sentence);

/* The same about a whole section, "file:line: site \"x\": sentence". */
void document_complain_section(struct document *document,
    const struct section *section, const char *sentence);

/* NULL when the section does not have it. */
const struct item *section_item(
    const struct section *section, const char *name);

#endif
