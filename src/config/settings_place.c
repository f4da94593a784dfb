/* What may stand outside of product sections. */
#include "config/settings_table.h"

const struct setting settings_of_place[] = {
	/* top */
	{ PLACE_TOP, "units", SETTING_CHOICE, 0, 0, 0, "us or metric", false,
	    "us", "us metric", NULL,
	    "The keeper's units: everything is shown in them.\n"
	    "Input may use any unit." },
	{ PLACE_TOP, "contact", SETTING_TEXT, 0, 0, 0, NULL, false, NULL, NULL,
	    "keeper@example.net",
	    "Sent with each request to a forecast service, which asks for a "
	    "way to reach whoever runs the program.\n"
	    "Needed as soon as a forecast comes from the web." },
	{ PLACE_TOP, "calendar", SETTING_TEXT, 0, 0, 0, NULL, false, NULL, NULL,
	    "/var/lib/lull/lull.ics",
	    "The calendar file to publish.\n"
	    "Without it, lull.ics in the state folder." },
	{ PLACE_TOP, "page", SETTING_TEXT, 0, 0, 0, NULL, false, NULL, NULL,
	    "/var/lib/lull/lull.html",
	    "The report page to publish.\n"
	    "Without it, lull.html in the state folder." },
	{ PLACE_TOP, "evening-alarm", SETTING_TIME_OF_DAY, 0, 0, 0,
	    "a time of day", false, "19:00", NULL, NULL,
	    "When the alarm on the evening before a slot goes off." },
	{ PLACE_TOP, "forecast-good-for", SETTING_QUANTITY, QUANTITY_SPAN, 3600,
	    3 * DAY, "1 h to 3 d", false, "24 h", NULL, NULL,
	    "A forecast that was issued longer ago is not used: every verdict "
	    "becomes unknown." },
	{ PLACE_TOP, "poll-minimum", SETTING_QUANTITY, QUANTITY_SPAN, 1, DAY,
	    "1 s to 1 d", false, "10 min", NULL, NULL,
	    "The least time between two requests for one document, however "
	    "soon its service says that it expires." },
	{ PLACE_TOP, "requests-per-hour", SETTING_QUANTITY, QUANTITY_NUMBER, 1,
	    100000, "1 to 100000", false, "600", NULL, NULL,
	    "The most requests to one host within an hour; what is over has to "
	    "wait." },
	{ PLACE_TOP, "archive-for", SETTING_QUANTITY, QUANTITY_SPAN, 2 * DAY,
	    3 * YEAR, "2 d to 1098 d", false, "30 d", NULL, NULL,
	    "How long forecasts are kept as they were fetched, so that an old "
	    "verdict can be explained." },
	{ PLACE_TOP, "archive-megabytes", SETTING_QUANTITY, QUANTITY_NUMBER, 1,
	    1000000, "1 to 1000000", false, "200", NULL, NULL,
	    "The most room for them, packed; the oldest go first." },
	{ PLACE_TOP, "keep-off", SETTING_QUANTITY, QUANTITY_SPAN, 60, 30 * DAY,
	    "1 min to 30 d", false, "4 h", NULL, NULL,
	    "How long people and pets stay off when no card in the tank says "
	    "how long: common practice, no source.\n"
	    "The leaves have to be dry besides." },
	{ PLACE_TOP, "applicator", SETTING_TEXT, 0, 0, 0, NULL, false, NULL,
	    NULL, "A. Keeper",
	    "Who sprays, for the record, unless lull done says who." },
	{ PLACE_TOP, "certification", SETTING_TEXT, 0, 0, 0, NULL, false, NULL,
	    NULL, "C-0000",
	    "The number of that person's certificate or licence, for the "
	    "record." },
	{ PLACE_TOP, "currency", SETTING_TEXT, 0, 0, 0, NULL, false, NULL, NULL,
	    "USD", "Shown behind each price." },
	{ PLACE_TOP, "scale", SETTING_QUANTITY, QUANTITY_MASS, 0.0001, 1000,
	    "0.0001 g to 1 kg", false, NULL, NULL, "0.1 g",
	    "The finest step of the scale on the bench.\n"
	    "Amounts by weight are told in such steps." },
	{ PLACE_TOP, "cylinder", SETTING_QUANTITY, QUANTITY_VOLUME, 0.00001, 10,
	    "0.01 mL to 10 L", false, NULL, NULL, "1 mL",
	    "The finest mark of the cup, cylinder or syringe that liquids are "
	    "measured with." },
	{ PLACE_TOP, "spoons", SETTING_SPOONS, 0, 0, 0, "volumes", false, NULL,
	    NULL, "1 tsp",
	    "The measuring spoons on the bench: for liquids only, since a "
	    "spoon says nothing of a weight." },
	/* sprayer */
	{ PLACE_SPRAYER, "tank", SETTING_QUANTITY, QUANTITY_VOLUME, 0.1, 10000,
	    "0.1 L to 10000 L", true, NULL, NULL, "4 gal",
	    "What the tank holds." },
	{ PLACE_SPRAYER, "carrier", SETTING_QUANTITY, QUANTITY_VOLUME_PER_AREA,
	    0.001, 10, "0.001 L/m2 to 10 L/m2", true, NULL, NULL,
	    "1 gal/1000 ft2",
	    "Finished mix that it puts down, from a calibration." },
	{ PLACE_SPRAYER, "pace", SETTING_QUANTITY, QUANTITY_AREA_PER_TIME,
	    0.001, 1000, "0.001 m2/s to 1000 m2/s", true, NULL, NULL,
	    "150 ft2/min", "Ground covered while spraying." },
	{ PLACE_SPRAYER, "fill", SETTING_QUANTITY, QUANTITY_SPAN, 0, DAY,
	    "0 min to 1 d", false, "10 min", NULL, NULL,
	    "Time to mix and fill one tank." },
	{ PLACE_SPRAYER, "droplets", SETTING_CHOICE, 0, 0, 0,
	    "a class from extremely-fine to ultra-coarse", false, NULL,
	    DROPLETS, "coarse",
	    "What its nozzle makes at its pressure, by the nozzle's chart." },
	{ PLACE_SPRAYER, "height", SETTING_QUANTITY, QUANTITY_LENGTH, 0, 5,
	    "0 in to 5 m", false, NULL, NULL, "18 in",
	    "How high over the ground the nozzle is held: with the droplets it "
	    "tells how far everybody stays away." },
	{ PLACE_SPRAYER, "swath", SETTING_QUANTITY, QUANTITY_LENGTH, 0.05, 100,
	    "5 cm to 100 m", false, NULL, NULL, "6 ft",
	    "The width that one walk covers: lull calibrate takes it when "
	    "--width is not given." },
	{ PLACE_SPRAYER, "calibrated", SETTING_DATE, 0, 0, 0, "a date", false,
	    NULL, NULL, "2026-03-01",
	    "When carrier was caught.\n"
	    "A later lull calibrate takes its place." },
	{ PLACE_SPRAYER, "calibration-holds", SETTING_QUANTITY, QUANTITY_SPAN,
	    DAY, 3 * YEAR, "1 d to 1098 d", false, "180 d", NULL, NULL,
	    "How long a calibration is trusted: the mix sheet names an older "
	    "one.\n"
	    "Common practice, no source." },
	/* site */
	{ PLACE_SITE, "latitude", SETTING_QUANTITY, QUANTITY_ANGLE, -90, 90,
	    "-90 deg to 90 deg", true, NULL, NULL, "33.10 deg",
	    "North is positive." },
	{ PLACE_SITE, "longitude", SETTING_QUANTITY, QUANTITY_ANGLE, -180, 180,
	    "-180 deg to 180 deg", true, NULL, NULL, "-97.20 deg",
	    "East is positive." },
	{ PLACE_SITE, "zone", SETTING_ZONE, 0, 0, 0, "an IANA zone", true, NULL,
	    NULL, "America/Chicago", "The time zone that its clocks keep." },
	{ PLACE_SITE, "area", SETTING_QUANTITY, QUANTITY_AREA, 0.1, 1e8,
	    "0.1 m2 to 10000 ha", true, NULL, NULL, "6500 ft2",
	    "The turf that a job covers unless it says otherwise." },
	{ PLACE_SITE, "sprayer", SETTING_NAME, 0, 0, 0, "a sprayer's name",
	    true, NULL, NULL, "backpack", "The sprayer used there." },
	{ PLACE_SITE, "forecast", SETTING_SOURCES, 0, 0, 0,
	    "formats, each with an address or without", true, NULL, NULL,
	    "nws-grid",
	    "Where its forecast comes from.\n"
	    "The first source that is fresh answers; those after it fill "
	    "columns that it does not have.\n"
	    "A format alone asks its public service." },
	{ PLACE_SITE, "use", SETTING_CHOICE, 0, 0, 0, "home or professional",
	    false, "home", "home professional", NULL,
	    "Whose lawn it is: some services are free for uses that are not "
	    "commercial only, and a professional site may not ask those." },
	{ PLACE_SITE, "rain-chance", SETTING_QUANTITY, QUANTITY_PERCENT, 1, 100,
	    "1 % to 100 %", false, "30 %", NULL, NULL,
	    "A chance of rain from here on counts as rain: common practice, no "
	    "source." },
	{ PLACE_SITE, "turf", SETTING_TOLD, 0, 0, 0,
	    "dates, each with dormant, green-up or green", false, NULL, NULL,
	    "2026-02-01 dormant",
	    "The state of the turf as you saw it, from that day on." },
	{ PLACE_SITE, "turf-holds", SETTING_QUANTITY, QUANTITY_SPAN, DAY, YEAR,
	    "1 d to 366 d", false, "21 d", NULL, NULL,
	    "How long a look at the turf is trusted; after that its state is "
	    "unknown until you look again." },
	{ PLACE_SITE, "soil", SETTING_SOIL, 0, 0, 0,
	    "dates, each with a temperature", false, NULL, NULL,
	    "2026-03-01 54 degF",
	    "What a thermometer said in the soil, 4 in (10 cm) down, as the "
	    "mean of that day.\n"
	    "It corrects the soil temperature of forecast or model." },
	{ PLACE_SITE, "yearly-mean", SETTING_QUANTITY, QUANTITY_TEMPERATURE,
	    -20, 40, "-20 degC to 40 degC", false, NULL, NULL, "65 degF",
	    "The mean air temperature of a year there.\n"
	    "With it the soil temperature is modelled from that of the air "
	    "where no source gives it." },
	{ PLACE_SITE, "degree-base", SETTING_QUANTITY, QUANTITY_TEMPERATURE, -5,
	    30, "-5 degC to 30 degC", false, "50 degF", NULL, NULL,
	    "The temperature that degree days count from." },
	{ PLACE_SITE, "species", SETTING_CHOICE, 0, 0, 0,
	    "bermuda, zoysia, centipede or st-augustine", false, NULL, SPECIES,
	    "bermuda", "The turf that grows there." },
	{ PLACE_SITE, "sides", SETTING_SIDES, 0, 0, 0,
	    "directions from the site, each with a name", false, NULL, NULL,
	    "90 deg vegetable bed",
	    "Where no drift may go: a compass word or degrees, and what is "
	    "there.\n"
	    "A card with no-drift closes the hours in which the wind blows "
	    "that way." },
	{ PLACE_SITE, "hours", SETTING_CLOCK_SPANS, 0, 0, 0,
	    "spans of the local day", false, NULL, NULL, "06:30-10:30",
	    "When you like to spray: a preference, any hour without it." },
	{ PLACE_SITE, "client", SETTING_TEXT, 0, 0, 0, NULL, false, NULL, NULL,
	    "an invented client", "Whose lawn it is, for the record." },
	{ PLACE_SITE, "address", SETTING_TEXT, 0, 0, 0, NULL, false, NULL, NULL,
	    "12 Stolon Court, Tarrow Bend", "Where it is, for the record." },
	/* package */
	{ PLACE_PACKAGE, "product", SETTING_NAME, 0, 0, 0, "a product's name",
	    true, NULL, NULL, "post-a", "What is in it." },
	{ PLACE_PACKAGE, "size", SETTING_AMOUNT, 0, 0, 0,
	    "a weight or a volume", true, NULL, NULL, "1.5 oz",
	    "What it held when it was new." },
	{ PLACE_PACKAGE, "opened", SETTING_DATE, 0, 0, 0, "a date", false, NULL,
	    NULL, "2026-03-01",
	    "When it was opened: records from that day on are taken out of "
	    "it, the package that was opened first comes first." },
	{ PLACE_PACKAGE, "shelf-life", SETTING_QUANTITY, QUANTITY_SPAN, DAY,
	    20 * YEAR, "1 d to 7320 d", false, NULL, NULL, "730 d",
	    "How long it is good once it is open." },
	{ PLACE_PACKAGE, "expires", SETTING_DATE, 0, 0, 0, "a date", false,
	    NULL, NULL, "2028-12-31",
	    "The last day on which it is good, opened or not." },
	{ PLACE_PACKAGE, "price", SETTING_QUANTITY, QUANTITY_NUMBER, 0, 1000000,
	    "0 to 1000000", false, NULL, NULL, "84.50",
	    "What it cost: the mix sheet tells the cost of a job." },
	{ PLACE_PACKAGE, "left", SETTING_WEIGHINGS, 0, 0, 0,
	    "dates, each with a weight or a volume", false, NULL, NULL,
	    "2026-05-01 1.1 oz",
	    "What was left in it on the evening of that day, when you looked; "
	    "0 when it was gone.\n"
	    "Records after that day are taken from there." },
	/* practice */
	{ PLACE_PRACTICE, "limit", SETTING_PRACTICE_LIMIT, 0, 0, 0,
	    "a limit, a span or yes, as its card key does", true, NULL, NULL,
	    "at most 10 mph", "The limit, under the name of a card key." },
	{ PLACE_PRACTICE, "source", SETTING_TEXT, 0, 0, 0, NULL, true, NULL,
	    NULL, "the publication that gives it",
	    "Where it comes from: shown with each reason." },
};

const size_t settings_of_place_count =
    sizeof settings_of_place / sizeof settings_of_place[0];
