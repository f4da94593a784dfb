/* Soil temperature and degree days, from the days before. */
#include "unit/test.h"

#include "unit/ground.h"

static void
the_model_holds_over_each_local_day(void **state)
{
	(void)state;
	for (int autumn = 0; autumn < 2; autumn++) {
		/* the clocks change within: a day of 23 h, or of 25 */
		int64_t change =
		    autumn ? day_of(2026, 11, 1) : day_of(2026, 3, 8);
		struct ground *ground = ramp_new(change - 12, 20, 18);
		ground_series(ground, change - 2, change + 3);
		ground->series.continuous[MEASURE_SOIL] = true;
		ground_derive(ground);
		for (int64_t day = change - 2; day < change + 3; day++)
			check_day(ground, MEASURE_SOIL, day,
			    ramp_soil(day, change - 12, 18));
		assert_false(ground->series.continuous[MEASURE_SOIL]);
		ground_free(ground);
	}
}

/* The day itself counts and the ten before it. */
static void
the_model_needs_eleven_days(void **state)
{
	(void)state;
	int64_t first = day_of(2026, 5, 1);
	struct ground *ground = ramp_new(first, 30, 18);
	ground->days[12].mean = (double)NAN;
	ground_series(ground, first + 9, first + 26);
	ground_derive(ground);
	check_day(ground, MEASURE_SOIL, first + 9, NAN);
	for (int64_t day = 10; day < 12; day++)
		check_day(
		    ground, MEASURE_SOIL, first + day, ramp_soil(day, 0, 18));
	for (int64_t day = 12; day < 23; day++)
		check_day(ground, MEASURE_SOIL, first + day, NAN);
	for (int64_t day = 23; day < 26; day++)
		check_day(
		    ground, MEASURE_SOIL, first + day, ramp_soil(day, 0, 18));
	ground_free(ground);
}

static void
without_a_yearly_mean_there_is_no_model(void **state)
{
	(void)state;
	int64_t first = day_of(2026, 5, 1);
	struct ground *ground = ramp_new(first, 30, (double)NAN);
	struct soil_reading reading = {
		civil_day_start(&ground->site.zone, first + 12), 20
	};
	ground->site.soil = &reading;
	ground->site.soil_count = 1;
	ground_series(ground, first + 15, first + 17);
	ground_derive(ground);
	check_day(ground, MEASURE_SOIL, first + 15, NAN);
	ground_free(ground);
}

static void
a_source_of_soil_is_kept_with_its_gaps(void **state)
{
	(void)state;
	int64_t first = day_of(2026, 5, 1);
	struct ground *ground = ramp_new(first, 30, 18);
	ground_series(ground, first + 15, first + 17);
	fill(&ground->series, MEASURE_SOIL, NAN);
	ground->series.column[MEASURE_SOIL][100] = 13;
	ground->series.continuous[MEASURE_SOIL] = true;
	ground_derive(ground);
	const float *soil = ground->series.column[MEASURE_SOIL];
	for (size_t i = 0; i < ground->series.count; i++) {
		if (i == 100)
			assert_close((double)soil[i], 13, 1e-6);
		else
			assert_nan((double)soil[i]);
	}
	assert_true(ground->series.continuous[MEASURE_SOIL]);
	ground_free(ground);
}

/* A column that is there but empty is no source. */
static void
an_empty_column_is_filled_by_the_model(void **state)
{
	(void)state;
	int64_t first = day_of(2026, 5, 1);
	struct ground *ground = ramp_new(first, 30, 18);
	ground_series(ground, first + 15, first + 17);
	fill(&ground->series, MEASURE_SOIL, NAN);
	ground_derive(ground);
	check_day(ground, MEASURE_SOIL, first + 16, ramp_soil(16, 0, 18));
	ground_free(ground);
}

struct season {
	int year, month, day;
	double latitude;
	double wanted; /* 5 K d for each day of the season before */
};

