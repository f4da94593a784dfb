/* Tanks for weeds: what is proposed, in which order, and what is not. */
#include "unit/test.h"

#include "unit/choose_fixture.h"

#include "turf/weeds.h"

static void
one_product_for_all_comes_before_one_for_each(void **state)
{
	(void)state;
	struct shed shed;
	begin_shed(&shed);
	STOCK(&shed, .name = "all", CONTROLS("sedge", "clover"));
	STOCK(&shed, .name = "one", CONTROLS("sedge"));
	STOCK(&shed, .name = "two", CONTROLS("clover"));
	assert_true(CHOOSE(&shed, "clover", "sedge"));
	PROPOSES(&shed, "all!", "one,two!", "one!two!");
	assert_int_equal(shed.choice->weed_count, 2);
	assert_int_equal(shed.choice->proposal[0].tank[0].covers, 3);
	assert_int_equal(shed.choice->proposal[2].tank[0].covers, 2);
	assert_int_equal(shed.choice->proposal[2].tank[1].covers, 1);
	end_shed(&shed);
}

static void
a_name_matches_in_any_case_and_with_any_blanks(void **state)
{
	(void)state;
	static const struct {
		const char *one, *other;
		bool same;
	} cases[] = {
		{ "yellow nutsedge", "Yellow  Nutsedge", true },
		{ " yellownutsedge\t", "yellow nutsedge", true },
		{ "yellow nutsedge", "yellow nutsedges", false },
		{ "yellow-nutsedge", "yellow nutsedge", false },
		{ "", "  ", true },
		{ "", "a", false },
	};
	for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
		const struct product card = { CONTROLS(cases[i].one) };
		assert_int_equal(
		    weed_same(cases[i].one, cases[i].other), cases[i].same);
		assert_int_equal(
		    weed_same(cases[i].other, cases[i].one), cases[i].same);
		assert_int_equal(
		    product_controls(&card, cases[i].other), cases[i].same);
	}
}

static void
a_weed_on_no_card_is_refused_with_the_names_near_it(void **state)
{
	(void)state;
	static const struct {
		const char *weed, *says;
	} cases[] = {
		{ "nutsedge", "among its weeds; near it: purple nutsedge, "
			      "Yellow nutsedge" },
		{ "large Yellow Nutsedge", "near it: Yellow nutsedge" },
		{ "sedge", "near it: purple nutsedge, Yellow nutsedge" },
		{ "nut", "'nut' under controls" },
		{ "bluegrass, annual", "near it: bluegrass" },
		{ " ", "under controls" },
		{ "moss", "under controls" },
	};
	struct shed shed;
	begin_shed(&shed);
	STOCK(&shed, .name = "one", CONTROLS("yellow nutsedge", "bluegrass"));
	STOCK(&shed, .name = "two",
	    CONTROLS("purple nutsedge", "Yellow nutsedge"));
	STOCK(&shed, .name = "wet", .kind = PRODUCT_OTHER, CONTROLS("moss"));
	for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
		assert_false(CHOOSE(&shed, "bluegrass", cases[i].weed));
		assert_int_equal(shed.error.kind, ERROR_INPUT);
		assert_contains(shed.error.text, cases[i].weed);
		assert_string_equal(shed.error.text + strlen(shed.error.text) -
					strlen(cases[i].says),
		    cases[i].says);
		assert_null(shed.choice);
	}
	end_shed(&shed);
}

static void
only_the_first_near_names_are_told(void **state)
{
	(void)state;
	struct shed shed;
	begin_shed(&shed);
	STOCK(&shed, .name = "one",
	    CONTROLS(
		"c weed", "a weed", "b weed", "e weed", "d weed", "f weed"));
	assert_false(CHOOSE(&shed, "weed"));
	assert_contains(
	    shed.error.text, ": a weed, b weed, c weed, d weed, e weed ...");
	end_shed(&shed);
}

static void
a_weed_that_is_named_twice_counts_once(void **state)
{
	(void)state;
	enum { MANY = 33 };
	const char *weeds[MANY], *control[MANY];
	char name[MANY][8];
	struct shed shed;
	begin_shed(&shed);
	for (size_t i = 0; i < MANY; i++) {
		(void)snprintf(name[i], sizeof name[i], "w%zu", i);
		weeds[i] = control[i] = name[i];
	}
	STOCK(&shed, .name = "one", .control = control, .control_count = MANY);
	assert_true(CHOOSE(&shed, "w1", "W 1", "w1"));
	assert_int_equal(shed.choice->weed_count, 1);
	assert_true(choose(&shed, weeds, MANY - 1));
	PROPOSES(&shed, "one!");
	assert_int_equal(shed.choice->proposal[0].tank[0].covers, UINT32_MAX);
	assert_false(choose(&shed, weeds, MANY));
	assert_int_equal(shed.error.kind, ERROR_INPUT);
	assert_false(choose(&shed, weeds, 0));
	assert_int_equal(shed.error.kind, ERROR_INPUT);
	end_shed(&shed);
}

