#include "advice/fold.h"

#include "advice/lanes.h"

#include <math.h>
#include <string.h>

static float *
make_floats(struct pool *pool, size_t count)
{
	return pool_room(pool, count, sizeof(float));
}

void
fold_table_init(struct fold_table *table, struct pool *pool,
    const float *column, size_t count)
{
	*table = (struct fold_table){ .pool = pool,
		.column = column,
		.count = count,
		.has_gaps = lanes_have_gap(column, count),
		.low = column,
		.high = column };
	if (!table->has_gaps)
		return;
	float *low = make_floats(pool, count), *high = make_floats(pool, count);
	lanes_widen(column, count, low, high);
	table->low = low;
	table->high = high;
}

static size_t
floor_log2(size_t value)
{
	size_t k = 0;
	while (value >> (k + 1) > 0)
		k++;
	return k;
}

/* Starts whose 2^k cells fit into the column. */
static size_t
fitting(size_t count, size_t k)
{
	size_t cells = (size_t)1 << k;
	return count >= cells ? count - cells + 1 : 0;
}

/* Adds the levels up to `top` that are not there yet. */
static void
build_ladder(struct fold_table *table, struct fold_ladder *ladder,
    const float *base, size_t top, bool max)
{
	ladder->level[0] = base;
	for (size_t k = 1; k <= top; k++) {
		if (ladder->level[k] != NULL)
			continue;
		const float *below = ladder->level[k - 1];
		size_t fits = fitting(table->count, k);
		float *level = make_floats(table->pool, fits);
		lanes_join(
		    below, below + ((size_t)1 << (k - 1)), fits, max, level);
		ladder->level[k] = level;
	}
}

/* The two ladders of one kind of extreme; the same one without gaps. */
struct ladders {
	struct fold_ladder *low, *high;
	bool max;
};

static struct ladders
build_ladders(struct fold_table *table, bool max, size_t top)
{
	struct ladders ladders = { max ? &table->max_low : &table->min_low,
		max ? &table->max_high : &table->min_high, max };
	build_ladder(table, ladders.low, table->low, top, max);
	if (table->has_gaps)
		build_ladder(table, ladders.high, table->high, top, max);
	else
		ladders.high = ladders.low;
	return ladders;
}

double
fold_of_nothing(enum fold fold)
{
	static const double value[] = { [FOLD_MAX] = -INFINITY,
		[FOLD_MIN] = INFINITY,
		[FOLD_SUM] = 0,
		[FOLD_MEAN] = NAN,
		[FOLD_ANY] = 0 };
	return value[fold];
}

/* The part of a range that lies in the column. */
struct stretch {
	size_t from, to;
	bool empty; /* the range holds nothing */
	bool whole; /* nothing was cut off, and it is not empty */
};

static size_t
clip(ptrdiff_t cell, size_t count)
{
	return cell < 0 ? 0 : (size_t)cell > count ? count : (size_t)cell;
}

static struct stretch
stretch_of(const struct fold_ranges *ranges, size_t i, size_t count)
{
	bool fixed = ranges->from_cell == NULL;
	ptrdiff_t from =
	    fixed ? (ptrdiff_t)i + ranges->from : ranges->from_cell[i];
	ptrdiff_t to = fixed ? (ptrdiff_t)i + ranges->to : ranges->to_cell[i];
	struct stretch stretch = { clip(from, count), clip(to, count),
		from >= to, from >= 0 && from < to && to <= (ptrdiff_t)count };
	if (stretch.to < stretch.from)
		stretch.to = stretch.from;
	return stretch;
}

static void
set_band(struct band *band, size_t i, float low, float high)
{
	band->low[i] = low;
	band->high[i] = high;
	band->gap[i / FOLD_TILE] |= low != high;
}

/* The starts [first, last) fold over nothing. */
static void
set_nothing(struct band *band, size_t first, size_t last, enum fold fold)
{
	float value = (float)fold_of_nothing(fold);
	bool known = !isnan(value);
	for (size_t i = first; i < last; i++)
		set_band(band, i, known ? value : -INFINITY,
		    known ? value : INFINITY);
}

