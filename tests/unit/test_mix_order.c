/* The order in which products go into the tank. */
#include "unit/test.h"

#include "turf/mix_order.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

/*
 * The comprehensive list of Pease, Christians and Thoms, SportsField
 * Management, May/June 2021 (read), first to last.
 */
static const struct {
	const char *code;
	enum mix_step step;
} published[] = {
	{ "WSP", MIX_PACKET },
	{ "WSB", MIX_PACKET },
	{ "SG", MIX_DRY },
	{ "WG", MIX_DRY },
	{ "WDG", MIX_DRY },
	{ "WP", MIX_DRY },
	{ "AMS", MIX_CONDITIONER },
	{ "CS", MIX_DISPERSED },
	{ "EW", MIX_DISPERSED },
	{ "F", MIX_DISPERSED },
	{ "FL", MIX_DISPERSED },
	{ "SC", MIX_DISPERSED },
	{ "SE", MIX_DISPERSED },
	{ "EC", MIX_SOLUTION },
	{ "OD", MIX_SOLUTION },
	{ "S", MIX_SOLUTION },
	{ "SL", MIX_SOLUTION },
	{ "COC", MIX_ADJUVANT },
	{ "MSO", MIX_ADJUVANT },
	{ "NIS", MIX_ADJUVANT },
};

static void
codes_follow_the_published_list(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(published); i++) {
		assert_int_equal(
		    mix_step_of_code(published[i].code), published[i].step);
		assert_true(
		    i == 0 || published[i - 1].step <= published[i].step);
	}
	assert_true(MIX_DISPERSED < MIX_DRIFT_RETARDANT);
	assert_true(MIX_DRIFT_RETARDANT < MIX_SOLUTION);
	assert_true(MIX_ADJUVANT < MIX_FERTILIZER);
	assert_true(MIX_FERTILIZER < MIX_DEFOAMER);
	/* other names of the same, common practice, no source */
	static const char *const dry[] = { "DF", "DG", "SP", "wg" };
	for (size_t i = 0; i < COUNT(dry); i++)
		assert_int_equal(mix_step_of_code(dry[i]), MIX_DRY);
}

static void
what_is_not_in_the_list_is_the_labels_to_say(void **state)
{
	(void)state;
	static const char *const codes[] = { "", "XX", "W", "GR", "G", "ME" };
	for (size_t i = 0; i < COUNT(codes); i++)
		assert_int_equal(mix_step_of_code(codes[i]), MIX_UNSAID);
	const struct product no_code = { .name = "a" };
	assert_int_equal(mix_step_of(&no_code), MIX_UNSAID);
}

static void
the_card_rules_over_the_code_and_the_code_over_the_kind(void **state)
{
	(void)state;
	struct product product = {
		.name = "a", .formulation = "", .kind = PRODUCT_ADJUVANT
	};
	assert_int_equal(mix_step_of(&product), MIX_ADJUVANT);
	product.formulation = "AMS";
	assert_int_equal(mix_step_of(&product), MIX_CONDITIONER);
	product.formulation = "SG";
	assert_int_equal(mix_step_of(&product), MIX_DRY);
	/* a surfactant is a liquid like others, and comes behind them */
	product.formulation = "SL";
	assert_int_equal(mix_step_of(&product), MIX_ADJUVANT);
	product.formulation = "EW";
	assert_int_equal(mix_step_of(&product), MIX_ADJUVANT);
	product.mix_step = MIX_LAST;
	assert_int_equal(mix_step_of(&product), MIX_LAST);
	product.mix_step = MIX_FIRST;
	assert_int_equal(mix_step_of(&product), MIX_FIRST);
}

static void
granules_are_not_for_a_sprayer(void **state)
{
	(void)state;
	static const struct {
		const char *code;
		bool is_granule;
	} rows[] = { { "G", true }, { "gr", true }, { "WG", false },
		{ "SG", false }, { "", false } };
	for (size_t i = 0; i < COUNT(rows); i++) {
		const struct product product = { .name = "a",
			.formulation = rows[i].code };
		assert_true(mix_is_granule(&product) == rows[i].is_granule);
	}
}

/* "b a c": the names in the order of the tank. */
static void
tell_order(const struct tank_mix *tank, char *ret, size_t size)
{
	size_t order[LIMIT_TANK_PRODUCTS], used = 0;
	mix_order(tank, order);
	for (size_t i = 0; i < tank->count && used < size; i++) {
		const struct product *product = tank->dose[order[i]].product;
		used += (size_t)snprintf(ret + used, size - used, "%s%s",
		    i > 0 ? " " : "", product != NULL ? product->name : "?");
	}
}

