#include "unit/test.h"

#include "config/values.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

static const struct zone chicago = { .name = "America/Chicago",
	.count = 2,
	.span = { { 0, -6 * 3600 }, { 1772956800, -5 * 3600 } } };

static const struct setting temperature = { .name = "temperature-ceiling",
	.kind = SETTING_LIMIT,
	.quantity = QUANTITY_TEMPERATURE,
	.least = -20,
	.most = 60,
	.range = "-20 degC to 60 degC" };

static const struct setting span = { .name = "rain-free",
	.kind = SETTING_QUANTITY,
	.quantity = QUANTITY_SPAN,
	.least = 0,
	.most = 86400,
	.range = "0 h to 1 d" };

static void
a_quantity_keeps_to_its_bounds(void **state)
{
	(void)state;
	static const struct {
		const struct setting *setting;
		const char *text;
		double wanted; /* NaN: refused */
	} rows[] = { { &span, "0 h", 0 }, { &span, "12 h", 43200 },
		{ &span, "24 h", 86400 }, { &span, "24.01 h", NAN },
		{ &span, "-1 h", NAN }, { &span, "12", NAN },
		{ &span, "12 degF", NAN }, { &span, "", NAN },
		{ &span, "12 hours of", NAN }, { &span, "nan h", NAN },
		{ &temperature, "85 degF", (85.0 - 32) / 1.8 },
		{ &temperature, "140 degF", 60 },
		{ &temperature, "-20 degC", -20 },
		{ &temperature, "61 degC", NAN },
		{ &temperature, "inf degC", NAN } };
	for (size_t i = 0; i < COUNT(rows); i++) {
		double value = 4711;
		struct error error = { 0 };
		bool good = value_quantity(
		    rows[i].setting, rows[i].text, &value, &error);
		if (good == isnan(rows[i].wanted))
			fail_msg("'%s': %s", rows[i].text, error.text);
		assert_close(value, good ? rows[i].wanted : 4711, 1e-9);
		assert_int_equal(error.kind, good ? ERROR_NONE : ERROR_INPUT);
	}
}

static void
what_is_out_of_range_is_told_the_range(void **state)
{
	(void)state;
	double value;
	struct error error = { 0 };
	assert_false(value_quantity(&span, "25 h", &value, &error));
	assert_contains(error.text, "'25 h'");
	assert_contains(error.text, "0 h to 1 d");
}

/* Both 0 means that there are no bounds. */
static void
a_setting_without_bounds_takes_any_amount(void **state)
{
	(void)state;
	const struct setting free_span = { .quantity = QUANTITY_SPAN };
	double value = 0;
	assert_true(value_quantity(&free_span, "1000 d", &value, NULL));
	assert_close(value, 86.4e6, 0);
	assert_true(value_quantity(&free_span, "-1 d", &value, NULL));
	assert_close(value, -86400, 0);
}

static void
a_limit_says_its_bound_or_leaves_it(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		enum bound bound;
		double limit; /* NaN: refused */
	} rows[] = { { "at most 30 degC", BOUND_AT_MOST, 30 },
		{ "below 30 degC", BOUND_BELOW, 30 },
		{ "at least 30 degC", BOUND_AT_LEAST, 30 },
		{ "above 30 degC", BOUND_ABOVE, 30 },
		{ "30 degC", BOUND_BELOW, 30 }, /* as the caller had it */
		{ "at  most 30 degC", BOUND_BELOW, NAN },
		{ "At most 30 degC", BOUND_BELOW, NAN },
		{ "under 30 degC", BOUND_BELOW, NAN },
		{ "below", BOUND_BELOW, NAN }, { "below ", BOUND_BELOW, NAN },
		{ "below30 degC", BOUND_BELOW, NAN },
		{ "below at least 30 degC", BOUND_BELOW, NAN },
		{ "at least at least 30 degC", BOUND_BELOW, NAN },
		{ "at least 30 mph", BOUND_BELOW, NAN },
		{ "at least 90 degC", BOUND_BELOW, NAN },
		{ "at least 10 to 20 degC", BOUND_BELOW, NAN },
		{ "", BOUND_BELOW, NAN } };
	for (size_t i = 0; i < COUNT(rows); i++) {
		enum bound bound = BOUND_BELOW;
		double limit = 4711;
		struct error error = { 0 };
		bool good = value_limit(
		    &temperature, rows[i].text, &bound, &limit, &error);
		if (good == isnan(rows[i].limit))
			fail_msg("'%s': %s", rows[i].text, error.text);
		assert_int_equal(bound, rows[i].bound);
		assert_close(limit, good ? rows[i].limit : 4711, 1e-9);
		assert_int_equal(error.kind, good ? ERROR_NONE : ERROR_INPUT);
	}
}

