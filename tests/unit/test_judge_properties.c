/* What must be true of every judgement, on thousands of random ones. */
#include "unit/test.h"

#include "unit/judge_world.h"

/* Every start that is open in `narrow` must be open in `wide`. */
static void
check_no_start_gained(
    const struct verdicts *narrow, const struct verdicts *wide)
{
	assert_int_equal(narrow->count, wide->count);
	for (size_t i = 0; i < narrow->count; i++)
		if (verdict_at(narrow, i) == VERDICT_GO)
			assert_int_equal(verdict_at(wide, i), VERDICT_GO);
}

static void
tighten(struct rule *rule, uint64_t *seed)
{
	double more = draw_from(seed, 0, 8) / 8.0;
	bool ceiling = bound_is_ceiling(rule->bound);
	rule->limit += ceiling ? -more : more;
	if (draw_once_in(seed, 2))
		rule->bound = ceiling ? BOUND_BELOW : BOUND_ABOVE;
}

static void
a_tighter_limit_never_opens_a_start(void **state)
{
	(void)state;
	uint64_t seed = 22;
	for (int n = 0; n < SETS; n++) {
		struct world world;
		struct verdicts tight = { 0 };
		draw_world(&world, &seed);
		judge_world(&world);
		size_t r = draw(&seed) % world.count;
		tighten(&world.check[r].rule, &seed);
		judge(&world.outlook, world.check, world.count, world.duration,
		    &tight);
		check_no_start_gained(&tight, &world.verdicts);
		verdicts_release(&tight);
		release_world(&world);
	}
}

static void
a_longer_dry_span_never_opens_a_start(void **state)
{
	(void)state;
	uint64_t seed = 23;
	for (int n = 0; n < SETS; n++) {
		struct world world;
		struct verdicts longer = { 0 };
		draw_world(&world, &seed);
		int span = draw_from(&seed, 1, 24 * HOUR);
		world.check[0] = check_of(
		    &world.series, rule_of(MEASURE_WET, FOLD_ANY,
				       after_end(span), BOUND_AT_MOST, 0));
		judge_world(&world);
		world.check[0].rule.exposure =
		    after_end(span + draw_from(&seed, 0, 24 * HOUR));
		judge(&world.outlook, world.check, world.count, world.duration,
		    &longer);
		check_no_start_gained(&longer, &world.verdicts);
		verdicts_release(&longer);
		release_world(&world);
	}
}

static void
one_more_rule_never_adds_a_start(void **state)
{
	(void)state;
	uint64_t seed = 24;
	for (int n = 0; n < SETS; n++) {
		struct world world;
		struct verdicts fewer = { 0 };
		draw_world(&world, &seed);
		judge_world(&world);
		judge(&world.outlook, world.check,
		    draw(&seed) % (world.count + 1), world.duration, &fewer);
		check_no_start_gained(&world.verdicts, &fewer);
		verdicts_release(&fewer);
		release_world(&world);
	}
}

static void
forget_some(struct series *series, uint64_t *seed)
{
	for (int m = 0; m < MEASURES; m++)
		for (size_t i = 0; i < series->count; i++)
			if (series->column[m] != NULL && draw_once_in(seed, 9))
				series->column[m][i] = NAN;
}

/* Unknown is never go, and what is known for sure stays so once more is. */
static void
knowing_less_never_settles_anything(void **state)
{
	(void)state;
	uint64_t seed = 25;
	for (int n = 0; n < SETS; n++) {
		struct world world;
		struct verdicts less = { 0 };
		draw_world(&world, &seed);
		judge_world(&world);
		outlook_release(&world.outlook);
		forget_some(&world.series, &seed);
		outlook_init(&world.outlook, &world.series, &world.zone);
		judge(&world.outlook, world.check, world.count, world.duration,
		    &less);
		check_no_start_gained(&less, &world.verdicts);
		for (size_t i = 0; i < less.count; i++)
			if (verdict_at(&less, i) == VERDICT_NO_GO)
				assert_int_equal(verdict_at(&world.verdicts, i),
				    VERDICT_NO_GO);
		verdicts_release(&less);
		release_world(&world);
	}
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_tighter_limit_never_opens_a_start),
		cmocka_unit_test(a_longer_dry_span_never_opens_a_start),
		cmocka_unit_test(one_more_rule_never_adds_a_start),
		cmocka_unit_test(knowing_less_never_settles_anything),
	};
	return RUN_TESTS(tests);
}