/* The next permutation in the order of the dictionary; false after the last. */
static bool
permute(size_t *place, size_t count)
{
	size_t i = count - 1, j = count - 1;
	while (i > 0 && place[i - 1] >= place[i])
		i--;
	if (i == 0)
		return false;
	while (place[j] <= place[i - 1])
		j--;
	size_t kept = place[i - 1];
	place[i - 1] = place[j];
	place[j] = kept;
	for (j = count - 1; i < j; i++, j--) {
		kept = place[i];
		place[i] = place[j];
		place[j] = kept;
	}
	return true;
}

static const struct product shelf[] = {
	{ .name = "packet", .formulation = "WSP" },
	{ .name = "dry-b", .formulation = "WG" },
	{ .name = "dry-a", .formulation = "WP" },
	{ .name = "flowable", .formulation = "SC" },
	{ .name = "emulsion", .formulation = "EC" },
	{ .name = "surfactant", .kind = PRODUCT_ADJUVANT },
	{ .name = "unknown", .formulation = "ZZ" },
	{ .name = "ruled", .formulation = "WG", .mix_step = MIX_LAST },
};

/* Fixture: mixing order permutations. Eight products, 40320 orders. */
static void
every_permutation_of_a_tank_gives_one_order(void **state)
{
	(void)state;
	size_t place[COUNT(shelf)], count = 0;
	for (size_t i = 0; i < COUNT(shelf); i++)
		place[i] = i;
	do {
		struct tank_mix tank = { .count = COUNT(shelf) };
		char told[256] = "";
		for (size_t i = 0; i < COUNT(shelf); i++)
			tank.dose[i].product = &shelf[place[i]];
		tell_order(&tank, told, sizeof told);
		assert_string_equal(told,
		    "packet dry-a dry-b flowable emulsion surfactant unknown "
		    "ruled");
		count++;
	} while (permute(place, COUNT(shelf)));
	assert_int_equal(count, 40320);
}

/*
 * Two published readings that contradict the usual one of W-A-L-E-S (read): a
 * farm news site of May 2024 takes A as "aqueous" and L as "liquid fertilizers
 * and adjuvants", so both come before the emulsion; an advisory page from India
 * begins W with water-soluble fertilizers. By code neither letter counts.
 */
static void
formulation_codes_rule_over_the_letters_of_an_acronym(void **state)
{
	(void)state;
	static const struct product surfactant = { .name = "surfactant",
		.formulation = "NIS" };
	static const struct product emulsion = { .name = "emulsion",
		.formulation = "EC" };
	static const struct product powder = { .name = "powder",
		.formulation = "WP" };
	static const struct product fertilizer = { .name = "fertilizer",
		.mix_step = MIX_FERTILIZER };
	static const struct product flowable = { .name = "flowable",
		.formulation = "SC" };
	char told[64];
	struct tank_mix tank = {
		{ { .product = &surfactant }, { .product = &emulsion } }, 2
	};
	tell_order(&tank, told, sizeof told);
	assert_string_equal(told, "emulsion surfactant");
	tank = (struct tank_mix){ { { .product = &fertilizer },
				      { .product = &powder },
				      { .product = &flowable } },
		3 };
	tell_order(&tank, told, sizeof told);
	assert_string_equal(told, "powder flowable fertilizer");
}

static void
each_step_has_the_word_of_the_card(void **state)
{
	(void)state;
	assert_string_equal(mix_step_word(MIX_UNSAID), "");
	assert_string_equal(mix_step_word(MIX_FIRST), "first");
	assert_string_equal(
	    mix_step_word(MIX_DRIFT_RETARDANT), "drift-retardant");
	assert_string_equal(mix_step_word(MIX_DYE), "dye");
	assert_string_equal(mix_step_word(MIX_LAST), "last");
	for (enum mix_step step = MIX_FIRST; step < MIX_STEPS; step++)
		assert_true(mix_step_word(step)[0] != '\0');
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(codes_follow_the_published_list),
		cmocka_unit_test(what_is_not_in_the_list_is_the_labels_to_say),
		cmocka_unit_test(
		    the_card_rules_over_the_code_and_the_code_over_the_kind),
		cmocka_unit_test(granules_are_not_for_a_sprayer),
		cmocka_unit_test(every_permutation_of_a_tank_gives_one_order),
		cmocka_unit_test(
		    formulation_codes_rule_over_the_letters_of_an_acronym),
		cmocka_unit_test(each_step_has_the_word_of_the_card),
	};
	return RUN_TESTS(tests);
}
