/* Whether leaves are wet with dew, from the weather over them. */
#ifndef PHYSICS_LEAF_WETNESS_H
#define PHYSICS_LEAF_WETNESS_H

#define LEAF_WETNESS_HEIGHT 0.3 /* m: where the model wants its wind */

/*
 * 1 wet, 0 dry, NaN when an input that the answer hangs on is NaN. Air
 * temperature in degC, dew point depression (air less dew point) in K,
 * humidity in percent, wind in m/s at LEAF_WETNESS_HEIGHT: a forecast for 10 m
 * must come through wind_at_height first.
 *
 * The CART/SLD model of Gleason et al. 1994 as Kim et al. 2002 (Plant Disease
 * 86:179) use it. It knows of dew and not of rain: rain is the caller's.
 *
 * - A depression of 3.7 K or more is dry, whatever the rest.
 * - Wind of 2.5 m/s or more with a humidity below 87.8 % is dry, whatever the
 *   rest.
 * - Any other case has a formula with the root of the temperature, so below
 *   0 degC the answer is NaN. The model was checked in the months May to
 *   September; what lies on leaves in frost is not its question.
 *
 * A negative wind is NaN as well.
 */
double leaf_wet(double temperature, double dew_point_depression,
    double humidity, double wind);

#endif
