/*
 * "Do not apply when temperatures are above 90 degF" leaves open when. The four
 * cases that it does not settle are P. McCullough's, University of Georgia,
 * "Are Temperatures Too High to Safely Apply Herbicides in Turf?", read:
 *  (a) under 90 in the morning, over 90 in the afternoon;
 *  (b) under 90 this week, over 90 in the next;
 *  (c) over 90 now, with a forecast of falling;
 *  (d) 89.9 against "90 or above".
 * He gives no single answer, so a card has to say which span it means. Here the
 * same weather is judged by every span. The degrees are made up around his.
 */
#include "unit/judge_one.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

static const struct scope {
	const char *name;
	enum fold fold;
	struct exposure exposure;
} scopes[] = {
	{ "at application", FOLD_MAX,
	    { { ANCHOR_START, 0 }, { ANCHOR_END, 0 } } },
	{ "highest of that day", FOLD_MAX,
	    { { ANCHOR_MIDNIGHT, 0 }, { ANCHOR_MIDNIGHT, 1 } } },
	{ "highest of the next 3 days", FOLD_MAX,
	    { { ANCHOR_MIDNIGHT, 1 }, { ANCHOR_MIDNIGHT, 4 } } },
	{ "highest of the next 10 days", FOLD_MAX,
	    { { ANCHOR_MIDNIGHT, 1 }, { ANCHOR_MIDNIGHT, 11 } } },
	{ "any hour within 2 h after", FOLD_MAX,
	    { { ANCHOR_END, 0 }, { ANCHOR_END, 2 * 3600 } } },
	{ "any hour within 24 h after", FOLD_MAX,
	    { { ANCHOR_END, 0 }, { ANCHOR_END, 24 * 3600 } } },
	{ "lowest of the night before", FOLD_MIN,
	    { { ANCHOR_SUNSET, -86400 }, { ANCHOR_SUNRISE, 0 } } },
	{ "mean of that day", FOLD_MEAN,
	    { { ANCHOR_MIDNIGHT, 0 }, { ANCHOR_MIDNIGHT, 1 } } },
};

/* degF: from 20:00 to 06:00 it is night, to 12:00 morning, to 20:00
   afternoon. */
struct weather {
	double night_before, night, morning;
	double today, this_week, next_week; /* afternoons */
	int days;                           /* of forecast, from midnight */
};

static double
degrees_at(const struct weather *weather, int day, int hour)
{
	if ((day < 0 && hour >= 20) || (day == 0 && hour < 6))
		return weather->night_before;
	if (hour < 6 || hour >= 20)
		return weather->night;
	if (hour < 12)
		return weather->morning;
	return day == 0  ? weather->today
	       : day < 7 ? weather->this_week
			 : weather->next_week;
}

/* From the midnight before the day of the application on. */
static void
make_series(struct series *series, const struct weather *weather)
{
	int64_t midnight = local_2026(6, 10, 0, 0);
	double factor, offset;
	assert_true(
	    unit_conversion("degF", QUANTITY_TEMPERATURE, &factor, &offset));
	series_init(series, midnight - DAY, midnight + weather->days * DAY);
	float *air = series_column(series, MEASURE_AIR_TEMPERATURE);
	float *sun = series_column(series, MEASURE_SUN_HEIGHT);
	for (size_t i = 0; i < series->count; i++) {
		int day = (int)(i / 96) - 1, hour = (int)(i % 96 / 4);
		air[i] =
		    (float)(degrees_at(weather, day, hour) * factor + offset);
		sun[i] = hour >= 6 && hour < 20 ? 30 : -30;
	}
}

static char
judge_scope(const struct weather *weather, int hour, const struct scope *scope,
    enum bound bound, const char *limit)
{
	static const char letters[] = { [VERDICT_GO] = 'g',
		[VERDICT_NO_GO] = 'n',
		[VERDICT_UNKNOWN] = 'u' };
	struct zone zone = chicago();
	struct series series;
	double value;
	assert_true(quantity_parse(limit, QUANTITY_TEMPERATURE, &value, NULL));
	make_series(&series, weather);
	struct rule rule = rule_of(MEASURE_AIR_TEMPERATURE, scope->fold,
	    scope->exposure, bound, value);
	enum verdict verdict = judge_one(&series, &zone, rule, HOUR,
	    cell_of(&series, local_2026(6, 10, hour, 0)));
	series_release(&series);
	return letters[verdict];
}

/* Verdicts in the order of the scopes: g go, n no-go, u unknown. */
struct ceiling {
	const char *name;
	struct weather weather;
	int hour;
	const char *above; /* "not above 90": 90 itself is allowed */
	const char *from;  /* "not at 90 or above" */
};

