/* Alarms, keep-off periods, jobs without a slot, and notices. */
#include "unit/compose_fixture.h"

static void
compose_at(
    struct world *world, int64_t from, int64_t planned, struct composed *ret)
{
	world->facts.slot = (struct slot){ from, from + HOUR };
	world->facts.start = cell_of(&world->series, from);
	world->facts.planned = planned;
	compose_slot(&world->judgement, &world->facts, &world->style, ret);
}

struct alarm {
	int month, day, hour;    /* of the slot, local */
	int evening;             /* the setting, minutes */
	int64_t first;           /* when it rings, UTC */
	const char *clock, *why; /* said in the alarm */
};

/*
 * The instants of 19:00, 20:00 and 20:30 on the evenings before, in Chicago:
 * CST is UTC-6, CDT UTC-5, changed 2026-03-08 08:00 and 2026-11-01 07:00 UTC.
 */
static const struct alarm alarms[] = {
	{ 3, 4, 7, 19 * 60, 1772586000, "07:00", "an ordinary day" },
	{ 3, 4, 7, 20 * 60 + 30, 1772591400, "07:00", "at half past" },
	{ 3, 8, 7, 19 * 60, 1772931600, "07:00", "eleven hours before" },
	{ 3, 9, 7, 19 * 60, 1773014400, "07:00", "the day after" },
	{ 11, 1, 7, 19 * 60, 1793491200, "07:00", "thirteen hours before" },
	{ 11, 2, 7, 19 * 60, 1793581200, "07:00", "the day after" },
	{ 3, 8, 0, 20 * 60, 1772935200, "00:00", "at midnight" },
	{ 3, 8, 20, 20 * 60, 1772935200, "20:00", "23 hours before" },
	{ 11, 1, 20, 20 * 60, 1793494800, "20:00", "25 hours before" },
};

static void
alarms_ring_the_evening_before_and_an_hour_before(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(alarms); i++) {
		const struct alarm *row = &alarms[i];
		struct world world;
		begin_world(&world, row->month, row->day);
		judge_world(&world);
		world.style.evening_alarm = row->evening * 60;
		int64_t from = local_2026(row->month, row->day, row->hour, 0);
		struct composed composed;
		compose_at(&world, from, world.series.start, &composed);
		const struct entry *entry = &composed.entry;
		assert_int_equal(entry->alarm_count, 2);
		if (from - entry->alarm[0].before != row->first)
			fail_msg("%s: %d s before", row->why,
			    entry->alarm[0].before);
		assert_contains(entry->alarm[0].text, row->clock);
		assert_contains(entry->alarm[0].text, "front");
		assert_int_equal(entry->alarm[1].before, HOUR);
		assert_contains(entry->alarm[1].text, row->clock);
		composed_release(&composed);
		end_world(&world);
	}
}

static void
no_alarm_rings_before_the_slot_was_chosen(void **state)
{
	(void)state;
	struct world world;
	begin_world(&world, 3, 4);
	judge_world(&world);
	int64_t from = world.facts.slot.from;
	static const struct {
		int before; /* the slot it was chosen */
		size_t alarms;
	} rows[] = { { 13 * HOUR, 2 }, { 12 * HOUR + 1, 2 },
		{ 12 * HOUR - 1, 1 }, { HOUR + 1, 1 }, { HOUR - 1, 0 },
		{ 0, 0 }, { -HOUR, 0 } };
	for (size_t i = 0; i < COUNT(rows); i++) {
		int64_t planned = from - rows[i].before;
		struct composed composed;
		compose_at(&world, from, planned, &composed);
		assert_int_equal(composed.entry.alarm_count, rows[i].alarms);
		for (size_t a = 0; a < rows[i].alarms; a++)
			assert_true(
			    from - composed.entry.alarm[a].before >= planned);
		if (rows[i].alarms == 1)
			assert_int_equal(composed.entry.alarm[0].before, HOUR);
		composed_release(&composed);
	}
	end_world(&world);
}

static void
a_keep_off_period_begins_when_it_was_sprayed(void **state)
{
	(void)state;
	struct world world;
	struct composed composed;
	begin_world(&world, 3, 8);
	/* from 20:00 CST for 12 h, over the night in which 02:00 is 03:00 */
	int64_t from = local_2026(3, 7, 20, 0);
	compose_keep_off(
	    "job-7", &world.site, "post-a + dye", from, 12 * HOUR, &composed);
	assert_entry(&composed, "job-7-off", "KEEP-OFF", ENTRY_CONFIRMED);
	assert_begins(composed.entry.summary, "KEEP OFF: front");
	assert_contains(composed.entry.summary, "09:00");
	assert_int_equal(composed.entry.from, from);
	assert_int_equal(composed.entry.to, from + 12 * HOUR);
	assert_int_equal(composed.entry.alarm_count, 0);
	assert_contains(composed.entry.description, "post-a + dye");
	assert_contains(composed.entry.description, "dry");
	assert_cautions(&composed);
	composed_release(&composed);
	end_world(&world);
}

static void
compose_nothing(struct world *world, enum plan_outcome outcome,
    const char *trouble, struct composed *ret)
{
	struct compose_none facts = { outcome, trouble, "Forecast: somebody" };
	compose_none(&world->judgement, &facts, &world->style, ret);
	const struct entry *entry = &ret->entry;
	assert_true(entry->all_day);
	assert_int_equal(entry->to, entry->from + 1);
	assert_int_equal(entry->alarm_count, 0);
	assert_contains(entry->summary, "front, post-a + dye");
	assert_contains(entry->description, "lull why 7");
	assert_contains(entry->description, "Forecast: somebody");
	assert_cautions(ret);
}

