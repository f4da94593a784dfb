/* A record comes out of the store as it went in, and a correction leaves what
   it corrects. */
#include "unit/test.h"

#include "unit/record_sample.h"
#include "unit/store_fixture.h"

static int64_t
add(struct store *store, const struct stored_record *record)
{
	struct error error = { 0 };
	int64_t id = 0;
	if (!store_record_add(store, record, &id, &error))
		fail_msg("%s", error.text);
	return id;
}

/* A plain record from then, which corrects `replaces` unless that is 0. */
static int64_t
add_plain(struct store *store, int64_t from, int64_t replaces)
{
	struct record_sample sample;
	sample_fill(&sample, from);
	sample.record.replaces = replaces;
	return add(store, &sample.record);
}

/* "3 1<4 4>1 ": the ids, with what replaces them and what they replace. */
static void
check_list(struct store *store, bool with_replaced, const char *wanted)
{
	struct stored_record *records = NULL;
	size_t count = 0;
	struct text list;
	text_init(&list, 200);
	assert_true(
	    store_records(store, with_replaced, &records, &count, NULL));
	for (size_t i = 0; i < count; i++) {
		(void)text_format(&list, "%d", (int)records[i].id);
		if (records[i].replaces != 0)
			(void)text_format(
			    &list, ">%d", (int)records[i].replaces);
		if (records[i].replaced_by != 0)
			(void)text_format(
			    &list, "<%d", (int)records[i].replaced_by);
		(void)text_add(&list, " ");
	}
	stored_records_free(records, count);
	assert_string_equal(text_string(&list), wanted);
	text_release(&list);
}

/* Where a pointer and a number are of one size, nothing is between members. */
static void
the_sample_knows_every_member(void **state)
{
	(void)state;
	struct stored_record record;
	size_t members = RECORD_TEXTS + RECORD_REALS + RECORD_INTEGERS;
	size_t known =
	    members * 8 + sizeof record.amount + sizeof record.amount_count;
	if (sizeof(char *) == 8)
		assert_int_equal(known, sizeof record);
	else
		assert_true(known >= sizeof record);
}

static void
gives_a_record_back_whole(void **state)
{
	struct fixture *fixture = *state;
	struct record_sample sample;
	/* Each member is unknown in one of three, each tank and verdict has
	   its turn. */
	for (int64_t number = 0; number < 24; number++) {
		struct stored_record *records = NULL;
		size_t count = 0;
		sample_fill(&sample, number);
		sample.record.job = add_job(fixture->store, "one");
		sample.record.id = add(fixture->store, &sample.record);
		store_close(fixture->store);
		fixture->store = open_or_fail(fixture->path);
		assert_true(store_records(
		    fixture->store, true, &records, &count, NULL));
		assert_int_equal(count, 1);
		assert_true(same_record(&records[0], &sample.record));
		stored_records_free(records, count);
		store_close(fixture->store);
		(void)empty_folder(fixture->folder);
		fixture->store = open_or_fail(fixture->path);
	}
}

static void
what_nobody_told_stays_untold(void **state)
{
	struct store *store = store_of(state);
	struct stored_record blank, wanted;
	struct stored_record *records = NULL;
	size_t count = 0;
	stored_record_init(&blank);
	blank.site = "front";
	blank.amount_count = 1;
	blank.amount[0].product = "amber";
	int64_t id = add(store, &blank);
	assert_true(store_records(store, false, &records, &count, NULL));
	assert_int_equal(count, 1);
	wanted = blank;
	wanted.id = id;
	sample_empty_texts(&wanted);
	assert_true(same_record(&records[0], &wanted));
	assert_nan(records[0].measured.gust);
	assert_nan(records[0].forecast.wind);
	assert_nan(records[0].carrier);
	assert_nan(records[0].amount[0].rate);
	assert_string_equal(records[0].who, "");
	stored_records_free(records, count);
}

static void
a_blank_record_can_be_released(void **state)
{
	(void)state;
	struct stored_record record;
	stored_record_init(&record);
	for (size_t i = 0; i < RECORD_REALS; i++) {
		double *member = (void *)((char *)&record + record_reals[i]);
		assert_nan(*member);
	}
	assert_int_equal(record.amount_count, 0);
	stored_record_release(&record);
}

