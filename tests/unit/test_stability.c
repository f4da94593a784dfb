#include "unit/test.h"

#include "physics/stability.h"
#include "physics/sun.h"

#include <stdbool.h>

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))
#define GRID         61
#define KNOT         (1852.0 / 3600.0)

/*
 * Turner's key by whole knots, 0 to 12. EPA-454/R-99-005 table 6-4, read on a
 * web copy of section 6.4.1; the same in an encyclopedia, in two public
 * dispersion programs, and by single knots as here in a public port of Lavdas
 * 1986 (USDA Forest Service SE-256, table 2).
 */
static const int key[13][7] = {
	/* 4 3 2 1 0 -1 -2 */
	{ 1, 1, 2, 3, 4, 6, 7 },
	{ 1, 1, 2, 3, 4, 6, 7 },
	{ 1, 2, 2, 3, 4, 6, 7 },
	{ 1, 2, 2, 3, 4, 6, 7 },
	{ 1, 2, 3, 4, 4, 5, 6 },
	{ 1, 2, 3, 4, 4, 5, 6 },
	{ 2, 2, 3, 4, 4, 5, 6 },
	{ 2, 2, 3, 4, 4, 4, 5 },
	{ 2, 3, 3, 4, 4, 4, 5 },
	{ 2, 3, 3, 4, 4, 4, 5 },
	{ 3, 3, 4, 4, 4, 4, 5 },
	{ 3, 3, 4, 4, 4, 4, 4 },
	{ 3, 4, 4, 4, 4, 4, 4 },
};

/* A sun and a cloud for each net radiation index, 4 to -2. */
static const double skies[7][2] = { { 70, 0 }, { 50, 0 }, { 25, 0 }, { 50, 80 },
	{ 50, 100 }, { -10, 100 }, { -10, 0 } };

static void
agrees_with_every_cell_of_the_key(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(key) * COUNT(skies); i++) {
		size_t knots = i / COUNT(skies), column = i % COUNT(skies);
		double class = stability_class(
		    skies[column][0], skies[column][1], (double)knots * KNOT);
		if (!(class == key[knots][column]))
			fail_msg(
			    "%zu knots, column %zu: %g", knots, column, class);
	}
}

/* The same table prints the ends of its rows in m/s as well. */
static void
agrees_with_the_key_in_metres_per_second(void **state)
{
	(void)state;
	static const struct {
		double first, last;
		int knots;
	} rows[] = { { 0, 0.7, 0 }, { 0.8, 1.8, 2 }, { 1.9, 2.8, 4 },
		{ 2.9, 3.3, 6 }, { 3.4, 3.8, 7 }, { 3.9, 4.8, 8 },
		{ 4.9, 5.4, 10 }, { 5.5, 5.9, 11 }, { 6.0, 30, 12 } };
	for (size_t i = 0; i < COUNT(rows) * COUNT(skies); i++) {
		size_t row = i / COUNT(skies), column = i % COUNT(skies);
		const double *sky = skies[column];
		double wanted = key[rows[row].knots][column];
		assert_close(stability_class(sky[0], sky[1], rows[row].first),
		    wanted, 0);
		assert_close(
		    stability_class(sky[0], sky[1], rows[row].last), wanted, 0);
	}
}

/* The key counts whole knots: what lies between goes to the nearer. */
static void
wind_goes_to_the_nearest_knot(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(key) * COUNT(skies); i++) {
		size_t knots = i / COUNT(skies), column = i % COUNT(skies);
		const double *sky = skies[column];
		double middle = (double)knots, wanted = key[knots][column];
		assert_close(
		    stability_class(sky[0], sky[1], (middle + 0.49) * KNOT),
		    wanted, 0);
		if (knots > 0)
			assert_close(stability_class(sky[0], sky[1],
					 (middle - 0.49) * KNOT),
			    wanted, 0);
	}
}

