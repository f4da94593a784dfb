/* Exposures in words and against each other, and rules that exclude others. */
#include "unit/test.h"

#include "turf/rule.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

enum { HOUR = 3600, DAY = 86400 };

#define SPAN(first, first_seconds, last, last_seconds)                         \
	{                                                                      \
		{ (first), (first_seconds) },                                  \
		{                                                              \
			(last), (last_seconds)                                 \
		}                                                              \
	}
#define DURING   SPAN(ANCHOR_START, 0, ANCHOR_END, 0)
#define THAT_DAY SPAN(ANCHOR_MIDNIGHT, 0, ANCHOR_MIDNIGHT, 1)

static const struct {
	struct exposure exposure;
	const char *words;
} said[] = {
	{ DURING, "during the job" },
	{ SPAN(ANCHOR_START, 0, ANCHOR_END, 12 * HOUR),
	    "during the job and 12 h after" },
	{ SPAN(ANCHOR_END, 0, ANCHOR_END, 2 * DAY), "in the 2 d after" },
	{ SPAN(ANCHOR_END, DAY, ANCHOR_END, 2 * DAY),
	    "from 24 h after the end to 2 d after the end" },
	{ SPAN(ANCHOR_START, -2 * HOUR, ANCHOR_START, 0), "in the 2 h before" },
	{ SPAN(ANCHOR_START, -2 * HOUR, ANCHOR_END, 2 * HOUR),
	    "from 2 h before the start to 2 h after the end" },
	{ SPAN(ANCHOR_START, 0, ANCHOR_END, -600),
	    "from the start to 10 min before the end" },
	{ THAT_DAY, "that day" },
	{ SPAN(ANCHOR_MIDNIGHT, 0, ANCHOR_MIDNIGHT, 2),
	    "that day and the day after" },
	{ SPAN(ANCHOR_MIDNIGHT, 0, ANCHOR_MIDNIGHT, 4),
	    "that day and the 3 days after" },
	{ SPAN(ANCHOR_MIDNIGHT, 1, ANCHOR_MIDNIGHT, 4),
	    "in the 3 days after that day" },
	{ SPAN(ANCHOR_MIDNIGHT, -1, ANCHOR_MIDNIGHT, 1),
	    "that day and the day before" },
	{ SPAN(ANCHOR_MIDNIGHT, -2, ANCHOR_MIDNIGHT, 0),
	    "in the 2 days before that day" },
	{ SPAN(ANCHOR_MIDNIGHT, -1, ANCHOR_MIDNIGHT, 2),
	    "from 24 h before midnight to 2 d after midnight" },
	{ SPAN(ANCHOR_MIDNIGHT, 0, ANCHOR_START, 0),
	    "from midnight to the start" },
	{ SPAN(ANCHOR_SUNRISE, 0, ANCHOR_SUNSET, 0), "from sunrise to sunset" },
	{ SPAN(ANCHOR_SUNRISE, HOUR, ANCHOR_SUNSET, -2 * HOUR),
	    "from 1 h after sunrise to 2 h before sunset" },
};

static void
an_exposure_is_said_in_words(void **state)
{
	(void)state;
	char text[EXPOSURE_BUFFER];
	for (size_t i = 0; i < COUNT(said); i++)
		assert_string_equal(
		    exposure_print(text, sizeof text, &said[i].exposure),
		    said[i].words);
	/* the longest that can be written */
	static const struct exposure longest = SPAN(ANCHOR_SUNRISE,
	    -(29 * DAY + 23 * HOUR + 59 * 60), ANCHOR_MIDNIGHT, 30);
	assert_in_range(strlen(exposure_print(text, sizeof text, &longest)), 1,
	    sizeof text - 2);
}

static const struct {
	struct exposure inner, outer;
	bool inside, meets;
} pairs[] = {
	{ DURING, DURING, true, true },
	{ DURING, SPAN(ANCHOR_START, 0, ANCHOR_END, HOUR), true, true },
	{ SPAN(ANCHOR_START, 0, ANCHOR_END, HOUR), DURING, false, true },
	/* the end may lie on the next day */
	{ DURING, THAT_DAY, false, true },
	{ THAT_DAY, SPAN(ANCHOR_MIDNIGHT, -1, ANCHOR_MIDNIGHT, 3), true, true },
	{ THAT_DAY, SPAN(ANCHOR_MIDNIGHT, 1, ANCHOR_MIDNIGHT, 3), false,
	    false },
	{ SPAN(ANCHOR_SUNRISE, 0, ANCHOR_SUNSET, 0), THAT_DAY, true, true },
	{ SPAN(ANCHOR_SUNRISE, HOUR, ANCHOR_SUNSET, -HOUR),
	    SPAN(ANCHOR_SUNRISE, 0, ANCHOR_SUNSET, 0), true,
	    false }, /* a day in the far north may be shorter */
	{ DURING, SPAN(ANCHOR_SUNRISE, 0, ANCHOR_SUNSET, 0), false, false },
	{ SPAN(ANCHOR_END, 0, ANCHOR_END, HOUR), DURING, false, false },
	{ SPAN(ANCHOR_START, -HOUR, ANCHOR_START, 0), DURING, false, false },
	{ SPAN(ANCHOR_START, -HOUR, ANCHOR_START, 0),
	    SPAN(ANCHOR_START, -DAY, ANCHOR_START, 0), true, true },
	/* a job may begin at midnight: then nothing of the day lies before */
	{ SPAN(ANCHOR_MIDNIGHT, 0, ANCHOR_START, 0), DURING, false, false },
	{ SPAN(ANCHOR_MIDNIGHT, -1, ANCHOR_START, 0), THAT_DAY, false, false },
};

