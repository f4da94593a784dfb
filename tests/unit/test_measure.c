#include "unit/test.h"

#include "weather/measure.h"

static void
every_measure_has_a_key_a_label_and_ordered_bounds(void **state)
{
	(void)state;
	for (int i = 0; i < MEASURES; i++) {
		const struct measure_info *info = measure_info((enum measure)i);
		assert_non_null(info->key);
		assert_true(strlen(info->key) > 0);
		assert_true(strlen(info->label) > 0);
		assert_true(info->kind < QUANTITY_KINDS);
		assert_int_equal(isnan(info->least), isnan(info->most));
		if (!isnan(info->least))
			assert_true(info->least < info->most);
	}
}

static void
finds_every_key_and_no_other(void **state)
{
	(void)state;
	for (int i = 0; i < MEASURES; i++)
		assert_int_equal(
		    measure_find(measure_info((enum measure)i)->key), i);
	assert_int_equal(measure_find("air temperature"), MEASURES);
	assert_int_equal(measure_find("Wind"), MEASURES);
	assert_int_equal(measure_find(""), MEASURES);
}

static void
canonical_units_are_those_of_the_header(void **state)
{
	(void)state;
	static const struct {
		enum measure measure;
		enum quantity_kind kind;
	} rows[] = {
		{ MEASURE_AIR_TEMPERATURE, QUANTITY_TEMPERATURE },
		{ MEASURE_DEW_POINT, QUANTITY_TEMPERATURE },
		{ MEASURE_HUMIDITY, QUANTITY_PERCENT },
		{ MEASURE_GUST, QUANTITY_SPEED },
		{ MEASURE_WIND_DIRECTION, QUANTITY_ANGLE },
		{ MEASURE_RAIN_BLOCK, QUANTITY_RAIN },
		{ MEASURE_RAIN_BLOCK_SPAN, QUANTITY_SPAN },
		{ MEASURE_RAIN_CHANCE, QUANTITY_PERCENT },
		{ MEASURE_DELTA_T, QUANTITY_TEMPERATURE_DIFFERENCE },
	};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
		assert_int_equal(
		    measure_info(rows[i].measure)->kind, rows[i].kind);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(
		    every_measure_has_a_key_a_label_and_ordered_bounds),
		cmocka_unit_test(finds_every_key_and_no_other),
		cmocka_unit_test(canonical_units_are_those_of_the_header),
	};
	return RUN_TESTS(tests);
}
