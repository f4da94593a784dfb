/* The mix sheet as it is printed. */
#include "unit/test.h"

#include "turf/sheet.h"
#include "unit/heart.h"
#include "unit/mix_lawn.h"
#include "unit/sheet_bench.h"

enum { PAGE_LINES = 60 };

static void
print_to(struct saturday *saturday, enum unit_system units, struct text *ret)
{
	make_sheet(saturday);
	text_init(ret, 100000);
	sheet_print(ret, &saturday->sheet, units);
	assert_false(ret->failed);
}

static void
assert_in_order(const char *text, const char *const *parts, size_t count)
{
	const char *at = text;
	for (size_t i = 0; i < count && at != NULL; i++) {
		assert_contains(at, parts[i]);
		at = strstr(at, parts[i]);
		at = at != NULL ? at + strlen(parts[i]) : NULL;
	}
}

static void
it_reads_as_the_work_at_the_bench(void **state)
{
	(void)state;
	static const char *const parts[] = { "front, job 1\n",
		"6,500 ft2 with backpack: 6.5 gal in 2 tanks, ",
		"1 gal/1000 ft2 (43.6 gal/acre).\n",
		"calibrated on 2026-03-03.\n", "Tare the dish",
		"TANK 1: 4 gal for 4,000 ft2\n", "  1. Water to about 2.4 gal.",
		"  2. post-a: weigh 1.46 g\n",
		"  3. post-b: 177 mL in the cylinder (6 fl oz)\n",
		"  4. surfactant-n: 2 tbsp + 1 tsp + 1/2 tsp: ", "; it foams\n",
		"  5. dye: 4 tbsp: 2 fl oz (59.1 mL)\n",
		"  6. Top up gently to 4 gal, agitate, spray 4,000 ft2.\n",
		"TANK 2: 2.5 gal for 2,500 ft2\n",
		"  1. Water to about 1.5 gal.", "  2. post-a: weigh 0.91 g\n",
		"3.75 fl oz", "1.25 fl oz", "spray 2,500 ft2.\n", "IN ALL\n",
		"JAR TEST", "1 pint", "One pass over the ground, never two.",
		"The label rules over", "Wear what", "drain" };
	struct saturday saturday;
	struct text text;
	begin_saturday(&saturday);
	print_to(&saturday, UNITS_US, &text);
	assert_in_order(text_string(&text), parts, COUNT(parts));
	text_release(&text);
}

static size_t
assert_columns(const char *text)
{
	size_t lines = 0;
	for (const char *line = text; *line != '\0'; lines++) {
		size_t length = strcspn(line, "\n");
		if (length > SHEET_COLUMNS)
			fail_msg(
			    "%zu columns: %.*s", length, (int)length, line);
		line += length + 1;
	}
	return lines;
}

/* Everything that there is to say at once: a solution, packages, notes, a
   stale calibration, a new pair, a caution. */
static void
a_tank_of_four_products_fits_on_a_page(void **state)
{
	(void)state;
	static const char *notes[] = {
		"Gloves, long sleeves and eyewear, page 1",
		"25 ft from wells and open water; not over the roots of trees "
		"that are to live, page 2"
	};
	const struct sheet_stock stock[] = { { true, 1, 0.9, 1.5 },
		{ true, 1, 0.9, 2 }, { true, 0.1, NAN, NAN },
		{ true, 10, 5, 4 } };
	const struct conflict caution = { false,
		"same resistance group twice in a row: 2, 4" };
	for (int n = 0; n < 4; n++) {
		struct saturday saturday;
		struct text text;
		begin_saturday(&saturday);
		saturday.bench.scale = n % 2 == 0 ? 0.01 : 0.1;
		saturday.lawn.sprayer.calibrated -= 300;
		saturday.lawn.sprayer.droplets = DROPLETS_COARSE;
		saturday.lawn.sprayer.release_height = 0.45;
		saturday.lawn.product[2].note = notes;
		saturday.lawn.product[2].note_count = 2;
		saturday.lawn.product[3].note = notes;
		saturday.lawn.product[3].note_count = 1;
		saturday.facts.stock = stock;
		saturday.facts.caution = &caution;
		saturday.facts.caution_count = 1;
		print_to(&saturday, n < 2 ? UNITS_US : UNITS_METRIC, &text);
		const char *page = text_string(&text);
		assert_true(assert_columns(page) <= PAGE_LINES);
		assert_contains(page, "do it again first");
		assert_contains(page, "NOT ENOUGH");
		assert_contains(page, ", 4.00 USD\n");
		assert_contains(page, "post-a: Gloves");
		assert_contains(page, "Caution: same resistance group");
		assert_contains(page, "away while you spray.");
		text_release(&text);
	}
}

