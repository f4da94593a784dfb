/* What follows from an application. The days are counted on a calendar. */
#include "unit/follow_fixture.h"

static const struct follow *
find(const struct sprayed *sprayed, enum follow_kind kind)
{
	for (size_t i = 0; i < sprayed->count; i++)
		if (sprayed->follow[i].kind == kind)
			return &sprayed->follow[i];
	return NULL;
}

static void
a_silent_card_asks_for_the_usual_keep_off_alone(void **state)
{
	(void)state;
	struct sprayed sprayed;
	begin_sprayed(&sprayed);
	list_follows(&sprayed);
	assert_int_equal(sprayed.count, 1);
	assert_int_equal(sprayed.follow[0].kind, FOLLOW_KEEP_OFF);
	assert_int_equal(sprayed.follow[0].from, local_2026(4, 14, 9, 5));
	assert_int_equal(sprayed.follow[0].to, local_2026(4, 14, 13, 5));
}

static void
the_longest_keep_off_of_the_tank_counts(void **state)
{
	(void)state;
	struct sprayed sprayed;
	begin_sprayed(&sprayed);
	sprayed.product[0].keep_off = 2 * HOUR;
	sprayed.product[1].keep_off = 6 * HOUR;
	list_follows(&sprayed);
	assert_int_equal(sprayed.follow[0].to, local_2026(4, 14, 15, 5));
	/* a card that says less than the keeper's usual is still a label */
	sprayed.product[1].keep_off = 0;
	list_follows(&sprayed);
	assert_int_equal(sprayed.follow[0].to, local_2026(4, 14, 11, 5));
}

static void
holds_last_from_the_end_of_the_job(void **state)
{
	(void)state;
	static const struct {
		enum measure measure;
		enum follow_kind kind;
	} rows[] = { { MEASURE_UNTIL_IRRIGATION, FOLLOW_IRRIGATION },
		{ MEASURE_UNTIL_MOWING, FOLLOW_MOWING },
		{ MEASURE_UNTIL_AERATING, FOLLOW_AERATING },
		{ MEASURE_UNTIL_OVERSEEDING, FOLLOW_OVERSEEDING },
		{ MEASURE_UNTIL_SEEDING, FOLLOW_SEEDING } };
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		struct sprayed sprayed;
		begin_sprayed(&sprayed);
		add_card_rule(
		    &sprayed, rows[i].measure, BOUND_AT_LEAST, 24.0 * HOUR);
		add_card_rule(
		    &sprayed, rows[i].measure, BOUND_AT_LEAST, 48.0 * HOUR);
		/* a ceiling holds nothing up */
		add_card_rule(
		    &sprayed, rows[i].measure, BOUND_AT_MOST, 96.0 * HOUR);
		list_follows(&sprayed);
		assert_int_equal(sprayed.count, 2);
		const struct follow *hold = find(&sprayed, rows[i].kind);
		assert_non_null(hold);
		assert_ptr_equal(hold->product, &sprayed.product[0]);
		assert_int_equal(hold->from, local_2026(4, 14, 9, 5));
		assert_int_equal(hold->to, local_2026(4, 16, 9, 5));
	}
}

/* Five to six weeks until a slow product shows: common practice, no source. */
static void
the_look_comes_when_the_effect_shows(void **state)
{
	(void)state;
	struct sprayed sprayed;
	begin_sprayed(&sprayed);
	sprayed.product[0].effect = 35.0 * DAY;
	list_follows(&sprayed);
	const struct follow *look = find(&sprayed, FOLLOW_LOOK);
	assert_non_null(look);
	assert_int_equal(look->from, local_2026(5, 19, 9, 5));
}

