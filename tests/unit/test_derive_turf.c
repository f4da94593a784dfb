/* The turf's columns out of a site's looks, its soil and its days. */
#include "unit/test.h"

#include "unit/derive_fixture.h"

#include "advice/derive_turf.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

enum { DAYS = 120, EVENTS = 6 };

/* Days from 1 December 2025, and a series of the last of them. */
struct yard {
	struct site site;
	struct site_facts facts;
	struct series series;
	struct daily days[DAYS];
	struct turf_event event[EVENTS];
	struct turf_told told[EVENTS];
	int64_t first;
};

static int64_t
day_2026(int month, int day)
{
	struct zone zone = chicago();
	return civil_day(&zone, local_2026(month, day, 12, 0));
}

/* Soil of the source in degF on each of the days; bermuda, looks hold 14 d. */
static struct yard *
yard_new(double fahrenheit)
{
	struct yard *yard = calloc(1, sizeof *yard);
	assert_non_null(yard);
	yard->site = plain_site();
	yard->site.species = TURF_BERMUDA;
	yard->site.told = yard->told;
	yard->first = day_2026(1, 1) - 31;
	for (int i = 0; i < DAYS; i++)
		yard->days[i] = (struct daily){ .day = yard->first + i,
			.high = (double)NAN,
			.low = (double)NAN,
			.mean = (double)NAN,
			.soil = TURF_FAHRENHEIT(fahrenheit),
			.rain = (double)NAN };
	yard->facts = (struct site_facts){
		.days = yard->days, .day_count = DAYS, .event = yard->event
	};
	return yard;
}

static void
tell(struct yard *yard, int month, int day, enum turf_state state)
{
	assert_true(yard->site.told_count < EVENTS);
	yard->told[yard->site.told_count++] =
	    (struct turf_told){ local_2026(month, day, 0, 0), state };
}

/* Percent of green, seen and told at `at`. */
static struct turf_event *
observe(struct yard *yard, int64_t at, double percent)
{
	assert_true(yard->facts.event_count < EVENTS);
	struct turf_event *event = &yard->event[yard->facts.event_count++];
	*event = (struct turf_event){ .kind = EVENT_GREEN,
		.from = at,
		.to = at,
		.amount = percent,
		.told = at };
	return event;
}

/* From the first of those moments to the other. */
static void
look_out(struct yard *yard, int64_t from, int64_t to)
{
	series_release(&yard->series);
	series_init(&yard->series, from, to);
}

static void
derive_yard(struct yard *yard)
{
	derive(&yard->series, &yard->site, &yard->facts);
}

static void
yard_free(struct yard *yard)
{
	series_release(&yard->series);
	free(yard);
}

/* Every cell of that day that the series has; TURF_STATES: not known. */
static void
check_turf(const struct yard *yard, int64_t day, enum turf_state wanted)
{
	const struct zone *zone = &yard->site.zone;
	int64_t end = civil_day_start(zone, day + 1);
	size_t seen = 0;
	for (int64_t time = civil_day_start(zone, day); time < end;
	     time += SERIES_STEP) {
		if (time < yard->series.start ||
		    time >= series_end(&yard->series))
			continue;
		seen++;
		for (int s = 0; s < TURF_STATES; s++)
			check_cell(&yard->series,
			    (enum measure)(MEASURE_DORMANT + s), time,
			    wanted == TURF_STATES
				? (double)NAN
				: (enum turf_state)s == wanted);
	}
	assert_true(seen > 0);
}

/* A line of the configuration that is dated ahead is a guess, not a look. */
static void
a_telling_of_a_day_to_come_waits_for_it(void **state)
{
	(void)state;
	struct yard *yard = yard_new((double)NAN);
	tell(yard, 3, 9, TURF_DORMANT);
	look_out(yard, local_2026(3, 8, 0, 0), local_2026(3, 12, 0, 0));
	yard->facts.now = local_2026(3, 8, 9, 0);
	derive_yard(yard);
	check_turf(yard, day_2026(3, 10), TURF_STATES);
	look_out(yard, local_2026(3, 8, 0, 0), local_2026(3, 12, 0, 0));
	yard->facts.now = local_2026(3, 9, 0, 0);
	derive_yard(yard);
	check_turf(yard, day_2026(3, 10), TURF_DORMANT);
	yard_free(yard);
}

