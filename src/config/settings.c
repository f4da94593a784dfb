#include "config/settings.h"

#include <stdio.h>
#include <string.h>

#define DAY  86400.0
#define YEAR (366 * DAY)

static const struct setting settings[] = {
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
	{ PLACE_SITE, "hours", SETTING_CLOCK_SPANS, 0, 0, 0,
	    "spans of the local day", false, NULL, NULL, "06:30-10:30",
	    "When you like to spray: a preference, any hour without it." },
	/* product */
	{ PLACE_PRODUCT, "label", SETTING_TEXT, 0, 0, 0, NULL, true, NULL, NULL,
	    "invented label, 2026, directions for use",
	    "Where the card was typed from: shown as the source of each of its "
	    "limits." },
	{ PLACE_PRODUCT, "formulation", SETTING_NAME, 0, 0, 0,
	    "a code such as WG, SC, SL, EC", false, NULL, NULL, "WG",
	    "The formulation code on the label." },
	{ PLACE_PRODUCT, "rate", SETTING_RATE, 0, 0, 0,
	    "an amount per area or per volume of mix", false, NULL, NULL,
	    "1.5 fl oz/1000 ft2", "The usual rate." },
	{ PLACE_PRODUCT, "temperature-ceiling", SETTING_LIMIT,
	    QUANTITY_TEMPERATURE, -20, 60, "-20 degC to 60 degC", false, NULL,
	    NULL, "below 85 degF", "The warmest air during the job." },
	{ PLACE_PRODUCT, "temperature-floor", SETTING_LIMIT,
	    QUANTITY_TEMPERATURE, -20, 60, "-20 degC to 60 degC", false, NULL,
	    NULL, "at least 50 degF", "The coldest air during the job." },
	{ PLACE_PRODUCT, "day-high", SETTING_LIMIT, QUANTITY_TEMPERATURE, -20,
	    60, "-20 degC to 60 degC", false, NULL, NULL, "below 90 degF",
	    "The highest air temperature of that local day." },
	{ PLACE_PRODUCT, "rain-free", SETTING_QUANTITY, QUANTITY_SPAN, 0,
	    14 * DAY, "0 h to 14 d", false, NULL, NULL, "12 h",
	    "No rain during the job and for this long after it." },
	{ PLACE_PRODUCT, "dry-leaf", SETTING_QUANTITY, QUANTITY_SPAN, 0,
	    7 * DAY, "0 h to 7 d", false, NULL, NULL, "2 h",
	    "No rain for this long before the job." },
	{ PLACE_PRODUCT, "wind-minimum", SETTING_LIMIT, QUANTITY_SPEED, 0, 30,
	    "0 m/s to 30 m/s", false, NULL, NULL, "at least 3 mph",
	    "The least wind during the job, as forecast at 10 m." },
	{ PLACE_PRODUCT, "wind-maximum", SETTING_LIMIT, QUANTITY_SPEED, 0, 30,
	    "0 m/s to 30 m/s", false, NULL, NULL, "at most 10 mph",
	    "The most wind during the job, as forecast at 10 m." },
	{ PLACE_PRODUCT, "gust-maximum", SETTING_LIMIT, QUANTITY_SPEED, 0, 40,
	    "0 m/s to 40 m/s", false, NULL, NULL, "at most 15 mph",
	    "Gusts during the job." },
	{ PLACE_PRODUCT, "delta-t-minimum", SETTING_LIMIT,
	    QUANTITY_TEMPERATURE_DIFFERENCE, 0, 30, "0 K to 30 K", false, NULL,
	    NULL, "at least 2 K",
	    "Dry bulb less wet bulb during the job: a difference, so 2 K is "
	    "3.6 degF." },
	{ PLACE_PRODUCT, "delta-t-maximum", SETTING_LIMIT,
	    QUANTITY_TEMPERATURE_DIFFERENCE, 0, 30, "0 K to 30 K", false, NULL,
	    NULL, "at most 8 K", "The same difference, from above." },
	{ PLACE_PRODUCT, "daylight", SETTING_YES_NO, 0, 0, 0, "yes or no",
	    false, NULL, NULL, "yes",
	    "The job lies between sunrise and sunset." },
	{ PLACE_PRODUCT, "no-inversion", SETTING_YES_NO, 0, 0, 0, "yes or no",
	    false, NULL, NULL, "yes",
	    "No temperature inversion has to be expected during the job." },
	{ PLACE_PRODUCT, "no-alert", SETTING_YES_NO, 0, 0, 0, "yes or no",
	    false, NULL, NULL, "yes",
	    "No official alert of wind, freeze, heat, flood, smoke or fire "
	    "during the job, as far as one is issued." },
	{ PLACE_PRODUCT, "turf", SETTING_WORDS, 0, 0, 0,
	    "dormant, green-up, green", false, NULL, "dormant green-up green",
	    "dormant", "The states of the turf in which it may be applied." },
	{ PLACE_PRODUCT, "re-treatment", SETTING_QUANTITY, QUANTITY_SPAN, DAY,
	    3 * YEAR, "1 d to 1098 d", false, NULL, NULL, "21 d",
	    "The least number of local days from one application of it on a "
	    "site to the next." },
	{ PLACE_PRODUCT, "keep-off", SETTING_QUANTITY, QUANTITY_SPAN, 0,
	    30 * DAY, "0 h to 30 d", false, NULL, NULL, "4 h",
	    "How long people and pets stay off." },
	{ PLACE_PRODUCT, "label-rules", SETTING_WORDS, 0, 0, 0,
	    "names of practice limits", false, NULL,
	    "temperature-ceiling temperature-floor day-high rain-free dry-leaf "
	    "wind-minimum wind-maximum gust-maximum delta-t-minimum "
	    "delta-t-maximum daylight no-inversion no-alert",
	    "wind-maximum",
	    "Practice limits that give way to this label.\n"
	    "Without it the stricter of label and practice decides." },
	/* practice */
	{ PLACE_PRACTICE, "limit", SETTING_PRACTICE_LIMIT, 0, 0, 0,
	    "a limit, a span or yes, as its card key does", true, NULL, NULL,
	    "at most 10 mph", "The limit, under the name of a card key." },
	{ PLACE_PRACTICE, "source", SETTING_TEXT, 0, 0, 0, NULL, true, NULL,
	    NULL, "the publication that gives it",
	    "Where it comes from: shown with each reason." },
};

