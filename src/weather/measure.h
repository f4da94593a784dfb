/*
 * What can be measured: one list that names, unit-tags and bounds every column
 * of a series. Readers fill the first group from documents; src/advice/derive
 * fills the second from the first; the third are the keeper's own facts over
 * the same time axis (turf state, records, hours).
 */
#ifndef WEATHER_MEASURE_H
#define WEATHER_MEASURE_H

#include "physics/units.h"

enum measure {
	/* from a forecast document */
	MEASURE_AIR_TEMPERATURE, /* degC at 2 m */
	MEASURE_DEW_POINT,       /* degC */
	MEASURE_HUMIDITY,        /* % */
	MEASURE_WIND,            /* m/s, at 10 m */
	MEASURE_GUST,            /* m/s, at 10 m */
	MEASURE_WIND_DIRECTION,  /* degrees the wind comes from */
	MEASURE_CLOUD,           /* % of sky */
	MEASURE_RAIN,            /* mm in this step: its share of the block */
	MEASURE_RAIN_BLOCK,      /* mm in the whole block the step lies in */
	MEASURE_RAIN_BLOCK_SPAN, /* s, length of that block */
	MEASURE_RAIN_CHANCE,     /* % for the block the step lies in */
	MEASURE_SOIL,       /* degC at about 10 cm; a model fills it, too */
	MEASURE_ALERT_WIND, /* 1 while an official alert of that kind holds or
			       will hold, as far as it has been issued; else 0
			     */
	MEASURE_ALERT_FREEZE,
	MEASURE_ALERT_HEAT,
	MEASURE_ALERT_FLOOD,
	MEASURE_ALERT_SMOKE, /* smoke, bad air, dust and the danger of fire */
	/* derived */
	MEASURE_WET,           /* 1 possibly wet, 0 dry */
	MEASURE_WET_BULB,      /* degC */
	MEASURE_DELTA_T,       /* K */
	MEASURE_WIND_2M,       /* m/s at 2 m over grass */
	MEASURE_LEAF_WET,      /* 1 wet by rain or dew, 0 dry */
	MEASURE_FREEZE,        /* 1 at 0 degC or below, else 0 */
	MEASURE_SUN_HEIGHT,    /* degrees */
	MEASURE_STABILITY,     /* class of the air: 1 (A, unstable) to 7 (G) */
	MEASURE_INVERSION,     /* 1 when one has to be expected, else 0 */
	MEASURE_DEGREE_DAYS,   /* K d since the start of the season */
	MEASURE_SINCE_SUNRISE, /* s since that local day's; negative before */
	MEASURE_UNTIL_SUNSET,  /* s until that local day's; negative after */
	MEASURE_DRIFT, /* 1 when the wind blows towards a side of the site
			  that has to be spared, else 0 */
	/* the keeper's facts */
	MEASURE_DORMANT,  /* 1 while the turf is dormant, else 0 */
	MEASURE_GREEN_UP, /* 1 during green-up */
	MEASURE_GREEN,    /* 1 while fully green */
	MEASURE_HOURS,    /* 1 inside the preferred hours */
	/* s since the last, and until the next, that the keeper told of */
	MEASURE_SINCE_MOWING,
	MEASURE_SINCE_SEEDING,
	MEASURE_SINCE_SODDING,
	MEASURE_SINCE_OVERSEEDING,
	MEASURE_SINCE_AERATING,
	MEASURE_UNTIL_MOWING,
	MEASURE_UNTIL_SEEDING,
	MEASURE_UNTIL_OVERSEEDING,
	MEASURE_UNTIL_AERATING,
	MEASURE_UNTIL_IRRIGATION,
	MEASURE_MOWINGS, /* since the last seeding */
	/* of one product on the site, so of one rule */
	MEASURE_DAYS_SINCE,    /* days since it was last applied */
	MEASURE_DAYS_WAITED,   /* the same while a second one is due, else 0 */
	MEASURE_SEASON_COUNT,  /* applications of the year, with this one */
	MEASURE_SEASON_AMOUNT, /* its amount of the year per area: g or L/m2 */
	MEASURE_SEASON_ACTIVE, /* an active's, over all products: g/m2 */
	MEASURE_DATES,         /* 1 inside the dates of the card, else 0 */
	MEASURES
};

struct measure_info {
	const char *key;   /* "air-temperature": JSON, configuration, columns */
	const char *label; /* "air temperature": sentences */
	enum quantity_kind kind;
	double least, most; /* plausible values; outside is a bad report and
			       becomes NaN. Both NaN: anything goes */
};

/* Never NULL for a value below MEASURES. */
const struct measure_info *measure_info(enum measure measure);

/* MEASURES when there is none of that key. */
enum measure measure_find(const char *key);

#endif
