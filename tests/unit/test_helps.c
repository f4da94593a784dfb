#include "unit/test.h"

#include "unit/outcome_week.h"

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
	assert_int_equal(helps[0].change, HELP_WITHOUT);
	assert_ptr_equal(helps[0].without, &week.product[0]);
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
	assert_int_equal(helps[0].change, HELP_HOURS);
	assert_int_equal(helps[0].start, day_of_week(3, 8));
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

static struct rule
warm_floor(double celsius)
{
	return rule_of(
	    MEASURE_AIR_TEMPERATURE, FOLD_MIN, during, BOUND_AT_LEAST, celsius);
}

/* Monday is hot, Tuesday and Wednesday are cold; the rest is windy. */
static void
two_part_week(struct week *week)
{
	week_init(week);
	usual_rules(week);
	set_days(week, MEASURE_AIR_TEMPERATURE, 0, 1, 31);
	set_days(week, MEASURE_AIR_TEMPERATURE, 1, 3, 10);
	put(&week->series, MEASURE_WIND, day_of_week(3, 0), day_of_week(7, 6),
	    6);
	week_add(week, warm_floor(15), ORIGIN_LABEL, "mild-b");
}

static void
assert_tank(const struct tank_mix *tank, const char *wanted)
{
	char name[LIMIT_TEXT_BYTES];
	assert_string_equal(tank_print(name, sizeof name, tank), wanted);
}

static const struct help *
find_change(const struct help *helps, size_t count, enum help_change change)
{
	for (size_t i = 0; i < count; i++)
		if (helps[i].change == change)
			return &helps[i];
	return NULL;
}

/* One wants it under 85 degF, the other over 59; no day is both. */
static void
a_tank_is_split_in_the_order_that_is_done_first(void **state)
{
	(void)state;
	struct week week;
	struct help helps[HELPS_MAX];
	char line[HELP_BUFFER];
	two_part_week(&week);
	size_t count = find_helps(&week, helps);
	assert_int_equal(count, 3);
	const struct help *split = find_change(helps, count, HELP_SPLIT);
	assert_non_null(split);
	assert_tank(&split->first, "mild-b");
	assert_tank(&split->second, "hot-a");
	assert_int_equal(split->start, first_light(&week, 0));
	assert_int_equal(split->second_start, first_light(&week, 1));
	assert_string_equal(
	    help_print(line, sizeof line, split, &week.site.zone, CIVIL_DAY),
	    "In two tanks: mild-b Mon 6 Apr and, once that has dried, hot-a "
	    "Tue 7 Apr");
	/* leaving one out: the earlier start is told first */
	assert_int_equal(helps[0].change, HELP_WITHOUT);
	assert_ptr_equal(helps[0].without, &week.product[0]);
	assert_ptr_equal(helps[1].without, &week.product[1]);
	assert_true(helps[0].start < helps[1].start);
	week_release(&week);
}

/* One person sprays: from 10 to 12 it is cool enough for one of them, at all
   other times warm enough for the other, and each takes two hours. */
static void
the_second_tank_waits_until_the_first_is_done(void **state)
{
	(void)state;
	struct week week;
	struct help helps[HELPS_MAX];
	week_init(&week);
	usual_rules(&week);
	week.limits.duration = 2 * HOUR;
	week_add(&week, ceiling(68), ORIGIN_LABEL, "hot-a");
	week_add(&week, warm_floor(22), ORIGIN_LABEL, "mild-b");
	fill(&week.series, MEASURE_AIR_TEMPERATURE, 24);
	put(&week.series, MEASURE_AIR_TEMPERATURE, day_of_week(0, 10),
	    day_of_week(0, 12), 20);
	size_t count = find_helps(&week, helps);
	const struct help *split = find_change(helps, count, HELP_SPLIT);
	assert_non_null(split);
	assert_tank(&split->first, "mild-b");
	assert_int_equal(split->start, first_light(&week, 0));
	assert_int_equal(split->second_start, day_of_week(0, 10));
	/* at 9 it would not be over by then: the other goes first */
	week.limits.now = day_of_week(0, 9);
	count = find_helps(&week, helps);
	split = find_change(helps, count, HELP_SPLIT);
	assert_non_null(split);
	assert_tank(&split->first, "hot-a");
	assert_int_equal(split->start, day_of_week(0, 10));
	assert_int_equal(split->second_start, day_of_week(0, 12));
	/* and when both have to be over by 13 there is no split */
	week.limits.before = day_of_week(0, 13);
	count = find_helps(&week, helps);
	assert_null(find_change(helps, count, HELP_SPLIT));
	week_release(&week);
}

