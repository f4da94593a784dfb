/* The file and its promises: whose it is, transactions, two programs. */
#include "unit/test.h"

#include "base/file.h"
#include "store/schema.h"
#include "store/statement.h"
#include "unit/store_fixture.h"

#include <sys/stat.h>
#include <sys/wait.h>
#include <time.h>

static void
meddling_fails(const char *path, const char *sql, const char *reason)
{
	sqlite3 *database = NULL;
	assert_int_equal(sqlite3_open(path, &database), SQLITE_OK);
	assert_int_not_equal(
	    sqlite3_exec(database, sql, NULL, NULL, NULL), SQLITE_OK);
	assert_string_equal(sqlite3_errmsg(database), reason);
	assert_int_equal(sqlite3_close(database), SQLITE_OK);
}

static struct text
bytes_of(const char *path)
{
	struct text text;
	text_init(&text, (size_t)1 << 24);
	assert_true(file_read(path, &text, NULL));
	return text;
}

static void
refused_as_it_is(const struct fixture *fixture, const char *reason)
{
	struct error error = { 0 };
	char sentence[200];
	struct text before = bytes_of(fixture->path);
	if (store_open(fixture->path, &error) != NULL)
		fail_msg("opened, instead of: %s", reason);
	struct text after = bytes_of(fixture->path);
	(void)snprintf(
	    sentence, sizeof sentence, "%s: %s", fixture->path, reason);
	assert_string_equal(error.text, sentence);
	assert_int_equal(error.kind, ERROR_INPUT);
	assert_int_equal(before.length, after.length);
	if (before.length > 0)
		assert_memory_equal(before.data, after.data, after.length);
	text_release(&before);
	text_release(&after);
	assert_null(store_open(fixture->path, NULL));
}

static void
marks_a_new_file_as_its_own(void **state)
{
	struct fixture *fixture = *state;
	store_close(fixture->store);
	fixture->store = NULL;
	struct text bytes = bytes_of(fixture->path);
	/* SQLite's file format: user_version at 60, application_id at 68,
	   18 and 19 are 2 for WAL. */
	assert_memory_equal(bytes.data + 68, "lull", 4);
	assert_memory_equal(bytes.data + 60, "\0\0\0\4", 4);
	assert_memory_equal(bytes.data + 18, "\2\2", 2);
	text_release(&bytes);
	fixture->store = open_or_fail(fixture->path);
	assert_int_equal(count_jobs(fixture->store), 0);
}

static void
makes_a_store_of_an_empty_file(void **state)
{
	struct fixture *fixture = *state;
	FILE *file = fopen(fixture->path, "w");
	assert_non_null(file);
	assert_int_equal(fclose(file), 0);
	fixture->store = open_or_fail(fixture->path);
	assert_true(add_job(fixture->store, "one") > 0);
}

static void
refuses_a_file_that_is_no_store(void **state)
{
	struct fixture *fixture = *state;
	static const struct {
		const char *bytes;
		size_t length;
		const char *sql;
	} cases[] = {
		{ "x", 1, NULL },
		{ "Dear keeper, this is a letter and no database. It is longer "
		  "than the header of one, so that nobody is misled by it.",
		    115, NULL },
		{ "", 0, "CREATE TABLE job (id)" },
		{ "", 0, "CREATE TABLE job (id); PRAGMA journal_mode = WAL" },
		{ "", 0, "CREATE TABLE t (x); PRAGMA user_version = 1" },
		{ "", 0, "CREATE TABLE t (x); PRAGMA application_id = 1" },
		{ "", 0, "PRAGMA application_id = 1819634796" },
	};
	for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
		assert_true(file_replace(
		    fixture->path, cases[i].bytes, cases[i].length, NULL));
		if (cases[i].sql != NULL)
			meddle(fixture->path, cases[i].sql);
		refused_as_it_is(fixture, "this is not a lull store");
		assert_int_equal(empty_folder(fixture->folder), 1);
	}
}

static void
says_why_a_file_cannot_be_opened(void **state)
{
	struct fixture *fixture = *state;
	struct error error = { 0 };
	char path[128];
	assert_null(store_open(fixture->folder, &error));
	assert_int_equal(error.kind, ERROR_SYSTEM);
	assert_contains(error.text, "Is a directory");
	(void)snprintf(path, sizeof path, "%s/none/lull.db", fixture->folder);
	assert_null(store_open(path, &error));
	assert_contains(error.text, "No such file or directory");
	assert_memory_equal(error.text, path, strlen(path));
	store_close(NULL);
}

static const char *const next_version[] = {
	"ALTER TABLE job ADD COLUMN crew TEXT NOT NULL DEFAULT ''",
	NULL,
};

static const char *const wrong_version[] = {
	"ALTER TABLE job ADD COLUMN crew TEXT NOT NULL DEFAULT ''",
	"CREATE TABLE job (id INTEGER)",
	NULL,
};

