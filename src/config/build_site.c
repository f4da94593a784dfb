/* Sprayers and sites. */
#include "config/build.h"

#include "config/card_values.h"
#include "config/values.h"
#include "config/zone.h"
#include "weather/format.h"

#include <math.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

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
	sprayer->droplets = build_droplets(build, section);
	sprayer->release_height =
	    section_item(section, "height") == NULL
		? (double)NAN
		: build_quantity(build, section, "height");
	sprayer->swath = section_item(section, "swath") == NULL
			     ? (double)NAN
			     : build_quantity(build, section, "swath");
	sprayer->calibrated =
	    build_date(build, section, "calibrated", INT64_MIN);
	sprayer->calibration_holds =
	    build_quantity(build, section, "calibration-holds");
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

/* True when the address lies on a host that is free for others only. */
static bool
is_home_only(const char *address)
{
	const struct format *format;
	const char *host = strstr(address, "://");
	if (host == NULL)
		return false;
	host += strlen("://");
	size_t length = strcspn(host, "/?#:");
	for (size_t i = 0; (format = format_at(i)) != NULL; i++)
		if (format->home_host != NULL &&
		    strlen(format->home_host) == length &&
		    strncasecmp(host, format->home_host, length) == 0)
			return true;
	return false;
}

/* The scheme, and what the services ask of those who ask them. */
static bool
check_address(const struct build *build, const struct section *section,
    const char *address, struct error *error)
{
	const char *use = build_text(section, "use");
	if (strncmp(address, "file:", 5) == 0)
		return true;
	if (strncmp(address, "https://", 8) != 0 &&
	    strncmp(address, "http://", 7) != 0)
		return error_set(error, ERROR_INPUT,
		    "'%s' is no https:, http: or file: address", address);
	if (build->config->contact == NULL)
		return error_set(error, ERROR_INPUT,
		    "a forecast from the web needs \"contact\" at the top: "
		    "the service asks who runs this");
	if (strcmp(use, "professional") == 0 && is_home_only(address))
		return error_set(error, ERROR_INPUT,
		    "that host is free for uses that are not commercial only: "
		    "write the address of its paid host or one of your own");
	return true;
}

/* A file: address counts from the folder of the configuration. */
static const char *
keep_address(const struct build *build, const char *address)
{
	struct arena *arena = &build->config->arena;
	const char *folder = build->config->folder;
	if (strncmp(address, "file:", 5) != 0 || address[5] == '/')
		return arena_string(arena, address);
	size_t size = strlen(folder) + strlen(address) + 2;
	char *whole = arena_array(arena, size, 1);
	(void)snprintf(whole, size, "file:%s/%s", folder, address + 5);
	return whole;
}

/* "nws-grid", or "nws-grid file:week.json". */
static bool
read_source(const struct build *build, const struct section *section,
    const char *text, struct text *address, struct error *error)
{
	char name[LIMIT_NAME_BYTES] = "";
	size_t length = strcspn(text, " ");
	size_t kept = length < sizeof name ? length : sizeof name - 1;
	memcpy(name, text, kept);
	const struct format *format = format_find(name);
	const char *rest = text + length + strspn(text + length, " ");
	if (format == NULL)
		return error_set(error, ERROR_INPUT,
		    "there is no forecast format \"%s\"", name);
	struct site *site =
	    &build->config->sites[build->config->site_count - 1];
	bool is_file = strncmp(rest, "file:", 5) == 0;
	if (is_file)
		text_add(address, rest); /* a file's name may hold anything */
	else if (!format_address(format,
		     rest[0] != '\0' ? rest : format->address, site->latitude,
		     site->longitude, address, error))
		return false;
	if (!check_address(build, section, text_string(address), error))
		return false;
	site->source[site->source_count++] =
	    (struct forecast_source){ .format = format->name,
		    .address = keep_address(build, text_string(address)) };
	return true;
}

/* The same document twice would answer for itself. */
static bool
check_twice(const struct site *site, struct error *error)
{
	const struct forecast_source *last =
	    &site->source[site->source_count - 1];
	for (size_t i = 0; i + 1 < site->source_count; i++)
		if (strcmp(site->source[i].address, last->address) == 0)
			return error_set(error, ERROR_INPUT,
			    "'%s' is named twice", last->format);
	return true;
}

static void
take_forecast(
    struct build *build, const struct section *section, struct site *site)
{
	const struct item *item = section_item(section, "forecast");
	if (item == NULL)
		return;
	site->source = arena_array(
	    &build->config->arena, item->value_count, sizeof *site->source);
	for (size_t i = 0; i < item->value_count; i++) {
		struct error error = { 0 };
		struct text address;
		text_init(&address, LIMIT_TEXT_BYTES);
		bool good = read_source(build, section, item->value[i],
				&address, &error) &&
			    check_twice(site, &error);
		(void)build_judge(build, item, good, &error);
		text_release(&address);
	}
}

static void
check_use(struct build *build, const struct section *section)
{
	(void)build_choice(build, section, "use", 0);
}

static void
take_sides(
    struct build *build, const struct section *section, struct site *site)
{
	struct arena *arena = &build->config->arena;
	const struct item *item = section_item(section, "sides");
	if (item == NULL)
		return;
	site->side = arena_array(arena, item->value_count, sizeof *site->side);
	for (size_t i = 0; i < item->value_count; i++) {
		struct error error = { 0 };
		struct sensitive_side side = { 0 };
		if (!build_judge(build, item,
			value_side(
			    item->value[i], &side.bearing, &side.what, &error),
			&error))
			continue;
		side.what = arena_string(arena, side.what);
		site->side[site->side_count++] = side;
	}
}

static void
take_soil(struct build *build, const struct section *section, struct site *site)
{
	const struct item *item = section_item(section, "soil");
	if (item == NULL)
		return;
	site->soil = arena_array(
	    &build->config->arena, item->value_count, sizeof *site->soil);
	for (size_t i = 0; i < item->value_count; i++) {
		struct error error = { 0 };
		struct soil_reading *reading = &site->soil[site->soil_count];
		bool good =
		    value_soil(item->value[i], &site->zone, reading, &error);
		if (good && site->soil_count > 0 &&
		    reading->at <= reading[-1].at)
			good = error_set(&error, ERROR_INPUT,
			    "'%s' is not later than the reading before it",
			    item->value[i]);
		if (build_judge(build, item, good, &error))
			site->soil_count++;
	}
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
	site->degree_base = build_quantity(build, section, "degree-base");
	site->yearly_mean = section_item(section, "yearly-mean") == NULL
				? (double)NAN
				: build_quantity(build, section, "yearly-mean");
	if (section_item(section, "species") != NULL)
		site->species = (enum turf_species)(
		    build_choice(build, section, "species", 0) + TURF_UNSAID +
		    1);
	take_zone(build, section, site);
	take_sprayer_of_site(build, section, site);
	check_use(build, section);
	take_forecast(build, section, site);
	take_told(build, section, site);
	take_soil(build, section, site);
	take_sides(build, section, site);
	take_hours(build, section, site);
	site->client = build_words(build, section, "client");
	site->address = build_words(build, section, "address");
}
