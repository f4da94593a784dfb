/* The sentences about season, light, ground and what is done to the turf. */
#include "unit/phrase_fixture.h"

enum { TWO_DAYS = 172800 };

#define DURING                                                                 \
	{                                                                      \
		{ ANCHOR_START, 0 },                                           \
		{                                                              \
			ANCHOR_END, 0                                          \
		}                                                              \
	}
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

static const struct sentence distances[] = {
	{ LEAST(MEASURE_SINCE_SUNRISE, HOUR), VERDICT_NO_GO, 1800, -1800,
	    NO_RAIN_DATA, "at least 1 h after sunrise",
	    "too soon after sunrise",
	    "30 min after sunrise, wanted at least 1 h after sunrise",
	    "30 min under", NULL, NULL },
	{ LEAST(MEASURE_SINCE_SUNRISE, HOUR), VERDICT_NO_GO, -1800, -5400,
	    NO_RAIN_DATA, "at least 1 h after sunrise",
	    "too soon after sunrise",
	    "30 min before sunrise, wanted at least 1 h after sunrise",
	    "1 h 30 min under", NULL, NULL },
	{ LEAST(MEASURE_UNTIL_SUNSET, 2 * HOUR), VERDICT_GO, 3 * HOUR, HOUR,
	    NO_RAIN_DATA, "at least 2 h before sunset",
	    "too soon before sunset",
	    "3 h before sunset, wanted at least 2 h before sunset",
	    "1 h to spare", NULL, NULL },
	{ LEAST(MEASURE_UNTIL_SUNSET, 2 * HOUR), VERDICT_NO_GO, -HOUR,
	    -3 * HOUR, NO_RAIN_DATA, "at least 2 h before sunset",
	    "too soon before sunset",
	    "1 h after sunset, wanted at least 2 h before sunset", "3 h under",
	    NULL, NULL },
	{ LEAST(MEASURE_SINCE_MOWING, TWO_DAYS), VERDICT_NO_GO, 27 * HOUR,
	    -21 * HOUR, NO_RAIN_DATA, "at least 2 d after mowing",
	    "too soon after mowing",
	    "27 h after mowing, wanted at least 2 d after mowing", "21 h under",
	    NULL, NULL },
	{ LEAST(MEASURE_SINCE_SEEDING, TWO_DAYS), VERDICT_UNKNOWN, NAN, NAN,
	    NO_RAIN_DATA, "at least 2 d after seeding",
	    "too soon after seeding",
	    "time since seeding not known, wanted at least 2 d after seeding",
	    "not known", NULL, NULL },
	{ LEAST(MEASURE_UNTIL_MOWING, TWO_DAYS), VERDICT_GO, INFINITY, INFINITY,
	    NO_RAIN_DATA, "at least 2 d before mowing",
	    "too soon before mowing",
	    "no mowing ahead, wanted at least 2 d before mowing", "clear", NULL,
	    NULL },
	{ LEAST(MEASURE_UNTIL_IRRIGATION, 24 * HOUR), VERDICT_NO_GO, 0,
	    -24 * HOUR, NO_RAIN_DATA, "at least 24 h before irrigation",
	    "too soon before irrigation",
	    "0 min before irrigation, wanted at least 24 h before irrigation",
	    "24 h under", NULL, NULL },
	{ MOST(MEASURE_SINCE_OVERSEEDING, TWO_DAYS), VERDICT_NO_GO, 72 * HOUR,
	    -24 * HOUR, NO_RAIN_DATA, "at most 2 d after overseeding",
	    "too long after overseeding",
	    "3 d after overseeding, wanted at most 2 d after overseeding",
	    "24 h over", NULL, NULL },
	{ { .measure = MEASURE_SINCE_AERATING,
	      .fold = FOLD_MIN,
	      .exposure = { { ANCHOR_MIDNIGHT, 0 }, { ANCHOR_MIDNIGHT, 1 } },
	      .bound = BOUND_AT_LEAST,
	      .limit = TWO_DAYS },
	    VERDICT_NO_GO, HOUR, -47 * HOUR, NO_RAIN_DATA,
	    "at least 2 d after aerating that day", "too soon after aerating",
	    "1 h after aerating, wanted at least 2 d after aerating that day",
	    "47 h under", NULL, NULL },
};

