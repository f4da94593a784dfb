/* A whole configuration becomes nouns. */
#include "unit/config_fixture.h"

#include "weather/format.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

enum { ROOM = 8192 };

static void
the_top_is_understood(void **state)
{
	(void)state;
	assert_int_equal(setenv("HOME", "/home/keeper", 1), 0);
	struct reading reading = read_good(GOOD MORE);
	const struct config *config = &reading.config;
	assert_int_equal(config->units, UNITS_METRIC);
	assert_string_equal(config->contact, "keeper@example.net");
	assert_string_equal(config->calendar, "/home/keeper/lull.ics");
	assert_null(config->page);
	assert_string_equal(config->path, "t.conf");
	assert_int_equal(config->evening_alarm, 20 * 3600 + 1800);
	assert_close(config->keep_off, 6 * 3600, 0);
	/* not said: the fallbacks */
	assert_close(config->forecast_good_for, 24 * 3600, 0);
	assert_close(config->poll_minimum, 600, 0);
	assert_close(config->requests_per_hour, 600, 0);
	assert_close(config->archive_for, 30.0 * DAY_SECONDS, 0);
	assert_close(config->archive_megabytes, 200, 0);
	end_reading(&reading);
	config_release(NULL);
}

static void
an_almost_empty_file_gives_the_fallbacks(void **state)
{
	(void)state;
	struct reading reading = read_good("# nothing\n");
	const struct config *config = &reading.config;
	assert_int_equal(config->units, UNITS_US);
	assert_null(config->contact);
	assert_null(config->calendar);
	assert_int_equal(config->evening_alarm, 19 * 3600);
	assert_close(config->keep_off, 4 * 3600, 0);
	assert_int_equal(config->site_count + config->product_count +
			     config->sprayer_count + config->practice_count,
	    0);
	assert_null(config_site(config, "front"));
	assert_null(config_product(config, ""));
	end_reading(&reading);
}

static void
a_site_and_its_sprayer_are_understood(void **state)
{
	(void)state;
	struct reading reading = read_good(GOOD MORE);
	const struct site *site = config_site(&reading.config, "front");
	assert_non_null(site);
	assert_null(config_site(&reading.config, "fr"));
	assert_close(site->latitude, 33.1, 1e-12);
	assert_close(site->longitude, -97.2, 1e-12);
	assert_close(site->area, 600, 1e-9);
	assert_close(site->rain_chance, 30, 0);
	assert_close(site->told_holds, 21.0 * DAY_SECONDS, 0);
	assert_string_equal(site->zone.name, "America/Chicago");
	assert_int_equal(zone_offset(&site->zone, 1785600000), -5 * 3600);
	assert_int_equal(site->source_count, 1);
	assert_string_equal(site->source[0].format, "nws-grid");
	/* not said: the fallbacks, and no guess at the place's mean */
	assert_close(site->degree_base, 10, 1e-12);
	assert_nan(site->yearly_mean);
	assert_int_equal(site->soil_count, 0);
	assert_int_equal(site->told_count, 2);
	/* midnights in Chicago: winter time, then summer time */
	assert_int_equal(site->told[0].from, 1769925600);
	assert_int_equal(site->told[0].state, TURF_DORMANT);
	assert_int_equal(site->told[1].from, 1773982800);
	assert_int_equal(site->told[1].state, TURF_GREEN_UP);
	assert_int_equal(site->hours_count, 2);
	assert_int_equal(site->hours[0].from, 23400);
	assert_int_equal(site->hours[1].to, 86400);
	const struct sprayer *sprayer = site->sprayer;
	assert_ptr_equal(sprayer, &reading.config.sprayers[0]);
	assert_string_equal(sprayer->name, "backpack");
	assert_close(sprayer->tank, 15, 1e-12);
	assert_close(sprayer->carrier, 0.05, 1e-12);
	assert_close(sprayer->pace, 0.25, 1e-12);
	assert_close(sprayer->fill, 600, 0);
	end_reading(&reading);
}

static const struct rule *
find_rule(const struct rule *rules, size_t count, const char *name)
{
	for (size_t i = 0; i < count; i++)
		if (strcmp(rules[i].name, name) == 0)
			return &rules[i];
	fail_msg("there is no rule %s", name);
	return NULL;
}

