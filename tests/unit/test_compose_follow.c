/* What the calendar says on the days that follow from an application. */
#include "unit/compose_fixture.h"
#include "unit/follow_fixture.h"

struct scene {
	struct sprayed sprayed;
	struct compose_style style;
	struct compose_follow facts;
};

static void
begin_scene(struct scene *scene, const struct follow *follow)
{
	begin_sprayed(&scene->sprayed);
	scene->sprayed.product[0].effect = 35.0 * DAY;
	scene->style = (struct compose_style){ UNITS_US, 19 * HOUR, 4 * HOUR };
	scene->facts = (struct compose_follow){ .uid = "record-5-3",
		.site = &scene->sprayed.site,
		.name = "su-b + pre-g",
		.weeds = "yellow nutsedge",
		.from = scene->sprayed.facts.from,
		.follow = follow };
}

static void
compose(struct scene *scene, struct composed *ret)
{
	compose_follow(&scene->facts, &scene->style, ret);
	assert_cautions(ret);
	assert_true(ret->entry.all_day);
	assert_int_equal(ret->entry.to, ret->entry.from + 1);
	assert_contains(ret->entry.description,
	    "su-b + pre-g was sprayed Tue 14 Apr 08:00 against yellow "
	    "nutsedge.");
	assert_contains(ret->entry.description, "Source: label of su-b");
}

static int64_t
day_2026(int month, int day)
{
	struct zone zone = chicago();
	return civil_day(&zone, local_2026(month, day, 12, 0));
}

static void
mowing_is_told_on_the_day_on_which_it_may_be(void **state)
{
	(void)state;
	struct scene scene;
	struct composed composed;
	struct follow follow = { .kind = FOLLOW_MOWING,
		.from = local_2026(4, 14, 9, 5),
		.to = local_2026(4, 16, 9, 5) };
	begin_scene(&scene, &follow);
	follow.product = &scene.sprayed.product[0];
	compose(&scene, &composed);
	assert_entry(
	    &composed, "record-5-3-mow-0", "MOW-AGAIN", ENTRY_CONFIRMED);
	assert_string_equal(
	    composed.entry.summary, "MOW AGAIN: front, from 09:05");
	assert_int_equal(composed.entry.from, day_2026(4, 16));
	assert_contains(composed.entry.description,
	    "The card of su-b asks for no mowing before Thu 16 Apr 09:05.");
	assert_contains(
	    composed.entry.description, "lull observe \"front\" --mowed");
	/* on the evening before, at seven */
	assert_int_equal(composed.entry.alarm_count, 1);
	assert_int_equal(composed.entry.alarm[0].before, 5 * HOUR);
	composed_release(&composed);
}

static void
an_evening_before_the_job_rings_nothing(void **state)
{
	(void)state;
	struct scene scene;
	struct composed composed;
	struct follow follow = { .kind = FOLLOW_MOWING,
		.from = local_2026(4, 14, 9, 5),
		.to = local_2026(4, 14, 21, 5) };
	begin_scene(&scene, &follow);
	follow.product = &scene.sprayed.product[0];
	compose(&scene, &composed);
	assert_int_equal(composed.entry.alarm_count, 0);
	composed_release(&composed);
}

static void
the_look_says_how_long_it_takes(void **state)
{
	(void)state;
	struct scene scene;
	struct composed composed;
	struct follow follow = { .kind = FOLLOW_LOOK,
		.from = local_2026(5, 19, 9, 5),
		.to = INT64_MAX };
	begin_scene(&scene, &follow);
	follow.product = &scene.sprayed.product[0];
	scene.facts.place = 1;
	compose(&scene, &composed);
	assert_entry(&composed, "record-5-3-look-1", "LOOK", ENTRY_CONFIRMED);
	assert_string_equal(composed.entry.summary,
	    "LOOK: front, su-b: its effect should show now");
	assert_int_equal(composed.entry.from, day_2026(5, 19));
	assert_contains(composed.entry.description, "shows after 35 d");
	composed_release(&composed);
}

