/* A lawn with its soil day by day, for the tests of the turf's state. */
#ifndef TESTS_UNIT_LAWN_H
#define TESTS_UNIT_LAWN_H

#include "unit/test.h"

#include "advice/turf_state.h"

enum { LAWN_DAYS = 400, LAWN_LOOKS = 8 };

/* The days are 0, 1 ...; the arrays are the lawn's. */
struct plot {
	struct turf_lawn lawn;
	struct turf_look look[LAWN_LOOKS];
	double soil[LAWN_DAYS];
};

/* Soil of `fahrenheit` on each of `days` days; a look is trusted for 21 d. */
static inline void
plot_init(struct plot *plot, enum turf_species species, size_t days,
    double fahrenheit)
{
	assert_true(days <= LAWN_DAYS);
	*plot = (struct plot){ .lawn = { .species = species,
				   .told_holds = 21.0 * DAY_SECONDS,
				   .look = plot->look,
				   .soil = plot->soil,
				   .soil_count = days } };
	for (size_t i = 0; i < days; i++)
		plot->soil[i] = TURF_FAHRENHEIT(fahrenheit);
}

/* That soil from one day up to another, that one not counted. */
static inline void
put_soil(struct plot *plot, int from, int to, double fahrenheit)
{
	for (int i = from; i < to; i++)
		plot->soil[i] = TURF_FAHRENHEIT(fahrenheit);
}

static inline void
add_look(struct plot *plot, int64_t day, enum turf_state state)
{
	assert_true(plot->lawn.look_count < LAWN_LOOKS);
	plot->look[plot->lawn.look_count++] = (struct turf_look){ day, state };
}

/* The state from one day up to another, that one not counted. */
static inline void
check_states(const struct plot *plot, int from, int to, enum turf_state state,
    enum turf_why why)
{
	for (int day = from; day < to; day++) {
		struct turf_day one = turf_state_on(&plot->lawn, day);
		if (one.state != state || one.why != why)
			fail_msg("day %d: state %d, why %d; wanted %d, %d", day,
			    one.state, one.why, state, why);
	}
}

#endif