static void
a_rate_is_per_area_or_per_volume_of_mix(void **state)
{
	(void)state;
	/* a foot is 0.3048 m, a gallon 3.785411784 L, both by definition */
	static const struct {
		const char *text;
		enum quantity_kind kind;
		double rate; /* NaN: refused */
	} rows[] = { { "3 g/m2", QUANTITY_MASS_PER_AREA, 3 },
		{ "0.2 mL/m2", QUANTITY_VOLUME_PER_AREA, 0.0002 },
		{ "1 gal/1000 ft2", QUANTITY_VOLUME_PER_AREA,
		    3.785411784 / 92.90304 },
		{ "3.2 g/gal", QUANTITY_MASS_PER_VOLUME, 3.2 / 3.785411784 },
		{ "5 mL/L", QUANTITY_VOLUME_PER_VOLUME, 0.005 },
		{ "0.25 %", QUANTITY_VOLUME_PER_VOLUME, 0.0025 },
		{ "0 g/m2", QUANTITY_KINDS, NAN },
		{ "-1 g/m2", QUANTITY_KINDS, NAN },
		{ "3 g", QUANTITY_KINDS, NAN }, { "3", QUANTITY_KINDS, NAN },
		{ "3 mph", QUANTITY_KINDS, NAN },
		{ "nan g/m2", QUANTITY_KINDS, NAN },
		{ "", QUANTITY_KINDS, NAN } };
	for (size_t i = 0; i < COUNT(rows); i++) {
		double rate = 4711;
		enum quantity_kind kind = QUANTITY_KINDS;
		struct error error = { 0 };
		bool good = value_rate(rows[i].text, &rate, &kind, &error);
		if (good == isnan(rows[i].rate))
			fail_msg("'%s': %s", rows[i].text, error.text);
		assert_int_equal(kind, rows[i].kind);
		assert_close(rate, good ? rows[i].rate : 4711, 1e-12);
		assert_int_equal(error.kind, good ? ERROR_NONE : ERROR_INPUT);
	}
}

static void
a_span_of_the_day_ends_behind_its_beginning(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		int from, to; /* -1: refused */
	} rows[] = { { "06:30-10:30", 23400, 37800 },
		{ "00:00-24:00", 0, 86400 }, { "23:59-24:00", 86340, 86400 },
		{ "10:30-06:30", -1, -1 }, { "06:30-06:30", -1, -1 },
		{ "22:00-02:00", -1, -1 }, { "24:00-24:00", -1, -1 },
		{ "06:30", -1, -1 }, { "-10:30", -1, -1 }, { "06:30-", -1, -1 },
		{ "06:30 - 10:30", -1, -1 }, { "06:30-10:30-12:00", -1, -1 },
		{ "6:30-10:30", -1, -1 }, { "06:30-25:00", -1, -1 },
		{ "", -1, -1 }, { "morning", -1, -1 } };
	for (size_t i = 0; i < COUNT(rows); i++) {
		struct clock_span clock = { -1, -1 };
		struct error error = { 0 };
		bool good = value_clock_span(rows[i].text, &clock, &error);
		if (good != (rows[i].to >= 0) || clock.from != rows[i].from ||
		    clock.to != rows[i].to)
			fail_msg("'%s': %d-%d %s", rows[i].text, clock.from,
			    clock.to, error.text);
		assert_int_equal(error.kind, good ? ERROR_NONE : ERROR_INPUT);
	}
}

static void
a_look_at_the_turf_is_a_local_day_and_a_state(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		int64_t from; /* 0: refused */
		enum turf_state state;
	} rows[] = { { "2026-02-01 dormant", 1769925600, TURF_DORMANT },
		{ "2026-03-08 green-up", 1772949600, TURF_GREEN_UP },
		{ "2026-03-09 green", 1773032400, TURF_GREEN },
		{ "2026-02-01", 0, TURF_STATES },
		{ "2026-02-01 ", 0, TURF_STATES },
		{ "2026-02-01 brown", 0, TURF_STATES },
		{ "2026-02-01 Dormant", 0, TURF_STATES },
		{ "2026-02-01  dormant", 0, TURF_STATES },
		{ "2026-02-01 dormant green", 0, TURF_STATES },
		{ "2026-02-30 dormant", 0, TURF_STATES },
		{ "2026-02-01Z dormant", 0, TURF_STATES },
		{ "2026-02-01T00:00 dormant", 0, TURF_STATES },
		{ "dormant 2026-02-01", 0, TURF_STATES },
		{ " dormant", 0, TURF_STATES }, { "", 0, TURF_STATES } };
	for (size_t i = 0; i < COUNT(rows); i++) {
		struct turf_told told = { 0, TURF_STATES };
		struct error error = { 0 };
		bool good = value_told(rows[i].text, &chicago, &told, &error);
		if (good != (rows[i].from != 0) || told.from != rows[i].from ||
		    told.state != rows[i].state)
			fail_msg("'%s': %lld %d %s", rows[i].text,
			    (long long)told.from, told.state, error.text);
		assert_int_equal(error.kind, good ? ERROR_NONE : ERROR_INPUT);
	}
}