static void
what_needs_an_adjuvant_gets_the_cheapest_that_nothing_forbids(void **state)
{
	(void)state;
	struct shed shed;
	begin_shed(&shed);
	STOCK(&shed, .name = "su-b", .adjuvant = ADJUVANT_REQUIRED,
	    NOT_WITH("oil"), CONTROLS("sedge"));
	STOCK(&shed, .name = "dry", CONTROLS("sedge"));
	const struct product adjuvant[] = {
		{ .name = "free", .kind = PRODUCT_ADJUVANT },
		{ .name = "oil", .kind = PRODUCT_ADJUVANT, RATE(0.001) },
		{ .name = "soap", .kind = PRODUCT_ADJUVANT, RATE(0.001) },
		{ .name = "gone", .kind = PRODUCT_ADJUVANT, RATE(0.001) },
		{ .name = "best", .kind = PRODUCT_ADJUVANT, RATE(0.001) },
		{ .name = "what", .kind = PRODUCT_ADJUVANT, RATE(0.001) },
	};
	static const double on_hand[] = { 9, 9, 9, 0, 9, 9 };
	static const double cost[] = { 0, 0.1, 0.3, 0, 0.2, NAN };
	for (size_t i = 0; i < 6; i++)
		put_on_shelf(&shed, &adjuvant[i], on_hand[i], cost[i]);
	assert_true(CHOOSE(&shed, "sedge"));
	PROPOSES(&shed, "dry!", "su-b,best!");
	assert_close(shed.choice->proposal[1].cost, 1.2, 1e-9);
	assert_int_equal(shed.choice->proposal[1].product_count, 2);
	end_shed(&shed);
}

/* What is left out, and why. */
static void
check_left_out(const struct shed *shed, const char *says)
{
	assert_int_equal(shed->choice->left_out_count, 1);
	assert_string_equal(shed->choice->left_out[0].why, says);
	assert_string_equal(shed->choice->left_out[0].product->name, "odd");
}

static void
what_cannot_be_sprayed_is_left_out_with_the_reason(void **state)
{
	(void)state;
	const struct {
		struct product card;
		double on_hand;
		const char *why;
	} cases[] = {
		{ { RATE(0.001), .species = BIT(ZOYSIA) }, 9,
		    "odd is for zoysia, front is bermuda" },
		{ { RATE(0.001) }, 0,
		    "nothing of odd that is still good is on hand" },
		{ { .keep_off = 9 }, 9, "odd has no rate on its card" },
		{ { RATE(0.001), .adjuvant = ADJUVANT_REQUIRED }, 9,
		    "odd needs an adjuvant, none with a rate is on hand" },
		{ { RATE(0.001), .rate_most = 0.0005 }, 9,
		    "odd allows at most 50 mL/100 m2, the dose is 100 mL/100 "
		    "m2" },
	};
	for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
		struct shed shed;
		struct product card = cases[i].card;
		const char *control[] = { "sedge" };
		begin_shed(&shed);
		shed.scene.site.species = TURF_BERMUDA;
		card.name = "odd";
		card.control = control;
		card.control_count = 1;
		put_on_shelf(&shed, &card, cases[i].on_hand, 1);
		STOCK(&shed, .name = "moot", .species = BIT(ZOYSIA),
		    CONTROLS("clover"));
		assert_true(CHOOSE(&shed, "sedge"));
		assert_int_equal(shed.choice->count, 0);
		assert_int_equal(shed.choice->covered, 0);
		check_left_out(&shed, cases[i].why);
		STOCK(&shed, .name = "even", CONTROLS("sedge"));
		assert_true(CHOOSE(&shed, "sedge"));
		PROPOSES(&shed, "even!");
		assert_int_equal(shed.choice->covered, 1);
		check_left_out(&shed, cases[i].why);
		end_shed(&shed);
	}
}

