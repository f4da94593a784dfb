#include "unit/test.h"

#include "advice/fold.h"
#include "unit/heart.h"

enum { LONGEST = 400, COLUMNS = 3000, FOLDS = 5 };

static const enum fold every_fold[FOLDS] = { FOLD_MAX, FOLD_MIN, FOLD_SUM,
	FOLD_MEAN, FOLD_ANY };

/* Eighths, so that sums are exact in any order. */
static float
draw_cell(uint64_t *seed, int gaps)
{
	if (gaps > 0 && draw_once_in(seed, gaps))
		return NAN;
	return (float)draw_from(seed, -400, 400) / 8.0F;
}

static size_t
draw_column(uint64_t *seed, float column[LONGEST])
{
	static const int gap_rates[] = { 0, 0, 100, 10, 2, 1 };
	size_t count = (size_t)draw_from(seed, 0, LONGEST);
	int gaps = gap_rates[draw_from(seed, 0, 5)];
	bool infinite = draw_once_in(seed, 5);
	for (size_t i = 0; i < count; i++) {
		column[i] = draw_cell(seed, gaps);
		if (infinite && draw_once_in(seed, 30))
			column[i] =
			    draw_once_in(seed, 2) ? INFINITY : -INFINITY;
	}
	return count;
}

struct span {
	ptrdiff_t from, to;
};

static struct span
span_of(const struct fold_ranges *ranges, size_t i)
{
	if (ranges->from_cell != NULL)
		return (
		    struct span){ ranges->from_cell[i], ranges->to_cell[i] };
	return (struct span){ (ptrdiff_t)i + ranges->from,
		(ptrdiff_t)i + ranges->to };
}

/* What a walk over the range sees. */
struct walk {
	size_t known, gaps, infinite;
	double most, least, sum;
};

static struct walk
walk_over(const float *column, size_t count, struct span span)
{
	struct walk walk = { .most = -INFINITY, .least = INFINITY };
	for (ptrdiff_t at = span.from; at < span.to; at++) {
		bool outside = at < 0 || at >= (ptrdiff_t)count;
		double value = outside ? NAN : (double)column[at];
		if (isnan(value)) {
			walk.gaps++;
			continue;
		}
		walk.known++;
		walk.infinite += isinf(value) ? 1 : 0;
		walk.most = value > walk.most ? value : walk.most;
		walk.least = value < walk.least ? value : walk.least;
		walk.sum += isinf(value) ? 0 : value;
	}
	return walk;
}

/* Nothing is the highest, the lowest, a 1 or a part of a sum. */
static void
expect_nothing(enum fold fold, double *ret_low, double *ret_high)
{
	bool adds = fold == FOLD_SUM || fold == FOLD_ANY;
	if (adds || fold == FOLD_MIN)
		*ret_low = adds ? 0 : INFINITY;
	if (adds || fold == FOLD_MAX)
		*ret_high = adds ? 0 : -INFINITY;
}

static void
expect(
    const struct walk *walk, enum fold fold, double *ret_low, double *ret_high)
{
	bool sums = fold == FOLD_SUM || fold == FOLD_MEAN;
	double cells = (double)(walk->known + walk->gaps);
	*ret_low = -INFINITY;
	*ret_high = INFINITY;
	if (cells == 0) {
		expect_nothing(fold, ret_low, ret_high);
		return;
	}
	if (sums && walk->gaps + walk->infinite > 0)
		return;
	if (sums) {
		*ret_low =
		    (double)(float)(fold == FOLD_SUM ? walk->sum
						     : walk->sum / cells);
		*ret_high = *ret_low;
	} else if (fold == FOLD_MIN) {
		*ret_high = walk->least;
		*ret_low = walk->gaps == 0 ? walk->least : -INFINITY;
	} else {
		*ret_low = walk->most;
		*ret_high = walk->gaps == 0 ? walk->most : INFINITY;
	}
}

