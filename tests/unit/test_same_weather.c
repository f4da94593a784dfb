/* The same weather out of three formats is the same series. */
#include "unit/one_week.h"

#include "advice/derive.h"
#include "weather/daily.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

enum { OF_GRID, OF_METEO, OF_MET, SOURCES };

static const double near = 1e-4;

/* With the changes of 2026 and the last one for ever: by the rules of the tz
   database, written out by hand. */
static const struct zone utc = { .name = "UTC" };
static const struct zone chicago = { .name = "America/Chicago",
	.count = 3,
	.span = { { 0, -6 * 3600 }, { 1772956800, -5 * 3600 },
	    { 1793516400, -6 * 3600 } } };
static const struct zone sydney = { .name = "Australia/Sydney",
	.count = 3,
	.span = { { 0, 11 * 3600 }, { 1775318400, 10 * 3600 },
	    { 1791043200, 11 * 3600 } } };
static const struct zone kolkata = {
	.name = "Asia/Kolkata", .count = 1, .span = { { 0, 19800 } }
};

/* A week from that local midnight on, and how Open-Meteo writes its stamps. */
static const struct place {
	const struct zone *zone;
	double latitude;
	const char *date;
	bool local;
} places[] = {
	{ &utc, 51.5, "2026-03-02", false },
	{ &utc, 51.5, "2026-03-02", true },
	{ &chicago, 33.1, "2026-03-05", false },
	{ &chicago, 33.1, "2026-03-05", true }, /* 8 March has 23 hours */
	{ &chicago, 33.1, "2026-10-29", true }, /* 1 November has 25 */
	{ &sydney, -33.9, "2026-04-02", true }, /* 5 April has 25 */
	{ &sydney, -33.9, "2026-10-01", true }, /* 4 October has 23 */
	{ &sydney, -33.9, "2026-01-12", false },
	{ &kolkata, 22.6, "2026-03-02", true }, /* hours begin at :30 UTC */
	{ &chicago, 33.1, "2028-02-26", true }, /* over 29 February */
	{ &utc, 51.5, "2028-02-26", false },
	{ &chicago, 33.1, "2027-02-26", true }, /* and where there is none */
	{ &sydney, -33.9, "2027-12-29", true },
};

struct same {
	struct week week;
	struct series series[SOURCES];
};

static void
read_as(const char *format, struct text *text, struct series *ret)
{
	struct error error = { 0 };
	if (!format_find(format)->read(
		text_string(text), text->length, ret, &error))
		fail_msg("%s: %s", format, error.text);
	text_release(text);
}

static void
same_make(struct same *same, const struct place *place)
{
	struct text text;
	int64_t start = 0;
	assert_true(civil_parse(place->date, place->zone, &start, NULL));
	week_make(&same->week, start);
	week_write_grid(&text, &same->week);
	read_as("nws-grid", &text, &same->series[OF_GRID]);
	week_write_meteo(
	    &text, &same->week, place->local, zone_offset(place->zone, start));
	read_as("open-meteo", &text, &same->series[OF_METEO]);
	week_write_met(&text, &same->week);
	read_as("met-norway", &text, &same->series[OF_MET]);
}

static void
same_release(struct same *same)
{
	for (size_t i = 0; i < SOURCES; i++)
		series_release(&same->series[i]);
}

/* The value `seconds` into the week; a wanted NaN is "not known". */
static void
check(const struct same *same, int source, enum measure measure,
    int64_t seconds, double wanted)
{
	double value = (double)series_at(
	    &same->series[source], measure, same->week.start + seconds);
	if (isnan(wanted) ? isnan(value) : fabs(value - wanted) <= near)
		return;
	fail_msg("source %d, %s after %lld s is %g, wanted %g", source,
	    measure_info(measure)->key, (long long)seconds, value, wanted);
}

/* Runs a check over every place. */
static void
in_each_place(void (*run)(const struct same *, const struct place *))
{
	for (size_t i = 0; i < COUNT(places); i++) {
		struct same same;
		same_make(&same, &places[i]);
		run(&same, &places[i]);
		same_release(&same);
	}
}

