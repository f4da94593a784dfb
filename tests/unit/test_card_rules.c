/* The short names for the season, the ground, the light and what is done to
   the turf. */
#include "unit/card_fixture.h"

#define LEAST(what, amount)                                                    \
	{                                                                      \
		.measure = (what), .fold = FOLD_MIN, .exposure = DURING,       \
		.bound = BOUND_AT_LEAST, .limit = (amount)                     \
	}
#define MOST(what, amount)                                                     \
	{                                                                      \
		.measure = (what), .fold = FOLD_MAX, .exposure = DURING,       \
		.bound = BOUND_AT_MOST, .limit = (amount)                      \
	}

static const struct row limits[] = {
	{ "humidity-minimum", { "40 %" }, 1, { LEAST(MEASURE_HUMIDITY, 40) } },
	{ "humidity-maximum", { "at most 90 %" }, 1,
	    { MOST(MEASURE_HUMIDITY, 90) } },
	{ "humidity-maximum", { "at least 90 %" }, -1, { { 0 } } },
	{ "humidity-maximum", { "101 %" }, -1, { { 0 } } },
	{ "soil-minimum", { "at least 50 degF" }, 1,
	    { LEAST(MEASURE_SOIL, 10) } },
	{ "soil-maximum", { "below 12 degC" }, 1,
	    { { .measure = MEASURE_SOIL,
		.fold = FOLD_MAX,
		.exposure = DURING,
		.bound = BOUND_BELOW,
		.limit = 12 } } },
	/* a degree day of Fahrenheit's is 5/9 of the other */
	{ "degree-days-minimum", { "90 degF" }, 1,
	    { LEAST(MEASURE_DEGREE_DAYS, 50) } },
	{ "degree-days-maximum", { "at most 200 degF" }, 1,
	    { MOST(MEASURE_DEGREE_DAYS, 200 / 1.8) } },
	{ "degree-days-maximum", { "200" }, -1, { { 0 } } },
	{ "after-sunrise", { "1 h" }, 1,
	    { LEAST(MEASURE_SINCE_SUNRISE, HOUR) } },
	{ "before-sunset", { "2 h" }, 1,
	    { LEAST(MEASURE_UNTIL_SUNSET, 2 * HOUR) } },
	{ "after-sunrise", { "13 h" }, -1, { { 0 } } },
	{ "not-frozen", { "yes" }, 1,
	    { { .measure = MEASURE_SOIL,
		.fold = FOLD_MIN,
		.exposure = DURING,
		.bound = BOUND_ABOVE } } },
	{ "no-dew", { "yes" }, 1, { NOT(MEASURE_LEAF_WET) } },
	{ "no-dew", { "no" }, 0, { { 0 } } },
	{ "no-drift", { "yes" }, 1, { NOT(MEASURE_DRIFT) } },
};

static void
limits_of_air_soil_and_light_hold_during_the_job(void **state)
{
	(void)state;
	check_rows(limits, COUNT(limits));
}

static const struct row waters[] = {
	{ "no-frost", { "24 h" }, 1,
	    { { .measure = MEASURE_FREEZE,
		.fold = FOLD_ANY,
		.exposure = { { ANCHOR_START, 0 }, { ANCHOR_END, DAY } } } } },
	{ "no-frost", { "0 h" }, 1, { NOT(MEASURE_FREEZE) } },
	/* a house proxy: an inch in the day before */
	{ "not-saturated", { "yes" }, 1,
	    { { .measure = MEASURE_RAIN,
		.fold = FOLD_SUM,
		.exposure = { { ANCHOR_START, -DAY }, { ANCHOR_START, 0 } },
		.limit = 25.4 } } },
	{ "not-saturated", { "no" }, 0, { { 0 } } },
	{ "runoff-rain", { "at most 0.5 in within 48 h" }, 1,
	    { { .measure = MEASURE_RAIN,
		.fold = FOLD_SUM,
		.exposure = { { ANCHOR_END, 0 }, { ANCHOR_END, 2 * DAY } },
		.limit = 12.7 } } },
	{ "runoff-rain", { "below 10 mm within 1 d" }, 1,
	    { { .measure = MEASURE_RAIN,
		.fold = FOLD_SUM,
		.exposure = { { ANCHOR_END, 0 }, { ANCHOR_END, DAY } },
		.bound = BOUND_BELOW,
		.limit = 10 } } },
	{ "runoff-rain", { "at least 0.5 in within 48 h" }, -1, { { 0 } } },
	{ "runoff-rain", { "0.5 in" }, -1, { { 0 } } },
	{ "runoff-rain", { "0.5 in within" }, -1, { { 0 } } },
	{ "runoff-rain", { "0 in within 48 h" }, -1, { { 0 } } },
};

