/* Sprayers and sites. */
#include "config/build.h"

#include "config/values.h"
#include "config/zone.h"
#include "weather/format.h"

#include <stdio.h>
#include <string.h>

void
build_sprayer(struct build *build, const struct section *section)
{
	struct sprayer *sprayer =
	    &build->config->sprayers[build->config->sprayer_count++];
	sprayer->name = arena_string(&build->config->arena, section->title);
	sprayer->tank = build_quantity(build, section, "tank");
	sprayer->carrier = build_quantity(build, section, "carrier");
	sprayer->pace = build_quantity(build, section, "pace");
	sprayer->fill = build_quantity(build, section, "fill");
}

static void
take_zone(struct build *build, const struct section *section, struct site *site)
{
	struct config *config = build->config;
	const struct item *item = section_item(section, "zone");
	struct error error = { 0 };
	for (size_t i = 0; item != NULL && i < config->site_count; i++) {
		const struct zone *known = &config->sites[i].zone;
		if (&config->sites[i] == site ||
		    strcmp(known->name, item->value[0]) != 0)
			continue;
		site->zone = *known;
		return;
	}
	if (item != NULL)
		(void)build_judge(build, item,
		    zone_load(item->value[0], &site->zone, &error), &error);
}

static void
take_hours(
    struct build *build, const struct section *section, struct site *site)
{
	const struct item *item = section_item(section, "hours");
	if (item == NULL)
		return;
	site->hours = arena_array(
	    &build->config->arena, item->value_count, sizeof *site->hours);
	for (size_t i = 0; i < item->value_count; i++) {
		struct error error = { 0 };
		if (build_judge(build, item,
			value_clock_span(item->value[i],
			    &site->hours[site->hours_count], &error),
			&error))
			site->hours_count++;
	}
}

static void
take_told(struct build *build, const struct section *section, struct site *site)
{
	const struct item *item = section_item(section, "turf");
	if (item == NULL)
		return;
	site->told = arena_array(
	    &build->config->arena, item->value_count, sizeof *site->told);
	for (size_t i = 0; i < item->value_count; i++) {
		struct error error = { 0 };
		struct turf_told told = { 0 };
		bool good =
		    value_told(item->value[i], &site->zone, &told, &error);
		if (good && site->told_count > 0 &&
		    told.from <= site->told[site->told_count - 1].from)
			good = error_set(&error, ERROR_INPUT,
			    "'%s' is not later than the look before it",
			    item->value[i]);
		if (build_judge(build, item, good, &error))
			site->told[site->told_count++] = told;
	}
}

static void
take_sprayer_of_site(
    struct build *build, const struct section *section, struct site *site)
{
	struct config *config = build->config;
	const struct item *item = section_item(section, "sprayer");
	for (size_t i = 0; item != NULL && i < config->sprayer_count; i++)
		if (strcmp(config->sprayers[i].name, item->value[0]) == 0)
			site->sprayer = &config->sprayers[i];
	if (item == NULL || site->sprayer != NULL)
		return;
	struct error error = { 0 };
	(void)build_judge(build, item,
	    error_set(&error, ERROR_INPUT, "there is no sprayer \"%s\"",
		item->value[0]),
	    &error);
}

/*
 * The host of the Open-Meteo service that is free for uses that are not
 * commercial (its terms of use). Its paid hosts have other names.
 */
#define FREE_HOST "://api.open-meteo.com/"

/* A professional site may not use what is free for others. */
static bool
may_be_asked(
    struct build *build, const struct section *section, const char *address)
{
	const struct item *use = section_item(section, "use");
	struct error error = { 0 };
	size_t professional = 0;
	if (use == NULL)
		return true;
	bool good = value_choice(
	    use->setting->words, use->value[0], &professional, &error);
	if (good && professional == 1 && strstr(address, FREE_HOST) != NULL)
		good = error_set(&error, ERROR_INPUT,
		    "the forecast's host is free for uses that are not "
		    "commercial only; take its paid host or one of your own");
	return build_judge(build, use, good, &error);
}

/* A file: address counts from the folder of the configuration. */
static void
take_forecast(
    struct build *build, const struct section *section, struct site *site)
{
	struct arena *arena = &build->config->arena;
	const struct item *item = section_item(section, "forecast");
	struct error error = { 0 };
	if (item == NULL)
		return;
	const char *address = item->value[0];
	bool is_file = strncmp(address, "file:", 5) == 0;
	if (!is_file && strncmp(address, "https://", 8) != 0 &&
	    strncmp(address, "http://", 7) != 0) {
		(void)build_judge(build, item,
		    error_set(&error, ERROR_INPUT,
			"'%s' is no https:, http: or file: address", address),
		    &error);
		return;
	}
	if (!is_file && build->config->contact == NULL) {
		(void)build_judge(build, item,
		    error_set(&error, ERROR_INPUT,
			"a forecast from the web needs \"contact\" at the top: "
			"the service asks who runs this"),
		    &error);
		return;
	}
	if (!may_be_asked(build, section, address))
		return;
	if (!is_file || address[5] == '/') {
		site->forecast = arena_string(arena, address);
		return;
	}
	const char *folder = build->config->folder;
	size_t size = strlen(folder) + strlen(address) + 2;
	char *whole = arena_array(arena, size, 1);
	(void)snprintf(whole, size, "file:%s/%s", folder, address + 5);
	site->forecast = whole;
}

static void
take_format(
    struct build *build, const struct section *section, struct site *site)
{
	const struct item *item = section_item(section, "format");
	struct error error = { 0 };
	site->format = build_keep(build, section, "format");
	if (item != NULL && format_find(site->format) == NULL)
		(void)build_judge(build, item,
		    error_set(&error, ERROR_INPUT,
			"there is no forecast format \"%s\"", site->format),
		    &error);
}

void
build_site(struct build *build, const struct section *section)
{
	struct site *site = &build->config->sites[build->config->site_count++];
	site->name = arena_string(&build->config->arena, section->title);
	site->latitude = build_quantity(build, section, "latitude");
	site->longitude = build_quantity(build, section, "longitude");
	site->area = build_quantity(build, section, "area");
	site->rain_chance = build_quantity(build, section, "rain-chance");
	site->told_holds = build_quantity(build, section, "turf-holds");
	take_zone(build, section, site);
	take_sprayer_of_site(build, section, site);
	take_forecast(build, section, site);
	take_format(build, section, site);
	take_told(build, section, site);
	take_hours(build, section, site);
}