static void
looks_of_both_kinds_are_merged_by_time(void **state)
{
	(void)state;
	struct yard *yard = yard_new((double)NAN);
	tell(yard, 3, 2, TURF_DORMANT);
	tell(yard, 3, 9, TURF_GREEN_UP);
	observe(yard, local_2026(3, 5, 7, 30), 40);
	observe(yard, local_2026(3, 7, 7, 30), 3);
	observe(yard, local_2026(3, 12, 7, 30), 95);
	look_out(yard, local_2026(3, 1, 9, 15), local_2026(3, 15, 0, 0));
	derive_yard(yard);
	check_turf(yard, day_2026(3, 1), TURF_STATES);
	check_turf(yard, day_2026(3, 2), TURF_DORMANT);
	check_turf(yard, day_2026(3, 4), TURF_DORMANT);
	check_turf(yard, day_2026(3, 5), TURF_GREEN_UP);
	check_turf(yard, day_2026(3, 7), TURF_DORMANT);
	check_turf(yard, day_2026(3, 8), TURF_DORMANT); /* 23 h */
	check_turf(yard, day_2026(3, 9), TURF_GREEN_UP);
	check_turf(yard, day_2026(3, 12), TURF_GREEN);
	check_turf(yard, day_2026(3, 14), TURF_GREEN);
	yard_free(yard);
}

static void
of_one_day_the_look_told_last_counts(void **state)
{
	(void)state;
	struct yard *yard = yard_new((double)NAN);
	int64_t midnight = local_2026(3, 5, 0, 0);
	tell(yard, 3, 5, TURF_GREEN);
	/* of the whole day, told in the evening */
	observe(yard, midnight, 2)->told = local_2026(3, 5, 19, 0);
	observe(yard, local_2026(3, 5, 7, 0), 50);
	look_out(yard, midnight, local_2026(3, 6, 0, 0));
	derive_yard(yard);
	check_turf(yard, day_2026(3, 5), TURF_DORMANT);
	/* told at noon, before the one of two o'clock */
	yard->event[0].told = local_2026(3, 5, 12, 0);
	yard->event[1].from = yard->event[1].told = local_2026(3, 5, 14, 0);
	look_out(yard, midnight, local_2026(3, 6, 0, 0));
	derive_yard(yard);
	check_turf(yard, day_2026(3, 5), TURF_GREEN_UP);
	/* told at once, so that the list decides */
	yard->event[0].told = yard->event[1].told;
	look_out(yard, midnight, local_2026(3, 6, 0, 0));
	derive_yard(yard);
	check_turf(yard, day_2026(3, 5), TURF_GREEN_UP);
	/* an observation before the configuration */
	yard->facts.event_count = 1;
	look_out(yard, midnight, local_2026(3, 6, 0, 0));
	derive_yard(yard);
	check_turf(yard, day_2026(3, 5), TURF_DORMANT);
	yard_free(yard);
}

static void
what_is_no_look_is_left_out(void **state)
{
	(void)state;
	struct yard *yard = yard_new((double)NAN);
	tell(yard, 3, 2, TURF_DORMANT);
	observe(yard, local_2026(3, 3, 8, 0), 60)->kind = EVENT_SOIL;
	observe(yard, local_2026(3, 4, 8, 0), (double)NAN);
	observe(yard, local_2026(3, 5, 8, 0), -1);
	observe(yard, local_2026(3, 6, 8, 0), 101);
	/* a guess */
	observe(yard, local_2026(3, 7, 8, 0), 60)->told =
	    local_2026(3, 3, 8, 0);
	look_out(yard, local_2026(3, 2, 0, 0), local_2026(3, 10, 0, 0));
	derive_yard(yard);
	for (int day = 2; day < 10; day++)
		check_turf(yard, day_2026(3, day), TURF_DORMANT);
	yard_free(yard);
}

