/* Each invariant of the store, broken by another program: the tables refuse
   what they can, and store_check finds the rest. */
#include "unit/test.h"

#include "unit/store_fixture.h"

#include <sqlite3.h>

static void
run(const char *path, const char *sql, char *reason, size_t size)
{
	sqlite3 *database = NULL;
	reason[0] = '\0';
	assert_int_equal(sqlite3_open(path, &database), SQLITE_OK);
	if (sqlite3_exec(database, sql, NULL, NULL, NULL) != SQLITE_OK)
		(void)snprintf(reason, size, "%s", sqlite3_errmsg(database));
	assert_int_equal(sqlite3_close(database), SQLITE_OK);
}

/* Job 1 waits with a slot, job 2 is done with record 1, one document. */
static bool
fill(struct store *store)
{
	struct stored_job first = sample_job("one");
	struct stored_job second = sample_job("two");
	struct stored_record record = {
		.site = "front",
		.job = 2,
		.amount = { { .product = "amber", .amount = 1, .rate = NAN } },
		.amount_count = 1,
		.from = 10,
		.to = 20,
		.note = "",
	};
	struct stored_calibration caught = {
		.sprayer = "pump", .carrier = 0.04, .pace = NAN
	};
	struct stored_solution made = {
		.product = "amber", .mass = 5, .volume = 0.25
	};
	struct stored_slot slot = { 1, 10, 20, 5 };
	struct stored_entry entry = { "slot-1", 7, 3, 5 };
	struct stored_document document = { .fetched = 1, .length = 4 };
	struct daily day = { .day = 1, .high = 5, .low = 4, .mean = 4.5 };
	struct stored_observation mown = { .site = "front",
		.kind = EVENT_MOWING,
		.from = 10,
		.to = 20,
		.amount = NAN,
		.note = "" };
	int64_t id = 0;
	return store_job_add(store, &first, &id, NULL) &&
	       store_job_add(store, &second, &id, NULL) &&
	       store_job_finish(store, 2, STORED_DONE, NULL) &&
	       store_record_add(store, &record, &id, NULL) &&
	       store_slot_put(store, &slot, NULL) &&
	       store_entry_put(store, &entry, NULL) &&
	       store_document_add(store, "a", &document, "body", NULL) &&
	       store_day_put(store, "front", &day, NULL) &&
	       store_observation_add(store, &mown, &id, NULL) &&
	       store_calibration_add(store, &caught, &id, NULL) &&
	       store_solution_add(store, &made, &id, NULL) &&
	       store_check(store, NULL);
}

static int
fill_store(void **state)
{
	return make_store(state) != 0 || !fill(store_of(state));
}

