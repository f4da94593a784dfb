/* What stands behind the settings of a card, and the sides of a site. */
#include "unit/test.h"

#include "config/card_values.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

static void
assert_same(const char *text, const char *wanted)
{
	if (wanted == NULL)
		assert_null(text);
	else
		assert_string_equal(text, wanted);
}

static void
a_limit_may_carry_its_words_and_their_place(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		struct said said; /* value NULL: refused */
	} rows[] = { { "12 h", { "12 h", NULL, NULL } },
		{ "  12 h ", { "12 h", NULL, NULL } },
		{ "12 h | No rain for 12 h",
		    { "12 h", "No rain for 12 h", NULL } },
		{ "12 h|dry|page 3", { "12 h", "dry", "page 3" } },
		{ "12 h | dry | page 3", { "12 h", "dry", "page 3" } },
		{ "12 h || page 3", { "12 h", NULL, "page 3" } },
		{ "12 h |  | page 3", { "12 h", NULL, "page 3" } },
		{ "12 h |", { 0 } }, { "12 h | dry |", { 0 } },
		{ "| dry", { 0 } }, { "|", { 0 } }, { "", { 0 } },
		{ " ", { 0 } }, { "12 h | a | b | c", { 0 } } };
	for (size_t i = 0; i < COUNT(rows); i++) {
		struct arena arena = { 0 };
		struct error error = { 0 };
		struct said said = { "x", "y", "z" };
		bool good = value_said(&arena, rows[i].text, &said, &error);
		if (good != (rows[i].said.value != NULL))
			fail_msg("'%s': %s", rows[i].text, error.text);
		assert_same(said.value, good ? rows[i].said.value : "x");
		assert_same(said.words, good ? rows[i].said.words : "y");
		assert_same(said.place, good ? rows[i].said.place : "z");
		assert_int_equal(error.kind, good ? ERROR_NONE : ERROR_INPUT);
		arena_release(&arena);
	}
}

static void
none_on_label_is_said_in_these_words_only(void **state)
{
	(void)state;
	assert_true(value_is_none("none on label"));
	static const char *const others[] = { "", "none", "None on label",
		"none on label ", "none on the label" };
	for (size_t i = 0; i < COUNT(others); i++)
		assert_false(value_is_none(others[i]));
}

static void
an_amount_of_water_comes_within_a_span(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		enum bound bound;
		double amount, span; /* NaN: refused */
	} rows[] = { { "0.5 in within 14 d", BOUND_BELOW, 12.7, 1209600 },
		{ "at most 0.5 in within 48 h", BOUND_AT_MOST, 12.7, 172800 },
		{ "at least 10 mm within 1 wk", BOUND_AT_LEAST, 10, 604800 },
		{ "below 10 mm within 1 h 30 min", BOUND_BELOW, 10, 5400 },
		{ "500 mm within 60 d", BOUND_BELOW, 500, 5184000 },
		{ "501 mm within 60 d", BOUND_BELOW, NAN, NAN },
		{ "0 in within 14 d", BOUND_BELOW, NAN, NAN },
		{ "-1 in within 14 d", BOUND_BELOW, NAN, NAN },
		{ "0.5 in within 61 d", BOUND_BELOW, NAN, NAN },
		{ "0.5 in within 59 min", BOUND_BELOW, NAN, NAN },
		{ "0.5 in", BOUND_BELOW, NAN, NAN },
		{ "within 14 d", BOUND_BELOW, NAN, NAN },
		{ " within 14 d", BOUND_BELOW, NAN, NAN },
		{ "0.5 in within ", BOUND_BELOW, NAN, NAN },
		{ "0.5 in within 14 d within 2 d", BOUND_BELOW, NAN, NAN },
		{ "0.5 h within 14 d", BOUND_BELOW, NAN, NAN },
		{ "0.5 in within 14 in", BOUND_BELOW, NAN, NAN },
		{ "0.5 in in 14 d", BOUND_BELOW, NAN, NAN },
		{ "", BOUND_BELOW, NAN, NAN } };
	for (size_t i = 0; i < COUNT(rows); i++) {
		enum bound bound = BOUND_BELOW;
		double amount = 4711, span = 4712;
		struct error error = { 0 };
		bool good =
		    value_within(rows[i].text, &bound, &amount, &span, &error);
		if (good == isnan(rows[i].amount))
			fail_msg("'%s': %s", rows[i].text, error.text);
		assert_int_equal(bound, good ? rows[i].bound : BOUND_BELOW);
		assert_close(amount, good ? rows[i].amount : 4711, 1e-9);
		assert_close(span, good ? rows[i].span : 4712, 1e-9);
		assert_int_equal(error.kind, good ? ERROR_NONE : ERROR_INPUT);
	}
}