static void
check_band(const float *column, const struct band *band, enum fold fold,
    const struct fold_ranges *ranges)
{
	bool gap = false;
	for (size_t i = 0; i < band->count; i++) {
		struct span span = span_of(ranges, i);
		struct walk walk = walk_over(column, band->count, span);
		double low, high;
		expect(&walk, fold, &low, &high);
		if ((double)band->low[i] != low ||
		    (double)band->high[i] != high)
			fail_msg("fold %d of [%td, %td) of %zu: [%g, %g], "
				 "wanted [%g, %g]",
			    (int)fold, span.from, span.to, band->count,
			    (double)band->low[i], (double)band->high[i], low,
			    high);
		gap = gap || low != high;
		bool tile_ends =
		    (i + 1) % FOLD_TILE == 0 || i + 1 == band->count;
		if (tile_ends) {
			assert_int_equal(band->gap[i / FOLD_TILE], gap);
			gap = false;
		}
	}
}

static void
check_folds(struct fold_table *table, const struct fold_ranges *ranges)
{
	for (size_t f = 0; f < FOLDS; f++) {
		struct band band;
		fold_band(table, every_fold[f], ranges, &band);
		assert_int_equal(band.count, table->count);
		check_band(table->column, &band, every_fold[f], ranges);
	}
}

/* Inside, partly or wholly outside the column, now and then empty. */
static struct fold_ranges
draw_fixed(uint64_t *seed)
{
	int reach = draw_once_in(seed, 2) ? 20 : 450;
	int from = draw_from(seed, -reach, reach);
	return (struct fold_ranges){ .from = from,
		.to = from + draw_from(seed, -2, reach) };
}

static void
agrees_with_a_walk_over_fixed_ranges(void **state)
{
	(void)state;
	uint64_t seed = 11;
	float column[LONGEST];
	for (int n = 0; n < rounds(COLUMNS); n++) {
		size_t count = draw_column(&seed, column);
		struct fold_table table;
		struct pool pool = { 0 };
		fold_table_init(&table, &pool, column, count);
		/* Several on one table: its ladders grow as they are asked. */
		for (int k = draw_from(&seed, 1, 3); k > 0; k--) {
			struct fold_ranges ranges = draw_fixed(&seed);
			check_folds(&table, &ranges);
		}
		pool_release(&pool);
	}
}

static void
agrees_with_a_walk_over_ranges_from_tables(void **state)
{
	(void)state;
	uint64_t seed = 12;
	float column[LONGEST];
	int32_t from[LONGEST], to[LONGEST];
	for (int n = 0; n < rounds(COLUMNS); n++) {
		size_t count = draw_column(&seed, column);
		int run = draw_from(&seed, 1, 100);
		for (size_t i = 0; i < count; i++) {
			bool new_run = i == 0 || draw_once_in(&seed, run);
			from[i] =
			    new_run ? draw_from(&seed, -60, 460) : from[i - 1];
			to[i] = new_run ? from[i] + draw_from(&seed, -5, 120)
					: to[i - 1];
		}
		struct fold_ranges ranges = { .from_cell = from,
			.to_cell = to };
		struct fold_table table;
		struct pool pool = { 0 };
		fold_table_init(&table, &pool, column, count);
		check_folds(&table, &ranges);
		pool_release(&pool);
	}
}

/* A 21 day exposure against a short forecast, and far longer ones. */
static void
copes_with_ranges_far_longer_than_the_column(void **state)
{
	(void)state;
	static const struct fold_ranges ranges[] = { { .from = 0, .to = 2016 },
		{ .from = -2016, .to = 0 }, { .from = -9000, .to = 9000 },
		{ .from = -200000, .to = 200000 },
		{ .from = 70000, .to = 140000 },
		{ .from = -140000, .to = -70000 } };
	uint64_t seed = 13;
	float column[100];
	for (size_t i = 0; i < 100; i++)
		column[i] = draw_cell(&seed, i < 50 ? 0 : 10);
	for (size_t r = 0; r < sizeof ranges / sizeof ranges[0]; r++)
		for (size_t count = 0; count <= 100; count += 50) {
			struct fold_table table;
			struct pool pool = { 0 };
			fold_table_init(&table, &pool, column, count);
			check_folds(&table, &ranges[r]);
			pool_release(&pool);
		}
}