static void
the_rate_is_the_usual_one_or_the_least(void **state)
{
	(void)state;
	struct shed shed;
	begin_shed(&shed);
	put_on_shelf(&shed,
	    &(struct product){ .name = "a",
		.rate_least = 0.002,
		.rate_most = 0.004,
		.rate_kind = QUANTITY_MASS_PER_AREA,
		CONTROLS("sedge") },
	    (double)NAN, 1);
	put_on_shelf(&shed,
	    &(struct product){ .name = "b",
		.rate = 0.003,
		.rate_least = 0.002,
		.rate_kind = QUANTITY_MASS_PER_AREA,
		CONTROLS("sedge") },
	    5, 1);
	assert_true(CHOOSE(&shed, "sedge"));
	PROPOSES(&shed, "a!", "b!");
	const struct proposal *proposal = shed.choice->proposal;
	assert_close(proposal[0].tank[0].mix.dose[0].rate, 0.002, 0);
	assert_close(proposal[1].tank[0].mix.dose[0].rate, 0.003, 0);
	assert_int_equal(
	    proposal[0].tank[0].mix.dose[0].rate_kind, QUANTITY_MASS_PER_AREA);
	end_shed(&shed);
}

static void
partners_that_exclude_each_other_go_into_two_tanks(void **state)
{
	(void)state;
	struct shed shed;
	begin_shed(&shed);
	STOCK(&shed, .name = "one", CONTROLS("sedge"), NOT_WITH("two"));
	STOCK(&shed, .name = "two", CONTROLS("clover"));
	assert_true(CHOOSE(&shed, "clover", "sedge"));
	PROPOSES(&shed, "one!two!");
	end_shed(&shed);
}

/* Three partners in a tank and three tanks: nine weeds, but not ten. */
static void
a_tank_has_three_partners_and_a_proposal_three_tanks(void **state)
{
	(void)state;
	enum { CARDS = 10 };
	static const char *const names[CARDS] = { "a", "b", "c", "d", "e", "f",
		"g", "h", "i", "j" };
	/* into threes: n! / (3!^(n/3) (n/3)!), and for four 4 + 3 (1+3, 2+2)
	   in two tanks and 6 (1+1+2) in three */
	static const struct {
		size_t weeds, found, tanks;
	} cases[] = { { 3, 5, 1 }, { 4, 13, 2 }, { 9, 280, 3 }, { 10, 0, 0 } };
	struct shed shed;
	begin_shed(&shed);
	for (size_t i = 0; i < CARDS; i++)
		STOCK(&shed, .name = names[i],
		    .control = (const char **)&names[i], .control_count = 1);
	for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
		assert_true(choose(&shed, names, cases[i].weeds));
		assert_int_equal(shed.choice->found, cases[i].found);
		assert_int_equal(
		    shed.choice->proposal[0].tank_count, cases[i].tanks);
		assert_true(shed.choice->count <= CHOOSE_MOST);
	}
	end_shed(&shed);
}

static void
a_group_that_was_sprayed_last_comes_behind(void **state)
{
	(void)state;
	struct shed shed;
	begin_shed(&shed);
	STOCK(&shed, .name = "a", GROUP("2", "14"), CONTROLS("sedge"));
	STOCK(&shed, .name = "b", GROUP("2"), CONTROLS("sedge"));
	STOCK(&shed, .name = "c", GROUP("4"), CONTROLS("sedge"));
	STOCK(&shed, .name = "d", CONTROLS("sedge"));
	STOCK(&shed, .name = "e", GROUP("14"));
	const struct application applications[] = {
		{ "front", "e", 200, 500, 1, true },
		{ "front", "c", 100, 500, 1, true },
		{ "front", "b", 200, 500, 1, true },
		{ "front", "soap", 300, 500, 1, true },
		{ "back", "c", 400, 500, 1, true },
	};
	shed.scene.facts.applications = applications;
	shed.scene.facts.application_count =
	    sizeof applications / sizeof applications[0];
	assert_true(CHOOSE(&shed, "sedge"));
	PROPOSES(&shed, "c!", "d!", "b!", "a!");
	assert_int_equal(shed.choice->proposal[0].repeated, 0);
	assert_int_equal(shed.choice->proposal[2].repeated, 1);
	assert_int_equal(shed.choice->proposal[3].repeated, 2);
	end_shed(&shed);
}

