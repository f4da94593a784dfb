#include "advice/turf_state.h"

#include <math.h>
#include <stdio.h>

/*
 * A forecast comes as floats and in other units; a mean this near to its limit
 * is at it. Only where a look ends, which is the safe side.
 */
#define ROUNDING 0.001

/* A mean of the soil against a limit; 0 days: never. */
struct soil_rule {
	int days;
	enum bound bound;
	double limit;
	enum turf_why why;
};

static const struct soil_rule ends[TURF_STATES] = {
	[TURF_DORMANT] = { 5, BOUND_AT_LEAST, TURF_FAHRENHEIT(55) - ROUNDING,
	    TURF_WARMED },
	[TURF_GREEN] = { 7, BOUND_AT_MOST, TURF_FAHRENHEIT(50) + ROUNDING,
	    TURF_COOLED },
};

static const struct soil_rule carries[TURF_STATES] = {
	[TURF_DORMANT] = { 7, BOUND_AT_MOST, TURF_FAHRENHEIT(50),
	    TURF_STAYED_COLD },
	[TURF_GREEN] = { 5, BOUND_ABOVE, TURF_FAHRENHEIT(65),
	    TURF_STAYED_WARM },
};

enum turf_state
turf_state_of_green(double percent)
{
	return percent <= 5    ? TURF_DORMANT
	       : percent <= 90 ? TURF_GREEN_UP
			       : TURF_GREEN;
}

double
turf_soil_mean(const struct turf_lawn *lawn, int64_t last, int days)
{
	int64_t from = last - lawn->first - days + 1;
	if (from < 0 || last - lawn->first >= (int64_t)lawn->soil_count)
		return (double)NAN;
	double sum = 0;
	for (int64_t i = from; i < from + days; i++)
		sum += lawn->soil[i];
	return sum / days;
}

/* False for a mean that is not known. */
static bool
is_met(const struct turf_lawn *lawn, const struct soil_rule *rule, int64_t day)
{
	if (rule->days == 0)
		return false;
	double mean = turf_soil_mean(lawn, day, rule->days);
	switch (rule->bound) {
	case BOUND_AT_LEAST:
		return mean >= rule->limit;
	case BOUND_ABOVE:
		return mean > rule->limit;
	case BOUND_AT_MOST:
		return mean <= rule->limit;
	case BOUND_BELOW:
		return mean < rule->limit;
	}
	return false;
}

static const struct turf_look *
look_for(const struct turf_lawn *lawn, int64_t day)
{
	const struct turf_look *look = NULL;
	for (size_t i = 0; i < lawn->look_count; i++)
		if (lawn->look[i].day <= day)
			look = &lawn->look[i];
	return look;
}

/* The first day after the look, up to `day`, on which the soil ends it. */
static bool
find_end(const struct turf_lawn *lawn, const struct turf_look *look,
    int64_t day, int64_t *ret)
{
	for (int64_t d = look->day + 1; d <= day; d++)
		if (is_met(lawn, &ends[look->state], d)) {
			*ret = d;
			return true;
		}
	return false;
}

static bool
may_be_carried(const struct turf_lawn *lawn, enum turf_state state)
{
	if (state == TURF_DORMANT)
		return lawn->species == TURF_BERMUDA ||
		       lawn->species == TURF_ZOYSIA;
	return lawn->species != TURF_UNSAID;
}

static bool
is_carried(
    const struct turf_lawn *lawn, const struct turf_look *look, int64_t day)
{
	if (!may_be_carried(lawn, look->state))
		return false;
	for (int64_t d = look->day; d <= day; d++)
		if (!is_met(lawn, &carries[look->state], d))
			return false;
	return true;
}

