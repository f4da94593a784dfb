#include "unit/test.h"

#include "physics/units.h"

/* assert_close for loops: says which turn of the loop it was. */
static void
check_row(size_t row, double value, double wanted, double tolerance)
{
	if (!(fabs(value - wanted) <= tolerance))
		fail_msg("row %zu is %.10g, wanted %.10g (within %g)", row,
		    value, wanted, tolerance);
}

struct print {
	double value;
	enum quantity_kind kind;
	const char *us;
	const char *metric;
};

static const struct print prints[] = {
	{ 29.4444444, QUANTITY_TEMPERATURE, "85 °F", "29.4 °C" },
	{ 0, QUANTITY_TEMPERATURE, "32 °F", "0 °C" },
	{ -0.001, QUANTITY_TEMPERATURE, "32 °F", "0 °C" },
	{ -17.78, QUANTITY_TEMPERATURE, "0 °F", "-17.8 °C" },
	{ 20.3, QUANTITY_TEMPERATURE, "68.5 °F", "20.3 °C" },
	/* A difference has no 32 in it: 1 K is 1.8 degF. */
	{ 2, QUANTITY_TEMPERATURE_DIFFERENCE, "3.6 °F", "2 °C" },
	{ 0, QUANTITY_TEMPERATURE_DIFFERENCE, "0 °F", "0 °C" },
	{ 4.4704, QUANTITY_SPEED, "10 mph", "16.1 km/h" },
	{ 5, QUANTITY_SPEED, "11.2 mph", "18 km/h" },
	{ 0.508, QUANTITY_LENGTH, "20 in", "50.8 cm" },
	{ 1.8288, QUANTITY_LENGTH, "6 ft", "1.83 m" },
	{ 6.35, QUANTITY_RAIN, "0.25 in", "6.3 mm" },
	{ 12.7, QUANTITY_RAIN, "0.5 in", "12.7 mm" },
	{ 25.4, QUANTITY_RAIN, "1 in", "25.4 mm" },
	{ 0.25, QUANTITY_RAIN, "0.01 in", "0.2 mm" },
	{ 464.5152, QUANTITY_AREA, "5,000 ft2", "465 m2" },
	{ 92.90304, QUANTITY_AREA, "1,000 ft2", "93 m2" },
	{ 92.8, QUANTITY_AREA, "999 ft2", "93 m2" },
	{ 116128.8, QUANTITY_AREA, "1,250,000 ft2", "116129 m2" },
	{ 0.5, QUANTITY_AREA, "5.4 ft2", "0.5 m2" },
	{ 15.141647136, QUANTITY_VOLUME, "4 gal", "15.1 L" },
	{ 3.785411784, QUANTITY_VOLUME, "1 gal", "3.79 L" },
	{ 0.0443602943, QUANTITY_VOLUME, "1.5 fl oz", "44.4 mL" },
	{ 0.0049289216, QUANTITY_VOLUME, "0.167 fl oz", "4.93 mL" },
	{ 0, QUANTITY_VOLUME, "0 fl oz", "0 mL" },
	{ 2.4, QUANTITY_MASS, "2.4 g", "2.4 g" },
	/* A small dose keeps its figures, and is never none. */
	{ 0.0065066, QUANTITY_MASS, "0.00651 g", "0.00651 g" },
	{ 0.00002, QUANTITY_MASS, "0.00002 g", "0.00002 g" },
	{ 0.0005, QUANTITY_VOLUME, "0.0169 fl oz", "0.5 mL" },
	{ 28.3, QUANTITY_MASS, "28.3 g", "28.3 g" },
	{ 28.349523125, QUANTITY_MASS, "1 oz", "28.3 g" },
	/* A rounding error below the ounce is still the ounce. */
	{ 28.34952312499, QUANTITY_MASS, "1 oz", "28.3 g" },
	{ 680.388555, QUANTITY_MASS, "1.5 lb", "680 g" },
	{ 4.774902343755e-4, QUANTITY_VOLUME_PER_AREA, "1.5 fl oz/1000 ft2",
	    "47.7 mL/100 m2" },
	{ 0.0407458333333, QUANTITY_VOLUME_PER_AREA, "1 gal/1000 ft2",
	    "4.07 L/100 m2" },
	{ 0.305151727274, QUANTITY_MASS_PER_AREA, "1 oz/1000 ft2",
	    "30.5 g/100 m2" },
	{ 0.1, QUANTITY_MASS_PER_AREA, "9.29 g/1000 ft2", "10 g/100 m2" },
	{ 0.0078125, QUANTITY_VOLUME_PER_VOLUME, "1 fl oz/gal", "7.81 mL/L" },
	{ 0.0025, QUANTITY_VOLUME_PER_VOLUME, "0.32 fl oz/gal", "2.5 mL/L" },
	{ 0.8453505675, QUANTITY_MASS_PER_VOLUME, "3.2 g/gal", "0.845 g/L" },
	{ 1.548384, QUANTITY_AREA_PER_TIME, "1,000 ft2/min", "93 m2/min" },
	{ 0.02523607856, QUANTITY_VOLUME_PER_TIME, "0.4 gal/min",
	    "1.51 L/min" },
	{ 0.0059147059125, QUANTITY_VOLUME_PER_TIME, "12 fl oz/min",
	    "355 mL/min" },
	{ 0.01577254909999, QUANTITY_VOLUME_PER_TIME, "0.25 gal/min",
	    "946 mL/min" },
	{ 30, QUANTITY_PERCENT, "30 %", "30 %" },
	{ 99.96, QUANTITY_PERCENT, "100 %", "100 %" },
	{ 225, QUANTITY_ANGLE, "225°", "225°" },
	{ -0.8333, QUANTITY_ANGLE, "-0.8°", "-0.8°" },
	{ 21, QUANTITY_NUMBER, "21", "21" },
	{ 100, QUANTITY_NUMBER, "100", "100" },
	{ 2.5, QUANTITY_NUMBER, "2.5", "2.5" },
	{ -0.0, QUANTITY_NUMBER, "0", "0" },
	{ 5400, QUANTITY_SPAN, "1 h 30 min", "1 h 30 min" },
	{ 1e20, QUANTITY_NUMBER, "1e+20", "1e+20" },
};