static const struct ceiling ceilings[] = {
	{ "(a) in the morning", { 70, 70, 80, 95, 85, 85, 14 }, 8, "gngggngg",
	    "gngggngg" },
	{ "(a) in the afternoon", { 70, 70, 80, 95, 85, 85, 14 }, 14,
	    "nnggnngg", "nnggnngg" },
	{ "(b)", { 70, 70, 80, 85, 85, 95, 14 }, 8, "gggngggg", "gggngggg" },
	{ "(b) as far as a short forecast goes", { 70, 70, 80, 85, 85, 95, 5 },
	    8, "gggugggg", "gggugggg" },
	{ "(c) now", { 70, 70, 80, 92, 80, 80, 14 }, 14, "nnggnngg",
	    "nnggnngg" },
	{ "(c) this evening", { 70, 70, 80, 92, 80, 80, 14 }, 20, "gngggggg",
	    "gngggggg" },
	{ "(c) that does not fall", { 70, 70, 80, 92, 92, 92, 5 }, 20,
	    "gnnngngg", "gnnngngg" },
	{ "(d) 89.9", { 70, 70, 80, 89.9, 80, 80, 14 }, 14, "gggggggg",
	    "gggggggg" },
	{ "(d) 90", { 70, 70, 80, 90, 80, 80, 14 }, 14, "gggggggg",
	    "nnggnngg" },
	{ "(d) 90.1", { 70, 70, 80, 90.1, 80, 80, 14 }, 14, "nnggnngg",
	    "nnggnngg" },
	{ "day and night", { 91, 91, 92, 95, 95, 95, 14 }, 8, "nnnnnnnn",
	    "nnnnnnnn" },
};

static void
one_weather_has_as_many_answers_as_a_ceiling_has_spans(void **state)
{
	(void)state;
	for (size_t n = 0; n < COUNT(ceilings) * COUNT(scopes); n++) {
		const struct ceiling *one = &ceilings[n / COUNT(scopes)];
		size_t s = n % COUNT(scopes);
		char above = judge_scope(&one->weather, one->hour, &scopes[s],
		    BOUND_AT_MOST, "90 degF");
		char from = judge_scope(&one->weather, one->hour, &scopes[s],
		    BOUND_BELOW, "90 degF");
		if (above != one->above[s] || from != one->from[s])
			fail_msg("%s, %s: %c and %c, wanted %c and %c",
			    one->name, scopes[s].name, above, from,
			    one->above[s], one->from[s]);
	}
}

/* The lowest of the job and of the night before, with a floor under them. */
struct low {
	const char *name;
	struct weather weather;
	char at_job, night; /* "at least 50" */
	char night_above;   /* "above 50" */
};

static const struct low lows[] = {
	{ "warm", { 60, 60, 65, 70, 70, 70, 3 }, 'g', 'g', 'g' },
	{ "cold night before", { 45, 60, 65, 70, 70, 70, 3 }, 'g', 'n', 'n' },
	{ "cold nights to come", { 60, 45, 65, 70, 70, 70, 3 }, 'g', 'g', 'g' },
	{ "just so", { 50, 45, 50, 50, 50, 50, 3 }, 'g', 'g', 'n' },
	{ "49.9", { 49.9, 60, 49.9, 60, 60, 60, 3 }, 'n', 'n', 'n' },
};

static void
a_floor_looks_at_the_lowest_of_its_span(void **state)
{
	(void)state;
	const struct scope job = { "at application", FOLD_MIN,
		{ { ANCHOR_START, 0 }, { ANCHOR_END, 0 } } };
	const struct scope night = scopes[6];
	for (size_t n = 0; n < COUNT(lows); n++) {
		const struct low *one = &lows[n];
		char at_job = judge_scope(
		    &one->weather, 8, &job, BOUND_AT_LEAST, "50 degF");
		char at_night = judge_scope(
		    &one->weather, 8, &night, BOUND_AT_LEAST, "50 degF");
		char above = judge_scope(
		    &one->weather, 8, &night, BOUND_ABOVE, "50 degF");
		if (at_job != one->at_job || at_night != one->night ||
		    above != one->night_above)
			fail_msg("%s: %c, %c, %c", one->name, at_job, at_night,
			    above);
	}
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(
		    one_weather_has_as_many_answers_as_a_ceiling_has_spans),
		cmocka_unit_test(a_floor_looks_at_the_lowest_of_its_span),
	};
	return RUN_TESTS(tests);
}
