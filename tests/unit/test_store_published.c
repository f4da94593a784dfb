/* Slots, notices, entries and sources come out as they went in. */
#include "unit/test.h"

#include "unit/store_fixture.h"

#include <limits.h>

static void
keeps_one_slot_for_each_job(void **state)
{
	struct stored_slot *slots = NULL;
	size_t count = 0;
	int64_t first = add_job(store_of(state), "a");
	int64_t second = add_job(store_of(state), "b");
	const struct stored_slot puts[] = {
		{ .job = second, .from = 50, .to = 60, .planned = 1 },
		{ .job = first, .from = 70, .to = 80, .planned = 2 },
		{ .job = second, .from = 55, .to = 65, .planned = 3 },
	};
	for (size_t i = 0; i < 3; i++)
		assert_true(store_slot_put(store_of(state), &puts[i], NULL));
	assert_true(store_slots(store_of(state), &slots, &count, NULL));
	assert_int_equal(count, 2);
	assert_memory_equal(&slots[0], &puts[1], sizeof puts[1]);
	assert_memory_equal(&slots[1], &puts[2], sizeof puts[2]);
	free(slots);
	assert_true(store_slot_remove(store_of(state), first, NULL));
	assert_true(store_slot_remove(store_of(state), first, NULL));
	assert_true(store_slots(store_of(state), &slots, &count, NULL));
	assert_int_equal(count, 1);
	assert_true(slots[0].job == second);
	free(slots);
}

static void
refuses_a_slot_that_ends_before_it_begins(void **state)
{
	struct error error = { 0 };
	struct stored_slot slot = {
		.job = add_job(store_of(state), "a"), .from = 60, .to = 60
	};
	assert_false(store_slot_put(store_of(state), &slot, &error));
	assert_int_equal(error.kind, ERROR_INPUT);
	assert_contains(error.text, "ends before it begins");
}

static void
keeps_notices_until_they_may_go(void **state)
{
	struct stored_notice *notices = NULL;
	size_t count = 0;
	int64_t job = add_job(store_of(state), "a");
	const struct stored_notice puts[] = {
		{ HARD, job, 200, 300, HARD, HARD },
		{ "z", job, 100, 299, "early", "" },
		{ "b", 0, 200, 301, "of no job", "" },
		{ "z", job, 100, 300, "again", "text" },
	};
	for (size_t i = 0; i < sizeof puts / sizeof puts[0]; i++)
		assert_true(store_notice_put(store_of(state), &puts[i], NULL));
	assert_true(store_notices(store_of(state), &notices, &count, NULL));
	assert_int_equal(count, 3);
	assert_string_equal(notices[0].uid, "z");
	assert_string_equal(notices[0].title, "again");
	assert_string_equal(notices[0].text, "text");
	assert_true(notices[0].until == 300 && notices[0].at == 100);
	assert_string_equal(notices[1].uid, HARD);
	assert_string_equal(notices[1].title, HARD);
	assert_string_equal(notices[1].text, HARD);
	assert_true(notices[1].job == job);
	assert_string_equal(notices[2].uid, "b");
	assert_true(notices[2].job == 0);
	stored_notices_free(notices, count);
	assert_true(store_notices_prune(store_of(state), 300, NULL));
	assert_true(store_notices(store_of(state), &notices, &count, NULL));
	assert_int_equal(count, 1);
	assert_string_equal(notices[0].uid, "b");
	stored_notices_free(notices, count);
}

static void
keeps_entries_and_their_sequence_never_falls(void **state)
{
	struct stored_entry *entries = NULL;
	struct error error = { 0 };
	size_t count = 0;
	const struct stored_entry puts[] = {
		{ "slot-2", UINT64_MAX, 3, 10 },
		{ HARD, UINT64_C(1) << 63, INT_MAX, 11 },
		{ "slot-2", 7, 3, 12 },
		{ "slot-2", 8, 4, 13 },
	};
	for (size_t i = 0; i < sizeof puts / sizeof puts[0]; i++)
		assert_true(store_entry_put(store_of(state), &puts[i], &error));
	assert_false(store_entry_put(store_of(state), &puts[0], &error));
	assert_int_equal(error.kind, ERROR_INPUT);
	assert_contains(error.text, "entry slot-2: sequence 3 is lower");
	assert_true(store_entries(store_of(state), &entries, &count, NULL));
	assert_int_equal(count, 2);
	assert_string_equal(entries[0].uid, HARD);
	assert_true(entries[0].hash == UINT64_C(1) << 63);
	assert_int_equal(entries[0].sequence, INT_MAX);
	assert_string_equal(entries[1].uid, "slot-2");
	assert_true(entries[1].hash == 8 && entries[1].revised == 13);
	assert_int_equal(entries[1].sequence, 4);
	stored_entries_free(entries, count);
}

static void
gives_a_new_source_with_nothing_but_its_address(void **state)
{
	struct stored_source source = { .failures = 9, .etag = "left over" };
	assert_true(store_source_get(store_of(state), HARD, &source, NULL));
	assert_string_equal(source.address, HARD);
	assert_null(source.etag);
	assert_null(source.last_modified);
	assert_null(source.trouble);
	assert_null(source.leads_to);
	assert_true(source.checked == 0 && source.due == 0);
	assert_int_equal(source.failures, 0);
	stored_source_release(&source);
	stored_source_release(NULL);
	assert_null(source.address);
}

static void
gives_a_source_back_whole(void **state)
{
	struct stored_source source = { 0 };
	const struct stored_source puts[] = {
		{ "a", "W/\"x\"", NULL, 5, 6, 7, HARD, "b" },
		{ "b", NULL, NULL, 1, 1, 1, NULL, NULL },
		{ "a", HARD, "Mon, 02 Mar 2026 07:00:00 GMT", 8, 9, 0, NULL,
		    HARD },
	};
	for (size_t i = 0; i < 3; i++) {
		assert_true(store_source_put(store_of(state), &puts[i], NULL));
		assert_true(store_source_get(
		    store_of(state), puts[i].address, &source, NULL));
		assert_true(source.checked == puts[i].checked);
		assert_true(source.due == puts[i].due);
		assert_int_equal(source.failures, puts[i].failures);
		assert_int_equal(
		    source.trouble == NULL, puts[i].trouble == NULL);
		stored_source_release(&source);
	}
	assert_true(store_source_get(store_of(state), "a", &source, NULL));
	assert_string_equal(source.etag, HARD);
	assert_string_equal(source.last_modified, puts[2].last_modified);
	assert_string_equal(source.leads_to, HARD);
	free(source.leads_to);
	source.leads_to = NULL;
	assert_true(store_source_put(store_of(state), &source, NULL));
	stored_source_release(&source);
	assert_true(store_source_get(store_of(state), "a", &source, NULL));
	assert_null(source.leads_to);
	stored_source_release(&source);
}

int
main(void)
{
#define TEST(name) cmocka_unit_test_setup_teardown(name, make_store, remove_all)
	const struct CMUnitTest tests[] = {
		TEST(keeps_one_slot_for_each_job),
		TEST(refuses_a_slot_that_ends_before_it_begins),
		TEST(keeps_notices_until_they_may_go),
		TEST(keeps_entries_and_their_sequence_never_falls),
		TEST(gives_a_new_source_with_nothing_but_its_address),
		TEST(gives_a_source_back_whole),
	};
	return RUN_TESTS(tests);
}
