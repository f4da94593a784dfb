/* A card that cannot be right is refused, and the line is named. */
#include "unit/config_fixture.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

enum { ROOM = 16384 };

struct fault {
	const char *lines; /* of a card, from line 3 on */
	const char *part;  /* of the only complaint; NULL: there is none */
};

static void
check_card(const char *lines, const char *part)
{
	char text[ROOM];
	(void)snprintf(text, sizeof text,
	    "product \"x\" {\nlabel = \"l\"\n%s\n}\n", lines);
	struct reading reading = read_text(text);
	const char *complaints = text_string(&reading.complaints);
	if (reading.good != (part == NULL))
		fail_msg("%s: %s", lines, complaints);
	if (part != NULL) {
		const char *end = strchr(complaints, '\n');
		if (strstr(complaints, part) == NULL || end == NULL ||
		    end[1] != '\0')
			fail_msg("%s: %s", lines, complaints);
	}
	end_reading(&reading);
}

static void
check_faults(const struct fault *faults, size_t count)
{
	for (size_t i = 0; i < count; i++)
		check_card(faults[i].lines, faults[i].part);
}

static const struct fault values[] = {
	{ "kind = weed", "t.conf:3: kind: 'weed'" },
	{ "actives = \"atrazine\"", "t.conf:3: actives: " },
	{ "actives = { \"a 65 %\", \"b\" }", "t.conf:3: actives: 'b'" },
	{ "groups = \"2 or 5\"", "t.conf:3: groups: " },
	{ "species = { bermuda, fescue }", "t.conf:3: species: 'fescue'" },
	{ "not-with = \"\\\"a\\\"\"", "t.conf:3: not-with: " },
	{ "adjuvant = maybe", "t.conf:3: adjuvant: " },
	{ "droplets = large", "t.conf:3: droplets: " },
	{ "rate-minimum = \"0 g/m2\"", "t.conf:3: rate-minimum: " },
	{ "carrier-minimum = \"1 L\"", "t.conf:3: carrier-minimum: " },
	{ "water-in = \"0.5 in\"", "t.conf:3: water-in: " },
	{ "water-in = \"at most 0.5 in within 14 d\"", "least amount" },
	{ "water-in-after = \"24 h\"", "there is no water-in" },
	{ "dates = \"spring\"", "t.conf:3: dates: 'spring'" },
	{ "wind-height = \"5 cm\"", "t.conf:3: wind-height: " },
	{ "rain-free = \"12 h | a | b | c\"", "t.conf:3: rain-free: " },
	{ "rain-free = \"12 h |\"", "t.conf:3: rain-free: " },
	{ "rain-free = \"12 h or so | about half a day\"",
	    "t.conf:3: rain-free: " },
	{ "wind-maximum = \"none on label\"", "t.conf:3: wind-maximum: " },
	{ "rules = \"no heat that day\"", "there is no measure \"heat\"" },
	{ "rules = \"no wet from end to start\"", "ends before it begins" },
	{ "active-maximum = \"atrazine 1 g/m2\"",
	    "'atrazine' is none of the actives" },
	{ "season-count = 0", "out of range (1 to 100)" },
	{ "label-rules = { turf }", "t.conf:3: label-rules: " },
	{ "no-frost = \"0 h\"\nrunoff-rain = \"0.5 in within 48 h\"\n"
	  "label-rules = { no-frost, runoff-rain }",
	    NULL },
	{ "wind-maximum = \"10 mph\"\n"
	  "label-rules = { wind-maximum, gust-maximum }",
	    "t.conf:4: label-rules: the card has no 'gust-maximum'" },
	{ "actives = { \"a 50 %\", \"A 50 %\" }",
	    "t.conf:3: actives: 'A' is named twice" },
	{ "turf = { dormant, \"green | Only when green\" }",
	    "t.conf:3: turf: the label's words stand with the first" },
};

