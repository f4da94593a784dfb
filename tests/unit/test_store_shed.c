/* What was caught with a sprayer and what was dissolved, in the store. */
#include "unit/test.h"

#include "unit/store_fixture.h"

static const struct stored_calibration caught = { .sprayer = HARD,
	.at = -86400,
	.carrier = 0.0407,
	.pace = 1.25,
	.method = HARD,
	.created = 1772434800 };

static const struct stored_solution made = { .product = HARD,
	.made = -86400,
	.mass = 5.1,
	.volume = 0.25,
	.created = 1772434800 };

static int64_t
add_calibration(
    struct store *store, const char *sprayer, int64_t at, double pace)
{
	struct stored_calibration one = caught;
	struct error error = { 0 };
	int64_t id = 0;
	one.sprayer = (char *)sprayer;
	one.at = at;
	one.pace = pace;
	if (!store_calibration_add(store, &one, &id, &error))
		fail_msg("%s", error.text);
	return id;
}

static int64_t
add_solution(struct store *store, const char *product, int64_t at)
{
	struct stored_solution one = made;
	struct error error = { 0 };
	int64_t id = 0;
	one.product = (char *)product;
	one.made = at;
	if (!store_solution_add(store, &one, &id, &error))
		fail_msg("%s", error.text);
	return id;
}

static void
gives_a_calibration_back_whole(void **state)
{
	struct fixture *fixture = *state;
	struct stored_calibration *list = NULL;
	size_t count = 0;
	int64_t id = add_calibration(fixture->store, HARD, -86400, 1.25);
	store_close(fixture->store);
	fixture->store = open_or_fail(fixture->path);
	assert_true(store_calibrations(fixture->store, &list, &count, NULL));
	assert_int_equal(count, 1);
	assert_true(list[0].id == id && list[0].at == -86400);
	assert_string_equal(list[0].sprayer, HARD);
	assert_string_equal(list[0].method, HARD);
	assert_true(list[0].carrier == 0.0407 && list[0].pace == 1.25);
	assert_true(list[0].created == 1772434800);
	stored_calibrations_free(list, count);
}

static void
gives_a_solution_back_whole(void **state)
{
	struct fixture *fixture = *state;
	struct stored_solution *list = NULL;
	size_t count = 0;
	int64_t id = add_solution(fixture->store, HARD, -86400);
	store_close(fixture->store);
	fixture->store = open_or_fail(fixture->path);
	assert_true(store_solutions(fixture->store, &list, &count, NULL));
	assert_int_equal(count, 1);
	assert_true(list[0].id == id && list[0].made == -86400);
	assert_string_equal(list[0].product, HARD);
	assert_true(list[0].mass == 5.1 && list[0].volume == 0.25);
	assert_true(list[0].created == 1772434800);
	stored_solutions_free(list, count);
}

static void
a_pace_that_was_not_timed_is_not_known(void **state)
{
	struct stored_calibration *list = NULL;
	struct stored_calibration one = caught;
	size_t count = 0;
	one.pace = NAN;
	one.method = NULL;
	assert_true(
	    store_calibration_add(store_of(state), &one, &one.id, NULL));
	assert_true(store_calibrations(store_of(state), &list, &count, NULL));
	assert_int_equal(count, 1);
	assert_nan(list[0].pace);
	assert_string_equal(list[0].method, "");
	stored_calibrations_free(list, count);
}

static void
lists_both_by_time_and_then_by_id(void **state)
{
	static const int64_t times[] = { 30, 10, 20, 30, 10 };
	static const int64_t wanted[] = { 2, 5, 3, 1, 4 };
	struct stored_calibration *calibrations = NULL;
	struct stored_solution *solutions = NULL;
	size_t count = 0;
	for (size_t i = 0; i < 5; i++) {
		(void)add_calibration(store_of(state), "pump", times[i], 1);
		(void)add_solution(store_of(state), "amber", times[i]);
	}
	assert_true(
	    store_calibrations(store_of(state), &calibrations, &count, NULL));
	assert_int_equal(count, 5);
	for (size_t i = 0; i < count; i++)
		assert_int_equal(calibrations[i].id, wanted[i]);
	stored_calibrations_free(calibrations, count);
	assert_true(store_solutions(store_of(state), &solutions, &count, NULL));
	assert_int_equal(count, 5);
	for (size_t i = 0; i < count; i++)
		assert_int_equal(solutions[i].id, wanted[i]);
	stored_solutions_free(solutions, count);
}

static void
an_empty_shed_gives_empty_lists(void **state)
{
	char mark = 0;
	void *kept = &mark;
	struct stored_calibration *calibrations = kept;
	struct stored_solution *solutions = kept;
	size_t count = 77;
	assert_true(
	    store_calibrations(store_of(state), &calibrations, &count, NULL));
	assert_int_equal(count, 0);
	stored_calibrations_free(calibrations, count);
	count = 77;
	assert_true(store_solutions(store_of(state), &solutions, &count, NULL));
	assert_int_equal(count, 0);
	stored_solutions_free(solutions, count);
}