static void
water_and_frost_look_before_and_behind(void **state)
{
	(void)state;
	check_rows(waters, COUNT(waters));
}

static const struct row holds[] = {
	{ "since-mowing", { "2 d" }, 1,
	    { LEAST(MEASURE_SINCE_MOWING, 2 * DAY) } },
	{ "since-seeding", { "60 d" }, 1,
	    { LEAST(MEASURE_SINCE_SEEDING, 60 * DAY) } },
	{ "since-sodding", { "90 d" }, 1,
	    { LEAST(MEASURE_SINCE_SODDING, 90 * DAY) } },
	{ "since-overseeding", { "30 d" }, 1,
	    { LEAST(MEASURE_SINCE_OVERSEEDING, 30 * DAY) } },
	{ "since-aerating", { "1 wk" }, 1,
	    { LEAST(MEASURE_SINCE_AERATING, 7 * DAY) } },
	{ "until-mowing", { "36 h" }, 1,
	    { LEAST(MEASURE_UNTIL_MOWING, 36 * HOUR) } },
	{ "until-seeding", { "365 d" }, 1,
	    { LEAST(MEASURE_UNTIL_SEEDING, 365 * DAY) } },
	{ "until-overseeding", { "21 d" }, 1,
	    { LEAST(MEASURE_UNTIL_OVERSEEDING, 21 * DAY) } },
	{ "until-aerating", { "90 d" }, 1,
	    { LEAST(MEASURE_UNTIL_AERATING, 90 * DAY) } },
	{ "until-irrigation", { "24 h" }, 1,
	    { LEAST(MEASURE_UNTIL_IRRIGATION, DAY) } },
	{ "until-irrigation", { "0 h" }, -1, { { 0 } } },
	{ "since-mowing", { "2" }, -1, { { 0 } } },
	{ "mowings-since-seeding", { "3" }, 1, { LEAST(MEASURE_MOWINGS, 3) } },
	{ "mowings-since-seeding", { "2.5" }, -1, { { 0 } } },
	{ "mowings-since-seeding", { "0" }, -1, { { 0 } } },
};

static void
what_is_done_to_the_turf_keeps_its_distance(void **state)
{
	(void)state;
	check_rows(holds, COUNT(holds));
}

/* a pint is 0.473176473 L, a pound 453.59237 g, an acre 4046.8564224 m2 */
static const struct row seasons[] = {
	{ "re-treatment-maximum", { "56 d" }, 1,
	    { MOST(MEASURE_DAYS_WAITED, 56) } },
	{ "re-treatment-maximum", { "36 h" }, -1, { { 0 } } },
	{ "season-count", { "2" }, 1, { MOST(MEASURE_SEASON_COUNT, 2) } },
	{ "season-count", { "0" }, -1, { { 0 } } },
	{ "season-count", { "1.5" }, -1, { { 0 } } },
	{ "season-amount", { "4 pt/acre" }, 1,
	    { { .measure = MEASURE_SEASON_AMOUNT,
		.fold = FOLD_MAX,
		.exposure = DURING,
		.limit = 4 * 0.473176473 / 4046.8564224,
		.is_volume = true } } },
	{ "season-amount", { "2 lb/acre" }, 1,
	    { MOST(MEASURE_SEASON_AMOUNT, 2 * 453.59237 / 4046.8564224) } },
	{ "season-amount", { "0.5 %" }, -1, { { 0 } } },
	{ "season-amount", { "at most 2 lb/acre" }, -1, { { 0 } } },
	{ "active-maximum", { "atrazine 2 lb/acre", "2,4-D 1 g/m2" }, 2,
	    { { .measure = MEASURE_SEASON_ACTIVE,
		  .fold = FOLD_MAX,
		  .exposure = DURING,
		  .limit = 2 * 453.59237 / 4046.8564224,
		  .subject = "atrazine" },
		{ .measure = MEASURE_SEASON_ACTIVE,
		    .fold = FOLD_MAX,
		    .exposure = DURING,
		    .limit = 1,
		    .subject = "2,4-D" } } },
	{ "active-maximum", { "atrazine" }, -1, { { 0 } } },
	{ "active-maximum", { "atrazine 2 pt/acre" }, -1, { { 0 } } },
	{ "active-maximum", { "atrazine 2 lb/acre", "x 0 g/m2" }, -1,
	    { { 0 } } },
	{ "dates", { "02-15 to 05-31", "09-01 to 11-15" }, 1,
	    { LEAST(MEASURE_DATES, 1) } },
	{ "dates", { "02-15 to 05-31", "later" }, -1, { { 0 } } },
};

static void
a_season_is_counted_and_summed(void **state)
{
	(void)state;
	check_rows(seasons, COUNT(seasons));
}