static void
what_is_not_understood_is_told_with_its_line(void **state)
{
	(void)state;
	check_faults(values, COUNT(values));
}

static const struct fault limits[] = {
	{ "humidity-minimum = \"80 %\"\nhumidity-maximum = \"40 %\"",
	    "t.conf:3: humidity-minimum: this floor leaves nothing under the "
	    "ceiling humidity-maximum in line 4" },
	{ "soil-minimum = \"60 degF\"\nsoil-maximum = \"50 degF\"", "ceiling" },
	{ "not-frozen = yes\nsoil-maximum = \"-1 degC\"", "ceiling" },
	{ "degree-days-minimum = \"99 K\"\ndegree-days-maximum = \"9 K\"",
	    "ceiling" },
	{ "temperature-floor = \"20 degC\"\n"
	  "rules = \"highest air-temperature from start to end + 1 d below "
	  "15 degC\"",
	    "t.conf:3: temperature-floor: " },
	{ "temperature-floor = \"20 degC\"\n"
	  "rules = \"highest air-temperature from end to end + 1 d below "
	  "15 degC\"",
	    NULL },
	{ "rules = { \"mean humidity that day at least 60 %\",\n"
	  "\"highest humidity that day below 50 %\" }",
	    "t.conf:3: rules: " },
	{ "rules = \"total rain from end to end + 1 d at least 1 in\"\n"
	  "runoff-rain = \"0.5 in within 48 h\"",
	    "ceiling runoff-rain in line 4" },
	/* raised to 10 m it passes its own ceiling */
	{ "wind-minimum = \"6 mph\"\nwind-maximum = \"10 mph\"\n"
	  "wind-height = \"0.5 m\"",
	    "ceiling wind-maximum" },
	{ "wind-minimum = \"3 mph\"\nwind-maximum = \"10 mph\"\n"
	  "wind-height = \"0.5 m\"",
	    NULL },
};

static void
limits_that_leave_nothing_are_refused(void **state)
{
	(void)state;
	check_faults(limits, COUNT(limits));
}

static const struct fault waters[] = {
	{ "rain-free = \"24 h\"\nwater-in = \"0.5 in within 24 h\"",
	    "t.conf:4: water-in: it is over before the card allows" },
	{ "rain-free = \"24 h\"\nwater-in = \"0.5 in within 25 h\"", NULL },
	{ "until-irrigation = \"7 d\"\nwater-in = \"0.5 in within 7 d\"",
	    "water-in: " },
	{ "water-in-after = \"24 h\"\nwater-in = \"0.5 in within 12 h\"",
	    "water-in: " },
	{ "rules = \"no wet from start to end + 10 d\"\n"
	  "water-in = \"0.5 in within 7 d\"",
	    "water-in: " },
	{ "re-treatment = \"60 d\"\nre-treatment-maximum = \"56 d\"",
	    "t.conf:4: re-treatment-maximum: there are fewer days" },
	{ "re-treatment = \"56 d\"\nre-treatment-maximum = \"56 d\"", NULL },
};

static void
waters_and_repeats_that_exclude_each_other_are_refused(void **state)
{
	(void)state;
	check_faults(waters, COUNT(waters));
}