static const struct sentence seasons[] = {
	{ LEAST(MEASURE_MOWINGS, 3), VERDICT_NO_GO, 1, -2, NO_RAIN_DATA,
	    "mowings since seeding at least 3", "too few mowings since seeding",
	    "1 mowing since seeding, wanted at least 3", "2 under", NULL,
	    NULL },
	{ MOST(MEASURE_DAYS_WAITED, 56), VERDICT_NO_GO, 60, -4, NO_RAIN_DATA,
	    "at most 56 days since the first post-a",
	    "too long after the first post-a",
	    "first post-a 60 days before, wanted at most 56 days since the "
	    "first post-a",
	    "4 days over", NULL, NULL },
	{ MOST(MEASURE_DAYS_WAITED, 56), VERDICT_GO, 0, 56, NO_RAIN_DATA,
	    "at most 56 days since the first post-a",
	    "too long after the first post-a",
	    "no second post-a is due, wanted at most 56 days since the first "
	    "post-a",
	    "56 days to spare", NULL, NULL },
	{ MOST(MEASURE_SEASON_COUNT, 2), VERDICT_NO_GO, 3, -1, NO_RAIN_DATA,
	    "applications of post-a at most 2 a year",
	    "post-a too often this year",
	    "application 3 of post-a this year, wanted at most 2 a year",
	    "1 over", NULL, NULL },
	{ { .measure = MEASURE_SEASON_AMOUNT,
	      .fold = FOLD_MAX,
	      .exposure = DURING,
	      .limit = 1,
	      .is_volume = true },
	    VERDICT_NO_GO, 1.5, -0.5, NO_RAIN_DATA,
	    "post-a at most 24.5 gal/1000 ft2 a year",
	    "too much post-a this year",
	    "post-a 36.8 gal/1000 ft2 this year, wanted at most 24.5 gal/1000 "
	    "ft2 a year",
	    "12.3 gal/1000 ft2 over",
	    "post-a 150 L/100 m2 this year, wanted at most 100 L/100 m2 a year",
	    "50 L/100 m2 over" },
	{ { .measure = MEASURE_SEASON_ACTIVE,
	      .fold = FOLD_MAX,
	      .exposure = DURING,
	      .limit = 0.2,
	      .subject = "atrazine" },
	    VERDICT_UNKNOWN, NAN, NAN, NO_RAIN_DATA,
	    "atrazine at most 18.6 g/1000 ft2 a year",
	    "too much atrazine this year",
	    "how much atrazine this year not known, wanted at most 18.6 g/"
	    "1000 ft2 a year",
	    "not known",
	    "how much atrazine this year not known, wanted at most 20 g/100 m2 "
	    "a "
	    "year",
	    NULL },
	{ LEAST(MEASURE_DATES, 1), VERDICT_NO_GO, 0, -1, NO_RAIN_DATA,
	    "inside the dates of the card during the job",
	    "outside the dates of the card",
	    "outside the dates of the card Tue 3 Mar 15:00, wanted inside the "
	    "dates of the card during the job",
	    "no", NULL, NULL },
};

