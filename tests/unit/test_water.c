/* The ledger of the water that a label wants: spans, days and states. */
#include "unit/water_lawn.h"

/* Worked by us (computed); the amounts are from the label of a prodiamine
   fertilizer (doczz.net/doc/5315780), read. */
static void
three_rains_of_a_half_inch_satisfy_on_day_14(void **state)
{
	(void)state;
	struct lawn lawn;
	begin(&lawn);
	lawn.day[3].rain = 0.2 * INCH;
	lawn.day[9].rain = 0.2 * INCH;
	stand(&lawn, 13, 7);
	shower(&lawn, 14, 17, 0.1 * INCH);
	assert_int_equal(account(&lawn), WATER_EXPECTED);
	assert_int_equal(lawn.ledger.day - lawn.zero, 14);
	assert_close(lawn.ledger.rain, 0.4 * INCH, 1e-9);
	assert_close(lawn.ledger.expected, 0.1 * INCH, 1e-6);
	assert_close(lawn.ledger.missing, 0, 0);
	assert_false(is_due(&lawn, 13));
	lawn.day[14].rain = 0.1 * INCH;
	stand(&lawn, 15, 7);
	assert_int_equal(account(&lawn), WATER_SATISFIED);
	assert_int_equal(lawn.ledger.day - lawn.zero, 14);
	assert_false(is_due(&lawn, 15));
	end(&lawn);
}

/* The same fixture. */
static void
two_fifths_of_an_inch_are_a_task_on_day_12(void **state)
{
	(void)state;
	struct lawn lawn;
	begin(&lawn);
	lawn.day[3].rain = 0.2 * INCH;
	lawn.day[9].rain = 0.2 * INCH;
	stand(&lawn, 12, 7);
	assert_int_equal(account(&lawn), WATER_SHORT);
	assert_int_equal(lawn.ledger.task_day - lawn.zero, 12);
	assert_int_equal(lawn.ledger.last_day - lawn.zero, 14);
	assert_close(lawn.ledger.missing, 0.1 * INCH, 1e-9);
	assert_int_equal(lawn.ledger.day, 0);
	/* a day ahead, so that readers that ask once a day have it in time */
	assert_false(is_due(&lawn, 10));
	assert_true(is_due(&lawn, 11));
	assert_true(is_due(&lawn, 12));
	assert_true(is_due(&lawn, 14));
	irrigate_at(&lawn, 12, 6, 0.1 * INCH);
	assert_int_equal(account(&lawn), WATER_SATISFIED);
	assert_int_equal(lawn.ledger.day - lawn.zero, 12);
	assert_close(lawn.ledger.irrigation, 0.1 * INCH, 1e-9);
	assert_false(is_due(&lawn, 12));
	end(&lawn);
}

static void
a_deadline_that_has_passed_short_has_failed(void **state)
{
	(void)state;
	struct lawn lawn;
	begin(&lawn);
	lawn.day[3].rain = 0.4 * INCH;
	lawn.day[15].rain = 2 * INCH; /* a day too late */
	stand(&lawn, 16, 7);
	shower(&lawn, 16, 9, 2 * INCH);
	assert_int_equal(account(&lawn), WATER_FAILED);
	assert_true(lawn.ledger.over);
	assert_close(lawn.ledger.missing, 0.1 * INCH, 1e-9);
	assert_close(lawn.ledger.expected, 0, 0);
	assert_true(is_due(&lawn, 16));
	assert_true(is_due(&lawn, 21));
	assert_false(is_due(&lawn, 22));
	/* what is told late still mends it */
	tell_day(&lawn, EVENT_RAIN, 9, 0.1 * INCH, lawn.facts.now);
	assert_int_equal(account(&lawn), WATER_SATISFIED);
	end(&lawn);
}

struct close {
	double within;
	int day, hour; /* when it closes; 24: at the end of the day */
	int task;
};