static const struct {
	const char *sql;
	const char *reason;
} refusals[] = {
	{ "UPDATE record SET note = 'x'", "a record is never changed" },
	{ "DELETE FROM record", "a record is never deleted" },
	{ "UPDATE amount SET amount = 2", "a record is never changed" },
	{ "DELETE FROM amount", "a record is never changed" },
	{ "INSERT OR REPLACE INTO record (id, site, began, ended, note,"
	  " created) VALUES (1, '', 1, 2, '', 1)",
	    "a record is never deleted" },
	{ "INSERT OR REPLACE INTO amount (record, position, product, amount,"
	  " unit) VALUES (1, 0, 'x', 1, 'g')",
	    "a record is never changed" },
	/* The columns that came later are guarded alike. */
	{ "UPDATE record SET reasons = 'x', forecast_wind = 1",
	    "a record is never changed" },
	{ "UPDATE record SET verdict = 'maybe'", "a record is never changed" },
	{ "UPDATE amount SET registration = 'x', rate = 1",
	    "a record is never changed" },
	{ "INSERT INTO record (site, began, ended, note, created, who) VALUES"
	  " ('', 1, 2, '', 1, NULL)",
	    "NOT NULL constraint failed: record.who" },
	{ "INSERT INTO record (site, began, ended, note, created, gust) VALUES"
	  " ('', 1, 2, '', 1, 'strong')",
	    "cannot store TEXT value in REAL column record.gust" },
	{ "INSERT INTO record (site, began, ended, note, created, verdict)"
	  " VALUES ('', 1, 2, '', 1, 'maybe')",
	    "CHECK constraint failed:"
	    " verdict IN ('', 'go', 'no-go', 'unknown')" },
	{ "INSERT INTO amount (record, position, product, unit, rate,"
	  " rate_unit) VALUES (1, 1, 'x', 'g', 1, 'oz')",
	    "CHECK constraint failed:"
	    " rate_unit IN ('g/m2', 'L/m2', 'g/L', 'L/L')" },
	{ "INSERT INTO amount (record, position, product, unit, rate) VALUES"
	  " (1, 1, 'x', 'g', 1)",
	    "CHECK constraint failed: (rate IS NULL) = (rate_unit IS NULL)" },
	{ "UPDATE calibration SET carrier = 1",
	    "a calibration is never changed" },
	{ "DELETE FROM calibration", "a calibration is never deleted" },
	{ "INSERT OR REPLACE INTO calibration VALUES (1, 'pump', 1, 1, NULL,"
	  " '', 1)",
	    "a calibration is never deleted" },
	{ "UPDATE solution SET mass = 1", "a solution is never changed" },
	{ "DELETE FROM solution", "a solution is never deleted" },
	{ "INSERT OR REPLACE INTO solution VALUES (1, 'amber', 1, 1, 1, 1)",
	    "a solution is never deleted" },
	{ "INSERT INTO slot VALUES (2, 1, 2, 1)",
	    "only a waiting job has a slot" },
	{ "UPDATE job SET state = 'dropped' WHERE id = 1",
	    "only a waiting job has a slot" },
	{ "UPDATE slot SET ends = begins",
	    "CHECK constraint failed: begins < ends" },
	{ "UPDATE entry SET sequence = 2",
	    "the sequence of an entry never falls" },
	{ "UPDATE document SET body = x'00'", "a document is never changed" },
	{ "INSERT OR REPLACE INTO document VALUES (1, 'a', 1, 1, NULL,"
	  " NULL, 1, 'plain', x'00')",
	    "a document is never changed" },
	{ "INSERT INTO document VALUES (2, 'a', 1, 1, NULL, NULL, 2,"
	  " 'plain', x'00')",
	    "CHECK constraint failed:"
	    " packing <> 'plain' OR size = length(body)" },
	{ "INSERT INTO document VALUES (2, 'a', 1, 1, NULL, NULL, -1,"
	  " 'zlib', x'00')",
	    "CHECK constraint failed: size >= 0" },
	{ "INSERT INTO document VALUES (2, 'a', 1, 1, NULL, NULL, 1,"
	  " 'zip', x'00')",
	    "CHECK constraint failed: packing IN ('plain', 'zlib')" },
	{ "INSERT INTO day_weather VALUES ('front', 1, 2, 1, 1, 1, 1)",
	    "UNIQUE constraint failed: day_weather.site,"
	    " day_weather.day" },
	{ "UPDATE day_weather SET low = 6",
	    "CHECK constraint failed: low <= high" },
	{ "UPDATE observation SET note = 'x'",
	    "an observation is never changed" },
	{ "DELETE FROM observation", "an observation is never deleted" },
	{ "INSERT OR REPLACE INTO observation VALUES (1, NULL, 'front',"
	  " 'mowing', 1, 2, NULL, '', 3)",
	    "an observation is never deleted" },
	{ "INSERT INTO observation VALUES (2, NULL, 'front', 'mowing',"
	  " 2, 1, NULL, '', 3)",
	    "CHECK constraint failed: at_from <= at_to" },
	{ "INSERT INTO observation VALUES (2, 3, 'front', 'mowing', 1,"
	  " 2, NULL, '', 3)",
	    "CHECK constraint failed: replaces < id" },
	{ "INSERT INTO request VALUES ('', 1)",
	    "CHECK constraint failed: host <> ''" },
	{ "UPDATE job SET area = 'wide' WHERE id = 1",
	    "cannot store TEXT value in REAL column job.area" },
	{ "PRAGMA foreign_keys = ON; DELETE FROM job WHERE id = 1",
	    "FOREIGN KEY constraint failed" },
};

static void
the_tables_refuse_what_breaks_an_invariant(void **state)
{
	const struct fixture *fixture = *state;
	for (size_t i = 0; i < sizeof refusals / sizeof refusals[0]; i++) {
		char reason[200];
		run(fixture->path, refusals[i].sql, reason, sizeof reason);
		assert_string_equal(reason, refusals[i].reason);
	}
}

