/*
 * The state of warm-season turf, one local day at a time: what the keeper saw
 * decides, and the temperature of the soil says how long that stands. The soil
 * alone never makes a state.
 *
 * A look is dormant up to 5 % green, green-up up to 90 %, green above. No
 * standard has such bands. That dormant means no green at all seen from above:
 * Oklahoma State University, Martin, "Is it too late to apply glyphosate",
 * read. That 90 % is fully green: newspaper column of an agent of UGA
 * Extension, May 2023, read. The 5 % is a choice of ours.
 *
 * The last look up to the end of a day is the one for that day. By it:
 *
 *   seen      ends early               carried beyond its time
 *   dormant   5-day mean at 55 degF    while the 7-day mean has been 50 degF or
 *             or more                  less on each day since the look
 *   green-up  never                    never
 *   green     7-day mean at 50 degF    while the 5-day mean has been over
 *             or less                  65 degF on each day since the look
 *
 *  - In its own time, site->told_holds, a look is believed until the soil ends
 *    it. The end is final: after a false spring somebody has to look again.
 *  - For TURF_LOOK_DAYS days, the first of them its own, a look is believed
 *    whatever the soil says: the keeper has seen the lawn and the program has
 *    not. A choice of ours; not longer than told_holds.
 *  - Carried: dormant for bermuda and zoysia alone. Centipede has no true
 *    dormancy (a lawn column that quotes UGA Extension, read), and St.
 *    Augustine often keeps some green in a mild winter (from memory). Green for
 *    each of the four. Without a species nothing is carried.
 *  - Everything else cannot be told. A day of soil that is not known makes the
 *    means over it unknown; such a mean neither ends a look nor carries it.
 *
 * Leaving dormancy and entering it have thresholds of their own, so that soil
 * between them changes nothing. Sources, all of the soil at 10 cm (4 in):
 *  - 50 degF: dormancy begins, leaves discolour; University of Georgia list for
 *    bermuda, zoysia, centipede and St. Augustine, read on a garden page.
 *  - 55 degF: the cautious end of 55 to 60 degF. A choice of ours.
 *  - 65 degF: warm-season turf grows from 65 to 75 degF, Virginia Cooperative
 *    Extension, read where it is quoted. Constantly over 65 degF for green-up:
 *    a Georgia lawn page that uses stations of UGA, read.
 *  - The means over 5 and 7 days: choices of ours, to let single days pass.
 * Frost on the leaves, drought, shade and wear are not in it.
 */
#ifndef ADVICE_TURF_STATE_H
#define ADVICE_TURF_STATE_H

#include "turf/turf.h"

enum { TURF_LOOK_DAYS = 3 };

#define TURF_FAHRENHEIT(degrees) (((degrees)-32.0) / 1.8)

/* One look, counted for the whole of its local day. */
struct turf_look {
	int64_t day; /* number of the civil day (base/civil.h) */
	enum turf_state state;
};

/* What is known of one lawn. Whoever fills it owns the arrays. */
struct turf_lawn {
	enum turf_species species;
	double told_holds;      /* s */
	struct turf_look *look; /* ascending by day, one a day at most */
	size_t look_count;
	int64_t first; /* day of soil[0] */
	double *soil;  /* daily means at 10 cm, degC; NaN unknown */
	size_t soil_count;
};

enum turf_why {
	TURF_UNSEEN,      /* no look at all */
	TURF_SEEN,        /* in the look's own time */
	TURF_STAYED_COLD, /* dormant, carried */
	TURF_STAYED_WARM, /* green, carried */
	TURF_WARMED,      /* a dormant look that the soil has ended */
	TURF_COOLED,      /* the same of a green one */
	TURF_TOO_OLD,     /* neither in its time nor carried */
};

struct turf_day {
	enum turf_state state; /* TURF_STATES: cannot be told */
	enum turf_why why;
	int64_t since; /* day of the look; the day that ended it when WARMED or
			  COOLED; 0 when UNSEEN */
};

enum turf_state turf_state_of_green(double percent);

struct turf_day turf_state_on(const struct turf_lawn *lawn, int64_t day);

/*
 * The first day after `day` on which the state is another or cannot be told;
 * for a day of unknown state the day itself. Goes no further than a look and
 * the known days of soil carry.
 */
int64_t turf_state_end(const struct turf_lawn *lawn, int64_t day);

enum turf_green_up {
	TURF_GREEN_UP_UNKNOWN,    /* not dormant, or no soil is known */
	TURF_GREEN_UP_ON,         /* the soil ends dormancy on that day */
	TURF_GREEN_UP_NOT_BEFORE, /* of that day and later nothing is known */
};

/*
 * When green-up may begin, of turf that is dormant on `day`. A product for
 * dormant turf fits until *ret_day begins or until turf_state_end, whichever is
 * first: the look may grow too old before.
 */
enum turf_green_up turf_green_up(
    const struct turf_lawn *lawn, int64_t day, int64_t *ret_day);

/*
 * "seen Tue 3 Mar"; "soil not over 50 °F since the look of Tue 3 Mar"; "cannot
 * tell: look at the lawn (soil at 55 °F or more on Thu 12 Mar)".
 * TURF_WHY_BUFFER bytes are enough.
 */
char *turf_why_print(char *buffer, size_t size, const struct turf_day *day,
    const struct zone *zone, enum unit_system units);

enum { TURF_WHY_BUFFER = 128 };

/* Mean of the soil over the `days` days up to `last`, that day counted; NaN
   when one of them is not known. */
double turf_soil_mean(const struct turf_lawn *lawn, int64_t last, int days);

/*
 * The first day after `day` on which the mean of the soil over `days` days
 * passes `limit`: rises to it or over it, or falls below it. False when it does
 * not on the days that are known; then *ret_day is the first that is not.
 */
struct turf_passing {
	double limit; /* degC */
	int days;
	bool rising;
};
bool turf_passes(const struct turf_lawn *lawn,
    const struct turf_passing *passing, int64_t day, int64_t *ret_day);

#endif
