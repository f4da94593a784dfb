#include "config/card_table.h"

#include "physics/sun.h"

#include <string.h>

#define DURING                                                                 \
	{                                                                      \
		{ ANCHOR_START, 0 },                                           \
		{                                                              \
			ANCHOR_END, 0                                          \
		}                                                              \
	}
#define AFTER                                                                  \
	{                                                                      \
		{ ANCHOR_END, 0 },                                             \
		{                                                              \
			ANCHOR_END, 0                                          \
		}                                                              \
	}
#define THAT_DAY                                                               \
	{                                                                      \
		{ ANCHOR_MIDNIGHT, 0 },                                        \
		{                                                              \
			ANCHOR_MIDNIGHT, 1                                     \
		}                                                              \
	}
#define DAY_BEFORE                                                             \
	{                                                                      \
		{ ANCHOR_START, -86400 },                                      \
		{                                                              \
			ANCHOR_START, 0                                        \
		}                                                              \
	}

/* A floor under the lowest, or a ceiling over the highest, during the job. */
#define LEAST(name, shape, measure, flags)                                     \
	{                                                                      \
		(name), (shape), (measure), FOLD_MIN, DURING, BOUND_AT_LEAST,  \
		    (flags), 0                                                 \
	}
#define MOST(name, shape, measure, flags)                                      \
	{                                                                      \
		(name), (shape), (measure), FOLD_MAX, DURING, BOUND_AT_MOST,   \
		    (flags), 0                                                 \
	}
/* What is yes or no, and may not be. */
#define NONE(name, shape, measure, flags)                                      \
	{                                                                      \
		(name), (shape), (measure), FOLD_ANY, DURING, BOUND_AT_MOST,   \
		    (flags), 0                                                 \
	}

/* An inch in a day, in mm: a stand-in of ours for soil that is full. */
#define SATURATING_RAIN 25.4

