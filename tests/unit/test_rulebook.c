/* Which rules a job is judged by, and the columns that answer them. */
#include "unit/test.h"

#include "advice/rulebook.h"
#include "unit/heart.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

enum { PRODUCTS = 3 };

/* Three products on one site; two practice limits. */
struct world {
	struct site site;
	struct product product[PRODUCTS];
	struct rule card[PRODUCTS];
	struct rule limit[2];
	struct job job;
	struct series series;
	struct practice practice;
	struct rulebook book;
};

static struct rule
named(struct rule rule, const char *name, enum origin origin, const char *owner)
{
	rule.name = name;
	rule.origin = origin;
	rule.owner = owner;
	return rule;
}

static void
begin_world(struct world *world)
{
	static const char *const names[PRODUCTS] = { "a", "b", "c" };
	*world = (struct world){ 0 };
	world->site = (struct site){ .name = "front", .zone = chicago() };
	struct rule wind =
	    rule_of(MEASURE_WIND, FOLD_MAX, during, BOUND_AT_MOST, 5);
	struct rule gust =
	    rule_of(MEASURE_GUST, FOLD_MAX, during, BOUND_AT_MOST, 7);
	world->limit[0] =
	    named(wind, "wind-maximum", ORIGIN_PRACTICE, "practice");
	world->limit[1] =
	    named(gust, "gust-maximum", ORIGIN_PRACTICE, "practice");
	world->practice = (struct practice){ world->limit, 2 };
	for (size_t i = 0; i < PRODUCTS; i++) {
		wind.limit = 4 + (double)i;
		world->card[i] =
		    named(wind, "wind-maximum", ORIGIN_LABEL, names[i]);
		world->product[i] = (struct product){ .name = names[i],
			.rules = &world->card[i],
			.rule_count = 1 };
		world->job.tank.dose[i].product = &world->product[i];
	}
	world->job.site = &world->site;
	world->job.tank.count = 1;
	int64_t from = local_2026(3, 4, 0, 0);
	series_init(&world->series, from, from + 2 * DAY);
	fill(&world->series, MEASURE_WIND, 3);
	world->series.continuous[MEASURE_WIND] = true;
}

static void
make_book(struct world *world)
{
	rulebook_release(&world->book, NULL);
	rulebook_init(
	    &world->book, &world->job, &world->practice, &world->series, NULL);
}

static void
end_world(struct world *world)
{
	rulebook_release(&world->book, NULL);
	series_release(&world->series);
}

static size_t
count_rules(const struct rulebook *book, const char *name, enum origin origin)
{
	size_t count = 0;
	for (size_t i = 0; i < book->count; i++)
		if (book->check[i].rule.origin == origin &&
		    strcmp(book->check[i].rule.name, name) == 0)
			count++;
	return count;
}

static void
every_card_and_every_practice_limit_holds(void **state)
{
	(void)state;
	struct world world;
	begin_world(&world);
	world.job.tank.count = PRODUCTS;
	make_book(&world);
	assert_int_equal(world.book.count, PRODUCTS + 2);
	assert_int_equal(
	    count_rules(&world.book, "wind-maximum", ORIGIN_LABEL), PRODUCTS);
	assert_int_equal(
	    count_rules(&world.book, "wind-maximum", ORIGIN_PRACTICE), 1);
	assert_int_equal(
	    count_rules(&world.book, "gust-maximum", ORIGIN_PRACTICE), 1);
	for (size_t i = 0; i < PRODUCTS; i++) {
		assert_string_equal(
		    world.book.check[i].rule.owner, world.product[i].name);
		assert_close(
		    world.book.check[i].rule.limit, world.card[i].limit, 0);
	}
	end_world(&world);
}

/* Which of the three say so, which have rules, and does practice hold. */
struct tank {
	size_t count;
	const char *overriding; /* "yn-": yes, no; '-' has no rules */
	bool wind_holds;
};