/* As many as there may be, with names of thirty letters, in two tanks that are
   not alike. */
static void
a_tank_of_eight_products_fits_on_a_page(void **state)
{
	(void)state;
	static const struct {
		const char *name, *rate;
		enum quantity_kind kind;
		enum mix_step step;
	} rows[] = { { "herbicide-five-of-a-long-name", "2 g/1000 ft2",
			 QUANTITY_MASS_PER_AREA, MIX_DRY },
		{ "herbicide-six-of-a-long-name-b", "2 fl oz/1000 ft2",
		    QUANTITY_VOLUME_PER_AREA, MIX_SOLUTION },
		{ "conditioner-of-a-long-name-abc", "1 fl oz/gal",
		    QUANTITY_VOLUME_PER_VOLUME, MIX_CONDITIONER },
		{ "defoamer-with-a-long-name-abcd", "0.1 fl oz/gal",
		    QUANTITY_VOLUME_PER_VOLUME, MIX_DEFOAMER } };
	static const char *names[] = { "marker-with-a-long-name-abcdef",
		"surfactant-with-a-long-name-ab",
		"herbicide-two-of-a-long-name-b",
		"herbicide-one-of-a-long-name-b" };
	for (int metric = 0; metric < 2; metric++) {
		struct saturday saturday;
		struct lawn *lawn = &saturday.lawn;
		struct text text;
		begin_saturday(&saturday);
		for (size_t i = 0; i < COUNT(names); i++)
			lawn->product[i].name = names[i];
		for (size_t i = 0; i < COUNT(rows); i++)
			add_dose(lawn, rows[i].name, rows[i].rate, rows[i].kind)
			    ->mix_step = rows[i].step;
		assert_int_equal(lawn->job.tank.count, LIMIT_TANK_PRODUCTS);
		print_to(&saturday, metric ? UNITS_METRIC : UNITS_US, &text);
		assert_true(assert_columns(text_string(&text)) <= PAGE_LINES);
		text_release(&text);
	}
}

static void
granules_alone_need_no_tank(void **state)
{
	(void)state;
	struct saturday saturday;
	struct text text;
	begin_saturday(&saturday);
	saturday.lawn.product[3].formulation = "GR";
	saturday.lawn.sprayer.droplets = DROPLETS_COARSE;
	saturday.lawn.sprayer.release_height = 0.45;
	saturday.lawn.job.tank.dose[0] = saturday.lawn.job.tank.dose[3];
	saturday.lawn.job.tank.count = 1;
	print_to(&saturday, UNITS_US, &text);
	const char *page = text_string(&text);
	assert_contains(page, "\n6,500 ft2.\npost-a is a granule");
	assert_contains(page, "\n  post-a: 2.37 g\n");
	assert_null(strstr(page, "backpack"));
	assert_null(strstr(page, "gal"));
	assert_null(strstr(page, "TANK"));
	assert_null(strstr(page, "away while you spray"));
	text_release(&text);
}

static void
a_carrier_is_told_in_whole_figures(void **state)
{
	(void)state;
	static const struct {
		const char *carrier;
		enum unit_system units;
		const char *wanted;
	} rows[] = { { "1000 L/ha", UNITS_METRIC, "(1000 L/ha)" },
		{ "2 L/m2", UNITS_METRIC, "(20000 L/ha)" },
		{ "7.5 gal/acre", UNITS_US, "(7.5 gal/acre)" },
		{ "30 gal/1000 ft2", UNITS_US, "(1307 gal/acre)" } };
	for (size_t i = 0; i < COUNT(rows); i++) {
		struct saturday saturday;
		struct text text;
		begin_saturday(&saturday);
		saturday.lawn.sprayer.carrier =
		    quantity(rows[i].carrier, QUANTITY_VOLUME_PER_AREA);
		/* a solution as strong as a card may say */
		saturday.bench.scale = 1;
		saturday.lawn.product[3].stock = 1000;
		print_to(&saturday, rows[i].units, &text);
		assert_contains(text_string(&text), rows[i].wanted);
		assert_contains(text_string(&text), "(1000 g/L)");
		text_release(&text);
	}
}