static void
check_hours(const struct same *same, const struct place *place)
{
	(void)place;
	for (int source = 0; source < SOURCES; source++) {
		assert_int_equal(same->series[source].rejected, 0);
		for (size_t c = 0; c < WEEK_COLUMNS; c++) {
			enum measure measure = week_columns[c].measure;
			for (int h = 0; h < WEEK_HOURS; h++)
				check(same, source, measure, h * HOUR,
				    same->week.value[measure][h]);
		}
	}
}

static void
all_agree_at_each_hour(void **state)
{
	(void)state;
	in_each_place(check_hours);
}

/* Degrees from one to the other, the shorter way round. */
static double
turn(double from, double to)
{
	return fmod(to - from + 540, 360) - 180;
}

/* So many quarters of the way from the one hour to the next. */
static double
between(enum measure measure, const double *value, int quarter)
{
	double part = quarter / 4.0;
	if (measure != MEASURE_WIND_DIRECTION)
		return value[0] + part * (value[1] - value[0]);
	double angle = value[0] + part * turn(value[0], value[1]);
	return fmod(angle + 360, 360);
}

/* The grid's value is of its interval; the others' are of moments. A gust is
   the highest of the hour in each of them. */
static void
check_quarters(const struct same *same, const struct place *place)
{
	(void)place;
	for (size_t c = 0; c < WEEK_COLUMNS; c++) {
		enum measure measure = week_columns[c].measure;
		bool held = week_columns[c].of_hour;
		for (int cell = 0; cell < 4 * WEEK_HOURS; cell++) {
			const double *value =
			    &same->week.value[measure][cell / 4];
			double moving =
			    held ? value[0] : between(measure, value, cell % 4);
			int64_t at = cell * INT64_C(900);
			check(same, OF_GRID, measure, at, value[0]);
			check(same, OF_METEO, measure, at, moving);
			check(same, OF_MET, measure, at, moving);
		}
		bool runs_on = !held && measure != MEASURE_WIND_DIRECTION;
		assert_false(same->series[OF_GRID].continuous[measure]);
		assert_int_equal(
		    same->series[OF_METEO].continuous[measure], runs_on);
		assert_int_equal(
		    same->series[OF_MET].continuous[measure], runs_on);
	}
}

static void
between_hours_one_holds_and_two_run_on(void **state)
{
	(void)state;
	in_each_place(check_quarters);
}

static void
the_wind_turns_through_north_in_the_week(void **state)
{
	(void)state;
	struct same same;
	int forwards = 0, back = 0;
	same_make(&same, &places[0]);
	const double *value = same.week.value[MEASURE_WIND_DIRECTION];
	for (int h = 0; h < WEEK_HOURS; h++) {
		forwards += value[h] > 300 && value[h + 1] < 60 ? 1 : 0;
		back += value[h] < 60 && value[h + 1] > 300 ? 1 : 0;
	}
	assert_true(forwards > 5);
	assert_true(back > 5);
	same_release(&same);
}

static double
sum_rain(const struct series *series, int64_t from, int64_t to)
{
	double sum = 0;
	for (int64_t time = from; time < to; time += SERIES_STEP) {
		double part = (double)series_at(series, MEASURE_RAIN, time);
		sum += isnan(part) ? 0 : part;
	}
	return sum;
}

static void
check_rain(const struct same *same, const struct place *place)
{
	const double *amount = same->week.value[MEASURE_RAIN_BLOCK];
	int64_t start = same->week.start;
	for (int source = 0; source < SOURCES; source++) {
		for (int cell = 0; cell < 4 * WEEK_HOURS; cell++) {
			int64_t at = cell * INT64_C(900);
			double hour = amount[cell / 4];
			check(same, source, MEASURE_RAIN, at, hour / 4);
			check(same, source, MEASURE_RAIN_BLOCK_SPAN, at,
			    isnan(hour) ? (double)NAN : 3600);
		}
		int64_t day = civil_day(place->zone, start);
		for (int i = 0; i < 6; i++) {
			int64_t from = civil_day_start(place->zone, day + i);
			int64_t to = civil_day_start(place->zone, day + i + 1);
			double wanted = 0;
			for (int64_t h = (from - start) / HOUR;
			     h < (to - start) / HOUR; h++)
				wanted += isnan(amount[h]) ? 0 : amount[h];
			assert_close(sum_rain(&same->series[source], from, to),
			    wanted, near);
		}
		assert_true(sum_rain(&same->series[source], start,
				start + 7 * DAY) > 20);
	}
}