static void
exposures_lie_in_each_other_whatever_the_job(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(pairs); i++) {
		if (exposure_inside(&pairs[i].inner, &pairs[i].outer) !=
		    pairs[i].inside)
			fail_msg("pair %zu: inside", i);
		if (exposure_meets(&pairs[i].inner, &pairs[i].outer) !=
			pairs[i].meets ||
		    exposure_meets(&pairs[i].outer, &pairs[i].inner) !=
			pairs[i].meets)
			fail_msg("pair %zu: meets", i);
	}
}

static struct rule
make(enum fold fold, struct exposure exposure, enum bound bound, double limit)
{
	return (struct rule){ .measure = MEASURE_AIR_TEMPERATURE,
		.fold = fold,
		.exposure = exposure,
		.bound = bound,
		.limit = limit };
}

static const struct {
	enum fold low_fold;
	struct exposure low;
	enum fold high_fold;
	struct exposure high;
	bool excludes; /* a floor of 20 and a ceiling of 10 */
} folds[] = {
	{ FOLD_MIN, DURING, FOLD_MAX, DURING, true },
	{ FOLD_MIN, DURING, FOLD_MAX, THAT_DAY, true },
	{ FOLD_MIN, DURING, FOLD_MAX, SPAN(ANCHOR_END, 0, ANCHOR_END, HOUR),
	    false },
	{ FOLD_MIN, DURING, FOLD_MIN, DURING, true },
	{ FOLD_MIN, THAT_DAY, FOLD_MIN,
	    SPAN(ANCHOR_SUNRISE, 0, ANCHOR_SUNSET, 0), true },
	{ FOLD_MIN, DURING, FOLD_MIN, THAT_DAY, false }, /* a cold night */
	{ FOLD_MIN, DURING, FOLD_MEAN, DURING, true },
	{ FOLD_MIN, DURING, FOLD_MEAN, THAT_DAY, false },
	{ FOLD_MEAN, DURING, FOLD_MAX, DURING, true },
	{ FOLD_MEAN, DURING, FOLD_MEAN, DURING, true },
	{ FOLD_MEAN, DURING, FOLD_MIN, DURING, false },
	{ FOLD_MAX, DURING, FOLD_MAX, DURING, true },
	{ FOLD_MAX, THAT_DAY, FOLD_MAX, DURING, false }, /* a cool morning */
	{ FOLD_MAX, DURING, FOLD_MIN, DURING, false },
	{ FOLD_SUM, DURING, FOLD_SUM, SPAN(ANCHOR_START, 0, ANCHOR_END, HOUR),
	    true },
	{ FOLD_SUM, SPAN(ANCHOR_START, 0, ANCHOR_END, HOUR), FOLD_SUM, DURING,
	    false },
	{ FOLD_SUM, DURING, FOLD_MAX, DURING, false },
	{ FOLD_ANY, DURING, FOLD_ANY, DURING, false },
};

static void
rules_exclude_each_other_where_no_weather_helps(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(folds); i++) {
		struct rule low =
		    make(folds[i].low_fold, folds[i].low, BOUND_AT_LEAST, 20);
		struct rule high =
		    make(folds[i].high_fold, folds[i].high, BOUND_AT_MOST, 10);
		if (rules_exclude(&low, &high) != folds[i].excludes)
			fail_msg("pair %zu", i);
		assert_false(rules_exclude(&high, &low));
		high.limit = 21;
		assert_false(rules_exclude(&low, &high));
		high.limit = 10;
		high.measure = MEASURE_WIND;
		assert_false(rules_exclude(&low, &high));
	}
}

static void
one_value_is_left_unless_a_bound_is_strict(void **state)
{
	(void)state;
	static const struct exposure during = DURING;
	struct rule low = make(FOLD_MIN, during, BOUND_AT_LEAST, 10);
	struct rule high = make(FOLD_MAX, during, BOUND_AT_MOST, 10);
	assert_false(rules_exclude(&low, &high));
	low.bound = BOUND_ABOVE;
	assert_true(rules_exclude(&low, &high));
	low.bound = BOUND_AT_LEAST;
	high.bound = BOUND_BELOW;
	assert_true(rules_exclude(&low, &high));
	low.subject = "atrazine";
	assert_false(rules_exclude(&low, &high));
	high.subject = "atrazine";
	assert_true(rules_exclude(&low, &high));
}

static void
an_amount_of_the_season_is_told_in_the_kind_that_was_typed(void **state)
{
	(void)state;
	struct rule rule = { .measure = MEASURE_SEASON_AMOUNT };
	assert_int_equal(rule_kind(&rule), QUANTITY_MASS_PER_AREA);
	rule.is_volume = true;
	assert_int_equal(rule_kind(&rule), QUANTITY_VOLUME_PER_AREA);
	struct rule warm = { .measure = MEASURE_AIR_TEMPERATURE };
	assert_int_equal(rule_kind(&warm), QUANTITY_TEMPERATURE);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(an_exposure_is_said_in_words),
		cmocka_unit_test(exposures_lie_in_each_other_whatever_the_job),
		cmocka_unit_test(
		    rules_exclude_each_other_where_no_weather_helps),
		cmocka_unit_test(one_value_is_left_unless_a_bound_is_strict),
		cmocka_unit_test(
		    an_amount_of_the_season_is_told_in_the_kind_that_was_typed),
	};
	return RUN_TESTS(tests);
}
