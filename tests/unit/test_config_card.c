/* A full card, a full site and a full sprayer become nouns. */
#include "unit/config_fixture.h"

#include "physics/wind.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

enum { ROOM = 8192 };

static struct reading
read_card(const char *lines)
{
	char text[ROOM];
	(void)snprintf(text, sizeof text,
	    "product \"x\" {\nlabel = \"invented label, 2026\"\n%s\n}\n",
	    lines);
	return read_good(text);
}

static void
what_a_product_is_is_understood(void **state)
{
	(void)state;
	struct reading reading = read_card(
	    "kind = herbicide\nactives = { \"atrazine 480 g/L\", "
	    "\"2,4-D 120 g/L\" }\n"
	    "groups = { 5, 4 }\nspecies = { centipede, st-augustine }\n"
	    "not-with = { \"2,4-D\", EC }\nadjuvant = forbidden\n"
	    "droplets = medium\nrate = \"2 L/ha\"\nrate-minimum = \"1 L/ha\"\n"
	    "rate-maximum = \"4 L/ha\"\ncarrier-minimum = \"200 L/ha\"\n"
	    "carrier-maximum = \"800 L/ha\"\n"
	    "water-in = \"10 mm within 10 d\"\nwater-in-after = \"24 h\"\n"
	    "dates = { \"02-15 to 05-31\", \"11-01 to 01-15\" }\n"
	    "notes = { \"wear gloves, page 1\", \"25 ft from wells\" }");
	const struct product *product = &reading.config.products[0];
	assert_int_equal(product->kind, PRODUCT_HERBICIDE);
	assert_int_equal(product->active_count, 2);
	assert_string_equal(product->active[1].name, "2,4-D");
	assert_close(product->active[1].content, 120, 0);
	assert_true(product->active[1].is_liquid);
	assert_int_equal(product->group_count, 2);
	assert_string_equal(product->group[1], "4");
	assert_int_equal(
	    product->species, 1U << TURF_CENTIPEDE | 1U << TURF_ST_AUGUSTINE);
	assert_int_equal(product->not_with_count, 2);
	assert_string_equal(product->not_with[1], "EC");
	assert_int_equal(product->adjuvant, ADJUVANT_FORBIDDEN);
	assert_int_equal(product->droplets_least, DROPLETS_MEDIUM);
	assert_close(product->rate, 2e-4, 1e-12);
	assert_close(product->rate_least, 1e-4, 1e-12);
	assert_close(product->rate_most, 4e-4, 1e-12);
	assert_int_equal(product->rate_kind, QUANTITY_VOLUME_PER_AREA);
	assert_close(product->carrier_least, 0.02, 1e-12);
	assert_close(product->carrier_most, 0.08, 1e-12);
	assert_close(product->water.amount, 10, 1e-12);
	assert_close(product->water.within, 10.0 * DAY_SECONDS, 0);
	assert_close(product->water.not_before, DAY_SECONDS, 0);
	assert_int_equal(product->date_count, 2);
	assert_int_equal(product->date[1].from_month, 11);
	assert_int_equal(product->date[1].to_day, 15);
	assert_int_equal(product->note_count, 2);
	assert_string_equal(product->note[1], "25 ft from wells");
	end_reading(&reading);
}

static void
what_a_card_does_not_say_is_nothing(void **state)
{
	(void)state;
	struct reading reading = read_card("");
	const struct product *product = &reading.config.products[0];
	assert_int_equal(product->kind, PRODUCT_HERBICIDE);
	assert_int_equal(product->active_count + product->group_count +
			     product->not_with_count + product->date_count +
			     product->rule_count,
	    0);
	assert_int_equal(product->species, 0);
	assert_int_equal(product->adjuvant, ADJUVANT_UNSAID);
	assert_int_equal(product->droplets_least, DROPLETS_UNSAID);
	assert_close(product->rate_least + product->rate_most, 0, 0);
	assert_close(product->carrier_least + product->carrier_most, 0, 0);
	assert_close(product->water.amount, 0, 0);
	end_reading(&reading);
}

static const struct rule *
find_rule(const struct config *config, const char *name)
{
	const struct product *product = &config->products[0];
	for (size_t i = 0; i < product->rule_count; i++)
		if (strcmp(product->rules[i].name, name) == 0)
			return &product->rules[i];
	fail_msg("there is no rule %s", name);
	return NULL;
}

