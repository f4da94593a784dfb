/* What goes into the store comes out the same, in the order that was said. */
#include "unit/test.h"

#include "unit/store_fixture.h"

static struct stored_record
sample_record(int64_t from)
{
	return (struct stored_record){
		.site = "front",
		.amount = { { .product = "amber",
				.amount = 2.5,
				.is_mass = true },
		    { .product = "birch", .amount = NAN } },
		.amount_count = 2,
		.from = from,
		.to = from + 1800,
		.area = 120.5,
		.used = NAN,
		.air_temperature = 21.25,
		.wind = NAN,
		.wind_direction = 0,
		.humidity = NAN,
		.note = "",
		.created = from + 3600,
	};
}

static int64_t
add_record(struct store *store, int64_t from, int64_t replaces)
{
	struct stored_record record = sample_record(from);
	struct error error = { 0 };
	int64_t id = 0;
	record.replaces = replaces;
	if (!store_record_add(store, &record, &id, &error))
		fail_msg("%s", error.text);
	return id;
}

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

static void
gives_a_record_back_whole(void **state)
{
	struct stored_record record = sample_record(1772434800);
	struct stored_record *records = NULL;
	size_t count = 0;
	int64_t id = 0;
	record.job = add_job(store_of(state), "one");
	record.site = HARD;
	record.note = HARD;
	record.amount[1].product = HARD;
	assert_true(store_record_add(store_of(state), &record, &id, NULL));
	assert_true(store_records(store_of(state), &records, &count, NULL));
	assert_int_equal(count, 1);
	const struct stored_record *back = &records[0];
	assert_true(back->id == id && back->job == record.job);
	assert_true(back->replaces == 0 && back->created == record.created);
	assert_true(back->from == record.from && back->to == record.to);
	assert_string_equal(back->site, HARD);
	assert_string_equal(back->note, HARD);
	assert_true(back->area == 120.5 && back->air_temperature == 21.25);
	assert_true(back->wind_direction == 0);
	assert_nan(back->used);
	assert_nan(back->wind);
	assert_nan(back->humidity);
	assert_int_equal(back->amount_count, 2);
	assert_string_equal(back->amount[0].product, "amber");
	assert_true(back->amount[0].amount == 2.5 && back->amount[0].is_mass);
	assert_string_equal(back->amount[1].product, HARD);
	assert_nan(back->amount[1].amount);
	assert_false(back->amount[1].is_mass);
	stored_records_free(records, count);
}

static void
leaves_out_the_records_that_were_replaced(void **state)
{
	struct stored_record *records = NULL;
	size_t count = 0;
	int64_t late = add_record(store_of(state), 900, 0);
	int64_t wrong = add_record(store_of(state), 100, 0);
	int64_t better = add_record(store_of(state), 200, wrong);
	int64_t best = add_record(store_of(state), 950, better);
	int64_t twin = add_record(store_of(state), 900, 0);
	assert_true(store_records(store_of(state), &records, &count, NULL));
	assert_int_equal(count, 3);
	assert_true(records[0].id == late && records[1].id == twin);
	assert_true(records[2].id == best && records[2].replaces == better);
	stored_records_free(records, count);
}

static void
refuses_a_record_that_cannot_be(void **state)
{
	int64_t old = add_record(store_of(state), 100, 0);
	int64_t newer = add_record(store_of(state), 100, old);
	struct stored_record cases[5];
	for (size_t i = 0; i < 5; i++)
		cases[i] = sample_record(100);
	cases[0].replaces = old;
	cases[1].replaces = newer + 1; /* the id that it would get itself */
	cases[2].job = 5;
	cases[3].to = 99;
	cases[4].amount_count = 0;
	static const struct {
		enum error_kind kind;
		const char *sentence;
	} wanted[] = {
		{ ERROR_ANSWER, "record 1 is already replaced by record 2" },
		{ ERROR_ANSWER, "there is no record 3" },
		{ ERROR_ANSWER, "there is no job 5" },
		{ ERROR_INPUT, "a record ends before it begins" },
		{ ERROR_INPUT, "a record has 1 to 8 products, not 0" },
	};
	for (size_t i = 0; i < 5; i++) {
		struct error error = { 0 };
		int64_t id = 77;
		assert_false(
		    store_record_add(store_of(state), &cases[i], &id, &error));
		assert_int_equal(error.kind, wanted[i].kind);
		assert_contains(error.text, wanted[i].sentence);
		assert_true(id == 77);
	}
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
		TEST(gives_a_record_back_whole),
		TEST(leaves_out_the_records_that_were_replaced),
		TEST(refuses_a_record_that_cannot_be),
	};
	return RUN_TESTS(tests);
}
