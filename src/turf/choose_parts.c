/* What may go into a tank, and which tanks there are. */
#include "turf/choose_parts.h"

#include "base/memory.h"
#include "turf/weeds.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct dose
choose_dose(const struct product *product)
{
	return (struct dose){ product,
		product->rate > 0 ? product->rate : product->rate_least,
		product->rate_kind };
}

static int
compare_names(const void *left, const void *right)
{
	const struct part *a = left, *b = right;
	return strcmp(a->dose.product->name, b->dose.product->name);
}

static int
compare_costs(const void *left, const void *right)
{
	const struct part *a = left, *b = right;
	double one = a->item->cost, other = b->item->cost;
	if (isnan(one) != isnan(other))
		return isnan(one) ? 1 : -1;
	if (one < other || one > other)
		return one < other ? -1 : 1;
	return compare_names(left, right);
}

static int
compare_covers(const void *left, const void *right)
{
	const struct part *a = left, *b = right;
	size_t one = choose_count_bits(a->covers),
	       other = choose_count_bits(b->covers);
	if (one != other)
		return one > other ? -1 : 1;
	return compare_names(left, right);
}

static int
compare_left_out(const void *left, const void *right)
{
	const struct left_out *a = left, *b = right;
	return strcmp(a->product->name, b->product->name);
}

static void
sort_parts(struct part *parts, size_t count,
    int (*compare)(const void *left, const void *right))
{
	if (count > 0)
		qsort(parts, count, sizeof *parts, compare);
}

/* Fills the tank with those herbicides, and an adjuvant when that is not
   NULL. */
static void
fill_tank(const struct part *const *parts, size_t count,
    const struct part *adjuvant, struct tank_mix *ret)
{
	*ret = (struct tank_mix){ .count = 0 };
	for (size_t i = 0; i < count; i++)
		ret->dose[ret->count++] = parts[i]->dose;
	if (adjuvant != NULL)
		ret->dose[ret->count++] = adjuvant->dose;
}

static bool
is_forbidden(const struct search *search, const struct tank_mix *mix,
    struct conflict *ret)
{
	struct job job = *search->wish->job;
	struct conflict found;
	job.tank = *mix;
	if (conflicts_find(&job, search->wish->facts, &found, 1) == 0 ||
	    !found.forbids)
		return false;
	*ret = found;
	return true;
}

/*
 * A tank of those herbicides that nothing forbids, with the cheapest adjuvant
 * when one is required; else false, and what the last try said.
 */
static bool
mix_parts(const struct search *search, const struct part *const *parts,
    size_t count, struct proposed_tank *ret, struct conflict *why)
{
	struct proposed_tank tank = { .cost = 0 };
	const struct part *adjuvant = NULL;
	bool needs = false;
	for (size_t i = 0; i < count; i++) {
		needs |= parts[i]->dose.product->adjuvant == ADJUVANT_REQUIRED;
		tank.covers |= parts[i]->covers;
		tank.cost += parts[i]->item->cost;
	}
	size_t tries = needs ? search->adjuvant_count : 1;
	for (size_t i = 0; i < tries; i++) {
		adjuvant = needs ? &search->adjuvant[i] : NULL;
		fill_tank(parts, count, adjuvant, &tank.mix);
		if (is_forbidden(search, &tank.mix, why))
			continue;
		tank.cost += adjuvant != NULL ? adjuvant->item->cost : 0;
		*ret = tank;
		return true;
	}
	if (tries == 0)
		(void)snprintf(why->text, sizeof why->text,
		    "%s needs an adjuvant, none with a rate is on hand",
		    parts[0]->dose.product->name);
	return false;
}

/* Why the herbicide can be in no tank; false when it can. */
static bool
find_obstacle(
    const struct search *search, const struct part *part, struct conflict *ret)
{
	const char *name = part->dose.product->name;
	struct proposed_tank tank;
	if (part->item->on_hand <= 0)
		(void)snprintf(ret->text, sizeof ret->text,
		    "nothing of %s that is still good is on hand", name);
	else if (!(part->dose.rate > 0))
		(void)snprintf(ret->text, sizeof ret->text,
		    "%s has no rate on its card", name);
	else
		return !mix_parts(search, &part, 1, &tank, ret);
	return true;
}