/* `value` is the extreme of the known cells, and others are not known. */
static void
set_half_known(struct band *band, size_t i, bool max, float value)
{
	set_band(band, i, max ? value : -INFINITY, max ? INFINITY : value);
}

static float
further(bool max, float a, float b)
{
	return max ? (a > b ? a : b) : (a < b ? a : b);
}

/*
 * The starts [0, last) whose fixed range begins before the column: its known
 * part grows from the column's edge, cell by cell.
 */
static void
extremes_at_head(const struct fold_table *table, bool max,
    const struct fold_ranges *ranges, size_t last, struct band *ret)
{
	const float *base = max ? table->low : table->high;
	float value = max ? -INFINITY : INFINITY;
	size_t reach = 0;
	for (size_t i = 0; i < last; i++) {
		size_t to = clip((ptrdiff_t)i + ranges->to, table->count);
		for (; reach < to; reach++)
			value = further(max, base[reach], value);
		set_half_known(ret, i, max, value);
	}
}

/* The same for the starts from `first` on, whose range ends after it. */
static void
extremes_at_tail(const struct fold_table *table, bool max,
    const struct fold_ranges *ranges, size_t first, struct band *ret)
{
	const float *base = max ? table->low : table->high;
	float value = max ? -INFINITY : INFINITY;
	size_t reach = table->count;
	for (size_t i = table->count; i-- > first;) {
		size_t from = clip((ptrdiff_t)i + ranges->from, table->count);
		for (; reach > from; reach--)
			value = further(max, base[reach - 1], value);
		set_half_known(ret, i, max, value);
	}
}

/* Starts [first, last) whose fixed ranges lie whole in the column. */
static void
extremes_in_bulk(struct fold_table *table, bool max,
    const struct fold_ranges *ranges, size_t first, size_t last,
    struct band *ret)
{
	size_t span = (size_t)(ranges->to - ranges->from);
	size_t k = floor_log2(span), count = last - first;
	size_t at = (size_t)((ptrdiff_t)first + ranges->from);
	size_t other = at + span - ((size_t)1 << k);
	struct ladders ladders = build_ladders(table, max, k);
	const float *low = ladders.low->level[k];
	const float *high = ladders.high->level[k];
	lanes_join(low + at, low + other, count, max, ret->low + first);
	if (low == high) {
		memcpy(
		    ret->high + first, ret->low + first, count * sizeof(float));
		return;
	}
	lanes_join(high + at, high + other, count, max, ret->high + first);
	lanes_mark_gaps(ret->low, ret->high, ret->count, ret->gap);
}

static void
extremes_of_fixed(struct fold_table *table, bool max,
    const struct fold_ranges *ranges, struct band *ret)
{
	size_t count = table->count;
	size_t first = clip(-ranges->from, count);
	size_t last = clip((ptrdiff_t)count + 1 - ranges->to, count);
	extremes_at_head(table, max, ranges, first, ret);
	extremes_at_tail(table, max, ranges, last > first ? last : first, ret);
	if (first < last)
		extremes_in_bulk(table, max, ranges, first, last, ret);
}

/* Neighbours often share their range: all the starts of one day do. */
static size_t
run_end(const struct fold_ranges *ranges, size_t i, size_t count)
{
	int32_t from = ranges->from_cell[i], to = ranges->to_cell[i];
	do
		i++;
	while (i < count && ranges->from_cell[i] == from &&
	       ranges->to_cell[i] == to);
	return i;
}

static size_t
longest(const struct fold_ranges *ranges, size_t count)
{
	size_t most = 1;
	for (size_t i = 0; i < count; i = run_end(ranges, i, count)) {
		struct stretch stretch = stretch_of(ranges, i, count);
		if (stretch.to - stretch.from > most)
			most = stretch.to - stretch.from;
	}
	return most;
}