static void
no_tank_is_split_when_a_start_is_open(void **state)
{
	(void)state;
	struct week week;
	struct help helps[HELPS_MAX];
	two_part_week(&week);
	/* Saturday suits both */
	set_days(&week, MEASURE_WIND, 5, 6, 2);
	size_t count = find_helps(&week, helps);
	assert_null(find_change(helps, count, HELP_SPLIT));
	/* but to leave one out would still open an earlier start */
	assert_int_equal(count, 2);
	assert_int_equal(helps[0].start, first_light(&week, 0));
	week_release(&week);
}

static void
a_split_that_leaves_a_tank_without_a_start_is_none(void **state)
{
	(void)state;
	struct week week;
	struct help helps[HELPS_MAX];
	two_part_week(&week);
	/* what nobody relaxes: practice shuts the cold days */
	week_add(&week, warm_floor(12), ORIGIN_PRACTICE, "practice");
	size_t count = find_helps(&week, helps);
	assert_int_equal(count, 1);
	assert_ptr_equal(helps[0].without, &week.product[0]);
	week_release(&week);
}

static void
add_to_tank(struct week *week, size_t product)
{
	struct tank_mix *tank = &week->job.tank;
	tank->dose[tank->count++].product = &week->product[product];
}

/* The adjuvant's own rules bind both tanks. */
static void
an_adjuvant_goes_with_each_tank(void **state)
{
	(void)state;
	struct week week;
	struct help helps[HELPS_MAX];
	two_part_week(&week);
	add_to_tank(&week, 3);
	week.product[0].adjuvant = ADJUVANT_REQUIRED;
	size_t count = find_helps(&week, helps);
	const struct help *split = find_change(helps, count, HELP_SPLIT);
	assert_non_null(split);
	assert_tank(&split->first, "mild-b + surfactant-n");
	assert_tank(&split->second, "hot-a + surfactant-n");
	/* whose label counts its applications may not go into both */
	struct rule yearly = { .name = "season-count",
		.measure = MEASURE_SEASON_COUNT };
	week.product[3].rules = &yearly;
	week.product[3].rule_count = 1;
	count = find_helps(&week, helps);
	assert_null(find_change(helps, count, HELP_SPLIT));
	week.product[3].rule_count = 0;
	week_add(&week, ceiling(68), ORIGIN_LABEL, "surfactant-n");
	count = find_helps(&week, helps);
	assert_null(find_change(helps, count, HELP_SPLIT));
	/* a label that forbids adjuvants frees its tank from that rule */
	week.product[1].adjuvant = ADJUVANT_FORBIDDEN;
	count = find_helps(&week, helps);
	split = find_change(helps, count, HELP_SPLIT);
	assert_non_null(split);
	assert_tank(&split->first, "mild-b");
	assert_tank(&split->second, "hot-a + surfactant-n");
	week_release(&week);
}

/* Without what it is sprayed for a tank is no help, though a dye has no rule.
 */
static void
a_dye_alone_is_no_tank(void **state)
{
	(void)state;
	struct week week;
	struct help helps[HELPS_MAX];
	week_init(&week);
	usual_rules(&week);
	week.job.tank.count = 1;
	add_to_tank(&week, 3);
	week.product[3].kind = PRODUCT_OTHER;
	week_add(&week, ceiling(50), ORIGIN_LABEL, week.product[0].name);
	assert_int_equal(find_helps(&week, helps), 0);
	week.product[3].kind = PRODUCT_HERBICIDE;
	assert_int_equal(find_helps(&week, helps), 1);
	week_release(&week);
}

