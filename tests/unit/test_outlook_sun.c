/* Exposures that hang on sunrise and sunset. */
#include "unit/judge_one.h"

#include "advice/derive.h"
#include "physics/sun.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

struct place {
	struct site site;
	struct series series;
	int64_t midnight; /* of the day looked at */
	int64_t rise, set;
};

/* Five local days, of which the middle one is looked at. */
static void
place_init(struct place *place, double latitude, int month, int day)
{
	*place = (struct place){ .site = { .name = "front",
				     .latitude = latitude,
				     .longitude = -98.5,
				     .zone = chicago(),
				     .rain_chance = 30 } };
	const struct site *site = &place->site;
	place->midnight = local_2026(month, day, 0, 0);
	int64_t number = civil_day(&site->zone, place->midnight);
	series_init(&place->series, civil_day_start(&site->zone, number - 2),
	    civil_day_start(&site->zone, number + 3));
	derive(&place->series, site, NULL);
	place->rise = (int64_t)sun_rise(latitude, site->longitude,
	    (double)place->midnight, SUN_HEIGHT_HORIZON);
	place->set = (int64_t)sun_set(latitude, site->longitude,
	    (double)place->midnight, SUN_HEIGHT_HORIZON);
	fill(&place->series, MEASURE_WET, 0);
	fill(&place->series, MEASURE_WIND, 2);
}

static enum verdict
judge_at(struct place *place, struct rule rule, int64_t time)
{
	size_t start = cell_of(&place->series, time);
	return judge_one(&place->series, &place->site.zone, rule, HOUR, start);
}

static struct exposure
between(
    enum anchor from, int32_t from_seconds, enum anchor to, int32_t to_seconds)
{
	return (struct exposure){ { from, from_seconds }, { to, to_seconds } };
}

static struct rule
dry(struct exposure exposure)
{
	return rule_of(MEASURE_WET, FOLD_ANY, exposure, BOUND_AT_MOST, 0);
}

struct day {
	int month, day;
};

static const struct day days[] = { { 6, 10 }, { 12, 21 }, { 3, 7 }, { 3, 8 },
	{ 3, 9 }, { 10, 31 }, { 11, 1 }, { 11, 2 } };

/* Rain in one cell breaks the rule for the starts of that day and no other. */
static void
check_cell_counts(
    struct place *place, struct rule rule, int64_t time, bool counts)
{
	int64_t cell =
	    series_time(&place->series, cell_of(&place->series, time));
	int64_t next = civil_day_start(&place->site.zone,
	    civil_day(&place->site.zone, place->midnight) + 1);
	put(&place->series, MEASURE_WET, cell, cell + SERIES_STEP, 1);
	enum verdict wanted = counts ? VERDICT_NO_GO : VERDICT_GO;
	assert_int_equal(judge_at(place, rule, place->midnight), wanted);
	assert_int_equal(judge_at(place, rule, next - SERIES_STEP), wanted);
	assert_int_equal(
	    judge_at(place, rule, place->midnight - SERIES_STEP), VERDICT_GO);
	assert_int_equal(judge_at(place, rule, next), VERDICT_GO);
	put(&place->series, MEASURE_WET, cell, cell + SERIES_STEP, 0);
}

static void
a_days_light_runs_from_its_own_sunrise_to_its_own_sunset(void **state)
{
	(void)state;
	const struct rule rule =
	    dry(between(ANCHOR_SUNRISE, 0, ANCHOR_SUNSET, 0));
	const struct rule inside = dry(
	    between(ANCHOR_SUNRISE, (int)HOUR, ANCHOR_SUNSET, -2 * (int)HOUR));
	for (size_t n = 0; n < COUNT(days); n++) {
		struct place place;
		place_init(&place, 29.5, days[n].month, days[n].day);
		int64_t rise = place.rise, set = place.set;
		check_cell_counts(&place, rule, rise - SERIES_STEP, false);
		check_cell_counts(&place, rule, rise, true);
		check_cell_counts(&place, rule, set, true);
		check_cell_counts(&place, rule, set + SERIES_STEP, false);
		check_cell_counts(&place, inside, rise + HOUR, true);
		check_cell_counts(
		    &place, inside, rise + HOUR - SERIES_STEP, false);
		check_cell_counts(&place, inside, set - 2 * HOUR, true);
		check_cell_counts(
		    &place, inside, set - 2 * HOUR + SERIES_STEP, false);
		series_release(&place.series);
	}
}

/* The lowest of the night before: some hours before sunset, or a whole day
   before midnight, to sunrise. */
