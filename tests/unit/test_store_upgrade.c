/* A store of an earlier version that has been used becomes one of this version,
   and loses nothing on the way, even when the way is cut. */
#include "unit/test.h"

#include "base/file.h"
#include "store/schema.h"
#include "unit/store_fixture.h"

#include <signal.h>
#include <sys/wait.h>
#include <time.h>

static const struct stored_span always = { INT64_MIN, INT64_MAX };

/* A row in each table of version 1; the first program wrote them like this. */
static const char version_1_rows[] =
    "INSERT INTO job VALUES (1, 'one', 'front', 0, NULL, NULL, 5, 0, '', '',"
    " 'waiting', 1), (2, 'two', 'front', 0, 7, 8, 5, 0, '', '', 'done', 1);"
    "INSERT INTO dose VALUES (1, 0, 'amber', NULL), (2, 0, 'birch', '1 L');"
    "INSERT INTO slot VALUES (1, 10, 20, 5);"
    "INSERT INTO record VALUES (1, 2, NULL, 'front', 10, 20, 1, 2, NULL, NULL,"
    " NULL, NULL, '', 30);"
    "INSERT INTO amount VALUES (1, 0, 'birch', 2, 'L');"
    "INSERT INTO notice VALUES ('n', 1, 5, 6, 'title', 'text');"
    "INSERT INTO entry VALUES ('slot-1', -1, 3, 5);"
    "INSERT INTO source VALUES ('a', 'W/\"x\"', 'Mon', 5, 6, 7, 'slow');"
    "INSERT INTO document VALUES (4, 'a', 20, 19, 10,"
    " CAST('four bytes' AS BLOB)), (9, 'a', 10, 9, 0, x''),"
    " (5, 'b', 30, 30, 3, x'00ff00')";

/* 300 documents of 20 kB, so that the upgrade takes a while. */
static const char many_documents[] =
    "WITH RECURSIVE n (i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n"
    " WHERE i < 300) INSERT INTO document (address, fetched, issued, size,"
    " body) SELECT 'many', i, i, 20000,"
    " CAST(printf('%020000d', i) AS BLOB) FROM n";

static void
check_body(struct store *store, int64_t id, const char *bytes, size_t length)
{
	struct text body;
	struct error error = { 0 };
	if (!store_document_body(store, id, &body, &error))
		fail_msg("%s", error.text);
	assert_int_equal(body.length, length);
	assert_memory_equal(text_string(&body), bytes, length);
	text_release(&body);
}

static void
keeps_the_documents_of_version_1(void **state)
{
	struct fixture *fixture = *state;
	struct stored_document *documents = NULL;
	size_t count = 0;
	bool same = false;
	make_version(fixture->path, 1, version_1_rows);
	struct store *store = fixture->store = open_or_fail(fixture->path);
	assert_true(
	    store_documents(store, "a", always, &documents, &count, NULL));
	assert_int_equal(count, 2);
	assert_true(documents[0].id == 4 && documents[1].id == 9);
	assert_true(documents[0].fetched == 20 && documents[0].issued == 19);
	assert_int_equal(documents[0].length, 10);
	assert_null(documents[0].etag);
	assert_null(documents[0].last_modified);
	stored_documents_free(documents, count);
	check_body(store, 4, "four bytes", 10);
	check_body(store, 9, "", 0);
	check_body(store, 5, "\0\xff", 3);
	assert_true(store_document_is_newest(store, "a",
	    &(struct stored_document){ .fetched = INT64_MAX, .length = 10 },
	    "four bytes", &same, NULL));
	assert_true(same);
	struct stored_document next = { .fetched = 40, .length = 4 };
	assert_true(store_document_add(store, "a", &next, "more", NULL));
	check_body(store, 10, "more", 4);
	assert_true(store_documents_prune(store, 25, INT64_MAX, NULL));
	assert_true(
	    store_documents(store, "a", always, &documents, &count, NULL));
	assert_int_equal(count, 1);
	stored_documents_free(documents, count);
}

static void
keeps_all_else_of_version_1(void **state)
{
	struct fixture *fixture = *state;
	struct stored_record *records = NULL;
	struct stored_slot *slots = NULL;
	struct stored_notice *notices = NULL;
	struct stored_entry *entries = NULL;
	struct stored_source source;
	size_t count = 0;
	make_version(fixture->path, 1, version_1_rows);
	struct store *store = fixture->store = open_or_fail(fixture->path);
	assert_int_equal(count_jobs(store), 2);
	assert_true(store_records(store, false, &records, &count, NULL));
	assert_int_equal(count, 1);
	assert_true(records[0].job == 2 && records[0].amount[0].amount == 2);
	stored_records_free(records, count);
	assert_true(store_slots(store, &slots, &count, NULL));
	assert_int_equal(count, 1);
	assert_true(slots[0].job == 1 && slots[0].to == 20);
	free(slots);
	assert_true(store_notices(store, &notices, &count, NULL));
	assert_int_equal(count, 1);
	assert_string_equal(notices[0].text, "text");
	stored_notices_free(notices, count);
	assert_true(store_entries(store, &entries, &count, NULL));
	assert_int_equal(count, 1);
	assert_true(entries[0].hash == UINT64_MAX && entries[0].sequence == 3);
	stored_entries_free(entries, count);
	assert_true(store_source_get(store, "a", &source, NULL));
	assert_string_equal(source.etag, "W/\"x\"");
	assert_string_equal(source.last_modified, "Mon");
	assert_string_equal(source.trouble, "slow");
	assert_true(source.checked == 5 && source.due == 6);
	assert_int_equal(source.failures, 7);
	assert_null(source.leads_to);
	stored_source_release(&source);
}

