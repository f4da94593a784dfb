#include "weather/format.h"

#include "base/civil.h"
#include "weather/nws_problem.h"

#include <string.h>

/*
 * How long the columns are. A list counts from its last change, and where the
 * weather is quiet that may be months ago.
 */
#define ALERT_DAYS INT64_C(400)

/* A time that the document does not tell. */
#define UNTOLD INT64_MIN

/*
 * Which kind an event is of: the first phrase found in its name decides, in
 * whatever case, so the names that mislead stand before the plain ones. A name
 * with none of them has no bearing on spraying (fog, surf, a missing child).
 * Marine events count as wind: for a place on land the service lists none.
 */
static const struct phrase {
	const char *text;
	enum measure kind;
} phrases[] = {
	/* Wind and storms by name, but something else. */
	{ "wind chill", MEASURE_ALERT_FREEZE },
	{ "winter", MEASURE_ALERT_FREEZE },
	{ "ice storm", MEASURE_ALERT_FREEZE },
	{ "storm surge", MEASURE_ALERT_FLOOD },
	{ "dust", MEASURE_ALERT_SMOKE },
	/* Cold; snow and ice come with it. */
	{ "freez", MEASURE_ALERT_FREEZE },
	{ "frost", MEASURE_ALERT_FREEZE },
	{ "cold", MEASURE_ALERT_FREEZE },
	{ "snow", MEASURE_ALERT_FREEZE },
	{ "blizzard", MEASURE_ALERT_FREEZE },
	{ "heat", MEASURE_ALERT_HEAT },
	{ "flood", MEASURE_ALERT_FLOOD },
	{ "hydrologic advisory", MEASURE_ALERT_FLOOD },
	/* Air that carries something, stands still, or feeds a fire. */
	{ "smoke", MEASURE_ALERT_SMOKE },
	{ "ashfall", MEASURE_ALERT_SMOKE },
	{ "air quality", MEASURE_ALERT_SMOKE },
	{ "air stagnation", MEASURE_ALERT_SMOKE },
	{ "red flag", MEASURE_ALERT_SMOKE },
	{ "fire", MEASURE_ALERT_SMOKE },
	{ "wind", MEASURE_ALERT_WIND },
	{ "storm", MEASURE_ALERT_WIND }, /* thunder-, tropical, at sea */
	{ "severe weather", MEASURE_ALERT_WIND }, /* of a thunderstorm */
	{ "tornado", MEASURE_ALERT_WIND },
	{ "tropical", MEASURE_ALERT_WIND },
	{ "hurricane", MEASURE_ALERT_WIND },
	{ "typhoon", MEASURE_ALERT_WIND },
	{ "gale", MEASURE_ALERT_WIND },
	{ "small craft", MEASURE_ALERT_WIND },
	{ "special marine", MEASURE_ALERT_WIND },
};

static const enum measure columns[] = { MEASURE_ALERT_WIND,
	MEASURE_ALERT_FREEZE, MEASURE_ALERT_HEAT, MEASURE_ALERT_FLOOD,
	MEASURE_ALERT_SMOKE };

/*
 * Messages that announce nothing. Any other word counts, and so does none: an
 * alert too many costs a window, one too few costs more.
 */
static const char *const idle_status[] = { "Test", "Exercise", "Draft",
	"System", NULL };
static const char *const idle_type[] = { "Cancel", "Ack", "Error", NULL };

static bool
is_among(const char *const words[], const char *word)
{
	for (; word != NULL && *words != NULL; words++)
		if (strcmp(*words, word) == 0)
			return true;
	return false;
}

/* MEASURES when an event of that name has no bearing. */
static enum measure
find_kind(const char *event)
{
	for (size_t i = 0; i < sizeof phrases / sizeof phrases[0]; i++)
		if (strcasestr(event, phrases[i].text) != NULL)
			return phrases[i].kind;
	return MEASURES;
}

/* The borrowed text of a member; NULL when it is absent or null. */
static bool
read_word(const cJSON *object, const char *name, const char **ret,
    struct error *error)
{
	const cJSON *item = json_member(object, name);
	if (item != NULL && !cJSON_IsNull(item) && !cJSON_IsString(item))
		return error_set(error, ERROR_INPUT, "%s is not a text", name);
	*ret = json_string(item);
	return true;
}

