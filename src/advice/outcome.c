#include "advice/outcome.h"

#include "base/memory.h"
#include "base/text.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* A week is said, no more: then the names of the days would come again. */
enum { DAYS_SAID = 7, NO_RULE = -1 };

static bool
is_clock_rule(const struct rule *rule)
{
	return rule->measure == MEASURE_SUN_HEIGHT ||
	       rule->measure == MEASURE_HOURS;
}

size_t
judgement_nearest(const struct judgement *judgement, size_t start,
    struct reason *ret, size_t most)
{
	size_t count = 0;
	for (size_t r = 0; r < judgement->check_count; r++) {
		struct reason reason;
		reason_make(judgement->outlook, &judgement->checks[r],
		    judgement->limits->duration, start, &reason);
		double tight = reason_tightness(&reason);
		if (isinf(tight) ||
		    (count == most &&
			tight >= reason_tightness(&ret[most - 1])))
			continue;
		size_t at = count < most ? count++ : most - 1;
		for (; at > 0 && tight < reason_tightness(&ret[at - 1]); at--)
			ret[at] = ret[at - 1];
		ret[at] = reason;
	}
	return count;
}

bool
judgement_allows(const struct judgement *judgement, size_t start, int64_t from)
{
	const struct window_limits *limits = judgement->limits;
	int64_t time = series_time(judgement->outlook->series, start);
	return time >= from && time >= limits->after &&
	       (limits->before == INT64_MAX ||
		   time + limits->duration <= limits->before);
}

static bool
is_shut_by_clock(const struct judgement *judgement, size_t start)
{
	for (size_t r = 0; r < judgement->check_count; r++)
		if (is_clock_rule(&judgement->checks[r].rule) &&
		    verdict_broken(judgement->verdicts, start, r))
			return true;
	return false;
}

/* A blocker is a rule that is broken, or, from here on, one not known. */
enum { UNKNOWN_FROM = LIMIT_RULES, BLOCKERS = 2 * LIMIT_RULES };

struct tally {
	uint32_t by_day[BLOCKERS]; /* starts that the blocker shuts, by day */
	uint32_t at_all[BLOCKERS]; /* the same, night included */
};

static void
count_start(
    const struct judgement *judgement, size_t start, struct tally *tally)
{
	bool clock = is_shut_by_clock(judgement, start);
	for (size_t r = 0; r < judgement->check_count; r++) {
		bool broken = verdict_broken(judgement->verdicts, start, r);
		if (!broken && !verdict_unknown(judgement->verdicts, start, r))
			continue;
		size_t blocker = broken ? r : UNKNOWN_FROM + r;
		tally->at_all[blocker]++;
		if (!clock)
			tally->by_day[blocker]++;
	}
}

/* The one that shuts most; of two alike the one that shuts more in all. */
static int
most(const uint32_t shut[BLOCKERS], const uint32_t in_all[BLOCKERS])
{
	size_t best = 0;
	for (size_t b = 1; b < BLOCKERS; b++)
		if (shut[b] > shut[best] ||
		    (shut[b] == shut[best] && in_all[b] > in_all[best]))
			best = b;
	return shut[best] > 0 ? (int)best : NO_RULE;
}

/* The blocker that leads on each local day ahead, NO_RULE where none does. */
struct week {
	int leading[DAYS_SAID];
	size_t days;
	int64_t first_day;
};

static void
tally_days(
    const struct judgement *judgement, struct tally *tallies, struct week *week)
{
	const struct outlook *outlook = judgement->outlook;
	int32_t first = -1;
	/* the whole of today, so that what is said does not change by the hour
	 */
	int64_t today = civil_day(outlook->zone, judgement->limits->now);
	int64_t from = civil_day_start(outlook->zone, today);
	for (size_t i = 0; i < outlook->series->count; i++) {
		if (!judgement_allows(judgement, i, from))
			continue;
		if (first < 0)
			first = outlook->day[i];
		size_t day = (size_t)(outlook->day[i] - first);
		if (day >= DAYS_SAID)
			break;
		week->days = day + 1;
		count_start(judgement, i, &tallies[day]);
	}
	week->first_day = outlook->first_day + (first < 0 ? 0 : first);
}

static void
find_leading(const struct judgement *judgement, struct week *week)
{
	struct tally *tallies = memory_array(DAYS_SAID, sizeof *tallies);
	struct tally *whole = memory_array(1, sizeof *whole);
	*week = (struct week){ .days = 0 };
	tally_days(judgement, tallies, week);
	for (size_t d = 0; d < week->days; d++)
		for (size_t b = 0; b < BLOCKERS; b++) {
			whole->by_day[b] += tallies[d].by_day[b];
			whole->at_all[b] += tallies[d].at_all[b];
		}
	for (size_t d = 0; d < week->days; d++) {
		int by_day = most(tallies[d].by_day, whole->by_day);
		week->leading[d] = by_day != NO_RULE
				       ? by_day
				       : most(tallies[d].at_all, whole->at_all);
	}
	free(whole);
	free(tallies);
}

