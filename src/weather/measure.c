#include "weather/measure.h"

#include <math.h>
#include <string.h>

#define ANYTHING (double)NAN, (double)NAN

/*
 * Plausible values: wider than any weather that a lawn sees, narrow enough to
 * catch a wrong unit or a stray sign. A gust may exceed the wind it rides on.
 */
static const struct measure_info table[MEASURES] = {
	[MEASURE_AIR_TEMPERATURE] = { "air-temperature", "air temperature",
	    QUANTITY_TEMPERATURE, -60, 60 },
	[MEASURE_DEW_POINT] = { "dew-point", "dew point", QUANTITY_TEMPERATURE,
	    -80, 45 },
	[MEASURE_HUMIDITY] = { "humidity", "humidity", QUANTITY_PERCENT, 0,
	    100 },
	[MEASURE_WIND] = { "wind", "wind", QUANTITY_SPEED, 0, 75 },
	[MEASURE_GUST] = { "gust", "gust", QUANTITY_SPEED, 0, 110 },
	[MEASURE_WIND_DIRECTION] = { "wind-direction", "wind direction",
	    QUANTITY_ANGLE, 0, 360 },
	[MEASURE_CLOUD] = { "cloud", "cloud cover", QUANTITY_PERCENT, 0, 100 },
	[MEASURE_RAIN] = { "rain", "rain", QUANTITY_RAIN, 0, 600 },
	[MEASURE_RAIN_BLOCK] = { "rain-block", "rain of the whole block",
	    QUANTITY_RAIN, 0, 600 },
	[MEASURE_RAIN_BLOCK_SPAN] = { "rain-block-span",
	    "length of the rain block", QUANTITY_SPAN, ANYTHING },
	[MEASURE_RAIN_CHANCE] = { "rain-chance", "rain chance",
	    QUANTITY_PERCENT, 0, 100 },
	[MEASURE_SOIL] = { "soil-temperature", "soil temperature",
	    QUANTITY_TEMPERATURE, -40, 60 },
	[MEASURE_ALERT_WIND] = { "alert-wind", "official wind alert",
	    QUANTITY_NUMBER, 0, 1 },
	[MEASURE_ALERT_FREEZE] = { "alert-freeze", "official freeze alert",
	    QUANTITY_NUMBER, 0, 1 },
	[MEASURE_ALERT_HEAT] = { "alert-heat", "official heat alert",
	    QUANTITY_NUMBER, 0, 1 },
	[MEASURE_ALERT_FLOOD] = { "alert-flood", "official flood alert",
	    QUANTITY_NUMBER, 0, 1 },
	[MEASURE_ALERT_SMOKE] = { "alert-smoke",
	    "official alert of smoke or fire", QUANTITY_NUMBER, 0, 1 },
	[MEASURE_WET] = { "wet", "wetness", QUANTITY_NUMBER, 0, 1 },
	[MEASURE_WET_BULB] = { "wet-bulb", "wet bulb", QUANTITY_TEMPERATURE,
	    ANYTHING },
	[MEASURE_DELTA_T] = { "delta-t", "delta T",
	    QUANTITY_TEMPERATURE_DIFFERENCE, ANYTHING },
	[MEASURE_WIND_2M] = { "wind-2m", "wind at 2 m", QUANTITY_SPEED, 0, 75 },
	[MEASURE_LEAF_WET] = { "leaf-wet", "leaf wetness", QUANTITY_NUMBER, 0,
	    1 },
	[MEASURE_FREEZE] = { "freeze", "freezing air", QUANTITY_NUMBER, 0, 1 },
	[MEASURE_SUN_HEIGHT] = { "sun-height", "sun height", QUANTITY_ANGLE,
	    -90, 90 },
	[MEASURE_STABILITY] = { "stability", "stability class of the air",
	    QUANTITY_NUMBER, 1, 7 },
	[MEASURE_INVERSION] = { "inversion", "temperature inversion",
	    QUANTITY_NUMBER, 0, 1 },
	[MEASURE_DEGREE_DAYS] = { "degree-days", "degree days",
	    QUANTITY_TEMPERATURE_DIFFERENCE, ANYTHING },
	[MEASURE_DORMANT] = { "dormant", "dormancy", QUANTITY_NUMBER, 0, 1 },
	[MEASURE_GREEN_UP] = { "green-up", "green-up", QUANTITY_NUMBER, 0, 1 },
	[MEASURE_GREEN] = { "green", "full green", QUANTITY_NUMBER, 0, 1 },
	[MEASURE_HOURS] = { "hours", "preferred hours", QUANTITY_NUMBER, 0, 1 },
	[MEASURE_SINCE_SUNRISE] = { "since-sunrise", "time since sunrise",
	    QUANTITY_SPAN, ANYTHING },
	[MEASURE_UNTIL_SUNSET] = { "until-sunset", "time until sunset",
	    QUANTITY_SPAN, ANYTHING },
	[MEASURE_DRIFT] = { "drift", "wind towards a side to spare",
	    QUANTITY_NUMBER, 0, 1 },
	[MEASURE_SINCE_MOWING] = { "since-mowing", "time since mowing",
	    QUANTITY_SPAN, ANYTHING },
	[MEASURE_SINCE_SEEDING] = { "since-seeding", "time since seeding",
	    QUANTITY_SPAN, ANYTHING },
	[MEASURE_SINCE_SODDING] = { "since-sodding", "time since sodding",
	    QUANTITY_SPAN, ANYTHING },
	[MEASURE_SINCE_OVERSEEDING] = { "since-overseeding",
	    "time since overseeding", QUANTITY_SPAN, ANYTHING },
	[MEASURE_SINCE_AERATING] = { "since-aerating", "time since aerating",
	    QUANTITY_SPAN, ANYTHING },
	[MEASURE_UNTIL_MOWING] = { "until-mowing", "time until mowing",
	    QUANTITY_SPAN, ANYTHING },
	[MEASURE_UNTIL_SEEDING] = { "until-seeding", "time until seeding",
	    QUANTITY_SPAN, ANYTHING },
	[MEASURE_UNTIL_OVERSEEDING] = { "until-overseeding",
	    "time until overseeding", QUANTITY_SPAN, ANYTHING },
	[MEASURE_UNTIL_AERATING] = { "until-aerating", "time until aerating",
	    QUANTITY_SPAN, ANYTHING },
	[MEASURE_UNTIL_IRRIGATION] = { "until-irrigation",
	    "time until irrigation", QUANTITY_SPAN, ANYTHING },
	[MEASURE_MOWINGS] = { "mowings", "mowings since seeding",
	    QUANTITY_NUMBER, ANYTHING },
	[MEASURE_DAYS_SINCE] = { "days-since",
	    "days since the last application", QUANTITY_NUMBER, ANYTHING },
	[MEASURE_DAYS_WAITED] = { "days-waited",
	    "days since the first of two applications", QUANTITY_NUMBER,
	    ANYTHING },
	[MEASURE_SEASON_COUNT] = { "season-count", "applications this year",
	    QUANTITY_NUMBER, ANYTHING },
	[MEASURE_SEASON_AMOUNT] = { "season-amount", "amount this year",
	    QUANTITY_MASS_PER_AREA, ANYTHING },
	[MEASURE_SEASON_ACTIVE] = { "season-active", "active this year",
	    QUANTITY_MASS_PER_AREA, ANYTHING },
	[MEASURE_DATES] = { "dates", "dates of the card", QUANTITY_NUMBER, 0,
	    1 },
};

const struct measure_info *
measure_info(enum measure measure)
{
	return &table[measure];
}

enum measure
measure_find(const char *key)
{
	for (int i = 0; i < MEASURES; i++)
		if (strcmp(table[i].key, key) == 0)
			return (enum measure)i;
	return MEASURES;
}