static void
a_rate_of_a_season_is_per_area(void **state)
{
	(void)state;
	double rate = 4711;
	enum quantity_kind kind = QUANTITY_KINDS;
	assert_true(value_rate_per_area("2 g/m2", &rate, &kind, NULL));
	assert_close(rate, 2, 0);
	assert_int_equal(kind, QUANTITY_MASS_PER_AREA);
	assert_true(value_rate_per_area("1 L/ha", &rate, &kind, NULL));
	assert_close(rate, 1e-4, 1e-12);
	assert_int_equal(kind, QUANTITY_VOLUME_PER_AREA);
	static const char *const others[] = { "0.5 %", "3 g/gal", "0 g/m2",
		"3 g", "" };
	for (size_t i = 0; i < COUNT(others); i++) {
		struct error error = { 0 };
		assert_false(
		    value_rate_per_area(others[i], &rate, &kind, &error));
		assert_int_equal(error.kind, ERROR_INPUT);
		assert_close(rate, 1e-4, 1e-12);
	}
}

static void
dates_are_two_days_of_any_year(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		struct date_span span; /* month 0: refused */
	} rows[] = { { "02-15 to 05-31", { 2, 15, 5, 31 } },
		{ "11-01 to 02-29", { 11, 1, 2, 29 } }, /* over new year */
		{ "07-04 to 07-04", { 7, 4, 7, 4 } },
		{ "02-30 to 05-31", { 0 } }, { "02-15 to 13-01", { 0 } },
		{ "2-15 to 5-31", { 0 } }, { "02-15", { 0 } },
		{ "02-15 to", { 0 } }, { "02-15 to ", { 0 } },
		{ "02-15 - 05-31", { 0 } }, { "02-15 to 05-31 ", { 0 } },
		{ "2026-02-15 to 2026-05-31", { 0 } },
		{ "Feb 15 to May 31", { 0 } }, { "", { 0 } } };
	for (size_t i = 0; i < COUNT(rows); i++) {
		struct date_span span = { 0 };
		struct error error = { 0 };
		bool good = value_dates(rows[i].text, &span, &error);
		if (good != (rows[i].span.from_month != 0))
			fail_msg("'%s': %s", rows[i].text, error.text);
		assert_memory_equal(&span, &rows[i].span, sizeof span);
		assert_int_equal(error.kind, good ? ERROR_NONE : ERROR_INPUT);
	}
}

static void
an_active_has_a_content(void **state)
{
	(void)state;
	/* a pound in a gallon is 453.59237 g in 3.785411784 L */
	static const struct {
		const char *text, *name;
		double content; /* NaN: refused */
		bool is_liquid;
	} rows[] = { { "atrazine 480 g/L", "atrazine", 480, true },
		{ "atrazine 4 lb/gal", "atrazine", 4 * 453.59237 / 3.785411784,
		    true },
		{ "prodiamine 65 %", "prodiamine", 0.65, false },
		{ "2,4-D 46.3 %", "2,4-D", 0.463, false },
		{ "s-metolachlor 100 %", "s-metolachlor", 1, false },
		{ "prodiamine 101 %", NULL, NAN, false },
		{ "prodiamine 0 %", NULL, NAN, false },
		{ "prodiamine -1 %", NULL, NAN, false },
		{ "prodiamine 2001 g/L", NULL, NAN, false },
		{ "prodiamine 0.65", NULL, NAN, false },
		{ "prodiamine 65 g", NULL, NAN, false },
		{ "prodiamine 5 mL/L", NULL, NAN, false },
		{ "prodiamine", NULL, NAN, false },
		{ "prodiamine ", NULL, NAN, false },
		{ "65 %", NULL, NAN, false }, { " 65 %", NULL, NAN, false },
		{ "a/b 65 %", NULL, NAN, false },
		{ "prodiamine acid 65 %", NULL, NAN, false },
		{ "", NULL, NAN, false } };
	for (size_t i = 0; i < COUNT(rows); i++) {
		char name[LIMIT_NAME_BYTES + 1] = "before";
		struct active active = { .content = 4711 };
		struct error error = { 0 };
		bool good = value_active(rows[i].text, name, &active, &error);
		if (good == isnan(rows[i].content))
			fail_msg("'%s': %s", rows[i].text, error.text);
		assert_string_equal(name, good ? rows[i].name : "before");
		assert_close(
		    active.content, good ? rows[i].content : 4711, 1e-9);
		assert_int_equal(active.is_liquid, rows[i].is_liquid);
		assert_int_equal(error.kind, good ? ERROR_NONE : ERROR_INPUT);
	}
}

