/*
 * Temperature of the soil at 10 cm (4 inches) from that of the air. Any unit of
 * temperature, the same throughout; NaN in gives NaN out. Meant for what no
 * forecast of the soil itself is there for.
 */
#ifndef PHYSICS_SOIL_H
#define PHYSICS_SOIL_H

#include <stddef.h>

#define SOIL_DAYS 11

/*
 * The rule of the ecosystem model BIOME-BGC 4, without snow: the daily means of
 * the air, oldest first, with weights 1 to 11, then a fifth of the way from
 * there to the year's mean. A day's mean is that of its high and low. It knows
 * nothing of shade, water and thatch.
 *
 * The last step need not help: at one open station in Texas the whole rule was
 * 2.05 K off over a year, and 1.45 K without it (tests/unit/test_soil.c).
 */
double soil_temperature_model(
    const double daily_mean[SOIL_DAYS], double yearly_mean);

/*
 * What to add to the model, from readings of a probe. The differences are probe
 * less model, oldest first. The first is the bias, and each later one moves it
 * half way to itself: a choice of ours, no source. 0 when there are none.
 */
double soil_bias(const double *difference, size_t count);

#endif
