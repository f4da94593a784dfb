/* Conflicts of more than two, of the dose, and of what was sprayed last. */
#include "unit/test.h"

#include "unit/conflicts_fixture.h"

static void
names_a_product_that_is_there_twice_but_no_quarrel_with_itself(void **state)
{
	(void)state;
	static const char *const says[] = { "post-a is in the tank twice" };
	const struct product a = { .name = "post-a",
		NOT_WITH("post-a"),
		.carrier_least = 0.03,
		DRY(START, 0, 24),
		WATER(12) };
	struct scene scene;
	begin_scene(&scene);
	for (int i = 0; i < 3; i++)
		add_product(&scene, &a);
	find_all(&scene);
	check_sentences(&scene, says, 1);
	assert_true(scene.found[0].forbids);
}

/* 1 % of a carrier of 4 L/100 m2 is 40 mL/100 m2. */
static void
reckons_a_dose_per_volume_by_the_carrier(void **state)
{
	(void)state;
	static const char *const says[] = {
		"post-a allows at most 39 mL/100 m2 a year, this job alone "
		"puts down 40 mL/100 m2"
	};
	struct product a = { .name = "post-a",
		.rate = 0.01,
		.rate_kind = QUANTITY_VOLUME_PER_VOLUME,
		SEASON(AMOUNT, AT_MOST, 0.00039) };
	struct scene scene;
	begin_scene(&scene);
	add_product(&scene, &a);
	find_all(&scene);
	check_sentences(&scene, says, 1);
	a.rules[0].is_volume = false; /* grams say nothing about litres */
	find_all(&scene);
	check_sentences(&scene, says, 0);
}

static void
tells_a_dose_of_another_kind_than_its_card_too(void **state)
{
	(void)state;
	static const char *const says[] = {
		"the dose of post-a is a weight, its card gives a volume"
	};
	const struct product a = { .name = "post-a", RATE(1), .rate_most = 1 };
	struct scene scene;
	begin_scene(&scene);
	add_product(&scene, &a);
	struct dose *dose = &scene.job.tank.dose[0];
	const double carrier = scene.job.sprayer->carrier;
	dose->rate = 2;
	find_all(&scene);
	assert_int_equal(scene.count, 1);
	/* so much in the mix is the same on the ground */
	dose->rate_kind = QUANTITY_VOLUME_PER_VOLUME;
	dose->rate = 2 / carrier;
	find_all(&scene);
	assert_int_equal(scene.count, 1);
	assert_true(scene.found[0].forbids);
	dose->rate = 0.9 / carrier;
	find_all(&scene);
	assert_int_equal(scene.count, 0);
	dose->rate_kind = QUANTITY_MASS_PER_AREA;
	find_all(&scene);
	check_sentences(&scene, says, 1);
}

static void
names_a_carrier_that_suits_nobody_beside_the_sprayer(void **state)
{
	(void)state;
	static const char *const says[] = {
		"pre-b wants at least 5 L/100 m2 of carrier, post-a at most "
		"4 L/100 m2",
		"pre-b allows at least 5 L/100 m2, the carrier of backpack is "
		"4 L/100 m2"
	};
	const struct product a = { .name = "post-a", .carrier_most = 0.04 };
	const struct product b = { .name = "pre-b", .carrier_least = 0.05 };
	struct scene scene;
	begin_scene(&scene);
	add_product(&scene, &a);
	add_product(&scene, &b);
	find_all(&scene);
	check_sentences(&scene, says, 2);
}

static void
names_an_adjuvant_that_one_needs_and_another_forbids(void **state)
{
	(void)state;
	static const char *const says[] = {
		"post-a needs an adjuvant, there is none in the tank",
		"pre-b may have no adjuvant, post-a needs one",
		"pre-b may have no adjuvant, surfactant-n is one"
	};
	const struct product a = { .name = "post-a",
		.adjuvant = ADJUVANT_REQUIRED };
	const struct product b = { .name = "pre-b",
		.adjuvant = ADJUVANT_FORBIDDEN };
	const struct product n = { .name = "surfactant-n",
		.kind = PRODUCT_ADJUVANT };
	struct scene scene;
	begin_scene(&scene);
	add_product(&scene, &a);
	add_product(&scene, &b);
	find_all(&scene);
	check_sentences(&scene, says, 2);
	add_product(&scene, &n);
	find_all(&scene);
	check_sentences(&scene, says + 1, 2);
}

static void
gives_one_reason_against_a_partner_and_leaves_others_out(void **state)
{
	(void)state;
	static const char *words[][2] = { { "pre-b", "x" }, { "x", "EC" },
		{ "EC", "pre-b" } };
	static const char *const says[][2] = {
		{ "post-a may not be mixed with pre-b" },
		{ "post-a may not be mixed with x, which is in pre-b" },
		{ "post-a may not be mixed with EC formulations, and pre-b is "
		  "one" },
	};
	struct active actives[] = { { "x", 1, true }, { "y", 1, true } };
	struct product a = { .name = "post-a", .not_with_count = 2 };
	const struct product b = { .name = "pre-b",
		.formulation = "EC",
		.active = actives,
		.active_count = 2 };
	const struct product c = { .name = "pre-c" };
	for (size_t i = 0; i < 3; i++) {
		struct scene scene;
		begin_scene(&scene);
		a.not_with = words[i];
		add_product(&scene, &c);
		add_product(&scene, &a);
		add_product(&scene, &b);
		find_all(&scene);
		check_sentences(&scene, says[i], 1);
	}
}

