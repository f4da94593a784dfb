#include "unit/test.h"

#include "unit/diary.h"

static void
assert_slot(const struct diary *diary, const struct plan_item *item,
    enum plan_outcome outcome, int from)
{
	assert_int_equal(item->outcome, outcome);
	assert_int_equal(item->slot.from, diary->now + minutes(from));
	assert_int_equal(item->slot.to, item->slot.from + item->duration);
}

static void
a_good_slot_stays_though_an_earlier_one_opens(void **state)
{
	(void)state;
	struct diary diary;
	diary_init(&diary);
	struct plan_item *job = add_job(&diary, 5, HOUR);
	add_window(&diary, job, 60, 120);
	add_window(&diary, job, 600, 700);
	give_slot(&diary, job, 640);
	plan(&diary);
	assert_slot(&diary, job, PLAN_KEPT, 640);
}

static void
a_slot_that_is_shut_moves_to_the_first_window(void **state)
{
	(void)state;
	struct diary diary;
	diary_init(&diary);
	struct plan_item *job = add_job(&diary, 5, HOUR);
	add_window(&diary, job, 61, 120); /* rounded up to 5 minutes */
	give_slot(&diary, job, 300);
	plan(&diary);
	assert_slot(&diary, job, PLAN_PLACED, 65);
}

/* A window too short for the rounding is taken where it opens. */
static void
a_narrow_window_is_not_lost_to_rounding(void **state)
{
	(void)state;
	struct diary diary;
	diary_init(&diary);
	struct plan_item *job = add_job(&diary, 5, HOUR);
	add_window(&diary, job, 61, 63);
	plan(&diary);
	assert_slot(&diary, job, PLAN_PLACED, 61);
}

static void
a_job_whose_length_changed_is_placed_anew(void **state)
{
	(void)state;
	struct diary diary;
	diary_init(&diary);
	struct plan_item *job = add_job(&diary, 5, HOUR);
	add_window(&diary, job, 60, 120);
	give_slot(&diary, job, 100);
	job->duration = 2 * HOUR;
	plan(&diary);
	assert_slot(&diary, job, PLAN_PLACED, 60);
}

static void
order_is_priority_then_deadline_then_age(void **state)
{
	(void)state;
	struct diary diary;
	diary_init(&diary);
	struct plan_item *young = add_job(&diary, 5, HOUR);
	struct plan_item *late = add_job(&diary, 5, HOUR);
	struct plan_item *early = add_job(&diary, 5, HOUR);
	struct plan_item *urgent = add_job(&diary, 1, HOUR);
	struct plan_item *all[] = { young, late, early, urgent };
	diary.job[0].id = 99;
	diary.job[2].before = diary.now + 5 * DAY;
	for (size_t i = 0; i < 4; i++)
		add_window(&diary, all[i], 0, 600);
	plan(&diary);
	assert_slot(&diary, urgent, PLAN_PLACED, 0);
	assert_slot(&diary, early, PLAN_PLACED, 60);
	assert_slot(&diary, late, PLAN_PLACED, 120);
	assert_slot(&diary, young, PLAN_PLACED, 180);
}

static void
a_job_in_progress_stays_whatever_the_forecast_says(void **state)
{
	(void)state;
	struct diary diary;
	diary_init(&diary);
	struct plan_item *working = add_job(&diary, 9, HOUR);
	struct plan_item *urgent = add_job(&diary, 1, HOUR);
	give_slot(&diary, working, -20); /* and it has no window at all */
	add_window(&diary, urgent, 0, 300);
	plan(&diary);
	assert_slot(&diary, working, PLAN_KEPT, -20);
	assert_slot(&diary, urgent, PLAN_PLACED, 40);
	/* begun this very second */
	give_slot(&diary, working, 0);
	plan(&diary);
	assert_slot(&diary, working, PLAN_KEPT, 0);
	/* over this very second: that slot is history */
	give_slot(&diary, working, -60);
	plan(&diary);
	assert_int_equal(working->outcome, PLAN_NO_WINDOW);
	assert_slot(&diary, urgent, PLAN_PLACED, 0);
}

static void
a_higher_job_goes_beside_a_lower_one_when_it_can(void **state)
{
	(void)state;
	struct diary diary;
	diary_init(&diary);
	struct plan_item *low = add_job(&diary, 8, HOUR);
	struct plan_item *high = add_job(&diary, 1, HOUR);
	add_window(&diary, low, 0, 300);
	give_slot(&diary, low, 30);
	add_window(&diary, high, 30, 90);
	plan(&diary);
	assert_slot(&diary, low, PLAN_KEPT, 30);
	assert_slot(&diary, high, PLAN_PLACED, 90);
}

static void
a_higher_job_takes_a_lower_ones_slot_when_nothing_else_is_open(void **state)
{
	(void)state;
	struct diary diary;
	diary_init(&diary);
	struct plan_item *low = add_job(&diary, 8, HOUR);
	struct plan_item *high = add_job(&diary, 1, HOUR);
	add_window(&diary, low, 30, 300);
	give_slot(&diary, low, 30);
	add_window(&diary, high, 30, 85);
	plan(&diary);
	assert_slot(&diary, high, PLAN_PLACED, 30);
	assert_slot(&diary, low, PLAN_PLACED, 90);
}

