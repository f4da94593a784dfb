#include "unit/test.h"

#include "unit/calibration_fixture.h"

#include "turf/calibration.h"

/* What goes into so much mix, at a rate and a carrier. */
static double
dose(const char *per_area, const char *mix, double carrier)
{
	return rate(per_area) * calibration_reach(volume(mix), carrier);
}

/*
 * Columns of 1/128 acre: LSU AgCenter, "Ounces Equal Gallons" (read; 32 and 40
 * are from its examples), and Ohio State University Extension, Bulletin 817-00,
 * Table 1 (read). They round each in its own way: a foot either way.
 */
static const struct {
	const char *swath;
	double lsu, ohio; /* ft; 0: not printed */
	double exact;     /* computed: 340.3125 x 12 / in */
} courses[] = {
	{ "10 in", 408, 0, 408.375 },
	{ "12 in", 340, 0, 340.3125 },
	{ "14 in", 291, 0, 291.69642857 },
	{ "16 in", 255, 0, 255.234375 },
	{ "18 in", 227, 227, 226.875 },
	{ "20 in", 204, 204, 204.1875 },
	{ "22 in", 185, 185, 185.625 },
	{ "24 in", 170, 170, 170.15625 },
	{ "26 in", 157, 157, 157.06730769 },
	{ "28 in", 146, 146, 145.84821429 },
	{ "30 in", 136, 136, 136.125 },
	{ "32 in", 127, 127, 127.6171875 },
	{ "34 in", 0, 120, 120.11029412 },
	{ "36 in", 0, 113, 113.4375 },
	{ "38 in", 0, 107, 107.46710526 },
	{ "40 in", 102, 102, 102.09375 },
};

static void
tells_the_course_of_every_printed_width(void **state)
{
	(void)state;
	for (size_t i = 0; i < ROWS(courses); i++) {
		double feet = calibration_course(length(courses[i].swath)) /
			      length("1 ft");
		assert_close(feet, courses[i].exact, 1e-7);
		if (courses[i].lsu > 0)
			assert_close(feet, courses[i].lsu, 1);
		if (courses[i].ohio > 0)
			assert_close(feet, courses[i].ohio, 1);
	}
	/* NC State, Backpack Sprayer Calibration Worksheet, read: 340 / 6 is
	   56.67, printed 57. */
	assert_close(
	    calibration_course(length("6 ft")) / length("1 ft"), 57, 0.5);
	assert_close(
	    calibration_course(length("6 ft")) / length("1 ft"), 56.67, 0.06);
}

/* The shape does not matter: three of county slides (read), and the plot. */
static void
takes_any_shape_of_the_plot(void **state)
{
	(void)state;
	static const struct {
		const char *width;
		double feet;
	} shapes[] = { { "10 ft", 34 }, { "1.5 ft", 228 },
		{ "18.5 ft", 18.5 } };
	double plot = area("340.3125 ft2");
	for (size_t i = 0; i < ROWS(shapes); i++)
		assert_close(length(shapes[i].width) * shapes[i].feet *
				 length("1 ft") / plot,
		    1, 0.006);
	assert_close(128 * plot, area("1 acre"), 1e-9);
	assert_close(
	    to_gpa(calibration_carrier(volume("1 fl oz"), plot)), 1, 1e-12);
}

/* Ounces caught in the time to cover 1/128 acre, and gal/acre as printed. */
static void
reads_ounces_as_gallons_to_the_acre(void **state)
{
	(void)state;
	static const struct {
		const char *swath;
		double feet; /* 0: the course of that swath */
		double seconds;
		const char *caught;
		double printed, within;
	} rows[] = {
		/* LSU AgCenter, read: two nozzles to a row of 40 in */
		{ "40 in", 102, 17, "14 fl oz", 14, 0.5 },
		{ "40 in", 0, 17, "14 fl oz", 14, 1e-9 },
		/* Ohio State University Extension, B-817-00, read */
		{ "20 in", 204, 30, "80 fl oz", 80, 0.5 },
		{ "20 in", 0, 30, "80 fl oz", 80, 1e-9 },
		/* NC State worksheet, read: runs of 16 and 18 s */
		{ "6 ft", 57, 17, "7.5 fl oz", 7.5, 0.05 },
		{ "6 ft", 0, 17, "7.5 fl oz", 7.5, 1e-9 },
		/* county slides, read: 18.5 ft squared */
		{ "18.5 ft", 18.5, 51, "40 fl oz", 40, 0.5 },
	};
	for (size_t i = 0; i < ROWS(rows); i++) {
		double swath = length(rows[i].swath);
		double course = rows[i].feet > 0 ? rows[i].feet * length("1 ft")
						 : calibration_course(swath);
		struct calibration_walk walk = { .area = swath * course,
			.time = rows[i].seconds,
			.caught = volume(rows[i].caught),
			.caught_in = rows[i].seconds };
		assert_close(to_gpa(calibration_walk_carrier(&walk)),
		    rows[i].printed, rows[i].within);
	}
}

