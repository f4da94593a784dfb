#include "config/document.h"

#include "base/file.h"
#include "base/limits.h"
#include "base/memory.h"
#include "config/source.h"

#include <confuse.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The line of an option, seen while it was read. */
struct place {
	const cfg_opt_t *option;
	const char *file; /* in the arena */
	int line;
};

struct reading {
	struct document *document;
	struct source source;
	struct place *place;
	size_t count, capacity;
};

/*
 * libconfuse hands no context to its callbacks (and its scanner is one for the
 * whole process), so the reading in progress is here. Main thread only.
 */
static struct reading *current;

static void
complain(
    struct document *document, const char *file, int line, const char *sentence)
{
	if (document->complaint_count++ < LIMIT_CONFIG_ERRORS)
		text_format(
		    &document->complaints, "%s:%d: %s\n", file, line, sentence);
}

void
document_complain(
    struct document *document, const struct item *item, const char *sentence)
{
	char line[sizeof((struct error *)0)->text + LIMIT_NAME_BYTES];
	(void)snprintf(
	    line, sizeof line, "%s: %s", item->setting->name, sentence);
	complain(document, item->file, item->line, line);
}

void
document_complain_section(struct document *document,
    const struct section *section, const char *sentence)
{
	char line[sizeof((struct error *)0)->text + LIMIT_NAME_BYTES * 2UL];
	(void)snprintf(line, sizeof line, "%s \"%.64s\": %s",
	    setting_place_name(section->place), section->title, sentence);
	complain(document, section->file, section->line, line);
}

const struct item *
section_item(const struct section *section, const char *name)
{
	for (size_t i = 0; i < section->item_count; i++)
		if (strcmp(section->item[i].setting->name, name) == 0)
			return &section->item[i];
	return NULL;
}

static const struct place *
find_place(const struct reading *reading, const cfg_opt_t *option)
{
	for (size_t i = 0; i < reading->count; i++)
		if (reading->place[i].option == option)
			return &reading->place[i];
	return NULL;
}

static void report(cfg_t *cfg, const char *format, va_list arguments)
    __attribute__((format(printf, 2, 0)));

static struct source_line
origin(const struct reading *reading, const cfg_t *cfg)
{
	return source_origin(&reading->source, cfg != NULL ? cfg->line : 1);
}

static void
report(cfg_t *cfg, const char *format, va_list arguments)
{
	char sentence[sizeof((struct error *)0)->text];
	struct source_line from = origin(current, cfg);
	(void)vsnprintf(sentence, sizeof sentence, format, arguments);
	complain(current->document, from.file, from.line, sentence);
}

/*
 * Called for each value as it is read, when it is counted but not yet stored:
 * remembers the line, refuses a setting that is written twice (a list that
 * goes on with += is one), and text that is empty, too long or not UTF-8.
 */
static int
see_value(cfg_t *cfg, cfg_opt_t *option, const char *value, void *result)
{
	struct reading *reading = current;
	const struct place *before = find_place(reading, option);
	if (before != NULL && cfg_opt_size(option) == 1) {
		cfg_error(cfg, "%s is written twice (first in line %d)",
		    option->name, before->line);
		return -1;
	}
	if (value[0] == '\0') {
		cfg_error(cfg, "%s is empty", option->name);
		return -1;
	}
	if (!text_is_utf8(value, strlen(value))) {
		cfg_error(cfg, "%s is not UTF-8 text", option->name);
		return -1;
	}
	if (strlen(value) > LIMIT_TEXT_BYTES) {
		cfg_error(cfg, "%s is longer than %d bytes", option->name,
		    (int)LIMIT_TEXT_BYTES);
		return -1;
	}
	*(const char **)result = value;
	if (before != NULL)
		return 0;
	reading->place = memory_grow(reading->place, reading->count,
	    &reading->capacity, sizeof *reading->place);
	struct source_line from = origin(reading, cfg);
	reading->place[reading->count++] =
	    (struct place){ option, from.file, from.line };
	return 0;
}

