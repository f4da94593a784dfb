/*
 * Wind at another height. Doubles in, doubles out; same unit of speed in and
 * out, heights in m; NaN in gives NaN out. Both formulas stand for neutral air
 * over open short grass: on a still, clear night and between houses the true
 * wind near the ground is less than they say.
 */
#ifndef PHYSICS_WIND_H
#define PHYSICS_WIND_H

/*
 * Wind at 2 m from wind at a height over short grass. The height must be over
 * 0.0947 m, else NaN.
 * Source: Allen et al. 1998, FAO Irrigation and Drainage Paper 56, eq. 47.
 */
double wind_at_2m(double wind, double height);

/*
 * Wind at height `to` from wind at height `from`: the logarithmic profile that
 * the equation above comes from, over the same grass of 0.12 m, with its zero
 * at d = 2/3 h = 0.08 m and its roughness z0 = 0.123 h. Both heights must be
 * over d + z0 = 0.0948 m, else NaN.
 */
double wind_at_height(double wind, double from, double to);

#endif
