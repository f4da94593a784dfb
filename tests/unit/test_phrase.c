/* The exact sentences, in both systems of units. */
#include "unit/phrase_fixture.h"

static const struct sentence sentences[] = {
	{ { .measure = MEASURE_AIR_TEMPERATURE,
	      .fold = FOLD_MAX,
	      .exposure = { { ANCHOR_START, 0 }, { ANCHOR_END, 0 } },
	      .bound = BOUND_BELOW,
	      .limit = F(85) },
	    VERDICT_NO_GO, F(88), -3 / 1.8, NO_RAIN_DATA,
	    "air temperature below 85 °F during the job",
	    "air temperature over 85 °F",
	    "air temperature 88 °F Tue 3 Mar 15:00, wanted below 85 °F during "
	    "the job",
	    "3 °F over",
	    "air temperature 31.1 °C Tue 3 Mar 15:00, wanted below 29.4 °C "
	    "during the job",
	    "1.7 °C over" },
	{ { .measure = MEASURE_AIR_TEMPERATURE,
	      .fold = FOLD_MIN,
	      .exposure = { { ANCHOR_START, 0 }, { ANCHOR_END, 0 } },
	      .bound = BOUND_AT_LEAST,
	      .limit = F(50) },
	    VERDICT_GO, F(64), 14 / 1.8, NO_RAIN_DATA,
	    "air temperature at least 50 °F during the job",
	    "air temperature under 50 °F",
	    "air temperature 64 °F Tue 3 Mar 15:00, wanted at least 50 °F "
	    "during the job",
	    "14 °F to spare",
	    "air temperature 17.8 °C Tue 3 Mar 15:00, wanted at least 10 °C "
	    "during the job",
	    "7.8 °C to spare" },
	{ { .measure = MEASURE_AIR_TEMPERATURE,
	      .fold = FOLD_MAX,
	      .exposure = { { ANCHOR_MIDNIGHT, 0 }, { ANCHOR_MIDNIGHT, 1 } },
	      .bound = BOUND_AT_MOST,
	      .limit = F(90) },
	    VERDICT_UNKNOWN, NAN, NAN, NO_RAIN_DATA,
	    "air temperature at most 90 °F that day",
	    "air temperature over 90 °F",
	    "air temperature not known, wanted at most 90 °F "
	    "that day",
	    "not known",
	    "air temperature not known, wanted at most 32.2 °C "
	    "that day",
	    NULL },
	{ { .measure = MEASURE_WIND,
	      .fold = FOLD_MAX,
	      .exposure = { { ANCHOR_START, 0 }, { ANCHOR_END, 0 } },
	      .bound = BOUND_AT_MOST,
	      .limit = MPH(10) },
	    VERDICT_NO_GO, MPH(12), -MPH(2), NO_RAIN_DATA,
	    "wind at most 10 mph during the job", "wind over 10 mph",
	    "wind 12 mph Tue 3 Mar 15:00, wanted at most 10 mph during the job",
	    "2 mph over",
	    "wind 19.3 km/h Tue 3 Mar 15:00, wanted at most 16.1 km/h during "
	    "the job",
	    "3.2 km/h over" },
	/* delta T is a difference: 2 K are 3.6 degF, with no 32 in it */
	{ { .measure = MEASURE_DELTA_T,
	      .fold = FOLD_MIN,
	      .exposure = { { ANCHOR_START, 0 }, { ANCHOR_END, 0 } },
	      .bound = BOUND_ABOVE,
	      .limit = 2 },
	    VERDICT_NO_GO, 1.5, -0.5, NO_RAIN_DATA,
	    "delta T above 3.6 °F during the job", "delta T under 3.6 °F",
	    "delta T 2.7 °F Tue 3 Mar 15:00, wanted above 3.6 °F during the "
	    "job",
	    "0.9 °F under",
	    "delta T 1.5 °C Tue 3 Mar 15:00, wanted above 2 °C during the job",
	    "0.5 °C under" },
	{ { .measure = MEASURE_WET,
	      .fold = FOLD_ANY,
	      .exposure = { { ANCHOR_END, 0 }, { ANCHOR_END, 12 * HOUR } } },
	    VERDICT_NO_GO, 1, -5 * HOUR, 2.54, 60, "no rain in the 12 h after",
	    "rain",
	    "rain Tue 3 Mar 15:00 (60 %, 0.1 in), wanted no rain in the 12 h "
	    "after",
	    "5 h short",
	    "rain Tue 3 Mar 15:00 (60 %, 2.5 mm), wanted no rain in the 12 h "
	    "after",
	    NULL },
	{ { .measure = MEASURE_WET,
	      .fold = FOLD_ANY,
	      .exposure = { { ANCHOR_START, -2 * HOUR },
		  { ANCHOR_START, 0 } } },
	    VERDICT_NO_GO, 1, -1800, NAN, 35, "no rain in the 2 h before",
	    "wet leaves",
	    "rain Tue 3 Mar 15:00 (35 %), wanted no rain in the 2 h before",
	    "30 min short", NULL, NULL },
	{ { .measure = MEASURE_WET,
	      .fold = FOLD_ANY,
	      .exposure = { { ANCHOR_END, 0 }, { ANCHOR_END, 4 * HOUR } } },
	    VERDICT_GO, 0, 14.5 * HOUR, NO_RAIN_DATA,
	    "no rain in the 4 h after", "rain", "no rain in the 4 h after",
	    "14 h 30 min to spare", NULL, NULL },
	{ { .measure = MEASURE_WET,
	      .fold = FOLD_ANY,
	      .exposure = { { ANCHOR_END, 0 }, { ANCHOR_END, 4 * HOUR } } },
	    VERDICT_GO, 0, INFINITY, NO_RAIN_DATA, "no rain in the 4 h after",
	    "rain", "no rain in the 4 h after", "clear", NULL, NULL },
	{ { .measure = MEASURE_WET,
	      .fold = FOLD_ANY,
	      .exposure = { { ANCHOR_END, 0 }, { ANCHOR_END, 24 * HOUR } } },
	    VERDICT_UNKNOWN, NAN, NAN, NO_RAIN_DATA,
	    "no rain in the 24 h after", "rain",
	    "rain not known, wanted no rain in the 24 h after", "not known",
	    NULL, NULL },
	{ { .measure = MEASURE_SUN_HEIGHT,
	      .fold = FOLD_MIN,
	      .exposure = { { ANCHOR_START, 0 }, { ANCHOR_END, 0 } },
	      .bound = BOUND_AT_LEAST,
	      .limit = -0.8333 },
	    VERDICT_NO_GO, -5, -4.2, NO_RAIN_DATA, "daylight during the job",
	    "dark", "dark Tue 3 Mar 15:00, wanted daylight during the job",
	    "4.2° under", NULL, NULL },
	{ { .measure = MEASURE_GREEN_UP,
	      .fold = FOLD_ANY,
	      .exposure = { { ANCHOR_START, 0 }, { ANCHOR_END, 0 } } },
	    VERDICT_NO_GO, 1, -2700, NO_RAIN_DATA,
	    "turf not in green-up during the job", "turf in green-up",
	    "turf in green-up Tue 3 Mar 15:00, wanted turf not in green-up "
	    "during the job",
	    "45 min short", NULL, NULL },
	{ { .measure = MEASURE_HOURS,
	      .fold = FOLD_MIN,
	      .exposure = { { ANCHOR_START, 0 }, { ANCHOR_END, 0 } },
	      .bound = BOUND_AT_LEAST,
	      .limit = 1 },
	    VERDICT_NO_GO, 0, -1, NO_RAIN_DATA,
	    "inside the preferred hours during the job",
	    "outside the preferred hours",
	    "outside the preferred hours Tue 3 Mar 15:00, wanted inside the "
	    "preferred hours during the job",
	    "no", NULL, NULL },
	{ { .measure = MEASURE_DAYS_SINCE,
	      .fold = FOLD_MIN,
	      .exposure = { { ANCHOR_START, 0 }, { ANCHOR_END, 0 } },
	      .bound = BOUND_AT_LEAST,
	      .limit = 21 },
	    VERDICT_NO_GO, 20, -1, NO_RAIN_DATA,
	    "at least 21 days since the last post-a",
	    "too soon after the last post-a",
	    "last post-a 20 days before, wanted at least 21 days since the "
	    "last post-a",
	    "1 day under", NULL, NULL },
	{ { .measure = MEASURE_DAYS_SINCE,
	      .fold = FOLD_MIN,
	      .exposure = { { ANCHOR_START, 0 }, { ANCHOR_END, 0 } },
	      .bound = BOUND_AT_LEAST,
	      .limit = 21 },
	    VERDICT_GO, INFINITY, INFINITY, NO_RAIN_DATA,
	    "at least 21 days since the last post-a",
	    "too soon after the last post-a",
	    "no post-a before, wanted at least 21 days since the last post-a",
	    "clear", NULL, NULL },
	{ { .measure = MEASURE_HUMIDITY,
	      .fold = FOLD_MEAN,
	      .exposure = { { ANCHOR_MIDNIGHT, 0 }, { ANCHOR_MIDNIGHT, 1 } },
	      .bound = BOUND_AT_LEAST,
	      .limit = 40 },
	    VERDICT_NO_GO, 31.6, -8.4, NO_RAIN_DATA,
	    "mean humidity at least 40 % that day", "mean humidity under 40 %",
	    "mean humidity 31.6 % from Tue 3 Mar 15:00 on, wanted at least 40 "
	    "% that day",
	    "8.4 % under", NULL, NULL },
	{ NONE_OF(MEASURE_INVERSION), VERDICT_NO_GO, 1, -1800, NO_RAIN_DATA,
	    "no inversion during the job", "an inversion is to be expected",
	    "an inversion is to be expected Tue 3 Mar 15:00, wanted no "
	    "inversion during the job",
	    "30 min short", NULL, NULL },
	{ NONE_OF(MEASURE_INVERSION), VERDICT_GO, 0, 2 * HOUR, NO_RAIN_DATA,
	    "no inversion during the job", "an inversion is to be expected",
	    "no inversion during the job", "2 h to spare", NULL, NULL },
	{ NONE_OF(MEASURE_INVERSION), VERDICT_UNKNOWN, NAN, NAN, NO_RAIN_DATA,
	    "no inversion during the job", "an inversion is to be expected",
	    "the risk of an inversion not known, wanted no inversion during "
	    "the job",
	    "not known", NULL, NULL },
	{ NONE_OF(MEASURE_LEAF_WET), VERDICT_NO_GO, 1, -3600, NO_RAIN_DATA,
	    "dry leaves during the job", "wet leaves",
	    "wet leaves Tue 3 Mar 15:00, wanted dry leaves during the job",
	    "1 h short", NULL, NULL },
	{ NONE_OF(MEASURE_LEAF_WET), VERDICT_UNKNOWN, NAN, NAN, NO_RAIN_DATA,
	    "dry leaves during the job", "wet leaves",
	    "leaf wetness not known, wanted dry leaves during the job",
	    "not known", NULL, NULL },
	{ { .measure = MEASURE_FREEZE,
	      .fold = FOLD_ANY,
	      .exposure = { { ANCHOR_END, 0 }, { ANCHOR_END, 24 * HOUR } } },
	    VERDICT_NO_GO, 1, -3 * HOUR, NO_RAIN_DATA,
	    "no freezing air in the 24 h after", "freezing air",
	    "freezing air Tue 3 Mar 15:00, wanted no freezing air in the 24 h "
	    "after",
	    "3 h short", NULL, NULL },
	{ NONE_OF(MEASURE_ALERT_WIND), VERDICT_NO_GO, 1, -3600, NO_RAIN_DATA,
	    "no official wind alert during the job", "an official wind alert",
	    "an official wind alert Tue 3 Mar 15:00, wanted no official wind "
	    "alert during the job",
	    "1 h short", NULL, NULL },
	{ NONE_OF(MEASURE_ALERT_FREEZE), VERDICT_GO, 0, INFINITY, NO_RAIN_DATA,
	    "no official freeze alert during the job",
	    "an official freeze alert",
	    "no official freeze alert during the job", "clear", NULL, NULL },
	{ NONE_OF(MEASURE_ALERT_HEAT), VERDICT_UNKNOWN, NAN, NAN, NO_RAIN_DATA,
	    "no official heat alert during the job", "an official heat alert",
	    "official alerts not known, wanted no official heat alert during "
	    "the job",
	    "not known", NULL, NULL },
	{ NONE_OF(MEASURE_ALERT_FLOOD), VERDICT_GO, 0, HOUR, NO_RAIN_DATA,
	    "no official flood alert during the job", "an official flood alert",
	    "no official flood alert during the job", "1 h to spare", NULL,
	    NULL },
	{ NONE_OF(MEASURE_ALERT_SMOKE), VERDICT_NO_GO, 1, -3600, NO_RAIN_DATA,
	    "no official alert of smoke or fire during the job",
	    "an official alert of smoke or fire",
	    "an official alert of smoke or fire Tue 3 Mar 15:00, wanted no "
	    "official alert of smoke or fire during the job",
	    "1 h short", NULL, NULL },
	{ { .measure = MEASURE_RAIN,
	      .fold = FOLD_SUM,
	      .exposure = { { ANCHOR_END, 0 }, { ANCHOR_END, 48 * HOUR } },
	      .bound = BOUND_AT_LEAST,
	      .limit = 6.35 },
	    VERDICT_NO_GO, 2.54, -3.81, NO_RAIN_DATA,
	    "rain at least 0.25 in in the 2 d after", "rain under 0.25 in",
	    "rain 0.1 in from Tue 3 Mar 15:00 on, wanted at least 0.25 in in "
	    "the 2 d after",
	    "0.15 in under",
	    "rain 2.5 mm from Tue 3 Mar 15:00 on, wanted at least 6.3 mm in "
	    "the 2 d after",
	    "3.8 mm under" },
};

