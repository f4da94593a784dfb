/* What holds of any shelf: random cards against every set of tanks there is. */
#include "unit/test.h"

#include "unit/choose_force.h"

enum { SHELVES = 400 };

static void
every_proposal_is_the_next_best_of_all_there_are(void **state)
{
	(void)state;
	static struct force force;
	uint64_t seed = 31;
	size_t proposed = 0, in_tanks[CHOOSE_TANKS + 1] = { 0 };
	for (int n = 0; n < rounds(SHELVES); n++) {
		struct world world;
		const char *weeds[WEEDS] = { NULL };
		char told[TOLD];
		draw_world(&world, &seed);
		size_t count = draw_weeds(&world, weeds, &seed);
		if (count == 0)
			continue;
		assert_true(choose(&world.shed, weeds, count));
		const struct choice *choice = world.shed.choice;
		force = (struct force){
			.shed = &world.shed, .weeds = weeds, .weed_count = count
		};
		try_all(&force);
		assert_int_equal(choice->found, force.count);
		assert_int_equal(choice->count,
		    force.count < CHOOSE_MOST ? force.count : CHOOSE_MOST);
		for (size_t i = 0; i < choice->count; i++) {
			tell_proposal(told, sizeof told, &choice->proposal[i]);
			assert_string_equal(told, force.answer[i].told);
			assert_int_equal(choice->proposal[i].repeated,
			    force.answer[i].repeated);
			in_tanks[choice->proposal[i].tank_count]++;
			proposed++;
		}
		end_shed(&world.shed);
	}
	assert_true(proposed > (size_t)rounds(SHELVES));
	assert_true(in_tanks[1] > 0 && in_tanks[2] > 0 && in_tanks[3] > 0);
}

/* What those products of a tank, or of several, cover; one is left out. */
static uint32_t
covers_without(const struct choice *choice, const struct tank_mix *mix,
    const struct product *out)
{
	uint32_t bits = 0;
	for (size_t i = 0; i < mix->count; i++)
		for (size_t w = 0; w < choice->weed_count; w++)
			if (mix->dose[i].product != out &&
			    mix->dose[i].product->kind == PRODUCT_HERBICIDE &&
			    product_controls(
				mix->dose[i].product, choice->weed[w]))
				bits |= UINT32_C(1) << w;
	return bits;
}

/* Can nothing be left out, and does nothing forbid it? */
static void
check_tank(const struct shed *shed, const struct proposal *proposal, size_t t)
{
	const struct tank_mix *mix = &proposal->tank[t].mix;
	struct conflict found[CONFLICTS_MOST];
	struct job job = shed->scene.job;
	uint32_t others = 0, all = (1U << shed->choice->weed_count) - 1;
	job.tank = *mix;
	size_t count =
	    conflicts_find(&job, &shed->scene.facts, found, CONFLICTS_MOST);
	assert_true(count == 0 || !found[0].forbids);
	assert_int_equal(
	    proposal->tank[t].covers, covers_without(shed->choice, mix, NULL));
	for (size_t other = 0; other < proposal->tank_count; other++)
		if (other != t)
			others |= proposal->tank[other].covers;
	assert_int_equal(others | proposal->tank[t].covers, all);
	assert_int_not_equal(others, all);
	for (size_t i = 0; i < mix->count; i++) {
		const struct product *card = mix->dose[i].product;
		bool spared =
		    (others | covers_without(shed->choice, mix, card)) == all;
		assert_int_equal(spared, card->kind == PRODUCT_ADJUVANT);
	}
}

static void
nothing_can_be_left_out_of_a_proposal_and_nothing_forbids_it(void **state)
{
	(void)state;
	uint64_t seed = 32;
	size_t tanks = 0;
	for (int n = 0; n < rounds(SHELVES); n++) {
		struct world world;
		const char *weeds[WEEDS] = { NULL };
		draw_world(&world, &seed);
		size_t count = draw_weeds(&world, weeds, &seed);
		if (count == 0)
			continue;
		assert_true(choose(&world.shed, weeds, count));
		const struct choice *choice = world.shed.choice;
		for (size_t i = 0; i < choice->count; i++)
			for (size_t t = 0; t < choice->proposal[i].tank_count;
			     t++, tanks++)
				check_tank(
				    &world.shed, &choice->proposal[i], t);
		end_shed(&world.shed);
	}
	assert_true(tanks > (size_t)rounds(SHELVES));
}