static void
a_second_application_has_a_first_and_a_last_day(void **state)
{
	(void)state;
	struct scene scene;
	struct composed first, last;
	struct follow follow = { .kind = FOLLOW_AGAIN,
		.from = local_2026(5, 26, 0, 0),
		.to = local_2026(6, 24, 0, 0) };
	begin_scene(&scene, &follow);
	follow.product = &scene.sprayed.product[0];
	compose(&scene, &first);
	assert_entry(&first, "record-5-3-again-0", "AGAIN", ENTRY_CONFIRMED);
	assert_string_equal(first.entry.summary,
	    "SECOND APPLICATION: front, su-b: from today to Tue 23 Jun");
	assert_int_equal(first.entry.from, day_2026(5, 26));
	assert_contains(first.entry.description, "lull add \"front\" su-b");
	assert_contains(first.entry.description,
	    "su-b: second application from Tue 26 May to Tue 23 Jun");
	assert_int_equal(first.entry.alarm_count, 0);
	scene.facts.is_last = true;
	compose(&scene, &last);
	assert_entry(&last, "record-5-3-last-0", "AGAIN", ENTRY_CONFIRMED);
	assert_string_equal(
	    last.entry.summary, "LAST DAY: front, su-b: second application");
	assert_int_equal(last.entry.from, day_2026(6, 23));
	assert_int_equal(last.entry.alarm_count, 1);
	composed_release(&first);
	composed_release(&last);
}

static void
without_an_end_it_is_told_from_when_on(void **state)
{
	(void)state;
	struct scene scene;
	struct composed composed;
	struct follow follow = { .kind = FOLLOW_AGAIN,
		.from = local_2026(5, 26, 0, 0),
		.to = INT64_MAX };
	begin_scene(&scene, &follow);
	follow.product = &scene.sprayed.product[0];
	compose(&scene, &composed);
	assert_string_equal(
	    composed.entry.summary, "AGAIN: front, su-b: from today on");
	composed_release(&composed);
}

static void
a_stock_solution_goes_on_its_last_day(void **state)
{
	(void)state;
	struct zone zone = chicago();
	struct compose_style style = { UNITS_US, 19 * HOUR, 4 * HOUR };
	struct compose_solution facts = { .id = 4,
		.zone = &zone,
		.product = "su-b",
		.made = 1776169800,
		.until = local_2026(4, 15, 0, 0) };
	struct composed composed;
	compose_solution(&facts, &style, &composed);
	assert_cautions(&composed);
	assert_entry(
	    &composed, "solution-1776169800-4", "DISCARD", ENTRY_CONFIRMED);
	assert_int_equal(composed.entry.from, day_2026(4, 14));
	assert_string_equal(composed.entry.summary,
	    "DISCARD: stock solution of su-b by the end of Tue 14 Apr");
	assert_contains(composed.entry.description, "never into a drain");
	/* the evening before lies before it was made */
	assert_int_equal(composed.entry.alarm_count, 0);
	composed_release(&composed);
	facts.until = local_2026(5, 5, 7, 30);
	compose_solution(&facts, &style, &composed);
	assert_int_equal(composed.entry.from, day_2026(5, 5));
	assert_int_equal(composed.entry.alarm_count, 1);
	assert_string_equal(composed.entry.summary,
	    "DISCARD: stock solution of su-b by Tue 5 May 07:30");
	composed_release(&composed);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(mowing_is_told_on_the_day_on_which_it_may_be),
		cmocka_unit_test(an_evening_before_the_job_rings_nothing),
		cmocka_unit_test(the_look_says_how_long_it_takes),
		cmocka_unit_test(
		    a_second_application_has_a_first_and_a_last_day),
		cmocka_unit_test(without_an_end_it_is_told_from_when_on),
		cmocka_unit_test(a_stock_solution_goes_on_its_last_day),
	};
	return RUN_TESTS(tests);
}
