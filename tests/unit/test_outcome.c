#include "unit/test.h"

#include "advice/derive.h"
#include "advice/outcome.h"
#include "unit/heart.h"

enum { CHECKS_MAX = 12, TANK = 2 };

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

static int64_t
day_of_week(int day, int hour)
{
	return local_2026(4, 6 + day, hour, 0);
}

static void
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
	week->job = (struct job){ .site = &week->site,
		.tank = { .dose = { { .product = &week->product[0] },
			      { .product = &week->product[1] } },
		    .count = TANK } };
	week->limits = (struct window_limits){ .now = day_of_week(0, 0),
		.after = INT64_MIN,
		.before = INT64_MAX,
		.duration = HOUR };
	series_init(&week->series, day_of_week(0, 0), day_of_week(7, 6));
	fill(&week->series, MEASURE_AIR_TEMPERATURE, 20);
	fill(&week->series, MEASURE_WIND, 2);
	fill(&week->series, MEASURE_RAIN_BLOCK, 0);
	fill(&week->series, MEASURE_RAIN_CHANCE, 0);
	derive(&week->series, &week->site, NULL, 0);
}

static void
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

static struct rule
ceiling(double fahrenheit)
{
	return rule_of(MEASURE_AIR_TEMPERATURE, FOLD_MAX, during, BOUND_AT_MOST,
	    (fahrenheit - 32) / 1.8);
}

static struct rule
dry_after(int hours)
{
	return rule_of(MEASURE_WET, FOLD_ANY, after_end(hours * (int)HOUR),
	    BOUND_AT_MOST, 0);
}

/* Wind, daylight, a ceiling of 85 degF for one and 4 dry hours for both. */
static void
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

static void
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

static void
week_release(struct week *week)
{
	verdicts_release(&week->verdicts);
	outlook_release(&week->outlook);
	series_release(&week->series);
}

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
set_days(
    struct week *week, enum measure measure, int first, int end, double value)
{
	put(&week->series, measure, day_of_week(first, 0), day_of_week(end, 0),
	    value);
}

/* Hot on Monday and from Friday on, rain Tuesday and Wednesday, then wind. */
static void
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

static size_t
find_helps(struct week *week, struct help helps[HELPS_MAX])
{
	week_judge(week);
	return helps_find(&week->judgement, helps);
}

static int64_t
first_light(const struct week *week, int day)
{
	const float *sun = week->series.column[MEASURE_SUN_HEIGHT];
	size_t cell = cell_of(&week->series, day_of_week(day, 0));
	while (!bound_holds(BOUND_AT_LEAST, -0.8333, (double)sun[cell]))
		cell++;
	return series_time(&week->series, cell);
}

/* Monday's heat is one product's limit; the rain binds both. */
static void
leaving_out_the_hot_product_opens_the_first_day(void **state)
{
	(void)state;
	struct week week;
	struct help helps[HELPS_MAX];
	hand_made_week(&week);
	assert_int_equal(find_helps(&week, helps), 1);
	assert_ptr_equal(helps[0].without, &week.product[0]);
	assert_false(helps[0].preference);
	assert_int_equal(helps[0].start, first_light(&week, 0));
	week_release(&week);
}

/* The rest of the tank, practice and unknown are never set aside. */
static void
what_remains_in_the_tank_is_never_relaxed(void **state)
{
	(void)state;
	struct week week;
	struct help helps[HELPS_MAX];
	hand_made_week(&week);
	week_add(&week, ceiling(85), ORIGIN_LABEL, "mild-b");
	assert_int_equal(find_helps(&week, helps), 0);
	week.check[5].rule.origin = ORIGIN_PRACTICE;
	assert_int_equal(find_helps(&week, helps), 0);
	/* its limit is higher, but nobody knows the temperature */
	week.check[5].rule = ceiling(95);
	week.check[5].rule.origin = ORIGIN_LABEL;
	week.check[5].rule.owner = "mild-b";
	assert_int_equal(find_helps(&week, helps), 1);
	set_days(&week, MEASURE_AIR_TEMPERATURE, 0, 1, NAN);
	put(&week.series, MEASURE_AIR_TEMPERATURE, day_of_week(4, 0),
	    day_of_week(7, 6), NAN);
	assert_int_equal(find_helps(&week, helps), 0);
	week_release(&week);
}

static void
a_single_product_cannot_be_left_out(void **state)
{
	(void)state;
	struct week week;
	struct help helps[HELPS_MAX];
	hand_made_week(&week);
	week.job.tank.count = 1;
	assert_int_equal(find_helps(&week, helps), 0);
	week_release(&week);
}

/* Its label replaces a practice rule, which would bind again without it. */
static void
a_product_that_replaces_practice_is_not_offered(void **state)
{
	(void)state;
	struct week week;
	struct help helps[HELPS_MAX];
	const char *overrides[] = { "wind-maximum" };
	hand_made_week(&week);
	week.product[0].overrides = overrides;
	week.product[0].override_count = 1;
	assert_int_equal(find_helps(&week, helps), 0);
	week_release(&week);
}

static void
the_preferred_hours_may_be_set_aside(void **state)
{
	(void)state;
	struct week week;
	struct help helps[HELPS_MAX];
	hand_made_week(&week);
	week.limits.now = day_of_week(3, 0);
	fill(&week.series, MEASURE_HOURS, 0);
	put(&week.series, MEASURE_HOURS, day_of_week(3, 17), day_of_week(3, 20),
	    1);
	/* the wind drops on Thursday morning only */
	put(&week.series, MEASURE_WIND, day_of_week(3, 8), day_of_week(3, 10),
	    2);
	week_add(&week,
	    rule_of(MEASURE_HOURS, FOLD_MIN, during, BOUND_AT_LEAST, 1),
	    ORIGIN_PREFERENCE, "front");
	assert_int_equal(find_helps(&week, helps), 1);
	assert_null(helps[0].without);
	assert_true(helps[0].preference);
	assert_int_equal(helps[0].start, day_of_week(3, 8));
	/* by day means in the preferred hours of that day */
	week.limits.before = day_of_week(4, 0);
	assert_blockers(&week, "wind over 10 mph Thu");
	week_release(&week);
}

/* A start that is open already is not opened by any change. */
static void
an_open_start_is_no_help(void **state)
{
	(void)state;
	struct week week;
	struct help helps[HELPS_MAX];
	week_init(&week);
	usual_rules(&week);
	week.limits.before = day_of_week(6, 0);
	assert_int_equal(find_helps(&week, helps), 0);
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
		cmocka_unit_test(
		    leaving_out_the_hot_product_opens_the_first_day),
		cmocka_unit_test(what_remains_in_the_tank_is_never_relaxed),
		cmocka_unit_test(a_single_product_cannot_be_left_out),
		cmocka_unit_test(
		    a_product_that_replaces_practice_is_not_offered),
		cmocka_unit_test(the_preferred_hours_may_be_set_aside),
		cmocka_unit_test(an_open_start_is_no_help),
	};
	return RUN_TESTS(tests);
}
