/* Jobs come out of the store as they went in, in the order that was said. */
#include "unit/test.h"

#include "unit/store_fixture.h"

static void
gives_a_job_back_whole(void **state)
{
	struct stored_job job = sample_job(HARD);
	struct stored_job *jobs = NULL;
	size_t count = 0;
	int64_t id = 0;
	job.site = HARD;
	job.weeds = HARD;
	job.note = HARD;
	job.dose[0] = (struct stored_dose){ .product = HARD, .rate = HARD };
	job.after = -5;
	job.before = INT64_MAX - 1;
	job.priority = -7;
	job.repeat = 0.1;
	assert_true(store_job_add(store_of(state), &job, &id, NULL));
	assert_true(store_jobs(store_of(state), false, &jobs, &count, NULL));
	assert_int_equal(count, 1);
	assert_true(jobs[0].id == id);
	assert_string_equal(jobs[0].uid, HARD);
	assert_string_equal(jobs[0].site, HARD);
	assert_string_equal(jobs[0].weeds, HARD);
	assert_string_equal(jobs[0].note, HARD);
	assert_int_equal(jobs[0].dose_count, 2);
	assert_string_equal(jobs[0].dose[0].product, HARD);
	assert_string_equal(jobs[0].dose[0].rate, HARD);
	assert_string_equal(jobs[0].dose[1].product, "birch");
	assert_null(jobs[0].dose[1].rate);
	assert_true(jobs[0].area == 120.5 && jobs[0].repeat == 0.1);
	assert_true(jobs[0].after == -5 && jobs[0].before == INT64_MAX - 1);
	assert_int_equal(jobs[0].priority, -7);
	assert_int_equal(jobs[0].state, STORED_WAITING);
	assert_true(jobs[0].created == 1772434800);
	stored_jobs_free(jobs, count);
}

static void
lists_jobs_by_id_and_the_waiting_ones_alone(void **state)
{
	struct stored_job *jobs = NULL;
	size_t count = 0;
	int64_t first = add_job(store_of(state), "z");
	int64_t second = add_job(store_of(state), "a");
	int64_t third = add_job(store_of(state), "m");
	assert_true(first < second && second < third);
	assert_true(
	    store_job_finish(store_of(state), second, STORED_DROPPED, NULL));
	assert_true(store_jobs(store_of(state), false, &jobs, &count, NULL));
	assert_int_equal(count, 3);
	assert_true(jobs[0].id == first && jobs[2].id == third);
	assert_int_equal(jobs[1].state, STORED_DROPPED);
	assert_true(jobs[0].after == INT64_MIN && jobs[0].before == INT64_MAX);
	stored_jobs_free(jobs, count);
	assert_true(store_jobs(store_of(state), true, &jobs, &count, NULL));
	assert_int_equal(count, 2);
	assert_true(jobs[0].id == first && jobs[1].id == third);
	stored_jobs_free(jobs, count);
}

static void
takes_a_full_tank_and_no_more(void **state)
{
	struct stored_job job = sample_job("full");
	struct stored_job *jobs = NULL;
	struct error error = { 0 };
	size_t count = 0;
	int64_t id = 77;
	job.dose_count = LIMIT_TANK_PRODUCTS;
	for (size_t i = 0; i < job.dose_count; i++)
		job.dose[i].product = "x";
	job.dose[LIMIT_TANK_PRODUCTS - 1].product = "last";
	job.dose_count = 0;
	assert_false(store_job_add(store_of(state), &job, &id, &error));
	assert_int_equal(error.kind, ERROR_INPUT);
	job.dose_count = LIMIT_TANK_PRODUCTS + 1;
	assert_false(store_job_add(store_of(state), &job, &id, &error));
	assert_true(id == 77);
	job.dose_count = LIMIT_TANK_PRODUCTS;
	assert_true(store_job_add(store_of(state), &job, &id, &error));
	assert_true(store_jobs(store_of(state), true, &jobs, &count, NULL));
	assert_int_equal(count, 1);
	assert_int_equal(jobs[0].dose_count, LIMIT_TANK_PRODUCTS);
	assert_string_equal(
	    jobs[0].dose[LIMIT_TANK_PRODUCTS - 1].product, "last");
	stored_jobs_free(jobs, count);
}