static void
leaves_whom_it_does_not_concern_out_of_a_quarrel(void **state)
{
	(void)state;
	static const char *const says[] = {
		"no day of the year suits post-a (1 Feb to 31 Mar) and post-c "
		"(1 Sep to 31 Oct)"
	};
	const struct product a = { .name = "post-a", DATES(2, 1, 3, 31) };
	const struct product b = { .name = "pre-b", DATES(1, 1, 12, 31) };
	const struct product c = { .name = "post-c", DATES(9, 1, 10, 31) };
	struct scene scene;
	begin_scene(&scene);
	add_product(&scene, &a);
	add_product(&scene, &b);
	add_product(&scene, &c);
	find_all(&scene);
	check_sentences(&scene, says, 1);
}

/* Each pair has something in common, the three have not. */
static void
names_three_that_exclude_each_other_only_together(void **state)
{
	(void)state;
	static const char *const says[] = {
		"no state of the turf suits post-a (green-up, green), pre-b "
		"(dormant, green) and post-c (dormant, green-up)",
		"no day of the year suits post-a (1 Jan to 31 Aug), pre-b (1 "
		"May to 31 Dec) and post-c (1 Sep to 30 Apr)",
		"no turf suits post-a (bermuda, zoysia), pre-b (zoysia, "
		"centipede) and post-c (bermuda, centipede)",
		"post-a is for bermuda, zoysia: say which turf front has",
		"pre-b is for zoysia, centipede: say which turf front has",
		"post-c is for bermuda, centipede: say which turf front has"
	};
	const struct product a = { .name = "post-a",
		STATES(NO_STATE(DORMANT), NO_STATE(DORMANT)),
		.species = BIT(BERMUDA) | BIT(ZOYSIA),
		DATES(1, 1, 8, 31) };
	const struct product b = { .name = "pre-b",
		STATES(NO_STATE(GREEN_UP), NO_STATE(GREEN_UP)),
		.species = BIT(ZOYSIA) | BIT(CENTIPEDE),
		DATES(5, 1, 12, 31) };
	const struct product c = { .name = "post-c",
		STATES(NO_STATE(GREEN), NO_STATE(GREEN)),
		.species = BIT(BERMUDA) | BIT(CENTIPEDE),
		DATES(9, 1, 4, 30) };
	struct scene scene;
	begin_scene(&scene);
	add_product(&scene, &a);
	add_product(&scene, &b);
	add_product(&scene, &c);
	find_all(&scene);
	check_sentences(&scene, says, 6);
}

/* Resistance groups: of what was sprayed last, and of the new tank. */
struct group_row {
	const char *last[2]; /* products of the last application */
	const char *tank[2];
	const char *groups; /* named; "": nothing is said */
};

static const struct group_row group_rows[] = {
	{ { "post-2" }, { "post-2" }, "2" },
	{ { "post-2" }, { "other-2" }, "2" },
	{ { "post-2" }, { "post-4" }, "" },
	{ { "post-2" }, { "post-2-4" }, "" },  /* the 4 is new */
	{ { "post-2-4" }, { "post-2" }, "2" }, /* nothing is new */
	{ { "post-2", "post-4" }, { "post-2-4" }, "2, 4" },
	{ { "post-2" }, { "post-2", "post-4" }, "" },
	{ { "post-2" }, { "post-2", "surfactant" }, "2" },
	{ { "post-2" }, { "post-2", "unsaid" }, "" }, /* nobody knows */
	{ { "post-2" }, { "surfactant" }, "" },
	{ { "post-2" }, { "post-2", "other-2" }, "2" },
	{ { "fungicide" }, { "post-2" },
	    "2" }, /* looks back to the last post-2 */
	{ { "gone" }, { "post-2" }, "2" },
};

static const struct product shelf[] = {
	{ .name = "post-2",
	    .group = (const char *[]){ "2" },
	    .group_count = 1 },
	{ .name = "other-2",
	    .group = (const char *[]){ "2" },
	    .group_count = 1 },
	{ .name = "post-4",
	    .group = (const char *[]){ "4" },
	    .group_count = 1 },
	{ .name = "post-2-4",
	    .group = (const char *[]){ "2", "4" },
	    .group_count = 2 },
	{ .name = "surfactant", .kind = PRODUCT_ADJUVANT },
	{ .name = "fungicide",
	    .kind = PRODUCT_OTHER,
	    .group = (const char *[]){ "11" },
	    .group_count = 1 },
	{ .name = "unsaid" },
};

static void
add_from_shelf(struct scene *scene, const char *name)
{
	for (size_t i = 0; i < sizeof shelf / sizeof shelf[0]; i++)
		if (strcmp(shelf[i].name, name) == 0)
			add_product(scene, &shelf[i]);
}

