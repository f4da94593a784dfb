/* Each short name of a card and the rules that it stands for. */
#include "unit/card_fixture.h"

#include "physics/sun.h"

/* 85 degF is 29.444 degC, 50 degF is 10; a mile per hour is 0.44704 m/s. */
static const struct row limits[] = {
	{ "temperature-ceiling", { "below 85 degF" }, 1,
	    { { .measure = MEASURE_AIR_TEMPERATURE,
		.fold = FOLD_MAX,
		.exposure = DURING,
		.bound = BOUND_BELOW,
		.limit = 53 / 1.8 } } },
	{ "temperature-ceiling", { "30 degC" }, 1,
	    { { .measure = MEASURE_AIR_TEMPERATURE,
		.fold = FOLD_MAX,
		.exposure = DURING,
		.bound = BOUND_AT_MOST,
		.limit = 30 } } },
	{ "temperature-floor", { "at least 50 degF" }, 1,
	    { { .measure = MEASURE_AIR_TEMPERATURE,
		.fold = FOLD_MIN,
		.exposure = DURING,
		.bound = BOUND_AT_LEAST,
		.limit = 10 } } },
	{ "temperature-floor", { "above 10 degC" }, 1,
	    { { .measure = MEASURE_AIR_TEMPERATURE,
		.fold = FOLD_MIN,
		.exposure = DURING,
		.bound = BOUND_ABOVE,
		.limit = 10 } } },
	{ "day-high", { "below 30 degC" }, 1,
	    { { .measure = MEASURE_AIR_TEMPERATURE,
		.fold = FOLD_MAX,
		.exposure = { { ANCHOR_MIDNIGHT, 0 }, { ANCHOR_MIDNIGHT, 1 } },
		.bound = BOUND_BELOW,
		.limit = 30 } } },
	/* "where the day gets to 15 degC": a floor under the same highest */
	{ "day-high", { "at least 15 degC" }, 1,
	    { { .measure = MEASURE_AIR_TEMPERATURE,
		.fold = FOLD_MAX,
		.exposure = { { ANCHOR_MIDNIGHT, 0 }, { ANCHOR_MIDNIGHT, 1 } },
		.bound = BOUND_AT_LEAST,
		.limit = 15 } } },
	{ "wind-minimum", { "at least 3 mph" }, 1,
	    { { .measure = MEASURE_WIND,
		.fold = FOLD_MIN,
		.exposure = DURING,
		.bound = BOUND_AT_LEAST,
		.limit = 1.34112 } } },
	{ "wind-maximum", { "10 mph" }, 1,
	    { { .measure = MEASURE_WIND,
		.fold = FOLD_MAX,
		.exposure = DURING,
		.bound = BOUND_AT_MOST,
		.limit = 4.4704 } } },
	{ "gust-maximum", { "at most 15 mph" }, 1,
	    { { .measure = MEASURE_GUST,
		.fold = FOLD_MAX,
		.exposure = DURING,
		.bound = BOUND_AT_MOST,
		.limit = 6.7056 } } },
	{ "delta-t-minimum", { "2 K" }, 1,
	    { { .measure = MEASURE_DELTA_T,
		.fold = FOLD_MIN,
		.exposure = DURING,
		.bound = BOUND_AT_LEAST,
		.limit = 2 } } },
	{ "delta-t-maximum", { "below 8 K" }, 1,
	    { { .measure = MEASURE_DELTA_T,
		.fold = FOLD_MAX,
		.exposure = DURING,
		.bound = BOUND_BELOW,
		.limit = 8 } } },
};

static void
a_limit_is_a_fold_during_the_job(void **state)
{
	(void)state;
	check_rows(limits, COUNT(limits));
}

