/* A week by hand, for the tests of advice/outcome.h. */
#ifndef TESTS_UNIT_OUTCOME_WEEK_H
#define TESTS_UNIT_OUTCOME_WEEK_H

#include "advice/derive.h"
#include "advice/outcome.h"
#include "unit/heart.h"
#include "unit/test.h"

enum { CHECKS_MAX = 12, TANK = 4 };

/*
 * A week from Monday, 6 April 2026. The limits are those of guidance and of
 * cards in general: common practice, no source.
 */
struct week {
	struct site site;
	struct product product[TANK];
	struct job job;
	struct series series;
	struct outlook outlook;
	struct check check[CHECKS_MAX];
	struct verdicts verdicts;
	struct window_limits limits;
	struct judgement judgement;
};

static inline int64_t
day_of_week(int day, int hour)
{
	return local_2026(4, 6 + day, hour, 0);
}

static inline void
week_init(struct week *week)
{
	*week = (struct week){ .site = { .name = "front",
				   .latitude = 29.5,
				   .longitude = -98.5,
				   .zone = chicago(),
				   .rain_chance = 30,
				   .told_holds = DAY } };
	week->product[0] = (struct product){ .name = "hot-a" };
	week->product[1] = (struct product){ .name = "mild-b" };
	week->product[2] = (struct product){ .name = "cold-c" };
	week->product[3] = (struct product){ .name = "surfactant-n",
		.kind = PRODUCT_ADJUVANT };
	week->job = (struct job){ .site = &week->site,
		.tank = { .dose = { { .product = &week->product[0] },
			      { .product = &week->product[1] } },
		    .count = 2 } };
	week->limits = (struct window_limits){ .now = day_of_week(0, 0),
		.after = INT64_MIN,
		.before = INT64_MAX,
		.duration = HOUR };
	series_init(&week->series, day_of_week(0, 0), day_of_week(7, 6));
	fill(&week->series, MEASURE_AIR_TEMPERATURE, 20);
	fill(&week->series, MEASURE_WIND, 2);
	fill(&week->series, MEASURE_RAIN_BLOCK, 0);
	fill(&week->series, MEASURE_RAIN_CHANCE, 0);
	derive(&week->series, &week->site, NULL);
}

static inline void
week_add(
    struct week *week, struct rule rule, enum origin origin, const char *owner)
{
	size_t count = week->judgement.check_count;
	assert_true(count < CHECKS_MAX);
	rule.origin = origin;
	rule.owner = owner;
	week->check[count] = check_of(&week->series, rule);
	week->judgement.check_count++;
}

static inline struct rule
ceiling(double fahrenheit)
{
	return rule_of(MEASURE_AIR_TEMPERATURE, FOLD_MAX, during, BOUND_AT_MOST,
	    (fahrenheit - 32) / 1.8);
}

static inline struct rule
dry_after(int hours)
{
	return rule_of(MEASURE_WET, FOLD_ANY, after_end(hours * (int)HOUR),
	    BOUND_AT_MOST, 0);
}

/* Wind, daylight, a ceiling of 85 degF for one and 4 dry hours for both. */
static inline void
usual_rules(struct week *week)
{
	week_add(week,
	    rule_of(MEASURE_WIND, FOLD_MAX, during, BOUND_AT_MOST, 4.4704),
	    ORIGIN_PRACTICE, "practice");
	week_add(week,
	    rule_of(
		MEASURE_SUN_HEIGHT, FOLD_MIN, during, BOUND_AT_LEAST, -0.8333),
	    ORIGIN_PRACTICE, "practice");
	week_add(week, ceiling(85), ORIGIN_LABEL, "hot-a");
	week_add(week, dry_after(4), ORIGIN_LABEL, "hot-a");
	week_add(week, dry_after(4), ORIGIN_LABEL, "mild-b");
}

static inline void
week_judge(struct week *week)
{
	struct judgement *judgement = &week->judgement;
	outlook_release(&week->outlook);
	outlook_init(&week->outlook, &week->series, &week->site.zone);
	judge(&week->outlook, week->check, judgement->check_count,
	    week->limits.duration, &week->verdicts);
	judgement->job = &week->job;
	judgement->outlook = &week->outlook;
	judgement->checks = week->check;
	judgement->verdicts = &week->verdicts;
	judgement->limits = &week->limits;
}

static inline void
week_release(struct week *week)
{
	verdicts_release(&week->verdicts);
	outlook_release(&week->outlook);
	series_release(&week->series);
}

static inline void
set_days(
    struct week *week, enum measure measure, int first, int end, double value)
{
	put(&week->series, measure, day_of_week(first, 0), day_of_week(end, 0),
	    value);
}

/* Hot on Monday and from Friday on, rain Tuesday and Wednesday, then wind. */
static inline void
hand_made_week(struct week *week)
{
	week_init(week);
	usual_rules(week);
	set_days(week, MEASURE_AIR_TEMPERATURE, 0, 1, 31);
	set_days(week, MEASURE_WET, 1, 3, 1);
	set_days(week, MEASURE_WIND, 3, 4, 6);
	put(&week->series, MEASURE_AIR_TEMPERATURE, day_of_week(4, 0),
	    day_of_week(7, 6), 31);
}

#endif