static void
only_names_may_be_wider_than_the_page(void **state)
{
	(void)state;
	static const char name[] =
	    "a-product-with-a-name-that-is-as-long-as-it-may-be-really-63-b";
	struct saturday saturday;
	struct text text;
	begin_saturday(&saturday);
	saturday.lawn.product[3].name = name;
	saturday.bench.scale = 0.1;
	print_to(&saturday, UNITS_US, &text);
	(void)assert_columns(text_string(&text));
	text_release(&text);
}

static void
a_solution_is_made_or_taken(void **state)
{
	(void)state;
	struct saturday saturday;
	struct text text;
	begin_saturday(&saturday);
	saturday.bench.scale = 0.1;
	print_to(&saturday, UNITS_US, &text);
	static const char *const make[] = { "STOCK SOLUTION of post-a",
		"weigh 5.0 g, make", "up to 500 mL", "Shake before each",
		"Use it up today.", "Tare the dish", "TANK 1",
		"post-a: stock solution for 1.46 g: 146 mL in the cylinder\n",
		"TANK 2", "post-a: stock solution for 0.911 g: 91 mL", "IN ALL",
		"post-a: 2.37 g of 5 g that are weighed\n" };
	assert_in_order(text_string(&text), make, COUNT(make));
	text_release(&text);
	int64_t now = saturday.facts.at;
	const struct sheet_solution made = { "post-a", now - HOUR,
		now + 17 * HOUR, 20, 3 };
	saturday.facts.solution = &made;
	saturday.facts.solution_count = 1;
	print_to(&saturday, UNITS_US, &text);
	static const char *const take[] = { "STOCK SOLUTION of post-a: take",
		"Tue 10 Mar 06:00", "20 g/L, of which 150", "Wed 11 Mar 00:00",
		"TANK 1", "post-a: stock solution for 1.46 g: 73 mL", "IN ALL",
		"post-a: 2.37 g out of the solution\n" };
	assert_in_order(text_string(&text), take, COUNT(take));
	assert_null(strstr(text_string(&text), "Tare"));
	text_release(&text);
}

static void
a_coarse_scale_wastes_most_of_a_solution(void **state)
{
	(void)state;
	static const struct {
		double scale;
		bool wastes;
	} rows[] = { { 0.1, false }, { 1, true } };
	for (size_t i = 0; i < COUNT(rows); i++) {
		struct saturday saturday;
		struct text text;
		begin_saturday(&saturday);
		saturday.bench.scale = rows[i].scale;
		print_to(&saturday, UNITS_US, &text);
		const char *said = strstr(text_string(&text), "finer scale");
		assert_true((said != NULL) == rows[i].wastes);
		text_release(&text);
	}
}

static void
says_what_is_odd_about_a_product(void **state)
{
	(void)state;
	struct saturday saturday;
	struct text text;
	begin_saturday(&saturday);
	saturday.lawn.product[2].formulation = "GR";
	saturday.lawn.product[3].formulation = "ZZ";
	saturday.lawn.product[0].mix_step = MIX_DEFOAMER;
	saturday.lawn.sprayer.calibrated = INT64_MIN;
	print_to(&saturday, UNITS_US, &text);
	const char *page = text_string(&text);
	assert_contains(page, "backpack was never calibrated");
	assert_contains(page, "post-b is a granule");
	assert_null(strstr(page, "post-b: 177"));
	assert_contains(page, "weigh 1.46 g; its label says when it goes in\n");
	static const char *const late[] = { "post-a: ",
		"Top up gently to 4 gal.\n",
		"dye: ", "Agitate, spray 4,000 ft2.\n" };
	assert_in_order(page, late, COUNT(late));
	/* no dye, so it does not fade */
	assert_null(strstr(page, "fades"));
	text_release(&text);
}

