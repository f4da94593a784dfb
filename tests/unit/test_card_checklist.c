/*
 * What labels speak of, kind by kind, and how a card says it. The kinds are our
 * own list, made from public labels and extension pages. What no limit can
 * judge is a note: it is shown with the mix sheet and decides nothing.
 */
#include "unit/config_fixture.h"

#include "unit/card_print.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

enum { ROOM = 2048 };

struct kind {
	const char *what;
	const char *lines; /* on the card */
	const char *part;  /* of the card as it is printed */
};

static const struct kind amounts[] = {
	{ "rate per 1000 ft2", "rate = \"1.5 fl oz/1000 ft2\"",
	    "rate 1.5 fl oz/1000 ft2" },
	{ "rate per acre, by weight", "rate = \"43.56 oz/acre\"",
	    "rate 1 oz/1000 ft2" },
	{ "rate per hectare", "rate = \"4 L/ha\"", "rate 1.26 fl oz/1000 ft2" },
	{ "rate per gallon of mix", "rate = \"0.32 fl oz/gal\"",
	    "rate 0.32 fl oz/gal" },
	{ "rate per 100 L of mix", "rate = \"250 mL/100 L\"",
	    "rate 0.32 fl oz/gal" },
	{ "least rate", "rate-minimum = \"1 fl oz/1000 ft2\"",
	    "rate at least 1 fl oz/1000 ft2" },
	{ "highest rate", "rate-maximum = \"2 fl oz/1000 ft2\"",
	    "rate at most 2 fl oz/1000 ft2" },
	{ "what is active, by weight", "actives = \"prodiamine 65 %\"",
	    "active prodiamine 0.65 g/g" },
	{ "what is active, by volume", "actives = \"atrazine 480 g/L\"",
	    "active atrazine 480 g/L" },
	{ "least carrier", "carrier-minimum = \"1 gal/1000 ft2\"",
	    "carrier at least 1 gal/1000 ft2" },
	{ "most carrier", "carrier-maximum = \"2 gal/1000 ft2\"",
	    "carrier at most 2 gal/1000 ft2" },
	{ "class of the nozzle", "droplets = coarse", "droplets 5" },
	{ "adjuvant wanted", "adjuvant = required", "adjuvant required" },
	{ "adjuvant forbidden", "adjuvant = forbidden", "adjuvant forbidden" },
	{ "adjuvant in % of the mix", "kind = adjuvant\nrate = \"0.25 %\"",
	    "rate 0.32 fl oz/gal" },
	{ "not with a formulation", "not-with = EC", "not with EC" },
	{ "not with an active", "not-with = \"2,4-D\"", "not with 2,4-D" },
	{ "group", "groups = { \"2\", \"5\" }", "group 5" },
};

