#include "advice/readings.h"

#include "advice/drift.h"
#include "advice/turf_state.h"
#include "base/memory.h"
#include "physics/psychrometrics.h"

#include <math.h>
#include <string.h>

static const struct exposure during = { { ANCHOR_START, 0 },
	{ ANCHOR_END, 0 } };

/* The cells of the job: [first, end), clipped. */
struct span {
	size_t first, end;
};

static struct span
span_of(const struct series *series, size_t start, int64_t duration)
{
	size_t cells = (size_t)((duration + SERIES_STEP - 1) / SERIES_STEP);
	size_t left = series->count - start;
	return (struct span){ start, start + (cells < left ? cells : left) };
}

/* Nothing where nothing was measured. */
static void
put(struct series *series, struct span span, enum measure measure, double value)
{
	if (isnan(value))
		return;
	float *column = series_column(series, measure);
	if (series->continuous[measure] && span.end < series->count)
		span.end++;
	for (size_t i = span.first; i < span.end; i++)
		column[i] = (float)value;
}

static void
blank(struct series *series, struct span span, enum measure measure)
{
	float *column = series->column[measure];
	if (column == NULL)
		return;
	if (series->continuous[measure] && span.end < series->count)
		span.end++;
	for (size_t i = span.first; i < span.end; i++)
		column[i] = NAN;
}

static void
put_air(struct series *series, struct span span, double air, double humidity)
{
	put(series, span, MEASURE_AIR_TEMPERATURE, air);
	put(series, span, MEASURE_HUMIDITY, humidity);
	if (!isnan(air))
		put(series, span, MEASURE_FREEZE, air <= 0 ? 1 : 0);
	if (isnan(air) && isnan(humidity))
		return;
	if (isnan(air) || isnan(humidity)) {
		/* one of the two is known to be another than forecast */
		blank(series, span, MEASURE_DEW_POINT);
		blank(series, span, MEASURE_WET_BULB);
		blank(series, span, MEASURE_DELTA_T);
		return;
	}
	put(series, span, MEASURE_DEW_POINT, dew_point(air, humidity));
	put(series, span, MEASURE_WET_BULB, wet_bulb(air, humidity));
	put(series, span, MEASURE_DELTA_T, delta_t(air, humidity));
}

/* drift_fill writes what is known and leaves the rest as it is. */
static void
put_drift(struct series *series, const struct site *site,
    const struct readings *readings)
{
	if (isnan(readings->wind) && isnan(readings->direction))
		return;
	float *drift = series_column(series, MEASURE_DRIFT);
	for (size_t i = 0; i < series->count; i++)
		drift[i] = NAN;
	drift_fill(series, site);
}

static void
put_turf(struct series *series, struct span span, double green)
{
	static const enum measure measure[TURF_STATES] = { MEASURE_DORMANT,
		MEASURE_GREEN_UP, MEASURE_GREEN };
	if (isnan(green))
		return;
	enum turf_state state = turf_state_of_green(green);
	for (size_t s = 0; s < TURF_STATES; s++)
		put(series, span, measure[s], s == state ? 1 : 0);
}

void
readings_overlay(const struct readings *readings, const struct site *site,
    size_t start, int64_t duration, struct series *series)
{
	struct span span = span_of(series, start, duration);
	put_air(series, span, readings->air, readings->humidity);
	put(series, span, MEASURE_WIND, readings->wind);
	put(series, span, MEASURE_WIND_2M, readings->wind);
	put(series, span, MEASURE_GUST, readings->gust);
	put(series, span, MEASURE_WIND_DIRECTION, readings->direction);
	put_drift(series, site, readings);
	put_turf(series, span, readings->green);
	span.first = 0;
	put(series, span, MEASURE_LEAF_WET, readings->leaf_wet);
}

/* The short rule that stands for the state of the leaves. */
static bool
is_dry_leaf(const struct rule *rule)
{
	return rule->measure == MEASURE_WET &&
	       strcmp(rule->name, "dry-leaf") == 0;
}

static bool
caps_wind(const struct rule *rule)
{
	return (rule->measure == MEASURE_WIND ||
		   rule->measure == MEASURE_WIND_2M) &&
	       (rule->fold == FOLD_MAX || rule->fold == FOLD_MEAN) &&
	       bound_is_ceiling(rule->bound) &&
	       exposure_meets(&rule->exposure, &during);
}

static void
tie(struct check *check, enum measure measure, const struct series *series)
{
	check->rule.measure = measure;
	check->column = series->column[measure];
	check->continuous = series->continuous[measure];
}