/* A schema with one step more than that of the program. */
static struct schema
extend(const char *const **steps, const char *const *last)
{
	for (size_t i = 0; i < schema_current.count; i++)
		steps[i] = schema_current.steps[i];
	steps[schema_current.count] = last;
	return (struct schema){ steps, schema_current.count + 1 };
}

static void
takes_a_file_from_version_to_version(void **state)
{
	struct fixture *fixture = *state;
	const char *const *steps[8];
	struct schema next = extend(steps, next_version);
	assert_true(add_job(fixture->store, "one") > 0);
	store_close(fixture->store);
	for (size_t i = 0; i < 2; i++) {
		fixture->store = store_open_as(fixture->path, &next, NULL);
		assert_non_null(fixture->store);
		assert_int_equal(count_jobs(fixture->store), 1);
		assert_true(store_check(fixture->store, NULL));
		store_close(fixture->store);
	}
	fixture->store = NULL;
	meddle(fixture->path, "SELECT crew FROM job");
	refused_as_it_is(fixture,
	    "written by a newer lull (store version 5, this program knows 4)");
	assert_int_equal(empty_folder(fixture->folder), 1);
}

static void
sees_a_newer_version_that_is_in_the_log_only(void **state)
{
	struct fixture *fixture = *state;
	const char *const *steps[8];
	struct schema next = extend(steps, next_version);
	struct store *newer = store_open_as(fixture->path, &next, NULL);
	store_close(fixture->store);
	fixture->store = NULL;
	assert_non_null(newer);
	struct text bytes = bytes_of(fixture->path);
	assert_memory_equal(bytes.data + 60, "\0\0\0\4", 4);
	text_release(&bytes);
	refused_as_it_is(fixture,
	    "written by a newer lull (store version 5, this program knows 4)");
	assert_true(add_job(newer, "one") > 0);
	store_close(newer);
}

static void
a_step_that_fails_changes_nothing(void **state)
{
	struct fixture *fixture = *state;
	struct error error = { 0 };
	const char *const *steps[8];
	struct schema next = extend(steps, wrong_version);
	assert_true(add_job(fixture->store, "one") > 0);
	assert_null(store_open_as(fixture->path, &next, &error));
	assert_contains(error.text, "table job already exists");
	store_close(fixture->store);
	fixture->store = open_or_fail(fixture->path);
	assert_int_equal(count_jobs(fixture->store), 1);
	meddling_fails(
	    fixture->path, "SELECT crew FROM job", "no such column: crew");
}

static void
keeps_a_transaction_whole_or_not_at_all(void **state)
{
	struct fixture *fixture = *state;
	struct store *store = fixture->store;
	assert_true(store_begin(store, NULL));
	assert_true(add_job(store, "one") > 0);
	assert_int_equal(count_jobs(store), 1);
	store_rollback(store);
	store_rollback(store);
	assert_int_equal(count_jobs(store), 0);
	assert_true(store_begin(store, NULL));
	assert_true(add_job(store, "one") > 0);
	assert_true(add_job(store, "two") > 0);
	assert_true(store_commit(store, NULL));
	store_rollback(store);
	assert_int_equal(count_jobs(store), 2);
	assert_true(store_begin(store, NULL));
	assert_true(add_job(store, "three") > 0);
	store_close(store);
	fixture->store = open_or_fail(fixture->path);
	assert_int_equal(count_jobs(fixture->store), 2);
}

static void
knows_one_transaction_at_a_time(void **state)
{
	struct store *store = store_of(state);
	struct error error = { 0 };
	assert_false(store_commit(store, &error));
	assert_contains(error.text, "no transaction is open");
	assert_true(store_begin(store, NULL));
	assert_false(store_begin(store, &error));
	assert_contains(error.text, "a transaction is already open");
	assert_true(store_commit(store, NULL));
}

static void
a_failed_call_leaves_the_transaction_to_go_on(void **state)
{
	struct store *store = store_of(state);
	struct stored_job half = sample_job("half");
	int64_t id = 77;
	half.dose[1].product = NULL;
	assert_true(store_begin(store, NULL));
	assert_true(add_job(store, "one") > 0);
	assert_false(store_job_add(store, &half, &id, NULL));
	assert_false(store_job_finish(store, 99, STORED_DONE, NULL));
	assert_true(add_job(store, "two") > 0);
	assert_true(store_commit(store, NULL));
	assert_int_equal(count_jobs(store), 2);
	assert_true(id == 77);
}

/* A ceiling on pages stands in for a full disk, at a place of our choice. Of
   a table without guards SQLite undoes more than the one statement. */
