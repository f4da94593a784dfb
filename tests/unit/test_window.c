#include "unit/test.h"

#include "advice/derive.h"
#include "advice/window.h"
#include "physics/sun.h"
#include "unit/heart.h"

enum { CHECKS_MAX = 4 };

/* A series, its rules, and the windows found in it. */
struct view {
	struct zone zone;
	struct series series;
	struct outlook outlook;
	struct check check[CHECKS_MAX];
	size_t check_count;
	struct verdicts verdicts;
	struct window_limits limits;
	struct window *windows;
	size_t count;
};

static void
view_init(struct view *view, int64_t from, int64_t to)
{
	*view = (struct view){ .zone = chicago(),
		.limits = { .now = from,
		    .after = INT64_MIN,
		    .before = INT64_MAX,
		    .duration = 1800 } };
	series_init(&view->series, from, to);
}

static void
view_add(struct view *view, struct rule rule)
{
	assert_true(view->check_count < CHECKS_MAX);
	view->check[view->check_count++] = check_of(&view->series, rule);
}

static void
view_find(struct view *view)
{
	free(view->windows);
	outlook_release(&view->outlook);
	outlook_init(&view->outlook, &view->series, &view->zone);
	judge(&view->outlook, view->check, view->check_count,
	    view->limits.duration, &view->verdicts);
	view->windows = windows_find(&view->outlook, view->check,
	    view->check_count, &view->verdicts, &view->limits, &view->count);
}

static void
view_release(struct view *view)
{
	free(view->windows);
	verdicts_release(&view->verdicts);
	outlook_release(&view->outlook);
	series_release(&view->series);
}

/* Wind of at most 4 m/s during the job. */
static void
view_add_calm(struct view *view)
{
	view_add(
	    view, rule_of(MEASURE_WIND, FOLD_MAX, during, BOUND_AT_MOST, 4));
}

/* Wind held at 2 from 02:00 to 04:00 and from 06:00 to 08:00, else 9. */
static int64_t
windy_day(struct view *view)
{
	int64_t midnight = local_2026(6, 10, 0, 0);
	view_init(view, midnight, midnight + DAY);
	fill(&view->series, MEASURE_WIND, 9);
	put(&view->series, MEASURE_WIND, midnight + 2 * HOUR,
	    midnight + 4 * HOUR, 2);
	put(&view->series, MEASURE_WIND, midnight + 6 * HOUR,
	    midnight + 8 * HOUR, 2);
	view_add_calm(view);
	return midnight;
}

static void
runs_of_open_starts_become_windows(void **state)
{
	(void)state;
	struct view view;
	int64_t midnight = windy_day(&view);
	view_find(&view);
	assert_int_equal(view.count, 2);
	for (size_t w = 0; w < 2; w++) {
		const struct window *window = &view.windows[w];
		int64_t from = midnight + (int64_t)(2 + 4 * w) * HOUR;
		assert_int_equal(window->first, from);
		assert_int_equal(window->opens, from);
		/* the job has to be over when the wind rises */
		assert_int_equal(window->last, from + 2 * HOUR - 1800);
		assert_int_equal(window->closes, from + 2 * HOUR);
		assert_int_equal(window->opened.cause, EDGE_RULES);
		assert_int_equal(window->closed.cause, EDGE_RULES);
		assert_int_equal(
		    window->opened.start, cell_of(&view.series, from) - 1);
		assert_int_equal(window->closed.start,
		    cell_of(&view.series, window->last) + 1);
	}
	view_release(&view);
}

static void
now_and_after_cut_the_beginning(void **state)
{
	(void)state;
	static const struct {
		int now, after; /* minutes after midnight; after 0: any time */
		int first;
		enum edge_cause cause;
	} cases[] = { { 60, 0, 120, EDGE_RULES }, { 120, 0, 120, EDGE_NOW },
		{ 150, 0, 150, EDGE_NOW },
		/* within a cell, between two open starts: at once */
		{ 157, 0, 157, EDGE_NOW }, { 60, 157, 157, EDGE_AFTER },
		{ 157, 160, 160, EDGE_AFTER }, { 160, 157, 160, EDGE_NOW },
		{ 60, 180, 180, EDGE_AFTER },
		/* within the closed cell beside: the held value decides */
		{ 112, 0, 120, EDGE_RULES }, { 60, 112, 120, EDGE_RULES },
		/* gone: the second window is the first one */
		{ 211, 0, 360, EDGE_RULES } };
	struct view view;
	int64_t midnight = windy_day(&view);
	for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
		view.limits.now = midnight + minutes(cases[i].now);
		view.limits.after = cases[i].after == 0
					? INT64_MIN
					: midnight + minutes(cases[i].after);
		view_find(&view);
		assert_in_range(view.count, 1, 2);
		assert_int_equal(
		    view.windows[0].first, midnight + minutes(cases[i].first));
		assert_int_equal(view.windows[0].opened.cause, cases[i].cause);
	}
	view_release(&view);
}