static const struct season seasons[] = {
	{ 2026, 1, 1, 29.5, 0 }, { 2026, 1, 2, 29.5, 5 },
	{ 2026, 3, 8, 29.5, 66 * 5 }, /* 23 h, and the day after */
	{ 2026, 3, 9, 29.5, 67 * 5 }, { 2026, 7, 1, 29.5, 181 * 5 },
	{ 2026, 12, 31, 29.5, 364 * 5 }, { 2027, 1, 1, 29.5, 0 },
	{ 2027, 1, 3, 29.5, 2 * 5 }, { 2026, 7, 1, -35, 0 },
	{ 2026, 7, 2, -35, 5 }, { 2026, 12, 31, -35, 183 * 5 },
	{ 2027, 1, 1, -35, 184 * 5 }, { 2027, 1, 3, -35, 186 * 5 },
	{ 2027, 6, 30, -35, 364 * 5 }, { 2027, 7, 1, -35, 0 },
	{ 2026, 7, 1, 0, 181 * 5 }, /* on the equator as in the north */
};

/* Each series begins the day before, so that the sum is carried on, too. */
static void
degree_days_begin_anew_with_each_season(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(seasons); i++) {
		const struct season *season = &seasons[i];
		struct ground *ground = ground_new(day_of(2025, 7, 1), 800);
		int64_t day = day_of(season->year, season->month, season->day);
		ground->site.latitude = season->latitude;
		ground_series(ground, day - 1, day + 1);
		ground_derive(ground);
		check_day(ground, MEASURE_DEGREE_DAYS, day, season->wanted);
		assert_false(ground->series.continuous[MEASURE_DEGREE_DAYS]);
		ground_free(ground);
	}
}

static void
a_missing_day_is_missed_for_the_rest_of_the_season(void **state)
{
	(void)state;
	for (int gap = 0; gap < 2; gap++) {
		int64_t first = day_of(2026, 1, 1);
		int64_t lost = day_of(2026, 12, 27);
		struct ground *ground = ground_new(first, 380);
		if (gap)
			ground->days[lost - first].high = (double)NAN;
		else
			ground->days[lost - first].day = first - 10;
		/* ascending still: the entry of long ago goes to the front */
		struct daily moved = ground->days[lost - first];
		if (!gap) {
			memmove(ground->days + 1, ground->days,
			    (size_t)(lost - first) * sizeof moved);
			ground->days[0] = moved;
		}
		ground_series(ground, lost - 1, lost + 8);
		ground_derive(ground);
		check_day(ground, MEASURE_DEGREE_DAYS, lost, 360 * 5);
		for (int64_t day = lost + 1; day < lost + 5; day++)
			check_day(ground, MEASURE_DEGREE_DAYS, day, NAN);
		check_day(ground, MEASURE_DEGREE_DAYS, lost + 5, 0);
		check_day(ground, MEASURE_DEGREE_DAYS, lost + 7, 10);
		ground_free(ground);
	}
}

/* Half of a wave of 10 K over its own middle: 5 / pi a day. Computed. */
static void
degree_days_count_from_the_base_of_the_site(void **state)
{
	(void)state;
	struct ground *ground = ground_new(day_of(2026, 1, 1), 60);
	ground->site.degree_base = 15;
	ground_series(ground, day_of(2026, 1, 11), day_of(2026, 1, 12));
	ground_derive(ground);
	check_day(ground, MEASURE_DEGREE_DAYS, day_of(2026, 1, 11), 15.9155);
	ground_free(ground);
}

static void
without_days_only_the_first_of_the_season_is_known(void **state)
{
	(void)state;
	struct ground *ground = ground_new(0, 0);
	ground_series(ground, day_of(2025, 12, 31), day_of(2026, 1, 3));
	derive(&ground->series, &ground->site, NULL);
	check_day(ground, MEASURE_DEGREE_DAYS, day_of(2025, 12, 31), NAN);
	check_day(ground, MEASURE_DEGREE_DAYS, day_of(2026, 1, 1), 0);
	check_day(ground, MEASURE_DEGREE_DAYS, day_of(2026, 1, 2), NAN);
	ground_free(ground);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(the_model_holds_over_each_local_day),
		cmocka_unit_test(the_model_needs_eleven_days),
		cmocka_unit_test(without_a_yearly_mean_there_is_no_model),
		cmocka_unit_test(a_source_of_soil_is_kept_with_its_gaps),
		cmocka_unit_test(an_empty_column_is_filled_by_the_model),
		cmocka_unit_test(degree_days_begin_anew_with_each_season),
		cmocka_unit_test(
		    a_missing_day_is_missed_for_the_rest_of_the_season),
		cmocka_unit_test(degree_days_count_from_the_base_of_the_site),
		cmocka_unit_test(
		    without_days_only_the_first_of_the_season_is_known),
	};
	return RUN_TESTS(tests);
}
