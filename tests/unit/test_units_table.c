/* The factors behind the names: identities of the trade, and documents. */
#include "unit/test.h"

#include "physics/units.h"
#include "physics/units_table.h"

/* assert_close for loops: says which turn of the loop it was. */
static void
check_row(size_t row, double value, double wanted, double tolerance)
{
	if (!(fabs(value - wanted) <= tolerance))
		fail_msg("row %zu is %.10g, wanted %.10g (within %g)", row,
		    value, wanted, tolerance);
}

static double
quantity(const char *text, enum quantity_kind kind)
{
	double value = NAN;
	struct error error = { 0 };
	if (!quantity_parse(text, kind, &value, &error))
		fail_msg("%s", error.text);
	return value;
}

struct identity {
	const char *text;
	const char *same; /* times `times` is the text */
	enum quantity_kind kind;
	double times;
	double tolerance; /* of `times`: half of its last printed figure */
};

/*
 * NIST Handbook 44 Appendix C and SP 811 Appendix B: exact by definition, from
 * memory; that an acre is 4046.8564224 m2 was read in a public table. The kPa
 * of a psi is left out: no quantity here is a pressure.
 */
static const struct identity defined[] = {
	{ "1 in", "1 m", QUANTITY_LENGTH, 0.0254, 0 },
	{ "1 ft", "1 m", QUANTITY_LENGTH, 0.3048, 0 },
	{ "1 mi", "1 m", QUANTITY_LENGTH, 1609.344, 0 },
	{ "1 mi", "1 ft", QUANTITY_LENGTH, 5280, 0 },
	{ "1 acre", "1 ft2", QUANTITY_AREA, 43560, 0 },
	{ "1 acre", "1 m2", QUANTITY_AREA, 4046.8564224, 0 },
	{ "1 acre", "1 ha", QUANTITY_AREA, 0.40468564224, 0 },
	{ "1000 ft2", "1 m2", QUANTITY_AREA, 92.90304, 0 },
	{ "1 gal", "1 L", QUANTITY_VOLUME, 3.785411784, 0 },
	{ "1 gal", "1 qt", QUANTITY_VOLUME, 4, 0 },
	{ "1 gal", "1 pt", QUANTITY_VOLUME, 8, 0 },
	{ "1 gal", "1 fl oz", QUANTITY_VOLUME, 128, 0 },
	{ "1 fl oz", "1 mL", QUANTITY_VOLUME, 29.5735295625, 0 },
	{ "1 tbsp", "1 mL", QUANTITY_VOLUME, 14.78676478125, 0 },
	{ "1 tsp", "1 mL", QUANTITY_VOLUME, 4.92892159375, 0 },
	{ "1 fl oz", "1 tbsp", QUANTITY_VOLUME, 2, 0 },
	{ "1 tbsp", "1 tsp", QUANTITY_VOLUME, 3, 0 },
	{ "1 lb", "1 g", QUANTITY_MASS, 453.59237, 0 },
	{ "1 lb", "1 oz", QUANTITY_MASS, 16, 0 },
	{ "1 oz", "1 g", QUANTITY_MASS, 28.349523125, 0 },
	{ "1 mph", "1 m/s", QUANTITY_SPEED, 0.44704, 0 },
	{ "1 kn", "1 km/h", QUANTITY_SPEED, 1.852, 0 },
	{ "1 m/s", "1 km/h", QUANTITY_SPEED, 3.6, 0 },
	{ "1 mph", "1 ft/s", QUANTITY_SPEED, 5280.0 / 3600, 0 },
	{ "1 mph", "1 ft/min", QUANTITY_SPEED, 88, 0 },
	{ "10 degF", "1 degC", QUANTITY_TEMPERATURE_DIFFERENCE, 10 / 1.8, 0 },
	{ "1 gal/min", "1 fl oz/min", QUANTITY_VOLUME_PER_TIME, 128, 0 },
	{ "1 L/s", "1 mL/min", QUANTITY_VOLUME_PER_TIME, 60000, 0 },
};