static void
the_deadline_cuts_the_end(void **state)
{
	(void)state;
	static const struct {
		int before, last; /* minutes after midnight */
		size_t count;
		enum edge_cause cause;
	} cases[] = { { 119, 0, 0, EDGE_NOW }, { 149, 0, 0, EDGE_NOW },
		{ 150, 120, 1, EDGE_BEFORE }, { 180, 150, 1, EDGE_BEFORE },
		{ 187, 157, 1, EDGE_BEFORE }, { 240, 210, 1, EDGE_BEFORE },
		{ 247, 210, 1, EDGE_RULES }, { 300, 210, 1, EDGE_RULES } };
	struct view view;
	int64_t midnight = windy_day(&view);
	for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
		view.limits.before = midnight + minutes(cases[i].before);
		view_find(&view);
		assert_int_equal(view.count, cases[i].count);
		if (view.count == 0)
			continue;
		assert_int_equal(
		    view.windows[0].last, midnight + minutes(cases[i].last));
		assert_int_equal(view.windows[0].closed.cause, cases[i].cause);
		assert_true(view.windows[0].closes <= view.limits.before);
	}
	view_release(&view);
}

/* With rules, the end of the forecast shows as rules that nobody can tell. */
static void
the_forecast_ends(void **state)
{
	(void)state;
	struct view view;
	int64_t midnight = windy_day(&view);
	view.check_count = 0;
	view_find(&view);
	assert_int_equal(view.count, 1);
	assert_int_equal(view.windows[0].closed.cause, EDGE_HORIZON);
	assert_int_equal(view.windows[0].last, midnight + DAY - SERIES_STEP);
	view.check_count = 1;
	view.check[0].rule.limit = 10;
	view_find(&view);
	assert_int_equal(view.count, 1);
	assert_int_equal(view.windows[0].closed.cause, EDGE_RULES);
	assert_int_equal(view.windows[0].last, midnight + DAY - 1800);
	assert_true(
	    verdict_unknown(&view.verdicts, view.windows[0].closed.start, 0));
	view_release(&view);
}

/* 1 K in each cell upwards from 20 degC, and down again after 4 h. */
static int64_t
warm_hours(struct view *view, bool continuous)
{
	int64_t start = local_2026(6, 10, 8, 0);
	view_init(view, start, start + 8 * HOUR);
	float *column = series_column(&view->series, MEASURE_AIR_TEMPERATURE);
	for (size_t i = 0; i < view->series.count; i++)
		column[i] = 20.0F + (float)(i < 16 ? i : 32 - i);
	view->series.continuous[MEASURE_AIR_TEMPERATURE] = continuous;
	view_add(view, rule_of(MEASURE_AIR_TEMPERATURE, FOLD_MAX, during,
			   BOUND_AT_MOST, 25.42));
	return start;
}

/*
 * A job of two cells that starts at cell i ends at i + 2: open up to i = 3.42,
 * which is 6 min 18 s after cell 3. It opens at 32 - 5.42 = 26.58 cells.
 */
static void
edges_of_a_continuous_measure_are_told_to_the_minute(void **state)
{
	(void)state;
	struct view view;
	int64_t start = warm_hours(&view, true);
	view_find(&view);
	assert_int_equal(view.count, 2);
	assert_int_equal(view.windows[0].last, start + cells(3) + minutes(6));
	assert_int_equal(view.windows[0].closes, view.windows[0].last + 1800);
	/* 26.58 cells are 6 min 18 s before cell 27: 6 min are sure */
	assert_int_equal(view.windows[1].first, start + cells(27) - minutes(6));
	view_release(&view);
}

/* Now lies in the closed cell beside: the later of now and the edge counts. */
static void
now_beside_a_refined_edge_gives_way_to_it(void **state)
{
	(void)state;
	struct view view;
	int64_t start = warm_hours(&view, true);
	int64_t edge = start + cells(27) - minutes(6);
	view.limits.now = edge - minutes(2);
	view_find(&view);
	assert_int_equal(view.windows[0].first, edge);
	assert_int_equal(view.windows[0].opened.cause, EDGE_RULES);
	assert_int_equal(view.windows[0].opened.start, 26);
	view.limits.now = edge + minutes(2);
	view_find(&view);
	assert_int_equal(view.windows[0].first, edge + minutes(2));
	assert_int_equal(view.windows[0].opened.cause, EDGE_NOW);
	view_release(&view);
}

