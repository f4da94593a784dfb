/* Random shelves, and every set of tanks that they allow, found by trying each
   herbicide in each tank. */
#ifndef TESTS_UNIT_CHOOSE_FORCE_H
#define TESTS_UNIT_CHOOSE_FORCE_H

#include "unit/test.h"

#include "unit/choose_fixture.h"

#include "turf/weeds.h"

enum {
	HERBICIDES = 6,
	ADJUVANTS = 2,
	CARDS = HERBICIDES + ADJUVANTS,
	WEEDS = 4,
	GROUPS = 3,
	SETS = 1 << HERBICIDES,
	ROOM = 4096,
	TOLD = 128,
};

static const char *const weed_names[WEEDS] = { "w-0", "w-1", "w-2", "w-3" };
static const char *const group_names[GROUPS] = { "2", "4", "14" };
static const char *const card_names[CARDS] = { "h-0", "h-1", "h-2", "h-3",
	"h-4", "h-5", "s-0", "s-1" };

/* The parts of one card. */
struct drawn {
	const char *control[WEEDS];
	const char *group[2];
	const char *not_with;
};

struct world {
	struct shed shed;
	struct drawn drawn[CARDS];
	struct application application;
};

static inline enum adjuvant_need
draw_need(uint64_t *seed)
{
	if (draw_once_in(seed, 4))
		return ADJUVANT_REQUIRED;
	return draw_once_in(seed, 8) ? ADJUVANT_FORBIDDEN : ADJUVANT_UNSAID;
}

/* What an adjuvant's card controls counts for nothing. */
static inline size_t
draw_parts(struct drawn *drawn, uint64_t *seed)
{
	size_t controls = 0;
	for (size_t w = 0; w < WEEDS; w++)
		if (draw_once_in(seed, 3))
			drawn->control[controls++] = weed_names[w];
	drawn->group[0] = group_names[draw_from(seed, 0, GROUPS - 1)];
	drawn->group[1] = group_names[draw_from(seed, 0, GROUPS - 1)];
	drawn->not_with = card_names[draw_from(seed, 0, CARDS - 1)];
	return controls;
}

static inline void
draw_card(struct world *world, size_t place, bool priced, uint64_t *seed)
{
	struct drawn *drawn = &world->drawn[place];
	bool is_herbicide = place < HERBICIDES;
	bool is_empty = draw_once_in(seed, 12), is_odd = draw_once_in(seed, 8);
	const struct product card = { .name = card_names[place],
		.kind = is_herbicide ? PRODUCT_HERBICIDE : PRODUCT_ADJUVANT,
		.control_count = draw_parts(drawn, seed),
		.control = drawn->control,
		.rate = draw_once_in(seed, 12) ? 0 : 0.001,
		.rate_kind = QUANTITY_VOLUME_PER_AREA,
		.group = drawn->group,
		.group_count = (size_t)draw_from(seed, 0, 2),
		.not_with = &drawn->not_with,
		.not_with_count = draw_once_in(seed, 2) ? 1 : 0,
		.species = draw_once_in(seed, 12) ? BIT(ZOYSIA) : 0,
		.adjuvant = is_herbicide ? draw_need(seed) : ADJUVANT_UNSAID };
	put_on_shelf(&world->shed, &card,
	    is_odd     ? (double)NAN
	    : is_empty ? 0
		       : 9,
	    priced || draw_once_in(seed, 2) ? draw_from(seed, 1, 6) / 2.0
					    : (double)NAN);
}

/* A shelf that has each weed on some card, and what was sprayed last. */
static inline void
draw_world(struct world *world, uint64_t *seed)
{
	bool priced = !draw_once_in(seed, 3);
	*world = (struct world){ .shed = { .count = 0 } };
	begin_shed(&world->shed);
	world->shed.scene.site.species = TURF_BERMUDA;
	for (size_t i = 0; i < CARDS; i++)
		draw_card(world, i, priced, seed);
	world->application = (struct application){ "front",
		card_names[draw_from(seed, 0, HERBICIDES - 1)], 100, 1, 1,
		false };
	world->shed.scene.facts.applications = &world->application;
	world->shed.scene.facts.application_count =
	    draw_once_in(seed, 4) ? 0 : 1;
}

