#include "unit/test.h"

#include "physics/units.h"

struct reading {
	const char *text;
	enum quantity_kind kind;
	double wanted;
};

/*
 * Wanted values: NIST Handbook 44 Appendix C and SP 811 (exact factors);
 * compound rates as GNU units 2.22 prints them.
 */
static const struct reading readings[] = {
	{ "85 degF", QUANTITY_TEMPERATURE, 29.4444444444444 },
	{ "85°F", QUANTITY_TEMPERATURE, 29.4444444444444 },
	{ "85 F", QUANTITY_TEMPERATURE, 29.4444444444444 },
	{ "85 deg F", QUANTITY_TEMPERATURE, 29.4444444444444 },
	{ "32 °F", QUANTITY_TEMPERATURE, 0 },
	{ "-40 degF", QUANTITY_TEMPERATURE, -40 },
	{ "-3.5 °C", QUANTITY_TEMPERATURE, -3.5 },
	{ "20 C", QUANTITY_TEMPERATURE, 20 },
	{ "273.15 K", QUANTITY_TEMPERATURE, 0 },
	{ "10 degF", QUANTITY_TEMPERATURE_DIFFERENCE, 5.55555555555556 },
	{ "8 °C", QUANTITY_TEMPERATURE_DIFFERENCE, 8 },
	{ "8 K", QUANTITY_TEMPERATURE_DIFFERENCE, 8 },
	{ "10 mph", QUANTITY_SPEED, 4.4704 },
	{ "10 MPH", QUANTITY_SPEED, 4.4704 },
	{ "10 mi/h", QUANTITY_SPEED, 4.4704 },
	{ "36 km/h", QUANTITY_SPEED, 10 },
	{ "36kph", QUANTITY_SPEED, 10 },
	{ "3 m/s", QUANTITY_SPEED, 3 },
	{ "4.4 ft/s", QUANTITY_SPEED, 1.34112 },
	{ "264 ft/min", QUANTITY_SPEED, 1.34112 },
	{ "1 kn", QUANTITY_SPEED, 0.514444444444444 },
	{ "2 knots", QUANTITY_SPEED, 1.02888888888889 },
	{ "20 in", QUANTITY_LENGTH, 0.508 },
	{ "1 mi", QUANTITY_LENGTH, 1609.344 },
	{ "6 feet", QUANTITY_LENGTH, 1.8288 },
	{ "45 cm", QUANTITY_LENGTH, 0.45 },
	{ "0.25 in", QUANTITY_RAIN, 6.35 },
	{ ".5 inch", QUANTITY_RAIN, 12.7 },
	{ "6 mm", QUANTITY_RAIN, 6 },
	{ "2 cm", QUANTITY_RAIN, 20 },
	{ "90 s", QUANTITY_SPAN, 90 },
	{ "45 min", QUANTITY_SPAN, 2700 },
	{ "12 hours", QUANTITY_SPAN, 43200 },
	{ "21 d", QUANTITY_SPAN, 1814400 },
	{ "1.5 h", QUANTITY_SPAN, 5400 },
	{ "1 h 30 min", QUANTITY_SPAN, 5400 },
	{ "1h30min", QUANTITY_SPAN, 5400 },
	{ "2 d 4 h", QUANTITY_SPAN, 187200 },
	{ "-1 h 30 min", QUANTITY_SPAN, -5400 },
	{ "1 d 0.5 h", QUANTITY_SPAN, 88200 },
	{ "1000 ft2", QUANTITY_AREA, 92.90304 },
	{ "1000 sq ft", QUANTITY_AREA, 92.90304 },
	{ "1000 ft^2", QUANTITY_AREA, 92.90304 },
	{ "5,000 ft²", QUANTITY_AREA, 464.5152 },
	{ "1,250,000 ft2", QUANTITY_AREA, 116128.8 },
	{ "1 acre", QUANTITY_AREA, 4046.8564224 },
	{ "2 ha", QUANTITY_AREA, 20000 },
	{ "350 m2", QUANTITY_AREA, 350 },
	{ "4 gal", QUANTITY_VOLUME, 15.141647136 },
	{ "1 qt", QUANTITY_VOLUME, 0.946352946 },
	{ "1 pt", QUANTITY_VOLUME, 0.473176473 },
	{ "1 fl oz", QUANTITY_VOLUME, 0.0295735295625 },
	{ "1 floz", QUANTITY_VOLUME, 0.0295735295625 },
	{ "1  fl   oz ", QUANTITY_VOLUME, 0.0295735295625 },
	{ "1 tbsp", QUANTITY_VOLUME, 0.01478676478125 },
	{ "1 tsp", QUANTITY_VOLUME, 0.00492892159375 },
	{ "250 cc", QUANTITY_VOLUME, 0.25 },
	{ "250 mL", QUANTITY_VOLUME, 0.25 },
	{ "15 l", QUANTITY_VOLUME, 15 },
	{ "1 oz", QUANTITY_MASS, 28.349523125 },
	{ "1 lb", QUANTITY_MASS, 453.59237 },
	{ "12 g", QUANTITY_MASS, 12 },
	{ "500 mg", QUANTITY_MASS, 0.5 },
	{ "2 kg", QUANTITY_MASS, 2000 },
	{ "1 fl oz/acre", QUANTITY_VOLUME_PER_AREA, 7.30777830387e-6 },
	{ "1.5 fl oz/1000 ft2", QUANTITY_VOLUME_PER_AREA, 4.774902343755e-4 },
	{ "1.5 fl oz / 1,000 sq ft", QUANTITY_VOLUME_PER_AREA,
	    4.774902343755e-4 },
	{ "1 gal/1000 ft2", QUANTITY_VOLUME_PER_AREA, 0.0407458333333 },
	{ "60 mL/100 m2", QUANTITY_VOLUME_PER_AREA, 6e-4 },
	{ "200 L/ha", QUANTITY_VOLUME_PER_AREA, 0.02 },
	{ "1 oz/acre", QUANTITY_MASS_PER_AREA, 0.00700531972622 },
	{ "1 oz/1000 ft2", QUANTITY_MASS_PER_AREA, 0.305151727274 },
	{ "1 lb/acre", QUANTITY_MASS_PER_AREA, 0.112085115619 },
	{ "0.25 %", QUANTITY_VOLUME_PER_VOLUME, 0.0025 },
	{ "1 fl oz/gal", QUANTITY_VOLUME_PER_VOLUME, 0.0078125 },
	{ "1 tsp/gal", QUANTITY_VOLUME_PER_VOLUME, 0.00130208333333 },
	{ "5 mL/L", QUANTITY_VOLUME_PER_VOLUME, 0.005 },
	{ "3.2 g/gal", QUANTITY_MASS_PER_VOLUME, 0.8453505675456 },
	{ "1000 ft2/10 min", QUANTITY_AREA_PER_TIME, 0.1548384 },
	{ "0.4 gal/min", QUANTITY_VOLUME_PER_TIME, 0.02523607856 },
	{ "12 fl oz/min", QUANTITY_VOLUME_PER_TIME, 0.0059147059125 },
	{ "1.5 L/min", QUANTITY_VOLUME_PER_TIME, 0.025 },
	{ "480 mL/min", QUANTITY_VOLUME_PER_TIME, 0.008 },
	{ "1 qt/30 s", QUANTITY_VOLUME_PER_TIME, 0.0315450982 },
	{ "30 %", QUANTITY_PERCENT, 30 },
	{ "30 percent", QUANTITY_PERCENT, 30 },
	{ "225 deg", QUANTITY_ANGLE, 225 },
	{ "225°", QUANTITY_ANGLE, 225 },
	{ "3", QUANTITY_NUMBER, 3 },
	{ "-97.5", QUANTITY_NUMBER, -97.5 },
};