static void
edges_of_a_held_measure_stay_on_the_cell(void **state)
{
	(void)state;
	struct view view;
	int64_t start = warm_hours(&view, false);
	view_find(&view);
	assert_int_equal(view.count, 2);
	assert_int_equal(view.windows[0].last, start + cells(4));
	assert_int_equal(view.windows[1].first, start + cells(27));
	view_release(&view);
}

/* Of two continuous rules the first to close binds; a held one stops it all. */
static void
the_tightest_of_the_binding_rules_sets_the_edge(void **state)
{
	(void)state;
	struct view view;
	int64_t start = warm_hours(&view, true);
	view_add(&view, rule_of(MEASURE_AIR_TEMPERATURE, FOLD_MAX, during,
			    BOUND_AT_MOST, 25.72));
	view_find(&view);
	assert_int_equal(view.windows[0].last, start + cells(3) + minutes(6));
	assert_int_equal(view.windows[1].first, start + cells(27) - minutes(6));
	fill(&view.series, MEASURE_WIND, 2);
	put(&view.series, MEASURE_WIND, start + cells(5) + 900,
	    start + cells(27), 9);
	view_add_calm(&view);
	view_find(&view);
	assert_int_equal(view.windows[0].last, start + cells(3) + minutes(6));
	put(&view.series, MEASURE_WIND, start + cells(5), start + cells(27), 9);
	view_find(&view);
	assert_int_equal(view.windows[0].last, start + cells(3));
	assert_int_equal(view.windows[1].first, start + cells(27));
	view_release(&view);
}

/* The high of a day jumps at midnight, however smooth the temperature is. */
static void
a_rule_about_the_day_changes_at_midnight_sharp(void **state)
{
	(void)state;
	struct view view;
	int64_t midnight = local_2026(6, 10, 0, 0);
	/* an hour more, for the instant at which the next day ends */
	view_init(&view, midnight - DAY, midnight + DAY + HOUR);
	fill(&view.series, MEASURE_AIR_TEMPERATURE, 22);
	put(&view.series, MEASURE_AIR_TEMPERATURE, midnight - DAY,
	    midnight - HOUR, 30);
	view.series.continuous[MEASURE_AIR_TEMPERATURE] = true;
	view_add(&view, rule_of(MEASURE_AIR_TEMPERATURE, FOLD_MAX, that_day,
			    BOUND_AT_MOST, 25));
	view_find(&view);
	assert_int_equal(view.count, 1);
	assert_int_equal(view.windows[0].first, midnight);
	view_release(&view);
}

/*
 * 5, 9, 5, 5: from 00:00 the least within a quarter of an hour is 5, from 00:15
 * it is 5 at the end; from between them it is more than both.
 */
static void
a_least_under_its_ceiling_opens_on_a_cell_only(void **state)
{
	(void)state;
	static const float value[] = { 5, 9, 5, 5 };
	const struct exposure quarter = { { ANCHOR_START, 0 },
		{ ANCHOR_START, 900 } };
	struct view view;
	view_init(&view, 0, 4 * (int64_t)SERIES_STEP);
	memcpy(series_column(&view.series, MEASURE_AIR_TEMPERATURE), value,
	    sizeof value);
	view.series.continuous[MEASURE_AIR_TEMPERATURE] = true;
	view_add(&view, rule_of(MEASURE_AIR_TEMPERATURE, FOLD_MIN, quarter,
			    BOUND_AT_MOST, 6));
	view.limits.duration = 900;
	view.limits.now = 450;
	view_find(&view);
	assert_int_equal(view.count, 1);
	assert_int_equal(view.windows[0].first, SERIES_STEP);
	/* the most of a ceiling lies on the chord between two open starts */
	view.check[0].rule.fold = FOLD_MAX;
	view.check[0].rule.limit = 9;
	view_find(&view);
	assert_int_equal(view.windows[0].first, 450);
	view_release(&view);
}

