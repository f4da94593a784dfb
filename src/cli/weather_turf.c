#include "cli/weather_turf.h"

#include "advice/derive_turf.h"
#include "advice/turf_timing.h"

#include <math.h>

static const char *const state_words[TURF_STATES + 1] = { "dormant", "green-up",
	"green", NULL };

static const char *const trend_words[] = { NULL, "falling", "steady",
	"rising" };

/* One site on one day. */
struct outdoors {
	const struct zone *zone;
	enum unit_system units;
	int64_t today;
	struct turf_lawn lawn;
	struct turf_day turf;
	enum turf_green_up green_up;
	int64_t green_up_day;
	struct turf_timing soil;
};

static struct outdoors
look_out(
    const struct session *session, const struct board_site *site, int64_t now)
{
	struct outdoors out = { .zone = &site->site->zone,
		.units = session->keeper.config.units,
		.today = civil_day(&site->site->zone, now) };
	turf_lawn_init(&out.lawn, &site->series, site->site, &site->facts);
	out.turf = turf_state_on(&out.lawn, out.today);
	out.green_up = turf_green_up(&out.lawn, out.today, &out.green_up_day);
	out.soil = turf_timing(&out.lawn, out.today);
	return out;
}

static const char *
print_day(char buffer[CIVIL_BUFFER], const struct outdoors *out, int64_t day,
    enum civil_style style)
{
	return civil_print(buffer, CIVIL_BUFFER, out->zone,
	    civil_day_start(out->zone, day), style);
}

/* "turf: dormant, seen Tue 3 Mar; look again by Tue 24 Mar; green-up not before
   Wed 18 Mar" */
static void
add_turf(struct text *text, const struct outdoors *out)
{
	char why[TURF_WHY_BUFFER], day[CIVIL_BUFFER];
	turf_why_print(why, sizeof why, &out->turf, out->zone, out->units);
	if (out->turf.state == TURF_STATES) {
		text_format(text, "turf: %s\n", why);
		return;
	}
	text_format(text, "turf: %s, %s; look again by %s",
	    state_words[out->turf.state], why,
	    print_day(
		day, out, turf_state_end(&out->lawn, out->today), CIVIL_DAY));
	if (out->green_up != TURF_GREEN_UP_UNKNOWN)
		text_format(text, "; green-up %s %s",
		    out->green_up == TURF_GREEN_UP_ON ? "may begin"
						      : "not before",
		    print_day(day, out, out->green_up_day, CIVIL_DAY));
	text_add(text, "\n");
}

/* "soil: mean of 5 days 54 °F, rising; 55 °F on Sat 21 Mar: pre-emergents for
   summer grasses belong before it" */
static void
add_soil(struct text *text, const struct outdoors *out)
{
	char degrees[QUANTITY_BUFFER], day[CIVIL_BUFFER];
	const struct turf_mark *mark = out->soil.mark;
	text_format(text, "soil: mean of 5 days %s",
	    quantity_print(degrees, sizeof degrees, out->soil.mean,
		QUANTITY_TEMPERATURE, out->units));
	if (out->soil.trend != SOIL_UNKNOWN)
		text_format(text, ", %s", trend_words[out->soil.trend]);
	if (mark != NULL)
		text_format(text, "; %s %s %s: %s",
		    quantity_print(degrees, sizeof degrees, mark->passing.limit,
			QUANTITY_TEMPERATURE, out->units),
		    out->soil.passes ? "on" : "not before",
		    print_day(day, out, out->soil.day, CIVIL_DAY), mark->what);
	text_add(text, "\n");
}

void
weather_turf_add(
    struct session *session, const struct board_site *site, int64_t now)
{
	struct outdoors out = look_out(session, site, now);
	if (out.lawn.look_count > 0 || site->site->told_count > 0)
		add_turf(&session->out, &out);
	if (!isnan(out.soil.mean))
		add_soil(&session->out, &out);
	turf_lawn_release(&out.lawn);
}

/* A date, or null. */
static void
add_date(cJSON *json, const char *name, const struct outdoors *out, bool known,
    int64_t day)
{
	char date[CIVIL_BUFFER];
	if (known)
		cJSON_AddStringToObject(
		    json, name, print_day(date, out, day, CIVIL_DATE));
	else
		cJSON_AddNullToObject(json, name);
}

/* A word, or null. */
static void
add_word(cJSON *json, const char *name, const char *word)
{
	cJSON_AddItemToObject(json, name,
	    word != NULL ? cJSON_CreateString(word) : cJSON_CreateNull());
}

static void
add_turf_json(cJSON *json, const struct outdoors *out)
{
	char why[TURF_WHY_BUFFER];
	cJSON *turf = cJSON_AddObjectToObject(json, "turf");
	bool known = out->turf.state != TURF_STATES;
	add_word(turf, "state", state_words[out->turf.state]);
	add_date(
	    turf, "since", out, out->turf.why != TURF_UNSEEN, out->turf.since);
	cJSON_AddStringToObject(turf, "why",
	    turf_why_print(
		why, sizeof why, &out->turf, out->zone, UNITS_METRIC));
	add_date(turf, "look-again", out, known,
	    known ? turf_state_end(&out->lawn, out->today) : 0);
	add_date(turf, "green-up", out, out->green_up == TURF_GREEN_UP_ON,
	    out->green_up_day);
	add_date(turf, "green-up-not-before", out,
	    out->green_up == TURF_GREEN_UP_NOT_BEFORE, out->green_up_day);
}

static void
add_soil_json(cJSON *json, const struct outdoors *out)
{
	const struct turf_mark *mark = out->soil.mark;
	cJSON *soil = cJSON_AddObjectToObject(json, "soil");
	cJSON_AddItemToObject(
	    soil, "mean-of-5-days", json_rounded(out->soil.mean, 1));
	add_word(soil, "trend", trend_words[out->soil.trend]);
	cJSON_AddItemToObject(soil, "mark",
	    json_rounded(mark != NULL ? mark->passing.limit : (double)NAN, 1));
	add_word(soil, "means", mark != NULL ? mark->what : NULL);
	add_date(
	    soil, "on", out, mark != NULL && out->soil.passes, out->soil.day);
	add_date(soil, "not-before", out, mark != NULL && !out->soil.passes,
	    out->soil.day);
}

void
weather_turf_add_json(struct session *session, cJSON *json,
    const struct board_site *site, int64_t now)
{
	struct outdoors out = look_out(session, site, now);
	add_turf_json(json, &out);
	add_soil_json(json, &out);
	turf_lawn_release(&out.lawn);
}