static const struct fault rates[] = {
	{ "rate = \"1 g/m2\"\ndaylight = yes\nwind-maximum = \"1 mph\"", NULL },
	{ "rate = \"1 g/m2\"\nrate-minimum = \"2 g/m2\"",
	    "t.conf:3: rate: it is under its own minimum" },
	{ "rate = \"3 g/m2\"\nrate-maximum = \"2 g/m2\"",
	    "t.conf:3: rate: it is over its own maximum" },
	{ "rate-minimum = \"3 g/m2\"\nrate-maximum = \"2 g/m2\"",
	    "t.conf:3: rate-minimum: it is over its own maximum" },
	{ "rate = \"2 lb/acre\"\nrate-minimum = \"2 lb/acre\"\n"
	  "rate-maximum = \"0.90718474 kg/acre\"",
	    NULL },
	{ "rate = \"1 g/m2\"\nrate-maximum = \"1 L/m2\"",
	    "t.conf:4: rate-maximum: a rate of another kind" },
	{ "rate-minimum = \"1 g/m2\"\nrate-maximum = \"2 g/m2\"", NULL },
	{ "carrier-minimum = \"2 L/m2\"\ncarrier-maximum = \"1 L/m2\"",
	    "t.conf:3: carrier-minimum: " },
	{ "rate = \"1 g/m2\"\nactives = \"a 480 g/L\"",
	    "t.conf:4: actives: the rate is a weight" },
	{ "rate = \"1 mL/m2\"\nactives = \"a 65 %\"",
	    "t.conf:4: actives: the rate is a volume" },
	{ "rate = \"0.25 %\"\nactives = \"a 480 g/L\"", NULL },
	{ "rate = \"1 g/m2\"\nseason-amount = \"1 L/m2\"",
	    "t.conf:4: season-amount: this is a volume" },
	{ "rate = \"1 mL/m2\"\nseason-amount = \"1 g/m2\"", "season-amount: " },
	{ "rate = \"2 g/m2\"\nseason-amount = \"1 g/m2\"",
	    "t.conf:4: season-amount: one application is more" },
	{ "rate = \"2 g/m2\"\nrate-minimum = \"1 g/m2\"\n"
	  "season-amount = \"1 g/m2\"",
	    NULL },
	{ "rate = \"2 g/m2\"\nactives = \"a 60 %\"\n"
	  "active-maximum = \"a 1 g/m2\"",
	    "t.conf:5: active-maximum: one application is more" },
	{ "rate = \"2 g/m2\"\nactives = \"a 50 %\"\n"
	  "active-maximum = \"a 1 g/m2\"",
	    NULL },
};

static void
rates_against_their_own_card_are_refused(void **state)
{
	(void)state;
	check_faults(rates, COUNT(rates));
}

/* None is ever left out for want of room: the whole card is refused. */
static void
a_card_has_room_for_so_many_rules(void **state)
{
	(void)state;
	static const char full[] =
	    "temperature-ceiling = \"30 degC\"\n"
	    "temperature-floor = \"1 degC\"\nday-high = \"30 degC\"\n"
	    "rain-free = \"1 h\"\ndry-leaf = \"1 h\"\nno-dew = yes\n"
	    "runoff-rain = \"1 in within 1 d\"\nnot-saturated = yes\n"
	    "not-frozen = yes\nno-frost = \"1 h\"\n"
	    "wind-minimum = \"1 mph\"\nwind-maximum = \"9 mph\"\n"
	    "gust-maximum = \"9 mph\"\nno-drift = yes\n"
	    "humidity-minimum = \"9 %\"\nhumidity-maximum = \"90 %\"\n"
	    "delta-t-minimum = \"2 K\"\ndelta-t-maximum = \"8 K\"\n"
	    "daylight = yes\nafter-sunrise = \"1 h\"\n"
	    "before-sunset = \"1 h\"\nno-inversion = yes\nno-alert = yes\n"
	    "soil-minimum = \"1 degC\"\nsoil-maximum = \"20 degC\"\n"
	    "degree-days-minimum = \"1 K\"\ndegree-days-maximum = \"9 K\"\n"
	    "turf = dormant\ndates = \"01-01 to 05-31\"\n"
	    "since-mowing = \"1 d\"\nsince-seeding = \"1 d\"\n"
	    "since-sodding = \"1 d\"\nsince-overseeding = \"1 d\"\n"
	    "since-aerating = \"1 d\"\nuntil-mowing = \"1 d\"\n"
	    "until-seeding = \"1 d\"\nuntil-overseeding = \"1 d\"\n"
	    "until-aerating = \"1 d\"\nuntil-irrigation = \"1 d\"\n"
	    "mowings-since-seeding = 3\nre-treatment = \"9 d\"\n"
	    "re-treatment-maximum = \"90 d\"\nseason-count = 2\n"
	    "season-amount = \"1 g/m2\"\nactives = \"a 50 %\"\n"
	    "active-maximum = \"a 1 g/m2\"\n";
	char text[ROOM];
	/* 50 rules, and as many sentences as fit */
	for (int sentences = 9; sentences <= 11; sentences++) {
		size_t used =
		    (size_t)snprintf(text, sizeof text, "%srules = { ", full);
		for (int i = 0; i < sentences; i++)
			used +=
			    (size_t)snprintf(text + used, sizeof text - used,
				"%s\"no wet that day\"", i == 0 ? "" : ", ");
		(void)snprintf(text + used, sizeof text - used, " }");
		check_card(
		    text, sentences <= 10 ? NULL : "more than the 60 rules");
	}
}

