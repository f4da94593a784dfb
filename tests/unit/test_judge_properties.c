/* What must be true of every judgement, on thousands of random ones. */
#include "unit/derive_fixture.h"

#include "advice/rulebook.h"
#include "unit/judge_order.h"
#include "unit/judge_world.h"

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

/* ---- the tank ---- */

enum { TANK = 4, CARD_RULES = 5 };

struct shelf {
	struct product product[TANK];
	struct rule rules[TANK][CARD_RULES];
};

/*
 * Cards whose labels rule over practice, and some that say nothing; the first
 * has limits of its own, as any product that is more than an adjuvant.
 */
static void
draw_shelf(struct shelf *shelf, uint64_t *seed)
{
	static const char *overrides[] = { "wind-maximum" };
	static const char *const names[TANK] = { "a", "b", "c", "d" };
	for (size_t p = 0; p < TANK; p++) {
		struct product *product = &shelf->product[p];
		*product = (struct product){ .name = names[p],
			.label = "invented",
			.rules = shelf->rules[p],
			.rule_count =
			    (size_t)draw_from(seed, p == 0, CARD_RULES) };
		for (size_t r = 0; r < product->rule_count; r++) {
			shelf->rules[p][r] = draw_rule(seed);
			shelf->rules[p][r].measure =
			    (enum measure)draw_from(seed, 0, MEASURE_HOURS);
		}
		if (draw_once_in(seed, 2))
			product->overrides = overrides;
		product->override_count = product->overrides != NULL ? 1 : 0;
	}
}

static void
judge_tank(struct world *world, const struct shelf *shelf, size_t products,
    struct verdicts *ret)
{
	static const struct rule wind = { .name = "wind-maximum",
		.measure = MEASURE_WIND,
		.fold = FOLD_MAX,
		.exposure = { { ANCHOR_START, 0 }, { ANCHOR_END, 0 } },
		.bound = BOUND_AT_MOST,
		.limit = 1,
		.owner = "practice",
		.source = "" };
	const struct practice practice = { &wind, 1 };
	struct site site = plain_site();
	struct job job = { .site = &site, .area = 100 };
	struct rulebook book;
	for (size_t p = 0; p < products; p++)
		job.tank.dose[job.tank.count++].product = &shelf->product[p];
	rulebook_init(&book, &job, &practice, &world->series, NULL);
	judge(&world->outlook, book.check, book.count, world->duration, ret);
	rulebook_release(&book, NULL);
}

static void
one_more_product_never_adds_a_start(void **state)
{
	(void)state;
	uint64_t seed = 27;
	for (int n = 0; n < rounds(SETS); n++) {
		struct world world;
		struct shelf shelf;
		struct verdicts fewer = { 0 }, more = { 0 };
		draw_world(&world, &seed);
		draw_shelf(&shelf, &seed);
		size_t products = (size_t)draw_from(&seed, 1, TANK - 1);
		judge_tank(&world, &shelf, products, &fewer);
		judge_tank(&world, &shelf, products + 1, &more);
		check_no_start_gained(&more, &fewer);
		verdicts_release(&fewer);
		verdicts_release(&more);
		release_world(&world);
	}
}

/* ---- time ---- */

/* Rules that hold at every moment of the job, and for a while after it. */
static void
bind_to_the_job(struct check *check, uint64_t *seed)
{
	struct rule *rule = &check->rule;
	bool ceiling = bound_is_ceiling(rule->bound);
	rule->exposure = during;
	if (draw_once_in(seed, 2))
		rule->exposure.to.seconds = draw_from(seed, 0, 12 * HOUR);
	rule->fold = ceiling ? FOLD_MAX : FOLD_MIN;
}

static void
a_longer_job_never_opens_a_start(void **state)
{
	(void)state;
	uint64_t seed = 28;
	for (int n = 0; n < rounds(SETS); n++) {
		struct world world;
		struct verdicts longer = { 0 };
		draw_world(&world, &seed);
		for (size_t r = 0; r < world.count; r++)
			bind_to_the_job(&world.check[r], &seed);
		judge_world(&world);
		judge(&world.outlook, world.check, world.count,
		    world.duration + draw_from(&seed, 0, 6 * HOUR), &longer);
		check_no_start_gained(&longer, &world.verdicts);
		check_broken_stays(&world.verdicts, &longer, world.count);
		verdicts_release(&longer);
		release_world(&world);
	}
}

/* From June on, so that no clock changes within the reach of a rule. */
static void
whole_days_later_the_verdicts_are_the_same(void **state)
{
	(void)state;
	uint64_t seed = 29;
	for (int n = 0; n < rounds(SETS); n++) {
		struct world world;
		struct verdicts later = { 0 };
		draw_world(&world, &seed);
		outlook_release(&world.outlook);
		world.series.start =
		    local_2026(6, 1, 0, 0) + cells(draw_from(&seed, 0, 95));
		outlook_init(&world.outlook, &world.series, &world.zone);
		judge_world(&world);
		outlook_release(&world.outlook);
		world.series.start += draw_from(&seed, 1, 60) * DAY;
		outlook_init(&world.outlook, &world.series, &world.zone);
		judge(&world.outlook, world.check, world.count, world.duration,
		    &later);
		size_t bytes = later.planes * later.count * sizeof(uint32_t);
		assert_memory_equal(later.broken, world.verdicts.broken, bytes);
		assert_memory_equal(
		    later.unknown, world.verdicts.unknown, bytes);
		verdicts_release(&later);
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
		cmocka_unit_test(one_more_product_never_adds_a_start),
		cmocka_unit_test(a_longer_job_never_opens_a_start),
		cmocka_unit_test(whole_days_later_the_verdicts_are_the_same),
	};
	return RUN_TESTS(tests);
}