static void
a_group_in_two_tanks_is_repeated(void **state)
{
	(void)state;
	struct shed shed;
	begin_shed(&shed);
	STOCK(&shed, .name = "a", GROUP("2"), NOT_WITH("b"), CONTROLS("x"));
	STOCK(&shed, .name = "b", GROUP("2"), CONTROLS("y"));
	STOCK(&shed, .name = "c", GROUP("4"), NOT_WITH("a"), CONTROLS("y"));
	assert_true(CHOOSE(&shed, "x", "y"));
	PROPOSES(&shed, "a!c!", "a!b!");
	assert_int_equal(shed.choice->proposal[1].repeated, 1);
	end_shed(&shed);
}

static void
the_cheapest_comes_first_when_all_prices_are_known(void **state)
{
	(void)state;
	struct shed shed;
	begin_shed(&shed);
	STOCK(&shed, .name = "a", CONTROLS("x", "y"));
	STOCK(&shed, .name = "b", CONTROLS("x"));
	STOCK(&shed, .name = "c", CONTROLS("y"));
	shed.item[0].cost = 3;
	assert_true(CHOOSE(&shed, "x", "y"));
	PROPOSES(&shed, "b,c!", "a!", "b!c!");
	assert_close(shed.choice->proposal[0].cost, 2, 1e-9);
	shed.item[2].cost = NAN;
	assert_true(CHOOSE(&shed, "x", "y"));
	PROPOSES(&shed, "a!", "b,c!", "b!c!");
	assert_nan(shed.choice->proposal[1].cost);
	end_shed(&shed);
}

static void
of_many_herbicides_those_that_cover_most_are_searched(void **state)
{
	(void)state;
	char name[20][8];
	const char *control[] = { "x", "y" };
	struct shed shed;
	begin_shed(&shed);
	for (size_t i = 0; i < 20; i++) {
		(void)snprintf(name[i], sizeof name[i], "h-%02zu", i);
		STOCK(&shed, .name = name[i], .control = control,
		    .control_count = i == 18 ? 2 : 1);
	}
	assert_true(CHOOSE(&shed, "x", "y"));
	assert_int_equal(shed.choice->usable, 20);
	assert_int_equal(shed.choice->searched, CHOOSE_HERBICIDES);
	PROPOSES(&shed, "h-18!");
	end_shed(&shed);
}

static void
of_many_herbicides_the_only_one_for_a_weed_is_searched(void **state)
{
	(void)state;
	char name[20][8];
	const char *common[] = { "x", "y" }, *rare[] = { "z" };
	struct shed shed;
	begin_shed(&shed);
	for (size_t i = 0; i < 20; i++) {
		(void)snprintf(name[i], sizeof name[i], "h-%02zu", i);
		STOCK(&shed, .name = name[i],
		    .control = i == 18 ? rare : common,
		    .control_count = i == 18 ? 1 : 2);
	}
	assert_true(CHOOSE(&shed, "x", "y", "z"));
	assert_int_equal(shed.choice->searched, CHOOSE_HERBICIDES);
	assert_true(shed.choice->count > 0);
	assert_int_equal(shed.choice->proposal[0].tank_count, 1);
	assert_int_equal(shed.choice->proposal[0].product_count, 2);
	end_shed(&shed);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(one_product_for_all_comes_before_one_for_each),
		cmocka_unit_test(
		    a_name_matches_in_any_case_and_with_any_blanks),
		cmocka_unit_test(
		    a_weed_on_no_card_is_refused_with_the_names_near_it),
		cmocka_unit_test(only_the_first_near_names_are_told),
		cmocka_unit_test(a_weed_that_is_named_twice_counts_once),
		cmocka_unit_test(
		    what_needs_an_adjuvant_gets_the_cheapest_that_nothing_forbids),
		cmocka_unit_test(
		    what_cannot_be_sprayed_is_left_out_with_the_reason),
		cmocka_unit_test(the_rate_is_the_usual_one_or_the_least),
		cmocka_unit_test(
		    partners_that_exclude_each_other_go_into_two_tanks),
		cmocka_unit_test(
		    a_tank_has_three_partners_and_a_proposal_three_tanks),
		cmocka_unit_test(a_group_that_was_sprayed_last_comes_behind),
		cmocka_unit_test(a_group_in_two_tanks_is_repeated),
		cmocka_unit_test(
		    the_cheapest_comes_first_when_all_prices_are_known),
		cmocka_unit_test(
		    of_many_herbicides_those_that_cover_most_are_searched),
		cmocka_unit_test(
		    of_many_herbicides_the_only_one_for_a_weed_is_searched),
	};
	return RUN_TESTS(tests);
}