static const struct {
	const char *sql;
	const char *sentence;
} breaks[] = {
	{ "DELETE FROM dose WHERE job = 2", "job 2 has no product" },
	{ "INSERT INTO record (site, began, ended, note, created)"
	  " VALUES ('front', 1, 2, '', 3)",
	    "record 2 has no product" },
	{ "DROP TRIGGER entry_rises", "the guard entry_rises is missing" },
	{ "PRAGMA ignore_check_constraints = ON;"
	  "INSERT INTO record (id, replaces, site, began, ended, note,"
	  " created) VALUES (5, 6, '', 1, 2, '', 1);"
	  "INSERT INTO amount (record, position, product, unit)"
	  " VALUES (5, 0, 'amber', 'g')",
	    "record 5 replaces a later one" },
	{ "UPDATE slot SET job = 2", "job 2 has a slot but does not wait" },
	{ "PRAGMA ignore_check_constraints = ON;"
	  "UPDATE slot SET begins = 20",
	    "the slot of job 1 ends before it begins" },
	{ "DROP TRIGGER document_is_final",
	    "the guard document_is_final is missing" },
	{ "PRAGMA ignore_check_constraints = ON;"
	  "INSERT INTO document VALUES (2, '', 1, 1, NULL, NULL, 1,"
	  " 'plain', x'00')",
	    "document 2 has no address" },
	{ "DROP TRIGGER observation_is_kept",
	    "the guard observation_is_kept is missing" },
	{ "INSERT INTO observation VALUES (2, 1, 'back', 'mowing', 1,"
	  " 2, NULL, '', 3)",
	    "observation 2 replaces one of another site" },
	{ "DROP TRIGGER calibration_is_final",
	    "the guard calibration_is_final is missing" },
	{ "DROP TRIGGER solution_is_kept",
	    "the guard solution_is_kept is missing" },
	{ "INSERT INTO dose VALUES (9, 0, 'amber', NULL)",
	    "a row refers to one that is missing" },
	{ "PRAGMA ignore_check_constraints = ON;"
	  "UPDATE job SET priority = 4, repeat = -1 WHERE id = 1",
	    "SQLite answers \"CHECK constraint failed in job\" to "
	    "\"PRAGMA integrity_check(1)\"" },
};

static void
check_finds_what_breaks_an_invariant(void **state)
{
	struct fixture *fixture = *state;
	for (size_t i = 0; i < sizeof breaks / sizeof breaks[0]; i++) {
		char reason[200];
		char wanted[320];
		struct error error = { 0 };
		run(fixture->path, breaks[i].sql, reason, sizeof reason);
		assert_string_equal(reason, "");
		(void)snprintf(wanted, sizeof wanted, "%s: %s", fixture->path,
		    breaks[i].sentence);
		assert_false(store_check(fixture->store, &error));
		assert_string_equal(error.text, wanted);
		assert_int_equal(error.kind, ERROR_SYSTEM);
		store_close(fixture->store);
		(void)empty_folder(fixture->folder);
		fixture->store = open_or_fail(fixture->path);
		assert_true(fill(fixture->store));
	}
}

static void
a_tank_that_is_too_full_is_no_overflow(void **state)
{
	struct fixture *fixture = *state;
	char reason[200];
	struct error error = { 0 };
	struct stored_job *jobs = NULL;
	struct stored_record *records = NULL;
	size_t count = 77;
	run(fixture->path,
	    "WITH RECURSIVE n (i) AS (SELECT 8 UNION ALL SELECT i + 1 FROM n"
	    " WHERE i < 99) INSERT INTO dose SELECT 1, i, 'x', NULL FROM n",
	    reason, sizeof reason);
	assert_string_equal(reason, "");
	assert_false(store_jobs(fixture->store, false, &jobs, &count, &error));
	assert_contains(error.text, "a job has too many products");
	run(fixture->path,
	    "WITH RECURSIVE n (i) AS (SELECT 8 UNION ALL SELECT i + 1 FROM n"
	    " WHERE i < 99) INSERT INTO amount (record, position, product, "
	    "unit)"
	    " SELECT 1, i, 'x', 'g' FROM n",
	    reason, sizeof reason);
	assert_string_equal(reason, "");
	assert_false(
	    store_records(fixture->store, false, &records, &count, &error));
	assert_contains(error.text, "a record has too many products");
	assert_null(jobs);
	assert_null(records);
	assert_int_equal(count, 77);
}