static void
refuses_a_calibration_that_cannot_be(void **state)
{
	static const char *const reasons[] = { "sprayer <> ''",
		"NOT NULL constraint failed: calibration.sprayer",
		"carrier > 0",
		"NOT NULL constraint failed: calibration.carrier", "pace > 0" };
	enum { CASES = sizeof reasons / sizeof reasons[0] };
	struct stored_calibration cases[CASES];
	for (size_t i = 0; i < CASES; i++)
		cases[i] = caught;
	cases[0].sprayer = "";
	cases[1].sprayer = NULL;
	cases[2].carrier = 0;
	cases[3].carrier = NAN;
	cases[4].pace = -1;
	for (size_t i = 0; i < CASES; i++) {
		struct error error = { 0 };
		int64_t id = 77;
		assert_false(store_calibration_add(
		    store_of(state), &cases[i], &id, &error));
		assert_int_equal(error.kind, ERROR_INPUT);
		assert_contains(error.text, reasons[i]);
		assert_true(id == 77);
	}
	assert_int_equal(add_calibration(store_of(state), "pump", 1, 1), 1);
}

static void
refuses_a_solution_that_cannot_be(void **state)
{
	static const char *const reasons[] = { "product <> ''",
		"NOT NULL constraint failed: solution.product", "mass > 0",
		"NOT NULL constraint failed: solution.mass", "volume > 0",
		"NOT NULL constraint failed: solution.volume" };
	enum { CASES = sizeof reasons / sizeof reasons[0] };
	struct stored_solution cases[CASES];
	for (size_t i = 0; i < CASES; i++)
		cases[i] = made;
	cases[0].product = "";
	cases[1].product = NULL;
	cases[2].mass = 0;
	cases[3].mass = NAN;
	cases[4].volume = -0.25;
	cases[5].volume = NAN;
	for (size_t i = 0; i < CASES; i++) {
		struct error error = { 0 };
		int64_t id = 77;
		assert_false(store_solution_add(
		    store_of(state), &cases[i], &id, &error));
		assert_int_equal(error.kind, ERROR_INPUT);
		assert_contains(error.text, reasons[i]);
		assert_true(id == 77);
	}
	assert_int_equal(add_solution(store_of(state), "amber", 1), 1);
}

static void
both_go_with_the_transaction_that_they_are_part_of(void **state)
{
	struct store *store = store_of(state);
	struct stored_calibration *calibrations = NULL;
	struct stored_solution *solutions = NULL;
	size_t count = 77;
	assert_true(store_begin(store, NULL));
	(void)add_calibration(store, "pump", 1, 1);
	(void)add_solution(store, "amber", 1);
	store_rollback(store);
	assert_true(store_calibrations(store, &calibrations, &count, NULL));
	assert_int_equal(count, 0);
	assert_true(store_solutions(store, &solutions, &count, NULL));
	assert_int_equal(count, 0);
}

static void
leaves_outputs_alone_on_failure(void **state)
{
	struct fixture *fixture = *state;
	struct store *store = fixture->store;
	char mark = 0;
	void *kept = &mark;
	struct stored_calibration *calibrations = kept;
	struct stored_solution *solutions = kept;
	size_t count = 77;
	int64_t id = 77;
	struct error error = { 0 };
	meddle(fixture->path, "DROP TABLE calibration; DROP TABLE solution");
	assert_false(store_calibrations(store, &calibrations, &count, &error));
	assert_contains(error.text, "no such table: calibration");
	assert_false(store_solutions(store, &solutions, &count, &error));
	assert_contains(error.text, "no such table: solution");
	assert_false(store_calibration_add(store, &caught, &id, &error));
	assert_false(store_solution_add(store, &made, &id, &error));
	assert_ptr_equal(calibrations, kept);
	assert_ptr_equal(solutions, kept);
	assert_true(count == 77 && id == 77);
	store_close(store);
	fixture->store = NULL;
}

int
main(void)
{
#define TEST(name) cmocka_unit_test_setup_teardown(name, make_store, remove_all)
	const struct CMUnitTest tests[] = {
		TEST(gives_a_calibration_back_whole),
		TEST(gives_a_solution_back_whole),
		TEST(a_pace_that_was_not_timed_is_not_known),
		TEST(lists_both_by_time_and_then_by_id),
		TEST(an_empty_shed_gives_empty_lists),
		TEST(refuses_a_calibration_that_cannot_be),
		TEST(refuses_a_solution_that_cannot_be),
		TEST(leaves_outputs_alone_on_failure),
		TEST(both_go_with_the_transaction_that_they_are_part_of),
	};
	return RUN_TESTS(tests);
}
