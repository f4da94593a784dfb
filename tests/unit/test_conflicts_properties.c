/* What holds of any tank: random cards against plainer ways to tell. */
#include "unit/test.h"

#include "unit/conflicts_fixture.h"

enum { TANKS = 4000, PAIRS = 20000, RULES = 3, TEXTS = 8 };

/* A card and the room for its parts. */
struct card {
	struct product product;
	struct rule rule[RULES];
	struct active active;
	struct date_span date;
	const char *not_with, *group;
	char name[32];
};

static struct rule
draw_limit(enum measure measure, uint64_t *seed)
{
	enum bound bound = (enum bound)draw_from(seed, 0, 3);
	return rule_of(measure, bound_is_ceiling(bound) ? FOLD_MAX : FOLD_MIN,
	    during, bound, draw_from(seed, 0, 12) / 2.0);
}

/* The turf's state, the year, dry leaves, or the air. */
static struct rule
draw_card_rule(uint64_t *seed)
{
	static const enum measure state[] = { MEASURE_DORMANT, MEASURE_GREEN_UP,
		MEASURE_GREEN };
	struct rule rule;
	switch (draw_from(seed, 0, 3)) {
	case 0:
		return rule_of(state[draw_from(seed, 0, 2)], FOLD_ANY, during,
		    BOUND_AT_MOST, 0);
	case 1:
		rule = rule_of(MEASURE_SEASON_ACTIVE, FOLD_MAX, during,
		    BOUND_AT_MOST, draw_from(seed, 1, 9) / 100.0);
		rule.subject = draw_once_in(seed, 2) ? "x" : "y";
		return rule;
	case 2:
		rule = rule_of(MEASURE_WET, FOLD_ANY, during, BOUND_AT_MOST, 0);
		rule.exposure.to.seconds = draw_from(seed, 0, 48) * 3600;
		return rule;
	default:
		return draw_limit(MEASURE_AIR_TEMPERATURE, seed);
	}
}

static void
draw_parts(struct card *card, uint64_t *seed)
{
	static const char *const names[TEXTS] = { "card-0", "card-1", "CARD-2",
		"x", "Y", "EC", "sc", "none" };
	card->active = (struct active){ draw_once_in(seed, 2) ? "X" : "y",
		draw_from(seed, 1, 500), true };
	card->not_with = names[draw_from(seed, 0, TEXTS - 1)];
	card->group = draw_once_in(seed, 2) ? "2" : "4";
	card->date =
	    (struct date_span){ draw_from(seed, 1, 12), draw_from(seed, 1, 28),
		    draw_from(seed, 1, 12), draw_from(seed, 1, 28) };
	for (int r = 0; r < RULES; r++)
		card->rule[r] = draw_card_rule(seed);
}

static size_t
draw_count(uint64_t *seed, int most)
{
	return (size_t)draw_from(seed, 0, most);
}

static void
draw_card(struct card *card, size_t place, uint64_t *seed)
{
	draw_parts(card, seed);
	(void)snprintf(card->name, sizeof card->name, "card-%zu",
	    draw_once_in(seed, 20) ? 0 : place);
	card->product = (struct product){ .name = card->name,
		.kind = (enum product_kind)draw_from(seed, 0, 2),
		.formulation = draw_once_in(seed, 2) ? "EC" : "SC",
		.rules = card->rule,
		.rule_count = draw_count(seed, RULES),
		.active = &card->active,
		.active_count = draw_count(seed, 1),
		.group = &card->group,
		.group_count = draw_count(seed, 1),
		.not_with = &card->not_with,
		.not_with_count = draw_once_in(seed, 4) ? 1 : 0,
		.date = &card->date,
		.date_count = draw_count(seed, 1),
		.species = (unsigned)draw_from(seed, 0, 3) << 1,
		.adjuvant = (enum adjuvant_need)draw_from(seed, 0, 2),
		.droplets_least = (enum droplets)draw_from(seed, 0, 8),
		.rate = draw_from(seed, 1, 9) / 10000.0,
		.rate_kind = QUANTITY_VOLUME_PER_AREA,
		.rate_most = draw_from(seed, 0, 9) / 10000.0,
		.carrier_least = draw_from(seed, 0, 8) / 100.0,
		.carrier_most = draw_from(seed, 0, 8) / 100.0 };
	if (draw_once_in(seed, 3))
		card->product.water =
		    (struct water_wanted){ 13, draw_from(seed, 0, 48) * 3600.0,
			    draw_from(seed, 0, 24) * 3600.0 };
}

static void
draw_scene(
    struct scene *scene, struct card *cards, size_t count, uint64_t *seed)
{
	begin_scene(scene);
	scene->site.species = (enum turf_species)draw_from(seed, 0, 3);
	scene->sprayer.droplets = (enum droplets)draw_from(seed, 0, 8);
	for (size_t i = 0; i < count; i++)
		draw_card(&cards[i], i, seed);
}