struct turf_day
turf_state_on(const struct turf_lawn *lawn, int64_t day)
{
	int64_t end;
	const struct turf_look *look = look_for(lawn, day);
	if (look == NULL)
		return (struct turf_day){ TURF_STATES, TURF_UNSEEN, 0 };
	struct turf_day seen = { look->state, TURF_SEEN, look->day };
	int64_t age = day - look->day;
	bool holds = (double)(age * DAY_SECONDS) < lawn->told_holds;
	if (holds && age < TURF_LOOK_DAYS)
		return seen;
	if (find_end(lawn, look, day, &end))
		return (
		    struct turf_day){ TURF_STATES, ends[look->state].why, end };
	if (holds)
		return seen;
	if (is_carried(lawn, look, day))
		return (struct turf_day){ look->state, carries[look->state].why,
			look->day };
	return (struct turf_day){ TURF_STATES, TURF_TOO_OLD, look->day };
}

int64_t
turf_state_end(const struct turf_lawn *lawn, int64_t day)
{
	enum turf_state state = turf_state_on(lawn, day).state;
	if (state == TURF_STATES)
		return day;
	while (turf_state_on(lawn, day).state == state)
		day++;
	return day;
}

enum turf_green_up
turf_green_up(const struct turf_lawn *lawn, int64_t day, int64_t *ret_day)
{
	const struct soil_rule *rule = &ends[TURF_DORMANT];
	if (turf_state_on(lawn, day).state != TURF_DORMANT ||
	    isnan(turf_soil_mean(lawn, day, rule->days)))
		return TURF_GREEN_UP_UNKNOWN;
	/* By the state itself, so that the two cannot disagree. */
	int64_t next = day;
	do {
		next++;
		if (turf_state_on(lawn, next).why == TURF_WARMED) {
			*ret_day = next;
			return TURF_GREEN_UP_ON;
		}
	} while (!isnan(turf_soil_mean(lawn, next, rule->days)));
	*ret_day = next;
	return TURF_GREEN_UP_NOT_BEFORE;
}

bool
turf_passes(const struct turf_lawn *lawn, const struct turf_passing *passing,
    int64_t day, int64_t *ret_day)
{
	double before = turf_soil_mean(lawn, day, passing->days);
	while (!isnan(before)) {
		day++;
		double mean = turf_soil_mean(lawn, day, passing->days);
		bool passes =
		    passing->rising
			? before < passing->limit && mean >= passing->limit
			: before >= passing->limit && mean < passing->limit;
		if (passes) {
			*ret_day = day;
			return true;
		}
		before = mean;
	}
	*ret_day = day;
	return false;
}

/* The soil temperature that a reason is about; NaN when it is about none. */
static double
limit_of(enum turf_why why)
{
	for (int state = 0; state < TURF_STATES; state++) {
		if (ends[state].days > 0 && ends[state].why == why)
			return ends[state].limit;
		if (carries[state].days > 0 && carries[state].why == why)
			return carries[state].limit;
	}
	return (double)NAN;
}

char *
turf_why_print(char *buffer, size_t size, const struct turf_day *day,
    const struct zone *zone, enum unit_system units)
{
	/* in front of the temperature, in front of the date, at the end */
	static const char *const words[][3] = {
		[TURF_UNSEEN] = { "cannot tell: look at the lawn", "", "" },
		[TURF_SEEN] = { "seen ", "", "" },
		[TURF_STAYED_COLD] = { "soil not over ", " since the look of ",
		    "" },
		[TURF_STAYED_WARM] = { "soil over ", " since the look of ",
		    "" },
		[TURF_WARMED] = { "cannot tell: look at the lawn (soil at ",
		    " or more on ", ")" },
		[TURF_COOLED] = { "cannot tell: look at the lawn (soil at ",
		    " or less on ", ")" },
		[TURF_TOO_OLD] = { "cannot tell: look at the lawn (last seen ",
		    "", ")" },
	};
	char degrees[QUANTITY_BUFFER] = "", date[CIVIL_BUFFER] = "";
	double limit = limit_of(day->why);
	if (!isnan(limit))
		(void)quantity_print(degrees, sizeof degrees, limit,
		    QUANTITY_TEMPERATURE, units);
	if (day->why != TURF_UNSEEN)
		(void)civil_print(date, sizeof date, zone,
		    civil_day_start(zone, day->since), CIVIL_DAY);
	(void)snprintf(buffer, size, "%s%s%s%s%s", words[day->why][0], degrees,
	    words[day->why][1], date, words[day->why][2]);
	return buffer;
}
