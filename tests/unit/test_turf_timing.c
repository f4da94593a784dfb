/* When the soil passes a mark, and a year of measured soil. */
#include "unit/test.h"

#include "unit/lawn.h"

#include "advice/turf_timing.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

static void
the_soil_passes_a_limit_upwards_and_downwards(void **state)
{
	(void)state;
	struct plot plot;
	int64_t day = -1;
	plot_init(&plot, TURF_UNSAID, 60, 50);
	put_soil(&plot, 20, 40, 60);
	/* means from day 20 on: 52, 54, 56; from day 40 on: 58, 56, 54 */
	struct turf_passing rise = { TURF_FAHRENHEIT(55), 5, true };
	struct turf_passing fall = { TURF_FAHRENHEIT(55), 5, false };
	assert_true(turf_passes(&plot.lawn, &rise, 10, &day));
	assert_int_equal(day, 22);
	assert_true(turf_passes(&plot.lawn, &rise, 21, &day));
	assert_int_equal(day, 22);
	assert_true(turf_passes(&plot.lawn, &fall, 10, &day));
	assert_int_equal(day, 42);
	/* passed already, and not again */
	assert_false(turf_passes(&plot.lawn, &rise, 22, &day));
	assert_int_equal(day, 60);
	assert_false(turf_passes(&plot.lawn, &fall, 42, &day));
	assert_int_equal(day, 60);
	/* over three days the limit is passed a day sooner */
	rise.days = 3;
	assert_true(turf_passes(&plot.lawn, &rise, 10, &day));
	assert_int_equal(day, 21);
	/* to the limit is over it going up, and not under it going down */
	rise = (struct turf_passing){ TURF_FAHRENHEIT(60), 1, true };
	fall = (struct turf_passing){ TURF_FAHRENHEIT(50), 1, false };
	assert_true(turf_passes(&plot.lawn, &rise, 10, &day));
	assert_int_equal(day, 20);
	assert_false(turf_passes(&plot.lawn, &fall, 10, &day));
}

static void
nothing_passes_behind_a_gap(void **state)
{
	(void)state;
	struct plot plot;
	int64_t day = -1;
	struct turf_passing rise = { TURF_FAHRENHEIT(55), 5, true };
	plot_init(&plot, TURF_UNSAID, 60, 50);
	put_soil(&plot, 20, 60, 60);
	plot.soil[18] = (double)NAN;
	assert_false(turf_passes(&plot.lawn, &rise, 10, &day));
	assert_int_equal(day, 18);
	assert_false(turf_passes(&plot.lawn, &rise, 20, &day));
	assert_int_equal(day, 20);
	/* four days are no mean of five */
	assert_false(turf_passes(&plot.lawn, &rise, 3, &day));
	assert_int_equal(day, 3);
}

struct ramp {
	double from, step; /* degF of day 0, and of each day on */
	enum soil_trend trend;
	double mark; /* degF; 0: none is ahead */
	bool passes;
	int64_t day;
};

/*
 * Seen from day 10, known to day 19. The mean of five days of a ramp is its
 * value two days before: by hand.
 */
static const struct ramp ramps[] = {
	/* 48.1 on day 10, 54.1 on 16, 55.1 on 17 */
	{ 40.1, 1, SOIL_RISING, 55, true, 17 },
	/* 44.1 on day 10, 53.1 on 19 */
	{ 36.1, 1, SOIL_RISING, 55, false, 20 },
	{ 48.1, 1, SOIL_RISING, 60, true, 14 },
	{ 52.1, 1, SOIL_RISING, 65, true, 15 },
	{ 60.1, 1, SOIL_RISING, 0, false, 20 },
	/* 55 and 60: the first of them */
	{ 45.1, 1, SOIL_RISING, 55, true, 12 },
	/* 72.1 on day 10, 70.1 on 12, 69.1 on 13 */
	{ 80.1, -1, SOIL_FALLING, 70, true, 13 },
	{ 88.1, -1, SOIL_FALLING, 70, false, 20 },
	{ 68.1, -1, SOIL_FALLING, 50, false, 20 },
	{ 59.1, -1, SOIL_FALLING, 50, true, 12 },
	{ 55.1, -1, SOIL_FALLING, 0, false, 20 },
	{ 52.1, 0, SOIL_STEADY, 0, false, 20 },
	{ 52.1, 0.05, SOIL_STEADY, 0, false, 20 },
	{ 52.1, -0.05, SOIL_STEADY, 0, false, 20 },
	/* 54.5 on day 11, 60.5 on 12: two on one day, the colder is told */
	{ 0.5, 6, SOIL_RISING, 55, true, 12 },
};

static void
the_next_mark_is_told(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(ramps); i++) {
		const struct ramp *ramp = &ramps[i];
		struct plot plot;
		plot_init(&plot, TURF_UNSAID, 20, 0);
		for (int d = 0; d < 20; d++)
			plot.soil[d] =
			    TURF_FAHRENHEIT(ramp->from + d * ramp->step);
		struct turf_timing timing = turf_timing(&plot.lawn, 10);
		assert_close(timing.mean,
		    TURF_FAHRENHEIT(ramp->from + 8 * ramp->step), 1e-9);
		double mark = timing.mark == NULL
				  ? 0
				  : timing.mark->passing.limit * 1.8 + 32;
		if (timing.trend != ramp->trend ||
		    fabs(mark - ramp->mark) > 1e-9 ||
		    timing.passes != ramp->passes || timing.day != ramp->day)
			fail_msg("ramp %zu: trend %d, mark %g, %d on %lld", i,
			    timing.trend, mark, timing.passes,
			    (long long)timing.day);
	}
}