static void
the_night_before_ends_at_sunrise(void **state)
{
	(void)state;
	for (size_t n = 0; n < COUNT(days); n++) {
		struct place place;
		place_init(&place, 29.5, days[n].month, days[n].day);
		int64_t rise = place.rise;
		const struct rule night = dry(between(ANCHOR_SUNSET,
		    (int)(place.midnight - HOUR - place.set), ANCHOR_SUNRISE,
		    0));
		check_cell_counts(&place, night, place.midnight - HOUR, true);
		check_cell_counts(&place, night, rise, true);
		check_cell_counts(&place, night, rise + SERIES_STEP, false);
		struct rule lowest = rule_of(MEASURE_WIND, FOLD_MIN,
		    between(ANCHOR_MIDNIGHT, -1, ANCHOR_SUNRISE, 0),
		    BOUND_AT_LEAST, 1);
		size_t cell = cell_of(&place.series, rise);
		float *wind = place.series.column[MEASURE_WIND];
		wind[cell] = 0.5F;
		assert_int_equal(
		    judge_at(&place, lowest, place.midnight), VERDICT_NO_GO);
		wind[cell] = 2;
		wind[cell + 1] = 0.5F;
		assert_int_equal(
		    judge_at(&place, lowest, place.midnight), VERDICT_GO);
		series_release(&place.series);
	}
}

static void
an_instant_of_the_sun_is_within_seconds_of_it(void **state)
{
	(void)state;
	static const double latitudes[] = { 29.5, -35, 55 };
	for (size_t n = 0; n < COUNT(days) * COUNT(latitudes); n++) {
		const struct day *day = &days[n / COUNT(latitudes)];
		struct place place;
		struct outlook outlook;
		place_init(&place, latitudes[n % COUNT(latitudes)], day->month,
		    day->day);
		outlook_init(&outlook, &place.series, &place.site.zone);
		const struct instant rise = { ANCHOR_SUNRISE, 3600 };
		const struct instant set = { ANCHOR_SUNSET, -7200 };
		size_t noon =
		    cell_of(&place.series, place.midnight + 12 * HOUR);
		assert_close((double)outlook_time(&outlook, &rise, HOUR, noon),
		    (double)(place.rise + HOUR), 10);
		assert_close((double)outlook_time(&outlook, &set, HOUR, noon),
		    (double)(place.set - 2 * HOUR), 10);
		outlook_release(&outlook);
		series_release(&place.series);
	}
}

/* No sunrise, no exposure, and no answer: rain in sight or not. */
static void
a_polar_day_leaves_the_rule_unknown(void **state)
{
	(void)state;
	static const struct day polar[] = { { 6, 20 }, { 12, 20 } };
	const struct exposure exposures[] = {
		between(ANCHOR_SUNRISE, 0, ANCHOR_SUNSET, 0),
		between(ANCHOR_SUNSET, -43200, ANCHOR_SUNRISE, 0),
		between(ANCHOR_START, 0, ANCHOR_SUNSET, 0),
		between(ANCHOR_MIDNIGHT, 0, ANCHOR_SUNRISE, 0),
		between(ANCHOR_SUNSET, 0, ANCHOR_MIDNIGHT, 1),
		between(ANCHOR_SUNRISE, 0, ANCHOR_END, 0),
	};
	for (size_t n = 0; n < COUNT(polar) * COUNT(exposures); n++) {
		struct place place;
		const struct day *day = &polar[n / COUNT(exposures)];
		struct rule rule = dry(exposures[n % COUNT(exposures)]);
		struct rule calm = rule_of(
		    MEASURE_WIND, FOLD_SUM, rule.exposure, BOUND_AT_LEAST, 1);
		place_init(&place, 70, day->month, day->day);
		int64_t noon = place.midnight + 12 * HOUR;
		assert_int_equal(judge_at(&place, rule, noon), VERDICT_UNKNOWN);
		assert_int_equal(judge_at(&place, calm, noon), VERDICT_UNKNOWN);
		fill(&place.series, MEASURE_WET, 1);
		assert_int_equal(judge_at(&place, rule, noon), VERDICT_UNKNOWN);
		place.series.continuous[MEASURE_WIND] = true;
		assert_int_equal(judge_at(&place, calm, noon), VERDICT_UNKNOWN);
		series_release(&place.series);
	}
}