enum { SENTENCES = sizeof sentences / sizeof sentences[0] };

static void
says_the_rule(void **state)
{
	(void)state;
	check_rule_sentences(sentences, SENTENCES);
}

static void
says_the_reason_and_its_margin(void **state)
{
	(void)state;
	check_reasons(sentences, SENTENCES);
}

static void
says_the_same_in_metric_units(void **state)
{
	(void)state;
	check_metric_reasons(sentences, SENTENCES);
}

static void
fits_into_the_promised_buffer(void **state)
{
	(void)state;
	check_longest_names(sentences, SENTENCES);
}

/* Broken before unknown; then label, practice, preference; then the first. */
static void
the_leading_reason_is_the_gravest(void **state)
{
	(void)state;
	static const enum origin origins[] = { ORIGIN_PREFERENCE,
		ORIGIN_PRACTICE, ORIGIN_LABEL, ORIGIN_LABEL };
	static const struct {
		uint32_t broken, unknown;
		size_t leading;
	} cases[] = { { 0, 0, 4 }, { 1, 0, 0 }, { 3, 0, 1 }, { 15, 0, 2 },
		{ 8, 0, 3 }, { 1, 14, 0 }, { 0, 15, 2 }, { 0, 3, 1 },
		{ 2, 12, 1 } };
	struct check checks[4] = { 0 };
	for (size_t r = 0; r < 4; r++)
		checks[r].rule.origin = origins[r];
	for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
		uint32_t broken = cases[i].broken, unknown = cases[i].unknown;
		struct verdicts verdicts = { 1, 1, &broken, &unknown };
		assert_int_equal(
		    reason_leading(checks, 4, &verdicts, 0), cases[i].leading);
	}
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(says_the_rule),
		cmocka_unit_test(says_the_reason_and_its_margin),
		cmocka_unit_test(says_the_same_in_metric_units),
		cmocka_unit_test(fits_into_the_promised_buffer),
		cmocka_unit_test(the_leading_reason_is_the_gravest),
	};
	return RUN_TESTS(tests);
}
