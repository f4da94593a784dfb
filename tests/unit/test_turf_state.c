/* How a look at the turf and the soil under it make a state. */
#include "unit/test.h"

#include "unit/lawn.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

/* The bands: trade practice, 90 % from a column of UGA Extension, read. */
static void
the_percent_of_green_makes_three_bands(void **state)
{
	(void)state;
	static const struct {
		double percent;
		enum turf_state state;
	} rows[] = { { 0, TURF_DORMANT }, { 5, TURF_DORMANT },
		{ 5.1, TURF_GREEN_UP }, { 15, TURF_GREEN_UP },
		{ 90, TURF_GREEN_UP }, { 90.1, TURF_GREEN },
		{ 100, TURF_GREEN } };
	for (size_t i = 0; i < COUNT(rows); i++)
		assert_int_equal(
		    turf_state_of_green(rows[i].percent), rows[i].state);
}

static void
nobody_has_looked_and_nothing_is_told(void **state)
{
	(void)state;
	static const double soils[] = { 30, 49, 57, 80 };
	for (size_t i = 0; i < COUNT(soils); i++) {
		struct plot plot;
		plot_init(&plot, TURF_BERMUDA, 60, soils[i]);
		check_states(&plot, 0, 60, TURF_STATES, TURF_UNSEEN);
		add_look(&plot, 40, TURF_DORMANT);
		check_states(&plot, 0, 40, TURF_STATES, TURF_UNSEEN);
	}
}

/* Without soil the looks are all there is. */
static void
a_look_stands_in_its_time_and_no_longer(void **state)
{
	(void)state;
	for (int s = 0; s < TURF_STATES; s++) {
		struct plot plot;
		plot_init(&plot, TURF_BERMUDA, 0, 0);
		add_look(&plot, 10, (enum turf_state)s);
		check_states(&plot, 10, 31, (enum turf_state)s, TURF_SEEN);
		check_states(&plot, 31, 99, TURF_STATES, TURF_TOO_OLD);
		plot.lawn.told_holds = 1.0 * DAY_SECONDS;
		check_states(&plot, 10, 11, (enum turf_state)s, TURF_SEEN);
		check_states(&plot, 11, 99, TURF_STATES, TURF_TOO_OLD);
	}
}

static void
a_later_look_replaces_an_earlier_one(void **state)
{
	(void)state;
	struct plot plot;
	plot_init(&plot, TURF_ZOYSIA, 120, 52);
	add_look(&plot, 10, TURF_DORMANT);
	add_look(&plot, 15, TURF_GREEN_UP);
	add_look(&plot, 30, TURF_GREEN);
	add_look(&plot, 45, TURF_DORMANT);
	check_states(&plot, 10, 15, TURF_DORMANT, TURF_SEEN);
	check_states(&plot, 15, 30, TURF_GREEN_UP, TURF_SEEN);
	check_states(&plot, 30, 45, TURF_GREEN, TURF_SEEN);
	check_states(&plot, 45, 66, TURF_DORMANT, TURF_SEEN);
	check_states(&plot, 66, 120, TURF_STATES, TURF_TOO_OLD);
}

/*
 * Fixture 19 of the trade notes: dormancy ends at 55 degF and begins at 50, so
 * between them both looks stand, in the same soil. Thresholds: turf_state.h.
 */
static void
dormancy_has_hysteresis(void **state)
{
	(void)state;
	static const struct {
		double soil;
		bool ends_dormant, ends_green;
	} rows[] = { { 40, false, true }, { 50, false, true },
		{ 50.1, false, false }, { 52.5, false, false },
		{ 54.9, false, false }, { 55, true, false },
		{ 70, true, false } };
	for (size_t i = 0; i < COUNT(rows); i++) {
		struct plot plot;
		plot_init(&plot, TURF_BERMUDA, 40, rows[i].soil);
		add_look(&plot, 10, TURF_DORMANT);
		if (rows[i].ends_dormant)
			check_states(&plot, 13, 31, TURF_STATES, TURF_WARMED);
		else
			check_states(&plot, 13, 31, TURF_DORMANT, TURF_SEEN);
		plot.look[0].state = TURF_GREEN;
		if (rows[i].ends_green)
			check_states(&plot, 13, 31, TURF_STATES, TURF_COOLED);
		else
			check_states(&plot, 13, 31, TURF_GREEN, TURF_SEEN);
	}
}