/* NC State worksheet, read. */
static void
takes_the_mean_of_timed_runs(void **state)
{
	(void)state;
	static const double runs[] = { 16, 18 };
	assert_close(calibration_mean(runs, 2), 17, 1e-12);
	assert_close(calibration_mean(runs, 1), 16, 1e-12);
}

/* Albany County Weed and Pest, read: 222 in, 480 fl oz/min which is 3.75
   gal/min, 5 mph; 20 by both of its formulas. */
static const struct {
	const char *carrier, *flow, *swath, *speed;
} boom = { "20.0675675675675 gal/acre", "3.75 gal/min", "222 in", "5 mph" };

static struct calibration_nozzle
make_boom(void)
{
	return (struct calibration_nozzle){
		.carrier = rate(boom.carrier),
		.flow = quantity(boom.flow, QUANTITY_VOLUME_PER_TIME),
		.swath = length(boom.swath),
		.speed = quantity(boom.speed, QUANTITY_SPEED),
	};
}

static void
finds_the_carrier_of_a_boom(void **state)
{
	(void)state;
	static const char *const flows[] = { "3.75 gal/min", "480 fl oz/min" };
	for (size_t i = 0; i < ROWS(flows); i++) {
		struct calibration_nozzle nozzle = make_boom();
		struct error error = { 0 };
		nozzle.flow = quantity(flows[i], QUANTITY_VOLUME_PER_TIME);
		nozzle.carrier = NAN;
		assert_true(calibration_solve(&nozzle, &error));
		assert_close(to_gpa(nozzle.carrier), 20, 0.5);
		/* computed: 5940 x 3.75 / (5 x 222) */
		assert_close(to_gpa(nozzle.carrier), 20.067567568, 1e-8);
	}
}

/* The same example turned around, and a backpack (computed). */
static void
finds_the_speed_that_holds_a_carrier(void **state)
{
	(void)state;
	struct error error = { 0 };
	struct calibration_nozzle nozzle = make_boom();
	nozzle.speed = NAN;
	assert_true(calibration_solve(&nozzle, &error));
	assert_close(nozzle.speed, quantity("5 mph", QUANTITY_SPEED), 1e-9);
	/* 1 gal/1000 ft2 from 0.4 gal/min over 5 ft is 80 ft/min */
	nozzle = (struct calibration_nozzle){ rate("1 gal/1000 ft2"),
		quantity("0.4 gal/min", QUANTITY_VOLUME_PER_TIME),
		length("5 ft"), NAN };
	assert_true(calibration_solve(&nozzle, &error));
	assert_close(nozzle.speed, quantity("80 ft/min", QUANTITY_SPEED), 1e-9);
	assert_close(length("100 ft") / nozzle.speed, 75, 1e-9);
	/* 400 L/ha from 1.2 L/min over 1 m is 30 m/min */
	nozzle = (struct calibration_nozzle){ rate("400 L/ha"),
		quantity("1.2 L/min", QUANTITY_VOLUME_PER_TIME), 1, NAN };
	assert_true(calibration_solve(&nozzle, &error));
	assert_close(nozzle.speed, 0.5, 1e-12);
}

/*
 * 40 fl oz on 1/128 acre and 1.5 gal on 1,000 ft2 are of county slides and of
 * an extension text on a list (read); the bands of UF/IFAS (read): one tip over
 * 300 ft.
 */
static void
finds_the_carrier_of_a_free_area(void **state)
{
	(void)state;
	static const struct {
		const char *caught, *area;
		double printed, within;
	} rows[] = { { "40 fl oz", "340 ft2", 40, 0.5 },
		{ "40 fl oz", "342.25 ft2", 40, 0.5 },
		{ "1.5 gal", "1000 ft2", 65, 0.5 },
		{ "1.5 gal", "1000 ft2", 65.34, 1e-9 }, /* computed */
		{ "26 fl oz", "300 ft2", 29.5, 0.05 },
		{ "16 fl oz", "375 ft2", 14.5, 0.05 },
		{ "32 fl oz", "375 ft2", 29, 0.1 } }; /* two tips to a row */
	for (size_t i = 0; i < ROWS(rows); i++)
		assert_close(to_gpa(calibration_carrier(
				 volume(rows[i].caught), area(rows[i].area))),
		    rows[i].printed, rows[i].within);
	/* Colorado State University, fact sheet on a lawn sprayer (read): what
	   250 ft2 took, four times, is the output on 1000 ft2 */
	assert_close(calibration_carrier(volume("32 fl oz"), area("250 ft2")),
	    rate("128 fl oz/1000 ft2"), 1e-12);
}

/*
 * What the answers are for. The sources round on the way and take 30 mL for an
 * ounce, so they get 2 %; where a step is exact it is held to its figures.
 */