/* As many weeds as are on a card. */
static inline size_t
draw_weeds(const struct world *world, const char *ret[WEEDS], uint64_t *seed)
{
	size_t count = 0;
	for (size_t w = 0; w < WEEDS; w++)
		for (size_t i = 0; i < HERBICIDES; i++)
			if (product_controls(
				&world->shed.card[i], weed_names[w]) &&
			    !draw_once_in(seed, 4)) {
				ret[count++] = weed_names[w];
				break;
			}
	return count;
}

/* A set of herbicides as one tank, with the cheapest adjuvant that may be with
   it when it needs one. */
struct mixture {
	bool possible;
	double cost, adjuvant_cost;
	size_t products;
	char told[TOLD];
};

/* One of all sets of tanks, with what it is judged by. */
struct answer {
	size_t tanks, repeated, products;
	double cost; /* 0 when costs do not count */
	char told[TOLD];
};

/* Every set of tanks, by trying each herbicide in each tank. */
struct force {
	const struct shed *shed;
	const char *const *weeds;
	size_t weed_count;
	struct mixture mixture[SETS];
	bool priced;
	struct answer answer[ROOM];
	size_t count;
};

static inline uint32_t
covers(const struct force *force, unsigned set)
{
	uint32_t bits = 0;
	for (size_t i = 0; i < HERBICIDES; i++)
		for (size_t w = 0; w < force->weed_count; w++)
			if ((set >> i & 1) != 0 &&
			    product_controls(
				&force->shed->card[i], force->weeds[w]))
				bits |= UINT32_C(1) << w;
	return bits;
}

/* Does each herbicide of the set add to what the set covers? */
static inline bool
is_lean(const struct force *force, unsigned set)
{
	for (size_t i = 0; i < HERBICIDES; i++)
		if ((set >> i & 1) != 0 &&
		    covers(force, set & ~(1U << i)) == covers(force, set))
			return false;
	return true;
}

static inline void
append(char told[TOLD], const char *more)
{
	size_t used = strlen(told);
	(void)snprintf(told + used, TOLD - used, "%s", more);
}

/* The herbicides of a set and one adjuvant (ADJUVANTS: none). */
static inline struct mixture
mix(const struct shed *shed, unsigned set, size_t adjuvant)
{
	struct scene scene = shed->scene;
	struct conflict found[CONFLICTS_MOST];
	struct mixture mixture = { .possible = true };
	scene.job.site = &scene.site;
	scene.job.sprayer = &scene.sprayer;
	for (size_t i = 0; i < CARDS; i++) {
		const struct choose_item *item = &shed->item[i];
		if (i < HERBICIDES ? (set >> i & 1) == 0
				   : i != HERBICIDES + adjuvant)
			continue;
		mixture.possible &=
		    item->on_hand != 0 && item->product->rate > 0;
		add_product(&scene, item->product);
		mixture.cost += item->cost;
		mixture.adjuvant_cost = item->cost;
		append(mixture.told, mixture.products++ > 0 ? "," : "");
		append(mixture.told, item->product->name);
	}
	append(mixture.told, "!");
	mixture.possible &= conflicts_find(&scene.job, &shed->scene.facts,
				found, CONFLICTS_MOST) == 0 ||
			    !found[0].forbids;
	return mixture;
}

static inline bool
is_cheaper(const struct mixture *one, const struct mixture *other)
{
	if (!one->possible || !other->possible)
		return one->possible;
	if (isnan(one->adjuvant_cost) || isnan(other->adjuvant_cost))
		return isnan(other->adjuvant_cost) &&
		       !isnan(one->adjuvant_cost);
	return one->adjuvant_cost < other->adjuvant_cost;
}

static inline bool
needs_adjuvant(const struct force *force, unsigned set)
{
	for (size_t i = 0; i < HERBICIDES; i++)
		if ((set >> i & 1) != 0 &&
		    force->shed->card[i].adjuvant == ADJUVANT_REQUIRED)
			return true;
	return false;
}

static inline bool
is_small(unsigned set)
{
	size_t members = 0;
	for (size_t i = 0; i < HERBICIDES; i++)
		members += set >> i & 1;
	return members <= CHOOSE_PARTNERS;
}

