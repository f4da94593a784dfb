/* The records of a store of version 3 become those of today: what they do not
   tell is not told, and they stay as final as they were. */
#include "unit/test.h"

#include "unit/record_sample.h"
#include "unit/store_fixture.h"

/* As the program of then wrote them: record 4 corrects record 1. */
static const char version_3_rows[] =
    "INSERT INTO job VALUES (2, 'two', 'front', 0, 7, 8, 5, 0, '', '', 'done',"
    " 1);"
    "INSERT INTO dose VALUES (2, 0, 'birch', '1 L');"
    "INSERT INTO record VALUES (1, 2, NULL, 'front', 10, 20, 120.5, 2, 21.25,"
    " 1.5, 0, NULL, 'wrong', 30), (4, 2, 1, 'back', 11, 21, NULL, NULL, NULL,"
    " NULL, 270, 55, 'right', 40);"
    "INSERT INTO amount VALUES (1, 0, 'birch', 2, 'L'),"
    " (4, 0, 'birch', NULL, 'L'), (4, 1, 'amber', 3.5, 'g');"
    "INSERT INTO day_weather VALUES ('front', 5, 20, 10, 15, NULL, 2.5);"
    "INSERT INTO observation VALUES (3, NULL, 'front', 'mowing', 1, 2, NULL,"
    " 'n', 3)";

/* The two records of version_3_rows as they read today. */
static void
check_records_of_version_3(struct store *store)
{
	struct stored_record wanted[2];
	struct stored_record *records = NULL;
	size_t count = 0;
	for (size_t i = 0; i < 2; i++) {
		stored_record_init(&wanted[i]);
		wanted[i].job = 2;
		wanted[i].from = 10 + (int64_t)i;
		wanted[i].to = 20 + (int64_t)i;
		wanted[i].created = 30 + 10 * (int64_t)i;
		wanted[i].amount_count = 1 + i;
		wanted[i].amount[0].product = "birch";
		sample_empty_texts(&wanted[i]);
	}
	wanted[0].id = wanted[1].replaces = 1;
	wanted[1].id = wanted[0].replaced_by = 4;
	wanted[0].site = "front";
	wanted[0].note = "wrong";
	wanted[0].area = 120.5;
	wanted[0].used = wanted[0].amount[0].amount = 2;
	wanted[0].measured.air_temperature = 21.25;
	wanted[0].measured.wind = 1.5;
	wanted[0].measured.wind_direction = 0;
	wanted[1].site = "back";
	wanted[1].note = "right";
	wanted[1].measured.wind_direction = 270;
	wanted[1].measured.humidity = 55;
	wanted[1].amount[1] = (struct stored_amount){ "amber", 3.5, true, "",
		NAN, QUANTITY_NUMBER };
	assert_true(store_records(store, true, &records, &count, NULL));
	assert_true(count >= 2);
	for (size_t i = 0; i < 2; i++) {
		if (count > 2) /* the third corrects the second */
			wanted[1].replaced_by = records[2].id;
		assert_true(same_record(&records[i], &wanted[i]));
	}
	stored_records_free(records, count);
}

static void
keeps_the_records_of_version_3(void **state)
{
	struct fixture *fixture = *state;
	make_version(fixture->path, 3, version_3_rows);
	fixture->store = open_or_fail(fixture->path);
	check_records_of_version_3(fixture->store);
	assert_true(store_check(fixture->store, NULL));
}

static void
corrects_a_record_of_version_3(void **state)
{
	struct fixture *fixture = *state;
	struct record_sample sample;
	struct stored_record *records = NULL;
	size_t count = 0;
	make_version(fixture->path, 3, version_3_rows);
	struct store *store = fixture->store = open_or_fail(fixture->path);
	sample_fill(&sample, 100);
	sample.record.job = 2;
	sample.record.replaces = 4;
	assert_true(
	    store_record_add(store, &sample.record, &sample.record.id, NULL));
	check_records_of_version_3(store);
	assert_true(store_records(store, false, &records, &count, NULL));
	assert_int_equal(count, 1);
	assert_true(same_record(&records[0], &sample.record));
	stored_records_free(records, count);
}

/* A column that is added must leave the guards where they were. */
static void
a_record_of_version_3_stays_final(void **state)
{
	static const struct {
		const char *sql;
		const char *reason;
	} cases[] = {
		{ "UPDATE record SET note = ''", "never changed" },
		{ "UPDATE record SET who = 'x' WHERE id = 1", "never changed" },
		{ "DELETE FROM record WHERE id = 4", "never deleted" },
		{ "UPDATE amount SET rate = 1, rate_unit = 'g/L'",
		    "never changed" },
		{ "DELETE FROM amount", "never changed" },
		{ "INSERT OR REPLACE INTO record (id, site, began, ended, note,"
		  " created, who) VALUES (4, '', 1, 2, '', 1, 'x')",
		    "never deleted" },
		{ "INSERT OR REPLACE INTO record (id, replaces, site, began,"
		  " ended, note, created) VALUES (9, 1, '', 1, 2, '', 1)",
		    "never deleted" },
		{ "INSERT OR REPLACE INTO amount (record, position, product,"
		  " unit) VALUES (1, 0, 'x', 'g')",
		    "never changed" },
	};
	struct fixture *fixture = *state;
	make_version(fixture->path, 3, version_3_rows);
	fixture->store = open_or_fail(fixture->path);
	for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
		sqlite3 *database = NULL;
		assert_int_equal(
		    sqlite3_open(fixture->path, &database), SQLITE_OK);
		assert_int_equal(
		    sqlite3_exec(database, cases[i].sql, NULL, NULL, NULL),
		    SQLITE_CONSTRAINT);
		assert_contains(sqlite3_errmsg(database), cases[i].reason);
		assert_int_equal(sqlite3_close(database), SQLITE_OK);
	}
	check_records_of_version_3(fixture->store);
}

int
main(void)
{
#define TEST(name)                                                             \
	cmocka_unit_test_setup_teardown(name, make_folder, remove_all)
	const struct CMUnitTest tests[] = {
		TEST(keeps_the_records_of_version_3),
		TEST(corrects_a_record_of_version_3),
		TEST(a_record_of_version_3_stays_final),
	};
	return RUN_TESTS(tests);
}
