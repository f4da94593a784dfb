#include "unit/test.h"

#include "turf/mix.h"
#include "turf/turf.h"
#include "unit/heart.h"

static double
quantity(const char *text, enum quantity_kind kind)
{
	double value = NAN;
	assert_true(quantity_parse(text, kind, &value, NULL));
	return value;
}

static struct sprayer
backpack(const char *tank, const char *carrier)
{
	return (struct sprayer){ .name = "backpack",
		.tank = quantity(tank, QUANTITY_VOLUME),
		.carrier = quantity(carrier, QUANTITY_VOLUME_PER_AREA),
		.pace = quantity("500 ft2/min", QUANTITY_AREA_PER_TIME),
		.fill = 600 };
}

/* A job with one dose of each kind that a card can name. */
struct lawn {
	struct sprayer sprayer;
	struct site site;
	struct product product;
	struct job job;
};

static void
lay_out(
    struct lawn *lawn, const char *tank, const char *carrier, const char *area)
{
	lawn->sprayer = backpack(tank, carrier);
	lawn->site =
	    (struct site){ .name = "front", .sprayer = &lawn->sprayer };
	lawn->product = (struct product){ .name = "post-a" };
	lawn->job = (struct job){ .site = &lawn->site,
		.area = quantity(area, QUANTITY_AREA) };
}

static void
add_dose(struct lawn *lawn, const char *rate, enum quantity_kind kind)
{
	lawn->job.tank.dose[lawn->job.tank.count++] =
	    (struct dose){ .product = &lawn->product,
		    .rate = quantity(rate, kind),
		    .rate_kind = kind };
}

/* Own vectors for a 4-gal backpack, computed from the formula (C). */
static void
a_lawn_of_6500_square_feet_takes_a_tank_and_a_part(void **state)
{
	(void)state;
	struct lawn lawn;
	struct mix mix;
	lay_out(&lawn, "4 gal", "1 gal/1000 ft2", "6500 ft2");
	add_dose(&lawn, "0.56 oz/acre", QUANTITY_MASS_PER_AREA);
	add_dose(&lawn, "1.5 fl oz/1000 ft2", QUANTITY_VOLUME_PER_AREA);
	add_dose(&lawn, "0.25 %", QUANTITY_VOLUME_PER_VOLUME);
	assert_true(mix_make(&lawn.job, &mix, NULL));
	assert_int_equal(mix.tank_count, 2);
	assert_int_equal(mix.full_count, 1);
	assert_true(mix.has_last);
	double gallon = quantity("1 gal", QUANTITY_VOLUME);
	double feet = quantity("1 ft2", QUANTITY_AREA);
	assert_close(mix.carrier / gallon, 6.5, 1e-9);
	assert_close(mix.full.water / gallon, 4, 1e-9);
	assert_close(mix.full.area / feet, 4000, 1e-6);
	assert_close(mix.last.water / gallon, 2.5, 1e-9);
	assert_close(mix.last.area / feet, 2500, 1e-6);
	assert_int_equal(mix.kind[0], QUANTITY_MASS);
	assert_close(mix.full.amount[0], 1.458, 0.0005); /* g */
	assert_close(mix.last.amount[0], 0.911, 0.0005);
	assert_int_equal(mix.kind[1], QUANTITY_VOLUME);
	assert_close(mix.full.amount[1] * 1000, 177.4, 0.05); /* mL */
	assert_close(mix.last.amount[1] * 1000, 110.9, 0.05); /* 3.75 fl oz */
	assert_int_equal(mix.kind[2], QUANTITY_VOLUME);
	assert_close(mix.full.amount[2] * 1000, 37.85, 0.005); /* mL */
}

struct worked {
	const char *tank, *carrier, *rate;
	const char *amount; /* printed, in one full tank */
	enum quantity_kind kind, amount_kind;
	double tolerance; /* of what is printed, as a share */
};

/* Printed answers of calibration worksheets; the marks are those of the
   project's list of facts. */
static const struct worked worked[] = {
	/* NC State backpack sprayer calibration worksheet (R) */
	{ "3 gal", "7.5 gal/acre", "8 oz/acre", "3.2 oz",
	    QUANTITY_MASS_PER_AREA, QUANTITY_MASS, 0.001 },
	/* county slides: 1 qt/A at 40 GPA is 0.8 oz in a gallon (R) */
	{ "1 gal", "40 gal/acre", "1 qt/acre", "0.8 fl oz",
	    QUANTITY_VOLUME_PER_AREA, QUANTITY_VOLUME, 0.001 },
	/* extension text: 3 pt/A at 65 GPA is 0.74 fl oz in a gallon (R) */
	{ "1 gal", "65 gal/acre", "3 pt/acre", "0.74 fl oz",
	    QUANTITY_VOLUME_PER_AREA, QUANTITY_VOLUME, 0.005 },
	/* Albany County: 32 oz/A at 20 GPA is 32 oz in 20 gal (R) */
	{ "20 gal", "20 gal/acre", "32 fl oz/acre", "32 fl oz",
	    QUANTITY_VOLUME_PER_AREA, QUANTITY_VOLUME, 1e-9 },
};

