/* What must be true of every calibration, and what none can be made of. */
#include "unit/test.h"

#include "unit/calibration_fixture.h"

#include "turf/calibration.h"

static void
knows_nothing_from_nothing(void **state)
{
	(void)state;
	static const double bad[] = { NAN, 0, -1, HUGE_VAL, -HUGE_VAL };
	for (size_t i = 0; i < ROWS(bad); i++) {
		double list[] = { 16, bad[i], 18 };
		assert_nan(calibration_carrier(bad[i], 1));
		assert_nan(calibration_carrier(1, bad[i]));
		assert_nan(calibration_course(bad[i]));
		assert_nan(calibration_pace(bad[i], 1));
		assert_nan(calibration_pace(1, bad[i]));
		assert_nan(calibration_reach(bad[i], 1));
		assert_nan(calibration_reach(1, bad[i]));
		assert_nan(calibration_excess(bad[i], 1));
		assert_nan(calibration_excess(1, bad[i]));
		assert_nan(calibration_mean(list, 3));
		for (size_t part = 0; part < 4; part++) {
			double value[4] = { 1, 1, 1, 1 };
			value[part] = bad[i];
			struct calibration_walk walk = { value[0], value[1],
				value[2], value[3] };
			assert_nan(calibration_walk_carrier(&walk));
		}
	}
	assert_nan(calibration_mean(NULL, 0));
}

static void
refuses_to_solve_what_is_not_three_of_four(void **state)
{
	(void)state;
	static const struct {
		struct calibration_nozzle nozzle;
		const char *reason;
	} rows[] = { { { 1, 1, 1, 1 }, "three of" },
		{ { NAN, NAN, 1, 1 }, "three of" },
		{ { NAN, NAN, NAN, NAN }, "three of" },
		{ { NAN, 0, 1, 1 }, "over 0" }, { { NAN, 1, -1, 1 }, "over 0" },
		{ { 1, HUGE_VAL, 1, NAN }, "over 0" },
		{ { 1e300, NAN, 1e300, 1 }, "too far" } };
	for (size_t i = 0; i < ROWS(rows); i++) {
		struct calibration_nozzle nozzle = rows[i].nozzle;
		struct error error = { 0 };
		assert_false(calibration_solve(&nozzle, &error));
		assert_int_equal(error.kind, ERROR_INPUT);
		assert_contains(error.text, rows[i].reason);
		assert_memory_equal(&nozzle, &rows[i].nozzle, sizeof nozzle);
		assert_false(calibration_solve(&nozzle, NULL));
	}
}

/* From 1/50 to 50, even over the powers. */
static double
draw(uint64_t *seed)
{
	*seed = *seed * 6364136223846793005U + 1442695040888963407U;
	return exp(
	    ((double)(*seed >> 11) / 9007199254740992.0 - 0.5) * 2 * log(50));
}

/* Whatever is left out comes back. */
static void
solves_for_each_and_back(void **state)
{
	(void)state;
	uint64_t seed = 1;
	for (int n = rounds(2000); n > 0; n--) {
		double whole[4] = { NAN, draw(&seed), draw(&seed),
			draw(&seed) };
		whole[0] = whole[1] / (whole[2] * whole[3]);
		for (size_t out = 0; out < 4; out++) {
			double value[4];
			memcpy(value, whole, sizeof value);
			value[out] = NAN;
			struct calibration_nozzle nozzle = { value[0], value[1],
				value[2], value[3] };
			assert_true(calibration_solve(&nozzle, NULL));
			double found[4] = { nozzle.carrier, nozzle.flow,
				nozzle.swath, nozzle.speed };
			for (size_t i = 0; i < 4; i++)
				assert_close(found[i] / whole[i], 1, 1e-12);
		}
	}
}

/*
 * The course is a free area, and a nozzle at a walking speed: three ways to
 * one carrier. A jug that is held longer catches more and tells the same.
 */
static void
agrees_whichever_way_it_is_found(void **state)
{
	(void)state;
	uint64_t seed = 2;
	for (int n = rounds(2000); n > 0; n--) {
		double swath = draw(&seed);
		double course = calibration_course(swath);
		struct calibration_walk walk = { .area = swath * course,
			.time = draw(&seed),
			.caught = draw(&seed) };
		walk.caught_in = walk.time;
		double carrier = calibration_walk_carrier(&walk);
		assert_close(
		    calibration_carrier(walk.caught, walk.area) / carrier, 1,
		    1e-12);
		assert_close(
		    to_gpa(carrier) / (walk.caught / volume("1 fl oz")), 1,
		    1e-12);
		struct calibration_nozzle nozzle = { .carrier = NAN,
			.flow = walk.caught / walk.time,
			.swath = swath,
			.speed = course / walk.time };
		assert_true(calibration_solve(&nozzle, NULL));
		assert_close(nozzle.carrier / carrier, 1, 1e-12);
		assert_close(calibration_pace(nozzle.swath, nozzle.speed) *
				 walk.time / area("340.3125 ft2"),
		    1, 1e-12);
		double longer = draw(&seed);
		walk.caught *= longer;
		walk.caught_in *= longer;
		assert_close(
		    calibration_walk_carrier(&walk) / carrier, 1, 1e-12);
	}
}

/* Twice the water is twice the carrier; twice the ground or time, half. */
static void
scales_with_what_was_measured(void **state)
{
	(void)state;
	uint64_t seed = 3;
	for (int n = rounds(2000); n > 0; n--) {
		double by = draw(&seed), caught = draw(&seed);
		double ground = draw(&seed);
		double list[3] = { draw(&seed), draw(&seed), draw(&seed) };
		double carrier = calibration_carrier(caught, ground);
		double mean = calibration_mean(list, 3);
		assert_close(calibration_carrier(by * caught, ground) / carrier,
		    by, 1e-12 * by);
		assert_close(
		    calibration_carrier(by * caught, by * ground) / carrier, 1,
		    1e-12);
		assert_close(calibration_course(by * ground) /
				 calibration_course(ground),
		    1 / by, 1e-12 / by);
		assert_close(
		    calibration_reach(caught, carrier) / ground, 1, 1e-12);
		double excess = calibration_excess(list[0], mean);
		for (size_t i = 0; i < 3; i++)
			list[i] *= by;
		assert_close(
		    calibration_mean(list, 3), by * mean, 1e-12 * by * mean);
		assert_close(
		    calibration_excess(list[0], calibration_mean(list, 3)),
		    excess, 1e-9);
	}
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(knows_nothing_from_nothing),
		cmocka_unit_test(refuses_to_solve_what_is_not_three_of_four),
		cmocka_unit_test(solves_for_each_and_back),
		cmocka_unit_test(agrees_whichever_way_it_is_found),
		cmocka_unit_test(scales_with_what_was_measured),
	};
	return RUN_TESTS(tests);
}