/* Computed, and rounded to the figures that stand here. */
static const struct identity rounded[] = {
	{ "1 gal/1000 ft2", "1 gal/acre", QUANTITY_VOLUME_PER_AREA, 43.56,
	    1e-9 },
	{ "1 gal/1000 ft2", "1 L/ha", QUANTITY_VOLUME_PER_AREA, 407.458, 5e-4 },
	{ "1 gal/1000 ft2", "1 L/100 m2", QUANTITY_VOLUME_PER_AREA, 4.0746,
	    5e-5 },
	{ "1 gal/acre", "1 L/ha", QUANTITY_VOLUME_PER_AREA, 9.353956, 5e-7 },
	{ "1 lb/acre", "1 kg/ha", QUANTITY_MASS_PER_AREA, 1.120851, 5e-7 },
	{ "1 oz/acre", "1 g/ha", QUANTITY_MASS_PER_AREA, 70.0532, 5e-5 },
	{ "1 fl oz/acre", "1 mL/ha", QUANTITY_VOLUME_PER_AREA, 73.0778, 5e-5 },
	{ "1 oz/1000 ft2", "1 g/100 m2", QUANTITY_MASS_PER_AREA, 30.5152,
	    5e-5 },
	{ "1 fl oz/1000 ft2", "1 mL/100 m2", QUANTITY_VOLUME_PER_AREA, 31.8327,
	    5e-5 },
};

static void
check_identities(const struct identity *row, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		double ratio = quantity(row[i].text, row[i].kind) /
			       quantity(row[i].same, row[i].kind);
		check_row(i, ratio, row[i].times,
		    row[i].tolerance + 1e-14 * row[i].times);
	}
}

static void
keeps_the_units_as_they_are_defined(void **state)
{
	(void)state;
	check_identities(defined, sizeof defined / sizeof defined[0]);
	assert_close(
	    quantity("85 degF", QUANTITY_TEMPERATURE) * 1.8 + 32, 85, 1e-12);
}

static void
keeps_the_rates_of_the_trade(void **state)
{
	(void)state;
	check_identities(rounded, sizeof rounded / sizeof rounded[0]);
}

/*
 * gal/acre of 1 gal/min over a swath of 1 in at 1 mph: 43560 x 12 x 60 / 5280.
 * 5940 and 46.4 (of 1 fl oz/min) are printed by Albany County Weed & Pest,
 * read; 495 (of a foot) by Mesa County, read.
 */
static void
keeps_the_factors_of_the_nozzle_formula(void **state)
{
	(void)state;
	static const struct {
		const char *flow, *swath;
		double printed, tolerance;
	} rows[] = { { "1 gal/min", "1 in", 5940, 1e-9 },
		{ "1 fl oz/min", "1 in", 46.4, 0.05 },
		{ "1 gal/min", "1 ft", 495, 1e-9 } };
	double gpa = quantity("1 gal/acre", QUANTITY_VOLUME_PER_AREA);
	double mph = quantity("1 mph", QUANTITY_SPEED);
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		double swath = quantity(rows[i].swath, QUANTITY_LENGTH);
		double flow = quantity(rows[i].flow, QUANTITY_VOLUME_PER_TIME);
		check_row(i, flow / (swath * mph) / gpa, rows[i].printed,
		    rows[i].tolerance);
	}
}

struct conversion {
	const char *unit;
	enum quantity_kind kind;
	double factor, offset;
};