/* More than two days that are whole are days, as on a label: ours. */
static const struct close closes[] = {
	{ 14.0 * DAY, 14, 24, 12 },
	{ 3.0 * DAY, 3, 24, 1 },
	{ 2.0 * DAY, 2, 10, 0 },
	{ 1.0 * DAY, 1, 10, 0 },
	{ 36.0 * HOUR, 1, 22, 0 },
	{ 14.0 * HOUR, 0, 24, 0 },
	{ 60.0 * HOUR, 2, 22, 0 },
};

static void
long_spans_close_with_a_day_and_short_ones_to_the_hour(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(closes); i++) {
		const struct close *row = &closes[i];
		struct lawn lawn;
		begin(&lawn);
		lawn.water.within = row->within;
		int64_t wanted = row->hour == 24
				     ? midnight(&lawn, row->day + 1)
				     : at(&lawn, row->day, row->hour);
		stand(&lawn, 0, 12);
		account(&lawn);
		assert_int_equal(lawn.ledger.closes, wanted);
		assert_int_equal(lawn.ledger.last_day - lawn.zero, row->day);
		assert_int_equal(lawn.ledger.task_day - lawn.zero, row->task);
		lawn.facts.now = wanted - 1;
		account(&lawn);
		assert_false(lawn.ledger.over);
		lawn.facts.now = wanted;
		account(&lawn);
		assert_true(lawn.ledger.over);
		end(&lawn);
	}
}

/* The shape of a label of two stages (from memory): no rain or irrigation for
   24 h, then 0.5 in within 7 days. */
static void
a_label_of_two_stages_credits_the_second_only(void **state)
{
	(void)state;
	struct lawn lawn;
	begin(&lawn);
	lawn.water = (struct water_wanted){ 0.5 * INCH, 7 * DAY, DAY };
	stand(&lawn, 1, 18);
	shower(&lawn, 0, 20, 1 * INCH); /* in the dry 24 h */
	shower(&lawn, 1, 9, 1 * INCH);  /* to its very end */
	irrigate_at(&lawn, 0, 18, 1 * INCH);
	assert_int_equal(account(&lawn), WATER_SHORT);
	assert_close(lawn.ledger.missing, 0.5 * INCH, 1e-6);
	assert_int_equal(lawn.ledger.opens, at(&lawn, 1, 10));
	assert_int_equal(lawn.ledger.task_day - lawn.zero, 5);
	shower(&lawn, 1, 10, 0.2 * INCH); /* from then on */
	irrigate_at(&lawn, 1, 10, 0.3 * INCH);
	assert_int_equal(account(&lawn), WATER_EXPECTED);
	assert_int_equal(lawn.ledger.day - lawn.zero, 1);
	/* a day later those hours are still in the series */
	lawn.day[1].rain = 1.2 * INCH;
	stand(&lawn, 2, 18);
	shower(&lawn, 1, 9, 1 * INCH);
	shower(&lawn, 1, 10, 0.2 * INCH);
	assert_int_equal(account(&lawn), WATER_SATISFIED);
	assert_close(lawn.ledger.rain, 0.2 * INCH, 1e-6);
	end(&lawn);
}

static void
a_task_never_comes_before_water_may(void **state)
{
	(void)state;
	struct lawn lawn;
	begin(&lawn);
	lawn.water = (struct water_wanted){ 6, 3 * DAY, 2 * DAY };
	stand(&lawn, 0, 12);
	account(&lawn);
	assert_int_equal(lawn.ledger.task_day - lawn.zero, 2);
	/* nonsense of a card: nothing can count, and nothing runs wild */
	lawn.water = (struct water_wanted){ 6, 3 * DAY, 9 * DAY };
	assert_int_equal(account(&lawn), WATER_SHORT);
	assert_int_equal(lawn.ledger.task_day - lawn.zero, 3);
	assert_close(lawn.ledger.missing, 6, 0);
	lawn.water = (struct water_wanted){ 6, 2 * HOUR, 3 * HOUR };
	tell_day(&lawn, EVENT_IRRIGATION, 0, 9, lawn.facts.now);
	account(&lawn);
	assert_close(lawn.ledger.perhaps, 0, 0);
	end(&lawn);
}

