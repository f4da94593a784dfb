/* Packages on the shelf, as the configuration tells them. */
#include "unit/config_fixture.h"

#include <math.h>

/* Line 31 is that of the package. The rate of post-a is a weight. */
#define BOTTLE(...)                                                            \
	GOOD "package \"a-1\" {\n\tproduct = \"post-a\"\n" __VA_ARGS__ "}\n"
#define SIZE   "\tsize = \"1.5 oz\"\n"
#define OPENED "\topened = \"2026-03-01\"\n"

enum { MARCH_1 = 20513 }; /* days from 1970-01-01 to 2026-03-01 */

#define OUNCE 28.349523125 /* g: NIST Handbook 44 Appendix C, from memory */

static void
a_package_is_read_whole(void **state)
{
	(void)state;
	struct reading reading =
	    read_good(BOTTLE(SIZE OPENED "\tshelf-life = \"730 d\"\n"
					 "\texpires = \"2028-12-31\"\n"
					 "\tprice = \"84.50\"\n"
					 "\tleft = { \"2026-05-01 1.1 oz\", "
					 "\"2026-06-01 0 g\" }\n"));
	assert_int_equal(reading.config.package_count, 1);
	const struct package *package = &reading.config.packages[0];
	assert_string_equal(package->name, "a-1");
	assert_ptr_equal(package->product, &reading.config.products[0]);
	assert_close(package->size, 1.5 * OUNCE, 1e-9);
	assert_true(package->is_mass);
	assert_int_equal(package->opened, MARCH_1);
	/* its age ends before the day on the package */
	assert_int_equal(package->expires, MARCH_1 + 730);
	assert_close(package->price, 84.5, 1e-12);
	assert_int_equal(package->left_count, 2);
	assert_int_equal(package->left[0].day, MARCH_1 + 61);
	assert_close(package->left[0].amount, 1.1 * OUNCE, 1e-9);
	assert_int_equal(package->left[1].day, MARCH_1 + 92);
	assert_close(package->left[1].amount, 0, 0);
	end_reading(&reading);
}

static void
what_is_not_said_is_not_known(void **state)
{
	(void)state;
	struct reading reading = read_good(BOTTLE(SIZE));
	const struct package *package = &reading.config.packages[0];
	assert_true(package->opened == INT64_MAX);
	assert_true(package->expires == INT64_MAX);
	assert_nan(package->price);
	assert_int_equal(package->left_count, 0);
	end_reading(&reading);
}

struct end {
	const char *text;
	int64_t wanted;
};

static const struct end ends[] = {
	{ BOTTLE(SIZE "\texpires = \"2026-03-11\"\n"), MARCH_1 + 10 },
	{ BOTTLE(SIZE OPENED "\texpires = \"2026-03-11\"\n"), MARCH_1 + 10 },
	{ BOTTLE(SIZE OPENED "\texpires = \"2026-03-01\"\n"), MARCH_1 },
	{ BOTTLE(SIZE OPENED "\tshelf-life = \"8 d\"\n"), MARCH_1 + 8 },
	{ BOTTLE(SIZE OPENED "\tshelf-life = \"8 d\"\n"
			     "\texpires = \"2026-03-02\"\n"),
	    MARCH_1 + 1 },
	/* a shelf life begins when it is opened */
	{ BOTTLE(SIZE "\tshelf-life = \"8 d\"\n"), INT64_MAX },
};

static void
it_ends_with_what_comes_first(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof ends / sizeof ends[0]; i++) {
		struct reading reading = read_good(ends[i].text);
		assert_true(
		    reading.config.packages[0].expires == ends[i].wanted);
		end_reading(&reading);
	}
}

static void
a_product_without_a_rate_may_be_either(void **state)
{
	(void)state;
	static const char *const sizes[] = { "5 oz", "1 qt" };
	for (size_t i = 0; i < 2; i++) {
		char text[4096];
		(void)snprintf(text, sizeof text,
		    GOOD MORE
		    "package d {\n\tproduct = dye\n\tsize = \"%s\"\n}\n",
		    sizes[i]);
		struct reading reading = read_good(text);
		assert_int_equal(reading.config.packages[0].is_mass, i == 0);
		end_reading(&reading);
	}
}

struct fault {
	const char *text;
	const char *line; /* and what follows it in the complaint */
	const char *says;
};