/*
 * libconfuse takes the end of the file for the end of a section. So that a
 * file that was cut off is not read as a card with fewer limits, this setting
 * is put behind the last line: it has to land outside of any section.
 */
#define SENTINEL      "lull-end-of-file"
#define SENTINEL_LINE "\n" SENTINEL " = yes\n"

/* libconfuse's options for one place of the table, ended by CFG_END. */
static cfg_opt_t *
make_options(struct arena *arena, enum setting_place place, size_t more)
{
	size_t count = 0, used = 0;
	for (size_t i = 0; setting_at(i) != NULL; i++)
		count += setting_at(i)->place == place ? 1 : 0;
	size_t room = count + more + 2; /* the sentinel and the end */
	cfg_opt_t *options = arena_array(arena, room, sizeof *options);
	options[used++] = (cfg_opt_t)CFG_STR(SENTINEL, NULL, CFGF_NODEFAULT);
	for (size_t i = 0; setting_at(i) != NULL; i++) {
		const struct setting *setting = setting_at(i);
		if (setting->place != place)
			continue;
		cfg_opt_t one = CFG_STR(setting->name, NULL, CFGF_NODEFAULT);
		cfg_opt_t list =
		    CFG_STR_LIST(setting->name, NULL, CFGF_NODEFAULT);
		options[used] = setting_is_list(setting) ? list : one;
		options[used++].parsecb = see_value;
	}
	for (size_t i = used; i < room; i++)
		options[i] = (cfg_opt_t)CFG_END();
	return options;
}

static void
take_item(struct reading *reading, struct section *section, cfg_t *cfg,
    const struct setting *setting)
{
	struct arena *arena = &reading->document->arena;
	cfg_opt_t *option = cfg_getopt(cfg, setting->name);
	const struct place *place = find_place(reading, option);
	size_t count = cfg_opt_size(option);
	if (count == 0 && (option->flags & CFGF_MODIFIED) != 0) {
		char sentence[LIMIT_NAME_BYTES + 32];
		(void)snprintf(sentence, sizeof sentence, "%s is an empty list",
		    setting->name);
		complain(
		    reading->document, section->file, section->line, sentence);
		return;
	}
	if (place == NULL)
		return;
	/* one of two files may have been cut off */
	if (section->place != PLACE_TOP &&
	    strcmp(place->file, section->file) != 0)
		complain(reading->document, place->file, place->line,
		    "a section has to end in the file in which it begins");
	struct item item = { .setting = setting,
		.file = place->file,
		.line = place->line,
		.value = arena_array(arena, count + 1, sizeof(char *)),
		.value_count = count };
	for (size_t i = 0; i < count; i++) {
		const char *value = cfg_opt_getnstr(option, (unsigned)i);
		item.value[i] = arena_string(arena, value == NULL ? "" : value);
	}
	section->item = memory_grow(section->item, section->item_count,
	    &section->item_capacity, sizeof *section->item);
	section->item[section->item_count++] = item;
}

static void
take_section(struct reading *reading, cfg_t *cfg, enum setting_place place)
{
	struct document *document = reading->document;
	struct source_line from = origin(reading, cfg);
	const char *title = place == PLACE_TOP ? "" : cfg_title(cfg);
	document->section =
	    memory_grow(document->section, document->section_count,
		&document->section_capacity, sizeof *document->section);
	struct section *section = &document->section[document->section_count++];
	*section = (struct section){ .place = place,
		.title =
		    arena_string(&document->arena, title == NULL ? "" : title),
		.file = from.file,
		.line = from.line };
	for (size_t i = 0; setting_at(i) != NULL; i++)
		if (setting_at(i)->place == place)
			take_item(reading, section, cfg, setting_at(i));
}

static void
take_all(struct reading *reading, cfg_t *cfg)
{
	take_section(reading, cfg, PLACE_TOP);
	for (enum setting_place p = PLACE_SITE; p < PLACES; p++) {
		const char *name = setting_place_name(p);
		for (unsigned i = 0; i < cfg_size(cfg, name); i++)
			take_section(reading, cfg_getnsec(cfg, name, i), p);
	}
}

