#include "unit/test.h"

#include "turf/turf.h"
#include "unit/heart.h"
#include "unit/mix_lawn.h"

/* 6,500 ft2 at 500 ft2/min is 13 min; two fills of 10 min; rounded to 35. */
static void
a_job_lasts_its_fills_and_its_walk(void **state)
{
	(void)state;
	struct lawn lawn;
	lay_out(&lawn, "4 gal", "1 gal/1000 ft2", "6500 ft2");
	assert_int_equal(job_duration(&lawn.job), 35 * 60);
	/* exactly one tank is one fill: 8 min and 10, rounded to 20 */
	lay_out(&lawn, "4 gal", "1 gal/1000 ft2", "4000 ft2");
	assert_int_equal(job_duration(&lawn.job), 20 * 60);
	/* a whole number of steps stays: 5 min and 10 */
	lay_out(&lawn, "4 gal", "1 gal/1000 ft2", "2500 ft2");
	assert_int_equal(job_duration(&lawn.job), 15 * 60);
}

static void
an_exposure_is_its_two_ends(void **state)
{
	(void)state;
	struct exposure other = during;
	assert_true(exposure_same(&during, &other));
	other = after_end(0);
	assert_false(exposure_same(&during, &other));
	other = during;
	other.to.seconds = 1;
	assert_false(exposure_same(&during, &other));
	other = during;
	other.from.seconds = -1;
	assert_false(exposure_same(&during, &other));
}

static void
finds_the_last_application_of_that_product_there(void **state)
{
	(void)state;
	static const struct application applications[] = {
		{ .site = "front", .product = "post-a", .at = 100 },
		{ .site = "back", .product = "post-a", .at = 400 },
		{ .site = "front", .product = "post-b", .at = 500 },
		{ .site = "front", .product = "post-a", .at = 300 }
	};
	assert_int_equal(
	    application_last(applications, 4, "front", "post-a", 1000), 300);
	assert_int_equal(
	    application_last(applications, 4, "front", "post-a", 200), 100);
	assert_int_equal(
	    application_last(applications, 4, "front", "post-a", 99),
	    INT64_MIN);
	assert_int_equal(
	    application_last(applications, 4, "side", "post-a", 1000),
	    INT64_MIN);
}

static void
prints_a_tank_and_cuts_it_to_the_buffer(void **state)
{
	(void)state;
	const struct product a = { .name = "post-a" };
	const struct product b = { .name = "surfactant-n" };
	struct tank_mix tank = {
		.dose = { { .product = &a }, { .product = &b } }, .count = 2
	};
	char text[64], small[10];
	assert_string_equal(
	    tank_print(text, sizeof text, &tank), "post-a + surfactant-n");
	assert_string_equal(
	    tank_print(small, sizeof small, &tank), "post-a + ");
	tank.count = 0;
	assert_string_equal(tank_print(text, sizeof text, &tank), "");
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_job_lasts_its_fills_and_its_walk),
		cmocka_unit_test(an_exposure_is_its_two_ends),
		cmocka_unit_test(
		    finds_the_last_application_of_that_product_there),
		cmocka_unit_test(prints_a_tank_and_cuts_it_to_the_buffer),
	};
	return RUN_TESTS(tests);
}
