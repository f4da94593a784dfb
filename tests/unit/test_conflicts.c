#include "unit/test.h"

#include "unit/conflicts_fixture.h"

#define ANY_STATE(edge, value)                                                 \
	{                                                                      \
		.measure = MEASURE_DORMANT,                                    \
		.fold = BOUND_##edge == BOUND_AT_MOST ? FOLD_MAX : FOLD_MIN,   \
		.exposure = DURING, .bound = BOUND_##edge, .limit = (value)    \
	}

/* Two products in one tank. */
struct row {
	const char *says; /* the one conflict; NULL: there is none */
	struct product a, b;
	const char *turned; /* with b first; NULL: the same */
	enum turf_species species;
	enum droplets droplets;
	bool caution;
};

static const struct row rows[] = {
	/* floor over ceiling */
	{ .says = "post-a wants air temperature at most 29 °C during the job, "
		  "pre-b "
		  "wants air temperature at least 32 °C during the job",
	    .a = { AIR(MAX, AT_MOST, 29) },
	    .b = { AIR(MIN, AT_LEAST, 32) },
	    .turned =
		"pre-b wants air temperature at least 32 °C during the job, "
		"post-a wants air temperature at most 29 °C during the job" },
	{ .says = "post-a wants air temperature below 29 °C during the job, "
		  "pre-b "
		  "wants air temperature at least 29 °C during the job",
	    .a = { AIR(MAX, BELOW, 29) },
	    .b = { AIR(MIN, AT_LEAST, 29) },
	    .turned =
		"pre-b wants air temperature at least 29 °C during the job, "
		"post-a wants air temperature below 29 °C during the job" },
	{ .a = { AIR(MAX, AT_MOST, 29) }, .b = { AIR(MIN, AT_LEAST, 29) } },
	{ .a = { AIR(MAX, AT_MOST, 29) }, .b = { AIR(MAX, AT_MOST, 20) } },
	{ .a = { AIR(MAX, AT_MOST, 29) },
	    .b = { RULE(.measure = MEASURE_SOIL, .fold = FOLD_MIN,
		.exposure = DURING, .bound = BOUND_AT_LEAST, .limit = 32) } },
	/* nested exposures: a cool day has no warm job, a warm day has */
	{ .says = "post-a wants air temperature at most 29 °C that day, pre-b "
		  "wants "
		  "air temperature at least 32 °C during the job",
	    .a = { RULE(.measure = MEASURE_AIR_TEMPERATURE, .fold = FOLD_MAX,
		.exposure = THAT_DAY, .bound = BOUND_AT_MOST, .limit = 29) },
	    .b = { AIR(MIN, AT_LEAST, 32) },
	    .turned =
		"pre-b wants air temperature at least 32 °C during the job, "
		"post-a wants air temperature at most 29 °C that day" },
	{ .a = { AIR(MAX, AT_MOST, 29) },
	    .b = { RULE(.measure = MEASURE_AIR_TEMPERATURE, .fold = FOLD_MAX,
		.exposure = THAT_DAY, .bound = BOUND_AT_LEAST, .limit = 32) } },
	{ .a = { RULE(.measure = MEASURE_AIR_TEMPERATURE, .fold = FOLD_MAX,
	      .exposure = { { ANCHOR_END, 0 }, { ANCHOR_END, 3600 } },
	      .bound = BOUND_AT_MOST, .limit = 29) },
	    .b = { AIR(MIN, AT_LEAST, 32) } },
	{ .says = "post-a wants air temperature on average at most 29 °C "
		  "during the "
		  "job, pre-b wants air temperature at least 32 °C during the "
		  "job",
	    .a = { AIR(MEAN, AT_MOST, 29) },
	    .b = { AIR(MIN, AT_LEAST, 32) },
	    .turned =
		"pre-b wants air temperature at least 32 °C during the job, "
		"post-a wants air temperature on average at most 29 °C during "
		"the "
		"job" },
	{ .says = "post-a wants no temperature inversion during the job, pre-b "
		  "wants temperature inversion during the job",
	    .a = { RULE(.measure = MEASURE_INVERSION, .fold = FOLD_MAX,
		.exposure = DURING, .bound = BOUND_AT_MOST) },
	    .b = { RULE(.measure = MEASURE_INVERSION, .fold = FOLD_MIN,
		.exposure = DURING, .bound = BOUND_AT_LEAST, .limit = 1) },
	    .turned = "pre-b wants temperature inversion during the job, "
		      "post-a wants no temperature inversion during the job" },
	{ .says = "post-a wants mowings since seeding at most 2 during the "
		  "job, pre-b "
		  "wants mowings since seeding at least 3 during the job",
	    .a = { RULE(.measure = MEASURE_MOWINGS, .fold = FOLD_MAX,
		.exposure = DURING, .bound = BOUND_AT_MOST, .limit = 2) },
	    .b = { RULE(.measure = MEASURE_MOWINGS, .fold = FOLD_MIN,
		.exposure = DURING, .bound = BOUND_AT_LEAST, .limit = 3) },
	    .turned =
		"pre-b wants mowings since seeding at least 3 during the job, "
		"post-a wants mowings since seeding at most 2 during the job" },
	/* a waiting time is of one product alone */
	{ .a = { RULE(.measure = MEASURE_DAYS_SINCE, .fold = FOLD_MIN,
	      .exposure = DURING, .bound = BOUND_AT_LEAST, .limit = 30) },
	    .b = { RULE(.measure = MEASURE_DAYS_SINCE, .fold = FOLD_MAX,
		.exposure = DURING, .bound = BOUND_AT_MOST, .limit = 20) } },
	/* dry against water */
	{ .says = "post-a wants it dry for 24 h, pre-b wants water within 12 h",
	    .a = { DRY(START, 0, 24) },
	    .b = { WATER(12) } },
	{ .says = "post-a wants it dry for 24 h, pre-b wants water within 24 h",
	    .a = { DRY(START, 0, 24) },
	    .b = { WATER(24) } },
	{ .a = { DRY(START, 0, 24) }, .b = { WATER(25) } },
	{ .a = { DRY(START, 0, 24) }, .b = { .water = { 0, 3600, 0 } } },
	{ .a = { DRY(START, 0, 24) }, .b = { .water = { 13, 0, 0 } } },
	{ .a = { DRY(END, 1, 24) }, .b = { WATER(12) } },
	{ .says = "post-a wants it dry for 30 h, pre-b wants water within 12 h",
	    .a = { NO_IRRIGATION(30) },
	    .b = { WATER(12) } },
	{ .a = { NO_IRRIGATION(6) }, .b = { WATER(12) } },
	{ .says = "post-a wants it dry for 24 h, pre-b wants water within 12 h",
	    .a = { .water = { 13, 7 * 86400, 24 * 3600 } },
	    .b = { WATER(12) } },
	{ .a = { .water = { 13, 7 * 86400, 24 * 3600 } }, .b = { WATER(48) } },
	/* dry once, maybe wet, not mown: nothing of it keeps water away */
	{ .a = { RULE(.measure = MEASURE_WET, .fold = FOLD_MIN,
	      .exposure = { { ANCHOR_START, 0 }, { ANCHOR_END, 86400 } },
	      .bound = BOUND_AT_MOST) },
	    .b = { WATER(12) } },
	{ .a = { RULE(.measure = MEASURE_WET, .fold = FOLD_ANY,
	      .exposure = { { ANCHOR_START, 0 }, { ANCHOR_END, 86400 } },
	      .bound = BOUND_AT_MOST, .limit = 1) },
	    .b = { WATER(12) } },
	{ .a = { RULE(.measure = MEASURE_SINCE_MOWING, .fold = FOLD_MIN,
	      .exposure = DURING, .bound = BOUND_AT_LEAST,
	      .limit = 48 * 3600) },
	    .b = { WATER(12) } },
	/* partners */
	{ .says = "post-a may not be mixed with pre-b",
	    .a = { NOT_WITH("Pre-B") } },
	{ .says = "post-a may not be mixed with auxin-x, which is in pre-b",
	    .a = { NOT_WITH("AUXIN-X") },
	    .b = { ACTIVE(480) } },
	{ .says = "post-a may not be mixed with EC formulations, and pre-b is "
		  "one",
	    .a = { NOT_WITH("ec") },
	    .b = { .formulation = "EC" } },
	{ .a = { NOT_WITH("EC"), .formulation = "EC" },
	    .b = { .formulation = "SC" } },
	{ .a = { NOT_WITH("auxin") }, .b = { ACTIVE(480) } },
	/* adjuvants */
	{ .says = "post-a needs an adjuvant, there is none in the tank",
	    .a = { .adjuvant = ADJUVANT_REQUIRED } },
	{ .a = { .adjuvant = ADJUVANT_REQUIRED },
	    .b = { .kind = PRODUCT_ADJUVANT } },
	{ .says = "post-a may have no adjuvant, pre-b is one",
	    .a = { .adjuvant = ADJUVANT_FORBIDDEN },
	    .b = { .kind = PRODUCT_ADJUVANT } },
	{ .a = { .adjuvant = ADJUVANT_FORBIDDEN } },
	{ .says = "post-a needs an adjuvant, there is none in the tank",
	    .a = { .adjuvant = ADJUVANT_REQUIRED, .kind = PRODUCT_ADJUVANT } },
	{ .a = { .adjuvant = ADJUVANT_FORBIDDEN, .kind = PRODUCT_ADJUVANT } },
	/* turf */
	{ .says = "post-a is for bermuda, zoysia, front is centipede",
	    .a = { .species = BIT(BERMUDA) | BIT(ZOYSIA) },
	    .species = TURF_CENTIPEDE },
	{ .a = { .species = BIT(BERMUDA) | BIT(ZOYSIA) },
	    .b = { .species = BIT(ZOYSIA) },
	    .species = TURF_ZOYSIA },
	{ .says = "post-a is for St. Augustine: say which turf front has",
	    .a = { .species = BIT(ST_AUGUSTINE) },
	    .caution = true },
	{ .species = TURF_BERMUDA },
	/* droplets */
	{ .says = "post-a wants droplets that are at least coarse, those of "
		  "backpack "
		  "are medium",
	    .a = { .droplets_least = DROPLETS_COARSE },
	    .droplets = DROPLETS_MEDIUM },
	{ .a = { .droplets_least = DROPLETS_COARSE },
	    .droplets = DROPLETS_COARSE },
	{ .says = "post-a wants droplets that are at least medium: say which "
		  "backpack "
		  "makes",
	    .a = { .droplets_least = DROPLETS_MEDIUM },
	    .caution = true },
	{ .droplets = DROPLETS_EXTREMELY_FINE },
	/* dose and carrier; one of 0.0004 L/m2 is 40 mL/100 m2 */
	{ .says =
		"post-a allows at most 30 mL/100 m2, the dose is 40 mL/100 m2",
	    .a = { RATE(0.0004), .rate_most = 0.0003 } },
	{ .says =
		"post-a allows at least 50 mL/100 m2, the dose is 40 mL/100 m2",
	    .a = { RATE(0.0004), .rate_least = 0.0005 } },
	{ .a = { RATE(0.0004), .rate_least = 0.0004, .rate_most = 0.0004 } },
	{ .says = "pre-b has no rate, so nobody can mix it: put one on its "
		  "card or write pre-b=RATE when you queue it",
	    .a = { RATE(0.0004) },
	    .b = { .rate_least = 1 },
	    .caution = true },
	{ .says = "post-a allows at least 5 L/100 m2, the carrier of backpack "
		  "is 4 "
		  "L/100 m2",
	    .a = { .carrier_least = 0.05 } },
	{ .says = "post-a allows at most 3 L/100 m2, the carrier of backpack "
		  "is 4 "
		  "L/100 m2",
	    .a = { .carrier_most = 0.03 } },
	{ .a = { .carrier_least = 0.04 }, .b = { .carrier_most = 0.04 } },
	/* states of the turf, dates */
	{ .says =
		"no state of the turf suits post-a (dormant) and pre-b (green)",
	    .a = { STATES(NO_STATE(GREEN_UP), NO_STATE(GREEN)) },
	    .b = { STATES(NO_STATE(DORMANT), NO_STATE(GREEN_UP)) },
	    .turned = "no state of the turf suits pre-b (green) and post-a "
		      "(dormant)" },
	{ .says = "no state of the turf suits post-a (dormant) and pre-b "
		  "(green-up, "
		  "green)",
	    .a = { STATES({ .measure = MEASURE_DORMANT,
			      .fold = FOLD_MIN,
			      .exposure = THAT_DAY,
			      .bound = BOUND_AT_LEAST,
			      .limit = 1 },
		NO_STATE(GREEN)) },
	    .b = { STATES(NO_STATE(DORMANT), NO_STATE(DORMANT)) },
	    .turned =
		"no state of the turf suits pre-b (green-up, green) and post-a "
		"(dormant)" },
	{ .a = { STATES(NO_STATE(GREEN), NO_STATE(GREEN)) },
	    .b = { STATES(NO_STATE(DORMANT), NO_STATE(DORMANT)) } },
	{ .a = { STATES(NO_STATE(GREEN_UP), NO_STATE(GREEN)) },
	    .b = { RULE(.measure = MEASURE_DORMANT, .fold = FOLD_ANY,
		.exposure = { { ANCHOR_END, 0 }, { ANCHOR_END, 86400 } },
		.bound = BOUND_AT_MOST) } },
	{ .says = "no day of the year suits post-a (1 Nov to 28 Feb) and pre-b "
		  "(1 Mar "
		  "to 31 Oct)",
	    .a = { DATES(11, 1, 2, 28) },
	    .b = { DATES(3, 1, 10, 31) },
	    .turned = "no day of the year suits pre-b (1 Mar to 31 Oct) and "
		      "post-a (1 "
		      "Nov to 28 Feb)" },
	{ .a = { DATES(11, 1, 3, 1) }, .b = { DATES(3, 1, 10, 31) } },
	{ .a = { DATES(11, 1, 2, 28) }, .b = { DATES(12, 31, 12, 31) } },
	/* limits that every state keeps */
	{ .a = { STATES(ANY_STATE(AT_MOST, 1), ANY_STATE(AT_LEAST, 0)) },
	    .b = { STATES(NO_STATE(GREEN_UP), NO_STATE(GREEN)) } },
	{ .a = { STATES(ANY_STATE(AT_MOST, 1), ANY_STATE(AT_LEAST, 0)) },
	    .b = { STATES(NO_STATE(DORMANT), NO_STATE(GREEN_UP)) } },
	/* the year */
	{ .says =
		"post-a allows at most 0 applications a year, so not this one",
	    .a = { SEASON(COUNT, AT_MOST, 0) } },
	{ .a = { SEASON(COUNT, AT_MOST, 1) } },
	{ .says = "post-a allows below 1 applications a year, so not this one",
	    .a = { SEASON(COUNT, BELOW, 1) } },
	{ .says = "post-a allows at most 30 mL/100 m2 a year, this job alone "
		  "puts down "
		  "40 mL/100 m2",
	    .a = { RATE(0.0004), SEASON(AMOUNT, AT_MOST, 0.0003) } },
	{ .a = { RATE(0.0004), SEASON(AMOUNT, AT_MOST, 0.0004) },
	    .b = { RATE(0.0004) } },
	{ .a = { SEASON(AMOUNT, AT_MOST, 0.0003) }, .b = { RATE(0.0004) } },
	{ .says = "post-a allows at most 20 g/100 m2 of auxin-x a year, this "
		  "job alone "
		  "puts down 24 g/100 m2",
	    .a = { RATE(0.0004), SEASON(ACTIVE, AT_MOST, 0.2), ACTIVE(400) },
	    .b = { RATE(0.0002), ACTIVE(400) } },
	{ .a = { RATE(0.0004), SEASON(ACTIVE, AT_MOST, 0.2), ACTIVE(400) },
	    .b = { RATE(0.0001), ACTIVE(400) } },
	{ .says = "post-a allows below 20 g/100 m2 of auxin-x a year, this job "
		  "alone "
		  "puts down 20 g/100 m2",
	    .a = { RATE(0.0004), SEASON(ACTIVE, BELOW, 0.2), ACTIVE(400) },
	    .b = { RATE(0.0001), ACTIVE(400) } },
};

static void
check_row(const struct row *row, bool turned, const char *says)
{
	struct scene scene;
	struct product a = row->a, b = row->b;
	a.name = "post-a";
	b.name = "pre-b";
	begin_scene(&scene);
	scene.site.species = row->species;
	scene.sprayer.droplets = row->droplets;
	add_product(&scene, turned ? &b : &a);
	add_product(&scene, turned ? &a : &b);
	find_all(&scene);
	if (scene.count != (says != NULL ? 1 : 0))
		print_error("row %d: \"%s\" instead of \"%s\"\n",
		    (int)(row - rows),
		    scene.count > 0 ? scene.found[0].text : "",
		    says != NULL ? says : "");
	assert_int_equal(scene.count, says != NULL ? 1 : 0);
	if (says == NULL)
		return;
	assert_string_equal(scene.found[0].text, says);
	assert_int_equal(scene.found[0].forbids, !row->caution);
}

static void
names_each_kind_once_in_either_order(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		const struct row *row = &rows[i];
		check_row(row, false, row->says);
		check_row(
		    row, true, row->turned != NULL ? row->turned : row->says);
	}
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(names_each_kind_once_in_either_order),
	};
	return RUN_TESTS(tests);
}