/* Up over one threshold and down under the other, and a look for each turn. */
static void
a_year_passes_through_every_state(void **state)
{
	(void)state;
	struct plot plot;
	plot_init(&plot, TURF_BERMUDA, 200, 45);
	put_soil(&plot, 60, 90, 60);
	put_soil(&plot, 90, 150, 75);
	put_soil(&plot, 150, 170, 60);
	put_soil(&plot, 170, 200, 45);
	add_look(&plot, 10, TURF_DORMANT);
	add_look(&plot, 75, TURF_GREEN_UP);
	add_look(&plot, 100, TURF_GREEN);
	check_states(&plot, 10, 31, TURF_DORMANT, TURF_SEEN);
	check_states(&plot, 31, 62, TURF_DORMANT, TURF_STAYED_COLD);
	/* (2 x 45 + 3 x 60) / 5 = 54, a day later 57; the mean of seven days
	   is over 50 two days before */
	check_states(&plot, 62, 63, TURF_STATES, TURF_TOO_OLD);
	check_states(&plot, 63, 75, TURF_STATES, TURF_WARMED);
	check_states(&plot, 75, 96, TURF_GREEN_UP, TURF_SEEN);
	check_states(&plot, 96, 100, TURF_STATES, TURF_TOO_OLD);
	check_states(&plot, 100, 121, TURF_GREEN, TURF_SEEN);
	/* (2 x 75 + 3 x 60) / 5 = 66; a day later 63 */
	check_states(&plot, 121, 153, TURF_GREEN, TURF_STAYED_WARM);
	check_states(&plot, 153, 174, TURF_STATES, TURF_TOO_OLD);
	/* (2 x 60 + 5 x 45) / 7 = 49.3 */
	check_states(&plot, 174, 200, TURF_STATES, TURF_COOLED);
}

static void
species_say_what_may_be_carried(void **state)
{
	(void)state;
	static const struct {
		enum turf_species species;
		bool dormant, green;
	} rows[] = { { TURF_UNSAID, false, false },
		{ TURF_BERMUDA, true, true }, { TURF_ZOYSIA, true, true },
		{ TURF_CENTIPEDE, false, true },
		{ TURF_ST_AUGUSTINE, false, true } };
	assert_int_equal(COUNT(rows), TURF_SPECIES_END);
	for (size_t i = 0; i < COUNT(rows); i++) {
		struct plot plot;
		plot_init(&plot, rows[i].species, 90, 45);
		add_look(&plot, 10, TURF_DORMANT);
		check_states(&plot, 10, 31, TURF_DORMANT, TURF_SEEN);
		check_states(&plot, 31, 90,
		    rows[i].dormant ? TURF_DORMANT : TURF_STATES,
		    rows[i].dormant ? TURF_STAYED_COLD : TURF_TOO_OLD);
		plot_init(&plot, rows[i].species, 90, 80);
		add_look(&plot, 10, TURF_GREEN);
		check_states(&plot, 10, 31, TURF_GREEN, TURF_SEEN);
		check_states(&plot, 31, 90,
		    rows[i].green ? TURF_GREEN : TURF_STATES,
		    rows[i].green ? TURF_STAYED_WARM : TURF_TOO_OLD);
	}
}

/* The soil ends a look of any species, said or not. */
static void
every_species_may_wake(void **state)
{
	(void)state;
	for (int s = 0; s < TURF_SPECIES_END; s++) {
		struct plot plot;
		plot_init(&plot, (enum turf_species)s, 60, 45);
		put_soil(&plot, 20, 60, 56);
		add_look(&plot, 10, TURF_DORMANT);
		check_states(&plot, 10, 24, TURF_DORMANT, TURF_SEEN);
		check_states(&plot, 24, 60, TURF_STATES, TURF_WARMED);
	}
}