/* The next days may turn what yesterday began. */
static void
a_mark_that_is_passed_comes_before_the_trend(void **state)
{
	(void)state;
	struct plot plot;
	plot_init(&plot, TURF_UNSAID, 20, 54);
	put_soil(&plot, 9, 11, 50);
	put_soil(&plot, 11, 20, 60);
	struct turf_timing timing = turf_timing(&plot.lawn, 10);
	assert_int_equal(timing.trend, SOIL_FALLING);
	assert_true(timing.passes);
	assert_close(timing.mark->passing.limit, TURF_FAHRENHEIT(55), 1e-9);
	/* (54 + 50 + 50 + 60 + 60) / 5 = 54.8, a day later 56 */
	assert_int_equal(timing.day, 13);
}

static void
without_soil_nothing_is_timed(void **state)
{
	(void)state;
	struct plot plot;
	plot_init(&plot, TURF_UNSAID, 20, 54);
	plot.soil[8] = (double)NAN;
	struct turf_timing timing = turf_timing(&plot.lawn, 10);
	assert_nan(timing.mean);
	assert_int_equal(timing.trend, SOIL_UNKNOWN);
	assert_null(timing.mark);
	assert_false(timing.passes);
	plot_init(&plot, TURF_UNSAID, 0, 0);
	timing = turf_timing(&plot.lawn, 10);
	assert_nan(timing.mean);
	assert_null(timing.mark);
}

/* Column 25 is the soil at 10 cm in degC, -9999 where it is missing. */
static bool
read_year(struct plot *plot)
{
	char path[512], line[512];
	const char *folder = getenv("LULL_SHARED");
	if (folder == NULL)
		return false;
	(void)snprintf(
	    path, sizeof path, "%s/data/uscrn-daily-2015-austin.txt", folder);
	FILE *file = fopen(path, "r");
	if (file == NULL)
		return false;
	while (fgets(line, sizeof line, file) != NULL &&
	       plot->lawn.soil_count < LAWN_DAYS) {
		const char *at = line + strspn(line, " ");
		for (int column = 1; column < 25; column++) {
			at += strcspn(at, " ");
			at += strspn(at, " ");
		}
		double soil = strtod(at, NULL);
		plot->soil[plot->lawn.soil_count++] =
		    soil > -99 ? soil : (double)NAN;
	}
	(void)fclose(file);
	return true;
}

static void
tell(const char *what, int64_t day)
{
	const struct zone utc = { .count = 0 };
	char buffer[CIVIL_BUFFER];
	/* 2015-01-01 is day 16436 since 1970: 45 years of 365 and 11 more */
	print_message("  %s %s\n", what,
	    civil_print(buffer, sizeof buffer, &utc,
		(16436 + day) * DAY_SECONDS, CIVIL_DATE));
}

enum { FEBRUARY = 31, MARCH = 59, APRIL = 90, OCTOBER = 273, DECEMBER = 334 };

/*
 * NOAA USCRN, Austin 33 NW, Texas, 2015, soil under grass at 10 cm; read. The
 * months are what a keeper there would expect: no source.
 */
static void
a_measured_year_turns_in_sensible_months(void **state)
{
	(void)state;
	struct plot plot;
	plot_init(&plot, TURF_BERMUDA, 0, 0);
	if (!read_year(&plot)) {
		print_message("  skipped: LULL_SHARED names no such file\n");
		skip();
	}
	assert_int_equal(plot.lawn.soil_count, 365);
	int64_t wakes = -1, grows = -1, cools = -1, sleeps = -1;
	/* dormant in January: until when is it */
	add_look(&plot, 14, TURF_DORMANT);
	assert_int_equal(
	    turf_green_up(&plot.lawn, 14, &wakes), TURF_GREEN_UP_ON);
	tell("seen dormant on 15 January, in doubt from", wakes);
	assert_true(wakes >= FEBRUARY && wakes < APRIL);
	/* nothing of this year is carried through its gap of 3 March */
	int64_t end = turf_state_end(&plot.lawn, 14);
	tell("and no more trusted from", end);
	assert_true(end <= wakes);
	struct turf_passing growth = { TURF_FAHRENHEIT(65), 5, true };
	assert_true(turf_passes(&plot.lawn, &growth, MARCH + 20, &grows));
	tell("over 65 degF from", grows);
	assert_true(grows >= MARCH && grows < APRIL + 30);
	/* green in May: carried through the summer */
	add_look(&plot, 120, TURF_GREEN);
	cools = turf_state_end(&plot.lawn, 120);
	tell("seen green on 1 May, in doubt from", cools);
	assert_true(cools >= OCTOBER && cools < DECEMBER);
	/* dormancy is entered in winter alone, and this December was warm */
	for (int64_t day = 0; day < 60 && sleeps < 0; day++)
		if (turf_soil_mean(&plot.lawn, day, 7) <= TURF_FAHRENHEIT(50))
			sleeps = day;
	tell("first week at 50 degF or less ends", sleeps);
	assert_true(sleeps >= 0 && sleeps < MARCH);
	for (int64_t day = 90; day < 334; day++)
		assert_false(
		    turf_soil_mean(&plot.lawn, day, 7) <= TURF_FAHRENHEIT(50));
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(the_soil_passes_a_limit_upwards_and_downwards),
		cmocka_unit_test(nothing_passes_behind_a_gap),
		cmocka_unit_test(the_next_mark_is_told),
		cmocka_unit_test(a_mark_that_is_passed_comes_before_the_trend),
		cmocka_unit_test(without_soil_nothing_is_timed),
		cmocka_unit_test(a_measured_year_turns_in_sensible_months),
	};
	return RUN_TESTS(tests);
}