/* From noon to noon: the first day's sunset and the last one's sunrise. */
static void
a_sunrise_outside_of_the_series_leaves_the_rule_unknown(void **state)
{
	(void)state;
	struct zone zone = chicago();
	struct site site = {
		.latitude = 29.5, .longitude = -98.5, .zone = zone
	};
	struct series series;
	int64_t noon = local_2026(6, 10, 12, 0);
	const struct rule by_rise =
	    dry(between(ANCHOR_SUNRISE, 0, ANCHOR_START, 0));
	const struct rule by_set =
	    dry(between(ANCHOR_START, 0, ANCHOR_SUNSET, 0));
	series_init(&series, noon, noon + DAY);
	derive(&series, &site, NULL);
	fill(&series, MEASURE_WET, 0);
	size_t first = 4, last = series.count - 4;
	assert_int_equal(
	    judge_one(&series, &zone, by_rise, 900, first), VERDICT_UNKNOWN);
	assert_int_equal(
	    judge_one(&series, &zone, by_set, 900, first), VERDICT_GO);
	assert_int_equal(
	    judge_one(&series, &zone, by_rise, 900, last), VERDICT_GO);
	assert_int_equal(
	    judge_one(&series, &zone, by_set, 900, last), VERDICT_UNKNOWN);
	series_release(&series);
}

/* One lost cell of the sun's height hides what comes after it that day. */
static void
a_gap_before_sunrise_leaves_the_rule_unknown(void **state)
{
	(void)state;
	struct place place;
	const struct rule rule =
	    dry(between(ANCHOR_SUNRISE, 0, ANCHOR_SUNRISE, 3600));
	place_init(&place, 29.5, 6, 10);
	float *height = place.series.column[MEASURE_SUN_HEIGHT];
	size_t cell = cell_of(&place.series, place.rise);
	height[cell + 2] = NAN;
	assert_int_equal(judge_at(&place, rule, place.midnight), VERDICT_GO);
	height[cell] = NAN;
	assert_int_equal(
	    judge_at(&place, rule, place.midnight), VERDICT_UNKNOWN);
	assert_int_equal(
	    judge_at(&place, rule, place.midnight + 25 * HOUR), VERDICT_GO);
	free(place.series.column[MEASURE_SUN_HEIGHT]);
	place.series.column[MEASURE_SUN_HEIGHT] = NULL;
	assert_int_equal(judge_at(&place, rule, place.midnight + 25 * HOUR),
	    VERDICT_UNKNOWN);
	series_release(&place.series);
}

static void
check_reason(struct place *place, const struct rule *rule, int64_t start,
    double margin, int64_t at)
{
	struct outlook outlook;
	struct reason reason;
	struct check check = check_of(&place->series, *rule);
	outlook_init(&outlook, &place->series, &place->site.zone);
	reason_make(
	    &outlook, &check, HOUR, cell_of(&place->series, start), &reason);
	if (isinf(margin))
		assert_true(reason.margin == margin);
	else
		assert_close(reason.margin, margin, 10);
	assert_int_equal(reason.at, at);
	assert_int_equal(isnan(reason.rain) != 0, start > place->set);
	outlook_release(&outlook);
}

/* Rain some hours after sunset, then before it. */
static void
the_margin_counts_from_sunset(void **state)
{
	(void)state;
	struct place place;
	const struct rule rule =
	    dry(between(ANCHOR_START, 0, ANCHOR_SUNSET, 1800));
	place_init(&place, 29.5, 6, 10);
	fill(&place.series, MEASURE_RAIN_BLOCK, 1);
	int64_t until = place.set + 1800;
	int64_t noon = place.midnight + 12 * HOUR;
	int64_t late = place.midnight + 23 * HOUR;
	check_reason(&place, &rule, noon, INFINITY, noon);
	put(&place.series, MEASURE_WET, late, late + HOUR, 1);
	check_reason(&place, &rule, noon, (double)(late - until), late);
	put(&place.series, MEASURE_WET, noon + HOUR, noon + 2 * HOUR, 1);
	check_reason(
	    &place, &rule, noon, (double)(noon + HOUR - until), noon + HOUR);
	/* after that nothing is left to be clear */
	check_reason(&place, &rule, late, INFINITY, late);
	series_release(&place.series);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(
		    a_days_light_runs_from_its_own_sunrise_to_its_own_sunset),
		cmocka_unit_test(the_night_before_ends_at_sunrise),
		cmocka_unit_test(an_instant_of_the_sun_is_within_seconds_of_it),
		cmocka_unit_test(a_polar_day_leaves_the_rule_unknown),
		cmocka_unit_test(
		    a_sunrise_outside_of_the_series_leaves_the_rule_unknown),
		cmocka_unit_test(a_gap_before_sunrise_leaves_the_rule_unknown),
		cmocka_unit_test(the_margin_counts_from_sunset),
	};
	return RUN_TESTS(tests);
}