/* Closed at ten this morning: what the night was to bring has come. */
static void
the_forecast_of_hours_gone_by_has_come_once_it_is_over(void **state)
{
	(void)state;
	struct lawn lawn;
	begin(&lawn);
	lawn.water = (struct water_wanted){ 5, DAY, 0 };
	stand(&lawn, 1, 9);
	shower(&lawn, 1, 4, 5);
	assert_int_equal(account(&lawn), WATER_EXPECTED);
	lawn.facts.now = at(&lawn, 1, 11);
	assert_int_equal(account(&lawn), WATER_SATISFIED);
	shower(&lawn, 1, 4, 4);
	shower(&lawn, 1, 10, 1);
	assert_int_equal(account(&lawn), WATER_FAILED);
	end(&lawn);
}

/* 2026-03-08 has 23 hours: 14 times 24 hours after 23:30 on the first is
   already the sixteenth. */
static void
days_are_those_of_the_clock(void **state)
{
	(void)state;
	struct lawn lawn;
	begin_on(&lawn, 3, 1);
	lawn.facts.applied = at(&lawn, 0, 23) + HOUR / 2;
	stand(&lawn, 12, 7);
	account(&lawn);
	assert_int_equal(lawn.ledger.closes, local_2026(3, 16, 0, 0));
	assert_int_equal(lawn.ledger.task_day - lawn.zero, 12);
	end(&lawn);
	/* the day itself: all of its 23 hours, and of the 25 in November */
	static const struct {
		int month, day, hours;
	} rows[] = { { 3, 7, 23 }, { 10, 31, 25 }, { 5, 1, 24 } };
	for (size_t i = 0; i < COUNT(rows); i++) {
		begin_on(&lawn, rows[i].month, rows[i].day);
		lawn.water = (struct water_wanted){ 100, 3 * DAY, 0 };
		lawn.day[0].rain = lawn.day[1].rain = NAN;
		stand(&lawn, 2, 1);
		put(&lawn.series, MEASURE_RAIN, midnight(&lawn, 1),
		    midnight(&lawn, 2), 0.25); /* 1 mm in the hour */
		account(&lawn);
		assert_close(lawn.ledger.rain, rows[i].hours, 1e-5);
		end(&lawn);
	}
}

static void
nothing_changes_with_the_clock_alone(void **state)
{
	(void)state;
	struct lawn lawn;
	struct water_ledger first;
	begin(&lawn);
	lawn.day[4].rain = 3;
	stand(&lawn, 12, 12);
	shower(&lawn, 12, 5, 1);
	shower(&lawn, 12, 13, 2);
	shower(&lawn, 13, 2, 0.5);
	lawn.facts.now = midnight(&lawn, 12);
	account(&lawn);
	first = lawn.ledger;
	for (; lawn.facts.now < midnight(&lawn, 13); lawn.facts.now += 600) {
		account(&lawn);
		assert_int_equal(lawn.ledger.state, first.state);
		assert_close(lawn.ledger.rain, first.rain, 0);
		assert_close(lawn.ledger.expected, first.expected, 0);
		assert_close(lawn.ledger.missing, first.missing, 0);
	}
	end(&lawn);
}

/* Days and hours agree: a day has the rain of its hours, and more perhaps. */
static void
strew(struct lawn *lawn, uint64_t *seed)
{
	begin(lawn);
	int within = draw_from(seed, 1, 16);
	int dry = draw_from(seed, 0, within * 24 - 1);
	lawn->water.within = within * (double)DAY;
	lawn->water.not_before = dry * (double)HOUR;
	int today = draw_from(seed, 0, 18);
	stand(lawn, today, draw_from(seed, 0, 23));
	for (size_t i = 0; i < DAYS; i++)
		if (draw_once_in(seed, 4))
			lawn->day[i].rain = draw_from(seed, 0, 60) / 10.0;
	float *rain = series_column(&lawn->series, MEASURE_RAIN);
	for (size_t i = 0; i < lawn->series.count; i++) {
		int64_t day =
		    civil_day(&lawn->zone, series_time(&lawn->series, i)) -
		    lawn->zero;
		if (!draw_once_in(seed, 40))
			continue;
		rain[i] = (float)draw_from(seed, 0, 60) / 10.0F;
		if (day >= 0)
			lawn->day[day].rain += (double)rain[i];
	}
	for (int i = draw_from(seed, 0, 2); i > 0; i--) {
		int day = draw_from(seed, 0, 16);
		int hour = draw_from(seed, 0, 23);
		irrigate_at(lawn, day, hour, draw_from(seed, 0, 50) / 10.0);
	}
}