static const struct row sentences[] = {
	{ "rules",
	    { "highest air-temperature from midnight to midnight + 3 d below "
	      "30 degC",
		"no freeze from midnight - 1 d to start" },
	    2,
	    { { .measure = MEASURE_AIR_TEMPERATURE,
		  .fold = FOLD_MAX,
		  .exposure = { { ANCHOR_MIDNIGHT, 0 },
		      { ANCHOR_MIDNIGHT, 3 } },
		  .bound = BOUND_BELOW,
		  .limit = 30 },
		{ .measure = MEASURE_FREEZE,
		    .fold = FOLD_ANY,
		    .exposure = { { ANCHOR_MIDNIGHT, -1 },
			{ ANCHOR_START, 0 } } } } },
	{ "rules", { "no freeze that day", "hot days are bad" }, -1,
	    { { 0 } } },
};

static void
sentences_are_rules_each(void **state)
{
	(void)state;
	check_rows(sentences, COUNT(sentences));
}

static const struct row none[] = {
	{ "rain-free", { "none on label" }, 0, { { 0 } } },
	{ "temperature-ceiling", { "none on label" }, 0, { { 0 } } },
	{ "temperature-floor", { "none on label" }, 0, { { 0 } } },
	{ "season-count", { "none on label" }, 0, { { 0 } } },
	{ "wind-maximum", { "none on label" }, -1, { { 0 } } },
	{ "season-amount", { "none on label" }, -1, { { 0 } } },
	{ "rain-free", { "None on label" }, -1, { { 0 } } },
	{ "rain-free", { "none" }, -1, { { 0 } } },
};

static void
the_essentials_may_be_none_on_the_label(void **state)
{
	(void)state;
	check_rows(none, COUNT(none));
}

/* Each rule of a list has its own words; the others share the first's. */
static void
rules_carry_the_words_and_the_place(void **state)
{
	(void)state;
	struct arena arena = { 0 };
	struct rule rules[CARD_RULES_MAX];
	const struct said lists[] = { { "no wet that day", "dry", "page 1" },
		{ "no freeze that day", "warm", NULL } };
	const struct said turf[] = { { "dormant", "when dormant", "page 2" } };
	assert_int_equal(
	    card_expand(&arena, setting_find(PLACE_PRODUCT, "rules"), lists, 2,
		rules, NULL),
	    2);
	assert_string_equal(rules[0].wording, "dry");
	assert_string_equal(rules[0].source, "page 1");
	assert_string_equal(rules[1].wording, "warm");
	assert_string_equal(rules[1].source, "");
	assert_int_equal(
	    card_expand(&arena, setting_find(PLACE_PRODUCT, "turf"), turf, 1,
		rules, NULL),
	    2);
	for (int i = 0; i < 2; i++) {
		assert_string_equal(rules[i].wording, "when dormant");
		assert_string_equal(rules[i].source, "page 2");
	}
	arena_release(&arena);
}

static void
leaves_output_alone_on_failure(void **state)
{
	(void)state;
	struct arena arena = { 0 };
	struct error error = { 0 };
	struct rule rules[CARD_RULES_MAX] = { { .limit = 4711 } };
	struct said said[CARD_RULES_MAX + 1] = { { "no wet that day", "", "" },
		{ "nonsense", NULL, NULL } };
	const struct setting *setting = setting_find(PLACE_PRODUCT, "rules");
	assert_int_equal(
	    card_expand(&arena, setting, said, 2, rules, &error), -1);
	assert_contains(error.text, "nonsense");
	assert_close(rules[0].limit, 4711, 0);
	for (size_t i = 0; i < COUNT(said); i++)
		said[i].value = "no wet that day";
	assert_int_equal(
	    card_expand(&arena, setting, said, COUNT(said), rules, &error), -1);
	assert_contains(error.text, "more than 12");
	assert_close(rules[0].limit, 4711, 0);
	assert_int_equal(
	    card_expand(&arena, setting, said, COUNT(said) - 1, rules, &error),
	    CARD_RULES_MAX);
	arena_release(&arena);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(
		    limits_of_air_soil_and_light_hold_during_the_job),
		cmocka_unit_test(water_and_frost_look_before_and_behind),
		cmocka_unit_test(what_is_done_to_the_turf_keeps_its_distance),
		cmocka_unit_test(a_season_is_counted_and_summed),
		cmocka_unit_test(sentences_are_rules_each),
		cmocka_unit_test(the_essentials_may_be_none_on_the_label),
		cmocka_unit_test(rules_carry_the_words_and_the_place),
		cmocka_unit_test(leaves_output_alone_on_failure),
	};
	return RUN_TESTS(tests);
}
