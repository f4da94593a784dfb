#include "advice/window.h"

#include "base/memory.h"

#include <math.h>

struct search {
	struct outlook *outlook;
	const struct check *checks;
	size_t check_count;
	const struct verdicts *verdicts;
	const struct window_limits *limits;
};

/* Seconds by which an edge is drawn in, for what the chord does not tell. */
enum { CHORD_DOUBT = 1 };

/*
 * How far a curved measure may lie off the straight line between two cells: an
 * eighth of its second difference. The lesser of both sides, because a measure
 * that was interpolated bends at its instants and is straight between them.
 */
static double
sag(const struct band *band, size_t early)
{
	const float *value = band->low + early;
	double before = INFINITY, behind = INFINITY;
	if (early > 0)
		before = fabs((double)value[-1] - 2 * (double)value[0] +
			      (double)value[1]);
	if (early + 2 < band->count)
		behind = fabs(
		    (double)value[0] - 2 * (double)value[1] + (double)value[2]);
	double least = fmin(before, behind);
	return isfinite(least) ? least / 8 : 0;
}

/*
 * True when the chord between two starts is on the safe side of the fold. It
 * is not where an exposure jumps to the next day, nor for the least of a
 * ceiling or the most of a floor.
 */
static bool
runs(const struct check *check)
{
	const struct rule *rule = &check->rule;
	enum fold safe = bound_is_ceiling(rule->bound) ? FOLD_MAX : FOLD_MIN;
	/* these two jump at midnight */
	bool jumps = rule->measure == MEASURE_SINCE_SUNRISE ||
		     rule->measure == MEASURE_UNTIL_SUNSET;
	return check->continuous && rule->fold == safe && !jumps &&
	       outlook_slides(&rule->exposure);
}

/*
 * How far the check lets go before the open one of two neighbouring starts,
 * seconds; NAN when its value does not run from one to the other.
 */
static double
gain(const struct search *search, const struct check *check, size_t shut,
    size_t open)
{
	if (!runs(check))
		return NAN;
	const struct band *band =
	    outlook_fold(search->outlook, check->column, true, check->rule.fold,
		&check->rule.exposure, search->limits->duration);
	double a = band->low[shut], b = band->low[open];
	double share = (b - check->rule.limit) / (b - a);
	double doubt = sag(band, shut < open ? shut : open) / fabs(b - a);
	if (!(share >= 0 && share <= 1))
		return NAN;
	double seconds = (share - doubt) * SERIES_STEP - CHORD_DOUBT;
	return seconds > 0 ? seconds : 0;
}

/*
 * How far the edge lies from the open start into the closed cell, seconds:
 * the least that the binding rules allow, 0 when one of them does not run.
 */
static int64_t
reach(const struct search *search, size_t shut, size_t open)
{
	double most = SERIES_STEP;
	for (size_t r = 0; r < search->check_count; r++) {
		if (verdict_unknown(search->verdicts, shut, r))
			return 0;
		if (!verdict_broken(search->verdicts, shut, r))
			continue;
		double seconds = gain(search, &search->checks[r], shut, open);
		if (isnan(seconds))
			return 0;
		most = seconds < most ? seconds : most;
	}
	return (int64_t)(most / 60) * 60;
}

/* The first cell whose start is at `time` or later. */
static size_t
cell_from(const struct series *series, int64_t time)
{
	if (time <= series->start)
		return 0;
	int64_t cells = (time - series->start + SERIES_STEP - 1) / SERIES_STEP;
	return (uint64_t)cells > series->count ? series->count : (size_t)cells;
}

/* Starts [first, last) that the limits allow. */
static void
allowed_starts(const struct search *search, size_t *ret_first, size_t *ret_last)
{
	const struct window_limits *limits = search->limits;
	const struct series *series = search->outlook->series;
	int64_t from =
	    limits->now > limits->after ? limits->now : limits->after;
	*ret_first = cell_from(series, from);
	*ret_last = series->count;
	if (limits->before != INT64_MAX)
		*ret_last =
		    cell_from(series, limits->before - limits->duration + 1);
}

