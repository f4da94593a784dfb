/*
 * Moist air. Doubles in, doubles out; NaN in gives NaN out. Temperatures are
 * degC, relative humidity is percent, pressures are kPa.
 */
#ifndef PHYSICS_PSYCHROMETRICS_H
#define PHYSICS_PSYCHROMETRICS_H

/*
 * Saturation vapour pressure over water, kPa.
 * Source: Allen et al. 1998, FAO Irrigation and Drainage Paper 56, eq. 11.
 */
double saturation_pressure(double temperature);

/* Mean of the pressures at the day's maximum and minimum: FAO-56 eq. 12. */
double mean_saturation_pressure(double maximum, double minimum);

/* Standard atmosphere's pressure at an altitude in m: FAO-56 eq. 7. */
double standard_pressure(double altitude);

/* Psychrometric constant, kPa/K, at a pressure: FAO-56 eq. 8. */
double psychrometric_constant(double pressure);

/*
 * Vapour pressure from a ventilated psychrometer's two readings.
 * Source: FAO-56 eq. 15 and 16 with a coefficient of 0.000662 per K.
 */
double psychrometer_pressure(double dry_bulb, double wet_bulb, double pressure);

/*
 * Wet-bulb temperature by bisection of the psychrometer equation above, at a
 * pressure of 101.325 kPa. Good to 0.001 K. Humidity is clamped to 0..100 by
 * nobody: outside that range, and beyond 100 degC either way, the answer is
 * NaN.
 */
double wet_bulb(double temperature, double humidity);

/*
 * Dry bulb minus wet bulb, K: the evaporation measure of spray weather. Always
 * from the equation, never from the well-known short fit, which is biased near
 * saturation, just where the lower limit of 2 K lies.
 */
double delta_t(double temperature, double humidity);

/* Dew point from temperature and humidity: FAO-56 eq. 11 solved for T. */
double dew_point(double temperature, double humidity);

/* Relative humidity from temperature and dew point; over 100 where rounding
   put the dew point over the temperature. */
double relative_humidity(double temperature, double dew_point_temperature);

#endif