/* Local days, whatever the hour: as the rule re-treatment counts them. */
static void
a_second_application_lies_between_two_days(void **state)
{
	(void)state;
	struct sprayed sprayed;
	begin_sprayed(&sprayed);
	sprayed.product[0].retreatment = 42;
	list_follows(&sprayed);
	const struct follow *again = find(&sprayed, FOLLOW_AGAIN);
	assert_non_null(again);
	assert_int_equal(again->from, local_2026(5, 26, 0, 0));
	assert_int_equal(again->to, INT64_MAX);
	add_card_rule(&sprayed, MEASURE_DAYS_WAITED, BOUND_AT_MOST, 70);
	list_follows(&sprayed);
	again = find(&sprayed, FOLLOW_AGAIN);
	assert_int_equal(again->to, local_2026(6, 24, 0, 0));
}

static void
days_are_counted_over_a_change_of_the_clock(void **state)
{
	(void)state;
	struct sprayed sprayed;
	begin_sprayed(&sprayed);
	sprayed.facts.from = local_2026(10, 30, 8, 0);
	sprayed.facts.to = local_2026(10, 30, 9, 0);
	sprayed.product[0].retreatment = 7;
	list_follows(&sprayed);
	assert_int_equal(
	    find(&sprayed, FOLLOW_AGAIN)->from, local_2026(11, 6, 0, 0));
}

static void
record(
    struct sprayed *sprayed, const char *site, const char *product, int64_t at)
{
	sprayed->application[sprayed->facts.application_count++] =
	    (struct application){ .site = site, .product = product, .at = at };
}

static void
it_is_not_told_again_once_it_was_done(void **state)
{
	(void)state;
	struct sprayed sprayed;
	begin_sprayed(&sprayed);
	sprayed.product[0].retreatment = 42;
	record(&sprayed, "front", "su-b", sprayed.facts.from); /* itself */
	record(&sprayed, "back", "su-b", local_2026(5, 27, 8, 0));
	record(&sprayed, "front", "pre-g", local_2026(5, 27, 8, 0));
	list_follows(&sprayed);
	assert_non_null(find(&sprayed, FOLLOW_AGAIN));
	record(&sprayed, "front", "su-b", local_2026(5, 27, 8, 0));
	list_follows(&sprayed);
	assert_null(find(&sprayed, FOLLOW_AGAIN));
}

static void
a_season_that_is_used_up_has_no_second_application(void **state)
{
	(void)state;
	struct sprayed sprayed;
	begin_sprayed(&sprayed);
	sprayed.product[0].retreatment = 42;
	add_card_rule(&sprayed, MEASURE_SEASON_COUNT, BOUND_AT_MOST, 2);
	record(&sprayed, "front", "su-b", sprayed.facts.from);
	list_follows(&sprayed);
	assert_non_null(find(&sprayed, FOLLOW_AGAIN));
	record(&sprayed, "front", "su-b", local_2026(2, 1, 8, 0));
	list_follows(&sprayed);
	assert_null(find(&sprayed, FOLLOW_AGAIN));
	/* the next year has a season of its own */
	sprayed.product[0].retreatment = 300;
	list_follows(&sprayed);
	assert_non_null(find(&sprayed, FOLLOW_AGAIN));
}

/* Days are whole, and close with the last; two days or less are hours. */
static void
water_is_wanted_for_days_or_for_hours(void **state)
{
	(void)state;
	static const struct {
		double within, not_before;
		int month, day, hour, minute;
	} rows[] = {
		{ 14.0 * DAY, 0, 4, 29, 0, 0 },
		{ 7.0 * DAY, 24.0 * HOUR, 4, 22, 0, 0 },
		{ 48.0 * HOUR, 0, 4, 16, 9, 5 },
		{ 60.0 * HOUR, 0, 4, 16, 21, 5 },
	};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		struct sprayed sprayed;
		begin_sprayed(&sprayed);
		sprayed.product[1].water = (struct water_wanted){ 12.7,
			rows[i].within, rows[i].not_before };
		list_follows(&sprayed);
		const struct follow *water = find(&sprayed, FOLLOW_WATER);
		assert_non_null(water);
		assert_ptr_equal(water->product, &sprayed.product[1]);
		assert_int_equal(water->from,
		    sprayed.facts.to + (int64_t)rows[i].not_before);
		assert_int_equal(
		    water->to, local_2026(rows[i].month, rows[i].day,
				   rows[i].hour, rows[i].minute));
	}
}

