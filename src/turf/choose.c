#include "turf/choose.h"

#include "base/memory.h"
#include "turf/choose_parts.h"
#include "turf/weeds.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

enum { NEAR_TOLD = 5 };

static uint32_t
lowest(uint32_t bits)
{
	return bits & -bits;
}

size_t
choose_count_bits(uint64_t bits)
{
	size_t count = 0;
	for (; bits != 0; bits &= bits - 1)
		count++;
	return count;
}

static bool
is_listed(const struct conflict_facts *facts, const char *weed)
{
	for (size_t i = 0; i < facts->product_count; i++)
		if (facts->products[i].kind == PRODUCT_HERBICIDE &&
		    product_controls(&facts->products[i], weed))
			return true;
	return false;
}

static bool
refuse_weed(
    const struct conflict_facts *facts, const char *weed, struct error *error)
{
	struct text near;
	text_init(&near, sizeof error->text);
	size_t told = weeds_near(
	    weed, facts->products, facts->product_count, NEAR_TOLD, &near);
	(void)error_set(error, ERROR_INPUT,
	    "no herbicide's card lists '%.80s' %s%s%s", weed,
	    told > 0 ? "among its weeds; near it: " : "under controls",
	    text_string(&near), told > NEAR_TOLD ? " ..." : "");
	text_release(&near);
	return false;
}

/* Each weed once, and one that some card lists. */
static bool
take_weed(struct search *search, const char *weed, struct error *error)
{
	struct choice *choice = search->choice;
	for (size_t w = 0; w < choice->weed_count; w++)
		if (weed_same(choice->weed[w], weed))
			return true;
	if (choice->weed_count == CHOOSE_WEEDS)
		return error_set(error, ERROR_INPUT,
		    "more than %d weeds are not looked at together",
		    (int)CHOOSE_WEEDS);
	if (!is_listed(search->wish->facts, weed))
		return refuse_weed(search->wish->facts, weed, error);
	choice->weed[choice->weed_count++] = weed;
	return true;
}

static uint64_t
group_bit(struct search *search, const char *group)
{
	size_t i = 0;
	while (
	    i < search->group_count && strcasecmp(search->group[i], group) != 0)
		i++;
	if (i == CHOOSE_GROUPS)
		return 0;
	if (i == search->group_count)
		search->group[search->group_count++] = group;
	return UINT64_C(1) << i;
}

uint64_t
choose_groups(struct search *search, const struct product *product)
{
	uint64_t groups = 0;
	for (size_t i = 0; i < product->group_count; i++)
		groups |= group_bit(search, product->group[i]);
	return groups;
}

/* The herbicide that was applied on the job's site; NULL when it was none. */
static const struct product *
applied_herbicide(const struct search *search, const struct application *one)
{
	const struct conflict_facts *facts = search->wish->facts;
	if (strcmp(one->site, search->wish->job->site->name) != 0)
		return NULL;
	for (size_t i = 0; i < facts->product_count; i++)
		if (strcmp(facts->products[i].name, one->product) == 0 &&
		    facts->products[i].kind == PRODUCT_HERBICIDE)
			return &facts->products[i];
	return NULL;
}

static void
find_last_groups(struct search *search)
{
	const struct conflict_facts *facts = search->wish->facts;
	int64_t last = INT64_MIN;
	for (size_t i = 0; i < facts->application_count; i++) {
		const struct application *one = &facts->applications[i];
		const struct product *product = applied_herbicide(search, one);
		if (product == NULL || one->at < last)
			continue;
		if (one->at > last)
			search->last = 0;
		last = one->at;
		search->last |= choose_groups(search, product);
	}
}

/* The groups that the last tank had, or another one of the proposal has. */
static size_t
count_repeated(const struct search *search, const struct blend *const *blends,
    size_t count)
{
	size_t repeated = 0;
	for (size_t i = 0; i < count; i++) {
		repeated += choose_count_bits(blends[i]->groups & search->last);
		for (size_t j = 0; j < i; j++)
			repeated += choose_count_bits(
			    blends[i]->groups & blends[j]->groups);
	}
	return repeated;
}

/* Would the weeds be covered without one of the herbicides? */
static bool
is_wasteful(const struct search *search, unsigned parts)
{
	for (size_t i = 0; i < search->herbicide_count; i++) {
		uint32_t covered = 0;
		if ((parts >> i & 1) == 0)
			continue;
		for (size_t j = 0; j < search->herbicide_count; j++)
			if (j != i && (parts >> j & 1) != 0)
				covered |= search->herbicide[j].covers;
		if (covered == search->all)
			return true;
	}
	return false;
}

static int
compare_products(const struct proposal *a, const struct proposal *b)
{
	for (size_t t = 0; t < a->tank_count; t++) {
		const struct tank_mix *one = &a->tank[t].mix;
		const struct tank_mix *other = &b->tank[t].mix;
		for (size_t i = 0; i < one->count && i < other->count; i++) {
			int order = strcmp(one->dose[i].product->name,
			    other->dose[i].product->name);
			if (order != 0)
				return order;
		}
		if (one->count != other->count)
			return one->count < other->count ? -1 : 1;
	}
	return 0;
}

static int
compare_counts(size_t one, size_t other)
{
	return (one > other) - (one < other);
}