/* EPA-454/R-99-005 table 6-5, read: each limit belongs to the lower class. */
static void
insolation_changes_at_the_published_heights(void **state)
{
	(void)state;
	static const double rows[][2] = { { 60.01, 4 }, { 60, 3 }, { 35.01, 3 },
		{ 35, 2 }, { 15.01, 2 }, { 15, -2 }, { 90, 4 }, { -90, -2 } };
	for (size_t i = 0; i < COUNT(rows); i++) {
		size_t column = (size_t)(4 - (int)rows[i][1]);
		for (size_t knots = 0; knots < COUNT(key); knots++)
			assert_close(stability_class(
					 rows[i][0], 20, (double)knots * KNOT),
			    key[knots][column], 0);
	}
}

/*
 * Tables 6-5 and 6-6 in full, with the height of the cloud (feet) and the time
 * known. Step 3c was read in a public dispersion program that quotes it.
 */
static int
published_index(bool night, double height, int tenths, double ceiling)
{
	if (tenths == 10 && ceiling < 7000)
		return 0;
	if (night)
		return tenths <= 4 ? -2 : -1;
	int class = 1 + (height > 15) + (height > 35) + (height > 60);
	if (tenths <= 5)
		return class;
	if (ceiling < 7000)
		class -= 2;
	else if (ceiling < 16000)
		class -= 1;
	if (tenths == 10)
		class -= 1;
	return class < 1 ? 1 : class;
}

static int
most_stable(double height, int tenths, int knots)
{
	static const double ceilings[] = { 3000, 10000, 20000 };
	int most = 0;
	for (size_t i = 0; i < COUNT(ceilings); i++) {
		int index =
		    published_index(height <= 15, height, tenths, ceilings[i]);
		int class = key[knots][4 - index];
		most = class > most ? class : most;
	}
	return most;
}

static void
takes_the_most_stable_of_the_possible_ceilings(void **state)
{
	(void)state;
	for (int i = 0; i < 11 * 13 * 181; i++) {
		int tenths = i % 11, knots = i / 11 % 13;
		int degrees = i / (11 * 13) - 90;
		double height = degrees;
		double class =
		    stability_class(height, tenths * 10.0, knots * KNOT);
		if (!(class == most_stable(height, tenths, knots)))
			fail_msg("%g degrees, %d tenths, %d knots: %g", height,
			    tenths, knots, class);
	}
}

static void
takes_the_more_stable_of_two_tenths(void **state)
{
	(void)state;
	static const double suns[] = { -10, 15, 25, 50, 70 };
	for (size_t i = 0; i < COUNT(suns) * 100 * 13; i++) {
		double sun = suns[i % COUNT(suns)];
		int percent = (int)(i / COUNT(suns) % 100);
		int knots = (int)(i / COUNT(suns) / 100);
		int low = percent / 10;
		int high = low + (percent % 10 > 0);
		int lower = most_stable(sun, low, knots);
		int higher = most_stable(sun, high, knots);
		assert_close(stability_class(sun, percent, knots * KNOT),
		    lower > higher ? lower : higher, 0);
	}
}

/* Asked of our own sun, over the year and from the equator to 66 degrees. */
static void
an_hour_from_the_horizon_is_night_everywhere(void **state)
{
	(void)state;
	const double first = 1704067200.0; /* 2024-01-01T00:00:00Z */
	int seen = 0;
	for (int i = 0; i < 45 * 37; i++) {
		int decade = i / 45;
		double latitude = i % 45 * 3 - 66;
		double from = first + decade * 864000.0;
		double rise = sun_rise(latitude, 0, from, SUN_HEIGHT_HORIZON);
		double set = sun_set(latitude, 0, from, SUN_HEIGHT_HORIZON);
		if (isnan(rise) || isnan(set))
			continue;
		double after = sun_height(latitude, 0, rise + 3600);
		double before = sun_height(latitude, 0, set - 3600);
		assert_close(stability_class(after, 0, 1), 7, 0);
		assert_close(stability_class(before, 0, 1), 7, 0);
		seen++;
	}
	assert_true(seen > 1600);
}

