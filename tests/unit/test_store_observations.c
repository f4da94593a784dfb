/* What the keeper told of, in the store. */
#include "unit/test.h"

#include "unit/store_fixture.h"

static struct stored_observation
mowing(const char *site, int64_t from)
{
	return (struct stored_observation){ .site = (char *)site,
		.kind = EVENT_MOWING,
		.from = from,
		.to = from,
		.amount = NAN,
		.note = "",
		.created = 100 };
}

static int64_t
add(struct store *store, struct stored_observation observation)
{
	struct error error = { 0 };
	int64_t id = 0;
	if (!store_observation_add(store, &observation, &id, &error))
		fail_msg("%s", error.text);
	return id;
}

static void
refused(struct store *store, struct stored_observation observation,
    enum error_kind kind, const char *reason)
{
	struct error error = { 0 };
	int64_t id = 77;
	assert_false(store_observation_add(store, &observation, &id, &error));
	assert_int_equal(error.kind, kind);
	assert_contains(error.text, reason);
	assert_int_equal(id, 77);
}

/* Their ids, "3 1 2 ". */
static void
check_list(struct store *store, const char *site, const char *wanted)
{
	struct stored_observation *list = NULL;
	size_t count = 0;
	char ids[80] = "";
	assert_true(store_observations(store, site, &list, &count, NULL));
	for (size_t i = 0; i < count; i++) {
		size_t used = strlen(ids);
		(void)snprintf(
		    ids + used, sizeof ids - used, "%d ", (int)list[i].id);
	}
	stored_observations_free(list, count);
	assert_string_equal(ids, wanted);
}

static void
keeps_what_was_told(void **state)
{
	struct fixture *fixture = *state;
	struct stored_observation rain = { .site = HARD,
		.kind = EVENT_RAIN,
		.from = -86400,
		.to = 0,
		.amount = 12.7,
		.note = HARD,
		.created = 1772434800 };
	struct stored_observation *list = NULL;
	size_t count = 0;
	assert_int_equal(add(fixture->store, rain), 1);
	store_close(fixture->store);
	fixture->store = open_or_fail(fixture->path);
	assert_true(
	    store_observations(fixture->store, HARD, &list, &count, NULL));
	assert_int_equal(count, 1);
	assert_int_equal(list[0].id, 1);
	assert_int_equal(list[0].replaces, 0);
	assert_string_equal(list[0].site, HARD);
	assert_int_equal(list[0].kind, EVENT_RAIN);
	assert_true(list[0].from == -86400 && list[0].to == 0);
	assert_true(list[0].amount == 12.7);
	assert_string_equal(list[0].note, HARD);
	assert_true(list[0].created == 1772434800);
	stored_observations_free(list, count);
}

static void
lists_them_by_time_for_one_site_or_all(void **state)
{
	struct store *store = store_of(state);
	static const struct {
		const char *site;
		int64_t from;
	} told[] = { { "front", 30 }, { "back", 10 }, { "front", 20 },
		{ "front", 30 }, { "back", 40 } };
	for (size_t i = 0; i < sizeof told / sizeof told[0]; i++)
		(void)add(store, mowing(told[i].site, told[i].from));
	check_list(store, NULL, "2 3 1 4 5 ");
	check_list(store, "front", "3 1 4 ");
	check_list(store, "back", "2 5 ");
	check_list(store, "side", "");
}

static void
a_correction_takes_the_place_of_what_was_wrong(void **state)
{
	struct store *store = store_of(state);
	struct stored_observation second = mowing("front", 20);
	struct stored_observation third = mowing("front", 5);
	(void)add(store, mowing("front", 10));
	second.replaces = 1;
	assert_int_equal(add(store, second), 2);
	check_list(store, NULL, "2 ");
	third.replaces = 2;
	assert_int_equal(add(store, third), 3);
	check_list(store, "front", "3 ");
}

static void
what_is_taken_back_leaves_nothing(void **state)
{
	struct store *store = store_of(state);
	struct stored_observation nothing = mowing("front", 20);
	(void)add(store, mowing("front", 10));
	(void)add(store, mowing("front", 30));
	nothing.kind = EVENT_KINDS;
	nothing.replaces = 1;
	assert_int_equal(add(store, nothing), 3);
	check_list(store, NULL, "2 ");
}

static void
refuses_a_correction_of_nothing(void **state)
{
	struct store *store = store_of(state);
	struct stored_observation one = mowing("front", 20);
	one.replaces = 1;
	refused(store, one, ERROR_ANSWER, "there is no observation 1 of front");
	(void)add(store, mowing("front", 10));
	(void)add(store, one);
	refused(store, one, ERROR_ANSWER,
	    "observation 1 is already replaced by observation 2");
	one.site = "back";
	one.replaces = 2;
	refused(store, one, ERROR_ANSWER, "there is no observation 2 of back");
	check_list(store, NULL, "2 ");
}

static void
refuses_an_observation_that_says_nothing(void **state)
{
	struct store *store = store_of(state);
	struct stored_observation one = mowing("front", 20);
	one.amount = 3;
	refused(store, one, ERROR_INPUT, "amount IS NOT NULL");
	one.kind = EVENT_GREEN;
	one.amount = NAN;
	refused(store, one, ERROR_INPUT, "amount IS NOT NULL");
	one = mowing("front", 20);
	one.to = 19;
	refused(store, one, ERROR_INPUT, "at_from <= at_to");
	one = mowing("", 20);
	refused(store, one, ERROR_INPUT, "site <> ''");
	one = mowing("front", 20);
	one.kind = EVENT_KINDS;
	refused(store, one, ERROR_INPUT, "replaces IS NOT NULL");
	check_list(store, NULL, "");
}

static void
goes_with_the_transaction_that_it_is_part_of(void **state)
{
	struct store *store = store_of(state);
	struct stored_observation wrong = mowing("front", 20);
	wrong.replaces = 9;
	assert_true(store_begin(store, NULL));
	(void)add(store, mowing("front", 10));
	refused(store, wrong, ERROR_ANSWER, "there is no observation 9");
	check_list(store, NULL, "1 ");
	store_rollback(store);
	check_list(store, NULL, "");
}

int
main(void)
{
#define TEST(name) cmocka_unit_test_setup_teardown(name, make_store, remove_all)
	const struct CMUnitTest tests[] = {
		TEST(keeps_what_was_told),
		TEST(lists_them_by_time_for_one_site_or_all),
		TEST(a_correction_takes_the_place_of_what_was_wrong),
		TEST(what_is_taken_back_leaves_nothing),
		TEST(refuses_a_correction_of_nothing),
		TEST(refuses_an_observation_that_says_nothing),
		TEST(goes_with_the_transaction_that_it_is_part_of),
	};
	return RUN_TESTS(tests);
}