/* Neither a gap nor the end of the column matters to a range without cells. */
static void
nothing_is_known_to_hold_nothing(void **state)
{
	(void)state;
	static const double wanted[FOLDS] = { -INFINITY, INFINITY, 0, NAN, 0 };
	const float column[] = { NAN, 5, 7 };
	const int32_t from[] = { 2, -7, 0 }, to[] = { 1, -7, -1 };
	const struct fold_ranges ranges[] = { { .from = 2, .to = 1 },
		{ .from = 0, .to = 0 }, { .from_cell = from, .to_cell = to } };
	for (size_t n = 0; n < (size_t)3 * FOLDS; n++) {
		enum fold fold = every_fold[n / 3];
		struct fold_table table;
		struct pool pool = { 0 };
		struct band band;
		fold_table_init(&table, &pool, column, 3);
		fold_band(&table, fold, &ranges[n % 3], &band);
		for (size_t i = 0; i < 3; i++) {
			double value = wanted[n / 3];
			bool mean = isnan(value);
			assert_true(
			    (double)band.low[i] == (mean ? -INFINITY : value));
			assert_true(
			    (double)band.high[i] == (mean ? INFINITY : value));
			assert_int_equal(band.gap[0], mean);
		}
		if (fold == FOLD_MEAN)
			assert_nan(fold_of_nothing(fold));
		else
			assert_true(fold_of_nothing(fold) == wanted[n / 3]);
		pool_release(&pool);
	}
}

/* "Over 85" can be known from the hours at hand; "at most 85" cannot. */
static void
a_gap_widens_only_the_side_it_could_move(void **state)
{
	(void)state;
	const float column[] = { 20, NAN, 30, 25 };
	const struct fold_ranges three = { .from = 0, .to = 3 };
	struct fold_table table;
	struct pool pool = { 0 };
	struct band most, least, sum;
	fold_table_init(&table, &pool, column, 4);
	fold_band(&table, FOLD_MAX, &three, &most);
	fold_band(&table, FOLD_MIN, &three, &least);
	fold_band(&table, FOLD_SUM, &three, &sum);
	assert_true(most.low[0] == 30 && isinf(most.high[0]));
	assert_true(isinf(least.low[0]) && least.high[0] == 20);
	assert_true(isinf(sum.low[0]) && isinf(sum.high[0]));
	assert_true(most.gap[0] && least.gap[0] && sum.gap[0]);
	pool_release(&pool);
}

static void
an_infinity_does_not_spoil_the_sums_behind_it(void **state)
{
	(void)state;
	const float column[] = { INFINITY, 1, 2, 4 };
	const struct fold_ranges two = { .from = 0, .to = 2 };
	struct fold_table table;
	struct pool pool = { 0 };
	struct band sum;
	fold_table_init(&table, &pool, column, 4);
	fold_band(&table, FOLD_SUM, &two, &sum);
	assert_true(isinf(sum.low[0]) && isinf(sum.high[0]));
	assert_true(sum.low[1] == 3 && sum.high[1] == 3);
	assert_true(sum.low[2] == 6 && sum.high[2] == 6);
	pool_release(&pool);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(agrees_with_a_walk_over_fixed_ranges),
		cmocka_unit_test(agrees_with_a_walk_over_ranges_from_tables),
		cmocka_unit_test(copes_with_ranges_far_longer_than_the_column),
		cmocka_unit_test(nothing_is_known_to_hold_nothing),
		cmocka_unit_test(a_gap_widens_only_the_side_it_could_move),
		cmocka_unit_test(an_infinity_does_not_spoil_the_sums_behind_it),
	};
	return RUN_TESTS(tests);
}
