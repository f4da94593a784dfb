/* Slots, notices, entries, sources and documents come out as they went in. */
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
		{ "a", "W/\"x\"", NULL, 5, 6, 7, HARD },
		{ "b", NULL, NULL, 1, 1, 1, NULL },
		{ "a", HARD, "Mon, 02 Mar 2026 07:00:00 GMT", 8, 9, 0, NULL },
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
	stored_source_release(&source);
}

static void
add_document(struct store *store, const char *address, int64_t fetched)
{
	char body[32];
	(void)snprintf(body, sizeof body, "%s %d", address, (int)fetched);
	struct stored_document document = { .fetched = fetched,
		.issued = fetched - 1,
		.body = body,
		.length = strlen(body) };
	struct error error = { 0 };
	if (!store_document_add(store, address, &document, &error))
		fail_msg("%s", error.text);
}

/* The times of an address's documents as text, in the order given out. */
static const char *
list(struct store *store, const char *address, int64_t since, char *buffer)
{
	struct stored_document *documents = NULL;
	size_t count = 0;
	size_t used = 0;
	buffer[0] = '\0';
	assert_true(
	    store_documents(store, address, since, &documents, &count, NULL));
	for (size_t i = 0; i < count; i++)
		used += (size_t)snprintf(
		    buffer + used, 64 - used, "%d ", (int)documents[i].fetched);
	stored_documents_free(documents, count);
	return buffer;
}

static void
gives_documents_newest_first_and_always_the_newest(void **state)
{
	char text[64];
	assert_string_equal(list(store_of(state), "a", 0, text), "");
	add_document(store_of(state), "a", 20);
	add_document(store_of(state), "a", 40);
	add_document(store_of(state), "b", 90);
	add_document(store_of(state), "a", 30);
	assert_string_equal(list(store_of(state), "a", 0, text), "40 30 20 ");
	assert_string_equal(list(store_of(state), "a", 30, text), "40 30 ");
	assert_string_equal(list(store_of(state), "a", 41, text), "40 ");
	assert_string_equal(list(store_of(state), "c", 0, text), "");
}

static void
prunes_documents_but_never_the_newest(void **state)
{
	char text[64];
	static const int times[] = { 10, 20, 40, 40, 30 };
	for (size_t i = 0; i < 5; i++)
		add_document(store_of(state), "a", times[i]);
	add_document(store_of(state), "b", 5);
	assert_true(store_documents_prune(store_of(state), 20, NULL));
	assert_string_equal(
	    list(store_of(state), "a", 0, text), "40 40 30 20 ");
	assert_string_equal(list(store_of(state), "b", 0, text), "5 ");
	assert_true(store_documents_prune(store_of(state), 1000, NULL));
	assert_string_equal(list(store_of(state), "a", 0, text), "40 ");
	assert_string_equal(list(store_of(state), "b", 0, text), "5 ");
}

static void
gives_bodies_back_byte_for_byte(void **state)
{
	struct stored_document *documents = NULL;
	size_t count = 0;
	enum { LARGE = 300000 };
	char *bytes = malloc(LARGE);
	assert_non_null(bytes);
	for (size_t i = 0; i < LARGE; i++)
		bytes[i] = (char)(i * 7 + i / 256);
	struct stored_document empty = { .fetched = 1 };
	struct stored_document large = { 2, 3, bytes, LARGE };
	assert_true(store_document_add(store_of(state), "a", &empty, NULL));
	assert_true(store_document_add(store_of(state), "a", &large, NULL));
	assert_true(
	    store_documents(store_of(state), "a", 0, &documents, &count, NULL));
	assert_int_equal(count, 2);
	assert_int_equal(documents[0].length, LARGE);
	assert_memory_equal(documents[0].body, bytes, LARGE);
	assert_true(documents[0].issued == 3 && documents[0].fetched == 2);
	assert_int_equal(documents[1].length, 0);
	assert_non_null(documents[1].body);
	stored_documents_free(documents, count);
	free(bytes);
	struct error error = { 0 };
	assert_false(store_document_add(store_of(state), "", &empty, &error));
	assert_int_equal(error.kind, ERROR_INPUT);
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
		TEST(gives_documents_newest_first_and_always_the_newest),
		TEST(prunes_documents_but_never_the_newest),
		TEST(gives_bodies_back_byte_for_byte),
	};
	return RUN_TESTS(tests);
}
