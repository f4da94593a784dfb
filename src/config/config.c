#include "config/config.h"

#include "config/build.h"
#include "config/cards.h"
#include "config/values.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void
check_required(struct build *build, const struct section *section)
{
	for (size_t i = 0; setting_at(i) != NULL; i++) {
		const struct setting *setting = setting_at(i);
		if (setting->place != section->place || !setting->required ||
		    section_item(section, setting->name) != NULL)
			continue;
		char sentence[LIMIT_NAME_BYTES + 32];
		(void)snprintf(
		    sentence, sizeof sentence, "%s is missing", setting->name);
		document_complain_section(build->document, section, sentence);
	}
}

static void
check_title(struct build *build, const struct section *section)
{
	struct error error = { 0 };
	if (!value_name(section->title, &error))
		document_complain_section(build->document, section, error.text);
}

static void
take_top(struct build *build, const struct section *section)
{
	struct config *config = build->config;
	struct error error = { 0 };
	size_t units = UNITS_US;
	const struct item *item = section_item(section, "units");
	if (item != NULL)
		(void)build_judge(build, item,
		    value_choice(
			item->setting->words, item->value[0], &units, &error),
		    &error);
	config->units = (enum unit_system)units;
	config->contact = build_keep(build, section, "contact");
	config->calendar = build_keep(build, section, "calendar");
	config->page = build_keep(build, section, "page");
	item = section_item(section, "evening-alarm");
	bool good = civil_parse_clock(build_text(section, "evening-alarm"),
	    &config->evening_alarm, &error);
	if (item != NULL)
		(void)build_judge(build, item, good, &error);
	config->forecast_good_for =
	    build_quantity(build, section, "forecast-good-for");
	config->poll_minimum = build_quantity(build, section, "poll-minimum");
	config->requests_per_hour =
	    build_quantity(build, section, "requests-per-hour");
	config->archive_for = build_quantity(build, section, "archive-for");
	config->archive_megabytes =
	    build_quantity(build, section, "archive-megabytes");
	config->keep_off = build_quantity(build, section, "keep-off");
	config->applicator = build_words(build, section, "applicator");
	config->certification = build_words(build, section, "certification");
	config->currency = build_words(build, section, "currency");
	build_bench(build, section);
}

static void
take_places(struct build *build, enum setting_place place,
    void (*take)(struct build *, const struct section *))
{
	struct document *document = build->document;
	for (size_t i = 0; i < document->section_count; i++) {
		const struct section *section = &document->section[i];
		if (section->place != place)
			continue;
		if (place != PLACE_TOP)
			check_title(build, section);
		check_required(build, section);
		take(build, section);
	}
}

/* Sprayers come before the sites that name them, products before packages. */
static bool
understand(struct document *document, const char *path, struct config *config)
{
	struct build build = { document, config };
	struct arena *arena = &config->arena;
	size_t room = document->section_count;
	config->path = arena_string(arena, path);
	char *whole = realpath(path, NULL);
	config->folder = arena_string(arena, whole != NULL ? whole : path);
	free(whole);
	char *slash = strrchr(config->folder, '/');
	if (slash != NULL)
		*slash = '\0';
	config->sprayers = arena_array(arena, room, sizeof(struct sprayer));
	config->sites = arena_array(arena, room, sizeof(struct site));
	config->products = arena_array(arena, room, sizeof(struct product));
	config->packages = arena_array(arena, room, sizeof(struct package));
	config->practice =
	    arena_array(arena, room * CARD_RULES_MAX, sizeof(struct rule));
	take_places(&build, PLACE_TOP, take_top);
	take_places(&build, PLACE_SPRAYER, build_sprayer);
	take_places(&build, PLACE_SITE, build_site);
	take_places(&build, PLACE_PRODUCT, build_product);
	take_places(&build, PLACE_PACKAGE, build_package);
	take_places(&build, PLACE_PRACTICE, build_practice);
	return document->complaint_count == 0;
}

static bool
finish(struct document *document, const char *path, bool good,
    struct config *ret, struct text *complaints)
{
	struct config config = { 0 };
	good = good && understand(document, path, &config);
	if (good) {
		*ret = config;
	} else {
		text_add(complaints, text_string(&document->complaints));
		arena_release(&config.arena);
	}
	document_release(document);
	return good;
}

bool
config_read(const char *path, struct config *ret, struct text *complaints)
{
	struct document document;
	bool good = document_read(path, &document);
	return finish(&document, path, good, ret, complaints);
}

bool
config_read_bytes(const char *name, const char *bytes, size_t length,
    struct config *ret, struct text *complaints)
{
	struct document document;
	bool good = document_read_bytes(name, bytes, length, &document);
	return finish(&document, name, good, ret, complaints);
}

void
config_release(struct config *config)
{
	if (config == NULL)
		return;
	arena_release(&config->arena);
	*config = (struct config){ 0 };
}

const struct site *
config_site(const struct config *config, const char *name)
{
	for (size_t i = 0; i < config->site_count; i++)
		if (strcmp(config->sites[i].name, name) == 0)
			return &config->sites[i];
	return NULL;
}

const struct product *
config_product(const struct config *config, const char *name)
{
	for (size_t i = 0; i < config->product_count; i++)
		if (strcmp(config->products[i].name, name) == 0)
			return &config->products[i];
	return NULL;
}
