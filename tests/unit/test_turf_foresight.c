/* How long a state of the turf lasts, what it cannot become, and its words. */
#include "unit/test.h"

#include "unit/heart.h"
#include "unit/lawn.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

static void
a_state_ends_where_it_is_another_or_none(void **state)
{
	(void)state;
	struct plot plot;
	plot_init(&plot, TURF_BERMUDA, 60, 45);
	add_look(&plot, 10, TURF_DORMANT);
	assert_int_equal(turf_state_end(&plot.lawn, 9), 9);
	/* carried as far as the soil is known */
	assert_int_equal(turf_state_end(&plot.lawn, 10), 60);
	assert_int_equal(turf_state_end(&plot.lawn, 40), 60);
	plot.lawn.species = TURF_CENTIPEDE;
	assert_int_equal(turf_state_end(&plot.lawn, 10), 31);
	assert_int_equal(turf_state_end(&plot.lawn, 35), 35);
	add_look(&plot, 14, TURF_GREEN_UP);
	assert_int_equal(turf_state_end(&plot.lawn, 12), 14);
}

struct spring {
	int warm_from; /* first day of 60 degF after 45 */
	int look;
	int64_t day; /* of the answer */
	enum turf_green_up answer;
};

/* The third day of 60 gives 54, the fourth 57. The soil is known to day 39. */
static const struct spring springs[] = {
	{ 30, 20, 33, TURF_GREEN_UP_ON },
	{ 36, 20, 39, TURF_GREEN_UP_ON },
	{ 37, 20, 40, TURF_GREEN_UP_NOT_BEFORE },
	{ 99, 20, 40, TURF_GREEN_UP_NOT_BEFORE },
	/* carried */
	{ 30, 7, 33, TURF_GREEN_UP_ON },
	/* warm when the keeper looked: what was seen comes first */
	{ 0, 24, 27, TURF_GREEN_UP_ON },
	/* the look has ended already */
	{ 10, 8, -1, TURF_GREEN_UP_UNKNOWN },
	/* nobody has looked yet */
	{ 99, 26, -1, TURF_GREEN_UP_UNKNOWN },
};

static void
green_up_is_foretold_as_far_as_the_soil_is_known(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(springs); i++) {
		const struct spring *spring = &springs[i];
		struct plot plot;
		plot_init(&plot, TURF_BERMUDA, 40, 45);
		put_soil(&plot, spring->warm_from < 40 ? spring->warm_from : 40,
		    40, 60);
		add_look(&plot, spring->look, TURF_DORMANT);
		int64_t day = -1;
		enum turf_green_up answer = turf_green_up(&plot.lawn, 25, &day);
		if (answer != spring->answer || day != spring->day)
			fail_msg("spring %zu: %d on %lld", i, answer,
			    (long long)day);
		if (answer == TURF_GREEN_UP_ON) {
			check_states(&plot, (int)day, (int)day + 1, TURF_STATES,
			    TURF_WARMED);
			/* what is carried may be doubted a day sooner */
			assert_int_not_equal(
			    turf_state_on(&plot.lawn, day - 1).why,
			    TURF_WARMED);
			assert_true(turf_state_end(&plot.lawn, 25) <= day);
		}
	}
}

static void
without_soil_or_dormancy_no_green_up_is_foretold(void **state)
{
	(void)state;
	struct plot plot;
	int64_t day = -1;
	plot_init(&plot, TURF_BERMUDA, 40, 45);
	add_look(&plot, 20, TURF_DORMANT);
	plot.soil[25] = (double)NAN;
	assert_int_equal(
	    turf_green_up(&plot.lawn, 25, &day), TURF_GREEN_UP_UNKNOWN);
	/* a gap ahead is as far as anyone can see */
	plot.soil[25] = TURF_FAHRENHEIT(45);
	plot.soil[30] = (double)NAN;
	assert_int_equal(day, -1);
	assert_int_equal(
	    turf_green_up(&plot.lawn, 25, &day), TURF_GREEN_UP_NOT_BEFORE);
	assert_int_equal(day, 30);
	for (int s = TURF_GREEN_UP; s < TURF_STATES; s++) {
		plot.look[0].state = (enum turf_state)s;
		assert_int_equal(
		    turf_green_up(&plot.lawn, 25, &day), TURF_GREEN_UP_UNKNOWN);
	}
}

/* Looks and soil at random, gaps among them. */
static void
random_plot(struct plot *plot, uint64_t *seed)
{
	plot_init(plot, (enum turf_species)draw_from(seed, 0, 4), 80, 50);
	double soil = draw_from(seed, 35, 80);
	for (int i = 0; i < 80; i++) {
		soil += draw_from(seed, -30, 30) / 10.0;
		plot->soil[i] = draw_once_in(seed, 40) ? (double)NAN
						       : TURF_FAHRENHEIT(soil);
	}
	for (int day = draw_from(seed, 0, 30);
	     day < 80 && plot->lawn.look_count < 4;
	     day += draw_from(seed, 1, 30))
		add_look(plot, day,
		    (enum turf_state)draw_from(seed, 0, TURF_STATES - 1));
}

