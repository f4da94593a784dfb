/* What the ledger of water makes of gaps, tellings, irrigation and hours. */
#include "unit/water_lawn.h"

static void
a_gap_is_neither_rain_nor_drought(void **state)
{
	(void)state;
	struct lawn lawn;
	begin(&lawn);
	lawn.day[3].rain = 0.3 * INCH;
	lawn.day[5].rain = lawn.day[6].rain = NAN;
	stand(&lawn, 12, 7);
	assert_int_equal(account(&lawn), WATER_UNKNOWN);
	assert_close(lawn.ledger.missing, 0.2 * INCH, 1e-9);
	assert_int_equal(lawn.ledger.unknown_count, 2);
	assert_int_equal(lawn.ledger.unknown_day - lawn.zero, 5);
	assert_true(isinf(lawn.ledger.perhaps));
	assert_true(is_due(&lawn, 12));
	/* still so when it is over */
	stand(&lawn, 15, 7);
	assert_int_equal(account(&lawn), WATER_UNKNOWN);
	assert_true(is_due(&lawn, 15));
	/* and of no matter once there is enough without it */
	lawn.day[8].rain = 0.2 * INCH;
	assert_int_equal(account(&lawn), WATER_SATISFIED);
	/* a day that is not on file at all is a gap, too */
	lawn.day[5].rain = lawn.day[6].rain = 0;
	lawn.day[8].rain = 0;
	lawn.day[8].day = lawn.day[7].day;
	assert_int_equal(account(&lawn), WATER_UNKNOWN);
	assert_int_equal(lawn.ledger.unknown_day - lawn.zero, 8);
	/* the keeper's word closes it */
	tell_day(&lawn, EVENT_RAIN, 8, 0, lawn.facts.now);
	assert_int_equal(account(&lawn), WATER_FAILED);
	end(&lawn);
}

static void
days_beyond_the_forecast_are_not_known(void **state)
{
	(void)state;
	struct lawn lawn;
	begin(&lawn);
	stand(&lawn, 2, 7);
	assert_int_equal(account(&lawn), WATER_UNKNOWN);
	assert_int_equal(lawn.ledger.blind_count, 4); /* days 11 to 14 */
	assert_int_equal(lawn.ledger.unknown_count, 0);
	assert_false(is_due(&lawn, 2));
	/* no forecast at all on the task's day: the task comes */
	stand(&lawn, 12, 7);
	series_release(&lawn.series);
	assert_int_equal(account(&lawn), WATER_UNKNOWN);
	assert_int_equal(lawn.ledger.blind_count, 3);
	assert_true(is_due(&lawn, 12));
	end(&lawn);
}

static void
the_keeper_rules_over_what_was_observed(void **state)
{
	(void)state;
	struct lawn lawn;
	begin(&lawn);
	lawn.day[3].rain = 0.5 * INCH;
	stand(&lawn, 12, 7);
	assert_int_equal(account(&lawn), WATER_SATISFIED);
	tell_day(&lawn, EVENT_RAIN, 3, 0.1 * INCH, at(&lawn, 4, 8));
	assert_int_equal(account(&lawn), WATER_SHORT);
	assert_close(lawn.ledger.missing, 0.4 * INCH, 1e-9);
	/* the last word of a day is the one */
	tell_day(&lawn, EVENT_RAIN, 3, 0.6 * INCH, at(&lawn, 5, 8));
	assert_int_equal(account(&lawn), WATER_SATISFIED);
	assert_close(lawn.ledger.rain, 0.6 * INCH, 1e-9);
	/* in whatever order they are listed */
	struct turf_event first = lawn.event[0];
	lawn.event[0] = lawn.event[1];
	lawn.event[1] = first;
	assert_int_equal(account(&lawn), WATER_SATISFIED);
	/* moments of one day add up */
	lawn.known.event_count = 0;
	for (int hour = 8; hour <= 20; hour += 12)
		tell(&lawn, EVENT_RAIN, at(&lawn, 3, hour), at(&lawn, 3, hour),
		    0.2 * INCH, at(&lawn, 4, 8));
	account(&lawn);
	assert_close(lawn.ledger.rain, 0.4 * INCH, 1e-9);
	end(&lawn);
}