/* What was sprayed before, elsewhere and last; then the new tank. */
static void
check_groups(const struct group_row *row)
{
	char says[CONFLICT_TEXT];
	const char *const wanted[] = { says };
	struct application past[5] = {
		{ .site = "front", .product = "post-4", .at = 100 },
		{ .site = "front", .product = "post-2", .at = 200 },
		{ .site = "back", .product = "post-4", .at = 400 }
	};
	struct scene scene;
	size_t count = 3;
	begin_scene(&scene);
	for (size_t i = 0; i < 2 && row->last[i] != NULL; i++)
		past[count++] = (struct application){
			.site = "front", .product = row->last[i], .at = 300
		};
	for (size_t i = 0; i < 2 && row->tank[i] != NULL; i++)
		add_from_shelf(&scene, row->tank[i]);
	scene.facts.products = shelf;
	scene.facts.product_count = sizeof shelf / sizeof shelf[0];
	scene.facts.applications = past;
	scene.facts.application_count = count;
	find_all(&scene);
	(void)snprintf(says, sizeof says,
	    "same resistance group twice in a row: %s", row->groups);
	check_sentences(&scene, wanted, row->groups[0] != '\0' ? 1 : 0);
	assert_true(scene.count == 0 || !scene.found[0].forbids);
}

static void
warns_of_the_same_resistance_groups_twice_in_a_row(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof group_rows / sizeof group_rows[0]; i++)
		check_groups(&group_rows[i]);
}

static void
says_nothing_about_resistance_where_nothing_was_sprayed(void **state)
{
	(void)state;
	static const struct application past[] = {
		{ .site = "back", .product = "post-2", .at = 200 }
	};
	struct scene scene;
	begin_scene(&scene);
	scene.facts.products = shelf;
	scene.facts.product_count = sizeof shelf / sizeof shelf[0];
	scene.facts.applications = past;
	scene.facts.application_count = 1;
	add_product(&scene, &shelf[0]);
	find_all(&scene);
	assert_int_equal(scene.count, 0);
}

static void
puts_what_forbids_first_also_when_the_list_is_short(void **state)
{
	(void)state;
	const struct product a = { .name = "post-a",
		.species = BIT(BERMUDA),
		.droplets_least = DROPLETS_COARSE };
	const struct product b = {
		.name = "pre-b", .carrier_least = 1, SEASON(COUNT, AT_MOST, 0)
	};
	struct scene scene;
	begin_scene(&scene);
	add_product(&scene, &a);
	add_product(&scene, &b);
	find_all(&scene);
	assert_int_equal(scene.count, 4);
	for (size_t most = 0; most <= 4; most++) {
		struct conflict few[5] = { 0 };
		(void)snprintf(
		    few[most].text, sizeof few[most].text, "untouched");
		assert_int_equal(
		    conflicts_find(&scene.job, &scene.facts, few, most), most);
		assert_string_equal(few[most].text, "untouched");
		for (size_t i = 0; i < most; i++) {
			assert_string_equal(few[i].text, scene.found[i].text);
			assert_int_equal(few[i].forbids, i < 2);
		}
	}
}

static void
prints_in_the_keepers_units(void **state)
{
	(void)state;
	static const char *const says[] = {
		"post-a wants air temperature at most 85 °F during the job, "
		"pre-b wants air temperature at least 90 °F during the job"
	};
	const struct product a = { .name = "post-a",
		AIR(MAX, AT_MOST, (85 - 32) / 1.8) };
	const struct product b = { .name = "pre-b",
		AIR(MIN, AT_LEAST, (90 - 32) / 1.8) };
	struct scene scene;
	begin_scene(&scene);
	scene.facts.units = UNITS_US;
	add_product(&scene, &a);
	add_product(&scene, &b);
	find_all(&scene);
	check_sentences(&scene, says, 1);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(
		    names_a_product_that_is_there_twice_but_no_quarrel_with_itself),
		cmocka_unit_test(reckons_a_dose_per_volume_by_the_carrier),
		cmocka_unit_test(
		    tells_a_dose_of_another_kind_than_its_card_too),
		cmocka_unit_test(
		    names_a_carrier_that_suits_nobody_beside_the_sprayer),
		cmocka_unit_test(
		    names_an_adjuvant_that_one_needs_and_another_forbids),
		cmocka_unit_test(
		    gives_one_reason_against_a_partner_and_leaves_others_out),
		cmocka_unit_test(
		    leaves_whom_it_does_not_concern_out_of_a_quarrel),
		cmocka_unit_test(
		    names_three_that_exclude_each_other_only_together),
		cmocka_unit_test(
		    warns_of_the_same_resistance_groups_twice_in_a_row),
		cmocka_unit_test(
		    says_nothing_about_resistance_where_nothing_was_sprayed),
		cmocka_unit_test(
		    puts_what_forbids_first_also_when_the_list_is_short),
		cmocka_unit_test(prints_in_the_keepers_units),
	};
	return RUN_TESTS(tests);
}