/* The first proposal's tanks; one more than any has when there is none. */
static size_t
fewest_tanks(const struct shed *shed)
{
	return shed->choice->count > 0 ? shed->choice->proposal[0].tank_count
				       : CHOOSE_TANKS + 1;
}

static void
a_product_more_on_the_shelf_never_takes_more_tanks(void **state)
{
	(void)state;
	uint64_t seed = 33;
	size_t fewer = 0;
	for (int n = 0; n < rounds(SHELVES); n++) {
		struct world world;
		const char *weeds[WEEDS] = { NULL };
		draw_world(&world, &seed);
		size_t count = draw_weeds(&world, weeds, &seed);
		struct choose_item *joins =
		    &world.shed.item[draw_from(&seed, 0, CARDS - 1)];
		if (count == 0)
			continue;
		joins->on_hand = 0;
		assert_true(choose(&world.shed, weeds, count));
		size_t before = fewest_tanks(&world.shed);
		joins->on_hand = 9;
		assert_true(choose(&world.shed, weeds, count));
		assert_true(fewest_tanks(&world.shed) <= before);
		fewer += fewest_tanks(&world.shed) < before ? 1 : 0;
		end_shed(&world.shed);
	}
	assert_true(fewer > 0);
}

/* The same cards and weeds, the last ones first. */
static void
turn_round(struct world *world, const char **weeds, size_t count)
{
	struct shed *shed = &world->shed;
	for (size_t i = 0; i < CARDS / 2; i++) {
		struct product card = shed->card[i];
		struct choose_item item = shed->item[i];
		shed->card[i] = shed->card[CARDS - 1 - i];
		shed->item[i] = shed->item[CARDS - 1 - i];
		shed->card[CARDS - 1 - i] = card;
		shed->item[CARDS - 1 - i] = item;
	}
	for (size_t i = 0; i < CARDS; i++)
		shed->item[i].product = &shed->card[i];
	for (size_t w = 0; w < count / 2; w++) {
		const char *weed = weeds[w];
		weeds[w] = weeds[count - 1 - w];
		weeds[count - 1 - w] = weed;
	}
}

/* All that a choice says, but for the order of the weeds. */
static void
tell_choice(struct text *text, const struct choice *choice)
{
	char told[TOLD];
	text_clear(text);
	for (size_t i = 0; i < choice->count; i++) {
		tell_proposal(told, sizeof told, &choice->proposal[i]);
		text_format(text, "%s %.6f %zu\n", told,
		    choice->proposal[i].cost, choice->proposal[i].repeated);
	}
	for (size_t i = 0; i < choice->left_out_count; i++)
		text_format(text, "%s\n", choice->left_out[i].why);
}

static void
the_order_of_cards_and_weeds_does_not_matter(void **state)
{
	(void)state;
	struct text before, after;
	uint64_t seed = 34;
	size_t told = 0;
	text_init(&before, LIMIT_OUTPUT_BYTES);
	text_init(&after, LIMIT_OUTPUT_BYTES);
	for (int n = 0; n < rounds(SHELVES); n++) {
		struct world world;
		const char *weeds[WEEDS] = { NULL };
		draw_world(&world, &seed);
		size_t count = draw_weeds(&world, weeds, &seed);
		if (count == 0)
			continue;
		assert_true(choose(&world.shed, weeds, count));
		tell_choice(&before, world.shed.choice);
		turn_round(&world, weeds, count);
		assert_true(choose(&world.shed, weeds, count));
		tell_choice(&after, world.shed.choice);
		assert_string_equal(text_string(&before), text_string(&after));
		told += before.length;
		end_shed(&world.shed);
	}
	assert_true(told > 0);
	text_release(&before);
	text_release(&after);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(
		    every_proposal_is_the_next_best_of_all_there_are),
		cmocka_unit_test(
		    nothing_can_be_left_out_of_a_proposal_and_nothing_forbids_it),
		cmocka_unit_test(
		    a_product_more_on_the_shelf_never_takes_more_tanks),
		cmocka_unit_test(the_order_of_cards_and_weeds_does_not_matter),
	};
	return RUN_TESTS(tests);
}