/* verdict_at for the one question that is asked of every start. */
static inline bool
is_open(const struct search *search, size_t start)
{
	const struct verdicts *verdicts = search->verdicts;
	uint32_t shut = 0;
	for (size_t plane = 0; plane < verdicts->planes; plane++) {
		size_t at = plane * verdicts->count + start;
		shut |= verdicts->broken[at] | verdicts->unknown[at];
	}
	return shut == 0;
}

/*
 * Between two open starts every moment is open, but for a rule that wants the
 * least of a running column under its limit, or the most over it: what holds at
 * both starts may lie outside of an exposure between them.
 */
static bool
is_open_between(const struct search *search)
{
	for (size_t r = 0; r < search->check_count; r++) {
		const struct check *check = &search->checks[r];
		enum fold fold =
		    bound_is_ceiling(check->rule.bound) ? FOLD_MIN : FOLD_MAX;
		if (check->continuous && check->rule.fold == fold &&
		    outlook_slides(&check->rule.exposure))
			return false;
	}
	return true;
}

/*
 * A bound seldom falls on a cell's start. Where every moment between two open
 * starts is open the window begins at the bound itself; beside a closed start
 * it begins where the rules let go, if that is later.
 */
static void
open_edge(const struct search *search, size_t first, size_t bottom,
    struct window *window)
{
	const struct window_limits *limits = search->limits;
	bool by_after = limits->after > limits->now;
	int64_t least = by_after ? limits->after : limits->now;
	int64_t start = series_time(search->outlook->series, first);
	bool inside = first > 0 && least < start && is_open_between(search);
	window->opened =
	    (struct window_edge){ by_after ? EDGE_AFTER : EDGE_NOW, first };
	window->first = inside ? least : start;
	if (first > bottom || (inside && !is_open(search, first - 1))) {
		int64_t edge = start - reach(search, first - 1, first);
		if (first > bottom || edge > least) {
			window->opened =
			    (struct window_edge){ EDGE_RULES, first - 1 };
			window->first = edge;
		}
	}
	window->opens = window->first;
}

static void
close_edge(
    const struct search *search, size_t last, size_t top, struct window *window)
{
	const struct window_limits *limits = search->limits;
	int64_t start = series_time(search->outlook->series, last);
	int64_t most = limits->before == INT64_MAX
			   ? start
			   : limits->before - limits->duration;
	bool inside = top < search->verdicts->count && most > start &&
		      is_open_between(search);
	window->closed = (struct window_edge){ EDGE_HORIZON, last };
	if (top < search->verdicts->count)
		window->closed.cause = EDGE_BEFORE;
	window->last = inside ? most : start;
	if (last + 1 < top || (inside && !is_open(search, last + 1))) {
		int64_t edge = start + reach(search, last + 1, last);
		if (last + 1 < top || edge < most) {
			window->closed =
			    (struct window_edge){ EDGE_RULES, last + 1 };
			window->last = edge;
		}
	}
	window->closes = window->last + limits->duration;
}

struct window *
windows_find(struct outlook *outlook, const struct check *checks,
    size_t check_count, const struct verdicts *verdicts,
    const struct window_limits *limits, size_t *ret_count)
{
	struct search search = { outlook, checks, check_count, verdicts,
		limits };
	size_t bottom, top, capacity = 0;
	allowed_starts(&search, &bottom, &top);
	struct window *found = NULL;
	*ret_count = 0;
	for (size_t i = bottom; i < top; i++) {
		if (!is_open(&search, i))
			continue;
		size_t last = i;
		while (last + 1 < top && is_open(&search, last + 1))
			last++;
		found =
		    memory_grow(found, *ret_count, &capacity, sizeof *found);
		struct window *window = &found[(*ret_count)++];
		open_edge(&search, i, bottom, window);
		close_edge(&search, last, top, window);
		i = last;
	}
	return found;
}

const struct window *
window_of(const struct window *windows, size_t count, int64_t start)
{
	for (size_t i = 0; i < count; i++)
		if (start >= windows[i].first && start <= windows[i].last)
			return &windows[i];
	return NULL;
}