static void
a_stock_solution_goes_with_its_day_unless_the_card_says(void **state)
{
	(void)state;
	const struct zone zone = chicago();
	struct product product = { .name = "su-b" };
	int64_t made = local_2026(4, 14, 7, 30);
	int64_t midnight = local_2026(4, 15, 0, 0);
	assert_int_equal(solution_until(&product, &zone, made), midnight);
	assert_int_equal(solution_until(NULL, &zone, made), midnight);
	product.stock_keeps = 21.0 * DAY;
	assert_int_equal(
	    solution_until(&product, &zone, made), local_2026(5, 5, 7, 30));
}

static void
each_is_one_sentence(void **state)
{
	(void)state;
	static const char *const says[] = {
		"keep off until Tue 14 Apr 13:05 and until dry",
		"mow again from Thu 16 Apr 09:05",
		"pre-g: 0.5 in of water from Tue 14 Apr 09:05 to Tue 28 Apr",
		"su-b: look at the result from Tue 19 May",
		"su-b: second application from Tue 26 May to Tue 23 Jun",
		"pre-g: not again before Sat 13 Jun",
	};
	struct sprayed sprayed;
	char buffer[FOLLOW_BUFFER];
	begin_sprayed(&sprayed);
	add_card_rule(
	    &sprayed, MEASURE_UNTIL_MOWING, BOUND_AT_LEAST, 48.0 * HOUR);
	add_card_rule(&sprayed, MEASURE_DAYS_WAITED, BOUND_AT_MOST, 70);
	sprayed.product[0].effect = 35.0 * DAY;
	sprayed.product[0].retreatment = 42;
	sprayed.product[1].retreatment = 60;
	sprayed.product[1].water = (struct water_wanted){ 12.7, 14.0 * DAY, 0 };
	list_follows(&sprayed);
	assert_int_equal(sprayed.count, sizeof says / sizeof says[0]);
	for (size_t i = 0; i < sprayed.count; i++)
		assert_string_equal(
		    follow_print(buffer, sizeof buffer, &sprayed.follow[i],
			&sprayed.site.zone, UNITS_US),
		    says[i]);
}

/* What is left of a second application is told in order, for any tank. */
static void
the_list_is_in_order_for_a_full_tank(void **state)
{
	(void)state;
	struct sprayed sprayed;
	struct product product[LIMIT_TANK_PRODUCTS];
	begin_sprayed(&sprayed);
	sprayed.tank.count = LIMIT_TANK_PRODUCTS;
	for (size_t i = 0; i < LIMIT_TANK_PRODUCTS; i++) {
		product[i] = (struct product){ .name = "a",
			.effect = DAY,
			.retreatment = 7,
			.water = { 5, DAY, 0 } };
		sprayed.tank.dose[i].product = &product[i];
	}
	list_follows(&sprayed);
	assert_int_equal(sprayed.count, 1 + 3 * LIMIT_TANK_PRODUCTS);
	for (size_t i = 1; i < sprayed.count; i++)
		assert_true(
		    sprayed.follow[i].kind >= sprayed.follow[i - 1].kind);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(
		    a_silent_card_asks_for_the_usual_keep_off_alone),
		cmocka_unit_test(the_longest_keep_off_of_the_tank_counts),
		cmocka_unit_test(holds_last_from_the_end_of_the_job),
		cmocka_unit_test(the_look_comes_when_the_effect_shows),
		cmocka_unit_test(a_second_application_lies_between_two_days),
		cmocka_unit_test(days_are_counted_over_a_change_of_the_clock),
		cmocka_unit_test(it_is_not_told_again_once_it_was_done),
		cmocka_unit_test(
		    a_season_that_is_used_up_has_no_second_application),
		cmocka_unit_test(water_is_wanted_for_days_or_for_hours),
		cmocka_unit_test(
		    a_stock_solution_goes_with_its_day_unless_the_card_says),
		cmocka_unit_test(each_is_one_sentence),
		cmocka_unit_test(the_list_is_in_order_for_a_full_tank),
	};
	return RUN_TESTS(tests);
}