static const struct tank tanks[] = {
	{ 1, "n", true },
	{ 1, "y", false },
	{ 2, "yn", true },
	{ 2, "ny", true },
	{ 2, "yy", false },
	{ 3, "yyy", false },
	{ 3, "yyn", true },
	/* a dye has no say */
	{ 2, "y-", false },
	{ 2, "-y", false },
	{ 2, "n-", true },
	{ 1, "-", true },
	{ 2, "--", true },
	{ 3, "y-n", true },
	{ 3, "-yy", false },
};

static void
practice_gives_way_when_every_product_with_rules_says_so(void **state)
{
	(void)state;
	static const char *overrides[] = { "daylight", "wind-maximum" };
	for (size_t i = 0; i < COUNT(tanks); i++) {
		struct world world;
		begin_world(&world);
		world.job.tank.count = tanks[i].count;
		for (size_t p = 0; p < tanks[i].count; p++) {
			char says = tanks[i].overriding[p];
			if (says == '-')
				world.product[p].rule_count = 0;
			if (says != 'y')
				continue;
			world.product[p].overrides = overrides;
			world.product[p].override_count = COUNT(overrides);
		}
		make_book(&world);
		size_t wind =
		    count_rules(&world.book, "wind-maximum", ORIGIN_PRACTICE);
		if (wind != (tanks[i].wind_holds ? 1 : 0))
			fail_msg("tank '%s'", tanks[i].overriding);
		/* the other limit is not named by anybody */
		assert_int_equal(
		    count_rules(&world.book, "gust-maximum", ORIGIN_PRACTICE),
		    1);
		end_world(&world);
	}
}

static void
preferred_hours_are_a_rule_when_there_are_any(void **state)
{
	(void)state;
	struct world world;
	begin_world(&world);
	make_book(&world);
	assert_int_equal(
	    count_rules(&world.book, "hours", ORIGIN_PREFERENCE), 0);
	struct clock_span hours = { 6 * HOUR, 10 * HOUR };
	world.site.hours = &hours;
	world.site.hours_count = 1;
	fill(&world.series, MEASURE_HOURS, 1);
	make_book(&world);
	assert_int_equal(
	    count_rules(&world.book, "hours", ORIGIN_PREFERENCE), 1);
	const struct check *last = &world.book.check[world.book.count - 1];
	assert_int_equal(last->rule.measure, MEASURE_HOURS);
	assert_int_equal(last->rule.fold, FOLD_MIN);
	assert_int_equal(last->rule.bound, BOUND_AT_LEAST);
	assert_close(last->rule.limit, 1, 0);
	assert_string_equal(last->rule.owner, "front");
	assert_ptr_equal(last->column, world.series.column[MEASURE_HOURS]);
	end_world(&world);
}

static void
each_rule_is_tied_to_its_column(void **state)
{
	(void)state;
	struct world world;
	begin_world(&world);
	make_book(&world);
	const struct check *wind = &world.book.check[0];
	assert_ptr_equal(wind->column, world.series.column[MEASURE_WIND]);
	assert_true(wind->continuous);
	const struct check *gust = &world.book.check[2];
	assert_int_equal(gust->rule.measure, MEASURE_GUST);
	assert_null(gust->column); /* the series has none */
	assert_false(gust->continuous);
	end_world(&world);
}

