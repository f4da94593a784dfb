/* Columns that follow from what is there: written once, here. */
#ifndef ADVICE_DERIVE_H
#define ADVICE_DERIVE_H

#include "turf/turf.h"
#include "weather/daily.h"
#include "weather/series.h"

/*
 * A block of rain of this much or more is wet: 0.01 in, the amount in the US
 * definition of the chance of precipitation (AMS Glossary of Meteorology).
 */
#define DERIVE_WET_MM 0.25

/* What is known of a site beside its forecast and its configuration. */
struct site_facts {
	/* History and forecast together, ascending, the soil not corrected. */
	const struct daily *days;
	size_t day_count;
	const struct turf_event *event; /* ascending by from */
	size_t event_count;
	int64_t now; /* nobody has seen what comes later; 0: not said */
};

/*
 * Adds to the series, over the cells it has and once in its life:
 *  - humidity from dew point or dew point from humidity, as a whole column,
 *    when exactly one of the two is there;
 *  - wet bulb from air temperature and humidity (physics/psychrometrics.h), and
 *    delta T as the air less the wet bulb; what follows from two continuous
 *    columns is continuous;
 *  - wet: 1 when the step's block amount is DERIVE_WET_MM or more or its chance
 *    is the site's limit or more; a part that is missing is left to the other,
 *    both missing is unknown;
 *  - the sun's height at the start of each cell, continuous;
 *  - wind at 2 m over grass from that at 10 m (physics/wind.h);
 *  - freeze: 1 when the air is at 0 degC or below, which is freezing by
 *    definition; the grass can be colder than the air at 2 m;
 *  - the stability class (physics/stability.h);
 *  - leaf wetness, as below;
 *  - inversion, as below;
 *  - soil temperature, as below;
 *  - degree days over the site's base (degree_days_sine), summed over the local
 *    days from 1 January, south of the equator from 1 July, to the day before;
 *    held over each local day, unknown when a day is missing. Start of the
 *    season: common practice, no source;
 *  - alerts: 0 in the columns that are not there when the site has no source of
 *    alerts. Nobody was asked, and a rule about them must not hold up every
 *    job. With such a source they stay as they are, and absent is unknown;
 *  - the time since sunrise and until sunset (advice/daylight.h), and drift
 *    (advice/drift.h);
 *  - the turf's state (advice/turf_state.h), after the soil temperature;
 *  - preferred hours: 1 where the whole cell lies in one of the site's;
 *  - since, until and mowings, as below.
 *
 * Leaf wetness is 1 when the step is wet as above, or when the dew model
 * (physics/leaf_wetness.h) says so, with the wind brought from 10 m to its
 * height. The model is asked from 20:00 to 09:00 of the local clock, the hours
 * that Kim et al. 2002 (Plant Disease 86:179) leave to it; at other times there
 * is no dew, and the rain alone counts. A part that says wet decides; else
 * unknown when a part is. How long a leaf takes to dry is not in it: not after
 * rain, and not after 09:00 in the shade.
 *
 * Inversion is 1 when a surface temperature inversion has to be expected: each
 * evening from 2 h before sunset to 2 h after sunrise, unless for the whole
 * time from sunset to sunrise
 *  - the sky is overcast: 8 oktas, which is 93.75 % or more; or
 *  - it rains: every cell has its share of DERIVE_WET_MM in the hour or more,
 *    as near as a forecast comes to "continuous"; or
 *  - the wind, as forecast for 10 m, is over 11 km/h.
 * Sources: APVMA (Australia), definitions for spray drift, from memory: one to
 * two hours at each end, and the exceptions; GRDC, Spray Application Manual,
 * 10.8, January 2025, read: from 1 to 2 h before sunset to about 1 h after
 * sunrise. Of both the outer ends are taken. The fourth exception of the APVMA,
 * cumulus clouds that form after a clear night, is for the keeper's eye.
 * One known cell that breaks an exception ends it for that night. When an
 * exception can hold only if the gaps allow it, the night with its hours before
 * and after is unknown. What of a night lies outside of the series is a gap.
 * By day it is 0. Where the sun does not set there is no evening, and it is 0;
 * where it does not rise, all is one long night.
 *
 * Soil temperature stays where a source gave any of it. Else it is the model's
 * (physics/soil.h) for each local day, from the daily means of that day and the
 * ten before it, held over the day: unknown when one of them or the site's
 * yearly mean is. Then the bias that the keeper's readings show (soil_bias) is
 * added to every cell: reading less uncorrected value of the same day, which is
 * days[].soil for a source and the model's for the model. Readings come from
 * the site and from EVENT_SOIL, one a day: the one that was told last, and an
 * event before the site's. The error of one says nothing about the other.
 * Readings from more than 60 days before the series do not count: a choice of
 * ours. Days that a source no longer holds are those that were kept of it.
 *
 * Since and until, of what facts->event tells, are held over each cell and are
 * the least in it: since at its start, until at its end, 0 in a cell that the
 * event touches. An event of a whole day is somewhere within it, so it is over
 * when the day is and begins when the day does. What was never told of is
 * unknown for since and +infinity for until: a lawn has a past that nobody
 * told, but a plan that nobody told is none. A plan whose time has come counts
 * as done here, for a hold must not end because nobody confirmed it.
 *
 * Mowings are the days on which the turf was mown between the last seeding or
 * sodding and the cell, unknown before there was one. Here a plan counts for
 * the seeding and not for the mowing: the careful side of each.
 *
 * `facts` is NULL when nothing but the series is known.
 */
void derive(struct series *series, const struct site *site,
    const struct site_facts *facts);

#endif
