#include "advice/plan.h"

#include "base/memory.h"

#include <stdlib.h>
#include <string.h>

/* Where an item stands while the plan is made. */
enum standing { STANDING_OPEN, STANDING_RESERVED, STANDING_FIXED };

struct planning {
	struct plan_item *items;
	enum standing *standing; /* of each item, in the order of items */
	size_t count;
	int64_t now;
};

static int
compare_order(const void *left, const void *right)
{
	const struct job *a = (*(struct plan_item *const *)left)->job;
	const struct job *b = (*(struct plan_item *const *)right)->job;
	if (a->priority != b->priority)
		return a->priority < b->priority ? -1 : 1;
	if (a->before != b->before)
		return a->before < b->before ? -1 : 1;
	return a->id < b->id ? -1 : a->id > b->id ? 1 : 0;
}

/* Days that must lie between the two jobs; 0 when they share no product. */
static double
days_between(const struct job *a, const struct job *b)
{
	double days = 0;
	if (a->site != b->site)
		return 0;
	for (size_t i = 0; i < a->tank.count; i++)
		for (size_t j = 0; j < b->tank.count; j++) {
			const struct product *product = a->tank.dose[i].product;
			if (product == b->tank.dose[j].product &&
			    product->retreatment > days)
				days = product->retreatment;
		}
	return days;
}

static bool
conflicts(const struct plan_item *item, const struct slot *slot,
    const struct plan_item *other)
{
	const struct slot *taken = &other->slot;
	if (slot->from < taken->to && taken->from < slot->to)
		return true;
	const struct zone *zone = &item->job->site->zone;
	int64_t apart =
	    civil_day(zone, slot->from) - civil_day(zone, taken->from);
	apart = apart < 0 ? -apart : apart;
	return (double)apart < days_between(item->job, other->job);
}

/* The item, other than this one, that stands in the way; NULL for none. */
static const struct plan_item *
in_the_way(const struct planning *planning, const struct plan_item *item,
    const struct slot *slot, enum standing least)
{
	for (size_t i = 0; i < planning->count; i++) {
		const struct plan_item *other = &planning->items[i];
		if (other != item && planning->standing[i] >= least &&
		    conflicts(item, slot, other))
			return other;
	}
	return NULL;
}

static int64_t
round_up(int64_t time)
{
	return (time + PLAN_GRAIN - 1) / PLAN_GRAIN * PLAN_GRAIN;
}

/* The earliest slot in one window that is free of items of that standing. */
static bool
find_in_window(const struct planning *planning, const struct plan_item *item,
    enum standing least, const struct window *window, struct slot *ret)
{
	int64_t from = round_up(window->first);
	if (from > window->last)
		from = window->first;
	while (from <= window->last) {
		struct slot slot = { from, from + item->duration };
		const struct plan_item *other =
		    in_the_way(planning, item, &slot, least);
		if (other == NULL) {
			*ret = slot;
			return true;
		}
		int64_t past = round_up(other->slot.to);
		from = past > from ? past : from + PLAN_GRAIN;
	}
	return false;
}

static bool
find_slot(const struct planning *planning, const struct plan_item *item,
    enum standing least, struct slot *ret)
{
	for (size_t w = 0; w < item->window_count; w++)
		if (find_in_window(
			planning, item, least, &item->windows[w], ret))
			return true;
	return false;
}

static bool
is_still_good(const struct plan_item *item, int64_t now)
{
	if (!item->had_slot || item->previous.to <= now ||
	    item->job->after > item->previous.from)
		return false;
	if (item->previous.from <= now)
		return true;
	return item->previous.to - item->previous.from == item->duration &&
	       window_of(item->windows, item->window_count,
		   item->previous.from) != NULL;
}

static void
place(struct planning *planning, struct plan_item *item)
{
	enum standing *standing = &planning->standing[item - planning->items];
	struct slot slot = item->previous;
	bool keep = *standing == STANDING_RESERVED &&
		    in_the_way(planning, item, &slot, STANDING_FIXED) == NULL;
	if (keep) {
		item->slot = slot;
		item->outcome = PLAN_KEPT;
	} else if (find_slot(planning, item, STANDING_RESERVED, &slot) ||
		   find_slot(planning, item, STANDING_FIXED, &slot)) {
		item->slot = slot;
		item->outcome = PLAN_PLACED;
	} else if (item->had_slot && item->hold &&
		   item->previous.to > planning->now &&
		   in_the_way(planning, item, &item->previous,
		       STANDING_FIXED) == NULL) {
		item->slot = item->previous;
		item->outcome = PLAN_HELD;
	} else {
		item->outcome =
		    item->window_count > 0 ? PLAN_TAKEN : PLAN_NO_WINDOW;
		*standing = STANDING_OPEN;
		return;
	}
	*standing = STANDING_FIXED;
}

/*
 * Slots that are still good are reserved first. A job of higher rank that has
 * no slot looks for one beside them, and takes one of theirs only when it
 * finds none; the job that lost it looks again in its own turn.
 */
void
plan_make(struct plan_item *items, size_t count, int64_t now)
{
	struct planning planning = { .items = items,
		.standing = memory_array(count, sizeof(enum standing)),
		.count = count,
		.now = now };
	struct plan_item **order = memory_array(count, sizeof(void *));
	for (size_t i = 0; i < count; i++) {
		order[i] = &items[i];
		if (!is_still_good(&items[i], now))
			continue;
		planning.standing[i] = items[i].previous.from <= now
					   ? STANDING_FIXED
					   : STANDING_RESERVED;
		items[i].slot = items[i].previous;
		items[i].outcome = PLAN_KEPT;
	}
	qsort(order, count, sizeof(void *), compare_order);
	for (size_t i = 0; i < count; i++)
		if (planning.standing[order[i] - items] != STANDING_FIXED)
			place(&planning, order[i]);
	free(order);
	free(planning.standing);
}