static void
an_active_has_a_maximum(void **state)
{
	(void)state;
	char name[LIMIT_NAME_BYTES + 1] = "before";
	double rate = 4711;
	static const char *const others[] = { "atrazine", "atrazine 2 lb",
		"atrazine 0 lb/acre", "atrazine 1 L/ha", "2 lb/acre",
		" 2 lb/acre", "a b 2 lb/acre", "" };
	for (size_t i = 0; i < COUNT(others); i++) {
		struct error error = { 0 };
		if (value_active_rate(others[i], name, &rate, &error))
			fail_msg("'%s' is taken", others[i]);
		assert_int_equal(error.kind, ERROR_INPUT);
		assert_string_equal(name, "before");
		assert_close(rate, 4711, 0);
	}
	assert_true(value_active_rate("2,4-D 2 g/m2", name, &rate, NULL));
	assert_string_equal(name, "2,4-D");
	assert_close(rate, 2, 0);
}

static void
a_partner_has_a_name_without_blanks(void **state)
{
	(void)state;
	char longest[LIMIT_NAME_BYTES + 2];
	memset(longest, 'n', sizeof longest);
	longest[LIMIT_NAME_BYTES] = '\0';
	const char *const good[] = { "2,4-D", "EC", "5", "post-a", longest };
	for (size_t i = 0; i < COUNT(good); i++)
		assert_true(value_partner(good[i], NULL));
	longest[LIMIT_NAME_BYTES] = 'n';
	longest[LIMIT_NAME_BYTES + 1] = '\0';
	const char *const bad[] = { "", "2,4-D amine", "a|b", longest };
	for (size_t i = 0; i < COUNT(bad); i++) {
		struct error error = { 0 };
		assert_false(value_partner(bad[i], &error));
		assert_int_equal(error.kind, ERROR_INPUT);
	}
}

static void
a_side_is_a_direction_and_what_lies_there(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		double bearing; /* NaN: refused */
		const char *what;
	} rows[] = { { "90 deg vegetable bed", 90, "vegetable bed" },
		{ "0 deg pond", 0, "pond" }, { "360 deg pond", 0, "pond" },
		{ "202.5 deg x", 202.5, "x" }, { "north pond", 0, "pond" },
		{ "North pond", 0, "pond" }, { "N pond", 0, "pond" },
		{ "northeast beds", 45, "beds" },
		{ "north-east beds", 45, "beds" }, { "NE beds", 45, "beds" },
		{ "east-southeast beds", 112.5, "beds" },
		{ "east-south-east beds", 112.5, "beds" },
		{ "ESE beds", 112.5, "beds" }, { "south x", 180, "x" },
		{ "ssw x", 202.5, "x" }, { "west x", 270, "x" },
		{ "NNW neighbour's roses", 337.5, "neighbour's roses" },
		{ "361 deg x", NAN, NULL }, { "-1 deg x", NAN, NULL },
		{ "90 x", NAN, NULL }, { "90 degF x", NAN, NULL },
		{ "90 deg", NAN, NULL }, { "90 deg ", NAN, NULL },
		{ "north", NAN, NULL }, { "north ", NAN, NULL },
		{ "NN x", NAN, NULL }, { "NNEE x", NAN, NULL },
		{ "NEN x", NAN, NULL }, { "northward x", NAN, NULL },
		{ "northwards x", NAN, NULL }, { "-north x", NAN, NULL },
		{ "north- x", NAN, NULL }, { "pond north", NAN, NULL },
		{ "", NAN, NULL } };
	for (size_t i = 0; i < COUNT(rows); i++) {
		double bearing = 4711;
		const char *what = NULL;
		struct error error = { 0 };
		bool good = value_side(rows[i].text, &bearing, &what, &error);
		if (good == isnan(rows[i].bearing))
			fail_msg("'%s': %s", rows[i].text, error.text);
		assert_close(bearing, good ? rows[i].bearing : 4711, 1e-9);
		assert_same(what, rows[i].what);
		assert_int_equal(error.kind, good ? ERROR_NONE : ERROR_INPUT);
	}
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_limit_may_carry_its_words_and_their_place),
		cmocka_unit_test(none_on_label_is_said_in_these_words_only),
		cmocka_unit_test(an_amount_of_water_comes_within_a_span),
		cmocka_unit_test(a_rate_of_a_season_is_per_area),
		cmocka_unit_test(dates_are_two_days_of_any_year),
		cmocka_unit_test(an_active_has_a_content),
		cmocka_unit_test(an_active_has_a_maximum),
		cmocka_unit_test(a_partner_has_a_name_without_blanks),
		cmocka_unit_test(a_side_is_a_direction_and_what_lies_there),
	};
	return RUN_TESTS(tests);
}