/* Fills the tank with those cards but one, in their order. */
static void
fill_tank(
    struct scene *scene, const struct card *cards, size_t count, size_t without)
{
	scene->job.tank.count = 0;
	for (size_t i = 0; i < count; i++)
		if (i != without)
			add_product(scene, &cards[i].product);
}

/* The sentence up to what the whole tank puts down, which grows. */
static size_t
stem_length(const char *text)
{
	const char *sum = strstr(text, "this job alone");
	return sum != NULL ? (size_t)(sum - text) : strlen(text);
}

static bool
has_sentence(const struct conflict *all, size_t count, const char *text)
{
	size_t length = stem_length(text);
	for (size_t i = 0; i < count; i++)
		if (stem_length(all[i].text) == length &&
		    strncmp(all[i].text, text, length) == 0)
			return true;
	return false;
}

/* An adjuvant that joins is what this sentence asks for. */
static bool
may_go(const struct conflict *conflict, const struct product *joins)
{
	return joins->kind == PRODUCT_ADJUVANT &&
	       strstr(conflict->text, "there is none in the tank") != NULL;
}

static void
a_product_that_joins_takes_no_conflict_of_the_others_away(void **state)
{
	(void)state;
	enum { CARDS = 5, ROOM = 200 };
	static struct conflict fewer[ROOM], more[ROOM];
	uint64_t seed = 11;
	size_t kept = 0;
	for (int n = 0; n < rounds(TANKS); n++) {
		struct card cards[CARDS];
		struct scene scene;
		size_t joins = (size_t)draw_from(&seed, 0, CARDS - 1);
		draw_scene(&scene, cards, CARDS, &seed);
		fill_tank(&scene, cards, CARDS, joins);
		size_t few =
		    conflicts_find(&scene.job, &scene.facts, fewer, ROOM);
		fill_tank(&scene, cards, CARDS, CARDS);
		size_t many =
		    conflicts_find(&scene.job, &scene.facts, more, ROOM);
		assert_true(many < ROOM);
		for (size_t i = 0; i < few; i++) {
			if (may_go(&fewer[i], &cards[joins].product))
				continue;
			if (!has_sentence(more, many, fewer[i].text))
				print_error("gone: %s\n", fewer[i].text);
			assert_true(has_sentence(more, many, fewer[i].text));
			kept++;
		}
	}
	assert_true(kept > 0);
}

/* Sentences of two name them in the order of the tank, so only their number
   and their kind can be compared. */
static void
the_order_of_the_tank_changes_neither_number_nor_kind(void **state)
{
	(void)state;
	enum { CARDS = 4, ROOM = 200 };
	static struct conflict one[ROOM], other[ROOM];
	uint64_t seed = 12;
	for (int n = 0; n < rounds(TANKS); n++) {
		struct card cards[CARDS];
		struct scene scene;
		size_t forbids = 0, turned = 0;
		draw_scene(&scene, cards, CARDS, &seed);
		fill_tank(&scene, cards, CARDS, CARDS);
		size_t count =
		    conflicts_find(&scene.job, &scene.facts, one, ROOM);
		scene.job.tank.count = 0;
		for (size_t i = CARDS; i > 0; i--)
			add_product(&scene, &cards[i - 1].product);
		assert_int_equal(
		    conflicts_find(&scene.job, &scene.facts, other, ROOM),
		    count);
		for (size_t i = 0; i < count; i++) {
			forbids += one[i].forbids ? 1 : 0;
			turned += other[i].forbids ? 1 : 0;
			assert_true(
			    i == 0 || one[i - 1].forbids || !one[i].forbids);
			for (size_t j = 0; j < i; j++)
				assert_string_not_equal(
				    one[i].text, one[j].text);
		}
		assert_int_equal(forbids, turned);
	}
}

static bool
is_kept(const struct card *card, double value)
{
	for (size_t r = 0; r < card->product.rule_count; r++)
		if (!bound_holds(
			card->rule[r].bound, card->rule[r].limit, value))
			return false;
	return true;
}

/* Is there a value that the judge lets pass on both cards? Limits are halves,
   so that quarters are between any two. */
static bool
can_be_kept(const struct card *a, const struct card *b)
{
	for (int quarter = -4; quarter <= 32; quarter++)
		if (is_kept(a, quarter / 4.0) && is_kept(b, quarter / 4.0))
			return true;
	return false;
}

