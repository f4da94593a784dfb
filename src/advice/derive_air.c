/* What the air does near the ground. */
#include "advice/derive_parts.h"

#include "advice/daylight.h"
#include "advice/drift.h"
#include "physics/leaf_wetness.h"
#include "physics/stability.h"
#include "physics/sun.h"
#include "physics/wind.h"

#define WIND_HEIGHT 10.0 /* m, of the forecast */

/* Hours of the local clock in which dew can fall: Kim et al. 2002. */
enum { DEW_FROM = 20, DEW_TO = 9 };

/* Cells by which an inversion is expected before and after a night. */
enum { NIGHT_FRINGE = 2 * 3600 / SERIES_STEP };

static void
derive_wind(struct series *series)
{
	const float *wind = series->column[MEASURE_WIND];
	if (wind == NULL)
		return;
	double part = wind_at_2m(1, WIND_HEIGHT);
	float *column = series_column(series, MEASURE_WIND_2M);
	series->continuous[MEASURE_WIND_2M] = series->continuous[MEASURE_WIND];
	for (size_t i = 0; i < series->count; i++)
		column[i] = (float)((double)wind[i] * part);
}

static void
derive_freeze(struct series *series)
{
	const float *air = series->column[MEASURE_AIR_TEMPERATURE];
	if (air == NULL)
		return;
	float *column = series_column(series, MEASURE_FREEZE);
	for (size_t i = 0; i < series->count; i++)
		column[i] = isnan(air[i]) ? NAN : air[i] <= 0 ? 1.0F : 0.0F;
}

static void
derive_stability(struct series *series)
{
	if (series->column[MEASURE_CLOUD] == NULL &&
	    series->column[MEASURE_WIND] == NULL)
		return;
	const float *sun = series->column[MEASURE_SUN_HEIGHT];
	float *column = series_column(series, MEASURE_STABILITY);
	for (size_t i = 0; i < series->count; i++)
		column[i] = (float)stability_class((double)sun[i],
		    (double)cell_or_unknown(series, MEASURE_CLOUD, i),
		    (double)cell_or_unknown(series, MEASURE_WIND, i));
}

/* 1 when one of them is; else NaN when one of them is; else 0. */
static float
either(float a, float b)
{
	if (a == 1 || b == 1)
		return 1;
	return isnan(a) || isnan(b) ? NAN : 0.0F;
}

static bool
may_dew_fall(const struct site *site, int64_t time)
{
	struct civil civil = civil_from_utc(&site->zone, time);
	return civil.hour >= DEW_FROM || civil.hour < DEW_TO;
}

static float
tell_dew(const struct series *series, size_t i, double part_of_wind)
{
	double air =
	    (double)cell_or_unknown(series, MEASURE_AIR_TEMPERATURE, i);
	double dew_point =
	    (double)cell_or_unknown(series, MEASURE_DEW_POINT, i);
	double humidity = (double)cell_or_unknown(series, MEASURE_HUMIDITY, i);
	double wind = (double)cell_or_unknown(series, MEASURE_WIND, i);
	return (float)leaf_wet(
	    air, air - dew_point, humidity, wind * part_of_wind);
}

static void
derive_leaf(struct series *series, const struct site *site)
{
	const float *wet = series->column[MEASURE_WET];
	double part = wind_at_height(1, WIND_HEIGHT, LEAF_WETNESS_HEIGHT);
	float *column = series_column(series, MEASURE_LEAF_WET);
	for (size_t i = 0; i < series->count; i++) {
		column[i] = wet[i];
		if (may_dew_fall(site, series_time(series, i)))
			column[i] = either(wet[i], tell_dew(series, i, part));
	}
}

/* Rain that goes on: a wet amount in each hour, as a cell's share. */
#define STEADY_RAIN ((float)(DERIVE_WET_MM * SERIES_STEP / 3600))

/* What keeps an inversion away when it lasts for the whole night. */
struct exception {
	enum measure measure;
	float limit; /* as floats: what prints alike is alike */
	bool over;   /* over the limit, else at it or over */
};

static const struct exception exceptions[] = {
	{ MEASURE_CLOUD, 93.75F, false },
	{ MEASURE_RAIN, STEADY_RAIN, false },
	{ MEASURE_WIND, (float)(11 / 3.6), true },
};

/* Cells may lie outside of the series here: [from, to), of one night. */
struct night {
	ptrdiff_t from, to;
};

static bool
is_inside(const struct series *series, ptrdiff_t cell)
{
	return cell >= 0 && cell < (ptrdiff_t)series->count;
}

/* 1 it holds all night, 0 it does not, NaN nobody can tell. */
static float
tell_exception(const struct series *series, const struct night *night,
    const struct exception *exception)
{
	bool known = true;
	for (ptrdiff_t cell = night->from; cell < night->to; cell++) {
		float value = NAN;
		if (is_inside(series, cell))
			value = cell_or_unknown(
			    series, exception->measure, (size_t)cell);
		if (isnan(value))
			known = false;
		else if (exception->over ? value <= exception->limit
					 : value < exception->limit)
			return 0;
	}
	return known ? 1.0F : NAN;
}

static float
expect_inversion(const struct series *series, const struct night *night)
{
	float expected = 1;
	for (size_t i = 0; i < sizeof exceptions / sizeof exceptions[0]; i++) {
		float holds = tell_exception(series, night, &exceptions[i]);
		if (holds == 1)
			return 0;
		if (isnan(holds))
			expected = NAN;
	}
	return expected;
}

/* Short nights can share cells between them: the graver answer counts. */
static void
mark_night(struct series *series, const struct night *night)
{
	float expected = expect_inversion(series, night);
	float *column = series_column(series, MEASURE_INVERSION);
	for (ptrdiff_t cell = night->from - NIGHT_FRINGE;
	     cell < night->to + NIGHT_FRINGE; cell++)
		if (is_inside(series, cell))
			column[cell] = either(column[cell], expected);
}

static bool
is_sun_down(
    const struct series *series, const struct site *site, ptrdiff_t cell)
{
	if (is_inside(series, cell))
		return (double)series->column[MEASURE_SUN_HEIGHT][cell] <
		       SUN_HEIGHT_HORIZON;
	int64_t time = series->start + (int64_t)cell * SERIES_STEP;
	return sun_height(site->latitude, site->longitude, (double)time) <
	       SUN_HEIGHT_HORIZON;
}

/*
 * A cell is of the night when the sun is down at its start or at its end, so
 * the cells of sunset and sunrise are. The walk begins and ends so far outside
 * that it meets every night whose fringe reaches into the series.
 */
static void
derive_inversion(struct series *series, const struct site *site)
{
	float *column = series_column(series, MEASURE_INVERSION);
	for (size_t i = 0; i < series->count; i++)
		column[i] = 0;
	ptrdiff_t end = (ptrdiff_t)series->count + NIGHT_FRINGE;
	struct night night = { -NIGHT_FRINGE, -NIGHT_FRINGE };
	bool down = is_sun_down(series, site, night.to);
	for (ptrdiff_t cell = night.to; cell < end; cell++) {
		bool next = is_sun_down(series, site, cell + 1);
		if (!down && !next) {
			night.from = cell + 1;
		} else if (!next || cell + 1 == end) {
			night.to = cell + 1;
			mark_night(series, &night);
			night.from = cell + 1;
		}
		down = next;
	}
}

void
derive_air(struct series *series, const struct site *site)
{
	derive_wind(series);
	derive_freeze(series);
	derive_stability(series);
	derive_leaf(series, site);
	derive_inversion(series, site);
	daylight_fill(series, &site->zone);
	drift_fill(series, site);
}