static void
reads_what_people_write(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof readings / sizeof readings[0]; i++) {
		const struct reading *reading = &readings[i];
		double value = NAN;
		struct error error = { 0 };
		if (!quantity_parse(
			reading->text, reading->kind, &value, &error))
			fail_msg("%s", error.text);
		double tolerance = 1e-11 * fmax(fabs(reading->wanted), 1e-3);
		if (!(fabs(value - reading->wanted) <= tolerance))
			fail_msg("'%s' is %.15g, wanted %.15g", reading->text,
			    value, reading->wanted);
	}
}

struct refusal {
	const char *text;
	enum quantity_kind kind;
	const char *reason; /* part of the sentence */
};

static const struct refusal refusals[] = {
	{ "", QUANTITY_SPEED, "no number" },
	{ "mph", QUANTITY_SPEED, "no number" },
	{ "-", QUANTITY_SPEED, "no number" },
	{ "5. mph", QUANTITY_SPEED, "no number" },
	{ "85", QUANTITY_TEMPERATURE, "a unit is missing" },
	{ "30", QUANTITY_PERCENT, "a unit is missing" },
	{ "85 hrz", QUANTITY_TEMPERATURE, "unknown unit 'hrz'" },
	{ "12 hours of", QUANTITY_SPAN, "is not a time span" },
	{ "10 mph", QUANTITY_TEMPERATURE, "'mph' is for a speed" },
	{ "85 degrees", QUANTITY_TEMPERATURE, "'degrees' is for an angle" },
	{ "5 m", QUANTITY_SPAN, "'m' is for a length" },
	{ "nan mph", QUANTITY_SPEED, "no number" },
	{ "inf mph", QUANTITY_SPEED, "no number" },
	{ "0x10 mph", QUANTITY_SPEED, "unknown unit 'x10 mph'" },
	{ "1e3 mph", QUANTITY_SPEED, "unknown unit 'e3 mph'" },
	{ "1.2.3 mph", QUANTITY_SPEED, "unknown unit" },
	{ "3 to 10 mph", QUANTITY_SPEED, "unknown unit" },
	{ "1/2 gal", QUANTITY_VOLUME, "missing beside the '/'" },
	{ "1 gal/", QUANTITY_VOLUME_PER_AREA, "missing beside the '/'" },
	{ "1 gal/1000", QUANTITY_VOLUME_PER_AREA, "missing beside the '/'" },
	{ "1 gal/0 ft2", QUANTITY_VOLUME_PER_AREA, "must be over 0" },
	{ "1 gal/-5 ft2", QUANTITY_VOLUME_PER_AREA, "must be over 0" },
	{ "1 gal/ft2/h", QUANTITY_VOLUME_PER_AREA, "unknown unit 'ft2/h'" },
	{ "1 gal/h", QUANTITY_VOLUME_PER_AREA, "a volume per time span" },
	{ "1 gal", QUANTITY_VOLUME_PER_AREA, "'gal' is for a volume" },
	{ "1 gal", QUANTITY_VOLUME_PER_TIME, "'gal' is for a volume" },
	{ "12 oz/min", QUANTITY_VOLUME_PER_TIME, "dry ounce; write fl oz" },
	{ "3 %", QUANTITY_NUMBER, "'%' is for a percentage" },
	{ "3 ft", QUANTITY_RAIN, "'ft' is for a length" },
	{ "1 m", QUANTITY_RAIN, "'m' is for a length" },
	{ "5 kg_m-2", QUANTITY_RAIN, "unknown unit" },
	{ "5 kt", QUANTITY_SPEED, "unknown unit" },
	/* Case is meaning: megalitres, megagrams, megametres, farads... */
	{ "5 ML", QUANTITY_VOLUME, "unknown unit 'ML'" },
	{ "5 Mg", QUANTITY_MASS, "unknown unit 'Mg'" },
	{ "5 MM", QUANTITY_RAIN, "unknown unit 'MM'" },
	{ "85 f", QUANTITY_TEMPERATURE, "unknown unit 'f'" },
	/* A decimal comma is never read as thousands, nor the other way. */
	{ "1,5 L", QUANTITY_VOLUME, "without a comma" },
	{ "1,500 L", QUANTITY_VOLUME, "without a comma" },
	{ "1,500 fl oz", QUANTITY_VOLUME, "without a comma" },
	{ "1,500 m2", QUANTITY_AREA, "without a comma" },
	{ "0,500 ft2", QUANTITY_AREA, "without a comma" },
	{ "5,00 ft2", QUANTITY_AREA, "without a comma" },
	{ "1,500", QUANTITY_NUMBER, "without a comma" },
	{ "1 mL/1,000 m2", QUANTITY_VOLUME_PER_AREA, "without a comma" },
	/* Spans: parts descend, are whole but the last, and once each. */
	{ "30 min 1 h", QUANTITY_SPAN, "unknown unit" },
	{ "1 h 1 h", QUANTITY_SPAN, "unknown unit" },
	{ "1.5 h 10 min", QUANTITY_SPAN, "unknown unit" },
	{ "1 h -10 min", QUANTITY_SPAN, "unknown unit" },
	{ "1 h 30", QUANTITY_SPAN, "unknown unit" },
	{ "1 h 30 mm", QUANTITY_SPAN, "unknown unit" },
};