/* The dearer the state, the higher: no water at all is at the top. */
static int
rank(enum water_state state)
{
	static const int ranks[] = { [WATER_SATISFIED] = 0,
		[WATER_EXPECTED] = 1,
		[WATER_UNKNOWN] = 2,
		[WATER_SHORT] = 3,
		[WATER_FAILED] = 3 };
	return ranks[state];
}

static void
more_water_never_makes_it_shorter(void **state)
{
	(void)state;
	uint64_t seed = 18;
	for (int i = rounds(2000); i > 0; i--) {
		struct lawn lawn;
		strew(&lawn, &seed);
		account(&lawn);
		struct water_ledger dry = lawn.ledger;
		double received = dry.rain + dry.irrigation + dry.expected;
		assert_true(dry.missing >= 0);
		if (dry.missing > 0)
			assert_close(dry.missing + received, dry.needed, 1e-9);
		bool enough =
		    dry.state == WATER_SATISFIED || dry.state == WATER_EXPECTED;
		assert_true(enough == (dry.missing == 0));
		lawn.day[draw_from(&seed, 0, DAYS - 1)].rain += 3;
		irrigate_at(&lawn, draw_from(&seed, 0, 16), 5, 2);
		account(&lawn);
		assert_true(rank(lawn.ledger.state) <= rank(dry.state));
		assert_true(lawn.ledger.missing <= dry.missing);
		end(&lawn);
	}
}

static void
a_gap_never_lets_the_keeper_off(void **state)
{
	(void)state;
	uint64_t seed = 19;
	for (int i = rounds(2000); i > 0; i--) {
		struct lawn lawn;
		strew(&lawn, &seed);
		int hole = draw_from(&seed, 0, DAYS - 1);
		int64_t lost = lawn.zero + hole;
		float *rain = series_column(&lawn.series, MEASURE_RAIN);
		account(&lawn);
		struct water_ledger whole = lawn.ledger;
		lawn.day[hole].rain = NAN;
		for (size_t c = 0; c < lawn.series.count; c++) {
			int64_t time = series_time(&lawn.series, c);
			if (civil_day(&lawn.zone, time) == lost ||
			    draw_once_in(&seed, 3))
				rain[c] = NAN;
		}
		account(&lawn);
		bool off = lawn.ledger.state == WATER_SATISFIED ||
			   lawn.ledger.state == WATER_EXPECTED;
		if (off)
			assert_true(rank(whole.state) <= 1);
		if (rank(lawn.ledger.state) == 3)
			assert_int_not_equal(rank(whole.state), 0);
		assert_true(lawn.ledger.missing >= whole.missing - 1e-9);
		end(&lawn);
	}
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(three_rains_of_a_half_inch_satisfy_on_day_14),
		cmocka_unit_test(two_fifths_of_an_inch_are_a_task_on_day_12),
		cmocka_unit_test(a_deadline_that_has_passed_short_has_failed),
		cmocka_unit_test(
		    long_spans_close_with_a_day_and_short_ones_to_the_hour),
		cmocka_unit_test(a_label_of_two_stages_credits_the_second_only),
		cmocka_unit_test(a_task_never_comes_before_water_may),
		cmocka_unit_test(days_are_those_of_the_clock),
		cmocka_unit_test(nothing_changes_with_the_clock_alone),
		cmocka_unit_test(more_water_never_makes_it_shorter),
		cmocka_unit_test(
		    the_forecast_of_hours_gone_by_has_come_once_it_is_over),
		cmocka_unit_test(a_gap_never_lets_the_keeper_off),
	};
	return RUN_TESTS(tests);
}
