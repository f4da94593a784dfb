#include "physics/psychrometrics.h"

#include <math.h>
#include <stdbool.h>

/* FAO-56 eq. 11 has its pole here; no air is that cold. */
#define COLDEST            (-237.3)
#define SEA_LEVEL_PRESSURE 101.325
#define PSYCHROMETER       0.000662 /* per K: ventilated, eq. 16 */
#define WET_BULB_RANGE     100.0    /* degC either way; NaN beyond */
#define WET_BULB_TOLERANCE 0.0005

double
saturation_pressure(double temperature)
{
	if (!(temperature > COLDEST))
		return NAN;
	return 0.6108 * exp(17.27 * temperature / (temperature - COLDEST));
}

double
mean_saturation_pressure(double maximum, double minimum)
{
	return (saturation_pressure(maximum) + saturation_pressure(minimum)) /
	       2.0;
}

double
standard_pressure(double altitude)
{
	return 101.3 * pow((293.0 - 0.0065 * altitude) / 293.0, 5.26);
}

double
psychrometric_constant(double pressure)
{
	return 0.000665 * pressure;
}

double
psychrometer_pressure(double dry_bulb, double wet_bulb, double pressure)
{
	return saturation_pressure(wet_bulb) -
	       PSYCHROMETER * pressure * (dry_bulb - wet_bulb);
}

static bool
is_humidity(double humidity)
{
	return humidity >= 0.0 && humidity <= 100.0;
}

/*
 * The psychrometer's pressure rises with the wet bulb, so one root lies
 * between the dry bulb, where it is saturation, and the depression that would
 * account for the whole deficit alone.
 */
double
wet_bulb(double temperature, double humidity)
{
	if (!is_humidity(humidity) || !(fabs(temperature) <= WET_BULB_RANGE))
		return NAN;
	double saturation = saturation_pressure(temperature);
	double wanted = saturation * humidity / 100.0;
	double high = temperature;
	double low = temperature - (saturation - wanted) /
				       (PSYCHROMETER * SEA_LEVEL_PRESSURE);
	low = fmax(low, -200.0);
	while (high - low > WET_BULB_TOLERANCE) {
		double middle = (high + low) / 2.0;
		double pressure = psychrometer_pressure(
		    temperature, middle, SEA_LEVEL_PRESSURE);
		if (pressure < wanted)
			low = middle;
		else
			high = middle;
	}
	return (high + low) / 2.0;
}

double
delta_t(double temperature, double humidity)
{
	return temperature - wet_bulb(temperature, humidity);
}

double
dew_point(double temperature, double humidity)
{
	if (!is_humidity(humidity) || humidity == 0.0)
		return NAN;
	double pressure = saturation_pressure(temperature) * humidity / 100.0;
	double exponent = log(pressure / 0.6108);
	return 237.3 * exponent / (17.27 - exponent);
}

double
relative_humidity(double temperature, double dew_point_temperature)
{
	return 100.0 * saturation_pressure(dew_point_temperature) /
	       saturation_pressure(temperature);
}