static void
the_keeper_rules_over_the_forecast_of_the_hours_before(void **state)
{
	(void)state;
	struct lawn lawn;
	begin(&lawn);
	stand(&lawn, 12, 18);
	shower(&lawn, 12, 6, 0.5 * INCH);
	shower(&lawn, 12, 20, 0.2 * INCH);
	assert_int_equal(account(&lawn), WATER_EXPECTED);
	tell_day(&lawn, EVENT_RAIN, 12, 0.1 * INCH, at(&lawn, 12, 17));
	assert_int_equal(account(&lawn), WATER_SHORT);
	assert_close(lawn.ledger.rain, 0.1 * INCH, 1e-9);
	assert_close(lawn.ledger.expected, 0.2 * INCH, 1e-6);
	assert_close(lawn.ledger.missing, 0.2 * INCH, 1e-6);
	/* on the next day, the evening may have brought what was observed */
	lawn.day[12].rain = 0.7 * INCH;
	stand(&lawn, 13, 7);
	assert_int_equal(account(&lawn), WATER_UNKNOWN);
	assert_close(lawn.ledger.perhaps, 0.6 * INCH, 1e-9);
	/* until the keeper says what the whole day had */
	tell_day(&lawn, EVENT_RAIN, 12, 0.2 * INCH, at(&lawn, 13, 7));
	assert_int_equal(account(&lawn), WATER_SHORT);
	assert_close(lawn.ledger.rain, 0.2 * INCH, 1e-9);
	end(&lawn);
}

static void
irrigation_counts_when_it_is_done(void **state)
{
	(void)state;
	struct lawn lawn;
	begin(&lawn);
	stand(&lawn, 12, 7);
	int64_t then = at(&lawn, 11, 6);
	tell(&lawn, EVENT_IRRIGATION, then, then + HOUR, INCH, then - 1);
	assert_int_equal(account(&lawn), WATER_SHORT); /* was planned */
	assert_close(lawn.ledger.irrigation, 0, 0);
	lawn.event[0].told = then;
	assert_int_equal(account(&lawn), WATER_SATISFIED);
	assert_int_equal(lawn.ledger.day - lawn.zero, 11);
	lawn.event[0].from = lawn.event[0].to = lawn.facts.now + HOUR;
	lawn.event[0].told = lawn.facts.now + 2 * HOUR;
	assert_int_equal(account(&lawn), WATER_SHORT); /* is to come */
	/* another kind of event is no water */
	lawn.event[0] =
	    (struct turf_event){ EVENT_MOWING, then, then, INCH, then };
	assert_int_equal(account(&lawn), WATER_SHORT);
	end(&lawn);
}

struct edge {
	int64_t from, to; /* seconds after it opens */
	double least, most;
};

/* Opens at ten, closes 24 h later. */
static const struct edge edges[] = {
	{ -2 * HOUR, -2 * HOUR, 0, 0 },
	{ -1, -1, 0, 0 },
	{ 0, 0, 5, 5 },
	{ 0, HOUR, 5, 5 },
	{ -HOUR, 0, 0, 0 },
	{ -HOUR, HOUR, 0, 5 },
	{ -10 * HOUR, 14 * HOUR, 0, 5 }, /* the whole day, when is not said */
	{ 23 * HOUR, 24 * HOUR, 5, 5 },
	{ 23 * HOUR, 24 * HOUR + 1, 0, 5 },
	{ 24 * HOUR - 1, 24 * HOUR - 1, 5, 5 },
	{ 24 * HOUR, 24 * HOUR, 0, 0 },
};

static void
irrigation_counts_from_the_opening_to_the_close(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(edges); i++) {
		const struct edge *row = &edges[i];
		struct lawn lawn;
		begin(&lawn);
		lawn.water = (struct water_wanted){ 10, DAY, 0 };
		stand(&lawn, 2, 7);
		int64_t opens = lawn.facts.applied;
		tell(&lawn, EVENT_IRRIGATION, opens + row->from,
		    opens + row->to, 5, opens + row->to);
		assert_int_equal(account(&lawn), WATER_FAILED);
		if (lawn.ledger.irrigation != row->least ||
		    lawn.ledger.perhaps != row->most - row->least)
			fail_msg("row %zu: %g and perhaps %g", i,
			    lawn.ledger.irrigation, lawn.ledger.perhaps);
		assert_int_equal(
		    lawn.ledger.unknown_count, row->most > row->least ? 1 : 0);
		lawn.event[0].amount = NAN;
		account(&lawn);
		assert_true(row->most > 0 ? isinf(lawn.ledger.perhaps)
					  : lawn.ledger.perhaps == 0);
		end(&lawn);
	}
}