static void
a_soil_reading_is_a_local_day_and_a_temperature(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		int64_t at; /* 0: refused */
		double temperature;
	} rows[] = { { "2026-03-01 54 degF", 1772344800, 22 / 1.8 },
		/* the midnights around the change to summer time */
		{ "2026-03-08 12.5 degC", 1772949600, 12.5 },
		{ "2026-03-09 -2 degC", 1773032400, -2 },
		{ "2026-03-01 60 degC", 1772344800, 60 },
		{ "2026-03-01 -40 degF", 1772344800, -40 },
		{ "2026-03-01 60.1 degC", 0, 0 },
		{ "2026-03-01 -40.1 degC", 0, 0 }, { "2026-03-01 54", 0, 0 },
		{ "2026-03-01 54 K/m", 0, 0 }, { "2026-03-01 nan degC", 0, 0 },
		{ "2026-03-01 54 percent", 0, 0 },
		{ "2026-03-01 54 degF wet", 0, 0 }, { "2026-03-01", 0, 0 },
		{ "2026-03-01 ", 0, 0 }, { "2026-02-30 54 degF", 0, 0 },
		{ "2026-03-01Z 54 degF", 0, 0 },
		{ "2026-03-01T07:00 54 degF", 0, 0 },
		{ "26-03-01 54 degF", 0, 0 }, { "54 degF", 0, 0 },
		{ "54 degF 2026-03-01", 0, 0 }, { "", 0, 0 } };
	for (size_t i = 0; i < COUNT(rows); i++) {
		struct soil_reading reading = { 0, 4711 };
		struct error error = { 0 };
		bool good =
		    value_soil(rows[i].text, &chicago, &reading, &error);
		if (good != (rows[i].at != 0) || reading.at != rows[i].at)
			fail_msg("'%s': %lld %s", rows[i].text,
			    (long long)reading.at, error.text);
		assert_close(reading.temperature,
		    good ? rows[i].temperature : 4711, 1e-9);
		assert_int_equal(error.kind, good ? ERROR_NONE : ERROR_INPUT);
	}
}

/* A civil day has no zone: 2026-03-01 is day 20513 since 1970, counted on a
   calendar. */
static void
a_date_is_a_day_of_the_calendar(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		int64_t day; /* INT64_MIN: refused */
	} rows[] = { { "1970-01-01", 0 }, { "2026-03-01", 20513 },
		{ "2028-02-29", 21243 }, { "2026-02-29", INT64_MIN },
		{ "2026-3-1", INT64_MIN }, { "2026-03-01 07:00", INT64_MIN },
		{ "1 Mar 2026", INT64_MIN }, { "", INT64_MIN } };
	for (size_t i = 0; i < COUNT(rows); i++) {
		int64_t day = 4711;
		struct error error = { 0 };
		bool good = value_date(rows[i].text, &day, &error);
		if (good != (rows[i].day != INT64_MIN))
			fail_msg("'%s': %s", rows[i].text, error.text);
		assert_int_equal(day, good ? rows[i].day : 4711);
		assert_int_equal(error.kind, good ? ERROR_NONE : ERROR_INPUT);
	}
}

/* The ounce and the pint of NIST Handbook 44, Appendix C: from memory. */
static void
an_amount_is_a_weight_or_a_volume(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		double amount; /* NaN: refused */
		bool is_mass;
	} rows[] = { { "1 oz", 28.349523125, true }, { "0 g", 0, true },
		{ "1 pt", 0.473176473, false },
		{ "1 fl oz", 0.0295735295625, false }, { "-1 g", NAN, true },
		{ "3", NAN, true }, { "3 ft", NAN, true },
		{ "3 oz/acre", NAN, true }, { "", NAN, true } };
	for (size_t i = 0; i < COUNT(rows); i++) {
		double amount = 4711;
		bool is_mass = rows[i].is_mass;
		struct error error = { 0 };
		bool good =
		    value_amount(rows[i].text, &amount, &is_mass, &error);
		if (good == isnan(rows[i].amount))
			fail_msg("'%s': %s", rows[i].text, error.text);
		assert_close(amount, good ? rows[i].amount : 4711, 1e-9);
		assert_int_equal(is_mass, rows[i].is_mass);
	}
}

