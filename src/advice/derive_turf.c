#include "advice/derive_turf.h"

#include "advice/derive_parts.h"
#include "base/memory.h"

#include <stdlib.h>

enum { MEAN_DAYS = 7 }; /* the longest mean that a state asks for */

/* The looks so far, and when the last of them was told. */
struct looks {
	struct turf_lawn *lawn;
	const struct zone *zone;
	int64_t told;
};

/* In order of time; of one day the look that was told last counts. */
static void
add_look(struct looks *looks, int64_t at, int64_t told, enum turf_state state)
{
	struct turf_lawn *lawn = looks->lawn;
	int64_t day = civil_day(looks->zone, at);
	if (lawn->look_count > 0 &&
	    lawn->look[lawn->look_count - 1].day == day) {
		if (told < looks->told)
			return;
		lawn->look_count--;
	}
	lawn->look[lawn->look_count++] = (struct turf_look){ day, state };
	looks->told = told;
}

/* What was told before its time is no look but a guess. */
static bool
is_look(const struct turf_event *event)
{
	return event->kind == EVENT_GREEN && event->amount >= 0 &&
	       event->amount <= 100 && event->told >= event->from;
}

/* Both lists ascend. The configuration does not say when it was told. */
static void
merge_looks(struct turf_lawn *lawn, const struct site *site,
    const struct site_facts *facts)
{
	struct looks looks = { lawn, &site->zone, INT64_MIN };
	size_t t = 0, told_count = site->told_count;
	/* a line that is dated ahead is a guess until its day has come */
	while (facts->now != 0 && told_count > 0 &&
	       site->told[told_count - 1].from > facts->now)
		told_count--;
	lawn->look = memory_array(
	    site->told_count + facts->event_count, sizeof *lawn->look);
	for (size_t i = 0; i < facts->event_count; i++) {
		const struct turf_event *event = &facts->event[i];
		if (!is_look(event))
			continue;
		for (; t < told_count && site->told[t].from <= event->from; t++)
			add_look(&looks, site->told[t].from, INT64_MIN,
			    site->told[t].state);
		add_look(&looks, event->from, event->told,
		    turf_state_of_green(event->amount));
	}
	for (; t < told_count; t++)
		add_look(
		    &looks, site->told[t].from, INT64_MIN, site->told[t].state);
}

/* From the means of the look that counts on the first day to the last day. */
static void
gather_soil(struct turf_lawn *lawn, const struct series *series,
    const struct site *site, const struct site_facts *facts)
{
	int64_t first = civil_day(&site->zone, series->start);
	int64_t last = civil_day(&site->zone, series_end(series) - 1);
	int64_t asked = first;
	for (size_t i = 0; i < lawn->look_count; i++)
		if (lawn->look[i].day <= first)
			asked = lawn->look[i].day;
	lawn->first = asked - MEAN_DAYS + 1;
	if (facts->day_count > 0 && lawn->first < facts->days[0].day)
		lawn->first = facts->days[0].day;
	if (facts->day_count == 0 || lawn->first > first)
		lawn->first = first;
	lawn->soil_count = (size_t)(last - lawn->first + 1);
	lawn->soil = memory_array(lawn->soil_count, sizeof *lawn->soil);
	derive_daily_soil(
	    series, site, facts, lawn->first, lawn->soil_count, lawn->soil);
}

void
turf_lawn_init(struct turf_lawn *lawn, const struct series *series,
    const struct site *site, const struct site_facts *facts)
{
	static const struct site_facts none = { 0 };
	if (facts == NULL)
		facts = &none;
	*lawn = (struct turf_lawn){ .species = site->species,
		.told_holds = site->told_holds };
	merge_looks(lawn, site, facts);
	gather_soil(lawn, series, site, facts);
}

void
turf_lawn_release(struct turf_lawn *lawn)
{
	if (lawn == NULL)
		return;
	free(lawn->look);
	free(lawn->soil);
	*lawn = (struct turf_lawn){ 0 };
}

void
derive_turf(struct series *series, const struct site *site,
    const struct site_facts *facts)
{
	static const enum measure measure[TURF_STATES] = { MEASURE_DORMANT,
		MEASURE_GREEN_UP, MEASURE_GREEN };
	struct turf_lawn lawn;
	turf_lawn_init(&lawn, series, site, facts);
	int64_t day = civil_day(&site->zone, series->start), from, to;
	for (from = civil_day_start(&site->zone, day);
	     from < series_end(series); from = to) {
		enum turf_state state = turf_state_on(&lawn, day).state;
		bool known = state != TURF_STATES;
		to = civil_day_start(&site->zone, ++day);
		for (size_t s = 0; s < TURF_STATES; s++)
			series_hold(series, measure[s], from, to,
			    known ? s == state : (double)NAN);
	}
	turf_lawn_release(&lawn);
}