static void
tells_how_much_goes_into_a_tank(void **state)
{
	(void)state;
	static const struct {
		const char *rate, *mix, *carrier;
		const char *printed;
		double within; /* as a part of what is printed */
	} rows[] = {
		/* NC State worksheet, read */
		{ "8 fl oz/acre", "1 gal", "7.5 gal/acre", "1.06 fl oz", .01 },
		{ "8 fl oz/acre", "3 gal", "7.5 gal/acre", "3.2 fl oz", 1e-9 },
		{ "8 fl oz/acre", "3 gal", "7.5 gal/acre", "96 mL", .02 },
		/* Albany County, read */
		{ "32 fl oz/acre", "20 gal", "20 gal/acre", "32 fl oz", 1e-9 },
		/* county slides, read */
		{ "1 qt/acre", "1 gal", "40 gal/acre", "0.8 fl oz", 1e-9 },
		{ "1 qt/acre", "1 gal", "40 gal/acre", "24 mL", .02 },
		{ "1 qt/acre", "1 gal", "40 gal/acre", "1.6 tbsp", 1e-9 },
		/* extension text on a list, read */
		{ "3 pt/acre", "1 gal", "65 gal/acre", "0.046 pt", .011 },
		{ "3 pt/acre", "1 gal", "65 gal/acre", "0.74 fl oz", .007 },
		{ "3 pt/acre", "1 gal", "65 gal/acre", "1.5 tbsp", .034 },
		/* computed: a backpack of 4 gal */
		{ "1.5 fl oz/1000 ft2", "4 gal", "1 gal/1000 ft2", "6 fl oz",
		    1e-9 },
		{ "1.5 fl oz/1000 ft2", "4 gal", "1 gal/1000 ft2", "177.4 mL",
		    3e-4 },
	};
	for (size_t i = 0; i < ROWS(rows); i++) {
		double wanted = volume(rows[i].printed);
		assert_close(
		    dose(rows[i].rate, rows[i].mix, rate(rows[i].carrier)),
		    wanted, rows[i].within * wanted);
	}
}

static void
tells_how_far_a_tank_goes(void **state)
{
	(void)state;
	static const struct {
		const char *tank, *carrier, *printed;
	} rows[] = { { "1 gal", "40 gal/acre", "0.025 acre" }, /* slides, R */
		{ "200 gal", "20 gal/acre", "10 acre" },       /* a maker, R */
		{ "4 gal", "1 gal/1000 ft2", "4000 ft2" },     /* computed */
		{ "2.5 gal", "1 gal/1000 ft2", "2500 ft2" } }; /* computed */
	for (size_t i = 0; i < ROWS(rows); i++)
		assert_close(calibration_reach(
				 volume(rows[i].tank), rate(rows[i].carrier)) /
				 area(rows[i].printed),
		    1, 1e-12);
	/* computed: 0.56 oz/acre of a dry product is 1.458 g in such a tank */
	assert_close(
	    quantity("0.56 oz/acre", QUANTITY_MASS_PER_AREA) *
		calibration_reach(volume("4 gal"), rate("1 gal/1000 ft2")),
	    1.458, 5e-4);
}

/* The rules as read; the catches are computed. */
static void
finds_uneven_and_changed_nozzles(void **state)
{
	(void)state;
	static const struct {
		double caught, usual;
		bool is_uneven, is_unlike_new;
	} rows[] = { { 20, 20, false, false }, { 21, 20, false, false },
		{ 19, 20, false, false }, { 21.01, 20, true, false },
		{ 18.99, 20, true, false }, { 22, 20, true, false },
		{ 22.01, 20, true, true }, { 18, 20, true, false },
		{ 17.99, 20, true, true }, { 0, 20, false, false },
		{ 20, 0, false, false }, { NAN, 20, false, false } };
	for (size_t i = 0; i < ROWS(rows); i++) {
		double excess =
		    calibration_excess(rows[i].caught, rows[i].usual);
		assert_int_equal(
		    calibration_is_uneven(excess), rows[i].is_uneven);
		assert_int_equal(
		    calibration_is_unlike_new(excess), rows[i].is_unlike_new);
	}
	static const double catches[] = { 19.5, 20, 20, 22.5 };
	double mean = calibration_mean(catches, 4);
	assert_close(mean, 20.5, 1e-12);
	assert_close(calibration_excess(22.5, mean), 0.0975609756, 1e-9);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(tells_the_course_of_every_printed_width),
		cmocka_unit_test(takes_any_shape_of_the_plot),
		cmocka_unit_test(reads_ounces_as_gallons_to_the_acre),
		cmocka_unit_test(takes_the_mean_of_timed_runs),
		cmocka_unit_test(finds_the_carrier_of_a_boom),
		cmocka_unit_test(finds_the_speed_that_holds_a_carrier),
		cmocka_unit_test(finds_the_carrier_of_a_free_area),
		cmocka_unit_test(tells_how_much_goes_into_a_tank),
		cmocka_unit_test(tells_how_far_a_tank_goes),
		cmocka_unit_test(finds_uneven_and_changed_nozzles),
	};
	return RUN_TESTS(tests);
}