static const struct kind airs[] = {
	{ "warmest air during the job", "temperature-ceiling = \"90 degF\"",
	    "air temperature at most 90 °F during the job" },
	{ "the same, strictly", "temperature-ceiling = \"below 90 degF\"",
	    "air temperature below 90 °F during the job" },
	{ "coldest air", "temperature-floor = \"above 60 degF\"",
	    "air temperature above 60 °F during the job" },
	{ "highest of the day", "day-high = \"below 85 degF\"",
	    "air temperature below 85 °F that day" },
	{ "highest of the next days",
	    "rules = \"highest air-temperature from midnight to midnight + 4 "
	    "d below 85 degF\"",
	    "below 85 °F that day and the 3 days after" },
	{ "any hour within some hours after",
	    "rules = \"highest air-temperature from start to end + 6 h at "
	    "most 85 degF\"",
	    "at most 85 °F during the job and 6 h after" },
	{ "lowest of the night before",
	    "rules = \"lowest air-temperature from sunset - 1 d to sunrise "
	    "above 40 degF\"",
	    "above 40 °F from 24 h before sunset to sunrise" },
	{ "mean of the day",
	    "rules = \"mean air-temperature that day at least 60 degF\"",
	    "mean air temperature at least 60 °F that day" },
	{ "soil", "soil-minimum = \"50 degF\"",
	    "soil temperature at least 50 °F" },
	{ "mean of the soil over days",
	    "rules = \"mean soil-temperature from start - 5 d to start below "
	    "70 degF\"",
	    "mean soil temperature below 70 °F in the 5 d before" },
	{ "least wind", "wind-minimum = \"3 mph\"", "wind at least 3 mph" },
	{ "most wind", "wind-maximum = \"10 mph\"", "wind at most 10 mph" },
	{ "gusts", "gust-maximum = \"15 mph\"", "gust at most 15 mph" },
	{ "height of the wind",
	    "wind-minimum = \"3 mph\"\nwind-height = \"2 ft\"",
	    "(l: 3 mph at 2 ft)" },
	{ "direction", "no-drift = yes", "no wind towards a side to spare" },
	{ "humidity", "humidity-minimum = \"40 %\"", "humidity at least 40 %" },
	{ "delta T", "delta-t-maximum = \"8 K\"", "delta T at most 14.4 °F" },
	{ "dew", "no-dew = yes", "dry leaves during the job" },
	{ "frost", "no-frost = \"24 h\"",
	    "no freezing air during the job and 24 h after" },
	{ "frost before", "rules = \"no freeze from midnight - 1 d to start\"",
	    "no freezing air from 24 h before midnight to the start" },
	{ "inversion", "no-inversion = yes", "no inversion during the job" },
	{ "sun", "rules = \"mean cloud during the job at most 50 %\"",
	    "mean cloud cover at most 50 %" },
};

static const struct kind waters[] = {
	{ "dry afterwards", "rain-free = \"12 h\"",
	    "no rain during the job and 12 h after" },
	{ "dry before", "dry-leaf = \"2 h\"", "no rain in the 2 h before" },
	{ "amount within a window", "runoff-rain = \"0.5 in within 48 h\"",
	    "rain at most 0.5 in in the 2 d after" },
	{ "chance of rain",
	    "rules = \"highest rain-chance from start to end + 6 h below 30 "
	    "%\"",
	    "rain chance below 30 % during the job and 6 h after" },
	{ "water wanted", "water-in = \"0.5 in within 14 d\"",
	    "water 12.7 mm within 14 d, not before 0 min" },
	{ "but not at once",
	    "water-in = \"0.5 in within 14 d\"\nwater-in-after = \"24 h\"",
	    "not before 24 h" },
	{ "irrigation hold", "until-irrigation = \"24 h\"",
	    "at least 24 h before irrigation" },
	{ "saturated soil", "not-saturated = yes",
	    "rain at most 1 in in the 24 h before" },
	{ "frozen soil", "not-frozen = yes", "soil temperature above 32 °F" },
	{ "dry soil",
	    "rules = \"total rain from start - 7 d to start at least 0.5 "
	    "in\"",
	    "rain at least 0.5 in in the 7 d before" },
};