struct check *
readings_checks(const struct readings *readings, const struct series *series,
    const struct check *checks, size_t count, size_t *ret_count)
{
	struct check *list = memory_array(2 * count, sizeof *list);
	size_t used = 0;
	for (size_t r = 0; r < count; r++) {
		struct check *check = &list[used++];
		*check = checks[r];
		if (check->rule.raised > 0 && !isnan(readings->wind))
			check->rule.limit /= check->rule.raised;
		if (is_dry_leaf(&check->rule) && !isnan(readings->leaf_wet))
			tie(check, MEASURE_LEAF_WET, series);
		if (isnan(readings->gust) || !caps_wind(&check->rule))
			continue;
		struct check *gust = &list[used++];
		*gust = *check;
		gust->rule.fold = FOLD_MAX;
		gust->rule.exposure = during;
		tie(gust, MEASURE_GUST, series);
	}
	*ret_count = used;
	return list;
}

enum reading {
	READING_WIND = 1,
	READING_GUST = 2,
	READING_DIRECTION = 4,
	READING_AIR = 8,
	READING_HUMIDITY = 16,
	READING_GREEN = 32,
	READING_LEAF = 64,
};

/* What each measure follows from. */
static const struct {
	enum measure measure;
	unsigned needs;
	const char *options;
} sources[] = {
	{ MEASURE_WIND, READING_WIND, "--wind W" },
	{ MEASURE_WIND_2M, READING_WIND, "--wind W" },
	{ MEASURE_GUST, READING_GUST, "--gust G" },
	{ MEASURE_WIND_DIRECTION, READING_DIRECTION, "--direction D" },
	{ MEASURE_DRIFT, READING_WIND | READING_DIRECTION,
	    "--wind W --direction D" },
	{ MEASURE_AIR_TEMPERATURE, READING_AIR, "--air T" },
	{ MEASURE_FREEZE, READING_AIR, "--air T" },
	{ MEASURE_HUMIDITY, READING_HUMIDITY, "--humidity H" },
	{ MEASURE_DEW_POINT, READING_AIR | READING_HUMIDITY,
	    "--air T --humidity H" },
	{ MEASURE_WET_BULB, READING_AIR | READING_HUMIDITY,
	    "--air T --humidity H" },
	{ MEASURE_DELTA_T, READING_AIR | READING_HUMIDITY,
	    "--air T --humidity H" },
	{ MEASURE_DORMANT, READING_GREEN, "--green P" },
	{ MEASURE_GREEN_UP, READING_GREEN, "--green P" },
	{ MEASURE_GREEN, READING_GREEN, "--green P" },
	{ MEASURE_LEAF_WET, READING_LEAF, "--dry or --wet" },
};

enum { SOURCES = sizeof sources / sizeof sources[0] };

const char *
readings_options(enum measure measure)
{
	for (size_t i = 0; i < SOURCES; i++)
		if (sources[i].measure == measure)
			return sources[i].options;
	return NULL;
}

static unsigned
list_taken(const struct readings *readings)
{
	return (isnan(readings->wind) ? 0U : READING_WIND) |
	       (isnan(readings->gust) ? 0U : READING_GUST) |
	       (isnan(readings->direction) ? 0U : READING_DIRECTION) |
	       (isnan(readings->air) ? 0U : READING_AIR) |
	       (isnan(readings->humidity) ? 0U : READING_HUMIDITY) |
	       (isnan(readings->green) ? 0U : READING_GREEN) |
	       (isnan(readings->leaf_wet) ? 0U : READING_LEAF);
}

/* Of one cell of the job. Drift alone can come from one reading and the
   forecast; the others wait until all that they need was measured. */
static enum readings_share
share_of_cell(const struct readings *readings, enum measure measure)
{
	for (size_t i = 0; i < SOURCES; i++) {
		if (sources[i].measure != measure)
			continue;
		unsigned taken = list_taken(readings) & sources[i].needs;
		if (taken == sources[i].needs)
			return READINGS_ALL;
		return measure == MEASURE_DRIFT && taken != 0 ? READINGS_PART
							      : READINGS_NONE;
	}
	return READINGS_NONE;
}

enum readings_share
readings_share(const struct readings *readings, const struct outlook *outlook,
    const struct check *check, size_t start, int64_t duration)
{
	enum measure measure = check->rule.measure;
	enum readings_share share = share_of_cell(readings, measure);
	struct span span = span_of(outlook->series, start, duration);
	ptrdiff_t first = (ptrdiff_t)span.first, end = (ptrdiff_t)span.end;
	ptrdiff_t from, to;
	outlook_cells(
	    outlook, &check->rule.exposure, duration, start, &from, &to);
	if (measure == MEASURE_LEAF_WET)
		first = from < first ? from : first;
	if (to <= first || from >= end)
		return READINGS_NONE;
	return share == READINGS_ALL && (from < first || to > end)
		   ? READINGS_PART
		   : share;
}