/* Extreme over [from, to), not empty, from two overlapping powers of two. */
static float
extreme(const struct fold_ladder *ladder, size_t from, size_t to, bool max)
{
	size_t k = floor_log2(to - from);
	return further(max, ladder->level[k][from],
	    ladder->level[k][to - ((size_t)1 << k)]);
}

/* The starts [first, last) share one stretch. */
static void
set_extremes(const struct ladders *ladders, const struct stretch *stretch,
    size_t first, size_t last, struct band *ret)
{
	bool max = ladders->max;
	float low = -INFINITY, high = INFINITY;
	size_t from = stretch->from, to = stretch->to;
	if (from < to && (stretch->whole || max))
		low = extreme(ladders->low, from, to, max);
	if (from < to && (stretch->whole || !max))
		high = extreme(ladders->high, from, to, max);
	for (size_t i = first; i < last; i++) {
		ret->low[i] = low;
		ret->high[i] = high;
	}
	for (size_t i = first; i < last; i += FOLD_TILE)
		ret->gap[i / FOLD_TILE] |= low != high;
	ret->gap[(last - 1) / FOLD_TILE] |= low != high;
}

static void
extremes_of_cells(struct fold_table *table, enum fold fold,
    const struct fold_ranges *ranges, struct band *ret)
{
	bool max = fold != FOLD_MIN;
	size_t count = table->count, last;
	struct ladders ladders =
	    build_ladders(table, max, floor_log2(longest(ranges, count)));
	for (size_t i = 0; i < count; i = last) {
		struct stretch stretch = stretch_of(ranges, i, count);
		last = run_end(ranges, i, count);
		if (stretch.empty)
			set_nothing(ret, i, last, fold);
		else
			set_extremes(&ladders, &stretch, i, last, ret);
	}
}

/* A sum over an infinity is not known: there is no way back from it. */
static void
build_sums(struct fold_table *table)
{
	if (table->sum != NULL)
		return;
	size_t count = table->count;
	table->sum = pool_room(table->pool, count + 1, sizeof *table->sum);
	table->gaps = pool_room(table->pool, count + 1, sizeof *table->gaps);
	table->sum[0] = 0;
	table->gaps[0] = 0;
	for (size_t i = 0; i < count; i++) {
		bool gap = !isfinite(table->column[i]);
		table->sum[i + 1] =
		    table->sum[i] + (gap ? 0 : (double)table->column[i]);
		table->gaps[i + 1] = table->gaps[i] + (gap ? 1U : 0U);
	}
}

static void
band_of_sums(struct fold_table *table, enum fold fold,
    const struct fold_ranges *ranges, struct band *ret)
{
	build_sums(table);
	for (size_t i = 0; i < table->count; i++) {
		struct stretch at = stretch_of(ranges, i, table->count);
		if (at.empty) {
			set_nothing(ret, i, i + 1, fold);
			continue;
		}
		if (!at.whole || table->gaps[at.to] != table->gaps[at.from]) {
			set_band(ret, i, -INFINITY, INFINITY);
			continue;
		}
		double sum = table->sum[at.to] - table->sum[at.from];
		double cells =
		    fold == FOLD_MEAN ? (double)(at.to - at.from) : 1;
		float value = (float)(sum / cells);
		set_band(ret, i, value, value);
	}
}

void
fold_band(struct fold_table *table, enum fold fold,
    const struct fold_ranges *ranges, struct band *ret)
{
	size_t count = table->count, tiles = count / FOLD_TILE + 1;
	*ret = (struct band){ .count = count,
		.low = make_floats(table->pool, count),
		.high = make_floats(table->pool, count),
		.gap = pool_room(table->pool, tiles, sizeof(bool)) };
	memset(ret->gap, 0, tiles * sizeof(bool));
	if (fold == FOLD_SUM || fold == FOLD_MEAN)
		band_of_sums(table, fold, ranges, ret);
	else if (ranges->from_cell != NULL)
		extremes_of_cells(table, fold, ranges, ret);
	else if (ranges->to <= ranges->from)
		set_nothing(ret, 0, count, fold);
	else
		extremes_of_fixed(table, fold != FOLD_MIN, ranges, ret);
}