/* What is known stands for itself, an unknown for GRID values it can have. */
static double
pick(double value, double first, double last, int place)
{
	return isnan(value) ? first + (last - first) * place / (GRID - 1)
			    : value;
}

static double
only_class(double sun, double cloud, double wind)
{
	int suns = isnan(sun) ? GRID : 1;
	int clouds = isnan(cloud) ? GRID : 1;
	int winds = isnan(wind) ? GRID : 1;
	double class = NAN;
	for (int i = 0; i < suns * clouds * winds; i++) {
		double next = stability_class(pick(sun, -90, 90, i % suns),
		    pick(cloud, 0, 100, i / suns % clouds),
		    pick(wind, 0, 15, i / suns / clouds));
		if (i > 0 && !(next == class))
			return NAN;
		class = next;
	}
	return class;
}

static void
check_unknown(double sun, double cloud, double wind, int *known)
{
	double class = stability_class(sun, cloud, wind);
	double wanted = only_class(sun, cloud, wind);
	if (isnan(wanted) ? !isnan(class) : !(class == wanted))
		fail_msg(
		    "%g %g %g: %g, wanted %g", sun, cloud, wind, class, wanted);
	*known += !isnan(class);
}

static void
an_unknown_that_matters_gives_unknown(void **state)
{
	(void)state;
	int known = 0;
	for (int i = 0; i < 6 * 8; i++) {
		int column = i % 6, row = i / 6;
		double sun = column * 25 - 45;
		check_unknown(sun, NAN, row, &known);
		check_unknown(NAN, row * 14, column, &known);
		check_unknown(sun, row * 14, NAN, &known);
	}
	check_unknown(NAN, NAN, 1, &known);
	check_unknown(NAN, 50, NAN, &known);
	check_unknown(20, NAN, NAN, &known);
	check_unknown(NAN, NAN, NAN, &known);
	assert_true(known > 0);
	/* Wind of 11 knots is neutral in any night; a full sky by day. */
	assert_close(stability_class(-10, NAN, 11 * KNOT), 4, 0);
	assert_close(stability_class(50, 100, NAN), 4, 0);
	assert_nan(stability_class(-10, NAN, 10 * KNOT));
}

static void
an_impossible_input_gives_unknown(void **state)
{
	(void)state;
	assert_nan(stability_class(90.1, 0, 1));
	assert_nan(stability_class(-90.1, 0, 1));
	assert_nan(stability_class(-10, -0.1, 1));
	assert_nan(stability_class(-10, 100.1, 1));
	assert_nan(stability_class(-10, 0, -0.1));
	assert_nan(stability_class(-10, 0, HUGE_VAL));
	assert_nan(stability_class(NAN, NAN, -0.1));
}

static void
named_classes_are_in_their_order(void **state)
{
	(void)state;
	assert_close(stability_class(70, 0, 0), STABILITY_VERY_UNSTABLE, 0);
	assert_close(stability_class(-10, 0, 10), STABILITY_NEUTRAL, 0);
	assert_close(stability_class(-10, 0, 4), STABILITY_SLIGHT, 0);
	assert_close(stability_class(-10, 0, 3), STABILITY_STABLE, 0);
	assert_close(stability_class(-10, 0, 1), STABILITY_VERY_STABLE, 0);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(agrees_with_every_cell_of_the_key),
		cmocka_unit_test(agrees_with_the_key_in_metres_per_second),
		cmocka_unit_test(wind_goes_to_the_nearest_knot),
		cmocka_unit_test(insolation_changes_at_the_published_heights),
		cmocka_unit_test(
		    takes_the_most_stable_of_the_possible_ceilings),
		cmocka_unit_test(takes_the_more_stable_of_two_tenths),
		cmocka_unit_test(an_hour_from_the_horizon_is_night_everywhere),
		cmocka_unit_test(an_unknown_that_matters_gives_unknown),
		cmocka_unit_test(an_impossible_input_gives_unknown),
		cmocka_unit_test(named_classes_are_in_their_order),
	};
	return RUN_TESTS(tests);
}
