/* Jobs with their windows and slots, for the tests of the planner. */
#ifndef TESTS_UNIT_DIARY_H
#define TESTS_UNIT_DIARY_H

#include "unit/test.h"

#include "advice/plan.h"
#include "unit/heart.h"

enum { ITEMS = 24, WINDOWS = 5 };

/* Items with their jobs, windows and sites in one place. */
struct diary {
	struct site site[2];
	struct product product[3];
	struct job job[ITEMS];
	struct window window[ITEMS][WINDOWS];
	struct plan_item item[ITEMS];
	size_t count;
	int64_t now;
};

/* Monday, 6 April 2026, 06:00. */
static inline void
diary_init(struct diary *diary)
{
	*diary = (struct diary){ .now = local_2026(4, 6, 6, 0) };
	for (size_t s = 0; s < 2; s++)
		diary->site[s].zone = chicago();
}

static inline struct plan_item *
add_job(struct diary *diary, int priority, int64_t duration)
{
	size_t i = diary->count++;
	assert_true(i < ITEMS);
	diary->job[i] = (struct job){ .id = (int64_t)i + 1,
		.site = &diary->site[0],
		.after = INT64_MIN,
		.before = INT64_MAX,
		.priority = priority };
	diary->item[i] = (struct plan_item){ .job = &diary->job[i],
		.duration = duration,
		.windows = diary->window[i] };
	return &diary->item[i];
}

/* Starts from `first` to `last`, minutes after now. */
static inline void
add_window(struct diary *diary, struct plan_item *item, int first, int last)
{
	size_t i = (size_t)(item - diary->item);
	assert_true(item->window_count < WINDOWS);
	diary->window[i][item->window_count++] =
	    (struct window){ .first = diary->now + minutes(first),
		    .last = diary->now + minutes(last) };
}

static inline void
give_slot(struct diary *diary, struct plan_item *item, int from)
{
	item->had_slot = true;
	item->previous.from = diary->now + minutes(from);
	item->previous.to = item->previous.from + item->duration;
}

static inline void
plan(struct diary *diary)
{
	plan_make(diary->item, diary->count, diary->now);
}

static inline void
add_product(struct diary *diary, struct plan_item *item, size_t product)
{
	struct tank_mix *tank = &diary->job[item - diary->item].tank;
	tank->dose[tank->count++].product = &diary->product[product];
}

#endif