/* Nor is what remains nothing but an adjuvant. */
static void
an_adjuvant_that_a_label_wants_is_not_left_out(void **state)
{
	(void)state;
	struct week week;
	struct help helps[HELPS_MAX];
	week_init(&week);
	usual_rules(&week);
	week.job.tank.count = 1;
	add_to_tank(&week, 3);
	week_add(&week, ceiling(50), ORIGIN_LABEL, "surfactant-n");
	assert_int_equal(find_helps(&week, helps), 1);
	assert_ptr_equal(helps[0].without, &week.product[3]);
	week.product[0].adjuvant = ADJUVANT_REQUIRED;
	assert_int_equal(find_helps(&week, helps), 0);
	week_release(&week);
	/* the only product that does anything stands in the way */
	week_init(&week);
	usual_rules(&week);
	week.job.tank.count = 1;
	add_to_tank(&week, 3);
	fill(&week.series, MEASURE_AIR_TEMPERATURE, 31);
	assert_int_equal(find_helps(&week, helps), 0);
	week_release(&week);
}

/* Of three, one is in the way of the other two. */
static void
one_product_is_split_from_the_rest(void **state)
{
	(void)state;
	struct week week;
	struct help helps[HELPS_MAX];
	two_part_week(&week);
	add_to_tank(&week, 2);
	week_add(&week, ceiling(60), ORIGIN_LABEL, "cold-c");
	size_t count = find_helps(&week, helps);
	const struct help *split = find_change(helps, count, HELP_SPLIT);
	assert_int_equal(count, 2);
	assert_non_null(split);
	assert_ptr_equal(helps[0].without, &week.product[1]);
	assert_tank(&split->first, "mild-b");
	assert_tank(&split->second, "hot-a + cold-c");
	week_release(&week);
}

/* Alone, the second one is judged by practice that the first one replaced. */
static void
a_tank_that_practice_was_not_judged_for_is_not_offered(void **state)
{
	(void)state;
	struct week week;
	struct help helps[HELPS_MAX];
	const char *overrides[] = { "wind-maximum" };
	struct rule any = ceiling(85);
	two_part_week(&week);
	week.product[0].overrides = overrides;
	week.product[0].override_count = 1;
	week.product[0].rules = &any;
	week.product[0].rule_count = 1;
	size_t count = find_helps(&week, helps);
	assert_null(find_change(helps, count, HELP_SPLIT));
	assert_int_equal(count, 1);
	assert_ptr_equal(helps[0].without, &week.product[1]);
	/* with rules of its own and no word on the wind it had to be judged by
	   practice in the whole tank, too */
	week.product[1].rules = &any;
	week.product[1].rule_count = 1;
	count = find_helps(&week, helps);
	assert_non_null(find_change(helps, count, HELP_SPLIT));
	assert_int_equal(count, 3);
	week_release(&week);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(
		    leaving_out_the_hot_product_opens_the_first_day),
		cmocka_unit_test(what_remains_in_the_tank_is_never_relaxed),
		cmocka_unit_test(a_single_product_cannot_be_left_out),
		cmocka_unit_test(
		    a_product_that_replaces_practice_is_not_offered),
		cmocka_unit_test(the_preferred_hours_may_be_set_aside),
		cmocka_unit_test(an_open_start_is_no_help),
		cmocka_unit_test(
		    a_tank_is_split_in_the_order_that_is_done_first),
		cmocka_unit_test(the_second_tank_waits_until_the_first_is_done),
		cmocka_unit_test(no_tank_is_split_when_a_start_is_open),
		cmocka_unit_test(
		    a_split_that_leaves_a_tank_without_a_start_is_none),
		cmocka_unit_test(an_adjuvant_goes_with_each_tank),
		cmocka_unit_test(a_dye_alone_is_no_tank),
		cmocka_unit_test(
		    an_adjuvant_that_a_label_wants_is_not_left_out),
		cmocka_unit_test(one_product_is_split_from_the_rest),
		cmocka_unit_test(
		    a_tank_that_practice_was_not_judged_for_is_not_offered),
	};
	return RUN_TESTS(tests);
}