static void
practice_is_no_label(void **state)
{
	(void)state;
	static const struct {
		const char *name, *limit, *part;
	} rows[] = { { "rain-free", "none on label", "practice is no label" },
		{ "rain-free", "12 h | words", "t.conf:2: limit: " },
		{ "season-count", "2", "no practice limit of that name" },
		{ "rules", "no wet that day", "no practice limit" },
		{ "since-mowing", "2 d", "no practice limit" },
		{ "dates", "02-15 to 05-31", "no practice limit" },
		{ "wind-height", "2 ft", "no practice limit" },
		{ "no-drift", "maybe", "t.conf:2: limit: " } };
	for (size_t i = 0; i < COUNT(rows); i++) {
		char text[ROOM];
		(void)snprintf(text, sizeof text,
		    "practice \"%s\" {\nlimit = \"%s\"\nsource = \"s\"\n}\n",
		    rows[i].name, rows[i].limit);
		struct reading reading = read_text(text);
		assert_false(reading.good);
		assert_contains(text_string(&reading.complaints), rows[i].part);
		end_reading(&reading);
	}
}

static void
sites_and_sprayers_are_checked_too(void **state)
{
	(void)state;
	static const struct {
		const char *line, *part;
	} rows[] = { { "species = fescue", ": species: 'fescue'" },
		{ "sides = north", ": sides: 'north' is not a side" },
		{ "sides = { \"north pond\", \"up sky\" }", ": sides: 'up" } };
	for (size_t i = 0; i < COUNT(rows); i++) {
		char text[ROOM];
		(void)snprintf(text, sizeof text,
		    "%ssite \"s\" {\nlatitude = \"0 deg\"\n"
		    "longitude = \"0 deg\"\nzone = UTC\narea = \"9 m2\"\n"
		    "sprayer = backpack\nforecast = \"nws-grid file:x\"\n"
		    "%s\n}\n",
		    GOOD, rows[i].line);
		struct reading reading = read_text(text);
		assert_false(reading.good);
		assert_contains(text_string(&reading.complaints), rows[i].part);
		end_reading(&reading);
	}
	struct reading reading =
	    read_text("sprayer \"b\" {\ntank = \"9 L\"\n"
		      "carrier = \"1 L/m2\"\npace = \"1 m2/s\"\n"
		      "droplets = huge\n}\n");
	assert_false(reading.good);
	assert_contains(
	    text_string(&reading.complaints), "t.conf:5: droplets: 'huge'");
	end_reading(&reading);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(what_is_not_understood_is_told_with_its_line),
		cmocka_unit_test(limits_that_leave_nothing_are_refused),
		cmocka_unit_test(
		    waters_and_repeats_that_exclude_each_other_are_refused),
		cmocka_unit_test(rates_against_their_own_card_are_refused),
		cmocka_unit_test(a_card_has_room_for_so_many_rules),
		cmocka_unit_test(practice_is_no_label),
		cmocka_unit_test(sites_and_sprayers_are_checked_too),
	};
	return RUN_TESTS(tests);
}