enum { SETTING_COUNT = sizeof settings / sizeof settings[0] };

const struct setting *
setting_at(size_t i)
{
	return i < SETTING_COUNT ? &settings[i] : NULL;
}

const struct setting *
setting_find(enum setting_place place, const char *name)
{
	for (size_t i = 0; i < SETTING_COUNT; i++)
		if (settings[i].place == place &&
		    strcmp(settings[i].name, name) == 0)
			return &settings[i];
	return NULL;
}

const char *
setting_place_name(enum setting_place place)
{
	static const char *const name[] = { "", "site", "sprayer", "product",
		"practice" };
	return name[place];
}

bool
setting_is_list(const struct setting *setting)
{
	return setting->kind == SETTING_CLOCK_SPANS ||
	       setting->kind == SETTING_SOURCES ||
	       setting->kind == SETTING_TOLD || setting->kind == SETTING_SOIL ||
	       setting->kind == SETTING_WORDS;
}

static void
print_one(const struct setting *setting, struct text *ret)
{
	text_format(ret, ".It Cm %s\n%s\n", setting->name, setting->help);
	if (setting->range != NULL)
		text_format(ret, "Takes %s.\n", setting->range);
	if (setting->fallback != NULL)
		text_format(ret, "Default: %s.\n", setting->fallback);
	if (setting->required)
		text_add(ret, "Required.\n");
}

void
settings_print_mdoc(struct text *ret)
{
	static const enum setting_place order[] = { PLACE_TOP, PLACE_SPRAYER,
		PLACE_SITE, PLACE_PRODUCT, PLACE_PRACTICE };
	for (size_t p = 0; p < PLACES; p++) {
		const char *name = setting_place_name(order[p]);
		if (order[p] == PLACE_TOP)
			text_add(ret, ".Ss Settings outside of any section\n");
		else
			text_format(
			    ret, ".Ss Settings of a %s section\n", name);
		text_add(ret, ".Bl -tag -width Ds\n");
		for (size_t i = 0; i < SETTING_COUNT; i++)
			if (settings[i].place == order[p])
				print_one(&settings[i], ret);
		text_add(ret, ".El\n");
	}
}