/* From the days before the series and from its own cells, across its start. */
static void
history_and_series_make_one_soil(void **state)
{
	(void)state;
	struct yard *yard = yard_new(45);
	tell(yard, 1, 15, TURF_DORMANT);
	look_out(yard, local_2026(2, 27, 9, 0), local_2026(3, 9, 0, 0));
	fill(&yard->series, MEASURE_SOIL, TURF_FAHRENHEIT(45));
	put(&yard->series, MEASURE_SOIL, local_2026(3, 4, 0, 0),
	    local_2026(3, 9, 0, 0), TURF_FAHRENHEIT(60));
	derive_yard(yard);
	/* (4 x 45 + 3 x 60) / 7 = 51.4, a day before 49.3 */
	for (int64_t day = day_2026(2, 27); day < day_2026(3, 6); day++)
		check_turf(yard, day, TURF_DORMANT);
	for (int64_t day = day_2026(3, 6); day < day_2026(3, 9); day++)
		check_turf(yard, day, TURF_STATES);
	/* a day that was not stored breaks the chain */
	yard->days[day_2026(1, 20) - yard->first].soil = (double)NAN;
	look_out(yard, local_2026(2, 27, 9, 0), local_2026(3, 9, 0, 0));
	fill(&yard->series, MEASURE_SOIL, TURF_FAHRENHEIT(45));
	derive_yard(yard);
	for (int64_t day = day_2026(2, 27); day < day_2026(3, 9); day++)
		check_turf(yard, day, TURF_STATES);
	yard_free(yard);
}

/* The source says 48, the thermometer 53, so the soil never was under 50. */
static void
the_thermometer_corrects_the_days_before_too(void **state)
{
	(void)state;
	struct soil_reading reading = { local_2026(2, 20, 0, 0),
		TURF_FAHRENHEIT(53) };
	for (int read = 0; read < 2; read++) {
		struct yard *yard = yard_new(48);
		struct turf_lawn lawn;
		tell(yard, 1, 15, TURF_DORMANT);
		yard->site.soil = &reading;
		yard->site.soil_count = (size_t)read;
		look_out(yard, local_2026(2, 27, 9, 0), local_2026(3, 9, 0, 0));
		fill(&yard->series, MEASURE_SOIL, TURF_FAHRENHEIT(48));
		derive_yard(yard);
		check_turf(
		    yard, day_2026(3, 1), read ? TURF_STATES : TURF_DORMANT);
		turf_lawn_init(&lawn, &yard->series, &yard->site, &yard->facts);
		for (int64_t day = day_2026(1, 15); day < day_2026(3, 9); day++)
			assert_close(turf_soil_mean(&lawn, day, 1),
			    TURF_FAHRENHEIT(read ? 53 : 48), 1e-4);
		assert_nan(turf_soil_mean(&lawn, day_2026(3, 9), 1));
		turf_lawn_release(&lawn);
		yard_free(yard);
	}
}

/* Air of 5 degC for months makes soil of 5 degC in the model. */
static void
without_a_source_the_model_has_the_days_before(void **state)
{
	(void)state;
	struct yard *yard = yard_new((double)NAN);
	for (int i = 0; i < DAYS; i++)
		yard->days[i].mean = 5;
	tell(yard, 1, 15, TURF_DORMANT);
	look_out(yard, local_2026(2, 27, 9, 0), local_2026(3, 9, 0, 0));
	derive_yard(yard);
	check_turf(yard, day_2026(3, 1), TURF_STATES);
	yard->site.yearly_mean = 5;
	look_out(yard, local_2026(2, 27, 9, 0), local_2026(3, 9, 0, 0));
	derive_yard(yard);
	for (int64_t day = day_2026(2, 27); day < day_2026(3, 9); day++)
		check_turf(yard, day, TURF_DORMANT);
	yard_free(yard);
}