static void
tanks_that_are_alike_are_told_once(void **state)
{
	(void)state;
	static const struct {
		const char *area;
		bool even;
		const char *first, *last; /* NULL: there is none */
	} rows[] = { { "2500 ft2", false, "TANK 1: 2.5 gal", NULL },
		{ "8000 ft2", false, "TANKS 1 AND 2, EACH: 4 gal", NULL },
		{ "6500 ft2", true, "TANKS 1 AND 2, EACH: 3.25 gal", NULL },
		{ "9000 ft2", true, "TANKS 1 TO 3, EACH: 3 gal", NULL },
		{ "9000 ft2", false, "TANKS 1 AND 2, EACH: 4 gal",
		    "TANK 3: 1 gal" },
		{ "6500 ft2", false, "TANK 1: 4 gal", "TANK 2: 2.5 gal" } };
	for (size_t i = 0; i < COUNT(rows); i++) {
		struct saturday saturday;
		struct text text;
		begin_saturday(&saturday);
		saturday.lawn.job.area = quantity(rows[i].area, QUANTITY_AREA);
		saturday.facts.even = rows[i].even;
		print_to(&saturday, UNITS_US, &text);
		const char *page = text_string(&text);
		assert_contains(page, rows[i].first);
		if (rows[i].last != NULL)
			assert_contains(page, rows[i].last);
		size_t tanks = 0;
		for (const char *at = page; (at = strstr(at, "\nTANK")) != NULL;
		     at++)
			tanks++;
		assert_int_equal(tanks, rows[i].last != NULL ? 2 : 1);
		text_release(&text);
	}
}

/* The calendar's part stands in the whole sheet as it is. */
static void
the_tanks_alone_are_told_in_the_same_words(void **state)
{
	(void)state;
	for (int n = 0; n < 2; n++) {
		struct saturday saturday;
		struct text whole, tanks;
		begin_saturday(&saturday);
		saturday.bench.scale = n == 0 ? 0.01 : 0.1;
		print_to(&saturday, UNITS_US, &whole);
		text_init(&tanks, 100000);
		sheet_print_tanks(&tanks, &saturday.sheet, UNITS_US);
		assert_contains(text_string(&whole), text_string(&tanks));
		assert_contains(text_string(&tanks), "TANK 2");
		assert_null(strstr(text_string(&tanks), "IN ALL"));
		text_release(&tanks);
		text_release(&whole);
	}
}

static void
a_jar_holds_the_proportions_of_the_tank(void **state)
{
	(void)state;
	struct saturday saturday;
	struct text text;
	begin_saturday(&saturday);
	print_to(&saturday, UNITS_METRIC, &text);
	/* 1.458 g, 177.4 and 37.85 mL, 2 fl oz in 15.14 L: computed (C) */
	static const char *const jar[] = {
		"JAR TEST: never in one tank before: 2+3, 2+4, 2+5, 3+4,",
		"1. 500 mL of water, 2. 0.0481 g of post-a,", "3. 5.86 mL of",
		"4. 1.25 mL of", "5. 1.95 mL of", "Shake; look after",
		"do not mix"
	};
	assert_in_order(text_string(&text), jar, COUNT(jar));
	text_release(&text);
	assert_close(
	    sheet_jar(UNITS_US), quantity("1 pt", QUANTITY_VOLUME), 1e-12);
	saturday.lawn.job.tank.count = 1;
	print_to(&saturday, UNITS_METRIC, &text);
	assert_null(strstr(text_string(&text), "JAR"));
	text_release(&text);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(it_reads_as_the_work_at_the_bench),
		cmocka_unit_test(a_tank_of_four_products_fits_on_a_page),
		cmocka_unit_test(a_tank_of_eight_products_fits_on_a_page),
		cmocka_unit_test(granules_alone_need_no_tank),
		cmocka_unit_test(a_carrier_is_told_in_whole_figures),
		cmocka_unit_test(only_names_may_be_wider_than_the_page),
		cmocka_unit_test(a_solution_is_made_or_taken),
		cmocka_unit_test(a_coarse_scale_wastes_most_of_a_solution),
		cmocka_unit_test(says_what_is_odd_about_a_product),
		cmocka_unit_test(tanks_that_are_alike_are_told_once),
		cmocka_unit_test(the_tanks_alone_are_told_in_the_same_words),
		cmocka_unit_test(a_jar_holds_the_proportions_of_the_tank),
	};
	return RUN_TESTS(tests);
}