static void
a_card_is_understood(void **state)
{
	(void)state;
	struct reading reading = read_good(GOOD MORE);
	const struct product *product =
	    config_product(&reading.config, "post-a");
	assert_non_null(product);
	assert_string_equal(product->label, "invented label, page 3");
	assert_close(product->rate, 0.3, 1e-12);
	assert_int_equal(product->rate_kind, QUANTITY_MASS_PER_AREA);
	assert_close(product->keep_off, 24 * 3600, 0);
	assert_close(product->retreatment, 21, 1e-12);
	/* ceiling, wind, two states of turf, days since */
	assert_int_equal(product->rule_count, 5);
	for (size_t i = 0; i < product->rule_count; i++) {
		const struct rule *rule = &product->rules[i];
		assert_int_equal(rule->origin, ORIGIN_LABEL);
		assert_string_equal(rule->owner, "post-a");
		assert_string_equal(rule->source, "invented label, page 3");
	}
	const struct rule *ceiling = find_rule(
	    product->rules, product->rule_count, "temperature-ceiling");
	assert_int_equal(ceiling->bound, BOUND_BELOW);
	assert_close(ceiling->limit, 53 / 1.8, 1e-9);
	assert_int_equal(product->override_count, 2);
	assert_string_equal(product->overrides[0], "wind-maximum");
	assert_string_equal(product->overrides[1], "temperature-ceiling");
	const struct product *dye = config_product(&reading.config, "dye");
	assert_int_equal(dye->rule_count, 0);
	assert_int_equal(dye->override_count, 0);
	assert_close(dye->rate, 0, 0);
	assert_close(dye->keep_off, 0, 0);
	assert_close(dye->retreatment, 0, 0);
	end_reading(&reading);
}

static void
practice_limits_arrive_with_their_source(void **state)
{
	(void)state;
	struct reading reading = read_good(GOOD MORE);
	const struct config *config = &reading.config;
	assert_int_equal(config->practice_count, 2);
	const struct rule *wind =
	    find_rule(config->practice, config->practice_count, "wind-maximum");
	assert_int_equal(wind->origin, ORIGIN_PRACTICE);
	assert_string_equal(wind->owner, "practice");
	assert_string_equal(wind->source, "a publication");
	assert_int_equal(wind->bound, BOUND_AT_MOST);
	assert_close(wind->limit, 4.4704, 1e-9);
	const struct rule *day =
	    find_rule(config->practice, config->practice_count, "daylight");
	assert_int_equal(day->measure, MEASURE_SUN_HEIGHT);
	assert_string_equal(day->source, "another");
	end_reading(&reading);
}

static void
a_file_address_counts_from_the_configuration(void **state)
{
	char path[PATH_BYTES], wanted[2 * PATH_BYTES];
	struct reading reading = { .good = false };
	text_init(&reading.complaints, 10000);
	put_file(state, "lull.conf", GOOD MORE);
	reading.good = config_read(path_in(state, "lull.conf", path),
	    &reading.config, &reading.complaints);
	if (!reading.good)
		fail_msg("%s", text_string(&reading.complaints));
	char *folder = realpath(*state, NULL);
	assert_string_equal(reading.config.folder, folder);
	(void)snprintf(
	    wanted, sizeof wanted, "file:%s/documents/f.json", folder);
	assert_string_equal(reading.config.sites[0].source[0].address, wanted);
	assert_string_equal(reading.config.path, path);
	free(folder);
	end_reading(&reading);
}

static void
other_addresses_stay_as_they_are(void **state)
{
	(void)state;
	static const char *const addresses[] = { "file:/var/f.json",
		"file:///var/f.json", "https://example.net/grid?a=1&b=2",
		"http://127.0.0.1:8080/x" };
	for (size_t i = 0; i < COUNT(addresses); i++) {
		char text[ROOM];
		(void)snprintf(text, sizeof text,
		    GOOD "site \"back\" {\nlatitude = \"0 deg\"\n"
			 "longitude = \"0 deg\"\nzone = UTC\narea = \"1 m2\"\n"
			 "sprayer = backpack\nforecast = \"nws-grid %s\"\n}\n",
		    addresses[i]);
		struct reading reading = read_good(text);
		assert_string_equal(
		    config_site(&reading.config, "back")->source[0].address,
		    addresses[i]);
		end_reading(&reading);
	}
}