static const struct sentence grounds[] = {
	{ NONE_OF(MEASURE_DRIFT), VERDICT_NO_GO, 1, -HOUR, NO_RAIN_DATA,
	    "no wind towards a side to spare during the job",
	    "wind towards a side to spare",
	    "wind towards a side to spare Tue 3 Mar 15:00, wanted no wind "
	    "towards a side to spare during the job",
	    "1 h short", NULL, NULL },
	{ NONE_OF(MEASURE_DRIFT), VERDICT_UNKNOWN, NAN, NAN, NO_RAIN_DATA,
	    "no wind towards a side to spare during the job",
	    "wind towards a side to spare",
	    "where the wind blows not known, wanted no wind towards a side to "
	    "spare during the job",
	    "not known", NULL, NULL },
	{ { .measure = MEASURE_RAIN,
	      .fold = FOLD_SUM,
	      .exposure = { { ANCHOR_END, 0 }, { ANCHOR_END, TWO_DAYS } },
	      .limit = 12.7 },
	    VERDICT_NO_GO, 25.4, -12.7, NO_RAIN_DATA,
	    "rain at most 0.5 in in the 2 d after", "rain over 0.5 in",
	    "rain 1 in from Tue 3 Mar 15:00 on, wanted at most 0.5 in in the "
	    "2 d after",
	    "0.5 in over",
	    "rain 25.4 mm from Tue 3 Mar 15:00 on, wanted at most 12.7 mm in "
	    "the 2 d after",
	    "12.7 mm over" },
	{ { .measure = MEASURE_SOIL,
	      .fold = FOLD_MIN,
	      .exposure = DURING,
	      .bound = BOUND_ABOVE },
	    VERDICT_NO_GO, -1, -1, NO_RAIN_DATA,
	    "soil temperature above 32 °F during the job",
	    "soil temperature under 32 °F",
	    "soil temperature 30.2 °F Tue 3 Mar 15:00, wanted above 32 °F "
	    "during the job",
	    "1.8 °F under",
	    "soil temperature -1 °C Tue 3 Mar 15:00, wanted above 0 °C during "
	    "the job",
	    "1 °C under" },
	/* degree days are a difference: no 32 in them */
	{ MOST(MEASURE_DEGREE_DAYS, 200 / 1.8), VERDICT_GO, 100,
	    200 / 1.8 - 100, NO_RAIN_DATA,
	    "degree days at most 200 °F during the job",
	    "degree days over 200 °F",
	    "degree days 180 °F Tue 3 Mar 15:00, wanted at most 200 °F during "
	    "the job",
	    "20 °F to spare",
	    "degree days 100 °C Tue 3 Mar 15:00, wanted at most 111.1 °C "
	    "during the job",
	    "11.1 °C to spare" },
	{ { .measure = MEASURE_AIR_TEMPERATURE,
	      .fold = FOLD_MAX,
	      .exposure = { { ANCHOR_MIDNIGHT, 0 }, { ANCHOR_MIDNIGHT, 3 } },
	      .bound = BOUND_AT_LEAST,
	      .limit = F(80) },
	    VERDICT_NO_GO, F(70), -10 / 1.8, NO_RAIN_DATA,
	    "highest air temperature at least 80 °F that day and the 2 days "
	    "after",
	    "highest air temperature under 80 °F",
	    "highest air temperature 70 °F Tue 3 Mar 15:00, wanted at least 80 "
	    "°F that day and the 2 days after",
	    "10 °F under",
	    "highest air temperature 21.1 °C Tue 3 Mar 15:00, wanted at least "
	    "26.7 °C that day and the 2 days after",
	    "5.6 °C under" },
	{ { .measure = MEASURE_HUMIDITY,
	      .fold = FOLD_MIN,
	      .exposure = { { ANCHOR_SUNRISE, HOUR }, { ANCHOR_SUNSET, 0 } },
	      .bound = BOUND_BELOW,
	      .limit = 90 },
	    VERDICT_NO_GO, 95, -5, NO_RAIN_DATA,
	    "lowest humidity below 90 % from 1 h after sunrise to sunset",
	    "lowest humidity over 90 %",
	    "lowest humidity 95 % Tue 3 Mar 15:00, wanted below 90 % from 1 h "
	    "after sunrise to sunset",
	    "5 % over", NULL, NULL },
};

static const struct {
	const struct sentence *sentence;
	size_t count;
} groups[] = { { distances, sizeof distances / sizeof distances[0] },
	{ seasons, sizeof seasons / sizeof seasons[0] },
	{ grounds, sizeof grounds / sizeof grounds[0] } };

enum { GROUPS = sizeof groups / sizeof groups[0] };

static void
says_the_rule(void **state)
{
	(void)state;
	for (size_t g = 0; g < GROUPS; g++)
		check_rule_sentences(groups[g].sentence, groups[g].count);
}

static void
says_the_reason_and_its_margin(void **state)
{
	(void)state;
	for (size_t g = 0; g < GROUPS; g++)
		check_reasons(groups[g].sentence, groups[g].count);
}

static void
says_the_same_in_metric_units(void **state)
{
	(void)state;
	for (size_t g = 0; g < GROUPS; g++)
		check_metric_reasons(groups[g].sentence, groups[g].count);
}

static void
fits_into_the_promised_buffer(void **state)
{
	(void)state;
	for (size_t g = 0; g < GROUPS; g++)
		check_longest_names(groups[g].sentence, groups[g].count);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(says_the_rule),
		cmocka_unit_test(says_the_reason_and_its_margin),
		cmocka_unit_test(says_the_same_in_metric_units),
		cmocka_unit_test(fits_into_the_promised_buffer),
	};
	return RUN_TESTS(tests);
}