static const struct kind turfs[] = {
	{ "species", "species = { zoysia }", "species zoysia" },
	{ "dormancy", "turf = dormant", "turf not in green-up during" },
	{ "mowing before", "since-mowing = \"2 d\"",
	    "at least 2 d after mowing" },
	{ "mowing after", "until-mowing = \"2 d\"",
	    "at least 2 d before mowing" },
	{ "since seeding", "since-seeding = \"60 d\"",
	    "at least 60 d after seeding" },
	{ "mowings since seeding", "mowings-since-seeding = 3",
	    "mowings since seeding at least 3" },
	{ "since sodding", "since-sodding = \"90 d\"",
	    "at least 90 d after sodding" },
	{ "until seeding", "until-seeding = \"90 d\"",
	    "at least 90 d before seeding" },
	{ "since overseeding", "since-overseeding = \"60 d\"",
	    "at least 60 d after overseeding" },
	{ "until overseeding", "until-overseeding = \"56 d\"",
	    "at least 56 d before overseeding" },
	{ "aerating", "until-aerating = \"90 d\"",
	    "at least 90 d before aerating" },
	{ "degree days", "degree-days-maximum = \"200 degF\"",
	    "degree days at most 200 °F" },
	{ "dates", "dates = \"02-15 to 05-31\"", "(l: 02-15 to 05-31)" },
	{ "time of day", "after-sunrise = \"1 h\"\nbefore-sunset = \"2 h\"",
	    "at least 2 h before sunset" },
	{ "days between", "re-treatment = \"21 d\"",
	    "at least 21 days since the last x" },
	{ "most days between", "re-treatment-maximum = \"56 d\"",
	    "at most 56 days since the first x" },
	{ "times a year", "season-count = 2", "applications of x at most 2" },
	{ "amount a year", "season-amount = \"2 fl oz/1000 ft2\"",
	    "x at most 2 fl oz/1000 ft2 a year" },
	{ "active a year",
	    "actives = \"atrazine 480 g/L\"\n"
	    "active-maximum = \"atrazine 1 oz/1000 ft2\"",
	    "atrazine at most 1 oz/1000 ft2 a year" },
	{ "two at a share of the rate",
	    "rate-maximum = \"0.6 fl oz/1000 ft2\"\nseason-count = 2",
	    "rate at most 0.6 fl oz/1000 ft2" },
	{ "people and pets keep off", "keep-off = \"4 h\"", "keep off 4 h" },
};

static const struct kind words[] = {
	{ "quoted wording", "daylight = \"yes | By day only\"",
	    "\"By day only\"" },
	{ "place on the label", "daylight = \"yes || page 3\"", "(l: page 3)" },
	{ "pressure, pH, order",
	    "notes = \"Mix at pH 5 to 7, use within 24 h\"",
	    "note Mix at pH 5 to 7" },
	{ "site", "notes = \"66 ft from streams, not on home lawns\"",
	    "note 66 ft from streams" },
	{ "people", "notes = \"Gloves, certified applicators only\"",
	    "note Gloves" },
	{ "mowing height, stress", "notes = \"Mown above 0.5 in, no stress\"",
	    "note Mown above 0.5 in" },
	{ "plant-back", "notes = \"No trees for two years\"",
	    "note No trees for two years" },
};

static void
check_kinds(const struct kind *kinds, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		char text[ROOM];
		struct text card;
		(void)snprintf(text, sizeof text,
		    "product \"x\" {\nlabel = \"l\"\n%s\n}\n", kinds[i].lines);
		struct reading reading = read_text(text);
		if (!reading.good)
			fail_msg("%s: %s", kinds[i].what,
			    text_string(&reading.complaints));
		text_init(&card, LIMIT_OUTPUT_BYTES);
		print_card(&card, &reading.config.products[0]);
		if (strstr(text_string(&card), kinds[i].part) == NULL)
			fail_msg("%s: %s", kinds[i].what, text_string(&card));
		text_release(&card);
		end_reading(&reading);
	}
}

static void
rates_carriers_and_partners_can_be_written(void **state)
{
	(void)state;
	check_kinds(amounts, COUNT(amounts));
}

static void
temperature_wind_and_air_can_be_written(void **state)
{
	(void)state;
	check_kinds(airs, COUNT(airs));
}

static void
rain_water_and_soil_can_be_written(void **state)
{
	(void)state;
	check_kinds(waters, COUNT(waters));
}

static void
turf_season_and_repeats_can_be_written(void **state)
{
	(void)state;
	check_kinds(turfs, COUNT(turfs));
}

static void
words_places_and_the_rest_can_be_written(void **state)
{
	(void)state;
	check_kinds(words, COUNT(words));
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(rates_carriers_and_partners_can_be_written),
		cmocka_unit_test(temperature_wind_and_air_can_be_written),
		cmocka_unit_test(rain_water_and_soil_can_be_written),
		cmocka_unit_test(turf_season_and_repeats_can_be_written),
		cmocka_unit_test(words_places_and_the_rest_can_be_written),
	};
	return RUN_TESTS(tests);
}
