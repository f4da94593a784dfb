#include "unit/test.h"

#include "unit/outcome_week.h"

static void
assert_blockers(struct week *week, const char *wanted)
{
	char text[LIMIT_TEXT_BYTES];
	week_judge(week);
	assert_string_equal(
	    blockers_print(text, sizeof text, &week->judgement, UNITS_US),
	    wanted);
}

static void
each_day_is_told_by_the_rule_that_shuts_most_of_it(void **state)
{
	(void)state;
	struct week week;
	hand_made_week(&week);
	week.limits.before = day_of_week(7, 0);
	assert_blockers(&week,
	    "air temperature over 85 °F Mon Fri-Sun, rain Tue-Wed, wind over "
	    "10 mph Thu");
	/* from Tuesday to Thursday alone */
	week.limits.now = day_of_week(1, 3);
	week.limits.before = day_of_week(4, 0);
	assert_blockers(&week, "rain Tue-Wed, wind over 10 mph Thu");
	week_release(&week);
}

/* The night shuts more hours than the wind, but that is no news. */
static void
the_night_is_told_only_when_nothing_else_is_left(void **state)
{
	(void)state;
	struct week week;
	hand_made_week(&week);
	week.limits.after = day_of_week(3, 22);
	week.limits.before = day_of_week(4, 5);
	set_days(&week, MEASURE_WIND, 3, 4, 2);
	set_days(&week, MEASURE_AIR_TEMPERATURE, 4, 5, 20);
	assert_blockers(&week, "dark Thu-Fri");
	week_release(&week);
}

static void
says_nothing_when_no_start_lies_ahead(void **state)
{
	(void)state;
	struct week week;
	hand_made_week(&week);
	week.limits.now = day_of_week(20, 0);
	assert_blockers(&week, "");
	char told[200];
	assert_string_equal(
	    blockers_tell(told, sizeof told, &week.judgement, UNITS_US),
	    "the forecast holds no start between its dates");
	week_release(&week);
}

/* 4 and 24 dry hours of two products are both "rain" to the reader. */
static void
rules_that_read_the_same_are_joined(void **state)
{
	(void)state;
	struct week week;
	week_init(&week);
	usual_rules(&week);
	week_add(&week, dry_after(24), ORIGIN_LABEL, "hot-a");
	set_days(&week, MEASURE_WET, 1, 3, 1);
	week.limits.before = day_of_week(3, 0);
	assert_blockers(&week, "rain Mon-Wed");
	week_release(&week);
}

/* Unknown is not rain: it is said as such. */
static void
what_is_not_known_is_not_told_as_broken(void **state)
{
	(void)state;
	struct week week;
	week_init(&week);
	usual_rules(&week);
	set_days(&week, MEASURE_WET, 0, 1, 1);
	set_days(&week, MEASURE_WET, 1, 2, NAN);
	set_days(&week, MEASURE_WIND, 2, 3, NAN);
	week.limits.before = day_of_week(3, 0);
	assert_blockers(
	    &week, "rain Mon, rain not known Tue, wind not known Wed");
	week_release(&week);
}

static void
covers_the_forecast_or_the_time_up_to_the_deadline(void **state)
{
	(void)state;
	struct week week;
	hand_made_week(&week);
	week_judge(&week);
	/* a week, though the forecast goes on to the next morning */
	assert_int_equal(blockers_until(&week.judgement), day_of_week(7, 0));
	week.limits.before = day_of_week(4, 0) + HOUR - SERIES_STEP;
	assert_int_equal(blockers_until(&week.judgement), day_of_week(4, 0));
	week_release(&week);
}

/* The wind drops on Thursday morning only, which is not a preferred hour. */
static void
by_day_means_in_the_preferred_hours(void **state)
{
	(void)state;
	struct week week;
	hand_made_week(&week);
	week.limits.now = day_of_week(3, 0);
	week.limits.before = day_of_week(4, 0);
	fill(&week.series, MEASURE_HOURS, 0);
	put(&week.series, MEASURE_HOURS, day_of_week(3, 17), day_of_week(3, 20),
	    1);
	put(&week.series, MEASURE_WIND, day_of_week(3, 8), day_of_week(3, 10),
	    2);
	week_add(&week,
	    rule_of(MEASURE_HOURS, FOLD_MIN, during, BOUND_AT_LEAST, 1),
	    ORIGIN_PREFERENCE, "front");
	assert_blockers(&week, "wind over 10 mph Thu");
	week_release(&week);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(
		    each_day_is_told_by_the_rule_that_shuts_most_of_it),
		cmocka_unit_test(
		    the_night_is_told_only_when_nothing_else_is_left),
		cmocka_unit_test(says_nothing_when_no_start_lies_ahead),
		cmocka_unit_test(rules_that_read_the_same_are_joined),
		cmocka_unit_test(what_is_not_known_is_not_told_as_broken),
		cmocka_unit_test(
		    covers_the_forecast_or_the_time_up_to_the_deadline),
		cmocka_unit_test(by_day_means_in_the_preferred_hours),
	};
	return RUN_TESTS(tests);
}