static const struct row spans[] = {
	{ "rain-free", { "12 h" }, 1,
	    { { .measure = MEASURE_WET,
		.fold = FOLD_ANY,
		.exposure = { { ANCHOR_START, 0 }, { ANCHOR_END, 12 * HOUR } },
		.bound = BOUND_AT_MOST } } },
	{ "rain-free", { "0 h" }, 1, /* dry during the job all the same */
	    { { .measure = MEASURE_WET,
		.fold = FOLD_ANY,
		.exposure = DURING,
		.bound = BOUND_AT_MOST } } },
	{ "dry-leaf", { "2 h" }, 1,
	    { { .measure = MEASURE_WET,
		.fold = FOLD_ANY,
		.exposure = { { ANCHOR_START, -2 * HOUR },
		    { ANCHOR_START, 0 } },
		.bound = BOUND_AT_MOST } } },
	{ "dry-leaf", { "0 h" }, 0, { { 0 } } },
	{ "re-treatment", { "21 d" }, 1,
	    { { .measure = MEASURE_DAYS_SINCE,
		.fold = FOLD_MIN,
		.exposure = DURING,
		.bound = BOUND_AT_LEAST,
		.limit = 21 } } },
	{ "re-treatment", { "3 wk" }, 1,
	    { { .measure = MEASURE_DAYS_SINCE,
		.fold = FOLD_MIN,
		.exposure = DURING,
		.bound = BOUND_AT_LEAST,
		.limit = 21 } } },
	{ "daylight", { "yes" }, 1,
	    { { .measure = MEASURE_SUN_HEIGHT,
		.fold = FOLD_MIN,
		.exposure = DURING,
		.bound = BOUND_AT_LEAST,
		.limit = SUN_HEIGHT_HORIZON } } },
	{ "daylight", { "no" }, 0, { { 0 } } },
	{ "daylight", { "maybe" }, -1, { { 0 } } },
};

static void
spans_and_answers_are_whole_rules(void **state)
{
	(void)state;
	check_rows(spans, COUNT(spans));
}

/* What is not on the list may not be there at all. */
static const struct row turfs[] = {
	{ "turf", { "dormant" }, 2,
	    { NOT(MEASURE_GREEN_UP), NOT(MEASURE_GREEN) } },
	{ "turf", { "green" }, 2,
	    { NOT(MEASURE_DORMANT), NOT(MEASURE_GREEN_UP) } },
	{ "turf", { "green-up" }, 2,
	    { NOT(MEASURE_DORMANT), NOT(MEASURE_GREEN) } },
	{ "turf", { "green", "dormant" }, 1, { NOT(MEASURE_GREEN_UP) } },
	{ "turf", { "green", "green" }, 2,
	    { NOT(MEASURE_DORMANT), NOT(MEASURE_GREEN_UP) } },
	{ "turf", { "green-up", "green", "dormant" }, 0, { { 0 } } },
	{ "turf", { "green", "brown" }, -1, { { 0 } } },
	{ "turf", { "" }, -1, { { 0 } } },
	{ "turf", { NULL }, -1, { { 0 } } },
};

static void
turf_forbids_the_states_that_it_leaves_out(void **state)
{
	(void)state;
	check_rows(turfs, COUNT(turfs));
}

/* What is looked for must not be there at all during the job. */
static const struct row dangers[] = {
	{ "no-inversion", { "yes" }, 1, { NOT(MEASURE_INVERSION) } },
	{ "no-inversion", { "no" }, 0, { { 0 } } },
	{ "no-inversion", { "never" }, -1, { { 0 } } },
	{ "no-alert", { "yes" }, 5,
	    { NOT(MEASURE_ALERT_WIND), NOT(MEASURE_ALERT_FREEZE),
		NOT(MEASURE_ALERT_HEAT), NOT(MEASURE_ALERT_FLOOD),
		NOT(MEASURE_ALERT_SMOKE) } },
	{ "no-alert", { "no" }, 0, { { 0 } } },
	{ "no-alert", { "wind" }, -1, { { 0 } } },
};

static void
dangers_are_forbidden_by_a_yes(void **state)
{
	(void)state;
	check_rows(dangers, COUNT(dangers));
}

static const struct row wrong_ways[] = {
	{ "temperature-ceiling", { "at least 85 degF" }, -1, { { 0 } } },
	{ "temperature-ceiling", { "above 85 degF" }, -1, { { 0 } } },
	{ "temperature-floor", { "at most 50 degF" }, -1, { { 0 } } },
	{ "temperature-floor", { "below 50 degF" }, -1, { { 0 } } },
	{ "wind-minimum", { "at most 3 mph" }, -1, { { 0 } } },
	{ "wind-maximum", { "at least 10 mph" }, -1, { { 0 } } },
	{ "gust-maximum", { "above 15 mph" }, -1, { { 0 } } },
	{ "delta-t-minimum", { "below 2 K" }, -1, { { 0 } } },
	{ "delta-t-maximum", { "at least 8 K" }, -1, { { 0 } } },
};

static void
a_floor_word_on_a_ceiling_is_refused(void **state)
{
	(void)state;
	check_rows(wrong_ways, COUNT(wrong_ways));
	struct rule rules[CARD_RULES_MAX] = { { .limit = 4711 } };
	struct error error = { 0 };
	struct arena arena = { 0 };
	static const char *const values[ROWS_VALUES] = { "at least 85 degF" };
	assert_int_equal(
	    expand(&arena, "temperature-ceiling", values, rules, &error), -1);
	assert_contains(error.text, "ceiling");
	assert_contains(error.text, "at most");
	assert_close(rules[0].limit, 4711, 0);
}

