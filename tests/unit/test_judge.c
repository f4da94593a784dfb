/*
 * The bulk judge against a slow one that shares nothing with it but the
 * structs: it walks the seconds of each exposure cell by cell, and puts the
 * most and the least favourable value into every gap to learn what is known.
 */
#include "unit/test.h"

#include "advice/reason.h"
#include "unit/judge_world.h"

/* ---- the slow judge ---- */

#define NEVER INT64_MIN

/* The first pass of the horizon between two cells of the day, the earlier of
   which is on it; a gap before it hides it. */
static int64_t
sun_moment(const struct world *world, bool rises, int64_t day)
{
	const float *height = world->series.column[MEASURE_SUN_HEIGHT];
	for (size_t i = 0; height != NULL && i + 1 < world->series.count; i++) {
		int64_t t = series_time(&world->series, i);
		double a = (double)height[i] + 0.8333;
		double b = (double)height[i + 1] + 0.8333;
		if (civil_day(&world->zone, t) != day)
			continue;
		if (isnan(a + b))
			return NEVER;
		if ((a < 0) == rises && (b < 0) != rises)
			return t + (int64_t)round(900 * fabs(a) / fabs(b - a));
	}
	return NEVER;
}

/* NEVER: no such moment is known. */
static int64_t
moment_of(const struct world *world, const struct instant *instant, int64_t t)
{
	int64_t day = civil_day(&world->zone, t), sun;
	switch (instant->anchor) {
	case ANCHOR_START:
		return t + instant->seconds;
	case ANCHOR_END:
		return t + world->duration + instant->seconds;
	case ANCHOR_SUNRISE:
	case ANCHOR_SUNSET:
		sun = sun_moment(world, instant->anchor == ANCHOR_SUNRISE, day);
		return sun == NEVER ? NEVER : sun + instant->seconds;
	default:
		return civil_day_start(&world->zone, day + instant->seconds);
	}
}

static bool
slow_holds(enum bound bound, double limit, double value)
{
	bool equal = fabs(value - limit) < 1e-4 * fmax(1, fabs(limit));
	bool strict = bound == BOUND_BELOW || bound == BOUND_ABOVE;
	if (equal)
		return !strict;
	return bound == BOUND_AT_MOST || bound == BOUND_BELOW ? value < limit
							      : value > limit;
}

static double
slow_value(const struct world *world, const struct check *check, int64_t at,
    double guess)
{
	double value = NAN;
	if (check->column != NULL && at >= world->series.start &&
	    at < series_end(&world->series))
		value = (double)check->column[cell_of(&world->series, at)];
	return isnan(value) ? guess : value;
}

/*
 * The fold with `guess` in every gap; *ret_cells is the exposure's length, -1
 * when it has no place. An exposure that ends before it begins has no cells.
 */
static double
slow_fold(const struct world *world, const struct check *check, int64_t t,
    double guess, int *ret_cells)
{
	int64_t from = moment_of(world, &check->rule.exposure.from, t);
	int64_t to = moment_of(world, &check->rule.exposure.to, t);
	/* All dates here are after 1970, so division rounds down. */
	int64_t end = (to + SERIES_STEP - 1) / SERIES_STEP * SERIES_STEP;
	double most = -INFINITY, least = INFINITY, sum = 0;
	int cells = from == NEVER || to == NEVER ? -1 : 0;
	if (check->continuous)
		end += SERIES_STEP;
	if (cells < 0 || to < from)
		end = INT64_MIN;
	for (int64_t at = from / SERIES_STEP * SERIES_STEP; at < end;
	     at += SERIES_STEP) {
		double value = slow_value(world, check, at, guess);
		most = fmax(most, value);
		least = fmin(least, value);
		sum += value;
		cells++;
	}
	*ret_cells = cells;
	if (cells == 0 && check->rule.fold == FOLD_ANY)
		most = 0;
	return check->rule.fold == FOLD_MIN    ? least
	       : check->rule.fold == FOLD_SUM  ? sum
	       : check->rule.fold == FOLD_MEAN ? sum / cells
					       : most;
}

