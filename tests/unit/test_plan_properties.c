/* What must be true of every plan, on thousands of random diaries. */
#include "unit/test.h"

#include "unit/diary.h"

static void
draw_item(struct diary *diary, uint64_t *seed)
{
	struct plan_item *item = add_job(diary, draw_from(seed, 1, 9),
	    draw_from(seed, 1, 30) * (int64_t)PLAN_GRAIN);
	struct job *job = &diary->job[item - diary->item];
	job->site = &diary->site[draw_from(seed, 0, 1)];
	if (draw_once_in(seed, 2))
		job->before =
		    diary->now + draw_from(seed, 1, 14) * (int64_t)DAY;
	for (int n = draw_from(seed, 0, 2); n > 0; n--)
		add_product(diary, item, (size_t)draw_from(seed, 0, 2));
	int at = 0;
	for (int n = draw_from(seed, 0, WINDOWS); n > 0; n--) {
		at += draw_from(seed, 0, 900);
		int last = at + draw_from(seed, 0, 400);
		add_window(diary, item, at, last);
		at = last + 1;
	}
	if (draw_once_in(seed, 2))
		give_slot(diary, item, draw_from(seed, 1, 400) * 5);
	item->hold = draw_once_in(seed, 4);
}

static void
draw_diary(struct diary *diary, uint64_t *seed)
{
	diary_init(diary);
	for (size_t p = 0; p < 3; p++)
		diary->product[p].retreatment = draw_from(seed, 0, 2);
	for (int n = draw_from(seed, 1, ITEMS); n > 0; n--)
		draw_item(diary, seed);
	if (draw_once_in(seed, 3))
		give_slot(diary, &diary->item[0], -draw_from(seed, 0, 4));
}

static bool
has_slot(const struct plan_item *item)
{
	return item->outcome == PLAN_KEPT || item->outcome == PLAN_PLACED ||
	       item->outcome == PLAN_HELD;
}

/* Days that the two may not share; 0 when they have no product in common. */
static int64_t
interval(const struct job *a, const struct job *b)
{
	double most = 0;
	for (size_t i = 0; a->site == b->site && i < a->tank.count; i++)
		for (size_t j = 0; j < b->tank.count; j++)
			if (a->tank.dose[i].product == b->tank.dose[j].product)
				most = fmax(
				    most, a->tank.dose[i].product->retreatment);
	return (int64_t)most;
}

static void
check_pair(const struct plan_item *a, const struct plan_item *b)
{
	if (!has_slot(a) || !has_slot(b))
		return;
	assert_true(a->slot.to <= b->slot.from || b->slot.to <= a->slot.from);
	const struct zone *zone = &a->job->site->zone;
	int64_t days =
	    civil_day(zone, a->slot.from) - civil_day(zone, b->slot.from);
	int64_t apart = days < 0 ? -days : days;
	assert_true(apart >= interval(a->job, b->job));
}

static void
check_item(const struct diary *diary, const struct plan_item *item)
{
	bool begun = item->had_slot && item->previous.from <= diary->now &&
		     item->previous.to > diary->now;
	if (begun || item->outcome == PLAN_KEPT || item->outcome == PLAN_HELD) {
		assert_int_equal(item->slot.from, item->previous.from);
		assert_int_equal(item->slot.to, item->previous.to);
	}
	if (begun)
		assert_int_equal(item->outcome, PLAN_KEPT);
	else if (item->outcome == PLAN_KEPT || item->outcome == PLAN_PLACED)
		assert_non_null(window_of(
		    item->windows, item->window_count, item->slot.from));
	if (item->outcome == PLAN_HELD)
		assert_true(item->hold);
	if (item->outcome == PLAN_PLACED)
		assert_int_equal(
		    item->slot.to - item->slot.from, item->duration);
	if (item->outcome == PLAN_NO_WINDOW)
		assert_int_equal(item->window_count, 0);
	if (item->outcome == PLAN_TAKEN)
		assert_true(item->window_count > 0);
}

static void
no_two_slots_overlap_whatever_is_asked(void **state)
{
	(void)state;
	uint64_t seed = 41;
	for (int n = 0; n < 3000; n++) {
		struct diary diary;
		draw_diary(&diary, &seed);
		plan(&diary);
		for (size_t i = 0; i < diary.count; i++) {
			check_item(&diary, &diary.item[i]);
			for (size_t j = 0; j < i; j++)
				check_pair(&diary.item[i], &diary.item[j]);
		}
	}
}

/* Calm: the same question a second time moves nothing. */
static void
a_plan_that_is_made_again_stays(void **state)
{
	(void)state;
	uint64_t seed = 42;
	for (int n = 0; n < 2000; n++) {
		struct diary diary, again;
		draw_diary(&diary, &seed);
		plan(&diary);
		again = diary;
		for (size_t i = 0; i < again.count; i++) {
			struct plan_item *item = &again.item[i];
			item->job = &again.job[i];
			item->windows = again.window[i];
			item->had_slot = has_slot(item);
			item->previous = item->slot;
		}
		for (size_t i = 0; i < again.count; i++)
			again.job[i] = diary.job[i];
		plan(&again);
		for (size_t i = 0; i < again.count; i++) {
			const struct plan_item *item = &again.item[i];
			assert_int_equal(
			    has_slot(item), has_slot(&diary.item[i]));
			assert_true(item->outcome != PLAN_PLACED);
			if (has_slot(item))
				assert_int_equal(
				    item->slot.from, diary.item[i].slot.from);
		}
	}
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(no_two_slots_overlap_whatever_is_asked),
		cmocka_unit_test(a_plan_that_is_made_again_stays),
	};
	return RUN_TESTS(tests);
}