static void
agrees_with_printed_worksheets(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof worked / sizeof worked[0]; i++) {
		struct lawn lawn;
		struct mix mix;
		lay_out(&lawn, worked[i].tank, worked[i].carrier, "20 acre");
		add_dose(&lawn, worked[i].rate, worked[i].kind);
		assert_true(mix_make(&lawn.job, &mix, NULL));
		double wanted =
		    quantity(worked[i].amount, worked[i].amount_kind);
		assert_close(
		    mix.full.amount[0], wanted, wanted * worked[i].tolerance);
	}
}

/* 200 gal at 20 GPA is 10 acres: a maker's page on turf (R). */
static void
a_tank_covers_its_volume_over_the_carrier_rate(void **state)
{
	(void)state;
	struct lawn lawn;
	struct mix mix;
	lay_out(&lawn, "200 gal", "20 gal/acre", "30 acre");
	assert_true(mix_make(&lawn.job, &mix, NULL));
	assert_close(mix.full.area, quantity("10 acre", QUANTITY_AREA), 1e-6);
	assert_int_equal(mix.full_count, 3);
	assert_false(mix.has_last);
	assert_int_equal(mix.tank_count, 3);
}

static void
the_tanks_add_up_to_area_times_rate(void **state)
{
	(void)state;
	static const enum quantity_kind kinds[] = { QUANTITY_MASS_PER_AREA,
		QUANTITY_VOLUME_PER_AREA, QUANTITY_VOLUME_PER_VOLUME,
		QUANTITY_MASS_PER_VOLUME };
	uint64_t seed = 31;
	for (int n = 0; n < 5000; n++) {
		struct lawn lawn;
		struct mix mix;
		lay_out(&lawn, "4 gal", "1 gal/1000 ft2", "1 ft2");
		lawn.sprayer.tank = draw_from(&seed, 1, 200) / 10.0;
		lawn.sprayer.carrier = draw_from(&seed, 1, 100) / 1000.0;
		lawn.job.area = draw_from(&seed, 1, 50000) / 10.0;
		for (size_t k = 0; k < 4; k++)
			lawn.job.tank.dose[k] = (struct dose){ &lawn.product,
				draw_from(&seed, 1, 1000) / 100.0, kinds[k] };
		lawn.job.tank.count = 4;
		assert_true(mix_make(&lawn.job, &mix, NULL));
		double carrier = lawn.job.area * lawn.sprayer.carrier;
		double full = (double)mix.full_count;
		for (size_t k = 0; k < 4; k++) {
			double base = k < 2 ? lawn.job.area : carrier;
			double wanted = base * lawn.job.tank.dose[k].rate;
			double sum = full * mix.full.amount[k] +
				     (mix.has_last ? mix.last.amount[k] : 0);
			assert_close(mix.total[k], wanted, wanted * 1e-9);
			assert_close(sum, wanted, wanted * 2e-6);
		}
		assert_true(
		    !mix.has_last || mix.last.water < lawn.sprayer.tank);
	}
}

static void
leaves_output_alone_on_failure(void **state)
{
	(void)state;
	struct lawn lawn;
	struct error error = { 0 };
	struct mix mix = { .tank_count = 77 };
	lay_out(&lawn, "4 gal", "1 gal/1000 ft2", "6500 ft2");
	lawn.job.tank.dose[0] =
	    (struct dose){ &lawn.product, 0, QUANTITY_MASS_PER_AREA };
	lawn.job.tank.count = 1;
	assert_false(mix_make(&lawn.job, &mix, &error));
	assert_int_equal(error.kind, ERROR_INPUT);
	assert_contains(error.text, "post-a");
	assert_int_equal(mix.tank_count, 77);
}

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
		cmocka_unit_test(
		    a_lawn_of_6500_square_feet_takes_a_tank_and_a_part),
		cmocka_unit_test(agrees_with_printed_worksheets),
		cmocka_unit_test(
		    a_tank_covers_its_volume_over_the_carrier_rate),
		cmocka_unit_test(the_tanks_add_up_to_area_times_rate),
		cmocka_unit_test(leaves_output_alone_on_failure),
		cmocka_unit_test(a_job_lasts_its_fills_and_its_walk),
		cmocka_unit_test(an_exposure_is_its_two_ends),
		cmocka_unit_test(
		    finds_the_last_application_of_that_product_there),
		cmocka_unit_test(prints_a_tank_and_cuts_it_to_the_buffer),
	};
	return RUN_TESTS(tests);
}