static void
what_was_left_is_a_date_and_an_amount(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		int64_t day; /* INT64_MIN: refused */
		double amount;
	} rows[] = { { "2026-03-01 1 oz", 20513, 28.349523125 },
		{ "2026-03-01 0 L", 20513, 0 }, { "2026-03-01", INT64_MIN, 0 },
		{ "1 oz", INT64_MIN, 0 }, { "2026-02-30 1 oz", INT64_MIN, 0 },
		{ "2026-03-01 an ounce", INT64_MIN, 0 } };
	for (size_t i = 0; i < COUNT(rows); i++) {
		struct weighing left = { 1, 2 };
		bool is_mass = false;
		struct error error = { 0 };
		bool good =
		    value_weighing(rows[i].text, &left, &is_mass, &error);
		if (good != (rows[i].day != INT64_MIN))
			fail_msg("'%s': %s", rows[i].text, error.text);
		assert_int_equal(left.day, good ? rows[i].day : 1);
		assert_close(left.amount, good ? rows[i].amount : 2, 1e-9);
	}
}

static void
a_choice_is_one_whole_word_of_the_list(void **state)
{
	(void)state;
	static const struct {
		const char *words, *text;
		size_t position; /* 99: refused */
	} rows[] = { { "us metric", "us", 0 }, { "us metric", "metric", 1 },
		{ "dormant green-up green", "green", 2 },
		{ "dormant green-up green", "green-up", 1 },
		{ "us metric", "u", 99 }, { "us metric", "usa", 99 },
		{ "us metric", "US", 99 }, { "us metric", "us metric", 99 },
		{ "us metric", " us", 99 }, { "us metric", "", 99 },
		{ "us metric", " ", 99 } };
	for (size_t i = 0; i < COUNT(rows); i++) {
		size_t position = 99;
		struct error error = { 0 };
		bool good = value_choice(
		    rows[i].words, rows[i].text, &position, &error);
		if (good != (rows[i].position != 99) ||
		    position != rows[i].position)
			fail_msg("'%s' is %zu", rows[i].text, position);
		if (!good)
			assert_contains(error.text, rows[i].words);
	}
}

static void
yes_and_no_are_the_only_answers(void **state)
{
	(void)state;
	bool yes = false;
	assert_true(value_yes_no("yes", &yes, NULL));
	assert_true(yes);
	assert_true(value_yes_no("no", &yes, NULL));
	assert_false(yes);
	static const char *const others[] = { "Yes", "true", "1", "y", "",
		"no yes", "not" };
	for (size_t i = 0; i < COUNT(others); i++) {
		struct error error = { 0 };
		yes = true;
		assert_false(value_yes_no(others[i], &yes, &error));
		assert_true(yes);
		assert_int_equal(error.kind, ERROR_INPUT);
	}
}

static void
a_name_can_be_typed_on_a_command_line(void **state)
{
	(void)state;
	char longest[LIMIT_NAME_BYTES + 2];
	memset(longest, 'n', sizeof longest);
	longest[LIMIT_NAME_BYTES] = '\0';
	const char *const good[] = { "front", "a", "post-a", "x_1.2",
		"ABC-xyz.09", longest };
	for (size_t i = 0; i < COUNT(good); i++)
		if (!value_name(good[i], NULL))
			fail_msg("'%s' is refused", good[i]);
	longest[LIMIT_NAME_BYTES] = 'n';
	longest[LIMIT_NAME_BYTES + 1] = '\0';
	const char *const bad[] = { "", " ", "front lawn", "front\n", "a=b",
		"-a", "--", "a/b", "a\"b", "a,b", "a+b", "caf\xc3\xa9", "\xff",
		longest };
	for (size_t i = 0; i < COUNT(bad); i++) {
		struct error error = { 0 };
		if (value_name(bad[i], &error))
			fail_msg("'%s' is a name", bad[i]);
		assert_int_equal(error.kind, ERROR_INPUT);
	}
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_quantity_keeps_to_its_bounds),
		cmocka_unit_test(what_is_out_of_range_is_told_the_range),
		cmocka_unit_test(a_setting_without_bounds_takes_any_amount),
		cmocka_unit_test(a_limit_says_its_bound_or_leaves_it),
		cmocka_unit_test(a_rate_is_per_area_or_per_volume_of_mix),
		cmocka_unit_test(a_span_of_the_day_ends_behind_its_beginning),
		cmocka_unit_test(a_look_at_the_turf_is_a_local_day_and_a_state),
		cmocka_unit_test(
		    a_soil_reading_is_a_local_day_and_a_temperature),
		cmocka_unit_test(a_date_is_a_day_of_the_calendar),
		cmocka_unit_test(an_amount_is_a_weight_or_a_volume),
		cmocka_unit_test(what_was_left_is_a_date_and_an_amount),
		cmocka_unit_test(a_choice_is_one_whole_word_of_the_list),
		cmocka_unit_test(yes_and_no_are_the_only_answers),
		cmocka_unit_test(a_name_can_be_typed_on_a_command_line),
	};
	return RUN_TESTS(tests);
}