/* Warm days that were stored end a look, with the forecast or without. */
static void
a_forecast_that_is_gone_makes_nothing_dormant(void **state)
{
	(void)state;
	for (int gone = 0; gone < 2; gone++) {
		struct yard *yard = yard_new(45);
		int64_t warm = day_2026(2, 15) - yard->first;
		for (int64_t i = warm; i < warm + 6; i++)
			yard->days[i].soil = TURF_FAHRENHEIT(60);
		tell(yard, 2, 10, TURF_DORMANT);
		yard->site.told_holds = 60.0 * DAY;
		look_out(yard, local_2026(2, 27, 9, 0), local_2026(3, 9, 0, 0));
		if (!gone)
			fill(&yard->series, MEASURE_SOIL, TURF_FAHRENHEIT(45));
		derive_yard(yard);
		for (int64_t day = day_2026(2, 27); day < day_2026(3, 9); day++)
			check_turf(yard, day, TURF_STATES);
		yard_free(yard);
	}
}

static void
without_facts_the_configuration_decides(void **state)
{
	(void)state;
	struct yard *yard = yard_new(45);
	tell(yard, 3, 2, TURF_GREEN_UP);
	look_out(yard, local_2026(3, 1, 0, 0), local_2026(3, 20, 0, 0));
	derive(&yard->series, &yard->site, NULL);
	check_turf(yard, day_2026(3, 1), TURF_STATES);
	for (int day = 2; day < 16; day++)
		check_turf(yard, day_2026(3, day), TURF_GREEN_UP);
	check_turf(yard, day_2026(3, 16), TURF_STATES);
	yard_free(yard);
}

/*
 * "mean soil-temperature from midnight - 5 d to midnight below 55 degF", of
 * which the series' source holds the last two days and the rest was stored.
 */
static void
a_card_can_ask_for_the_mean_of_the_soil(void **state)
{
	(void)state;
	static const struct {
		double stored, source;
		bool opens;
	} rows[] = { { 50, 60, true }, { 52, 60, false }, { 56, 53, true },
		{ 58, 53, false } };
	struct exposure five_days = { { ANCHOR_MIDNIGHT, -5 },
		{ ANCHOR_MIDNIGHT, 0 } };
	for (size_t i = 0; i < COUNT(rows); i++) {
		struct yard *yard = yard_new(rows[i].stored);
		struct zone zone = chicago();
		struct outlook outlook;
		look_out(yard, local_2026(3, 3, 9, 0), local_2026(3, 13, 0, 0));
		put(&yard->series, MEASURE_SOIL, local_2026(3, 8, 0, 0),
		    local_2026(3, 13, 0, 0), TURF_FAHRENHEIT(rows[i].source));
		derive_yard(yard);
		outlook_init(&outlook, &yard->series, &zone);
		const struct band *band =
		    outlook_fold(&outlook, yard->series.column[MEASURE_SOIL],
			false, FOLD_MEAN, &five_days, HOUR);
		/* of 10 March: three days as stored, and two of the source,
		   one of them of 23 h */
		size_t cell = cell_of(&yard->series, local_2026(3, 10, 9, 0));
		double wanted =
		    (3 * 24 * rows[i].stored + 47 * rows[i].source) / 119;
		assert_close(
		    (double)band->low[cell], TURF_FAHRENHEIT(wanted), 1e-3);
		assert_close(
		    (double)band->high[cell], TURF_FAHRENHEIT(wanted), 1e-3);
		assert_int_equal(wanted < 55, rows[i].opens);
		/* of 8 March the first of the five days lies in part before the
		   series */
		cell = cell_of(&yard->series, local_2026(3, 8, 9, 0));
		assert_true(band->low[cell] < band->high[cell]);
		outlook_release(&outlook);
		yard_free(yard);
	}
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_telling_of_a_day_to_come_waits_for_it),
		cmocka_unit_test(looks_of_both_kinds_are_merged_by_time),
		cmocka_unit_test(of_one_day_the_look_told_last_counts),
		cmocka_unit_test(what_is_no_look_is_left_out),
		cmocka_unit_test(history_and_series_make_one_soil),
		cmocka_unit_test(the_thermometer_corrects_the_days_before_too),
		cmocka_unit_test(
		    without_a_source_the_model_has_the_days_before),
		cmocka_unit_test(a_forecast_that_is_gone_makes_nothing_dormant),
		cmocka_unit_test(without_facts_the_configuration_decides),
		cmocka_unit_test(a_card_can_ask_for_the_mean_of_the_soil),
	};
	return RUN_TESTS(tests);
}