static void
a_full_disk_undoes_the_whole_transaction(void **state)
{
	struct fixture *fixture = *state;
	struct store *store = fixture->store;
	struct error error = { 0 };
	char wanted[160];
	static char large[1 << 20];
	memset(large, 'x', sizeof large - 1);
	assert_true(add_job(store, "before") > 0);
	assert_true(store_execute(store, "PRAGMA max_page_count = 1", NULL));
	assert_true(store_begin(store, NULL));
	assert_true(store_job_postpone(store, 1, 7, NULL));
	assert_false(store_request_add(store, large, 1, &error));
	(void)snprintf(wanted, sizeof wanted, "%s: database or disk is full",
	    fixture->path);
	assert_string_equal(error.text, wanted);
	assert_int_equal(error.kind, ERROR_SYSTEM);
	assert_false(store_job_postpone(store, 1, 8, &error));
	assert_contains(error.text, "has undone the transaction");
	assert_false(store_commit(store, &error));
	assert_contains(error.text, "has undone the transaction");
	assert_true(store_execute(store, "PRAGMA max_page_count = 9999", NULL));
	struct stored_job *jobs = NULL;
	size_t count = 0;
	assert_true(store_jobs(store, true, &jobs, &count, NULL));
	assert_int_equal(count, 1);
	assert_true(jobs[0].after == INT64_MIN);
	stored_jobs_free(jobs, count);
	assert_true(store_request_add(store, large, 1, &error));
}

static void
a_document_that_does_not_fit_leaves_the_transaction_to_go_on(void **state)
{
	struct store *store = store_of(state);
	struct error error = { 0 };
	static char body[1 << 20];
	struct stored_document large = { .fetched = 1, .length = sizeof body };
	fill_with_noise(body, sizeof body);
	assert_true(store_execute(store, "PRAGMA max_page_count = 60", NULL));
	assert_true(store_begin(store, NULL));
	assert_false(store_document_add(store, "a", &large, body, &error));
	assert_contains(error.text, "database or disk is full");
	assert_true(add_job(store, "one") > 0);
	assert_true(store_commit(store, NULL));
	assert_int_equal(count_jobs(store), 1);
}

static double
seconds(void)
{
	struct timespec now;
	(void)clock_gettime(CLOCK_MONOTONIC, &now);
	return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

/* Another program: writes, says so, and commits 0.3 s later. */
static int
write_slowly(const char *path, int channel)
{
	static const struct timespec pause = { .tv_nsec = 300000000 };
	struct stored_job job = sample_job("theirs");
	int64_t id = 0;
	struct store *store = store_open(path, NULL);
	bool good = store != NULL && store_begin(store, NULL) &&
		    store_job_add(store, &job, &id, NULL) &&
		    write(channel, "x", 1) == 1 &&
		    nanosleep(&pause, NULL) == 0 && store_commit(store, NULL);
	store_close(store);
	return good ? 0 : 1;
}

static void
waits_for_another_writer_and_reads_meanwhile(void **state)
{
	struct fixture *fixture = *state;
	int channel[2];
	char byte = 0;
	int status = -1;
	assert_int_equal(pipe(channel), 0);
	pid_t child = fork();
	if (child == 0)
		_exit(write_slowly(fixture->path, channel[1]));
	assert_true(child > 0);
	assert_int_equal(read(channel[0], &byte, 1), 1);
	fixture->store = open_or_fail(fixture->path);
	double start = seconds();
	assert_int_equal(count_jobs(fixture->store), 0);
	double seen = seconds();
	assert_true(add_job(fixture->store, "ours") > 0);
	double written = seconds();
	assert_int_equal(waitpid(child, &status, 0), child);
	assert_int_equal(status, 0);
	assert_int_equal(count_jobs(fixture->store), 2);
	assert_true(seen - start < written - seen);
	assert_true(written - start > 0.1);
	(void)close(channel[0]);
	(void)close(channel[1]);
}

int
main(void)
{
#define IN_FOLDER(name)                                                        \
	cmocka_unit_test_setup_teardown(name, make_folder, remove_all)
#define TEST(name) cmocka_unit_test_setup_teardown(name, make_store, remove_all)
	const struct CMUnitTest tests[] = {
		TEST(marks_a_new_file_as_its_own),
		IN_FOLDER(makes_a_store_of_an_empty_file),
		IN_FOLDER(refuses_a_file_that_is_no_store),
		IN_FOLDER(says_why_a_file_cannot_be_opened),
		TEST(takes_a_file_from_version_to_version),
		TEST(sees_a_newer_version_that_is_in_the_log_only),
		TEST(a_step_that_fails_changes_nothing),
		TEST(keeps_a_transaction_whole_or_not_at_all),
		TEST(knows_one_transaction_at_a_time),
		TEST(a_failed_call_leaves_the_transaction_to_go_on),
		TEST(a_full_disk_undoes_the_whole_transaction),
		TEST(
		    a_document_that_does_not_fit_leaves_the_transaction_to_go_on),
		IN_FOLDER(waits_for_another_writer_and_reads_meanwhile),
	};
	return RUN_TESTS(tests);
}
