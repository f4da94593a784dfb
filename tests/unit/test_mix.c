#include "unit/test.h"

#include "turf/mix.h"
#include "unit/heart.h"
#include "unit/mix_lawn.h"

/* Own vectors for a 4-gal backpack, computed from the formula (C). */
static void
a_lawn_of_6500_square_feet_takes_a_tank_and_a_part(void **state)
{
	(void)state;
	struct lawn lawn;
	struct mix mix;
	lay_out(&lawn, "4 gal", "1 gal/1000 ft2", "6500 ft2");
	add_dose(&lawn, "post-a", "0.56 oz/acre", QUANTITY_MASS_PER_AREA);
	add_dose(
	    &lawn, "post-b", "1.5 fl oz/1000 ft2", QUANTITY_VOLUME_PER_AREA);
	add_dose(&lawn, "surfactant-n", "0.25 %", QUANTITY_VOLUME_PER_VOLUME);
	assert_true(mix_make(&lawn.job, false, &mix, NULL));
	assert_int_equal(mix.tank_count, 2);
	assert_false(mix.is_even);
	double gallon = quantity("1 gal", QUANTITY_VOLUME);
	double feet = quantity("1 ft2", QUANTITY_AREA);
	assert_close(mix.carrier / gallon, 6.5, 1e-9);
	assert_close(mix.each.water / gallon, 4, 1e-9);
	assert_close(mix.each.area / feet, 4000, 1e-6);
	assert_close(mix.last.water / gallon, 2.5, 1e-9);
	assert_close(mix.last.area / feet, 2500, 1e-6);
	assert_int_equal(mix.kind[0], QUANTITY_MASS);
	assert_close(mix.each.amount[0], 1.458, 0.0005); /* g */
	assert_close(mix.last.amount[0], 0.911, 0.0005);
	assert_int_equal(mix.kind[1], QUANTITY_VOLUME);
	assert_close(mix.each.amount[1] * 1000, 177.4, 0.05); /* mL */
	assert_close(mix.last.amount[1] * 1000, 110.9, 0.05); /* 3.75 fl oz */
	assert_int_equal(mix.kind[2], QUANTITY_VOLUME);
	assert_close(mix.each.amount[2] * 1000, 37.85, 0.005); /* mL */
}

/* The same again: 1 gal/1000 ft2 is 43.56 gal/acre, and 0.56 oz/acre is 0.3645
   g/1000 ft2 (C). */
static void
the_rates_of_the_vectors_are_those(void **state)
{
	(void)state;
	double thousand = quantity("1000 ft2", QUANTITY_AREA);
	assert_close(quantity("43.56 gal/acre", QUANTITY_VOLUME_PER_AREA),
	    quantity("1 gal/1000 ft2", QUANTITY_VOLUME_PER_AREA), 1e-12);
	assert_close(
	    quantity("0.56 oz/acre", QUANTITY_MASS_PER_AREA) * thousand, 0.3645,
	    0.00005);
	assert_close(quantity("1.28 fl oz", QUANTITY_VOLUME) * 1000, 37.85,
	    0.005 * 29.6);
}

struct worked {
	const char *tank, *carrier, *rate;
	const char *amount; /* printed, in one full tank */
	enum quantity_kind kind, amount_kind;
	double tolerance; /* half of the last printed place, as a share */
};

/* Printed answers of calibration worksheets; the marks are those of
   docs/sources.md. */