static void
add_days(struct text *text, const struct zone *zone, int64_t from, int64_t to)
{
	char day[CIVIL_BUFFER];
	text_format(text, " %s",
	    civil_print(day, sizeof day, zone, civil_day_start(zone, from),
		CIVIL_WEEKDAY));
	if (to > from)
		text_format(text, "-%s",
		    civil_print(day, sizeof day, zone,
			civil_day_start(zone, to), CIVIL_WEEKDAY));
}

/* "rain", or "rain not known". */
static const char *
print_blocker(char *buffer, size_t size, const struct judgement *judgement,
    int blocker, enum unit_system units)
{
	if (blocker < UNKNOWN_FROM)
		return rule_print_short(
		    buffer, size, &judgement->checks[blocker].rule, units);
	const struct rule *rule =
	    &judgement->checks[blocker - UNKNOWN_FROM].rule;
	(void)snprintf(buffer, size, "%s not known",
	    rule->measure == MEASURE_WET ? "rain"
					 : measure_info(rule->measure)->label);
	return buffer;
}

/*
 * Two rules that read the same are one blocker to the reader: two products may
 * both want it dry.
 */
static void
join_alike(const struct judgement *judgement, struct week *week,
    enum unit_system units)
{
	char here[REASON_BUFFER], before[REASON_BUFFER];
	for (size_t d = 1; d < week->days; d++) {
		if (week->leading[d] == NO_RULE)
			continue;
		print_blocker(
		    here, sizeof here, judgement, week->leading[d], units);
		for (size_t e = 0; e < d; e++) {
			if (week->leading[e] == NO_RULE)
				continue;
			print_blocker(before, sizeof before, judgement,
			    week->leading[e], units);
			if (strcmp(here, before) == 0)
				week->leading[d] = week->leading[e];
		}
	}
}

/* The rule of day `first` with all the days that it leads: "rain Tue-Wed Fri".
 */
static void
add_rule(struct text *text, const struct judgement *judgement,
    const struct week *week, size_t first, enum unit_system units)
{
	char words[REASON_BUFFER];
	int rule = week->leading[first];
	text_format(text, "%s%s", text->length > 0 ? ", " : "",
	    print_blocker(words, sizeof words, judgement, rule, units));
	for (size_t d = first; d < week->days; d++) {
		if (week->leading[d] != rule)
			continue;
		size_t last = d;
		while (last + 1 < week->days && week->leading[last + 1] == rule)
			last++;
		add_days(text, judgement->outlook->zone,
		    week->first_day + (int64_t)d,
		    week->first_day + (int64_t)last);
		d = last;
	}
}

static bool
is_told(const struct week *week, size_t day)
{
	for (size_t d = 0; d < day; d++)
		if (week->leading[d] == week->leading[day])
			return true;
	return week->leading[day] == NO_RULE;
}

char *
blockers_print(char *buffer, size_t size, const struct judgement *judgement,
    enum unit_system units)
{
	struct week week;
	struct text text;
	find_leading(judgement, &week);
	join_alike(judgement, &week, units);
	text_init(&text, LIMIT_TEXT_BYTES);
	for (size_t d = 0; d < week.days; d++)
		if (!is_told(&week, d))
			add_rule(&text, judgement, &week, d, units);
	(void)snprintf(buffer, size, "%s", text_string(&text));
	text_release(&text);
	return buffer;
}

char *
blockers_tell(char *buffer, size_t size, const struct judgement *judgement,
    enum unit_system units)
{
	blockers_print(buffer, size, judgement, units);
	if (buffer[0] == '\0')
		(void)snprintf(buffer, size,
		    "the forecast holds no start between its dates");
	return buffer;
}

bool
blockers_unknown(const struct judgement *judgement)
{
	struct week week;
	bool unknown = false;
	find_leading(judgement, &week);
	for (size_t d = 0; d < week.days; d++) {
		if (week.leading[d] == NO_RULE)
			continue;
		if (week.leading[d] < UNKNOWN_FROM)
			return false;
		unknown = true;
	}
	return unknown;
}

int64_t
blockers_until(const struct judgement *judgement)
{
	const struct outlook *outlook = judgement->outlook;
	const struct series *series = outlook->series;
	int64_t today = civil_day(outlook->zone, judgement->limits->now);
	int64_t until = civil_day_start(outlook->zone, today + DAYS_SAID);
	size_t i = series->count;
	while (i > 0 &&
	       !judgement_allows(judgement, i - 1, judgement->limits->now))
		i--;
	int64_t end = i > 0 ? series_time(series, i) : series_end(series);
	return end < until ? end : until;
}