/* Names as public forecast documents hold them. */
static const struct conversion conversions[] = {
	{ "degC", QUANTITY_TEMPERATURE, 1, 0 },
	{ "celsius", QUANTITY_TEMPERATURE, 1, 0 },
	{ "Cel", QUANTITY_TEMPERATURE, 1, 0 },
	{ "[degF]", QUANTITY_TEMPERATURE, 5.0 / 9.0, -160.0 / 9.0 },
	{ "°F", QUANTITY_TEMPERATURE, 5.0 / 9.0, -160.0 / 9.0 },
	{ "K", QUANTITY_TEMPERATURE, 1, -273.15 },
	{ "km_h-1", QUANTITY_SPEED, 1 / 3.6, 0 },
	{ "km/h", QUANTITY_SPEED, 1 / 3.6, 0 },
	{ "kmh", QUANTITY_SPEED, 1 / 3.6, 0 },
	{ "m_s-1", QUANTITY_SPEED, 1, 0 },
	{ "m/s", QUANTITY_SPEED, 1, 0 },
	{ "mp/h", QUANTITY_SPEED, 0.44704, 0 },
	{ "[mi_i]/h", QUANTITY_SPEED, 0.44704, 0 },
	{ "kn", QUANTITY_SPEED, 1852.0 / 3600.0, 0 },
	{ "[kn_i]", QUANTITY_SPEED, 1852.0 / 3600.0, 0 },
	{ "mm", QUANTITY_RAIN, 1, 0 },
	{ "inch", QUANTITY_RAIN, 25.4, 0 },
	{ "kg_m-2", QUANTITY_RAIN, 1, 0 },
	{ "percent", QUANTITY_PERCENT, 1, 0 },
	{ "%", QUANTITY_PERCENT, 1, 0 },
	{ "degree_(angle)", QUANTITY_ANGLE, 1, 0 },
	{ "degrees", QUANTITY_ANGLE, 1, 0 },
	{ "°", QUANTITY_ANGLE, 1, 0 },
	{ "deg", QUANTITY_ANGLE, 1, 0 },
	{ "s", QUANTITY_SPAN, 1, 0 },
	{ "1", QUANTITY_NUMBER, 1, 0 },
	{ "", QUANTITY_NUMBER, 1, 0 },
};

static void
knows_the_units_of_documents(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof conversions / sizeof conversions[0];
	     i++) {
		const struct conversion *row = &conversions[i];
		double factor = NAN, offset = NAN;
		if (!unit_conversion(row->unit, row->kind, &factor, &offset))
			fail_msg("'%s' is unknown", row->unit);
		check_row(i, factor, row->factor, 1e-12);
		check_row(i, offset, row->offset, 1e-12);
	}
}

static void
refuses_a_document_unit_of_another_dimension(void **state)
{
	(void)state;
	double factor = -7, offset = -7;
	assert_false(unit_conversion("degC", QUANTITY_SPEED, &factor, &offset));
	assert_false(unit_conversion(
	    "degree_(angle)", QUANTITY_TEMPERATURE, &factor, &offset));
	assert_false(unit_conversion("m", QUANTITY_RAIN, &factor, &offset));
	assert_false(
	    unit_conversion("furlong", QUANTITY_LENGTH, &factor, &offset));
	assert_false(unit_conversion("", QUANTITY_SPEED, &factor, &offset));
	assert_false(unit_conversion(NULL, QUANTITY_SPEED, &factor, &offset));
	assert_true(factor == -7 && offset == -7);
}

static void
holds_each_name_once(void **state)
{
	(void)state;
	for (size_t i = 0; unit_at(i) != NULL; i++) {
		for (size_t j = 0; j < i; j++)
			assert_string_not_equal(
			    unit_at(i)->name, unit_at(j)->name);
		assert_true(unit_at(i)->factor > 0);
	}
	/* A name in another case is found only when it is the only one. */
	assert_non_null(unit_find("Gal", false));
	assert_null(unit_find("CM", false));
	assert_null(unit_find("Cel", false));
	assert_non_null(unit_find("Cel", true));
}

static void
a_rate_is_by_weight_or_volume_on_the_ground_or_in_the_mix(void **state)
{
	(void)state;
	for (int kind = 0; kind < QUANTITY_KINDS; kind++) {
		assert_int_equal(quantity_is_by_mass((enum quantity_kind)kind),
		    kind == QUANTITY_MASS_PER_AREA ||
			kind == QUANTITY_MASS_PER_VOLUME);
		assert_int_equal(quantity_is_per_area((enum quantity_kind)kind),
		    kind == QUANTITY_MASS_PER_AREA ||
			kind == QUANTITY_VOLUME_PER_AREA);
	}
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(keeps_the_units_as_they_are_defined),
		cmocka_unit_test(keeps_the_rates_of_the_trade),
		cmocka_unit_test(keeps_the_factors_of_the_nozzle_formula),
		cmocka_unit_test(knows_the_units_of_documents),
		cmocka_unit_test(refuses_a_document_unit_of_another_dimension),
		cmocka_unit_test(holds_each_name_once),
		cmocka_unit_test(
		    a_rate_is_by_weight_or_volume_on_the_ground_or_in_the_mix),
	};
	return RUN_TESTS(tests);
}