/*
 * A time with its offset, without which it would mean another hour in each
 * place. Leaves *ret alone when the member is absent or null.
 */
static bool
read_time(
    const cJSON *object, const char *name, int64_t *ret, struct error *error)
{
	static const struct zone utc = { 0 };
	enum { CLOCK_AT = 11 };
	char shown[JSON_SHOWN];
	const char *text = NULL;
	if (!read_word(object, name, &text, error))
		return false;
	if (text == NULL)
		return true;
	if (strlen(text) <= CLOCK_AT ||
	    strpbrk(text + CLOCK_AT, "Z+-") == NULL ||
	    !civil_parse(text, &utc, ret, NULL))
		return error_set(error, ERROR_INPUT,
		    "%s: '%s' is not a time with its offset", name,
		    json_show(shown, text));
	return true;
}

/*
 * From the onset to the end of the event itself; of the message where the event
 * tells none. A message may expire before its event begins: an end that is not
 * after the onset is no end, and then the event has none in sight.
 */
static bool
read_span(const cJSON *properties, int64_t *ret_from, int64_t *ret_to,
    struct error *error)
{
	int64_t from = UNTOLD, to = UNTOLD;
	if (!read_time(properties, "effective", &from, error) ||
	    !read_time(properties, "onset", &from, error) ||
	    !read_time(properties, "expires", &to, error) ||
	    !read_time(properties, "ends", &to, error))
		return false;
	if (from == UNTOLD)
		return error_set(error, ERROR_INPUT,
		    "it does not say when it begins (no onset, no effective)");
	*ret_from = from;
	*ret_to = to > from ? to : INT64_MAX;
	return true;
}

static bool
place_event(struct series *series, const cJSON *feature, struct error *error)
{
	char shown[JSON_SHOWN];
	const cJSON *properties = json_member(feature, "properties");
	const char *event = NULL, *status = NULL, *type = NULL;
	int64_t from = 0, to = 0;
	if (!cJSON_IsObject(properties) || !json_members_unique(feature) ||
	    !json_members_unique(properties))
		return error_set(error, ERROR_INPUT,
		    "it has no properties, or a member twice");
	if (!read_word(properties, "event", &event, error) ||
	    !read_word(properties, "status", &status, error) ||
	    !read_word(properties, "messageType", &type, error))
		return false;
	if (event == NULL)
		return error_set(error, ERROR_INPUT, "it names no event");
	if (is_among(idle_status, status) || is_among(idle_type, type))
		return true;
	if (!read_span(properties, &from, &to, error))
		return error_prefix(error, "%s", json_show(shown, event));
	enum measure kind = find_kind(event);
	if (kind != MEASURES)
		series_hold(series, kind, from, to, 1);
	return true;
}

/* Fills `series`, which the caller releases on failure too. */
static bool
place_events(struct series *series, const cJSON *features, struct error *error)
{
	size_t number = 0;
	const cJSON *feature;
	for (size_t i = 0; i < sizeof columns / sizeof columns[0]; i++)
		series_hold(
		    series, columns[i], series->start, series_end(series), 0);
	cJSON_ArrayForEach(feature, features)
	{
		number++;
		if (!place_event(series, feature, error))
			return error_prefix(error, "alert %zu", number);
	}
	return true;
}

static bool
read_list(const cJSON *root, struct series *ret, struct error *error)
{
	const cJSON *features = json_member(root, "features");
	struct series series;
	int64_t updated = UNTOLD;
	if (features == NULL)
		return nws_refuse_problem(
		    root, "a list of alerts", "features", error);
	if (!cJSON_IsArray(features) || !json_members_unique(root))
		return error_set(
		    error, ERROR_INPUT, "features is not one list of alerts");
	if (!read_time(root, "updated", &updated, error))
		return false;
	if (updated == UNTOLD)
		return error_set(error, ERROR_INPUT,
		    "the list does not say when it was made (no updated)");
	series_init(&series, updated, updated + ALERT_DAYS * DAY_SECONDS);
	if (!place_events(&series, features, error)) {
		series_release(&series);
		return false;
	}
	*ret = series;
	return true;
}

bool
nws_alerts_read(
    const char *bytes, size_t length, struct series *ret, struct error *error)
{
	cJSON *root = json_parse(bytes, length, error);
	if (root == NULL)
		return false;
	bool good = read_list(root, ret, error);
	json_release(root);
	return good;
}