static void
refuse(const struct refusal *refusal)
{
	double value = -7;
	struct error error = { 0 };
	if (quantity_parse(refusal->text, refusal->kind, &value, &error))
		fail_msg("'%s' was read as %g", refusal->text, value);
	assert_true(value == -7);
	assert_int_equal(error.kind, ERROR_INPUT);
	assert_contains(error.text, refusal->text);
	assert_contains(error.text, refusal->reason);
}

static void
refuses_the_rest_and_quotes_it(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof refusals / sizeof refusals[0]; i++)
		refuse(&refusals[i]);
}

static void
refuses_a_number_out_of_range(void **state)
{
	(void)state;
	char text[512];
	memset(text, '9', 50);
	memcpy(text + 50, " mph", 5);
	double value = -7;
	struct error error;
	assert_true(quantity_parse(text, QUANTITY_SPEED, &value, NULL));
	memset(text, '9', 400);
	memcpy(text + 400, " mph", 5);
	value = -7;
	assert_false(quantity_parse(text, QUANTITY_SPEED, &value, &error));
	assert_true(value == -7);
	assert_contains(error.text, "shorter");
	/* A tiny number under the '/' makes the rate infinite or nearly so. */
	assert_false(quantity_parse("99999999999 gal/0."
				    "0000000000000000000000000000000000 ft2",
	    QUANTITY_VOLUME_PER_AREA, &value, &error));
	assert_true(value == -7);
}