/* A place whose coordinates have more digits than any service wants. */
static struct reading
read_place(const char *top, const char *settings)
{
	char text[ROOM];
	(void)snprintf(text, sizeof text,
	    GOOD "%ssite \"back\" {\nlatitude = \"33.123456 deg\"\n"
		 "longitude = \"-97.987654 deg\"\nzone = America/Chicago\n"
		 "area = \"1 m2\"\nsprayer = backpack\n%s\n}\n",
	    top, settings);
	return read_good(text);
}

static void
a_forecast_is_a_list_of_sources_in_order(void **state)
{
	(void)state;
	static const struct {
		const char *format, *address;
	} wanted[] = {
		{ "nws-grid", "/points/33.1235,-97.9877" },
		{ "open-meteo", "https://example.net/v1?latitude=33.12"
				"&longitude=-97.99&hourly=temperature_2m," },
		{ "nws-alerts", "?point=33.1235,-97.9877" },
		{ "met-norway", "https://example.net/33.12/-97.99/x" },
		{ "nws-grid", "file:/var/{latitude}.json" },
	};
	struct reading reading = read_place("",
	    "forecast = { \"nws-grid\",\n"
	    "\"open-meteo https://example.net/v1?{query}\", nws-alerts,\n"
	    "\"met-norway  https://example.net/{latitude}/{longitude}/x\",\n"
	    "\"nws-grid file:/var/{latitude}.json\" }");
	const struct site *site = config_site(&reading.config, "back");
	assert_int_equal(site->source_count, COUNT(wanted));
	for (size_t i = 0; i < COUNT(wanted); i++) {
		assert_string_equal(site->source[i].format, wanted[i].format);
		assert_contains(site->source[i].address, wanted[i].address);
	}
	/* The public service of the format, as its table has it. */
	const char *service = format_find("nws-grid")->address;
	assert_int_equal(
	    strncmp(site->source[0].address, service, strcspn(service, "{")),
	    0);
	/* Only a file's name keeps its braces. */
	for (size_t i = 0; i + 1 < COUNT(wanted); i++)
		assert_null(strchr(site->source[i].address, '{'));
	end_reading(&reading);
}

static void
soil_and_seasons_of_a_place_are_understood(void **state)
{
	(void)state;
	struct reading reading = read_place("",
	    "forecast = \"nws-grid file:x\"\nyearly-mean = \"65 degF\"\n"
	    "degree-base = \"32 degF\"\nsoil = { \"2026-03-01 54 degF\",\n"
	    "\"2026-03-09 12 degC\" }");
	const struct site *site = config_site(&reading.config, "back");
	assert_close(site->yearly_mean, 33 / 1.8, 1e-9);
	assert_close(site->degree_base, 0, 1e-9);
	assert_int_equal(site->soil_count, 2);
	/* midnights in Chicago: winter time, then summer time */
	assert_true(site->soil[0].at == 1772344800);
	assert_close(site->soil[0].temperature, 22 / 1.8, 1e-9);
	assert_true(site->soil[1].at == 1773032400);
	assert_close(site->soil[1].temperature, 12, 1e-9);
	end_reading(&reading);
}

static void
requests_and_archive_are_as_they_are_set(void **state)
{
	(void)state;
	struct reading reading = read_place("requests-per-hour = 20\n"
					    "archive-for = \"366 d\"\n"
					    "archive-megabytes = 1000\n",
	    "forecast = \"nws-grid file:x\"");
	assert_close(reading.config.requests_per_hour, 20, 0);
	assert_close(reading.config.archive_for, 366.0 * DAY_SECONDS, 0);
	assert_close(reading.config.archive_megabytes, 1000, 0);
	end_reading(&reading);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(the_top_is_understood),
		cmocka_unit_test(an_almost_empty_file_gives_the_fallbacks),
		cmocka_unit_test(a_site_and_its_sprayer_are_understood),
		cmocka_unit_test(a_card_is_understood),
		cmocka_unit_test(practice_limits_arrive_with_their_source),
		FOLDER_TEST(a_file_address_counts_from_the_configuration),
		cmocka_unit_test(other_addresses_stay_as_they_are),
		cmocka_unit_test(a_forecast_is_a_list_of_sources_in_order),
		cmocka_unit_test(soil_and_seasons_of_a_place_are_understood),
		cmocka_unit_test(requests_and_archive_are_as_they_are_set),
	};
	return RUN_TESTS(tests);
}
