#include "weather/open_meteo.h"

#include "base/civil.h"
#include "base/limits.h"
#include "weather/series.h"

#include <math.h>
#include <string.h>

enum {
	USUAL_STEP = 3600,
	LONGEST_STEP = 6 * 3600,
	STAMP_BYTES = sizeof "2026-03-02T07:00" - 1,
	CLOCK_AT = sizeof "2026-03-02T" - 1,
};
static const struct zone utc = { 0 };

/* How the stamps are written. */
struct writing {
	bool seconds;   /* since 1970 in UTC, else local time without a zone */
	int64_t offset; /* of that local time, east of UTC; one for them all */
};

static bool
read_writing(const cJSON *root, const cJSON *units, struct writing *ret,
    struct error *error)
{
	double offset = 0;
	const char *unit = json_string(json_member(units, "time"));
	bool seconds = unit != NULL && strcmp(unit, "unixtime") == 0;
	if (!seconds && (unit == NULL || strcmp(unit, "iso8601") != 0))
		return error_set(error, ERROR_INPUT,
		    "time: its unit is neither unixtime nor iso8601");
	if (!seconds &&
	    (!json_number(json_member(root, "utc_offset_seconds"), &offset) ||
		offset != floor(offset) || fabs(offset) > DAY_SECONDS))
		return error_set(error, ERROR_INPUT,
		    "the stamps are in local time and utc_offset_seconds does "
		    "not say which");
	*ret = (struct writing){ seconds, (int64_t)offset };
	return true;
}

static bool
read_stamp(const cJSON *item, const struct writing *writing, int64_t *ret)
{
	double seconds;
	int64_t local;
	if (writing->seconds) {
		if (!json_number(item, &seconds) || seconds != floor(seconds) ||
		    fabs(seconds) > 1e11)
			return false;
		*ret = (int64_t)seconds;
		return true;
	}
	/* With a zone of its own a stamp would not be local time. */
	const char *text = json_string(item);
	if (text == NULL || strlen(text) != STAMP_BYTES ||
	    text[CLOCK_AT - 1] != 'T' ||
	    strpbrk(text + CLOCK_AT, "Z+-") != NULL ||
	    !civil_parse(text, &utc, &local, NULL))
		return false;
	*ret = local - writing->offset;
	return true;
}

/* Appends a stamp; the second one sets the step. */
static bool
add_stamp(struct open_meteo_stamps *stamps, int64_t stamp, struct error *error)
{
	char shown[CIVIL_BUFFER];
	int64_t due = stamps->first + (int64_t)stamps->count * stamps->step;
	if (stamps->count == 0)
		due = stamps->first = stamp;
	else if (stamps->count == 1)
		stamps->step = (due = stamp) - stamps->first;
	if (stamp != due || stamp % SERIES_STEP != 0 ||
	    stamps->step < SERIES_STEP || stamps->step > LONGEST_STEP ||
	    stamps->step % SERIES_STEP != 0)
		return error_set(error, ERROR_INPUT,
		    "time contradicts itself: not even steps of quarter hours "
		    "up to 6 h at %s",
		    civil_print(shown, sizeof shown, &utc, stamp, CIVIL_STAMP));
	stamps->count++;
	return true;
}

static bool
read_stamps(const cJSON *list, const struct writing *writing,
    struct open_meteo_stamps *ret, struct error *error)
{
	struct open_meteo_stamps stamps = { .step = USUAL_STEP };
	int64_t stamp;
	if (!cJSON_IsArray(list) || list->child == NULL ||
	    cJSON_GetArraySize(list) > LIMIT_LAYER_VALUES)
		return error_set(error, ERROR_INPUT,
		    "time is not a list of stamps, %d at most",
		    (int)LIMIT_LAYER_VALUES);
	const cJSON *item;
	cJSON_ArrayForEach(item, list)
	{
		if (!read_stamp(item, writing, &stamp))
			return error_set(error, ERROR_INPUT,
			    "time: stamp %zu is not %s", stamps.count + 1,
			    writing->seconds ? "a whole number of seconds"
					     : "like 2026-03-02T07:00");
		if (!add_stamp(&stamps, stamp, error))
			return false;
	}
	*ret = stamps;
	return true;
}

bool
open_meteo_stamps_read(
    struct open_meteo *document, const cJSON *root, struct error *error)
{
	struct writing writing = { 0 };
	return read_writing(root, document->units, &writing, error) &&
	       read_stamps(json_member(document->hourly, "time"), &writing,
		   &document->stamps, error);
}
