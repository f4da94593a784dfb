/* The application exclusion zone: 40 CFR 170.405(a)(1), read in a copy. */
#include "unit/test.h"

#include "turf/exclusion.h"

#include <math.h>

#define INCH 0.0254
#define FOOT 0.3048

static void
the_zone_is_that_of_the_rule(void **state)
{
	(void)state;
	static const struct {
		enum droplets droplets;
		double height, zone; /* m */
	} rows[] = {
		{ DROPLETS_FINE, 3 * INCH, 100 * FOOT },
		{ DROPLETS_FINE, 90 * INCH, 100 * FOOT },
		{ DROPLETS_FINE, NAN, 100 * FOOT },
		{ DROPLETS_EXTREMELY_FINE, 12 * INCH, 100 * FOOT },
		{ DROPLETS_MEDIUM, 13 * INCH, 25 * FOOT },
		{ DROPLETS_MEDIUM, 12 * INCH, 0 },
		{ DROPLETS_COARSE, 30 * INCH, 25 * FOOT },
		{ DROPLETS_ULTRA_COARSE, 12 * INCH, 0 },
		{ DROPLETS_COARSE, NAN, NAN },
		{ DROPLETS_UNSAID, 30 * INCH, NAN },
	};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		double zone = exclusion_zone(rows[i].droplets, rows[i].height);
		if (isnan(rows[i].zone))
			assert_nan(zone);
		else
			assert_close(zone, rows[i].zone, 1e-9);
	}
}

static void
a_sentence_is_printed_only_for_a_zone_that_is_known(void **state)
{
	(void)state;
	char text[80];
	struct sprayer sprayer = { .name = "backpack",
		.droplets = DROPLETS_COARSE,
		.release_height = 30 * INCH };
	assert_string_equal(
	    exclusion_print(text, sizeof text, &sprayer, UNITS_US),
	    "Keep everybody 25 ft away while you spray.");
	sprayer.release_height = 10 * INCH;
	assert_string_equal(
	    exclusion_print(text, sizeof text, &sprayer, UNITS_US), "");
	sprayer.release_height = (double)NAN;
	assert_string_equal(
	    exclusion_print(text, sizeof text, &sprayer, UNITS_US), "");
	sprayer.droplets = DROPLETS_FINE;
	assert_contains(
	    exclusion_print(text, sizeof text, &sprayer, UNITS_METRIC),
	    "Keep everybody 30.48 m away");
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(the_zone_is_that_of_the_rule),
		cmocka_unit_test(
		    a_sentence_is_printed_only_for_a_zone_that_is_known),
	};
	return RUN_TESTS(tests);
}
