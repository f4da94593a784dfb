/* What the calendar says about a slot, from judgements made by hand. */
#include "unit/compose_fixture.h"

static void
a_good_slot_says_go_and_what_is_nearest(void **state)
{
	(void)state;
	struct world world;
	struct composed composed;
	begin_world(&world, 3, 4);
	world.job.note = "mow before";
	judge_world(&world);
	compose_slot(&world.judgement, &world.facts, &world.style, &composed);
	const char *text = composed.entry.description;
	assert_string_equal(composed.entry.summary, "GO: front, post-a + dye");
	assert_entry(&composed, "job-7", "GO", ENTRY_CONFIRMED);
	assert_int_equal(composed.entry.from, world.facts.slot.from);
	assert_int_equal(composed.entry.to, world.facts.slot.to);
	assert_false(composed.entry.all_day);
	assert_true(composed.entry.has_place);
	assert_close(composed.entry.latitude, 33, 0);
	assert_close(composed.entry.longitude, -97, 0);
	/* the three tightest of four, the tightest first */
	assert_contains(text, "4 rules");
	assert_int_equal(count_reasons(text), 3);
	assert_begins(strstr(text, "\n- "), "\n- air temperature");
	assert_contains(text, "(post-a)");
	assert_contains(text, "2 °C to spare");
	/* 600 m2 at 0.05 L/m2 in 15 L; 0.3 g/m2; 2 mL/L of mix */
	assert_contains(text, "30 L in 2 tanks");
	assert_contains(text, "post-a 180 g");
	assert_contains(text, "dye 60 mL");
	assert_contains(text, "mow before");
	assert_contains(text, "lull done 7");
	assert_contains(text, "Forecast: somebody");
	assert_cautions(&composed);
	composed_release(&composed);
	end_world(&world);
}

static void
a_window_says_its_last_start(void **state)
{
	(void)state;
	struct world world;
	struct composed composed;
	begin_world(&world, 3, 4);
	judge_world(&world);
	struct window window = { .first = world.facts.slot.from - HOUR,
		.last = local_2026(3, 4, 9, 40) };
	world.facts.window = &window;
	compose_slot(&world.judgement, &world.facts, &world.style, &composed);
	assert_contains(composed.entry.description, "Wed 4 Mar 09:40");
	composed_release(&composed);
	end_world(&world);
}

static void
a_bad_slot_says_what_stands_in_the_way(void **state)
{
	(void)state;
	struct world world;
	struct composed composed;
	begin_world(&world, 3, 4);
	put(&world.series, MEASURE_AIR_TEMPERATURE, local_2026(3, 4, 6, 0),
	    local_2026(3, 4, 12, 0), 25);
	judge_world(&world);
	compose_slot(&world.judgement, &world.facts, &world.style, &composed);
	assert_string_equal(
	    composed.entry.summary, "NO-GO: front, post-a + dye");
	assert_entry(&composed, "job-7", "NO-GO", ENTRY_TENTATIVE);
	assert_int_equal(count_reasons(composed.entry.description), 1);
	assert_contains(composed.entry.description, "- air temperature");
	assert_contains(composed.entry.description, "3 °C over");
	assert_cautions(&composed);
	composed_release(&composed);
	end_world(&world);
}

static void
an_unknown_slot_says_what_is_missing(void **state)
{
	(void)state;
	struct world world;
	struct composed composed;
	begin_world(&world, 3, 4);
	put(&world.series, MEASURE_WIND, local_2026(3, 4, 6, 0),
	    local_2026(3, 4, 12, 0), NAN);
	judge_world(&world);
	compose_slot(&world.judgement, &world.facts, &world.style, &composed);
	assert_string_equal(
	    composed.entry.summary, "UNKNOWN: front, post-a + dye");
	assert_entry(&composed, "job-7", "UNKNOWN", ENTRY_TENTATIVE);
	assert_int_equal(count_reasons(composed.entry.description), 1);
	assert_contains(composed.entry.description, "wind");
	assert_contains(composed.entry.description, "not known");
	assert_cautions(&composed);
	composed_release(&composed);
	world.facts.verdict = VERDICT_UNKNOWN;
	world.facts.trouble = "the forecast is 30 h old";
	compose_slot(&world.judgement, &world.facts, &world.style, &composed);
	assert_begins(composed.entry.summary, "UNKNOWN: ");
	assert_contains(composed.entry.description, "the forecast is 30 h old");
	assert_int_equal(count_reasons(composed.entry.description), 0);
	assert_cautions(&composed);
	composed_release(&composed);
	end_world(&world);
}

static void
all_rules_of_a_full_tank_leave_room_for_the_cautions(void **state)
{
	(void)state;
	struct world world;
	struct composed composed;
	begin_world(&world, 3, 4);
	while (world.count < CHECKS_MAX)
		add_rule_to(&world,
		    "a-product-with-a-name-that-is-as-long-as-it-may-be-"
		    "1234567",
		    MEASURE_WIND, during, 1);
	judge_world(&world);
	compose_slot(&world.judgement, &world.facts, &world.style, &composed);
	assert_int_equal(
	    count_reasons(composed.entry.description), CHECKS_MAX - 4);
	assert_false(composed.description.failed);
	assert_cautions(&composed);
	composed_release(&composed);
	end_world(&world);
}

/* Time goes by, the window was open before: the entry stays as it is. */
static void
an_entry_is_its_facts_and_nothing_else(void **state)
{
	(void)state;
	struct world world;
	struct composed first, second;
	begin_world(&world, 3, 4);
	judge_world(&world);
	struct window window = { .first = world.facts.slot.from - DAY,
		.last = world.facts.slot.from + HOUR };
	world.facts.window = &window;
	compose_slot(&world.judgement, &world.facts, &world.style, &first);
	world.limits.now += 20 * HOUR;
	window.first += 20 * HOUR;
	compose_slot(&world.judgement, &world.facts, &world.style, &second);
	assert_string_equal(first.entry.summary, second.entry.summary);
	assert_string_equal(first.entry.description, second.entry.description);
	assert_true(entry_hash(&first.entry) == entry_hash(&second.entry));
	composed_release(&second);
	world.facts.verdict = VERDICT_UNKNOWN;
	compose_slot(&world.judgement, &world.facts, &world.style, &second);
	assert_true(entry_hash(&first.entry) != entry_hash(&second.entry));
	composed_release(&first);
	composed_release(&second);
	end_world(&world);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_good_slot_says_go_and_what_is_nearest),
		cmocka_unit_test(a_window_says_its_last_start),
		cmocka_unit_test(a_bad_slot_says_what_stands_in_the_way),
		cmocka_unit_test(an_unknown_slot_says_what_is_missing),
		cmocka_unit_test(
		    all_rules_of_a_full_tank_leave_room_for_the_cautions),
		cmocka_unit_test(an_entry_is_its_facts_and_nothing_else),
	};
	return RUN_TESTS(tests);
}