static void
leaves_out_the_records_that_were_replaced(void **state)
{
	struct store *store = store_of(state);
	(void)add_plain(store, 900, 0);
	(void)add_plain(store, 100, 0);
	(void)add_plain(store, 200, 2);
	(void)add_plain(store, 950, 3);
	(void)add_plain(store, 900, 0);
	check_list(store, false, "1 5 4>3 ");
	check_list(store, true, "2<3 3>2<4 1 5 4>3 ");
}

static void
a_correction_leaves_the_wrong_record_as_it_was(void **state)
{
	struct store *store = store_of(state);
	struct record_sample wrong, better;
	struct stored_record *records = NULL;
	size_t count = 0;
	sample_fill(&wrong, 10);
	sample_fill(&better, 15);
	wrong.record.job = better.record.job = add_job(store, "one");
	wrong.record.id = add(store, &wrong.record);
	better.record.replaces = wrong.record.id;
	better.record.id = add(store, &better.record);
	wrong.record.replaced_by = better.record.id;
	assert_true(store_records(store, true, &records, &count, NULL));
	assert_int_equal(count, 2);
	assert_true(same_record(&records[0], &wrong.record));
	assert_true(same_record(&records[1], &better.record));
	stored_records_free(records, count);
}

static void
refuses_a_record_that_cannot_be(void **state)
{
	static const struct {
		enum error_kind kind;
		const char *sentence;
	} wanted[] = {
		{ ERROR_ANSWER, "record 1 is already replaced by record 2" },
		{ ERROR_ANSWER, "there is no record 3" },
		{ ERROR_ANSWER, "there is no job 5" },
		{ ERROR_INPUT, "a record ends before it begins" },
		{ ERROR_INPUT, "a record has 1 to 8 products, not 0" },
		{ ERROR_INPUT, "a record has 1 to 8 products, not 9" },
		{ ERROR_INPUT, "NOT NULL constraint failed: record.site" },
		{ ERROR_INPUT, "NOT NULL constraint failed: amount.product" },
		{ ERROR_INPUT, "CHECK constraint failed: verdict IN" },
		{ ERROR_INPUT, "CHECK constraint failed: (rate IS NULL)" },
	};
	enum { CASES = sizeof wanted / sizeof wanted[0] };
	struct store *store = store_of(state);
	struct record_sample sample[CASES];
	int64_t old = add_plain(store, 100, 0);
	int64_t newer = add_plain(store, 100, old);
	for (size_t i = 0; i < CASES; i++)
		sample_fill(&sample[i], 101);
	sample[0].record.replaces = old;
	sample[1].record.replaces = newer + 1; /* the id that it would get */
	sample[2].record.job = 5;
	sample[3].record.to = 100;
	sample[4].record.amount_count = 0;
	sample[5].record.amount_count = LIMIT_TANK_PRODUCTS + 1;
	sample[6].record.site = NULL;
	sample[7].record.amount[1].product = NULL;
	sample[8].record.verdict = "maybe";
	sample[9].record.amount[0].rate = 2;
	sample[9].record.amount[0].rate_kind = QUANTITY_MASS;
	for (size_t i = 0; i < CASES; i++) {
		struct error error = { 0 };
		int64_t id = 77;
		assert_false(
		    store_record_add(store, &sample[i].record, &id, &error));
		assert_int_equal(error.kind, wanted[i].kind);
		assert_contains(error.text, wanted[i].sentence);
		assert_true(id == 77);
	}
	check_list(store, true, "1<2 2>1 ");
}

static void
a_correction_goes_with_its_transaction(void **state)
{
	struct store *store = store_of(state);
	(void)add_plain(store, 100, 0);
	assert_true(store_begin(store, NULL));
	(void)add_plain(store, 110, 1);
	check_list(store, true, "1<2 2>1 ");
	store_rollback(store);
	check_list(store, true, "1 ");
	assert_int_equal(add_plain(store, 90, 1), 2);
	check_list(store, false, "2>1 ");
}

int
main(void)
{
#define TEST(name) cmocka_unit_test_setup_teardown(name, make_store, remove_all)
	const struct CMUnitTest tests[] = {
		TEST(the_sample_knows_every_member),
		TEST(gives_a_record_back_whole),
		TEST(what_nobody_told_stays_untold),
		TEST(a_blank_record_can_be_released),
		TEST(leaves_out_the_records_that_were_replaced),
		TEST(a_correction_leaves_the_wrong_record_as_it_was),
		TEST(refuses_a_record_that_cannot_be),
		TEST(a_correction_goes_with_its_transaction),
	};
	return RUN_TESTS(tests);
}
