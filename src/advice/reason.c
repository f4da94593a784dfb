#include "advice/reason.h"

#include "advice/drift.h"

#include <math.h>

/* The cells of one exposure, clipped, and whether anything was cut off. */
struct stretch {
	const float *column; /* NULL: absent */
	size_t from, to;
	bool whole;
	bool empty; /* there was nothing to clip */
};

static struct stretch
stretch_of(const struct outlook *outlook, const struct check *check,
    int64_t duration, size_t start)
{
	ptrdiff_t from, to, count = (ptrdiff_t)outlook->series->count;
	outlook_cells(
	    outlook, &check->rule.exposure, duration, start, &from, &to);
	to += check->continuous ? 1 : 0;
	struct stretch stretch = { .column = check->column,
		.whole = check->column != NULL && from >= 0 && to <= count &&
			 from < to,
		.empty = from >= to };
	from = from < 0 ? 0 : from > count ? count : from;
	to = to < from ? from : to > count ? count : to;
	stretch.from = (size_t)from;
	stretch.to = check->column == NULL ? stretch.from : (size_t)to;
	return stretch;
}

struct folded {
	double value; /* over the known cells; NaN when nobody can tell */
	size_t at;    /* cell of the extreme; the first cell for sums */
	bool gap;
};

static bool
is_further(enum fold fold, double value, double than)
{
	return isnan(than) || (fold == FOLD_MIN ? value < than : value > than);
}

static struct folded
fold_stretch(const struct stretch *stretch, enum fold fold)
{
	bool adds = fold == FOLD_SUM || fold == FOLD_MEAN;
	struct folded folded = { NAN, stretch->from, !stretch->whole };
	if (stretch->empty) {
		folded.value = fold_of_nothing(fold);
		folded.gap = false;
		return folded;
	}
	double sum = 0;
	for (size_t i = stretch->from; i < stretch->to; i++) {
		double value = stretch->column[i];
		if (isnan(value)) {
			folded.gap = true;
			continue;
		}
		sum += value;
		folded.gap = folded.gap || (adds && isinf(value));
		if (adds || !is_further(fold, value, folded.value))
			continue;
		folded.value = value;
		folded.at = i;
	}
	if (adds && stretch->to > stretch->from)
		folded.value =
		    fold == FOLD_SUM
			? sum
			: sum / (double)(stretch->to - stretch->from);
	return folded;
}

/*
 * With a gap, the known cells decide only where the missing ones cannot undo
 * it: a maximum that is over its ceiling already, a minimum under its floor,
 * or the other way round for the rare "gets over" rules.
 */
static enum verdict
verdict_of(const struct rule *rule, const struct folded *folded)
{
	bool holds = bound_holds(rule->bound, rule->limit, folded->value);
	if (isnan(folded->value))
		return VERDICT_UNKNOWN;
	if (!folded->gap)
		return holds ? VERDICT_GO : VERDICT_NO_GO;
	if (rule->fold == FOLD_SUM || rule->fold == FOLD_MEAN)
		return VERDICT_UNKNOWN;
	bool grows = rule->fold != FOLD_MIN;
	bool settled = grows == bound_is_ceiling(rule->bound) ? !holds : holds;
	if (!settled)
		return VERDICT_UNKNOWN;
	return holds ? VERDICT_GO : VERDICT_NO_GO;
}

/*
 * How far away the nearest 1 is, as time beyond what the exposure asks: ahead
 * of it for an exposure that ends later than it begins from the job, behind
 * it for one that lies before the start.
 */
static double
clear_margin(const struct outlook *outlook, const struct check *check,
    int64_t duration, size_t start, size_t *ret_at)
{
	const struct exposure *exposure = &check->rule.exposure;
	const struct series *series = outlook->series;
	int64_t t = series_time(series, start);
	bool behind =
	    exposure->from.anchor == ANCHOR_START && exposure->from.seconds < 0;
	struct stretch stretch = stretch_of(outlook, check, duration, start);
	if (stretch.empty || stretch.column == NULL)
		return INFINITY;
	if (behind) {
		int64_t wanted = t + exposure->from.seconds;
		for (size_t i = stretch.to; i-- > 0;)
			if (stretch.column[i] >= 1) {
				*ret_at = i;
				return (double)(wanted -
						series_time(series, i + 1));
			}
		return INFINITY;
	}
	int64_t wanted = outlook_time(outlook, &exposure->to, duration, start);
	for (size_t i = stretch.from; i < series->count; i++)
		if (stretch.column[i] >= 1) {
			*ret_at = i;
			return (double)(series_time(series, i) - wanted);
		}
	return INFINITY;
}

static double
cell_value(const struct series *series, enum measure measure, size_t i)
{
	const float *column = series->column[measure];
	return column == NULL ? NAN : (double)column[i];
}

void
reason_make(const struct outlook *outlook, const struct check *check,
    int64_t duration, size_t start, struct reason *ret)
{
	const struct rule *rule = &check->rule;
	const struct series *series = outlook->series;
	struct stretch stretch = stretch_of(outlook, check, duration, start);
	struct folded folded = fold_stretch(&stretch, rule->fold);
	*ret = (struct reason){ .rule = rule,
		.verdict = verdict_of(rule, &folded),
		.value = folded.value,
		.margin = NAN,
		.at = INT64_MIN,
		.rain = NAN,
		.chance = NAN };
	if (ret->verdict == VERDICT_UNKNOWN) {
		ret->value = NAN;
		return;
	}
	size_t at = stretch.empty ? start : folded.at;
	if (rule->fold == FOLD_ANY && !isnan(folded.value)) {
		ret->margin =
		    clear_margin(outlook, check, duration, start, &at);
	} else {
		double sign = bound_is_ceiling(rule->bound) ? 1 : -1;
		ret->margin = sign * (rule->limit - folded.value);
	}
	ret->at = series_time(series, at);
	const struct sensitive_side *side =
	    check->site == NULL
		? NULL
		: drift_side(check->site,
		      cell_value(series, MEASURE_WIND_DIRECTION, at));
	ret->side = side == NULL ? NULL : side->what;
	if (rule->measure == MEASURE_WET && !stretch.empty) {
		ret->rain = cell_value(series, MEASURE_RAIN_BLOCK, at);
		ret->chance = cell_value(series, MEASURE_RAIN_CHANCE, at);
	}
}

/* Lower is better; the count of checks is worse than any. */
static int
rank(const struct check *check, bool broken)
{
	return (broken ? 0 : 3) + (int)check->rule.origin;
}

size_t
reason_leading(const struct check *checks, size_t count,
    const struct verdicts *verdicts, size_t start)
{
	size_t best = count;
	int best_rank = 0;
	for (size_t r = 0; r < count; r++) {
		bool broken = verdict_broken(verdicts, start, r);
		if (!broken && !verdict_unknown(verdicts, start, r))
			continue;
		int this_rank = rank(&checks[r], broken);
		if (best == count || this_rank < best_rank) {
			best = r;
			best_rank = this_rank;
		}
	}
	return best;
}

double
reason_tightness(const struct reason *reason)
{
	enum quantity_kind kind = measure_info(reason->rule->measure)->kind;
	if (isnan(reason->margin) || isinf(reason->margin))
		return INFINITY;
	if (reason->rule->measure == MEASURE_WET)
		return reason->margin / (6 * 3600.0);
	if (kind == QUANTITY_TEMPERATURE)
		return reason->margin / 5;
	if (kind == QUANTITY_TEMPERATURE_DIFFERENCE || kind == QUANTITY_SPEED)
		return reason->margin / 2;
	return INFINITY;
}