static void
green_up_is_for_the_keeper_to_tell(void **state)
{
	(void)state;
	static const double soils[] = { 35, 52, 60, 85 };
	for (size_t i = 0; i < COUNT(soils); i++) {
		struct plot plot;
		plot_init(&plot, TURF_BERMUDA, 60, soils[i]);
		add_look(&plot, 10, TURF_GREEN_UP);
		check_states(&plot, 10, 31, TURF_GREEN_UP, TURF_SEEN);
		check_states(&plot, 31, 60, TURF_STATES, TURF_TOO_OLD);
	}
}

static void
what_is_carried_ends_at_the_first_day_out_of_its_limit(void **state)
{
	(void)state;
	struct plot plot;
	/* one day of 52 in the look's own time: 7 x 50 + 2 over 7 is over */
	plot_init(&plot, TURF_BERMUDA, 60, 50);
	add_look(&plot, 10, TURF_DORMANT);
	check_states(&plot, 31, 60, TURF_DORMANT, TURF_STAYED_COLD);
	put_soil(&plot, 15, 16, 52);
	check_states(&plot, 10, 31, TURF_DORMANT, TURF_SEEN);
	check_states(&plot, 31, 60, TURF_STATES, TURF_TOO_OLD);
	/* at 65 degF and not over it */
	plot_init(&plot, TURF_BERMUDA, 60, 65);
	add_look(&plot, 10, TURF_GREEN);
	check_states(&plot, 31, 60, TURF_STATES, TURF_TOO_OLD);
	plot_init(&plot, TURF_BERMUDA, 60, 65.1);
	add_look(&plot, 10, TURF_GREEN);
	check_states(&plot, 31, 60, TURF_GREEN, TURF_STAYED_WARM);
	put_soil(&plot, 50, 51, 64);
	check_states(&plot, 31, 50, TURF_GREEN, TURF_STAYED_WARM);
	check_states(&plot, 50, 60, TURF_STATES, TURF_TOO_OLD);
}

/* For the day of the look and the two after it. */
static void
a_look_against_the_soil_wins_for_its_time(void **state)
{
	(void)state;
	struct plot plot;
	plot_init(&plot, TURF_BERMUDA, 40, 70);
	add_look(&plot, 10, TURF_DORMANT);
	check_states(&plot, 10, 10 + TURF_LOOK_DAYS, TURF_DORMANT, TURF_SEEN);
	check_states(&plot, 10 + TURF_LOOK_DAYS, 20, TURF_STATES, TURF_WARMED);
	add_look(&plot, 20, TURF_DORMANT);
	check_states(&plot, 20, 20 + TURF_LOOK_DAYS, TURF_DORMANT, TURF_SEEN);
	/* warmth up to the day of the look is no reason later: the means of
	   days 10 and 11 are 55 and 50.2 */
	plot_init(&plot, TURF_BERMUDA, 40, 45);
	put_soil(&plot, 6, 7, 69);
	put_soil(&plot, 10, 11, 71);
	add_look(&plot, 10, TURF_DORMANT);
	check_states(&plot, 10, 31, TURF_DORMANT, TURF_SEEN);
	plot_init(&plot, TURF_BERMUDA, 40, 40);
	add_look(&plot, 10, TURF_GREEN);
	check_states(&plot, 10, 10 + TURF_LOOK_DAYS, TURF_GREEN, TURF_SEEN);
	check_states(&plot, 10 + TURF_LOOK_DAYS, 40, TURF_STATES, TURF_COOLED);
	/* unless a look is not trusted even that long */
	plot.lawn.told_holds = 1.0 * DAY_SECONDS;
	check_states(&plot, 10, 11, TURF_GREEN, TURF_SEEN);
	check_states(&plot, 11, 40, TURF_STATES, TURF_COOLED);
}