static void
leaves_nothing_of_a_job_that_fails_half_way(void **state)
{
	struct stored_job job = sample_job("half");
	struct error error = { 0 };
	int64_t id = 77;
	struct stored_job *jobs = NULL;
	size_t count = 9;
	job.dose[1].product = NULL;
	assert_false(store_job_add(store_of(state), &job, &id, &error));
	assert_int_equal(error.kind, ERROR_INPUT);
	assert_contains(error.text, "lull.db: NOT NULL");
	assert_true(id == 77);
	assert_true(store_jobs(store_of(state), false, &jobs, &count, NULL));
	assert_int_equal(count, 0);
	stored_jobs_free(jobs, count);
	assert_true(add_job(store_of(state), "half") > 0);
	assert_false(store_job_add(store_of(state),
	    &(struct stored_job){ .dose_count = 1 }, &id, NULL));
}

static void
a_finished_job_gives_up_its_slot(void **state)
{
	struct error error = { 0 };
	struct stored_slot *slots = NULL;
	size_t count = 0;
	int64_t id = add_job(store_of(state), "one");
	struct stored_slot slot = { .job = id, .from = 10, .to = 20 };
	assert_true(store_slot_put(store_of(state), &slot, &error));
	assert_true(store_job_finish(store_of(state), id, STORED_DONE, &error));
	assert_true(store_slots(store_of(state), &slots, &count, NULL));
	assert_int_equal(count, 0);
	free(slots);
	assert_false(store_slot_put(store_of(state), &slot, &error));
	assert_int_equal(error.kind, ERROR_ANSWER);
}

static void
answers_that_no_such_job_waits(void **state)
{
	struct stored_slot slot = { .job = 99, .from = 1, .to = 2 };
	int64_t done = add_job(store_of(state), "one");
	assert_true(store_job_finish(store_of(state), done, STORED_DONE, NULL));
	const int64_t ids[] = { done, 99, 0, -1 };
	for (size_t i = 0; i < sizeof ids / sizeof ids[0]; i++) {
		struct error error[3] = { 0 };
		slot.job = ids[i];
		assert_false(store_job_finish(
		    store_of(state), ids[i], STORED_DROPPED, &error[0]));
		assert_false(
		    store_job_postpone(store_of(state), ids[i], 5, &error[1]));
		assert_false(store_slot_put(store_of(state), &slot, &error[2]));
		for (size_t j = 0; j < 3; j++) {
			assert_int_equal(error[j].kind, ERROR_ANSWER);
			assert_contains(error[j].text, "no waiting job");
		}
	}
	struct error error = { 0 };
	assert_false(
	    store_job_finish(store_of(state), done, STORED_WAITING, &error));
	assert_int_equal(error.kind, ERROR_INPUT);
}

static void
postpones_a_job(void **state)
{
	struct stored_job *jobs = NULL;
	size_t count = 0;
	int64_t id = add_job(store_of(state), "one");
	assert_true(store_job_postpone(store_of(state), id, 1772500000, NULL));
	assert_true(store_jobs(store_of(state), true, &jobs, &count, NULL));
	assert_true(jobs[0].after == 1772500000);
	stored_jobs_free(jobs, count);
	assert_true(store_job_postpone(store_of(state), id, INT64_MIN, NULL));
	assert_true(store_jobs(store_of(state), true, &jobs, &count, NULL));
	assert_true(jobs[0].after == INT64_MIN);
	stored_jobs_free(jobs, count);
}

int
main(void)
{
#define TEST(name) cmocka_unit_test_setup_teardown(name, make_store, remove_all)
	const struct CMUnitTest tests[] = {
		TEST(gives_a_job_back_whole),
		TEST(lists_jobs_by_id_and_the_waiting_ones_alone),
		TEST(takes_a_full_tank_and_no_more),
		TEST(leaves_nothing_of_a_job_that_fails_half_way),
		TEST(a_finished_job_gives_up_its_slot),
		TEST(answers_that_no_such_job_waits),
		TEST(postpones_a_job),
	};
	return RUN_TESTS(tests);
}