/* Rates by weight are dry ounces: a spoon or a jug gives a wrong dose. */
static void
tells_a_dry_ounce_from_a_fluid_ounce(void **state)
{
	(void)state;
	double value = -7;
	struct error error;
	assert_false(quantity_parse("2 oz", QUANTITY_VOLUME, &value, &error));
	assert_string_equal(error.text,
	    "'2 oz' is not a volume: 'oz' is a dry ounce; write fl oz");
	assert_false(
	    quantity_parse("2 ounces", QUANTITY_VOLUME, &value, &error));
	assert_contains(error.text, "dry ounce; write fl oz");
	assert_false(quantity_parse(
	    "2 oz/1000 ft2", QUANTITY_VOLUME_PER_AREA, &value, &error));
	assert_contains(error.text, "dry ounce; write fl oz");
	assert_false(quantity_parse(
	    "2 oz/gal", QUANTITY_VOLUME_PER_VOLUME, &value, &error));
	assert_contains(error.text, "dry ounce; write fl oz");
	assert_false(quantity_parse("2 fl oz", QUANTITY_MASS, &value, &error));
	assert_contains(error.text, "'fl oz' is for a volume");
	assert_true(value == -7);
}

static void
finds_the_kind_among_several(void **state)
{
	(void)state;
	static const enum quantity_kind kinds[] = { QUANTITY_VOLUME_PER_AREA,
		QUANTITY_MASS_PER_AREA, QUANTITY_VOLUME_PER_VOLUME,
		QUANTITY_MASS_PER_VOLUME };
	double value = -7;
	enum quantity_kind kind = QUANTITY_KINDS;
	struct error error;
	assert_false(
	    quantity_parse_any("3 mph", kinds, 4, &value, &kind, &error));
	assert_true(value == -7);
	assert_int_equal(kind, QUANTITY_KINDS);
	assert_string_equal(error.text,
	    "'3 mph' is not a volume per area or a mass per area or a volume "
	    "per volume or a mass per volume: 'mph' is for a speed; write it "
	    "like '1.5 fl oz/1000 ft2'");
	assert_true(quantity_parse_any(
	    "1 oz/1000 ft2", kinds, 4, &value, &kind, &error));
	assert_int_equal(kind, QUANTITY_MASS_PER_AREA);
	assert_close(value, 0.305151727274, 1e-12);
	assert_true(
	    quantity_parse_any("0.5 %", kinds, 4, &value, &kind, &error));
	assert_int_equal(kind, QUANTITY_VOLUME_PER_VOLUME);
	assert_true(
	    quantity_parse_any("3.2 g/gal", kinds, 4, &value, &kind, &error));
	assert_int_equal(kind, QUANTITY_MASS_PER_VOLUME);
}

static void
names_every_kind(void **state)
{
	(void)state;
	for (int kind = 0; kind < QUANTITY_KINDS; kind++)
		assert_true(
		    strlen(quantity_kind_name((enum quantity_kind)kind)) > 3);
	assert_string_equal(
	    quantity_kind_name(QUANTITY_TEMPERATURE), "air temperature");
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(reads_what_people_write),
		cmocka_unit_test(refuses_the_rest_and_quotes_it),
		cmocka_unit_test(refuses_a_number_out_of_range),
		cmocka_unit_test(tells_a_dry_ounce_from_a_fluid_ounce),
		cmocka_unit_test(finds_the_kind_among_several),
		cmocka_unit_test(names_every_kind),
	};
	return RUN_TESTS(tests);
}
