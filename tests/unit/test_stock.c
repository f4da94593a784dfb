/* The shelf out of records and stock solutions: whose day, and of what. */
#include "unit/config_fixture.h"
#include "unit/store_fixture.h"

#include "service/sprayers.h"
#include "service/stock.h"

#include <math.h>

#define HOUR     INT64_C(3600)
#define DAY      INT64_C(86400)
#define COUNT(a) (sizeof(a) / sizeof((a)[0]))

enum { MARCH_1 = 20513 };                /* 2026, in days from 1970-01-01 */
static const int64_t noon = 1772366400;  /* 2026-03-01T12:00:00Z */
static const int64_t night = 1772420400; /* 2026-03-02T03:00:00Z: it is
					    still the first in Chicago, and
					    the second at noon in Tokyo */

/* 10 g that were looked at on the evening of the first, and a solution of
   su-a that keeps two days. */
#define SHELF                                                                  \
	"site \"east\" {\n"                                                    \
	"\tlatitude = \"35.7 deg\"\n\tlongitude = \"139.7 deg\"\n"             \
	"\tzone = Asia/Tokyo\n\tarea = \"100 m2\"\n\tsprayer = backpack\n"     \
	"\tforecast = \"nws-grid file:f.json\"\n}\n"                           \
	"product \"su-a\" {\n\tlabel = \"invented\"\n\trate = \"1 g/m2\"\n"    \
	"\tstock-keeps = \"2 d\"\n}\n"                                         \
	"package \"p-1\" {\n\tproduct = post-a\n\tsize = \"20 g\"\n"           \
	"\topened = \"2026-01-01\"\n\tleft = { \"2026-03-01 10 g\" }\n}\n"     \
	"package \"s-1\" {\n\tproduct = su-a\n\tsize = \"50 g\"\n"             \
	"\topened = \"2026-01-01\"\n}\n"

struct shed {
	struct reading reading;
	struct keeper keeper;
};

static void
begin_shed(struct shed *shed, void **state)
{
	*shed = (struct shed){ .reading = read_good(GOOD SHELF) };
	shed->keeper = (struct keeper){ .config = shed->reading.config,
		.store = store_of(state) };
}

/* An hour's work that ended then. */
static struct stored_record
record_of(const char *site, int64_t to, const char *product, double amount)
{
	struct stored_record record;
	stored_record_init(&record);
	record.site = (char *)site;
	record.from = to - HOUR;
	record.to = to;
	record.amount_count = 1;
	record.amount[0].product = (char *)product;
	record.amount[0].amount = amount;
	record.amount[0].is_mass = true;
	return record;
}

static double
left_of(struct shed *shed, const char *product,
    const struct stored_record *records, size_t count, int64_t now)
{
	struct shelf shelf;
	struct error error = { 0 };
	if (!stock_load(&shed->keeper, records, count, now, &shelf, &error))
		fail_msg("%s", error.text);
	double left = shelf_find(&shelf, product)->item[0].left;
	shelf_release(&shelf);
	return left;
}

static void
make_solution(struct shed *shed, int64_t made, double mass)
{
	struct stored_solution solution = { .product = "su-a",
		.made = made,
		.mass = mass,
		.volume = 0.5,
		.created = made };
	struct error error = { 0 };
	int64_t id;
	if (!store_solution_add(shed->keeper.store, &solution, &id, &error))
		fail_msg("%s", error.text);
}

struct day_case {
	const char *site;
	int64_t to;
	double left;
};

/* What ended on the first is in what was seen that evening. */
static const struct day_case days[] = {
	{ "front", noon, 10 },
	{ "front", night, 10 },
	{ "front", night + 4 * HOUR, 6 },
	{ "east", night, 6 },
	{ "east", noon, 10 },
	{ "east", noon + 4 * HOUR, 6 },
	/* one that is gone has the day of UTC */
	{ "gone", noon + 4 * HOUR, 10 },
	{ "gone", night, 6 },
};

static void
a_record_is_of_the_day_of_its_site(void **state)
{
	struct shed shed;
	begin_shed(&shed, state);
	for (size_t i = 0; i < COUNT(days); i++) {
		struct stored_record record =
		    record_of(days[i].site, days[i].to, "post-a", 4);
		assert_close(left_of(&shed, "post-a", &record, 1, night + DAY),
		    days[i].left, 1e-9);
	}
	end_reading(&shed.reading);
}

static void
what_has_not_begun_takes_nothing(void **state)
{
	struct shed shed;
	begin_shed(&shed, state);
	struct stored_record record = record_of("front", night, "su-a", 4);
	int64_t from = record.from;
	assert_close(left_of(&shed, "su-a", &record, 1, from - 1), 50, 1e-9);
	assert_close(left_of(&shed, "su-a", &record, 1, from), 46, 1e-9);
	end_reading(&shed.reading);
}

static void
every_amount_of_a_record_counts(void **state)
{
	struct shed shed;
	begin_shed(&shed, state);
	struct stored_record record = record_of("east", night, "su-a", 4);
	record.amount_count = 2;
	record.amount[1] = record.amount[0];
	record.amount[1].product = "post-a";
	record.amount[1].amount = NAN;
	assert_close(left_of(&shed, "su-a", &record, 1, night), 46, 1e-9);
	assert_nan(left_of(&shed, "post-a", &record, 1, night));
	end_reading(&shed.reading);
}