static void
draw_limits(struct card *card, const char *name, uint64_t *seed)
{
	*card = (struct card){ 0 };
	card->product.name = name;
	card->product.rules = card->rule;
	card->product.rule_count = draw_count(seed, RULES);
	for (int r = 0; r < RULES; r++)
		card->rule[r] = draw_limit(MEASURE_WIND, seed);
}

static void
a_floor_is_over_a_ceiling_when_no_value_satisfies_both_cards(void **state)
{
	(void)state;
	uint64_t seed = 13;
	size_t told = 0, open = 0;
	for (int n = 0; n < rounds(PAIRS); n++) {
		struct card cards[2];
		struct scene scene;
		begin_scene(&scene);
		draw_limits(&cards[0], "post-a", &seed);
		draw_limits(&cards[1], "pre-b", &seed);
		/* the configuration refuses a card against itself */
		if (!can_be_kept(&cards[0], &cards[0]) ||
		    !can_be_kept(&cards[1], &cards[1]))
			continue;
		add_product(&scene, &cards[0].product);
		add_product(&scene, &cards[1].product);
		find_all(&scene);
		bool possible = can_be_kept(&cards[0], &cards[1]);
		assert_int_equal(scene.count == 0, possible);
		told += scene.count > 0 ? 1 : 0;
		open += possible ? 1 : 0;
	}
	assert_true(told > 0 && open > 0);
}

/* Any fold, any exposure. */
static struct rule
draw_any_rule(uint64_t *seed)
{
	static const enum anchor anchors[] = { ANCHOR_START, ANCHOR_END,
		ANCHOR_MIDNIGHT };
	struct rule rule = draw_limit(MEASURE_WIND, seed);
	struct instant *ends[] = { &rule.exposure.from, &rule.exposure.to };
	rule.fold = (enum fold)draw_from(seed, FOLD_MAX, FOLD_MEAN);
	for (int i = 0; i < 2 && !draw_once_in(seed, 3); i++) {
		int steps = draw_from(seed, -2, 3);
		ends[i]->anchor = anchors[draw_from(seed, 0, 2)];
		ends[i]->seconds =
		    ends[i]->anchor == ANCHOR_MIDNIGHT ? steps : steps * 3600;
	}
	return rule;
}

/* Does any start of random weather satisfy both, as the judge sees it? */
static bool
find_start(const struct rule *a, const struct rule *b, uint64_t *seed)
{
	struct zone zone = chicago();
	struct series series;
	struct outlook outlook;
	struct verdicts verdicts = { 0 };
	bool found = false;
	series_init(&series, 1772863200, 1772863200 + 4 * DAY);
	float *wind = series_column(&series, MEASURE_WIND);
	int run = draw_from(seed, 1, 12);
	for (size_t i = 0; i < series.count; i++)
		wind[i] = i > 0 && !draw_once_in(seed, run)
			      ? wind[i - 1]
			      : (float)draw_from(seed, 0, 12) / 2;
	const struct check checks[] = { check_of(&series, *a),
		check_of(&series, *b) };
	outlook_init(&outlook, &series, &zone);
	judge(&outlook, checks, 2, minutes(35), &verdicts);
	for (size_t i = 0; i < verdicts.count; i++)
		found |= verdict_at(&verdicts, i) == VERDICT_GO;
	verdicts_release(&verdicts);
	outlook_release(&outlook);
	series_release(&series);
	return found;
}

static void
no_start_satisfies_limits_that_were_told_to_exclude_each_other(void **state)
{
	(void)state;
	uint64_t seed = 14;
	size_t told = 0, satisfied = 0;
	for (int n = 0; n < rounds(PAIRS / 4); n++) {
		struct rule rule[] = { draw_any_rule(&seed),
			draw_any_rule(&seed) };
		const struct product a = {
			.name = "post-a", .rules = &rule[0], .rule_count = 1
		};
		const struct product b = {
			.name = "pre-b", .rules = &rule[1], .rule_count = 1
		};
		struct scene scene;
		begin_scene(&scene);
		add_product(&scene, &a);
		add_product(&scene, &b);
		find_all(&scene);
		bool found = find_start(&rule[0], &rule[1], &seed);
		if (scene.count > 0 && found)
			print_error("%s\n", scene.found[0].text);
		assert_false(scene.count > 0 && found);
		told += scene.count;
		satisfied += found ? 1 : 0;
	}
	assert_true(told > 0 && satisfied > 0);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(
		    a_product_that_joins_takes_no_conflict_of_the_others_away),
		cmocka_unit_test(
		    the_order_of_the_tank_changes_neither_number_nor_kind),
		cmocka_unit_test(
		    a_floor_is_over_a_ceiling_when_no_value_satisfies_both_cards),
		cmocka_unit_test(
		    no_start_satisfies_limits_that_were_told_to_exclude_each_other),
	};
	return RUN_TESTS(tests);
}
