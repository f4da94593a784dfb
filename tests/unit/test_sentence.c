/* Rules written out, and the nonsense that is refused. */
#include "unit/test.h"

#include "config/sentence.h"

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

struct sentence {
	const char *text;
	enum measure measure;
	enum fold fold;
	struct exposure exposure;
	enum bound bound;
	double limit;
};

static const struct sentence sentences[] = {
	{ "highest air-temperature from midnight to midnight + 3 d below "
	  "85 degF",
	    MEASURE_AIR_TEMPERATURE, FOLD_MAX,
	    SPAN(ANCHOR_MIDNIGHT, 0, ANCHOR_MIDNIGHT, 3), BOUND_BELOW,
	    53 / 1.8 },
	{ "lowest air-temperature from midnight - 1 d to start above 5 degC",
	    MEASURE_AIR_TEMPERATURE, FOLD_MIN,
	    SPAN(ANCHOR_MIDNIGHT, -1, ANCHOR_START, 0), BOUND_ABOVE, 5 },
	{ "mean air-temperature that day at most 30 degC",
	    MEASURE_AIR_TEMPERATURE, FOLD_MEAN, THAT_DAY, BOUND_AT_MOST, 30 },
	{ "total rain from end to end + 2 d at most 0.5 in", MEASURE_RAIN,
	    FOLD_SUM, SPAN(ANCHOR_END, 0, ANCHOR_END, 2 * DAY), BOUND_AT_MOST,
	    12.7 },
	{ "total rain from start - 24 h to start at least 2 mm", MEASURE_RAIN,
	    FOLD_SUM, SPAN(ANCHOR_START, -DAY, ANCHOR_START, 0), BOUND_AT_LEAST,
	    2 },
	{ "highest wind from sunrise to sunset at most 5 m/s", MEASURE_WIND,
	    FOLD_MAX, SPAN(ANCHOR_SUNRISE, 0, ANCHOR_SUNSET, 0), BOUND_AT_MOST,
	    5 },
	{ "lowest humidity from sunrise + 1 h to sunset - 1 h 30 min at least "
	  "40 %",
	    MEASURE_HUMIDITY, FOLD_MIN,
	    SPAN(ANCHOR_SUNRISE, HOUR, ANCHOR_SUNSET, -5400), BOUND_AT_LEAST,
	    40 },
	{ "highest delta-t during the job below 8 K", MEASURE_DELTA_T, FOLD_MAX,
	    DURING, BOUND_BELOW, 8 },
	/* a difference: no 32 in it */
	{ "lowest delta-t during the job at least 3.6 degF", MEASURE_DELTA_T,
	    FOLD_MIN, DURING, BOUND_AT_LEAST, 2 },
	{ "lowest soil-temperature from start - 3 d to start at least "
	  "12 degC",
	    MEASURE_SOIL, FOLD_MIN,
	    SPAN(ANCHOR_START, -3 * DAY, ANCHOR_START, 0), BOUND_AT_LEAST, 12 },
	{ "highest degree-days during the job below 111 K", MEASURE_DEGREE_DAYS,
	    FOLD_MAX, DURING, BOUND_BELOW, 111 },
	{ "lowest since-mowing during the job at least 2 d",
	    MEASURE_SINCE_MOWING, FOLD_MIN, DURING, BOUND_AT_LEAST, 2 * DAY },
	{ "highest since-sunrise during the job at most 4 h",
	    MEASURE_SINCE_SUNRISE, FOLD_MAX, DURING, BOUND_AT_MOST, 4 * HOUR },
	{ "highest stability during the job at most 5", MEASURE_STABILITY,
	    FOLD_MAX, DURING, BOUND_AT_MOST, 5 },
	{ "no freeze during the job", MEASURE_FREEZE, FOLD_ANY, DURING,
	    BOUND_AT_MOST, 0 },
	{ "no wet from end + 24 h to end + 48 h", MEASURE_WET, FOLD_ANY,
	    SPAN(ANCHOR_END, DAY, ANCHOR_END, 2 * DAY), BOUND_AT_MOST, 0 },
	{ "no leaf-wet from sunset - 1 d to sunrise", MEASURE_LEAF_WET,
	    FOLD_ANY, SPAN(ANCHOR_SUNSET, -DAY, ANCHOR_SUNRISE, 0),
	    BOUND_AT_MOST, 0 },
	{ "no dormant from start - 2 h to end + 2 h", MEASURE_DORMANT, FOLD_ANY,
	    SPAN(ANCHOR_START, -2 * HOUR, ANCHOR_END, 2 * HOUR), BOUND_AT_MOST,
	    0 },
};