static void
a_false_spring_needs_a_new_look(void **state)
{
	(void)state;
	struct plot plot;
	plot_init(&plot, TURF_BERMUDA, 60, 48);
	add_look(&plot, 10, TURF_DORMANT);
	/* two days over 55 that the mean does not feel: 52.8, and over seven
	   days 51.4, so that only the look's own time is left */
	put_soil(&plot, 16, 18, 60);
	check_states(&plot, 10, 31, TURF_DORMANT, TURF_SEEN);
	check_states(&plot, 31, 60, TURF_STATES, TURF_TOO_OLD);
	/* and two that it does: (3 x 48 + 2 x 66) / 5 = 55.2 */
	put_soil(&plot, 16, 18, 66);
	check_states(&plot, 10, 17, TURF_DORMANT, TURF_SEEN);
	check_states(&plot, 17, 60, TURF_STATES, TURF_WARMED);
	assert_int_equal(turf_state_on(&plot.lawn, 59).since, 17);
	add_look(&plot, 25, TURF_DORMANT);
	check_states(&plot, 25, 46, TURF_DORMANT, TURF_SEEN);
	check_states(&plot, 46, 60, TURF_DORMANT, TURF_STAYED_COLD);
}

static void
a_missing_day_of_soil_is_never_a_reason(void **state)
{
	(void)state;
	struct plot plot;
	plot_init(&plot, TURF_BERMUDA, 60, 45);
	add_look(&plot, 10, TURF_DORMANT);
	plot.soil[40] = (double)NAN;
	check_states(&plot, 10, 31, TURF_DORMANT, TURF_SEEN);
	check_states(&plot, 31, 40, TURF_DORMANT, TURF_STAYED_COLD);
	check_states(&plot, 40, 60, TURF_STATES, TURF_TOO_OLD);
	/* in the days before the look that its own mean needs */
	plot.soil[40] = TURF_FAHRENHEIT(45);
	plot.soil[4] = (double)NAN;
	check_states(&plot, 31, 60, TURF_STATES, TURF_TOO_OLD);
	plot.soil[4] = TURF_FAHRENHEIT(45);
	plot.soil[3] = (double)NAN;
	check_states(&plot, 31, 60, TURF_DORMANT, TURF_STAYED_COLD);
	/* warmth that is not known for sure does not end a look; an end before
	   the gap stays one */
	plot_init(&plot, TURF_BERMUDA, 30, 56);
	add_look(&plot, 10, TURF_DORMANT);
	plot.soil[8] = plot.soil[12] = (double)NAN;
	check_states(&plot, 10, 17, TURF_DORMANT, TURF_SEEN);
	plot.soil[8] = plot.soil[17] = TURF_FAHRENHEIT(56);
	check_states(&plot, 17, 30, TURF_STATES, TURF_WARMED);
	plot.soil[18] = (double)NAN;
	check_states(&plot, 17, 31, TURF_STATES, TURF_WARMED);
}

/* As a service in Celsius would give it, through floats. */
static void
a_mean_at_the_limit_ends_a_look(void **state)
{
	(void)state;
	struct plot plot;
	plot_init(&plot, TURF_BERMUDA, 30, 45);
	for (int i = 0; i < 30; i++)
		plot.soil[i] = (double)(float)12.7777;
	add_look(&plot, 10, TURF_DORMANT);
	check_states(&plot, 13, 30, TURF_STATES, TURF_WARMED);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(the_percent_of_green_makes_three_bands),
		cmocka_unit_test(nobody_has_looked_and_nothing_is_told),
		cmocka_unit_test(a_look_stands_in_its_time_and_no_longer),
		cmocka_unit_test(a_later_look_replaces_an_earlier_one),
		cmocka_unit_test(dormancy_has_hysteresis),
		cmocka_unit_test(a_year_passes_through_every_state),
		cmocka_unit_test(species_say_what_may_be_carried),
		cmocka_unit_test(every_species_may_wake),
		cmocka_unit_test(green_up_is_for_the_keeper_to_tell),
		cmocka_unit_test(
		    what_is_carried_ends_at_the_first_day_out_of_its_limit),
		cmocka_unit_test(a_look_against_the_soil_wins_for_its_time),
		cmocka_unit_test(a_false_spring_needs_a_new_look),
		cmocka_unit_test(a_missing_day_of_soil_is_never_a_reason),
		cmocka_unit_test(a_mean_at_the_limit_ends_a_look),
	};
	return RUN_TESTS(tests);
}