static void
a_rule_quotes_the_label_and_names_the_place(void **state)
{
	(void)state;
	struct reading reading = read_card(
	    "rain-free = \"12 h | Do not apply if rain is expected | page "
	    "3\"\nwind-maximum = \"10 mph || page 4\"\nno-dew = yes\n"
	    "dates = \"02-15 to 05-31 | In spring only\"");
	const struct rule *rain = find_rule(&reading.config, "rain-free");
	assert_string_equal(rain->wording, "Do not apply if rain is expected");
	assert_string_equal(rain->source, "invented label, 2026: page 3");
	const struct rule *wind = find_rule(&reading.config, "wind-maximum");
	assert_null(wind->wording);
	assert_string_equal(wind->source, "invented label, 2026: page 4");
	const struct rule *dew = find_rule(&reading.config, "no-dew");
	assert_null(dew->wording);
	assert_string_equal(dew->source, "invented label, 2026");
	const struct rule *dates = find_rule(&reading.config, "dates");
	assert_string_equal(dates->wording, "In spring only");
	assert_string_equal(
	    dates->source, "invented label, 2026: 02-15 to 05-31");
	assert_int_equal(reading.config.products[0].date_count, 1);
	end_reading(&reading);
}

/*
 * Allen et al. 1998, FAO 56, the profile over grass of 0.12 m: 10 mph at 10 m
 * are 5.1 mph at 0.5 m (computed), so 3 mph there need 5.8 mph at 10 m.
 */
static void
a_wind_floor_near_the_ground_is_raised(void **state)
{
	(void)state;
	struct reading reading =
	    read_card("wind-minimum = \"at least 3 mph | calm air | page 2\"\n"
		      "wind-maximum = \"10 mph\"\ngust-maximum = \"15 mph\"\n"
		      "wind-height = \"0.5 m\"");
	const struct rule *low = find_rule(&reading.config, "wind-minimum");
	const double mile = 0.44704;
	assert_close(low->limit / mile, 5.83, 0.01);
	assert_close(wind_at_height(low->limit, 10, 0.5) / mile, 3, 1e-9);
	assert_string_equal(low->source,
	    "invented label, 2026: page 2: at least 3 mph at 0.5 m");
	assert_string_equal(low->wording, "calm air");
	assert_close(
	    find_rule(&reading.config, "wind-maximum")->limit, 10 * mile, 1e-9);
	assert_close(
	    find_rule(&reading.config, "gust-maximum")->limit, 15 * mile, 1e-9);
	end_reading(&reading);
	/* at the height of the forecast nothing changes */
	reading = read_card("wind-minimum = \"3 mph\"\nwind-height = \"10 m\"");
	assert_close(
	    find_rule(&reading.config, "wind-minimum")->limit, 3 * mile, 1e-9);
	end_reading(&reading);
}

static void
an_active_maximum_speaks_of_an_active_of_the_card(void **state)
{
	(void)state;
	struct reading reading =
	    read_card("actives = { \"Atrazine 480 g/L\" }\n"
		      "active-maximum = { \"atrazine 2 lb/acre\" }");
	const struct rule *rule = find_rule(&reading.config, "active-maximum");
	assert_ptr_equal(
	    rule->subject, reading.config.products[0].active[0].name);
	end_reading(&reading);
}

struct essential {
	const char *lines;
	const char *missing[3];
};

#define RAIN   "rain-free period"
#define WARMTH "temperature limit"
#define SEASON "season maximum"