/* 50 % is our choice: more likely than not. */
static void
forecast_rain_counts_from_an_even_chance_on(void **state)
{
	(void)state;
	static const struct {
		double chance;
		enum water_state wanted;
	} rows[] = { { 0, WATER_SHORT }, { 49, WATER_SHORT },
		{ 50, WATER_EXPECTED }, { 100, WATER_EXPECTED },
		{ NAN, WATER_EXPECTED } };
	for (size_t i = 0; i < COUNT(rows); i++) {
		struct lawn lawn;
		begin(&lawn);
		stand(&lawn, 12, 7);
		shower(&lawn, 14, 23, 0.5 * INCH);
		fill(&lawn.series, MEASURE_RAIN_CHANCE, rows[i].chance);
		assert_int_equal(account(&lawn), rows[i].wanted);
		/* an hour later it would be of no use */
		fill(&lawn.series, MEASURE_RAIN, 0);
		shower(&lawn, 15, 0, 0.5 * INCH);
		assert_int_equal(account(&lawn), WATER_SHORT);
		end(&lawn);
	}
}

static void
the_first_day_counts_by_its_hours(void **state)
{
	(void)state;
	struct lawn lawn;
	begin(&lawn);
	lawn.day[0].rain = 1 * INCH;
	stand(&lawn, 1, 7);
	shower(&lawn, 0, 8, 0.7 * INCH);  /* before the application ended */
	shower(&lawn, 0, 15, 0.3 * INCH); /* after it */
	account(&lawn);
	assert_close(lawn.ledger.rain, 0.3 * INCH, 1e-6);
	assert_close(lawn.ledger.perhaps, 0, 0);
	/* nobody knows its hours any more */
	stand(&lawn, 8, 7);
	assert_int_equal(account(&lawn), WATER_UNKNOWN);
	assert_close(lawn.ledger.rain, 0, 0);
	assert_close(lawn.ledger.perhaps, 1 * INCH, 1e-9);
	assert_int_equal(lawn.ledger.unknown_day, lawn.zero);
	lawn.day[0].rain = 0.4 * INCH; /* not enough, at whatever time */
	assert_int_equal(account(&lawn), WATER_SHORT);
	lawn.day[0].rain = 0; /* dry at every hour */
	account(&lawn);
	assert_int_equal(lawn.ledger.unknown_count, 0);
	/* unless somebody kept them */
	lawn.day[0].rain = 1 * INCH;
	series_init(&lawn.hours, at(&lawn, 0, 10), midnight(&lawn, 1));
	fill(&lawn.hours, MEASURE_RAIN, 0.3 * INCH / (14 * 4));
	lawn.facts.hours = &lawn.hours;
	assert_int_equal(account(&lawn), WATER_SHORT);
	assert_close(lawn.ledger.rain, 0.3 * INCH, 1e-5);
	assert_close(lawn.ledger.perhaps, 0, 0);
	end(&lawn);
}

static void
hours_that_are_partly_known_count_for_what_they_are(void **state)
{
	(void)state;
	struct lawn lawn;
	begin(&lawn);
	lawn.day[0].rain = 6;
	stand(&lawn, 2, 14); /* the series begins at 14:00 of day 0 */
	shower(&lawn, 0, 15, 2);
	account(&lawn);
	assert_close(lawn.ledger.rain, 2, 1e-6);
	assert_close(lawn.ledger.perhaps, 4, 1e-6);
	/* never more than the whole day had */
	lawn.day[0].rain = 1.5;
	account(&lawn);
	assert_close(lawn.ledger.rain, 1.5, 1e-6);
	assert_close(lawn.ledger.perhaps, 0, 1e-6);
	/* five of the 15 minutes lie before the end of the application */
	lawn.facts.applied = at(&lawn, 1, 10) + 300;
	lawn.day[1].rain = NAN;
	shower(&lawn, 1, 10, 4);
	account(&lawn);
	assert_close(lawn.ledger.rain, 4 - 1.0 / 3, 1e-6);
	end(&lawn);
}

