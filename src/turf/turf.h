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

/* What the keeper saw, did or plans on a site. */
enum event_kind {
	EVENT_GREEN,      /* amount: % of the turf that is green */
	EVENT_SOIL,       /* amount: degC of the soil, about 10 cm down */
	EVENT_RAIN,       /* amount: mm */
	EVENT_IRRIGATION, /* amount: mm */
	EVENT_MOWING,
	EVENT_SEEDING,
	EVENT_SODDING,
	EVENT_OVERSEEDING,
	EVENT_AERATING,
	EVENT_KINDS
};

struct turf_event {
	enum event_kind kind;
	int64_t from, to; /* UTC; a whole local day, or a moment */
	double amount;    /* NaN where the kind has none */
	int64_t told;     /* when it was entered: a plan when before `from` */
};

/* "green", "soil", "rain", "irrigation", "mowing", "seeding", "sodding",
   "overseeding", "aerating". */
const char *event_word(enum event_kind kind);

/* Warm-season turf; bits of struct product's species. */
enum turf_species {
	TURF_UNSAID,
	TURF_BERMUDA,
	TURF_ZOYSIA,
	TURF_CENTIPEDE,
	TURF_ST_AUGUSTINE,
	TURF_SPECIES_END
};

/* The word of the setting; "" for UNSAID. */
const char *species_word(enum turf_species species);

/* Spray quality, finest first: the words of ASABE S572. */
enum droplets {
	DROPLETS_UNSAID,
	DROPLETS_EXTREMELY_FINE,
	DROPLETS_VERY_FINE,
	DROPLETS_FINE,
	DROPLETS_MEDIUM,
	DROPLETS_COARSE,
	DROPLETS_VERY_COARSE,
	DROPLETS_EXTREMELY_COARSE,
	DROPLETS_ULTRA_COARSE
};

/* A side of a site where no drift may go. */
struct sensitive_side {
	double bearing; /* degrees from the site, 0 north, 90 east */
	const char *what;
};

struct sprayer {
	const char *name;
	double tank;            /* L */
	double carrier;         /* L/m2 it puts down */
	double pace;            /* m2/s */
	double fill;            /* s to mix and fill one tank */
	enum droplets droplets; /* of its nozzle at its pressure */
	double release_height;  /* m, of the nozzle over the ground; NaN: not
				   said */
	double swath;           /* m that one walk covers; NaN: not said */
	/* the civil day on which carrier was caught; INT64_MIN: not said */
	int64_t calibrated;
	double calibration_holds; /* s that a calibration is trusted */
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
	double yearly_mean; /* degC of the air; NaN: not told */
	double degree_base; /* degC from which degree days count */
	enum turf_species species;
	struct sensitive_side *side;
	size_t side_count;
	struct clock_span *hours; /* preferred; none means any */
	size_t hours_count;
	const char *client;  /* whose it is, for the record; "" */
	const char *address; /* where it is, for the record; "" */
};

struct active {
	const char *name;
	double content; /* g in 1 g or, for a liquid, in 1 L of the product */
	bool is_liquid; /* it is in 1 L */
};

/* "Water in": so much rain or irrigation is wanted after an application. */
struct water_wanted {
	double amount;     /* mm; 0: none */
	double within;     /* s after the application */
	double not_before; /* s after it in which there may be none; 0 */
};

enum adjuvant_need { ADJUVANT_UNSAID, ADJUVANT_REQUIRED, ADJUVANT_FORBIDDEN };

/* When a product goes into the tank, first to last; the words of a card's
   mix-order, and what its formulation code stands for (turf/mix_order.h). */
enum mix_step {
	MIX_UNSAID,
	MIX_FIRST,
	MIX_PACKET,
	MIX_DRY,
	MIX_CONDITIONER,
	MIX_DISPERSED,
	MIX_DRIFT_RETARDANT,
	MIX_SOLUTION,
	MIX_ADJUVANT,
	MIX_DYE,
	MIX_FERTILIZER,
	MIX_DEFOAMER,
	MIX_LAST,
	MIX_STEPS
};