/* Each product has its own last application on this site. */
static void
days_since_are_those_of_the_product(void **state)
{
	(void)state;
	struct world world;
	begin_world(&world);
	for (size_t i = 0; i < PRODUCTS; i++)
		world.card[i] = named(rule_of(MEASURE_DAYS_SINCE, FOLD_MIN,
					  during, BOUND_AT_LEAST, 21),
		    "re-treatment", ORIGIN_LABEL, world.product[i].name);
	world.job.tank.count = PRODUCTS;
	const struct application done[] = {
		{ .site = "front",
		    .product = "a",
		    .at = local_2026(2, 1, 8, 0) },
		{ .site = "front",
		    .product = "a",
		    .at = local_2026(3, 1, 23, 30) },
		{ .site = "back",
		    .product = "b",
		    .at = local_2026(3, 3, 8, 0) },
		{ .site = "front",
		    .product = "b",
		    .at = local_2026(2, 18, 8, 0) },
	};
	const struct past past = { .application = done,
		.application_count = COUNT(done) };
	rulebook_init(
	    &world.book, &world.job, &world.practice, &world.series, &past);
	/* on 4 March; the 28 days of February between */
	static const double wanted[PRODUCTS] = { 3, 14, INFINITY };
	for (size_t i = 0; i < PRODUCTS; i++) {
		const struct check *check = &world.book.check[i];
		assert_int_equal(check->rule.measure, MEASURE_DAYS_SINCE);
		assert_non_null(check->column);
		assert_true((double)check->column[0] == wanted[i]);
		assert_true((double)check->column[world.series.count - 1] ==
			    wanted[i] + 1);
	}
	end_world(&world);
}

/* Only the days waited depend on the limit, and only actives on a subject. */
static void
rules_that_ask_the_same_of_a_product_share_a_column(void **state)
{
	(void)state;
	static const struct {
		enum measure measure;
		double first, second;
		const char *one, *other;
		bool shared;
	} cases[] = {
		{ MEASURE_DAYS_SINCE, 21, 28, NULL, NULL, true },
		{ MEASURE_SEASON_COUNT, 2, 3, NULL, NULL, true },
		{ MEASURE_DAYS_WAITED, 56, 56, NULL, NULL, true },
		{ MEASURE_DAYS_WAITED, 56, 70, NULL, NULL, false },
		{ MEASURE_SEASON_ACTIVE, 1, 2, "alphazon", "alphazon", true },
		{ MEASURE_SEASON_ACTIVE, 1, 2, "alphazon", "betazon", false },
	};
	for (size_t i = 0; i < COUNT(cases); i++) {
		struct world world;
		begin_world(&world);
		struct rule rules[] = {
			rule_of(cases[i].measure, FOLD_MAX, during,
			    BOUND_AT_MOST, cases[i].first),
			rule_of(cases[i].measure, FOLD_MAX, during,
			    BOUND_AT_MOST, cases[i].second),
		};
		struct sprayer sprayer = { .carrier = 0.04 };
		rules[0].subject = cases[i].one;
		rules[1].subject = cases[i].other;
		world.job.sprayer = &sprayer;
		world.site.area = 100;
		for (size_t p = 0; p < 2; p++) {
			world.product[p].rules = rules;
			world.product[p].rule_count = COUNT(rules);
		}
		world.job.tank.count = 2;
		make_book(&world);
		const struct check *check = world.book.check;
		assert_non_null(check[0].column);
		assert_int_equal(
		    check[0].column == check[1].column, cases[i].shared);
		/* never with another product */
		assert_ptr_not_equal(check[0].column, check[2].column);
		assert_int_equal(
		    world.book.fact_count, cases[i].shared ? 2 : 4);
		end_world(&world);
	}
}

static void
a_rulebook_can_be_released_twice(void **state)
{
	(void)state;
	struct world world;
	begin_world(&world);
	make_book(&world);
	rulebook_release(&world.book, NULL);
	assert_int_equal(world.book.count, 0);
	rulebook_release(&world.book, NULL);
	rulebook_release(NULL, NULL);
	end_world(&world);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(every_card_and_every_practice_limit_holds),
		cmocka_unit_test(
		    practice_gives_way_when_every_product_with_rules_says_so),
		cmocka_unit_test(preferred_hours_are_a_rule_when_there_are_any),
		cmocka_unit_test(each_rule_is_tied_to_its_column),
		cmocka_unit_test(days_since_are_those_of_the_product),
		cmocka_unit_test(
		    rules_that_ask_the_same_of_a_product_share_a_column),
		cmocka_unit_test(a_rulebook_can_be_released_twice),
	};
	return RUN_TESTS(tests);
}