/* What a store of version 2 has beyond one of version 1. */
static const char version_2_rows[] =
    "INSERT INTO day_weather VALUES ('front', 5, 20, 10, 15, NULL),"
    " ('front', 6, NULL, NULL, NULL, 12.5);"
    "INSERT INTO request VALUES ('h', 100);"
    "INSERT INTO source VALUES ('a', NULL, NULL, 5, 6, 0, NULL, 'b');"
    "INSERT INTO document VALUES (7, 'b', 30, 30, '\"e\"', 'Tue', 3, 'plain',"
    " x'00ff00')";

static void
check_days_of_version_2(struct store *store)
{
	struct daily *days = NULL;
	size_t count = 0;
	assert_true(store_days(store, "front", 0, &days, &count, NULL));
	assert_int_equal(count, 2);
	assert_true(days[0].day == 5 && days[0].high == 20);
	assert_true(days[0].low == 10 && days[0].mean == 15);
	assert_true(days[1].day == 6 && days[1].soil == 12.5);
	assert_nan(days[1].mean);
	/* nobody kept it: unknown, not dry */
	assert_nan(days[0].rain);
	assert_nan(days[1].rain);
	free(days);
}

static void
keeps_all_of_version_2(void **state)
{
	struct fixture *fixture = *state;
	struct stored_source source;
	struct stored_document *documents = NULL;
	size_t count = 0;
	int64_t oldest = 0;
	make_version(fixture->path, 2, version_2_rows);
	struct store *store = fixture->store = open_or_fail(fixture->path);
	check_days_of_version_2(store);
	assert_true(store_requests(store, "h", 90, &count, &oldest, NULL));
	assert_true(count == 1 && oldest == 100);
	assert_true(store_source_get(store, "a", &source, NULL));
	assert_string_equal(source.leads_to, "b");
	stored_source_release(&source);
	assert_true(
	    store_documents(store, "b", always, &documents, &count, NULL));
	assert_int_equal(count, 1);
	assert_string_equal(documents[0].etag, "\"e\"");
	stored_documents_free(documents, count);
	check_body(store, 7, "\0\xff", 3);
}

/* The words in the tables are those that the program writes. */
static void
an_old_store_takes_every_observation(void **state)
{
	struct fixture *fixture = *state;
	for (size_t version = 1; version < schema_current.count; version++) {
		struct stored_observation *all = NULL;
		size_t count = 0;
		(void)empty_folder(fixture->folder);
		make_version(fixture->path, version, "");
		fixture->store = open_or_fail(fixture->path);
		for (int kind = 0; kind < EVENT_KINDS; kind++) {
			struct stored_observation one = { .site = "front",
				.kind = (enum event_kind)kind,
				.amount = kind < EVENT_MOWING ? 1.5 : NAN,
				.note = "" };
			assert_true(store_observation_add(
			    fixture->store, &one, &one.id, NULL));
		}
		assert_true(store_observations(
		    fixture->store, NULL, &all, &count, NULL));
		assert_int_equal(count, EVENT_KINDS);
		for (size_t i = 0; i < count; i++)
			assert_int_equal(all[i].kind, i);
		stored_observations_free(all, count);
		assert_true(store_check(fixture->store, NULL));
		store_close(fixture->store);
		fixture->store = NULL;
	}
}

/* Opens the file in another program and kills that after some time. */
static void
upgrade_and_kill(const char *path, long nanoseconds)
{
	const struct timespec pause = { .tv_nsec = nanoseconds };
	int status = 0;
	pid_t child = fork();
	if (child == 0)
		_exit(store_open(path, NULL) == NULL);
	assert_true(child > 0);
	(void)nanosleep(&pause, NULL);
	(void)kill(child, SIGKILL);
	assert_int_equal(waitpid(child, &status, 0), child);
	assert_true(WIFSIGNALED(status) || WEXITSTATUS(status) == 0);
}

static void
check_many(struct store *store)
{
	struct stored_document *documents = NULL;
	size_t count = 0;
	char wanted[20001];
	assert_true(
	    store_documents(store, "many", always, &documents, &count, NULL));
	assert_int_equal(count, 300);
	for (size_t i = 0; i < count; i++) {
		(void)snprintf(wanted, sizeof wanted, "%020000d",
		    (int)documents[i].fetched);
		check_body(store, documents[i].id, wanted, 20000);
	}
	stored_documents_free(documents, count);
}

static void
a_killed_upgrade_loses_nothing(void **state)
{
	struct fixture *fixture = *state;
	struct text old;
	text_init(&old, (size_t)1 << 25);
	make_version(fixture->path, 1, version_1_rows);
	meddle(fixture->path, many_documents);
	assert_true(file_read(fixture->path, &old, NULL));
	int turns = rounds(20);
	for (int i = 0; i < turns; i++) {
		(void)empty_folder(fixture->folder);
		assert_true(
		    file_replace(fixture->path, old.data, old.length, NULL));
		upgrade_and_kill(fixture->path, 60000000L / turns * i);
		fixture->store = open_or_fail(fixture->path);
		check_many(fixture->store);
		assert_int_equal(count_jobs(fixture->store), 2);
		assert_true(store_check(fixture->store, NULL));
		store_close(fixture->store);
		fixture->store = NULL;
	}
	text_release(&old);
}

int
main(void)
{
#define TEST(name)                                                             \
	cmocka_unit_test_setup_teardown(name, make_folder, remove_all)
	const struct CMUnitTest tests[] = {
		TEST(keeps_the_documents_of_version_1),
		TEST(keeps_all_else_of_version_1),
		TEST(keeps_all_of_version_2),
		TEST(an_old_store_takes_every_observation),
		TEST(a_killed_upgrade_loses_nothing),
	};
	return RUN_TESTS(tests);
}