static const struct essential essentials[] = {
	{ "", { RAIN, WARMTH, SEASON } },
	{ "rain-free = \"0 h\"\nseason-count = 2\nday-high = \"90 degF\"",
	    { NULL } },
	{ "rain-free = \"none on label\"\nseason-count = \"none on label\"\n"
	  "temperature-ceiling = \"none on label\"",
	    { NULL } },
	{ "temperature-floor = \"none on label | | page 2\"",
	    { RAIN, SEASON } },
	{ "dry-leaf = \"2 h\"\nrunoff-rain = \"0.5 in within 48 h\"\n"
	  "soil-minimum = \"50 degF\"\nre-treatment = \"21 d\"",
	    { RAIN, WARMTH, SEASON } },
	{ "rules = { \"no wet from start to end + 6 h\",\n"
	  "\"mean air-temperature that day below 30 degC\" }",
	    { SEASON } },
	{ "season-amount = \"1 g/m2\"", { RAIN, WARMTH } },
	{ "actives = \"a 65 %\"\nactive-maximum = \"a 1 g/m2\"",
	    { RAIN, WARMTH } },
	{ "kind = adjuvant", { NULL } },
	{ "kind = other\nrate = \"0.25 %\"", { NULL } },
	{ "kind = herbicide", { RAIN, WARMTH, SEASON } },
};

static void
the_essentials_that_are_missing_are_named(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(essentials); i++) {
		struct reading reading = read_card(essentials[i].lines);
		const struct product *product = &reading.config.products[0];
		size_t count = 0;
		while (count < 3 && essentials[i].missing[count] != NULL)
			count++;
		if (product->missing_count != count)
			fail_msg("%s: %zu are missing", essentials[i].lines,
			    product->missing_count);
		for (size_t m = 0; m < count; m++)
			assert_string_equal(
			    product->missing[m], essentials[i].missing[m]);
		end_reading(&reading);
	}
}

static void
a_site_has_its_turf_and_its_sides(void **state)
{
	(void)state;
	static const char site[] =
	    "sprayer \"b\" {\ntank = \"9 L\"\ncarrier = \"0.1 L/m2\"\n"
	    "pace = \"1 m2/s\"\ndroplets = very-coarse\n}\n"
	    "site \"s\" {\nlatitude = \"0 deg\"\nlongitude = \"0 deg\"\n"
	    "zone = UTC\narea = \"9 m2\"\nsprayer = b\n"
	    "forecast = \"nws-grid file:x\"\nspecies = zoysia\n"
	    "sides = { \"90 deg vegetable bed\", \"NNW pond\" }\n}\n";
	struct reading reading = read_good(site);
	const struct site *found = &reading.config.sites[0];
	assert_int_equal(found->species, TURF_ZOYSIA);
	assert_int_equal(found->sprayer->droplets, DROPLETS_VERY_COARSE);
	assert_int_equal(found->side_count, 2);
	assert_close(found->side[0].bearing, 90, 0);
	assert_string_equal(found->side[0].what, "vegetable bed");
	assert_close(found->side[1].bearing, 337.5, 0);
	assert_string_equal(found->side[1].what, "pond");
	end_reading(&reading);
	reading = read_good(GOOD);
	assert_int_equal(reading.config.sites[0].species, TURF_UNSAID);
	assert_int_equal(reading.config.sites[0].side_count, 0);
	assert_int_equal(
	    reading.config.sites[0].sprayer->droplets, DROPLETS_UNSAID);
	end_reading(&reading);
}

static void
practice_may_say_what_a_card_says(void **state)
{
	(void)state;
	struct reading reading =
	    read_good("practice \"no-frost\" {\nlimit = \"24 h\"\n"
		      "source = \"a publication\"\n}\n"
		      "practice \"runoff-rain\" {\n"
		      "limit = \"at most 0.5 in within 48 h\"\n"
		      "source = \"another\"\n}\n");
	assert_int_equal(reading.config.practice_count, 2);
	assert_int_equal(reading.config.practice[0].measure, MEASURE_FREEZE);
	assert_int_equal(reading.config.practice[1].measure, MEASURE_RAIN);
	assert_string_equal(reading.config.practice[1].source, "another");
	assert_null(reading.config.practice[1].wording);
	end_reading(&reading);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(what_a_product_is_is_understood),
		cmocka_unit_test(what_a_card_does_not_say_is_nothing),
		cmocka_unit_test(a_rule_quotes_the_label_and_names_the_place),
		cmocka_unit_test(a_wind_floor_near_the_ground_is_raised),
		cmocka_unit_test(
		    an_active_maximum_speaks_of_an_active_of_the_card),
		cmocka_unit_test(the_essentials_that_are_missing_are_named),
		cmocka_unit_test(a_site_has_its_turf_and_its_sides),
		cmocka_unit_test(practice_may_say_what_a_card_says),
	};
	return RUN_TESTS(tests);
}