static void
take_herbicide(struct search *search, const struct part *part)
{
	struct choice *choice = search->choice;
	struct conflict why = { .forbids = true };
	if (part->covers == 0)
		return;
	if (!find_obstacle(search, part, &why)) {
		search->herbicide[choice->usable++] = *part;
		choice->covered |= part->covers;
		return;
	}
	struct left_out *out = &choice->left_out[choice->left_out_count++];
	out->product = part->dose.product;
	memcpy(out->why, why.text, sizeof out->why);
}

static uint32_t
covers_of(const struct search *search, const struct product *product)
{
	uint32_t covers = 0;
	for (size_t w = 0; w < search->choice->weed_count; w++)
		if (product_controls(product, search->choice->weed[w]))
			covers |= UINT32_C(1) << w;
	return covers;
}

/* To the front those that together cover all that can be, each time the one
   that adds most: of many, the only one for a weed may not be left out. */
static void
put_cover_first(struct part *part, size_t count, uint32_t open)
{
	for (size_t front = 0; front < count && open != 0; front++) {
		size_t best = front;
		for (size_t i = front; i < count; i++)
			if (choose_count_bits(part[i].covers & open) >
			    choose_count_bits(part[best].covers & open))
				best = i;
		const struct part first = part[best];
		memmove(&part[front + 1], &part[front],
		    (best - front) * sizeof *part);
		part[front] = first;
		open &= ~first.covers;
	}
}

void
choose_take_parts(struct search *search)
{
	const struct choose_wish *wish = search->wish;
	struct choice *choice = search->choice;
	search->herbicide =
	    memory_array(wish->item_count, sizeof *search->herbicide);
	search->adjuvant =
	    memory_array(wish->item_count, sizeof *search->adjuvant);
	choice->left_out =
	    memory_array(wish->item_count, sizeof *choice->left_out);
	for (size_t i = 0; i < wish->item_count; i++) {
		const struct choose_item *item = &wish->item[i];
		struct part part = { item, choose_dose(item->product), 0, 0 };
		bool usable = !(item->on_hand <= 0) && part.dose.rate > 0;
		if (item->product->kind == PRODUCT_ADJUVANT && usable)
			search->adjuvant[search->adjuvant_count++] = part;
	}
	sort_parts(search->adjuvant, search->adjuvant_count, compare_costs);
	for (size_t i = 0; i < wish->item_count; i++) {
		const struct choose_item *item = &wish->item[i];
		if (item->product->kind != PRODUCT_HERBICIDE)
			continue;
		const struct part part = { item, choose_dose(item->product),
			covers_of(search, item->product),
			choose_groups(search, item->product) };
		take_herbicide(search, &part);
	}
	sort_parts(search->herbicide, choice->usable, compare_covers);
	put_cover_first(search->herbicide, choice->usable, choice->covered);
	choice->searched = choice->usable < CHOOSE_HERBICIDES
			       ? choice->usable
			       : CHOOSE_HERBICIDES;
	search->herbicide_count = choice->searched;
	sort_parts(search->herbicide, choice->searched, compare_names);
	if (choice->left_out_count > 0)
		qsort(choice->left_out, choice->left_out_count,
		    sizeof *choice->left_out, compare_left_out);
}

/* Does each control a weed that none of the others does? */
static bool
are_needed(const struct part *const *parts, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		uint32_t others = 0;
		for (size_t j = 0; j < count; j++)
			others |= j != i ? parts[j]->covers : 0;
		if ((parts[i]->covers & ~others) == 0)
			return false;
	}
	return true;
}

static void
try_blend(struct search *search, unsigned chosen)
{
	const struct part *parts[CHOOSE_PARTNERS] = { NULL };
	struct blend blend = { .parts = chosen };
	struct conflict why;
	size_t count = 0;
	for (size_t i = 0; i < search->herbicide_count; i++)
		if ((chosen >> i & 1) != 0) {
			parts[count++] = &search->herbicide[i];
			blend.groups |= search->herbicide[i].groups;
		}
	if (!are_needed(parts, count) ||
	    !mix_parts(search, parts, count, &blend.tank, &why))
		return;
	search->blend = memory_grow(search->blend, search->blend_count,
	    &search->blend_capacity, sizeof *search->blend);
	search->blend[search->blend_count++] = blend;
	search->priced &= !isnan(blend.tank.cost);
}

void
choose_blend_parts(struct search *search)
{
	search->priced = true;
	for (unsigned chosen = 1; chosen < 1U << search->herbicide_count;
	     chosen++)
		if (choose_count_bits(chosen) <= CHOOSE_PARTNERS)
			try_blend(search, chosen);
}