/* Puts one more look among them, or in the place of one. */
static void
insert_look(struct plot *plot, struct turf_look look)
{
	size_t at = 0, count = plot->lawn.look_count;
	while (at < count && plot->look[at].day < look.day)
		at++;
	if (at == count || plot->look[at].day != look.day) {
		for (size_t i = count; i > at; i--)
			plot->look[i] = plot->look[i - 1];
		plot->lawn.look_count++;
	}
	plot->look[at] = look;
}

/* Nothing but its own state can come of it, and nothing before it. */
static void
a_look_adds_no_other_state_than_its_own(void **state)
{
	(void)state;
	uint64_t seed = 4;
	size_t changed = 0;
	for (int round = 0; round < rounds(4000); round++) {
		struct plot before, after;
		random_plot(&before, &seed);
		after = before;
		after.lawn.look = after.look;
		after.lawn.soil = after.soil;
		struct turf_look look = { draw_from(&seed, 0, 79),
			(enum turf_state)draw_from(&seed, 0, TURF_STATES - 1) };
		insert_look(&after, look);
		for (int64_t day = 0; day < 90; day++) {
			enum turf_state was =
			    turf_state_on(&before.lawn, day).state;
			enum turf_state is =
			    turf_state_on(&after.lawn, day).state;
			changed += was != is;
			if (was == is)
				continue;
			assert_true(day >= look.day);
			assert_true(is == look.state || is == TURF_STATES);
		}
	}
	assert_true(changed > 1000);
}

/* Unknown or another state, it is dormant in no warmer soil. */
static void
warmer_soil_makes_nothing_dormant(void **state)
{
	(void)state;
	uint64_t seed = 19;
	size_t fewer = 0;
	for (int round = 0; round < rounds(4000); round++) {
		struct plot cold, warm;
		random_plot(&cold, &seed);
		warm = cold;
		warm.lawn.look = warm.look;
		warm.lawn.soil = warm.soil;
		for (int i = 0; i < 80; i++)
			warm.soil[i] += draw_from(&seed, 0, 30) / 10.0;
		for (int64_t day = 0; day < 90; day++) {
			bool was = turf_state_on(&cold.lawn, day).state ==
				   TURF_DORMANT;
			bool is = turf_state_on(&warm.lawn, day).state ==
				  TURF_DORMANT;
			assert_true(was || !is);
			fewer += was && !is;
		}
	}
	assert_true(fewer > 100);
}

static void
the_reason_is_told_in_words(void **state)
{
	(void)state;
	struct zone zone = chicago();
	int64_t day = civil_day(&zone, local_2026(3, 3, 12, 0));
	static const struct {
		enum turf_why why;
		const char *us, *metric;
	} rows[] = {
		{ TURF_UNSEEN, "cannot tell: look at the lawn",
		    "cannot tell: look at the lawn" },
		{ TURF_SEEN, "seen Tue 3 Mar", "seen Tue 3 Mar" },
		{ TURF_STAYED_COLD,
		    "soil not over 50 °F since the look of Tue 3 Mar",
		    "soil not over 10 °C since the look of Tue 3 Mar" },
		{ TURF_STAYED_WARM,
		    "soil over 65 °F since the look of Tue 3 Mar",
		    "soil over 18.3 °C since the look of Tue 3 Mar" },
		{ TURF_WARMED,
		    "cannot tell: look at the lawn (soil at 55 °F or more on "
		    "Tue 3 Mar)",
		    "cannot tell: look at the lawn (soil at 12.8 °C or more on "
		    "Tue 3 Mar)" },
		{ TURF_COOLED,
		    "cannot tell: look at the lawn (soil at 50 °F or less on "
		    "Tue 3 Mar)",
		    "cannot tell: look at the lawn (soil at 10 °C or less on "
		    "Tue 3 Mar)" },
		{ TURF_TOO_OLD,
		    "cannot tell: look at the lawn (last seen Tue 3 Mar)",
		    "cannot tell: look at the lawn (last seen Tue 3 Mar)" },
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		char text[TURF_WHY_BUFFER];
		struct turf_day one = { TURF_STATES, rows[i].why, day };
		assert_string_equal(
		    turf_why_print(text, sizeof text, &one, &zone, UNITS_US),
		    rows[i].us);
		assert_string_equal(turf_why_print(text, sizeof text, &one,
					&zone, UNITS_METRIC),
		    rows[i].metric);
	}
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_state_ends_where_it_is_another_or_none),
		cmocka_unit_test(
		    green_up_is_foretold_as_far_as_the_soil_is_known),
		cmocka_unit_test(
		    without_soil_or_dormancy_no_green_up_is_foretold),
		cmocka_unit_test(a_look_adds_no_other_state_than_its_own),
		cmocka_unit_test(warmer_soil_makes_nothing_dormant),
		cmocka_unit_test(the_reason_is_told_in_words),
	};
	return RUN_TESTS(tests);
}