static void
prints_as_the_keeper_reads(void **state)
{
	(void)state;
	char buffer[QUANTITY_BUFFER];
	for (size_t i = 0; i < sizeof prints / sizeof prints[0]; i++) {
		const struct print *row = &prints[i];
		assert_string_equal(quantity_print(buffer, sizeof buffer,
					row->value, row->kind, UNITS_US),
		    row->us);
		assert_string_equal(quantity_print(buffer, sizeof buffer,
					row->value, row->kind, UNITS_METRIC),
		    row->metric);
	}
}

static void
prints_unknown_for_what_is_not_known(void **state)
{
	(void)state;
	char buffer[QUANTITY_BUFFER];
	for (int kind = 0; kind < QUANTITY_KINDS; kind++) {
		assert_string_equal(quantity_print(buffer, sizeof buffer, NAN,
					(enum quantity_kind)kind, UNITS_US),
		    "unknown");
		assert_string_equal(
		    quantity_print(buffer, sizeof buffer, -HUGE_VAL,
			(enum quantity_kind)kind, UNITS_METRIC),
		    "unknown");
	}
}

/* Half of the last figure that stands in a printed quantity. */
static double
read_precision(const char *printed, enum quantity_kind kind)
{
	char unit[2 * QUANTITY_BUFFER];
	double one = 0, none = 0;
	size_t digits = strspn(printed, "-0123456789,");
	size_t decimals = 0;
	if (printed[digits] == '.')
		decimals = strspn(printed + digits + 1, "0123456789");
	const char *label = printed + digits + decimals + (decimals > 0);
	(void)snprintf(unit, sizeof unit, "1%s", label);
	assert_true(quantity_parse(unit, kind, &one, NULL));
	unit[0] = '0';
	assert_true(quantity_parse(unit, kind, &none, NULL));
	return 0.5 * (one - none) * pow(10, -(double)decimals);
}

