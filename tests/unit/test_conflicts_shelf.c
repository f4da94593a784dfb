/* What is told beside a job when the shelf does not have what it takes. */
#include "unit/conflicts_fixture.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))
#define NONE         INT64_MAX

/* Thursday 5 March 2026; the job is on the Tuesday after. */
enum { TODAY = 20517, DAY_OF_JOB = TODAY + 5 };

/* 500 m2 at 0.2 g/m2 are 100 g. */
static const struct product post = {
	.name = "post-a", .rate = 0.2, .rate_kind = QUANTITY_MASS_PER_AREA
};
/* 500 m2 at 40 mL/m2 are 20 L of mix, and 0.25 % of those 50 mL. */
static const struct product wetter = { .name = "surfactant-n",
	.rate = 0.0025,
	.rate_kind = QUANTITY_VOLUME_PER_VOLUME };
static const struct product silent = { .name = "dye" };

#define POST(title, grams, opens, ends)                                        \
	{                                                                      \
		.name = (title), .product = &post, .size = (grams),            \
		.is_mass = true, .opened = (opens), .expires = (ends)          \
	}

struct shelf_case {
	struct package package[2];
	struct draw promised[2];
	const char *says[2];
};

static const struct shelf_case cases[] = {
	{ { POST("a", 100, 1, NONE) }, { { 0 } }, { NULL } },
	/* the last digits come from units */
	{ { POST("a", 99.995, 1, NONE) }, { { 0 } }, { NULL } },
	{ { POST("a", 99.9, 1, NONE) }, { { 0 } },
	    { "this job takes 100 g of post-a, 99.9 g is on the shelf" } },
	{ { POST("a", 60, 1, NONE), POST("b", 50, NONE, NONE) }, { { 0 } },
	    { NULL } },
	{ { POST("a", 150, 1, NONE) }, { { "post-a", TODAY, 70, true } },
	    { "this job takes 100 g of post-a, 80 g is on the shelf after "
	      "the jobs before it" } },
	{ { POST("a", 150, 1, NONE) },
	    { { "post-a", TODAY, 70, true }, { "post-a", TODAY, 80, true } },
	    { "this job takes 100 g of post-a, nothing is on the shelf after "
	      "the jobs before it" } },
	{ { POST("a", 150, 1, NONE) }, { { "dye", TODAY, 70, true } },
	    { NULL } },
	/* nobody knows how much */
	{ { POST("a", 150, 1, NONE) }, { { "post-a", TODAY, NAN, true } },
	    { NULL } },
	/* good until the day itself, not before it, and no more */
	{ { POST("a", 150, 1, DAY_OF_JOB) }, { { 0 } }, { NULL } },
	{ { POST("a", 150, 1, DAY_OF_JOB - 1) }, { { 0 } },
	    { "post-a would come from package a, which is good until "
	      "2026-03-09 and not on the day of the job" } },
	{ { POST("a", 150, 1, TODAY - 1) }, { { 0 } },
	    { "post-a would come from package a, which was good until "
	      "2026-03-04" } },
	/* another one is good */
	{ { POST("a", 150, 1, TODAY - 1), POST("b", 150, NONE, NONE) },
	    { { 0 } }, { NULL } },
	{ { POST("a", 20, 1, TODAY - 1), POST("b", 50, NONE, NONE) }, { { 0 } },
	    { "this job takes 100 g of post-a, 70 g is on the shelf",
		"post-a would come from package a, which was good until "
		"2026-03-04" } },
};

static void
find_in(struct scene *scene, const struct shelf_case *one)
{
	struct shelf shelf;
	size_t packages = 0, promised = 0;
	while (packages < 2 && one->package[packages].name != NULL)
		packages++;
	while (promised < 2 && one->promised[promised].product != NULL)
		promised++;
	shelf_count(one->package, packages, NULL, 0, TODAY, &shelf);
	scene->facts.shelf = &shelf;
	scene->facts.promised = one->promised;
	scene->facts.promised_count = promised;
	scene->facts.day = DAY_OF_JOB;
	find_all(scene);
	scene->facts.shelf = NULL;
	shelf_release(&shelf);
}

static void
what_the_shelf_does_not_have_is_told(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(cases); i++) {
		struct scene scene;
		size_t wanted = 0;
		begin_scene(&scene);
		add_product(&scene, &post);
		find_in(&scene, &cases[i]);
		while (wanted < 2 && cases[i].says[wanted] != NULL)
			wanted++;
		check_sentences(&scene, cases[i].says, wanted);
		for (size_t c = 0; c < scene.count; c++)
			assert_false(scene.found[c].forbids);
	}
}

static void
amounts_are_told_in_the_units_of_the_keeper(void **state)
{
	(void)state;
	const struct shelf_case liquid = {
		.package = { { .name = "n",
		    .product = &wetter,
		    .size = 0.03,
		    .opened = 1,
		    .expires = NONE } },
	};
	struct scene scene;
	begin_scene(&scene);
	add_product(&scene, &wetter);
	find_in(&scene, &liquid);
	const char *metric[] = { "this job takes 50 mL of surfactant-n, 30 mL "
				 "is on the shelf" };
	check_sentences(&scene, metric, 1);
	scene.facts.units = UNITS_US;
	find_in(&scene, &liquid);
	const char *us[] = { "this job takes 1.69 fl oz of surfactant-n, "
			     "1.01 fl oz is on the shelf" };
	check_sentences(&scene, us, 1);
}

static void
a_product_that_is_not_on_file_says_nothing(void **state)
{
	(void)state;
	const struct shelf_case other = { .package = {
					      POST("a", 500, 1, NONE) } };
	struct scene scene;
	begin_scene(&scene);
	add_product(&scene, &post);
	add_product(&scene, &wetter);
	find_in(&scene, &other);
	check_sentences(&scene, NULL, 0);
	/* nor does one without a rate, or a shelf that nobody looked at */
	const struct shelf_case shut = {
		.package = { { .name = "d",
		    .product = &silent,
		    .size = 5,
		    .opened = NONE,
		    .expires = NONE } },
	};
	begin_scene(&scene);
	add_product(&scene, &silent);
	find_in(&scene, &shut);
	check_sentences(&scene, NULL, 0);
	begin_scene(&scene);
	add_product(&scene, &post);
	find_all(&scene);
	check_sentences(&scene, NULL, 0);
}

static void
each_product_of_the_tank_is_looked_at(void **state)
{
	(void)state;
	const struct shelf_case both = {
		.package = { POST("a", 50, 1, NONE), { .name = "n",
							 .product = &wetter,
							 .size = 0.03,
							 .opened = 1,
							 .expires = NONE } },
	};
	struct scene scene;
	begin_scene(&scene);
	add_product(&scene, &post);
	add_product(&scene, &wetter);
	find_in(&scene, &both);
	const char *says[] = {
		"this job takes 100 g of post-a, 50 g is on the shelf",
		"this job takes 50 mL of surfactant-n, 30 mL is on the shelf"
	};
	check_sentences(&scene, says, 2);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(what_the_shelf_does_not_have_is_told),
		cmocka_unit_test(amounts_are_told_in_the_units_of_the_keeper),
		cmocka_unit_test(a_product_that_is_not_on_file_says_nothing),
		cmocka_unit_test(each_product_of_the_tank_is_looked_at),
	};
	return RUN_TESTS(tests);
}