static void
taken_is_told_apart_from_no_window(void **state)
{
	(void)state;
	struct diary diary;
	diary_init(&diary);
	struct plan_item *high = add_job(&diary, 1, HOUR);
	struct plan_item *taken = add_job(&diary, 5, HOUR);
	struct plan_item *shut = add_job(&diary, 5, HOUR);
	add_window(&diary, high, 0, 0);
	add_window(&diary, taken, 0, 30);
	plan(&diary);
	assert_slot(&diary, high, PLAN_PLACED, 0);
	assert_int_equal(taken->outcome, PLAN_TAKEN);
	assert_int_equal(shut->outcome, PLAN_NO_WINDOW);
}

/* A missing forecast alone does not take a slot away. */
static void
a_slot_that_nobody_can_tell_is_held(void **state)
{
	(void)state;
	struct diary diary;
	diary_init(&diary);
	struct plan_item *job = add_job(&diary, 5, HOUR);
	give_slot(&diary, job, 600);
	job->hold = true;
	plan(&diary);
	assert_slot(&diary, job, PLAN_HELD, 600);
	/* but something known is better */
	add_window(&diary, job, 60, 120);
	plan(&diary);
	assert_slot(&diary, job, PLAN_PLACED, 60);
	/* nor is it held in another job's way */
	job->window_count = 0;
	struct plan_item *urgent = add_job(&diary, 1, HOUR);
	add_window(&diary, urgent, 600, 630);
	plan(&diary);
	assert_slot(&diary, urgent, PLAN_PLACED, 600);
	assert_int_equal(job->outcome, PLAN_NO_WINDOW);
}

/* 21 days is common practice, no source. */
static void
two_jobs_of_one_product_on_one_site_keep_its_interval(void **state)
{
	(void)state;
	struct diary diary;
	diary_init(&diary);
	diary.product[0].retreatment = 21;
	struct plan_item *first = add_job(&diary, 1, HOUR);
	struct plan_item *second = add_job(&diary, 2, HOUR);
	struct plan_item *elsewhere = add_job(&diary, 3, HOUR);
	struct plan_item *another = add_job(&diary, 4, HOUR);
	struct plan_item *all[] = { first, second, elsewhere, another };
	diary.job[2].site = &diary.site[1];
	for (size_t i = 0; i < 4; i++) {
		add_window(&diary, all[i], 0, 30 * 24 * 60);
		add_product(&diary, all[i], i == 3 ? 1 : 0);
	}
	plan(&diary);
	assert_slot(&diary, first, PLAN_PLACED, 0);
	/* from the midnight that begins the 21st day on */
	assert_slot(&diary, second, PLAN_PLACED, 21 * 24 * 60 - 6 * 60);
	assert_slot(&diary, elsewhere, PLAN_PLACED, 60);
	assert_slot(&diary, another, PLAN_PLACED, 120);
}

/* The interval holds both ways: before a planned job as well as after it. */
static void
a_job_is_not_put_just_before_its_sibling(void **state)
{
	(void)state;
	struct diary diary;
	diary_init(&diary);
	diary.product[0].retreatment = 7;
	struct plan_item *kept = add_job(&diary, 1, HOUR);
	struct plan_item *other = add_job(&diary, 2, HOUR);
	add_window(&diary, kept, 0, 10 * 24 * 60);
	give_slot(&diary, kept, 5 * 24 * 60);
	add_window(&diary, other, 0, 12 * 24 * 60 - 6 * 60 - 5);
	add_product(&diary, kept, 0);
	add_product(&diary, other, 0);
	plan(&diary);
	assert_slot(&diary, kept, PLAN_KEPT, 5 * 24 * 60);
	assert_int_equal(other->outcome, PLAN_TAKEN);
	diary.window[1][0].last += minutes(5);
	plan(&diary);
	assert_slot(&diary, other, PLAN_PLACED, 12 * 24 * 60 - 6 * 60);
}

/* Even one that has begun: the keeper says so. */
static void
a_postponed_job_leaves_its_slot(void **state)
{
	(void)state;
	struct diary diary;
	diary_init(&diary);
	struct plan_item *job = add_job(&diary, 5, HOUR);
	add_window(&diary, job, 120, 300);
	give_slot(&diary, job, -20);
	diary.job[0].after = diary.now + minutes(120);
	plan(&diary);
	assert_slot(&diary, job, PLAN_PLACED, 120);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_good_slot_stays_though_an_earlier_one_opens),
		cmocka_unit_test(a_slot_that_is_shut_moves_to_the_first_window),
		cmocka_unit_test(a_narrow_window_is_not_lost_to_rounding),
		cmocka_unit_test(a_job_whose_length_changed_is_placed_anew),
		cmocka_unit_test(order_is_priority_then_deadline_then_age),
		cmocka_unit_test(
		    a_job_in_progress_stays_whatever_the_forecast_says),
		cmocka_unit_test(
		    a_higher_job_goes_beside_a_lower_one_when_it_can),
		cmocka_unit_test(
		    a_higher_job_takes_a_lower_ones_slot_when_nothing_else_is_open),
		cmocka_unit_test(a_postponed_job_leaves_its_slot),
		cmocka_unit_test(taken_is_told_apart_from_no_window),
		cmocka_unit_test(a_slot_that_nobody_can_tell_is_held),
		cmocka_unit_test(
		    two_jobs_of_one_product_on_one_site_keep_its_interval),
		cmocka_unit_test(a_job_is_not_put_just_before_its_sibling),
	};
	return RUN_TESTS(tests);
}
