/*
 * Where the temperature of the soil stands between the marks at which weeds
 * germinate and turf wakes. It tells and decides nothing: a card that wants a
 * mark writes it as a limit on the mean of the soil.
 */
#ifndef ADVICE_TURF_TIMING_H
#define ADVICE_TURF_TIMING_H

#include "advice/turf_state.h"

struct turf_mark {
	struct turf_passing passing; /* of the mean over 5 days: our choice */
	const char *what;
};

/*
 * Of soil at 10 cm. Rising: 55 degF, before which pre-emergents for summer
 * annual grasses belong (UGA Extension, Ben Hill 2019 and Colquitt 2025, read;
 * crabgrass at 53 to 58 degF, University of Georgia list, read); 60 degF,
 * goosegrass and spurge (the same list); 65 degF, growth of warm-season turf
 * (turf_state.h). Falling: 70 degF, annual bluegrass (UGA bulletin 1394, read);
 * 50 degF, dormancy (turf_state.h).
 */
enum { TURF_MARKS = 5 };
extern const struct turf_mark turf_marks[TURF_MARKS];

enum soil_trend { SOIL_UNKNOWN, SOIL_FALLING, SOIL_STEADY, SOIL_RISING };

struct turf_timing {
	double mean;           /* degC over the 5 days up to that day; NaN */
	enum soil_trend trend; /* against the day before */
	const struct turf_mark *mark; /* NULL: none is ahead */
	bool passes;                  /* on a day that is known */
	int64_t day;                  /* that day; else the first that is not */
};

/*
 * The mark that is passed first after `day`. When none is on the days that are
 * known, the next one in the direction that the soil goes.
 */
struct turf_timing turf_timing(const struct turf_lawn *lawn, int64_t day);

#endif
