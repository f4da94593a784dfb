#include "advice/lanes.h"

#include "advice/fold.h"

#include <math.h>

enum { TILE = FOLD_TILE };

/*
 * Where tile t begins. The last tile is the last TILE items and may overlap
 * the one before: doing an item twice changes nothing in these loops.
 */
static size_t
tile_at(size_t tile, size_t count)
{
	size_t at = tile * TILE;
	return at + TILE <= count ? at : count - TILE;
}

static inline bool
have_gap(const float *column, size_t count)
{
	unsigned gaps = 0;
	for (size_t i = 0; i < count; i++)
		gaps |= isnan(column[i]) ? 1 : 0;
	return gaps != 0;
}

bool
lanes_have_gap(const float *column, size_t count)
{
	if (count < TILE)
		return have_gap(column, count);
	for (size_t tile = 0; tile * TILE < count; tile++)
		if (have_gap(column + tile_at(tile, count), TILE))
			return true;
	return false;
}

static inline void
widen(const float *column, size_t count, float *restrict low,
    float *restrict high)
{
	for (size_t i = 0; i < count; i++) {
		low[i] = isnan(column[i]) ? -INFINITY : column[i];
		high[i] = isnan(column[i]) ? INFINITY : column[i];
	}
}

void
lanes_widen(const float *column, size_t count, float *low, float *high)
{
	if (count < TILE) {
		widen(column, count, low, high);
		return;
	}
	for (size_t tile = 0; tile * TILE < count; tile++) {
		size_t at = tile_at(tile, count);
		widen(column + at, TILE, low + at, high + at);
	}
}

static inline void
larger_of(const float *a, const float *b, size_t count, float *restrict ret)
{
	for (size_t i = 0; i < count; i++)
		ret[i] = a[i] > b[i] ? a[i] : b[i];
}

static inline void
smaller_of(const float *a, const float *b, size_t count, float *restrict ret)
{
	for (size_t i = 0; i < count; i++)
		ret[i] = a[i] < b[i] ? a[i] : b[i];
}

static void
join_short(const float *a, const float *b, size_t count, bool max, float *ret)
{
	if (max)
		larger_of(a, b, count, ret);
	else
		smaller_of(a, b, count, ret);
}

void
lanes_join(const float *a, const float *b, size_t count, bool max, float *ret)
{
	if (count < TILE) {
		join_short(a, b, count, max, ret);
		return;
	}
	for (size_t tile = 0; tile * TILE < count; tile++) {
		size_t at = tile_at(tile, count);
		if (max)
			larger_of(a + at, b + at, TILE, ret + at);
		else
			smaller_of(a + at, b + at, TILE, ret + at);
	}
}

static inline bool
differ(const float *a, const float *b, size_t count)
{
	unsigned differ = 0;
	for (size_t i = 0; i < count; i++)
		differ |= a[i] != b[i] ? 1 : 0;
	return differ != 0;
}

void
lanes_mark_gaps(const float *a, const float *b, size_t count, bool *gap)
{
	size_t at = 0;
	for (; at + TILE <= count; at += TILE)
		*gap++ |= differ(a + at, b + at, TILE);
	if (at < count)
		*gap |= differ(a + at, b + at, count - at);
}