enum product_kind { PRODUCT_HERBICIDE, PRODUCT_ADJUVANT, PRODUCT_OTHER };

/* From the first day to the last of each year, which may lie before it. */
struct date_span {
	int from_month, from_day, to_month, to_day;
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
	enum product_kind kind;
	struct active *active;
	size_t active_count;
	const char **group; /* resistance groups, as on the label */
	size_t group_count;
	unsigned species;      /* bits (1U << enum turf_species); 0: not said */
	const char **not_with; /* products, actives or formulation codes */
	size_t not_with_count;
	enum adjuvant_need adjuvant;
	enum droplets droplets_least;       /* UNSAID: not said */
	double rate_least, rate_most;       /* of rate_kind; 0: not said */
	double carrier_least, carrier_most; /* L/m2; 0: not said */
	struct water_wanted water;
	struct date_span *date; /* of the year in which it may be applied */
	size_t date_count;
	const char **note; /* what else the label says, in its own words */
	size_t note_count;
	const char **missing; /* essentials on which the card is silent */
	size_t missing_count;
	const char *registration; /* number of the official register; "" */
	const char **control;     /* weeds that it controls */
	size_t control_count;
	double effect;          /* s until the effect shows; 0: not said */
	double scoop;           /* g that one level scoop holds; 0: none */
	enum mix_step mix_step; /* the label's ruling on the order */
	double stock;           /* g/L of a stock solution; 0: not said */
	double stock_keeps;     /* s that one keeps; 0: not said */
};

/* What was left in a package when somebody looked. */
struct weighing {
	int64_t day;   /* civil day; it holds from the end of that day on */
	double amount; /* g or L */
};

/* What stands on the keeper's bench to measure with. */
struct bench {
	double scale;        /* g, the finest step of the scale; 0: none */
	double cylinder;     /* L, the finest mark for liquids; 0: none */
	const double *spoon; /* L, descending; for liquids only */
	size_t spoon_count;
};

/* A package on the keeper's shelf. */
struct package {
	const char *name;
	const struct product *product;
	double size;    /* g or L that it held, new */
	bool is_mass;   /* g, else L */
	int64_t opened; /* civil day; INT64_MAX: not opened */
	/* the last civil day on which it is good; INT64_MAX: not said */
	int64_t expires;
	double price;          /* of the whole; NaN: not said */
	struct weighing *left; /* ascending by day */
	size_t left_count;
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
	/* as it sprays today: that of the site, with its last calibration */
	const struct sprayer *sprayer;
	struct tank_mix tank;
	double area;    /* m2 */
	int64_t after;  /* not to start before, UTC; INT64_MIN: any time */
	int64_t before; /* to be over by, UTC; INT64_MAX: any time */
	int priority;   /* 1 first ... 9 last */
	double repeat;  /* s until it is queued again once done; 0: never */
	const char *note;
};

/* One application of one product, as the rules of a season see it. */
struct application {
	const char *site;
	const char *product;
	int64_t at;    /* UTC */
	double area;   /* m2; NaN: not known */
	double amount; /* g or L over that area; NaN: not known */
	bool is_mass;  /* g, else L */
};

/* Seconds a job takes: fills and walking, rounded up to 5 minutes. */
int64_t job_duration(const struct job *job);

/* g or L on 1 m2; a rate in the mix depends on the sprayer. NaN without a rate.
 */
double dose_on_ground(const struct dose *dose, const struct sprayer *sprayer);

/* "post-a + surfactant-n". */
char *tank_print(char *buffer, size_t size, const struct tank_mix *tank);

/* Letter case does not count; NULL when the card does not name it. */
const struct active *product_find_active(
    const struct product *product, const char *name);

/*
 * g of an active in so much of a product, which may be an amount per area. 0
 * when its card names other actives only; NaN when it is a herbicide that names
 * none, or its content is told in the other kind.
 */
double product_active(const struct product *product, const char *name,
    double amount, bool is_mass);

/*
 * The last application of the product on the site before `time`; INT64_MIN
 * when there is none.
 */
int64_t application_last(const struct application *applications, size_t count,
    const char *site, const char *product, int64_t time);

#endif