/* The time until sunset is that of the day: it jumps at midnight. */
static void
no_edge_lies_on_the_way_from_one_day_to_the_next(void **state)
{
	(void)state;
	struct view view;
	int64_t midnight = local_2026(3, 11, 0, 0);
	view_init(&view, midnight - 2 * HOUR, midnight + 2 * HOUR);
	float *until = series_column(&view.series, MEASURE_UNTIL_SUNSET);
	for (size_t i = 0; i < view.series.count; i++)
		until[i] =
		    series_time(&view.series, i) < midnight ? -18000 : 68000;
	view.series.continuous[MEASURE_UNTIL_SUNSET] = true;
	view_add(&view, rule_of(MEASURE_UNTIL_SUNSET, FOLD_MIN, during,
			    BOUND_AT_LEAST, 7200));
	view_find(&view);
	assert_int_equal(view.count, 1);
	assert_int_equal(view.windows[0].first, midnight);
	view_release(&view);
}

/* Sun windows of one local day against physics/sun.h. */
static void
check_sun(const struct site *site, int64_t midnight, double *ret_late)
{
	struct view view;
	double rise = sun_rise(site->latitude, site->longitude,
	    (double)midnight, SUN_HEIGHT_HORIZON);
	double set = sun_set(site->latitude, site->longitude, (double)midnight,
	    SUN_HEIGHT_HORIZON);
	view_init(&view, midnight, midnight + DAY + 2 * HOUR);
	derive(&view.series, site, NULL);
	view_add(&view, rule_of(MEASURE_SUN_HEIGHT, FOLD_MIN, during,
			    BOUND_AT_LEAST, SUN_HEIGHT_HORIZON));
	view_find(&view);
	assert_int_equal(view.count, 1);
	double late = (double)view.windows[0].first - rise;
	double early = set - (double)view.windows[0].closes;
	/* to the 0.1 s that sun_rise itself is good for */
	if (late < -0.1 || early < -0.1)
		fail_msg("latitude %g: %.1f s after sunrise, %.1f s before "
			 "sunset",
		    site->latitude, late, early);
	*ret_late = fmax(*ret_late, fmax(late, early));
	view_release(&view);
}

static void
daylight_opens_within_a_minute_of_sunrise_and_never_before(void **state)
{
	(void)state;
	static const double latitudes[] = { 25, 29.5, 36, 42, 48 };
	struct site site = { .name = "front",
		.longitude = -98.5,
		.zone = chicago(),
		.rain_chance = 30,
		.told_holds = DAY };
	double late = 0;
	for (int day = 0; day < 365; day++)
		for (size_t k = 0; k < 5; k++) {
			site.latitude = latitudes[k];
			int64_t first =
			    civil_day(&site.zone, local_2026(1, 1, 12, 0));
			check_sun(&site,
			    civil_day_start(&site.zone, first + day), &late);
		}
	/* a minute, and the few seconds that a chord may be off a curve */
	assert_in_range((int)late, 30, 68);
}

static void
window_of_takes_both_ends(void **state)
{
	(void)state;
	struct view view;
	windy_day(&view);
	view_find(&view);
	const struct window *one = &view.windows[1];
	assert_int_equal(view.count, 2);
	assert_ptr_equal(window_of(view.windows, 2, one->first), one);
	assert_ptr_equal(window_of(view.windows, 2, one->last), one);
	assert_null(window_of(view.windows, 2, one->first - 1));
	assert_null(window_of(view.windows, 2, one->last + 1));
	view.check[0].rule.limit = 1;
	view_find(&view);
	assert_int_equal(view.count, 0);
	assert_null(window_of(view.windows, 0, view.limits.now));
	view_release(&view);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(runs_of_open_starts_become_windows),
		cmocka_unit_test(now_and_after_cut_the_beginning),
		cmocka_unit_test(the_deadline_cuts_the_end),
		cmocka_unit_test(the_forecast_ends),
		cmocka_unit_test(
		    edges_of_a_continuous_measure_are_told_to_the_minute),
		cmocka_unit_test(now_beside_a_refined_edge_gives_way_to_it),
		cmocka_unit_test(edges_of_a_held_measure_stay_on_the_cell),
		cmocka_unit_test(
		    the_tightest_of_the_binding_rules_sets_the_edge),
		cmocka_unit_test(
		    a_rule_about_the_day_changes_at_midnight_sharp),
		cmocka_unit_test(
		    no_edge_lies_on_the_way_from_one_day_to_the_next),
		cmocka_unit_test(
		    a_least_under_its_ceiling_opens_on_a_cell_only),
		cmocka_unit_test(
		    daylight_opens_within_a_minute_of_sunrise_and_never_before),
		cmocka_unit_test(window_of_takes_both_ends),
	};
	return RUN_TESTS(tests);
}