static const struct fault faults[] = {
	/* product */
	{ GOOD "package a {\n" SIZE "}\n", "33: package \"a\"",
	    "product is missing" },
	{ GOOD "package a {\n\tproduct = other\n" SIZE "}\n", "32: product",
	    "there is no product \"other\"" },
	/* size */
	{ BOTTLE(""), "33: package \"a-1\"", "size is missing" },
	{ BOTTLE("\tsize = \"1.5\"\n"), "33: size", "1.5" },
	{ BOTTLE("\tsize = \"10 ft2\"\n"), "33: size", "10 ft2" },
	{ BOTTLE("\tsize = \"-1 oz\"\n"), "33: size", "less than nothing" },
	{ BOTTLE("\tsize = \"0 oz\"\n"), "33: size", "no package" },
	{ BOTTLE("\tsize = \"1 qt\"\n"), "33: size", "rate is a weight" },
	{ GOOD MORE "package a {\n\tproduct = dye\n\tsize = \"1 qt\"\n}\n"
		    "package b {\n\tproduct = dye\n\tsize = \"1 oz\"\n}\n",
	    "48: size", "package a of it is a volume" },
	/* a size that is refused is not held against the next one */
	{ BOTTLE("\tsize = \"1 qt\"\n") "package b {\n\tproduct = post-a\n" SIZE
					"}\n",
	    "33: size", "rate is a weight" },
	/* days */
	{ BOTTLE(SIZE "\topened = \"March 1\"\n"), "34: opened", "March 1" },
	{ BOTTLE(SIZE "\topened = \"2026-02-30\"\n"), "34: opened",
	    "2026-02-30" },
	{ BOTTLE(SIZE "\texpires = \"2028\"\n"), "34: expires", "2028" },
	{ BOTTLE(SIZE OPENED "\texpires = \"2026-02-28\"\n"), "35: expires",
	    "expired before it was opened" },
	{ BOTTLE(SIZE OPENED "\tshelf-life = \"2 d\"\n"
			     "\texpires = \"2026-02-28\"\n"),
	    "36: expires", "expired before it was opened" },
	{ BOTTLE(SIZE OPENED "\tshelf-life = \"1 h\"\n"), "35: shelf-life",
	    "out of range" },
	{ BOTTLE(SIZE OPENED "\tshelf-life = \"21 yr\"\n"), "35: shelf-life",
	    "21 yr" },
	/* price */
	{ BOTTLE(SIZE "\tprice = \"-1\"\n"), "34: price", "out of range" },
	{ BOTTLE(SIZE "\tprice = \"84.50 USD\"\n"), "34: price", "USD" },
	/* left */
	{ BOTTLE(SIZE OPENED "\tleft = { \"1.1 oz\" }\n"), "35: left",
	    "not a date and what was left" },
	{ BOTTLE(SIZE OPENED "\tleft = { \"2026-05-01\" }\n"), "35: left",
	    "not a date and what was left" },
	{ BOTTLE(SIZE OPENED "\tleft = { \"2026-05-01 some\" }\n"), "35: left",
	    "some" },
	{ BOTTLE(SIZE OPENED "\tleft = { \"2026-05-01 -1 g\" }\n"), "35: left",
	    "less than nothing" },
	{ BOTTLE(SIZE OPENED "\tleft = { \"2026-05-01 1 fl oz\" }\n"),
	    "35: left", "the size is a weight" },
	{ BOTTLE(SIZE OPENED "\tleft = { \"2026-05-01 1.6 oz\" }\n"),
	    "35: left", "more is left than the package held" },
	{ BOTTLE(SIZE OPENED "\tleft = { \"2026-02-28 1 oz\" }\n"), "35: left",
	    "before the package was opened" },
	{ BOTTLE(SIZE OPENED
	      "\tleft = { \"2026-05-01 1 oz\", \"2026-05-01 1 oz\" }\n"),
	    "35: left", "not later than the one before" },
	{ BOTTLE(SIZE "\tleft = { \"2026-05-01 1 oz\" }\n"), "34: left",
	    "say when it was opened" },
	/* the section */
	{ BOTTLE(SIZE "\tcolour = \"red\"\n"), "34", "colour" },
	{ BOTTLE(SIZE SIZE), "34", "size" },
	{ GOOD "package \"a 1\" {\n\tproduct = post-a\n" SIZE "}\n",
	    "34: package \"a 1\"", "not a name" },
	{ BOTTLE(SIZE) "package a-1 {\n\tproduct = post-a\n" SIZE "}\n", "35",
	    "a-1" },
};

/* One line, with its place; what follows from a fault is not told besides. */
static void
each_fault_has_one_line(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof faults / sizeof faults[0]; i++) {
		struct reading reading = read_text(faults[i].text);
		const char *complaint = text_string(&reading.complaints);
		char place[64];
		if (reading.good)
			fail_msg("no fault in %zu: %s", i, faults[i].says);
		(void)snprintf(
		    place, sizeof place, "t.conf:%s:", faults[i].line);
		assert_contains(complaint, place);
		assert_contains(complaint, faults[i].says);
		if (strchr(complaint, '\n') != strrchr(complaint, '\n'))
			fail_msg("more than one line: %s", complaint);
		end_reading(&reading);
	}
}

/* 1.5 oz and 42.52 g are the same package. */
static void
other_units_are_no_fault(void **state)
{
	(void)state;
	struct reading reading = read_good(
	    BOTTLE(SIZE OPENED "\tleft = { \"2026-03-01 0.09375 lb\" }\n"));
	const struct package *package = &reading.config.packages[0];
	assert_close(package->left[0].amount, package->size, 1e-9);
	end_reading(&reading);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_package_is_read_whole),
		cmocka_unit_test(what_is_not_said_is_not_known),
		cmocka_unit_test(it_ends_with_what_comes_first),
		cmocka_unit_test(a_product_without_a_rate_may_be_either),
		cmocka_unit_test(each_fault_has_one_line),
		cmocka_unit_test(other_units_are_no_fault),
	};
	return RUN_TESTS(tests);
}