static void
a_job_without_a_window_says_why_and_what_would_help(void **state)
{
	(void)state;
	struct world world;
	begin_world(&world, 3, 4);
	/* too warm for the one product only, until the evening of the 5th */
	fill(&world.series, MEASURE_AIR_TEMPERATURE, 25);
	world.limits.now = local_2026(3, 3, 23, 59);
	judge_world(&world);
	struct composed composed;
	compose_nothing(&world, PLAN_NO_WINDOW, "", &composed);
	assert_entry(&composed, "job-7-none", "NO-WINDOW", ENTRY_TENTATIVE);
	assert_begins(composed.entry.summary, "NO WINDOW: ");
	assert_contains(composed.entry.summary, "22 °C");
	assert_contains(composed.entry.description, "Without post-a");
	/* the day that it is on the site: 2026-03-03 is day 20515 */
	assert_int_equal(composed.entry.from, 20515);
	composed_release(&composed);
	end_world(&world);
}

static void
the_days_of_a_job_may_be_over(void **state)
{
	(void)state;
	struct world world;
	begin_world(&world, 3, 4);
	world.limits.before = world.series.start;
	judge_world(&world);
	struct composed composed;
	compose_nothing(&world, PLAN_NO_WINDOW, "", &composed);
	const char *summary = composed.entry.summary;
	assert_begins(summary, "NO WINDOW: ");
	/* a reason stands there, not an empty place for one */
	assert_int_not_equal(summary[strlen(summary) - 1], ' ');
	composed_release(&composed);
	end_world(&world);
}

static void
other_jobs_may_have_the_hours(void **state)
{
	(void)state;
	struct world world;
	begin_world(&world, 3, 4);
	judge_world(&world);
	struct composed composed;
	compose_nothing(&world, PLAN_TAKEN, "", &composed);
	assert_begins(composed.entry.summary, "NO WINDOW: ");
	assert_contains(composed.entry.summary, "other jobs");
	composed_release(&composed);
	end_world(&world);
}

static void
a_site_without_a_forecast_is_unknown(void **state)
{
	(void)state;
	struct world world;
	begin_world(&world, 3, 4);
	judge_world(&world);
	struct composed composed;
	compose_nothing(
	    &world, PLAN_NO_WINDOW, "the forecast is 30 h old", &composed);
	assert_entry(&composed, "job-7-none", "UNKNOWN", ENTRY_TENTATIVE);
	assert_begins(composed.entry.summary, "UNKNOWN: ");
	assert_contains(composed.entry.summary, "the forecast is 30 h old");
	composed_release(&composed);
	end_world(&world);
}

static void
a_notice_rings_at_its_time(void **state)
{
	(void)state;
	struct composed first, second;
	int64_t at = local_2026(3, 4, 7, 0);
	compose_notice("job-7-move-1", at, "MOVED: front, dye: Tue to Wed",
	    "Why: rain.\n", NULL, &first);
	compose_notice("job-7-move-1", at, "MOVED: front, dye: Tue to Wed",
	    "Why: rain.\n", NULL, &second);
	assert_entry(&first, "job-7-move-1", "MOVED", ENTRY_CONFIRMED);
	assert_string_equal(
	    first.entry.summary, "MOVED: front, dye: Tue to Wed");
	assert_begins(first.entry.description, "Why: rain.\n");
	assert_int_equal(first.entry.from, at);
	assert_int_equal(first.entry.alarm_count, 1);
	assert_int_equal(first.entry.alarm[0].before, 0);
	assert_string_equal(
	    first.entry.alarm[0].text, "MOVED: front, dye: Tue to Wed");
	assert_false(first.entry.has_place);
	assert_true(entry_hash(&first.entry) == entry_hash(&second.entry));
	assert_cautions(&first);
	composed_release(&first);
	composed_release(&second);
}

/* Whatever was composed goes onto the wire. */
static void
every_entry_can_be_written(void **state)
{
	(void)state;
	struct world world;
	begin_world(&world, 3, 4);
	judge_world(&world);
	struct composed all[3];
	compose_slot(&world.judgement, &world.facts, &world.style, &all[0]);
	compose_keep_off(
	    "job-7", &world.site, "dye", world.limits.now, 60, &all[1]);
	compose_nothing(&world, PLAN_TAKEN, "", &all[2]);
	struct entry entries[COUNT(all)];
	for (size_t i = 0; i < COUNT(all); i++)
		entries[i] = all[i].entry;
	struct calendar_head head = { "Spray windows", NULL, 3600, 1 };
	struct text text;
	struct error error = { 0 };
	text_init(&text, 100000);
	if (!calendar_write(&head, entries, COUNT(all), &text, &error))
		fail_msg("%s", error.text);
	assert_contains(
	    text_string(&text), "SUMMARY:GO: front\\, post-a + dye");
	assert_contains(text_string(&text), "SUMMARY:KEEP OFF");
	text_release(&text);
	for (size_t i = 0; i < COUNT(all); i++)
		composed_release(&all[i]);
	end_world(&world);
	calendar_finish();
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(
		    alarms_ring_the_evening_before_and_an_hour_before),
		cmocka_unit_test(no_alarm_rings_before_the_slot_was_chosen),
		cmocka_unit_test(a_keep_off_period_begins_when_it_was_sprayed),
		cmocka_unit_test(
		    a_job_without_a_window_says_why_and_what_would_help),
		cmocka_unit_test(the_days_of_a_job_may_be_over),
		cmocka_unit_test(other_jobs_may_have_the_hours),
		cmocka_unit_test(a_site_without_a_forecast_is_unknown),
		cmocka_unit_test(a_notice_rings_at_its_time),
		cmocka_unit_test(every_entry_can_be_written),
	};
	return RUN_TESTS(tests);
}