static const struct worked worked[] = {
	/* NC State backpack sprayer calibration worksheet (R): in a gallon, in
	   three, and in millilitres of 30 to the ounce, exact 94.6 */
	{ "1 gal", "7.5 gal/acre", "8 fl oz/acre", "1.06 fl oz",
	    QUANTITY_VOLUME_PER_AREA, QUANTITY_VOLUME, 0.007 },
	{ "3 gal", "7.5 gal/acre", "8 oz/acre", "3.2 oz",
	    QUANTITY_MASS_PER_AREA, QUANTITY_MASS, 0.001 },
	{ "3 gal", "7.5 gal/acre", "8 fl oz/acre", "96 mL",
	    QUANTITY_VOLUME_PER_AREA, QUANTITY_VOLUME, 0.02 },
	/* county slides: 1 qt/A at 40 GPA is 0.8 oz or 24 cc in a gallon (R) */
	{ "1 gal", "40 gal/acre", "1 qt/acre", "0.8 fl oz",
	    QUANTITY_VOLUME_PER_AREA, QUANTITY_VOLUME, 0.001 },
	{ "1 gal", "40 gal/acre", "1 qt/acre", "24 mL",
	    QUANTITY_VOLUME_PER_AREA, QUANTITY_VOLUME, 0.02 },
	/* extension text: 3 pt/A at 65 GPA is 0.046 pt, 0.74 fl oz or 1.5 tbsp
	   in a gallon (R) */
	{ "1 gal", "65 gal/acre", "3 pt/acre", "0.046 pt",
	    QUANTITY_VOLUME_PER_AREA, QUANTITY_VOLUME, 0.011 },
	{ "1 gal", "65 gal/acre", "3 pt/acre", "0.74 fl oz",
	    QUANTITY_VOLUME_PER_AREA, QUANTITY_VOLUME, 0.007 },
	{ "1 gal", "65 gal/acre", "3 pt/acre", "1.5 tbsp",
	    QUANTITY_VOLUME_PER_AREA, QUANTITY_VOLUME, 0.034 },
	/* Albany County: 32 oz/A at 20 GPA is 32 oz in 20 gal (R) */
	{ "20 gal", "20 gal/acre", "32 fl oz/acre", "32 fl oz",
	    QUANTITY_VOLUME_PER_AREA, QUANTITY_VOLUME, 1e-9 },
	/* common practice, no source: granules, surfactant and dye in 2.5 gal
	   that cover 2,500 ft2 */
	{ "2.5 gal", "1 gal/1000 ft2", "3.2 g/gal", "8 g",
	    QUANTITY_MASS_PER_VOLUME, QUANTITY_MASS, 1e-9 },
	{ "2.5 gal", "1 gal/1000 ft2", "3.2 g/1000 ft2", "8 g",
	    QUANTITY_MASS_PER_AREA, QUANTITY_MASS, 1e-9 },
	{ "2.5 gal", "1 gal/1000 ft2", "1 tsp/gal", "2.5 tsp",
	    QUANTITY_VOLUME_PER_VOLUME, QUANTITY_VOLUME, 1e-9 },
	{ "2.5 gal", "1 gal/1000 ft2", "0.5 fl oz/gal", "1.25 fl oz",
	    QUANTITY_VOLUME_PER_VOLUME, QUANTITY_VOLUME, 1e-9 },
};

static void
agrees_with_printed_worksheets(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(worked); i++) {
		struct lawn lawn;
		struct mix mix;
		lay_out(&lawn, worked[i].tank, worked[i].carrier, "20 acre");
		add_dose(&lawn, "post-a", worked[i].rate, worked[i].kind);
		assert_true(mix_make(&lawn.job, false, &mix, NULL));
		double wanted =
		    quantity(worked[i].amount, worked[i].amount_kind);
		assert_close(
		    mix.each.amount[0], wanted, wanted * worked[i].tolerance);
	}
}

/* 200 gal at 20 GPA is 10 acres: a maker's page on turf (R). 1 gal at 40 GPA
   is 1/40 acre, which is 1,089 ft2: county slides (R). */
static void
a_tank_covers_its_volume_over_the_carrier_rate(void **state)
{
	(void)state;
	struct lawn lawn;
	struct mix mix;
	lay_out(&lawn, "200 gal", "20 gal/acre", "30 acre");
	assert_true(mix_make(&lawn.job, false, &mix, NULL));
	assert_close(mix.each.area, quantity("10 acre", QUANTITY_AREA), 1e-6);
	assert_int_equal(mix.tank_count, 3);
	assert_true(mix.is_even);
	lay_out(&lawn, "1 gal", "40 gal/acre", "1 acre");
	assert_true(mix_make(&lawn.job, false, &mix, NULL));
	assert_int_equal(mix.tank_count, 40);
	assert_close(mix.each.area, quantity("1089 ft2", QUANTITY_AREA), 1e-6);
}

static void
one_tank_may_be_a_part(void **state)
{
	(void)state;
	struct lawn lawn;
	struct mix mix;
	lay_out(&lawn, "4 gal", "1 gal/1000 ft2", "2500 ft2");
	for (int even = 0; even < 2; even++) {
		assert_true(mix_make(&lawn.job, even == 1, &mix, NULL));
		assert_int_equal(mix.tank_count, 1);
		assert_true(mix.is_even);
		assert_close(
		    mix.last.water, quantity("2.5 gal", QUANTITY_VOLUME), 1e-9);
		assert_close(mix.each.water, mix.last.water, 0);
	}
}

static void
an_even_split_takes_no_tank_more(void **state)
{
	(void)state;
	struct lawn lawn;
	struct mix mix;
	lay_out(&lawn, "4 gal", "1 gal/1000 ft2", "6500 ft2");
	add_dose(&lawn, "post-a", "2 g/1000 ft2", QUANTITY_MASS_PER_AREA);
	assert_true(mix_make(&lawn.job, true, &mix, NULL));
	assert_int_equal(mix.tank_count, 2);
	assert_true(mix.is_even);
	assert_close(
	    mix.each.water, quantity("3.25 gal", QUANTITY_VOLUME), 1e-9);
	assert_close(mix.each.amount[0], 6.5, 1e-9);
	assert_close(mix.last.amount[0], 6.5, 1e-9);
	/* what fills its tanks is split already */
	lay_out(&lawn, "4 gal", "1 gal/1000 ft2", "8000 ft2");
	assert_true(mix_make(&lawn.job, true, &mix, NULL));
	assert_int_equal(mix.tank_count, 2);
	assert_close(mix.each.water, lawn.sprayer.tank, 1e-9);
}