static void
check_round_trip(double value, enum quantity_kind kind, enum unit_system system)
{
	char first[QUANTITY_BUFFER], second[QUANTITY_BUFFER];
	double again = NAN;
	struct error error = { 0 };
	quantity_print(first, sizeof first, value, kind, system);
	if (!quantity_parse(first, kind, &again, &error))
		fail_msg("%s", error.text);
	quantity_print(second, sizeof second, again, kind, system);
	assert_string_equal(second, first);
	assert_null(strstr(first, "-0 "));
	/* A span is whole seconds below an hour, then whole minutes. */
	double within = kind != QUANTITY_SPAN
			    ? read_precision(first, kind)
			    : (fabs(value) < 3599.5 ? 0.5 : 30);
	if (!(fabs(again - value) <= within + 1e-9 * fabs(value)))
		fail_msg("%.10g is printed as %s", value, first);
}

/*
 * What is printed can be typed again: it is the value to the last figure that
 * was printed, and prints the same the second time.
 */
static void
reads_back_what_it_prints(void **state)
{
	(void)state;
	for (int i = 0; i < QUANTITY_KINDS * 2 * 400; i++) {
		enum quantity_kind kind =
		    (enum quantity_kind)(i % QUANTITY_KINDS);
		enum unit_system system =
		    i / QUANTITY_KINDS % 2 == 0 ? UNITS_US : UNITS_METRIC;
		int power = i / (QUANTITY_KINDS * 2);
		check_round_trip(
		    1e-6 * pow(1.08, power) * (i % 7 == 0 ? -1 : 1), kind,
		    system);
	}
}

/* What a person writes with three figures comes back as it was written. */
static void
keeps_three_figures_of_what_is_measured_out(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		enum quantity_kind kind;
		enum unit_system system;
	} rows[] = { { "2.25 gal", QUANTITY_VOLUME, UNITS_US },
		{ "0.125 fl oz", QUANTITY_VOLUME, UNITS_US },
		{ "750 mL", QUANTITY_VOLUME, UNITS_METRIC },
		{ "3.64 g", QUANTITY_MASS, UNITS_US },
		{ "1.25 lb", QUANTITY_MASS, UNITS_US },
		{ "0.365 g/1000 ft2", QUANTITY_MASS_PER_AREA, UNITS_US },
		{ "1.5 fl oz/1000 ft2", QUANTITY_VOLUME_PER_AREA, UNITS_US },
		{ "1.35 gal/1000 ft2", QUANTITY_VOLUME_PER_AREA, UNITS_US },
		{ "47.5 mL/100 m2", QUANTITY_VOLUME_PER_AREA, UNITS_METRIC },
		{ "0.32 fl oz/gal", QUANTITY_VOLUME_PER_VOLUME, UNITS_US },
		{ "3.2 g/gal", QUANTITY_MASS_PER_VOLUME, UNITS_US },
		{ "0.375 gal/min", QUANTITY_VOLUME_PER_TIME, UNITS_US },
		{ "480 mL/min", QUANTITY_VOLUME_PER_TIME, UNITS_METRIC } };
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		char printed[QUANTITY_BUFFER];
		double value = NAN;
		assert_true(
		    quantity_parse(rows[i].text, rows[i].kind, &value, NULL));
		assert_string_equal(quantity_print(printed, sizeof printed,
					value, rows[i].kind, rows[i].system),
		    rows[i].text);
	}
}

