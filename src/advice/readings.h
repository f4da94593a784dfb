/*
 * The last look on site: what the keeper measured with instruments in the hand
 * stands in for the forecast while the job lasts. The time after the job stays
 * the forecast's. Judged as everything else is; this only lays the values out.
 */
#ifndef ADVICE_READINGS_H
#define ADVICE_READINGS_H

#include "advice/judge.h"
#include "turf/turf.h"

/* NaN: not measured. */
struct readings {
	double wind, gust; /* m/s, where the spray goes; taken as they are */
	double direction;  /* degrees the wind comes from */
	double air;        /* degC */
	double humidity;   /* % */
	double green;      /* % of the turf */
	double leaf_wet;   /* 1 wet leaves, 0 dry ones */
};

/*
 * Lays the readings over the cells of a job that starts at cell `start` and
 * lasts `duration` seconds, in a series that is derived already, with what
 * follows from them: freezing from the air; dew point, wet bulb and delta T
 * from air and humidity when both were measured; whether the wind blows towards
 * a side (advice/drift.h); the turf's state from the green part
 * (advice/turf_state.h). Wind counts as measured for every height. A column
 * that runs from cell to cell has the reading at the end of the job, too. How
 * wet the leaves are counts for the time before the job as well.
 */
void readings_overlay(const struct readings *readings, const struct site *site,
    size_t start, int64_t duration, struct series *series);

/*
 * The checks of a last look, an array for free(): those given, where the rule
 * "dry-leaf", which goes by rain, goes by the leaves when those were looked at,
 * and a floor that was raised to the wind at 10 m is that of the card for a
 * wind measured at the nozzle; and for each ceiling on the wind during the job
 * one more on a measured gust. `series` is the one with the readings.
 */
struct check *readings_checks(const struct readings *readings,
    const struct series *series, const struct check *checks, size_t count,
    size_t *ret_count);

enum readings_share { READINGS_NONE, READINGS_PART, READINGS_ALL };

/* How much of the values that a check asks for at that start was measured. */
enum readings_share readings_share(const struct readings *readings,
    const struct outlook *outlook, const struct check *check, size_t start,
    int64_t duration);

/* The options that would measure it, "--air T --humidity H"; NULL when no
   reading can. */
const char *readings_options(enum measure measure);

#endif