static void
a_sentence_is_one_rule(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(sentences); i++) {
		const struct sentence *wanted = &sentences[i];
		struct rule rule = { .limit = 4711 };
		struct error error = { 0 };
		if (!sentence_parse(wanted->text, &rule, &error))
			fail_msg("%s", error.text);
		if (rule.measure != wanted->measure ||
		    rule.fold != wanted->fold || rule.bound != wanted->bound ||
		    !exposure_same(&rule.exposure, &wanted->exposure))
			fail_msg("'%s' is another rule", wanted->text);
		assert_close(rule.limit, wanted->limit, 1e-9);
		assert_string_equal(rule.name, "rules");
		assert_string_equal(rule.owner, "");
		assert_string_equal(rule.source, "");
		assert_null(rule.wording);
		assert_null(rule.subject);
	}
}

struct refusal {
	const char *text, *why;
};

static const struct refusal refusals[] = {
	{ "", "it begins with" },
	{ "air-temperature that day below 30 degC", "it begins with" },
	{ "Highest air-temperature that day below 30 degC", "it begins with" },
	{ "highest", "no measure \"\"" },
	{ "highest ", "no measure \"\"" },
	{ "highest  air-temperature that day below 30 degC",
	    "no measure \"\"" },
	{ "highest heat that day below 30 degC", "no measure \"heat\"" },
	{ "highest air-temperature-that-day-below-30-degC-and-more x",
	    "no measure" },
	{ "highest air-temperature", "after the measure" },
	{ "highest air-temperature today below 30 degC", "after the measure" },
	{ "highest air-temperature that days below 30 degC",
	    "after the measure" },
	{ "highest air-temperature during job below 30 degC",
	    "after the measure" },
	{ "highest air-temperature that day", "it ends with" },
	{ "highest air-temperature that day 30 degC", "it ends with" },
	{ "highest air-temperature that day under 30 degC", "it ends with" },
	{ "highest air-temperature that day at  most 30 degC", "it ends with" },
	{ "highest air-temperature that day below", "is not" },
	{ "highest air-temperature that day below 30", "is not" },
	{ "highest air-temperature that day below 30 mph", "is not" },
	{ "highest air-temperature that day below 30 degC please", "is not" },
	{ "highest air-temperature that day below at most 30 degC", "is not" },
	{ "highest air-temperature that day below 300 degC",
	    "there is no air temperature of 300 degC" },
	{ "highest humidity that day at most 101 %", "there is no humidity" },
	/* what has no sense */
	{ "total air-temperature that day below 30 degC", "a mean only" },
	{ "total wind during the job below 3 m/s", "a mean only" },
	{ "no air-temperature that day", "a mean only" },
	{ "highest rain that day at most 3 mm", "only the total" },
	{ "mean rain that day at most 3 mm", "only the total" },
	{ "no rain that day", "only the total" },
	{ "highest wet that day at most 0", "write \"no wet" },
	{ "mean freeze that day at most 0", "write \"no freeze" },
	{ "total inversion that day at most 0", "write \"no inversion" },
	{ "mean since-mowing during the job at least 2 d", "a lowest only" },
	{ "mean degree-days that day below 100 K", "a lowest only" },
	{ "no freeze during the job at most 0", "no limit behind it" },
	{ "no freeze during the job 0", "no limit behind it" },
	/* bookkeeping, and what is one product's alone */
	{ "highest wind-direction that day below 90 deg", "no sentence" },
	{ "highest rain-block that day below 3 mm", "no sentence" },
	{ "lowest days-since during the job at least 21", "no sentence" },
	{ "highest season-count during the job at most 2", "no sentence" },
	{ "highest season-active during the job below 1 g/m2", "no sentence" },
	{ "no dates during the job", "no sentence" },
	{ "no hours during the job", "no sentence" },
	/* exposures */
	{ "no wet from", "a time in it" },
	{ "no wet from noon to end", "a time in it" },
	{ "no wet from start", "\"to\" is missing" },
	{ "no wet from start end", "\"to\" is missing" },
	{ "no wet from start to", "a time in it" },
	{ "no wet from start to end +", "is not" },
	{ "no wet from start to end + 2", "is not" },
	{ "no wet from start to end + 2 mph", "is not" },
	{ "no wet from start to end +2 h", "no limit behind it" },
	{ "no wet from start to end + -2 h", "more than nothing" },
	{ "no wet from start to end + 0 h", "more than nothing" },
	{ "no wet from start to end + 31 d", "at most 30 d" },
	{ "no wet from start to end + 1 h 1 h 1 h 1 h 1 h 1 h 1 h 1 h 1 h 1 h",
	    "span" },
	{ "no wet from midnight - 12 h to end", "whole days" },
	{ "no wet from midnight to midnight + 36 h", "whole days" },
	{ "no wet from start to start", "ends before it begins" },
	{ "no wet from start to start - 1 h", "ends before it begins" },
	{ "no wet from end + 2 h to end + 1 h", "ends before it begins" },
	{ "no wet from end to start", "ends before it begins" },
	{ "no wet from midnight to midnight", "ends before it begins" },
	{ "no wet from midnight + 1 d to start", "ends before it begins" },
	{ "no wet from start to midnight", "ends before it begins" },
	{ "no wet from sunset to sunrise", "ends before it begins" },
	{ "no wet from sunrise + 1 h to sunrise", "ends before it begins" },
};