static void
gives_number_and_label_apart(void **state)
{
	(void)state;
	assert_close(
	    quantity_number(29.44444444, QUANTITY_TEMPERATURE, UNITS_US), 85,
	    1e-6);
	assert_string_equal(
	    quantity_unit(QUANTITY_TEMPERATURE, UNITS_US), "°F");
	assert_close(
	    quantity_number(2, QUANTITY_TEMPERATURE_DIFFERENCE, UNITS_US), 3.6,
	    1e-12);
	assert_string_equal(quantity_unit(QUANTITY_NUMBER, UNITS_US), "");
	assert_string_equal(quantity_unit(QUANTITY_SPAN, UNITS_US), "h");
	assert_close(
	    quantity_number(5400, QUANTITY_SPAN, UNITS_US), 1.5, 1e-12);
	assert_nan(quantity_number(NAN, QUANTITY_SPEED, UNITS_US));
	assert_false(signbit(quantity_number(-0.0, QUANTITY_SPEED, UNITS_US)));
}

/* Number and label of every kind together mean the value they came from. */
static void
number_and_label_read_back(void **state)
{
	(void)state;
	for (size_t i = 0; i < (size_t)QUANTITY_KINDS * 2; i++) {
		enum quantity_kind kind = (enum quantity_kind)(i / 2);
		enum unit_system system = i % 2 == 0 ? UNITS_US : UNITS_METRIC;
		char text[64];
		double value = NAN;
		(void)snprintf(text, sizeof text, "%.12f %s",
		    quantity_number(12.5, kind, system),
		    quantity_unit(kind, system));
		assert_true(quantity_parse(text, kind, &value, NULL));
		check_row(i, value, 12.5, 1e-9);
	}
}

static void
prints_spans_in_words(void **state)
{
	(void)state;
	static const struct {
		double seconds;
		const char *wanted;
	} rows[] = { { 0, "0 min" }, { -0.2, "0 min" }, { 1, "1 s" },
		{ 90, "1 min 30 s" }, { 2700, "45 min" }, { 3599.7, "1 h" },
		{ 3600, "1 h" }, { 43200, "12 h" }, { 86400, "24 h" },
		{ 129600, "36 h" }, { 172800, "2 d" }, { 187200, "2 d 4 h" },
		{ 1814400, "21 d" }, { 5400, "1 h 30 min" },
		{ 5429, "1 h 30 min" }, { 189000, "2 d 4 h 30 min" },
		{ 172799, "2 d" }, { -5400, "-1 h 30 min" }, { NAN, "unknown" },
		{ 9e14, "10416666666 d 16 h" } };
	char buffer[QUANTITY_BUFFER];
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
		assert_string_equal(
		    span_print(buffer, sizeof buffer, rows[i].seconds),
		    rows[i].wanted);
}

static void
stays_inside_a_small_buffer(void **state)
{
	(void)state;
	char buffer[12];
	for (size_t size = 1; size < 8; size++) {
		memset(buffer, '#', sizeof buffer);
		span_print(buffer, size, -189000);
		assert_true(strlen(buffer) < size);
		assert_int_equal(buffer[size], '#');
		memset(buffer, '#', sizeof buffer);
		quantity_print(buffer, size, 116128.8, QUANTITY_AREA, UNITS_US);
		assert_true(strlen(buffer) < size);
		assert_int_equal(buffer[size], '#');
	}
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(prints_as_the_keeper_reads),
		cmocka_unit_test(prints_unknown_for_what_is_not_known),
		cmocka_unit_test(reads_back_what_it_prints),
		cmocka_unit_test(keeps_three_figures_of_what_is_measured_out),
		cmocka_unit_test(gives_number_and_label_apart),
		cmocka_unit_test(number_and_label_read_back),
		cmocka_unit_test(prints_spans_in_words),
		cmocka_unit_test(stays_inside_a_small_buffer),
	};
	return RUN_TESTS(tests);
}