static void
draw_job(uint64_t *seed, struct lawn *lawn)
{
	static const enum quantity_kind kinds[] = { QUANTITY_MASS_PER_AREA,
		QUANTITY_VOLUME_PER_AREA, QUANTITY_VOLUME_PER_VOLUME,
		QUANTITY_MASS_PER_VOLUME };
	lay_out(lawn, "4 gal", "1 gal/1000 ft2", "1 ft2");
	lawn->sprayer.tank = draw_from(seed, 1, 200) / 10.0;
	lawn->sprayer.carrier = draw_from(seed, 1, 100) / 1000.0;
	lawn->job.area = draw_from(seed, 1, 50000) / 10.0;
	for (size_t k = 0; k < COUNT(kinds); k++)
		lawn->job.tank.dose[k] = (struct dose){ &lawn->product[k],
			draw_from(seed, 1, 1000) / 100.0, kinds[k] };
	lawn->job.tank.count = COUNT(kinds);
}

static void
the_tanks_add_up_to_area_times_rate(void **state)
{
	(void)state;
	uint64_t seed = 31;
	for (int n = 0; n < rounds(5000); n++) {
		struct lawn lawn;
		struct mix mix;
		draw_job(&seed, &lawn);
		assert_true(mix_make(&lawn.job, n % 2 == 1, &mix, NULL));
		double carrier = lawn.job.area * lawn.sprayer.carrier;
		double others = (double)mix.tank_count - 1;
		for (size_t k = 0; k < lawn.job.tank.count; k++) {
			double base = k < 2 ? lawn.job.area : carrier;
			double wanted = base * lawn.job.tank.dose[k].rate;
			double sum =
			    others * mix.each.amount[k] + mix.last.amount[k];
			assert_close(mix.total[k], wanted, wanted * 1e-12);
			assert_close(sum, wanted, wanted * 1e-12);
		}
		assert_close(others * mix.each.water + mix.last.water, carrier,
		    carrier * 1e-12);
		assert_close(others * mix.each.area + mix.last.area,
		    lawn.job.area, lawn.job.area * 1e-12);
	}
}

static void
no_tank_is_fuller_than_it_can_be_and_none_is_needless(void **state)
{
	(void)state;
	uint64_t seed = 32;
	for (int n = 0; n < rounds(5000); n++) {
		struct lawn lawn;
		struct mix mix;
		bool even = n % 2 == 1;
		draw_job(&seed, &lawn);
		assert_true(mix_make(&lawn.job, even, &mix, NULL));
		double most = lawn.sprayer.tank * (1 + 1e-8);
		double others = (double)mix.tank_count - 1;
		assert_true(mix.each.water <= most);
		assert_true(mix.last.water > 0 && mix.last.water <= most);
		assert_true(others * lawn.sprayer.tank < mix.carrier);
		assert_true(mix.last.water <= mix.each.water * (1 + 1e-8));
		if (even)
			assert_close(mix.last.water, mix.each.water, 0);
		else if (mix.tank_count > 1)
			assert_close(mix.each.water, lawn.sprayer.tank,
			    1e-8 * lawn.sprayer.tank);
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
	add_dose(&lawn, "post-a", "1 g/1000 ft2", QUANTITY_MASS_PER_AREA);
	lawn.job.tank.dose[0].rate = 0;
	assert_false(mix_make(&lawn.job, false, &mix, &error));
	assert_int_equal(error.kind, ERROR_INPUT);
	assert_contains(error.text, "post-a");
	assert_int_equal(mix.tank_count, 77);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(
		    a_lawn_of_6500_square_feet_takes_a_tank_and_a_part),
		cmocka_unit_test(the_rates_of_the_vectors_are_those),
		cmocka_unit_test(agrees_with_printed_worksheets),
		cmocka_unit_test(
		    a_tank_covers_its_volume_over_the_carrier_rate),
		cmocka_unit_test(one_tank_may_be_a_part),
		cmocka_unit_test(an_even_split_takes_no_tank_more),
		cmocka_unit_test(the_tanks_add_up_to_area_times_rate),
		cmocka_unit_test(
		    no_tank_is_fuller_than_it_can_be_and_none_is_needless),
		cmocka_unit_test(leaves_output_alone_on_failure),
	};
	return RUN_TESTS(tests);
}