static void
a_telling_of_the_first_day_does_not_say_at_what_hour(void **state)
{
	(void)state;
	struct lawn lawn;
	begin(&lawn);
	stand(&lawn, 12, 7);
	tell_day(&lawn, EVENT_RAIN, 0, INCH, at(&lawn, 1, 8));
	assert_int_equal(account(&lawn), WATER_UNKNOWN);
	assert_close(lawn.ledger.rain, 0, 0);
	assert_close(lawn.ledger.perhaps, INCH, 0);
	/* with its moment it does */
	lawn.event[0].from = lawn.event[0].to = at(&lawn, 0, 18);
	assert_int_equal(account(&lawn), WATER_SATISFIED);
	lawn.event[0].from = lawn.event[0].to = at(&lawn, 0, 9);
	assert_int_equal(account(&lawn), WATER_SHORT);
	end(&lawn);
}

static void
a_telling_within_the_day_is_the_least_of_it(void **state)
{
	(void)state;
	struct lawn lawn;
	begin(&lawn);
	stand(&lawn, 12, 7);
	tell_day(&lawn, EVENT_RAIN, 3, 5, at(&lawn, 3, 18));
	lawn.day[3].rain = 3;
	account(&lawn);
	assert_close(lawn.ledger.rain, 5, 0);
	assert_close(lawn.ledger.perhaps, 0, 0);
	lawn.day[3].rain = 6;
	account(&lawn);
	assert_close(lawn.ledger.rain, 5, 0);
	assert_close(lawn.ledger.perhaps, 1, 1e-9);
	end(&lawn);
}

static bool
hours_of(const struct lawn *lawn, int64_t *ret_from, int64_t *ret_to)
{
	*ret_from = *ret_to = -1;
	return water_hours(&lawn->facts, ret_from, ret_to);
}

static void
asks_for_the_hours_that_could_tell_more(void **state)
{
	(void)state;
	struct lawn lawn;
	int64_t from, to;
	begin(&lawn);
	lawn.day[0].rain = 3;
	stand(&lawn, 1, 7); /* the series has them */
	assert_false(hours_of(&lawn, &from, &to));
	stand(&lawn, 4, 7);
	assert_true(hours_of(&lawn, &from, &to));
	assert_int_equal(from, at(&lawn, 0, 10));
	assert_int_equal(to, midnight(&lawn, 1));
	lawn.day[0].rain = NAN;
	assert_true(hours_of(&lawn, &from, &to));
	lawn.day[0].rain = 0;
	assert_false(hours_of(&lawn, &from, &to));
	lawn.day[0].rain = 3;
	tell_day(&lawn, EVENT_RAIN, 0, 2, lawn.facts.now);
	assert_false(hours_of(&lawn, &from, &to));
	/* not for a whole day, which has its own number or none */
	lawn.known.event_count = 0;
	lawn.day[0].rain = 0;
	lawn.day[1].rain = NAN;
	assert_false(hours_of(&lawn, &from, &to));
	lawn.day[0].rain = 3;
	/* both ends of a span of hours */
	lawn.known.event_count = 0;
	lawn.day[1].rain = 3;
	lawn.water.within = DAY;
	assert_true(hours_of(&lawn, &from, &to));
	assert_int_equal(from, at(&lawn, 0, 10));
	assert_int_equal(to, at(&lawn, 1, 10));
	/* not for today, whose forecast is there or is not */
	stand(&lawn, 0, 12);
	series_release(&lawn.series);
	assert_false(hours_of(&lawn, &from, &to));
	end(&lawn);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_gap_is_neither_rain_nor_drought),
		cmocka_unit_test(days_beyond_the_forecast_are_not_known),
		cmocka_unit_test(the_keeper_rules_over_what_was_observed),
		cmocka_unit_test(
		    the_keeper_rules_over_the_forecast_of_the_hours_before),
		cmocka_unit_test(irrigation_counts_when_it_is_done),
		cmocka_unit_test(
		    irrigation_counts_from_the_opening_to_the_close),
		cmocka_unit_test(forecast_rain_counts_from_an_even_chance_on),
		cmocka_unit_test(the_first_day_counts_by_its_hours),
		cmocka_unit_test(
		    hours_that_are_partly_known_count_for_what_they_are),
		cmocka_unit_test(
		    a_telling_of_the_first_day_does_not_say_at_what_hour),
		cmocka_unit_test(a_telling_within_the_day_is_the_least_of_it),
		cmocka_unit_test(asks_for_the_hours_that_could_tell_more),
	};
	return RUN_TESTS(tests);
}