static int
compare_proposals(
    const struct proposal *a, const struct proposal *b, bool priced)
{
	int order = compare_counts(a->tank_count, b->tank_count);
	if (order == 0)
		order = compare_counts(a->repeated, b->repeated);
	if (order == 0 && priced)
		order = (a->cost > b->cost) - (a->cost < b->cost);
	if (order == 0)
		order = compare_counts(a->product_count, b->product_count);
	return order != 0 ? order : compare_products(a, b);
}

/* Puts it where it belongs among the best. */
static void
insert(struct search *search, const struct proposal *proposal)
{
	struct choice *choice = search->choice;
	size_t at = choice->count;
	choice->found++;
	while (at > 0 && compare_proposals(proposal, &choice->proposal[at - 1],
			     search->priced) < 0)
		at--;
	if (at == CHOOSE_MOST)
		return;
	if (choice->count < CHOOSE_MOST)
		choice->count++;
	memmove(&choice->proposal[at + 1], &choice->proposal[at],
	    (choice->count - at - 1) * sizeof *proposal);
	choice->proposal[at] = *proposal;
}

/* By their first herbicides, which have the lowest bits. */
static void
sort_blends(const struct blend **blends, size_t count)
{
	for (size_t i = 1; i < count; i++)
		for (size_t j = i; j > 0; j--) {
			const struct blend *one = blends[j - 1];
			const struct blend *other = blends[j];
			if (lowest(one->parts) < lowest(other->parts))
				break;
			blends[j - 1] = other;
			blends[j] = one;
		}
}

static void
propose(struct search *search, const size_t *at, size_t count)
{
	const struct blend *blends[CHOOSE_TANKS] = { NULL };
	struct proposal proposal = { .tank_count = count };
	unsigned parts = 0;
	for (size_t i = 0; i < count; i++) {
		blends[i] = &search->blend[at[i]];
		parts |= blends[i]->parts;
	}
	if (is_wasteful(search, parts))
		return;
	sort_blends(blends, count);
	for (size_t i = 0; i < count; i++) {
		proposal.tank[i] = blends[i]->tank;
		proposal.product_count += blends[i]->tank.mix.count;
		proposal.cost += blends[i]->tank.cost;
	}
	/* so that the order of a sum does not decide */
	proposal.cost = round(proposal.cost * 1e6) / 1e6;
	proposal.repeated = count_repeated(search, blends, count);
	insert(search, &proposal);
}

/* The tanks so far, each the `at`-th blend, for the first weed that those
   before it left open. */
struct trail {
	size_t at[CHOOSE_TANKS];
	uint32_t weed[CHOOSE_TANKS];        /* one bit */
	uint32_t covered[CHOOSE_TANKS + 1]; /* before each of them */
	size_t depth;
};

/* Does the blend of this depth go with those before it? */
static bool
fits(const struct search *search, const struct trail *trail)
{
	size_t at = trail->at[trail->depth];
	const struct blend *blend = &search->blend[at];
	for (size_t d = 0; d < trail->depth; d++) {
		size_t before = trail->at[d];
		if ((search->blend[before].parts & blend->parts) != 0)
			return false;
		/* found already, with the two the other way round */
		if (at < before && (blend->tank.covers & trail->weed[d]) != 0)
			return false;
	}
	return (blend->tank.covers & trail->weed[trail->depth]) != 0;
}

/* Takes the blend of this depth, and the first of the next one. */
static void
go_deeper(const struct search *search, struct trail *trail)
{
	size_t depth = trail->depth;
	uint32_t covered =
	    trail->covered[depth] | search->blend[trail->at[depth]].tank.covers;
	uint32_t open = search->all & ~covered;
	if (depth + 1 == CHOOSE_TANKS) {
		trail->at[depth]++;
		return;
	}
	trail->depth++;
	trail->at[trail->depth] = 0;
	trail->covered[trail->depth] = covered;
	trail->weed[trail->depth] = lowest(open);
}

/* Every set of tanks that covers the weeds, once each. */
static void
walk(struct search *search)
{
	struct trail trail = { .weed = { lowest(search->all) } };
	while (trail.depth > 0 || trail.at[0] < search->blend_count) {
		size_t *at = &trail.at[trail.depth];
		if (*at == search->blend_count) {
			trail.depth--;
			trail.at[trail.depth]++;
			continue;
		}
		uint32_t covered =
		    trail.covered[trail.depth] | search->blend[*at].tank.covers;
		if (!fits(search, &trail)) {
			(*at)++;
		} else if (covered == search->all) {
			propose(search, trail.at, trail.depth + 1);
			(*at)++;
		} else {
			go_deeper(search, &trail);
		}
	}
}

bool
choose_tanks(
    const struct choose_wish *wish, struct choice **ret, struct error *error)
{
	struct choice *choice = memory_array(1, sizeof *choice);
	struct search search = { .wish = wish, .choice = choice };
	bool good = wish->weed_count > 0 ||
		    error_set(error, ERROR_INPUT, "no weed is named");
	for (size_t w = 0; w < wish->weed_count && good; w++)
		good = take_weed(&search, wish->weed[w], error);
	if (good) {
		search.all = UINT32_MAX >> (CHOOSE_WEEDS - choice->weed_count);
		find_last_groups(&search);
		choose_take_parts(&search);
		choose_blend_parts(&search);
		walk(&search);
		*ret = choice;
	} else {
		choice_free(choice);
	}
	free(search.herbicide);
	free(search.adjuvant);
	free(search.blend);
	return good;
}

void
choice_free(struct choice *choice)
{
	if (choice == NULL)
		return;
	free(choice->left_out);
	free(choice);
}