static cfg_t *
open_reader(struct arena *arena)
{
	cfg_opt_t *top = make_options(arena, PLACE_TOP, PLACES);
	size_t used = 0;
	while (top[used].name != NULL)
		used++;
	for (enum setting_place p = PLACE_SITE; p < PLACES; p++)
		top[used++] = (cfg_opt_t)CFG_SEC(setting_place_name(p),
		    make_options(arena, p, 0),
		    CFGF_MULTI | CFGF_TITLE | CFGF_NO_TITLE_DUPES);
	cfg_t *cfg = cfg_init(top, CFGF_NONE);
	cfg_set_error_function(cfg, report);
	return cfg;
}

static void
parse_stream(struct reading *reading, cfg_t *cfg, FILE *stream)
{
	struct document *document = reading->document;
	bool parsed = cfg_parse_fp(cfg, stream) == CFG_SUCCESS;
	struct source_line last = origin(reading, cfg);
	if (parsed && cfg_size(cfg, SENTINEL) > 0)
		take_all(reading, cfg);
	else if (document->complaint_count == 0)
		complain(document, last.file, last.line,
		    "the file ends inside a section: a '}' is missing");
}

/* Parses the source with the sentinel behind it. */
static void
parse(struct reading *reading)
{
	struct document *document = reading->document;
	struct text text;
	text_init(&text, (size_t)LIMIT_CONFIG_BYTES * 2);
	text_add(&text, text_string(&reading->source.text));
	text_add(&text, SENTINEL_LINE);
	FILE *stream = fmemopen(text.data, text.length, "r");
	if (stream == NULL) {
		struct source_line first = source_origin(&reading->source, 1);
		complain(document, first.file, first.line, "cannot be read");
	} else {
		cfg_t *cfg = open_reader(&document->arena);
		current = reading;
		parse_stream(reading, cfg, stream);
		current = NULL;
		(void)fclose(stream);
		(void)cfg_free(cfg);
	}
	text_release(&text);
}

/* The sentinel's name is not for keepers. */
static bool
has_sentinel(const struct text *text)
{
	return text->length > 0 && memmem(text->data, text->length, SENTINEL,
				       sizeof SENTINEL - 1) != NULL;
}

bool
document_read_bytes(
    const char *name, const char *bytes, size_t length, struct document *ret)
{
	struct error error = { 0 };
	*ret = (struct document){ 0 };
	text_init(&ret->complaints, LIMIT_OUTPUT_BYTES);
	struct reading reading = { .document = ret };
	if (!source_build(
		&reading.source, &ret->arena, name, bytes, length, &error)) {
		ret->complaint_count++;
		text_format(&ret->complaints, "%s\n", error.text);
	} else if (has_sentinel(&reading.source.text)) {
		complain(ret, name, 1, "there is no setting " SENTINEL);
	} else {
		parse(&reading);
	}
	source_release(&reading.source);
	free(reading.place);
	return ret->complaint_count == 0;
}

bool
document_read(const char *path, struct document *ret)
{
	struct error error = { 0 };
	struct text bytes;
	text_init(&bytes, LIMIT_CONFIG_BYTES);
	bool good = file_read(path, &bytes, &error);
	if (good) {
		good = document_read_bytes(
		    path, text_string(&bytes), bytes.length, ret);
	} else {
		*ret = (struct document){ .complaint_count = 1 };
		text_init(&ret->complaints, LIMIT_OUTPUT_BYTES);
		text_format(&ret->complaints, "%s\n", error.text);
	}
	text_release(&bytes);
	return good;
}

void
document_release(struct document *document)
{
	if (document == NULL)
		return;
	for (size_t i = 0; i < document->section_count; i++)
		free(document->section[i].item);
	free(document->section);
	text_release(&document->complaints);
	arena_release(&document->arena);
	*document = (struct document){ 0 };
}