static inline void
find_mixtures(struct force *force)
{
	force->priced = true;
	for (unsigned set = 1; set < SETS; set++) {
		struct mixture *best = &force->mixture[set];
		bool needs = needs_adjuvant(force, set);
		*best = mix(force->shed, set, needs ? 0 : ADJUVANTS);
		for (size_t a = 1; a < ADJUVANTS && needs; a++) {
			struct mixture other = mix(force->shed, set, a);
			if (is_cheaper(&other, best))
				*best = other;
		}
		best->possible &= is_small(set);
		if (best->possible && is_lean(force, set))
			force->priced &= !isnan(best->cost);
	}
}

static inline bool
has_group(const struct force *force, unsigned set, const char *group)
{
	for (size_t i = 0; i < HERBICIDES; i++)
		for (size_t g = 0; g < force->shed->card[i].group_count; g++)
			if ((set >> i & 1) != 0 &&
			    strcmp(force->shed->card[i].group[g], group) == 0)
				return true;
	return false;
}

/* The set of what was sprayed last. */
static inline unsigned
last_set(const struct force *force)
{
	const struct conflict_facts *facts = &force->shed->scene.facts;
	unsigned set = 0;
	for (size_t i = 0; i < HERBICIDES && facts->application_count > 0; i++)
		if (strcmp(force->shed->card[i].name,
			facts->applications[0].product) == 0)
			set = 1U << i;
	return set;
}

/* Groups of a tank that were sprayed last, or are in a tank before it. */
static inline size_t
count_repeated(
    const struct force *force, const unsigned set[CHOOSE_TANKS], size_t tank)
{
	size_t repeated = 0;
	for (size_t g = 0; g < GROUPS; g++) {
		const char *group = group_names[g];
		if (!has_group(force, set[tank], group))
			continue;
		repeated += has_group(force, last_set(force), group) ? 1 : 0;
		for (size_t before = 0; before < tank; before++)
			repeated +=
			    has_group(force, set[before], group) ? 1 : 0;
	}
	return repeated;
}

static inline void
add_answer(struct force *force, const unsigned set[CHOOSE_TANKS])
{
	struct answer answer = { .tanks = 0 };
	unsigned all = set[0] | set[1] | set[2];
	if (covers(force, all) != (1U << force->weed_count) - 1 ||
	    !is_lean(force, all))
		return;
	for (size_t t = 0; t < CHOOSE_TANKS && set[t] != 0; t++) {
		const struct mixture *mixture = &force->mixture[set[t]];
		if (!mixture->possible)
			return;
		answer.tanks++;
		answer.products += mixture->products;
		answer.cost += force->priced ? mixture->cost : 0;
		answer.repeated += count_repeated(force, set, t);
		append(answer.told, mixture->told);
	}
	assert_true(force->count < ROOM);
	force->answer[force->count++] = answer;
}

static inline int
compare_answers(const void *left, const void *right)
{
	const struct answer *a = left, *b = right;
	if (a->tanks != b->tanks)
		return a->tanks < b->tanks ? -1 : 1;
	if (a->repeated != b->repeated)
		return a->repeated < b->repeated ? -1 : 1;
	if (fabs(a->cost - b->cost) > 1e-9)
		return a->cost < b->cost ? -1 : 1;
	if (a->products != b->products)
		return a->products < b->products ? -1 : 1;
	return strcmp(a->told, b->told);
}

static inline void
try_all(struct force *force)
{
	find_mixtures(force);
	/* base four: the tank of each herbicide, 0 for none */
	for (unsigned n = 0; n < 1U << 2 * HERBICIDES; n++) {
		unsigned set[CHOOSE_TANKS] = { 0 }, used = 0;
		bool in_order = true;
		for (size_t i = 0; i < HERBICIDES; i++) {
			unsigned tank = n >> 2 * i & 3;
			in_order &= tank <= used + 1;
			used = tank > used ? tank : used;
			if (tank > 0)
				set[tank - 1] |= 1U << i;
		}
		if (in_order && used > 0)
			add_answer(force, set);
	}
	if (force->count > 0)
		qsort(force->answer, force->count, sizeof force->answer[0],
		    compare_answers);
}

#endif