static const struct row nonsense[] = {
	{ "temperature-ceiling", { "85 mph" }, -1, { { 0 } } },
	{ "temperature-ceiling", { "85" }, -1, { { 0 } } },
	{ "temperature-ceiling", { "850 degF" }, -1, { { 0 } } },
	{ "rain-free", { "12 hours of" }, -1, { { 0 } } },
	{ "rain-free", { "at least 12 h" }, -1, { { 0 } } },
	{ "rain-free", { "15 d" }, -1, { { 0 } } },
	{ "re-treatment", { "36 h" }, -1, { { 0 } } },
	{ "dry-leaf", { "-2 h" }, -1, { { 0 } } },
	{ "wind-maximum", { "40 m/s" }, -1, { { 0 } } },
	{ "re-treatment", { "0 d" }, -1, { { 0 } } },
};

static void
what_is_no_limit_is_refused(void **state)
{
	(void)state;
	check_rows(nonsense, COUNT(nonsense));
}

/* Every setting that is a rule expands, from its own example. */
static void
the_examples_of_the_table_expand(void **state)
{
	(void)state;
	int rules = 0, practice = 0, expanded = 0;
	for (size_t i = 0; setting_at(i) != NULL; i++) {
		const struct setting *setting = setting_at(i);
		struct rule ret[CARD_RULES_MAX];
		struct error error = { 0 };
		struct arena arena = { 0 };
		const char *values[ROWS_VALUES] = { setting->example };
		if (setting->place != PLACE_PRODUCT ||
		    !card_is_rule(setting->name))
			continue;
		int count = expand(&arena, setting->name, values, ret, &error);
		if (count <= 0)
			fail_msg("%s: %s", setting->name, error.text);
		if (card_is_practice(setting->name))
			practice += count;
		expanded += count;
		rules++;
		arena_release(&arena);
	}
	assert_int_equal(rules, 46);
	/* a card with all of it has room for more in its lists */
	assert_true(expanded <= LIMIT_CARD_RULES - 8);
	/* A tank of full cards, all of practice and the preferred hours. */
	assert_true(LIMIT_TANK_PRODUCTS * LIMIT_CARD_RULES + practice + 1 <=
		    LIMIT_RULES);
}

static void
other_settings_are_no_rules(void **state)
{
	(void)state;
	static const char *const others[] = { "label", "formulation", "rate",
		"keep-off", "label-rules", "hours", "wind-height", "water-in",
		"", "Rain-free" };
	for (size_t i = 0; i < COUNT(others); i++) {
		assert_false(card_is_rule(others[i]));
		assert_false(card_is_practice(others[i]));
	}
	struct rule ret[CARD_RULES_MAX];
	struct error error = { 0 };
	struct arena arena = { 0 };
	const char *values[ROWS_VALUES] = { "x" };
	assert_int_equal(expand(&arena, "label", values, ret, &error), -1);
	assert_int_equal(error.kind, ERROR_INPUT);
}

/* What a label alone can know, or only a label may say. */
static void
practice_may_set_what_holds_for_every_product(void **state)
{
	(void)state;
	static const char *const never[] = { "turf", "dates", "re-treatment",
		"re-treatment-maximum", "season-count", "season-amount",
		"active-maximum", "mowings-since-seeding", "since-mowing",
		"until-irrigation", "rules" };
	static const char *const may[] = { "humidity-minimum",
		"humidity-maximum", "no-dew", "no-frost", "not-saturated",
		"not-frozen", "no-drift", "runoff-rain", "after-sunrise",
		"before-sunset", "rain-free", "no-alert" };
	for (size_t i = 0; i < COUNT(never); i++) {
		assert_true(card_is_rule(never[i]));
		assert_false(card_is_practice(never[i]));
	}
	for (size_t i = 0; i < COUNT(may); i++)
		assert_true(card_is_practice(may[i]));
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_limit_is_a_fold_during_the_job),
		cmocka_unit_test(spans_and_answers_are_whole_rules),
		cmocka_unit_test(turf_forbids_the_states_that_it_leaves_out),
		cmocka_unit_test(dangers_are_forbidden_by_a_yes),
		cmocka_unit_test(a_floor_word_on_a_ceiling_is_refused),
		cmocka_unit_test(what_is_no_limit_is_refused),
		cmocka_unit_test(the_examples_of_the_table_expand),
		cmocka_unit_test(other_settings_are_no_rules),
		cmocka_unit_test(practice_may_set_what_holds_for_every_product),
	};
	return RUN_TESTS(tests);
}
