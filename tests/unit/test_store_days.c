/* The weather of days, and the requests of an hour. */
#include "unit/test.h"

#include "unit/store_fixture.h"

static void
put_day(struct store *store, const char *site, int64_t day, double high)
{
	struct daily daily = { .day = day,
		.high = high,
		.low = -3.25,
		.mean = NAN,
		.soil = 8.5,
		.rain = 12.5 };
	struct error error = { 0 };
	if (!store_day_put(store, site, &daily, &error))
		fail_msg("%s", error.text);
}

static void
keeps_one_weather_for_each_day_of_a_site(void **state)
{
	struct store *store = store_of(state);
	struct daily *days = NULL;
	size_t count = 0;
	put_day(store, HARD, 20500, 12);
	put_day(store, HARD, -1, 13);
	put_day(store, "front", 20499, 14);
	put_day(store, HARD, 20499, 15);
	put_day(store, HARD, 20500, 0.1);
	assert_true(store_days(store, HARD, -1, &days, &count, NULL));
	assert_int_equal(count, 3);
	assert_true(days[0].day == -1 && days[0].high == 13);
	assert_true(days[1].day == 20499 && days[1].high == 15);
	assert_true(days[2].day == 20500 && days[2].high == 0.1);
	assert_true(days[2].low == -3.25 && days[2].soil == 8.5);
	assert_true(days[2].rain == 12.5);
	assert_nan(days[2].mean);
	free(days);
	assert_true(store_days(store, HARD, 20500, &days, &count, NULL));
	assert_int_equal(count, 1);
	free(days);
	assert_true(store_days(store, "back", 0, &days, &count, NULL));
	assert_int_equal(count, 0);
	free(days);
}

static void
keeps_what_is_unknown_of_a_day(void **state)
{
	struct store *store = store_of(state);
	struct daily unknown = { .day = 1,
		.high = NAN,
		.low = NAN,
		.mean = NAN,
		.soil = NAN,
		.rain = NAN };
	struct daily *days = NULL;
	size_t count = 0;
	put_day(store, "front", 1, 9);
	assert_true(store_day_put(store, "front", &unknown, NULL));
	assert_true(store_days(store, "front", 0, &days, &count, NULL));
	assert_int_equal(count, 1);
	assert_nan(days[0].high);
	assert_nan(days[0].low);
	assert_nan(days[0].mean);
	assert_nan(days[0].soil);
	assert_nan(days[0].rain);
	free(days);
}

static void
refuses_a_day_that_cannot_be(void **state)
{
	struct store *store = store_of(state);
	struct daily turned = { .day = 1, .high = 1, .low = 2 };
	struct daily fine = { .day = 1, .high = 2, .low = 2 };
	struct daily dried = { .day = 1, .high = 2, .low = 2, .rain = -1 };
	struct error error = { 0 };
	assert_false(store_day_put(store, "front", &turned, &error));
	assert_int_equal(error.kind, ERROR_INPUT);
	assert_contains(error.text, "low <= high");
	error = (struct error){ 0 };
	assert_false(store_day_put(store, "front", &dried, &error));
	assert_int_equal(error.kind, ERROR_INPUT);
	assert_contains(error.text, "rain >= 0");
	error = (struct error){ 0 };
	assert_false(store_day_put(store, "", &fine, &error));
	assert_int_equal(error.kind, ERROR_INPUT);
	assert_true(store_day_put(store, "front", &fine, NULL));
}

static void
prunes_the_days_of_all_sites(void **state)
{
	struct store *store = store_of(state);
	static const char *const sites[] = { "front", "back" };
	for (int64_t day = 10; day < 14; day++)
		for (size_t i = 0; i < 2; i++)
			put_day(store, sites[i], day, 5);
	assert_true(store_days_prune(store, 12, NULL));
	for (size_t i = 0; i < 2; i++) {
		struct daily *days = NULL;
		size_t count = 0;
		assert_true(store_days(
		    store, sites[i], INT64_MIN, &days, &count, NULL));
		assert_int_equal(count, 2);
		assert_true(days[0].day == 12 && days[1].day == 13);
		free(days);
	}
}

static void
add_requests(struct store *store)
{
	static const struct {
		const char *host;
		int64_t at;
	} rows[] = { { "a", 10000 }, { "b", 10001 }, { "a", 10000 },
		{ "a", 7000 }, { "a", 13000 }, { "a", 20000 } };
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
		assert_true(
		    store_request_add(store, rows[i].host, rows[i].at, NULL));
}

static void
check_requests(
    struct store *store, const char *host, int64_t now, size_t wanted)
{
	size_t count = 77;
	int64_t oldest = 0;
	assert_true(store_requests(store, host, now, &count, &oldest, NULL));
	assert_int_equal(count, wanted);
	if (wanted == 0)
		assert_true(oldest == now);
}

/* Less than an hour before or after: a clock that was set back counts on. */
static void
counts_the_requests_of_a_host_and_hour(void **state)
{
	struct store *store = store_of(state);
	add_requests(store);
	static const struct {
		const char *host;
		int64_t now;
		size_t count;
		int64_t oldest;
	} cases[] = {
		{ "a", 10000, 4, 7000 },
		{ "a", 10599, 4, 7000 },
		{ "a", 10600, 3, 10000 },
		{ "a", 9400, 3, 7000 },
		{ "a", 9401, 4, 7000 },
		{ "a", 23599, 1, 20000 },
		{ "a", 23600, 0, 23600 },
		{ "a", 16400, 1, 13000 },
		{ "a", 16401, 2, 13000 },
		{ "b", 10001, 1, 10001 },
		{ "c", 10000, 0, 10000 },
		{ "a", INT64_MIN, 0, INT64_MIN },
		{ "a", INT64_MAX, 0, INT64_MAX },
	};
	for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
		size_t count = 77;
		int64_t oldest = -1;
		assert_true(store_requests(
		    store, cases[i].host, cases[i].now, &count, &oldest, NULL));
		assert_int_equal(count, cases[i].count);
		assert_true(oldest == cases[i].oldest);
	}
}

static void
keeps_the_requests_that_count(void **state)
{
	struct fixture *fixture = *state;
	add_requests(fixture->store);
	store_close(fixture->store);
	fixture->store = open_or_fail(fixture->path);
	assert_true(store_requests_prune(fixture->store, 10600, NULL));
	check_requests(fixture->store, "a", 10000, 3);
	check_requests(fixture->store, "a", 20000, 0);
	check_requests(fixture->store, "b", 10001, 1);
	struct error error = { 0 };
	assert_false(store_request_add(fixture->store, "", 1, &error));
	assert_int_equal(error.kind, ERROR_INPUT);
	assert_false(store_request_add(fixture->store, NULL, 1, NULL));
}

int
main(void)
{
#define TEST(name) cmocka_unit_test_setup_teardown(name, make_store, remove_all)
	const struct CMUnitTest tests[] = {
		TEST(keeps_one_weather_for_each_day_of_a_site),
		TEST(keeps_what_is_unknown_of_a_day),
		TEST(refuses_a_day_that_cannot_be),
		TEST(prunes_the_days_of_all_sites),
		TEST(counts_the_requests_of_a_host_and_hour),
		TEST(keeps_the_requests_that_count),
	};
	return RUN_TESTS(tests);
}