/* Made at noon: 5 g leave the package, and it is good for two days. */
static void
a_solution_takes_its_mass_once(void **state)
{
	struct shed shed;
	begin_shed(&shed, state);
	struct stored_record records[] = {
		/* weighed before there was any */
		record_of("front", noon, "su-a", 1),
		/* out of it: 3 of 5 g, then 2 and another gram */
		record_of("front", noon + 2 * HOUR, "su-a", 3),
		record_of("front", noon + 2 * DAY, "su-a", 3),
		/* it went when two days were over */
		record_of("front", noon + 2 * DAY + HOUR, "su-a", 1),
	};
	static const double wanted[] = { 50, 44, 44, 43, 42 };
	int64_t now = noon + 3 * DAY;
	assert_close(left_of(&shed, "su-a", records, 0, now), 50, 1e-9);
	make_solution(&shed, noon, 5);
	assert_close(left_of(&shed, "su-a", records, 0, noon - 1), 50, 1e-9);
	assert_close(left_of(&shed, "su-a", records, 0, noon), 45, 1e-9);
	for (size_t i = 1; i <= COUNT(records); i++)
		assert_close(
		    left_of(&shed, "su-a", records, i, now), wanted[i], 1e-9);
	end_reading(&shed.reading);
}

static void
an_unknown_amount_is_not_out_of_a_solution(void **state)
{
	struct shed shed;
	begin_shed(&shed, state);
	make_solution(&shed, noon, 5);
	struct stored_record record =
	    record_of("front", noon + 2 * HOUR, "su-a", NAN);
	assert_nan(left_of(&shed, "su-a", &record, 1, noon + DAY));
	end_reading(&shed.reading);
}

/* Two of 5 g, an hour apart. The newest that holds all of it is taken, as the
   mix sheet says; else each gives what it has. */
static void
a_solution_holds_what_was_not_sprayed(void **state)
{
	struct shed shed;
	begin_shed(&shed, state);
	const struct stored_solution made[] = {
		{ .product = "su-a", .made = noon, .mass = 5, .volume = 1 },
		{ .product = "su-a",
		    .made = noon + HOUR,
		    .mass = 5,
		    .volume = 1 },
		{ .product = "su-a",
		    .made = noon + DAY + 1,
		    .mass = 5,
		    .volume = 1 },
	};
	const struct stored_record records[] = {
		record_of("front", noon + 3 * HOUR, "su-a", 3),
		record_of("front", noon + 4 * HOUR, "su-a", 4),
		record_of("front", noon + 5 * HOUR, "su-a", 2),
		record_of("front", noon + 6 * HOUR, "post-a", 2),
		record_of("front", noon + 7 * HOUR, "su-a", NAN),
		record_of("front", noon + 8 * HOUR, "su-a", 1),
	};
	static const double wanted[][2] = { { 5, 5 }, { 5, 2 }, { 1, 2 },
		{ 1, 0 }, { 1, 0 }, { NAN, NAN }, { NAN, NAN } };
	for (size_t i = 0; i <= COUNT(records); i++) {
		double left[COUNT(made)] = { -1, -1, -1 };
		stock_left(&shed.keeper.config,
		    &(struct stock_past){
			noon + DAY, made, COUNT(made), records, i },
		    left);
		for (size_t k = 0; k < 2 && !isnan(wanted[i][k]); k++)
			assert_close(left[k], wanted[i][k], 1e-9);
		assert_true(isnan(left[0]) == isnan(wanted[i][0]));
		assert_true(isnan(left[1]) == isnan(wanted[i][1]));
		/* of later than that */
		assert_nan(left[2]);
	}
	end_reading(&shed.reading);
}

static int64_t
today_of(const struct keeper *keeper, int64_t now)
{
	struct shelf shelf;
	struct error error = { 0 };
	if (!stock_load(keeper, NULL, 0, now, &shelf, &error))
		fail_msg("%s", error.text);
	int64_t today = shelf.today;
	shelf_release(&shelf);
	return today;
}

static void
today_is_the_latest_day_of_a_site(void **state)
{
	struct shed shed;
	begin_shed(&shed, state);
	assert_int_equal(today_of(&shed.keeper, noon), MARCH_1);
	assert_int_equal(today_of(&shed.keeper, night), MARCH_1 + 1);
	shed.keeper.config.site_count = 1; /* that in Chicago */
	assert_int_equal(today_of(&shed.keeper, night), MARCH_1);
	shed.keeper.config.site_count = 0; /* UTC */
	assert_int_equal(today_of(&shed.keeper, night), MARCH_1 + 1);
	end_reading(&shed.reading);
}

static void
each_lawn_has_its_sprayer(void **state)
{
	struct shed shed;
	struct sprayer *sprayers;
	struct error error = { 0 };
	begin_shed(&shed, state);
	assert_true(sprayers_load(&shed.keeper, noon, &sprayers, &error));
	struct lawn *lawns = stock_lawns(&shed.keeper.config, sprayers);
	for (size_t i = 0; i < shed.keeper.config.site_count; i++) {
		assert_ptr_equal(lawns[i].site, &shed.keeper.config.sites[i]);
		assert_ptr_equal(lawns[i].sprayer, &sprayers[0]);
	}
	free(lawns);
	free(sprayers);
	end_reading(&shed.reading);
}

#define STORE_TEST(test)                                                       \
	cmocka_unit_test_setup_teardown(test, make_store, remove_all)

int
main(void)
{
	const struct CMUnitTest tests[] = {
		STORE_TEST(a_record_is_of_the_day_of_its_site),
		STORE_TEST(what_has_not_begun_takes_nothing),
		STORE_TEST(every_amount_of_a_record_counts),
		STORE_TEST(a_solution_takes_its_mass_once),
		STORE_TEST(an_unknown_amount_is_not_out_of_a_solution),
		STORE_TEST(a_solution_holds_what_was_not_sprayed),
		STORE_TEST(today_is_the_latest_day_of_a_site),
		STORE_TEST(each_lawn_has_its_sprayer),
	};
	return RUN_TESTS(tests);
}