static void
nonsense_is_refused_with_its_reason(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(refusals); i++) {
		struct rule rule = { .limit = 4711 };
		struct error error = { 0 };
		if (sentence_parse(refusals[i].text, &rule, &error))
			fail_msg("'%s' is taken", refusals[i].text);
		assert_int_equal(error.kind, ERROR_INPUT);
		if (strstr(error.text, refusals[i].why) == NULL)
			fail_msg("'%s': %s, wanted: %s", refusals[i].text,
			    error.text, refusals[i].why);
		assert_close(rule.limit, 4711, 0);
	}
}

/* No beginning of a sentence is a sentence of another meaning. */
static void
a_cut_sentence_is_none(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(sentences); i++) {
		char text[128];
		size_t length = strlen(sentences[i].text);
		for (size_t cut = 0; cut < length; cut++) {
			struct rule rule;
			(void)snprintf(text, sizeof text, "%.*s", (int)cut,
			    sentences[i].text);
			if (!sentence_parse(text, &rule, NULL))
				continue;
			/* "48 h" may lose its unit's end, "no ... end" its
			   offset: then it is a shorter sentence of its own */
			assert_int_equal(rule.measure, sentences[i].measure);
			assert_int_equal(rule.fold, sentences[i].fold);
			assert_false(exposure_empty(&rule.exposure));
		}
	}
}

static int
count_ways(enum measure measure)
{
	static const char *const folds[] = { "highest", "lowest", "mean",
		"total", "no" };
	const struct measure_info *info = measure_info(measure);
	char amount[QUANTITY_BUFFER], text[160];
	int ways = 0;
	quantity_print(amount, sizeof amount,
	    isnan(info->least) ? 1 : info->most, info->kind, UNITS_METRIC);
	for (size_t f = 0; f < COUNT(folds); f++) {
		struct rule rule = { .measure = MEASURES };
		bool no = f == COUNT(folds) - 1;
		(void)snprintf(text, sizeof text, "%s %s during the job%s%s",
		    folds[f], info->key, no ? "" : " at most ",
		    no ? "" : amount);
		if (!sentence_parse(text, &rule, NULL))
			continue;
		assert_int_equal(rule.measure, measure);
		ways++;
	}
	return ways;
}

/* Every measure can be said in its own way, or not at all. */
static void
each_measure_has_its_way_of_speaking(void **state)
{
	(void)state;
	int spoken = 0;
	for (int m = 0; m < MEASURES; m++) {
		int ways = count_ways((enum measure)m);
		assert_in_range(ways, 0, m >= MEASURE_DAYS_SINCE ? 0 : 3);
		spoken += ways > 0 ? 1 : 0;
	}
	/* all but wind direction, the rain blocks, the preferred hours and
	   what is one product's */
	assert_int_equal(spoken, (int)MEASURE_DAYS_SINCE - 4);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_sentence_is_one_rule),
		cmocka_unit_test(nonsense_is_refused_with_its_reason),
		cmocka_unit_test(a_cut_sentence_is_none),
		cmocka_unit_test(each_measure_has_its_way_of_speaking),
	};
	return RUN_TESTS(tests);
}