static const struct short_rule short_rules[] = {
	MOST("temperature-ceiling", SHAPE_LIMIT, MEASURE_AIR_TEMPERATURE,
	    CARD_PRACTICE | CARD_MAY_BE_NONE),
	LEAST("temperature-floor", SHAPE_LIMIT, MEASURE_AIR_TEMPERATURE,
	    CARD_PRACTICE | CARD_MAY_BE_NONE),
	{ "day-high", SHAPE_LIMIT, MEASURE_AIR_TEMPERATURE, FOLD_MAX, THAT_DAY,
	    BOUND_AT_MOST, CARD_PRACTICE | CARD_EITHER_WAY, 0 },
	NONE("rain-free", SHAPE_AFTER, MEASURE_WET,
	    CARD_PRACTICE | CARD_MAY_BE_NONE),
	{ "dry-leaf", SHAPE_BEFORE, MEASURE_WET, FOLD_ANY, DAY_BEFORE,
	    BOUND_AT_MOST, CARD_PRACTICE, 0 },
	NONE("no-dew", SHAPE_YES, MEASURE_LEAF_WET, CARD_PRACTICE),
	{ "runoff-rain", SHAPE_WITHIN, MEASURE_RAIN, FOLD_SUM, AFTER,
	    BOUND_AT_MOST, CARD_PRACTICE, 0 },
	{ "not-saturated", SHAPE_YES, MEASURE_RAIN, FOLD_SUM, DAY_BEFORE,
	    BOUND_AT_MOST, CARD_PRACTICE, SATURATING_RAIN },
	{ "not-frozen", SHAPE_YES, MEASURE_SOIL, FOLD_MIN, DURING, BOUND_ABOVE,
	    CARD_PRACTICE, 0 },
	NONE("no-frost", SHAPE_AFTER, MEASURE_FREEZE, CARD_PRACTICE),
	LEAST("wind-minimum", SHAPE_LIMIT, MEASURE_WIND, CARD_PRACTICE),
	MOST("wind-maximum", SHAPE_LIMIT, MEASURE_WIND, CARD_PRACTICE),
	MOST("gust-maximum", SHAPE_LIMIT, MEASURE_GUST, CARD_PRACTICE),
	NONE("no-drift", SHAPE_YES, MEASURE_DRIFT, CARD_PRACTICE),
	LEAST("humidity-minimum", SHAPE_LIMIT, MEASURE_HUMIDITY, CARD_PRACTICE),
	MOST("humidity-maximum", SHAPE_LIMIT, MEASURE_HUMIDITY, CARD_PRACTICE),
	LEAST("delta-t-minimum", SHAPE_LIMIT, MEASURE_DELTA_T, CARD_PRACTICE),
	MOST("delta-t-maximum", SHAPE_LIMIT, MEASURE_DELTA_T, CARD_PRACTICE),
	{ "daylight", SHAPE_YES, MEASURE_SUN_HEIGHT, FOLD_MIN, DURING,
	    BOUND_AT_LEAST, CARD_PRACTICE, SUN_HEIGHT_HORIZON },
	LEAST(
	    "after-sunrise", SHAPE_SPAN, MEASURE_SINCE_SUNRISE, CARD_PRACTICE),
	LEAST("before-sunset", SHAPE_SPAN, MEASURE_UNTIL_SUNSET, CARD_PRACTICE),
	NONE("no-inversion", SHAPE_YES, MEASURE_INVERSION, CARD_PRACTICE),
	NONE("no-alert", SHAPE_NO_ALERT, MEASURE_ALERT_WIND, CARD_PRACTICE),
	LEAST("soil-minimum", SHAPE_LIMIT, MEASURE_SOIL, CARD_PRACTICE),
	MOST("soil-maximum", SHAPE_LIMIT, MEASURE_SOIL, CARD_PRACTICE),
	LEAST("degree-days-minimum", SHAPE_LIMIT, MEASURE_DEGREE_DAYS,
	    CARD_PRACTICE),
	MOST("degree-days-maximum", SHAPE_LIMIT, MEASURE_DEGREE_DAYS,
	    CARD_PRACTICE),
	/* the turf, what is done to it, and the year: a label's alone */
	NONE("turf", SHAPE_STATES, MEASURE_DORMANT, 0),
	{ "dates", SHAPE_DATES, MEASURE_DATES, FOLD_MIN, DURING, BOUND_AT_LEAST,
	    0, 1 },
	LEAST("since-mowing", SHAPE_SPAN, MEASURE_SINCE_MOWING, 0),
	LEAST("since-seeding", SHAPE_SPAN, MEASURE_SINCE_SEEDING, 0),
	LEAST("since-sodding", SHAPE_SPAN, MEASURE_SINCE_SODDING, 0),
	LEAST("since-overseeding", SHAPE_SPAN, MEASURE_SINCE_OVERSEEDING, 0),
	LEAST("since-aerating", SHAPE_SPAN, MEASURE_SINCE_AERATING, 0),
	LEAST("until-mowing", SHAPE_SPAN, MEASURE_UNTIL_MOWING, 0),
	LEAST("until-seeding", SHAPE_SPAN, MEASURE_UNTIL_SEEDING, 0),
	LEAST("until-overseeding", SHAPE_SPAN, MEASURE_UNTIL_OVERSEEDING, 0),
	LEAST("until-aerating", SHAPE_SPAN, MEASURE_UNTIL_AERATING, 0),
	LEAST("until-irrigation", SHAPE_SPAN, MEASURE_UNTIL_IRRIGATION, 0),
	LEAST("mowings-since-seeding", SHAPE_COUNT, MEASURE_MOWINGS, 0),
	LEAST("re-treatment", SHAPE_DAYS, MEASURE_DAYS_SINCE, 0),
	MOST("re-treatment-maximum", SHAPE_DAYS, MEASURE_DAYS_WAITED, 0),
	MOST("season-count", SHAPE_COUNT, MEASURE_SEASON_COUNT,
	    CARD_MAY_BE_NONE),
	MOST("season-amount", SHAPE_RATE, MEASURE_SEASON_AMOUNT, 0),
	MOST("active-maximum", SHAPE_ACTIVES, MEASURE_SEASON_ACTIVE, 0),
	/* each sentence says all that matters itself */
	NONE("rules", SHAPE_SENTENCES, MEASURE_WET, 0),
};

const struct short_rule *
short_rule_find(const char *name)
{
	for (size_t i = 0; i < sizeof short_rules / sizeof short_rules[0]; i++)
		if (strcmp(short_rules[i].name, name) == 0)
			return &short_rules[i];
	return NULL;
}
