#include "advice/derive_parts.h"

#include "physics/psychrometrics.h"
#include "physics/sun.h"

#include <math.h>
#include <string.h>

/* Cell by cell from two columns; nothing when one of them is absent. */
static void
derive_pair(struct series *series, enum measure into, enum measure a,
    enum measure b, double (*formula)(double, double))
{
	const float *first = series->column[a], *second = series->column[b];
	if (first == NULL || second == NULL)
		return;
	float *column = series_column(series, into);
	series->continuous[into] =
	    series->continuous[a] && series->continuous[b];
	for (size_t i = 0; i < series->count; i++) {
		/* held values come in runs, and the formulas are not cheap */
		bool same = i > 0 && first[i] == first[i - 1] &&
			    second[i] == second[i - 1];
		column[i] =
		    same ? column[i - 1] : (float)formula(first[i], second[i]);
	}
}

/* A dew point that was rounded to over the air temperature is saturation. */
static double
humidity_of(double temperature, double dew_point_temperature)
{
	double humidity = relative_humidity(temperature, dew_point_temperature);
	return humidity > 100 ? 100 : humidity;
}

static double
subtract(double air, double wet_bulb_temperature)
{
	return air - wet_bulb_temperature;
}

static void
derive_moisture(struct series *series)
{
	bool has_dew_point = series->column[MEASURE_DEW_POINT] != NULL;
	bool has_humidity = series->column[MEASURE_HUMIDITY] != NULL;
	if (has_dew_point && !has_humidity)
		derive_pair(series, MEASURE_HUMIDITY, MEASURE_AIR_TEMPERATURE,
		    MEASURE_DEW_POINT, humidity_of);
	if (has_humidity && !has_dew_point)
		derive_pair(series, MEASURE_DEW_POINT, MEASURE_AIR_TEMPERATURE,
		    MEASURE_HUMIDITY, dew_point);
	derive_pair(series, MEASURE_WET_BULB, MEASURE_AIR_TEMPERATURE,
	    MEASURE_HUMIDITY, wet_bulb);
	derive_pair(series, MEASURE_DELTA_T, MEASURE_AIR_TEMPERATURE,
	    MEASURE_WET_BULB, subtract);
}

static void
derive_wet(struct series *series, double chance_limit)
{
	float *wet = series_column(series, MEASURE_WET);
	for (size_t i = 0; i < series->count; i++) {
		float amount = cell_or_unknown(series, MEASURE_RAIN_BLOCK, i);
		float chance = cell_or_unknown(series, MEASURE_RAIN_CHANCE, i);
		bool enough = (double)amount >= DERIVE_WET_MM;
		/* As floats: 33.3 % in both places is the same chance. */
		bool likely = chance >= (float)chance_limit;
		bool known = !isnan(amount) || !isnan(chance);
		wet[i] = !known ? NAN : enough || likely ? 1.0F : 0.0F;
	}
}

static void
derive_sun(struct series *series, const struct site *site)
{
	float *column = series_column(series, MEASURE_SUN_HEIGHT);
	series->continuous[MEASURE_SUN_HEIGHT] = true;
	for (size_t i = 0; i < series->count; i++)
		column[i] = (float)sun_height(site->latitude, site->longitude,
		    (double)series_time(series, i));
}

static bool
is_preferred(const struct site *site, int64_t from)
{
	if (site->hours_count == 0)
		return true;
	struct civil civil = civil_from_utc(&site->zone, from);
	int clock = civil.hour * 3600 + civil.minute * 60 + civil.second;
	bool inside = false;
	for (size_t i = 0; i < site->hours_count && !inside; i++)
		inside = clock >= site->hours[i].from &&
			 clock + SERIES_STEP <= site->hours[i].to;
	return inside;
}

static void
derive_hours(struct series *series, const struct site *site)
{
	float *column = series_column(series, MEASURE_HOURS);
	for (size_t i = 0; i < series->count; i++)
		column[i] =
		    is_preferred(site, series_time(series, i)) ? 1.0F : 0.0F;
}

static bool
has_alerts(const struct site *site)
{
	for (size_t i = 0; i < site->source_count; i++)
		if (strcmp(site->source[i].format, "nws-alerts") == 0)
			return true;
	return false;
}

static void
derive_alerts(struct series *series, const struct site *site)
{
	static const enum measure alerts[] = { MEASURE_ALERT_WIND,
		MEASURE_ALERT_FREEZE, MEASURE_ALERT_HEAT, MEASURE_ALERT_FLOOD,
		MEASURE_ALERT_SMOKE };
	if (has_alerts(site))
		return;
	for (size_t i = 0; i < sizeof alerts / sizeof alerts[0]; i++)
		if (series->column[alerts[i]] == NULL)
			series_hold(series, alerts[i], series->start,
			    series_end(series), 0);
}

void
derive(struct series *series, const struct site *site,
    const struct site_facts *facts)
{
	static const struct site_facts none = { 0 };
	if (facts == NULL)
		facts = &none;
	derive_moisture(series);
	derive_wet(series, site->rain_chance);
	derive_sun(series, site);
	derive_air(series, site);
	derive_soil(series, site, facts);
	derive_alerts(series, site);
	derive_hours(series, site);
	derive_events(series, site, facts);
	derive_turf(series, site, facts);
}