static void
each_hour_and_each_day_has_its_rain(void **state)
{
	(void)state;
	in_each_place(check_rain);
}

/* Means differ as much as the days end warmer or colder than they began. */
static void
check_days(const struct same *same, const struct place *place)
{
	const double *air = same->week.value[MEASURE_AIR_TEMPERATURE];
	int64_t first = civil_day(place->zone, same->week.start);
	for (int64_t day = first; day < first + 6; day++) {
		int64_t from = civil_day_start(place->zone, day);
		int64_t to = civil_day_start(place->zone, day + 1);
		double rise = air[(to - same->week.start) / HOUR] -
			      air[(from - same->week.start) / HOUR];
		struct daily of[SOURCES];
		for (int i = 0; i < SOURCES; i++)
			of[i] = daily_of(&same->series[i], place->zone, day);
		double hours = (double)(to - from) / (double)HOUR;
		/* 0, 1/4, 1/2 and 3/4 of each step: 3/8 of it in the mean */
		assert_close(of[OF_METEO].mean - of[OF_GRID].mean,
		    0.375 * rise / hours, near);
		assert_close(of[OF_MET].mean, of[OF_METEO].mean, near);
		assert_close(of[OF_MET].low, of[OF_METEO].low, near);
		for (int i = 1; i < SOURCES; i++)
			assert_close(of[i].high, of[OF_GRID].high, near);
	}
}

static void
the_days_have_the_same_high_and_almost_the_same_mean(void **state)
{
	(void)state;
	in_each_place(check_days);
}

/* 0.25 mm or 30 % is wet; a part that is missing is left to the other. */
static double
is_wet(const struct week *week, int hour)
{
	double amount = week->value[MEASURE_RAIN_BLOCK][hour];
	double chance = week->value[MEASURE_RAIN_CHANCE][hour];
	if (isnan(amount) && isnan(chance))
		return (double)NAN;
	return amount >= 0.25 || chance >= 30 ? 1 : 0;
}

/* Adds to `counts` the cells that are dry and wet. */
static void
count_wet(const struct week *week, const struct series *series, int counts[2])
{
	for (int cell = 0; cell < 4 * WEEK_HOURS; cell++) {
		double wanted = is_wet(week, cell / 4);
		double wet = (double)series_at(
		    series, MEASURE_WET, week->start + cell * INT64_C(900));
		if (isnan(wanted)) {
			assert_nan(wet);
			continue;
		}
		assert_close(wet, wanted, 0);
		counts[wanted > 0 ? 1 : 0]++;
	}
}

static void
check_wet(const struct same *same, const struct place *place)
{
	const struct site site = { .name = "front",
		.latitude = place->latitude,
		.zone = *place->zone,
		.rain_chance = 30,
		.yearly_mean = (double)NAN,
		.degree_base = 10 };
	int counts[2] = { 0, 0 };
	for (int source = 0; source < SOURCES; source++) {
		struct series derived = { 0 };
		const struct series *from = &same->series[source];
		series_init(&derived, from->start, series_end(from));
		series_overlay(&derived, from);
		derive(&derived, &site, NULL);
		count_wet(&same->week, &derived, counts);
		series_release(&derived);
	}
	assert_true(counts[0] > 100);
	assert_true(counts[1] > 100);
}

static void
the_same_hours_are_wet(void **state)
{
	(void)state;
	in_each_place(check_wet);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(all_agree_at_each_hour),
		cmocka_unit_test(between_hours_one_holds_and_two_run_on),
		cmocka_unit_test(the_wind_turns_through_north_in_the_week),
		cmocka_unit_test(each_hour_and_each_day_has_its_rain),
		cmocka_unit_test(
		    the_days_have_the_same_high_and_almost_the_same_mean),
		cmocka_unit_test(the_same_hours_are_wet),
	};
	return RUN_TESTS(tests);
}