static enum verdict
slow_verdict(const struct world *world, const struct check *check, int64_t t)
{
	bool any = check->rule.fold == FOLD_ANY;
	int cells;
	double low = slow_fold(world, check, t, any ? 0 : -1e30, &cells);
	double high = slow_fold(world, check, t, any ? 1 : 1e30, &cells);
	bool low_holds = slow_holds(check->rule.bound, check->rule.limit, low);
	bool high_holds =
	    slow_holds(check->rule.bound, check->rule.limit, high);
	bool no_mean = cells == 0 && check->rule.fold == FOLD_MEAN;
	if (cells < 0 || no_mean || low_holds != high_holds)
		return VERDICT_UNKNOWN;
	return low_holds ? VERDICT_GO : VERDICT_NO_GO;
}

/* ---- comparisons ---- */

static enum verdict
bulk_verdict(const struct world *world, size_t start, size_t r)
{
	bool broken = verdict_broken(&world->verdicts, start, r);
	bool unknown = verdict_unknown(&world->verdicts, start, r);
	assert_false(broken && unknown);
	return broken ? VERDICT_NO_GO : unknown ? VERDICT_UNKNOWN : VERDICT_GO;
}

static void
check_reason(
    const struct world *world, size_t start, size_t r, enum verdict wanted)
{
	const struct check *check = &world->check[r];
	struct reason reason;
	reason_make(&world->outlook, check, world->duration, start, &reason);
	assert_ptr_equal(reason.rule, &check->rule);
	assert_int_equal(reason.verdict, wanted);
	if (wanted == VERDICT_UNKNOWN) {
		assert_nan(reason.value);
		assert_nan(reason.margin);
		return;
	}
	int cells;
	int64_t t = series_time(&world->series, start);
	double sign = wanted == VERDICT_GO ? 1 : -1;
	bool floor = !bound_is_ceiling(check->rule.bound);
	if (check->rule.fold == FOLD_ANY && floor)
		return; /* the margin tells how long it is clear */
	if (!(sign * reason.margin > -4e-4))
		fail_msg("%s with margin %g (measure %d, exposure %d%+d to "
			 "%d%+d)",
		    verdict_word(wanted), reason.margin,
		    (int)check->rule.measure,
		    (int)check->rule.exposure.from.anchor,
		    check->rule.exposure.from.seconds,
		    (int)check->rule.exposure.to.anchor,
		    check->rule.exposure.to.seconds);
	if (check->rule.fold == FOLD_SUM || check->rule.fold == FOLD_MEAN)
		assert_close(reason.value,
		    slow_fold(world, check, t, NAN, &cells), 1e-9);
	assert_true(reason.at >= world->series.start);
	assert_true(reason.at < series_end(&world->series));
}

static void
check_start(const struct world *world, size_t start)
{
	int64_t t = series_time(&world->series, start);
	bool broken = false, unknown = false;
	for (size_t r = 0; r < world->count; r++) {
		const struct rule *rule = &world->check[r].rule;
		enum verdict wanted = slow_verdict(world, &world->check[r], t);
		enum verdict got = bulk_verdict(world, start, r);
		if (wanted != got)
			fail_msg("start %zu of %zu: measure %d fold %d, "
				 "exposure %d%+d to %d%+d, bound %d limit %g, "
				 "duration %d: %s, wanted %s",
			    start, world->series.count, (int)rule->measure,
			    (int)rule->fold, (int)rule->exposure.from.anchor,
			    rule->exposure.from.seconds,
			    (int)rule->exposure.to.anchor,
			    rule->exposure.to.seconds, (int)rule->bound,
			    rule->limit, (int)world->duration,
			    verdict_word(got), verdict_word(wanted));
		check_reason(world, start, r, wanted);
		broken = broken || got == VERDICT_NO_GO;
		unknown = unknown || got == VERDICT_UNKNOWN;
	}
	assert_int_equal(
	    verdict_at(&world->verdicts, start), broken    ? VERDICT_NO_GO
						 : unknown ? VERDICT_UNKNOWN
							   : VERDICT_GO);
}

static void
agrees_with_a_slow_judge_and_with_the_reasons(void **state)
{
	(void)state;
	uint64_t seed = 21;
	for (int n = 0; n < rounds(SETS); n++) {
		struct world world;
		draw_world(&world, &seed);
		judge_world(&world);
		assert_int_equal(world.verdicts.count, world.series.count);
		for (size_t i = 0; i < world.series.count; i++)
			check_start(&world, i);
		release_world(&world);
	}
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(agrees_with_a_slow_judge_and_with_the_reasons),
	};
	return RUN_TESTS(tests);
}
