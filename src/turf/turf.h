/*
 * The trade's nouns: what a keeper has, wants and did. Plain structs; strings
 * are owned by whoever filled the struct (the configuration, or a row of the
 * store) and live as long as it does. Quantities are in canonical units
 * (physics/units.h).
 */
#ifndef TURF_TURF_H
#define TURF_TURF_H

#include "base/civil.h"
#include "base/limits.h"
#include "physics/units.h"
#include "turf/rule.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum turf_state { TURF_DORMANT, TURF_GREEN_UP, TURF_GREEN, TURF_STATES };

/* What the keeper saw, from the local midnight of a day on. */
struct turf_told {
	int64_t from; /* UTC */
	enum turf_state state;
};

/* A stretch of the local day; a span over midnight is two of them. */
struct clock_span {
	int from, to; /* seconds after midnight, from < to <= 86400 */
};

struct sprayer {
	const char *name;
	double tank;    /* L */
	double carrier; /* L/m2 it puts down */
	double pace;    /* m2/s */
	double fill;    /* s to mix and fill one tank */
};

/* One place that a forecast comes from. */
struct forecast_source {
	const char *format;  /* name of its format (weather/format.h) */
	const char *address; /* whole, of this site */
};

/* What the keeper's thermometer said in the soil, about 10 cm down. */
struct soil_reading {
	int64_t at;         /* the local midnight that begins its day, UTC */
	double temperature; /* degC */
};

struct site {
	const char *name;
	double latitude, longitude; /* degrees, north and east positive */
	struct zone zone;
	double area; /* m2 */
	const struct sprayer *sprayer;
	struct forecast_source *source; /* the first is asked first */
	size_t source_count;
	double rain_chance;     /* %: this chance or more counts as rain */
	struct turf_told *told; /* ascending by `from` */
	size_t told_count;
	double told_holds;         /* s for which one telling is trusted */
	struct soil_reading *soil; /* ascending by `at` */
	size_t soil_count;
	double yearly_mean;       /* degC of the air; NaN: not told */
	double degree_base;       /* degC from which degree days count */
	struct clock_span *hours; /* preferred; none means any */
	size_t hours_count;
};

struct product {
	const char *name;
	const char *label;       /* where the card was typed from */
	const char *formulation; /* trade code: WG, SC, SL, EC ...; "" */
	double rate;             /* 0: none given */
	enum quantity_kind rate_kind;
	double keep_off;    /* s people and pets stay off; 0: not said */
	double retreatment; /* days between applications; 0: not said */
	struct rule *rules; /* as the card expands */
	size_t rule_count;
	const char **overrides; /* practice rules that this label replaces */
	size_t override_count;
};

struct dose {
	const struct product *product;
	double rate;
	enum quantity_kind rate_kind;
};

/* What goes into one tank together. */
struct tank_mix {
	struct dose dose[LIMIT_TANK_PRODUCTS];
	size_t count;
};

struct job {
	int64_t id;
	const char *uid; /* stable name for calendars */
	const struct site *site;
	struct tank_mix tank;
	double area;    /* m2 */
	int64_t after;  /* not to start before, UTC; INT64_MIN: any time */
	int64_t before; /* to be over by, UTC; INT64_MAX: any time */
	int priority;   /* 1 first ... 9 last */
	double repeat;  /* s until it is queued again once done; 0: never */
	const char *note;
};

/* One application of one product, as the re-treatment rules see it. */
struct application {
	const char *site;
	const char *product;
	int64_t at; /* UTC */
};

/* Seconds a job takes: fills and walking, rounded up to 5 minutes. */
int64_t job_duration(const struct job *job);

/* "post-a + surfactant-n". */
char *tank_print(char *buffer, size_t size, const struct tank_mix *tank);

/*
 * The last application of the product on the site before `time`; INT64_MIN
 * when there is none.
 */
int64_t application_last(const struct application *applications, size_t count,
    const char *site, const char *product, int64_t time);

#endif