/* Every reader and writer on a file whose tables are gone. */
static void
leaves_outputs_alone_on_failure(void **state)
{
	struct fixture *fixture = *state;
	struct store *store = fixture->store;
	char reason[200];
	char mark = 0;
	void *kept = &mark;
	size_t count = 77;
	run(fixture->path,
	    "PRAGMA foreign_keys = OFF; DROP TABLE dose; DROP TABLE amount;"
	    "DROP TABLE slot; DROP TABLE notice; DROP TABLE entry;"
	    "DROP TABLE source; DROP TABLE document; DROP TABLE day_weather;"
	    "DROP TABLE request",
	    reason, sizeof reason);
	assert_string_equal(reason, "");
	struct stored_source source = { .failures = 9 };
	struct stored_job *jobs = kept;
	struct stored_record *records = kept;
	struct stored_slot *slots = kept;
	struct stored_notice *notices = kept;
	struct stored_entry *entries = kept;
	struct stored_document *documents = kept;
	struct daily *days = kept;
	struct text body = { .length = 9 };
	bool is_newest = true;
	int64_t oldest = 55;
	struct error error = { 0 };
	assert_false(store_jobs(store, false, &jobs, &count, &error));
	assert_false(store_records(store, true, &records, &count, &error));
	assert_false(store_slots(store, &slots, &count, &error));
	assert_false(store_notices(store, &notices, &count, &error));
	assert_false(store_entries(store, &entries, &count, &error));
	assert_false(store_documents(store, "a", (struct stored_span){ 0, 9 },
	    &documents, &count, &error));
	assert_false(store_document_body(store, 1, &body, &error));
	assert_false(store_document_is_newest(store, "a",
	    &(struct stored_document){ .fetched = INT64_MAX, .length = 4 },
	    "body", &is_newest, &error));
	assert_false(store_days(store, "front", 0, &days, &count, &error));
	assert_false(store_requests(store, "h", 0, &count, &oldest, &error));
	assert_false(store_days_prune(store, 1, &error));
	assert_false(store_requests_prune(store, 1, &error));
	assert_false(store_source_get(store, "a", &source, &error));
	assert_false(store_slot_remove(store, 1, &error));
	assert_false(store_notices_prune(store, 1, &error));
	assert_false(store_documents_prune(store, 1, 1, &error));
	assert_false(store_job_finish(store, 1, STORED_DONE, &error));
	assert_false(store_check(store, &error));
	assert_memory_equal(error.text, fixture->path, strlen(fixture->path));
	assert_true((void *)jobs == kept && (void *)records == kept);
	assert_true((void *)slots == kept && (void *)notices == kept);
	assert_true((void *)entries == kept && (void *)documents == kept);
	assert_true((void *)days == kept && body.length == 9 && is_newest);
	assert_true(count == 77 && source.failures == 9 && oldest == 55);
	assert_null(source.address);
	store_close(store);
	fixture->store = NULL;
}

static void
leaves_a_list_of_observations_alone_on_failure(void **state)
{
	struct fixture *fixture = *state;
	char reason[200];
	char mark = 0;
	void *kept = &mark;
	struct stored_observation *observations = kept;
	struct stored_observation mown = {
		.site = "front", .kind = EVENT_MOWING, .amount = NAN, .note = ""
	};
	size_t count = 77;
	int64_t id = 77;
	struct error error = { 0 };
	run(fixture->path, "DROP TABLE observation", reason, sizeof reason);
	assert_string_equal(reason, "");
	assert_false(store_observations(
	    fixture->store, NULL, &observations, &count, &error));
	assert_contains(error.text, "no such table");
	assert_false(store_observation_add(fixture->store, &mown, &id, &error));
	assert_ptr_equal(observations, kept);
	assert_true(count == 77 && id == 77);
	store_close(fixture->store);
	fixture->store = NULL;
}

int
main(void)
{
#define TEST(name) cmocka_unit_test_setup_teardown(name, fill_store, remove_all)
	const struct CMUnitTest tests[] = {
		TEST(the_tables_refuse_what_breaks_an_invariant),
		TEST(check_finds_what_breaks_an_invariant),
		TEST(a_tank_that_is_too_full_is_no_overflow),
		TEST(leaves_outputs_alone_on_failure),
		TEST(leaves_a_list_of_observations_alone_on_failure),
	};
	return RUN_TESTS(tests);
}
