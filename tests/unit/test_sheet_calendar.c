/* The mix sheet in the description of a slot. */
#include "unit/compose_fixture.h"

static void
compose(struct world *world, struct composed *ret)
{
	compose_slot(&world->judgement, &world->facts, &world->style, ret);
	assert_false(ret->description.failed);
	assert_cautions(ret);
}

/* 600 m2 at 0.05 L/m2 in 15 L: two tanks of 90 g and 30 mL. */
static void
the_tanks_stand_in_the_entry(void **state)
{
	(void)state;
	struct world world;
	struct composed composed;
	begin_world(&world, 3, 4);
	judge_world(&world);
	const struct bench bench = { .scale = 0.1, .cylinder = 0.001 };
	const struct sheet_facts sheet = { .bench = &bench };
	compose(&world, &composed);
	const char *text = composed.entry.description;
	assert_contains(text, "Mix: 30 L in 2 tanks");
	assert_contains(text, "\nTANKS 1 AND 2, EACH: 15 L for 300 m2\n");
	assert_contains(text, "post-a: 90 g;");
	composed_release(&composed);
	world.facts.sheet = &sheet;
	compose(&world, &composed);
	text = composed.entry.description;
	assert_contains(text, "post-a: weigh 90.0 g;");
	assert_contains(text, "dye: 30 mL in the cylinder");
	composed_release(&composed);
	end_world(&world);
}

/* The moment of the sheet is the slot's, whatever the facts say. */
static void
a_solution_counts_that_keeps_until_the_slot(void **state)
{
	(void)state;
	struct world world;
	begin_world(&world, 3, 4);
	world.job.tank.dose[0].rate = 0.001; /* 0.3 g in a tank */
	judge_world(&world);
	int64_t from = world.facts.slot.from;
	const struct bench bench = { .scale = 0.1, .cylinder = 0.001 };
	struct sheet_solution made = { "post-a", from - DAY, from + 1, 20, 1 };
	const struct sheet_facts sheet = { .bench = &bench,
		.at = from - DAY,
		.solution = &made,
		.solution_count = 1 };
	struct composed composed;
	world.facts.sheet = &sheet;
	compose(&world, &composed);
	assert_contains(composed.entry.description,
	    "STOCK SOLUTION of post-a: take the one of Tue 3 Mar 07:00");
	assert_contains(composed.entry.description,
	    "post-a: stock solution for 0.3 g: 15 mL");
	composed_release(&composed);
	made.until = from;
	compose(&world, &composed);
	assert_contains(composed.entry.description, "weigh 5.0 g");
	assert_contains(composed.entry.description,
	    "post-a: stock solution for 0.3 g: 30 mL");
	composed_release(&composed);
	end_world(&world);
}

static void
granules_alone_need_no_water(void **state)
{
	(void)state;
	struct world world;
	struct composed composed;
	begin_world(&world, 3, 4);
	world.job.tank.count = 1;
	world.product[0].formulation = "GR";
	judge_world(&world);
	compose(&world, &composed);
	assert_contains(
	    composed.entry.description, "\nMix: post-a 180 g (lull");
	assert_null(strstr(composed.entry.description, "TANK"));
	composed_release(&composed);
	end_world(&world);
}

static void
a_tank_without_a_rate_has_no_sheet(void **state)
{
	(void)state;
	struct world world;
	struct composed composed;
	begin_world(&world, 3, 4);
	world.job.tank.dose[0].rate = 0;
	judge_world(&world);
	compose(&world, &composed);
	assert_null(strstr(composed.entry.description, "Mix:"));
	assert_null(strstr(composed.entry.description, "TANK"));
	composed_release(&composed);
	end_world(&world);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(the_tanks_stand_in_the_entry),
		cmocka_unit_test(a_solution_counts_that_keeps_until_the_slot),
		cmocka_unit_test(granules_alone_need_no_water),
		cmocka_unit_test(a_tank_without_a_rate_has_no_sheet),
	};
	return RUN_TESTS(tests);
}
