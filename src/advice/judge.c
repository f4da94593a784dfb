#include "advice/judge.h"

#include "base/memory.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

const char *
verdict_word(enum verdict verdict)
{
	static const char *const word[] = { "go", "no-go", "unknown" };
	return word[verdict];
}

/* Under a tenth lie the litres and grams on a square metre. */
static double
grain_of(double limit)
{
	double size = fabs(limit);
	bool is_dose = size > 0 && size < 0.1;
	return JUDGE_GRAIN * (is_dose ? size : fmax(1.0, size));
}

/*
 * The first value on the wrong side: a ceiling is broken from it upwards, a
 * floor from it downwards. The grain keeps "at most 85" open and "below 85"
 * closed for a value of 85, however it was rounded.
 */
static float
first_broken(enum bound bound, double limit)
{
	double grain = grain_of(limit);
	bool beyond = bound == BOUND_AT_MOST || bound == BOUND_ABOVE;
	return (float)(beyond ? limit + grain : limit - grain);
}

/* As floats, like the columns: one value has one verdict everywhere. */
bool
bound_holds(enum bound bound, double limit, double value)
{
	float edge = first_broken(bound, limit);
	return bound_is_ceiling(bound) ? (float)value < edge
				       : (float)value > edge;
}

enum { PLANE = 32, PASS = 4 }; /* rules in one word, rules in one pass */

/* One plane of the masks. */
struct masks {
	size_t count; /* starts */
	uint32_t *broken, *unknown;
};

/* A rule ready for the loops below. */
struct gauge {
	const float *near; /* broken when even this end of the band is out */
	const float *far;  /* unknown when only this end is out */
	const bool *gap;
	float edge;
	uint32_t bit;
};

/* Rules of one direction in one plane. */
struct gauges {
	size_t count;
	struct gauge gauge[PLANE];
};

/* 0 when the value is inside, else the bit. */
static inline uint32_t
bit_if_out(const struct gauge *gauge, bool ceiling, float value)
{
	bool inside = ceiling ? value < gauge->edge : value > gauge->edge;
	return inside ? 0 : gauge->bit;
}

/*
 * The loops over starts. Inlined for a direction and a length that the
 * compiler knows, they become vector code. Four rules share a pass: a start's
 * word is read and written once for all of them.
 */
static inline void
mark_broken(const struct gauge four[PASS], bool ceiling, size_t at,
    size_t count, uint32_t *restrict broken)
{
	const struct gauge a = four[0], b = four[1], c = four[2], d = four[3];
	const float *a_near = a.near + at, *b_near = b.near + at;
	const float *c_near = c.near + at, *d_near = d.near + at;
	broken += at;
	for (size_t i = 0; i < count; i++)
		broken[i] |= bit_if_out(&a, ceiling, a_near[i]) |
			     bit_if_out(&b, ceiling, b_near[i]) |
			     bit_if_out(&c, ceiling, c_near[i]) |
			     bit_if_out(&d, ceiling, d_near[i]);
}

/* Where there are gaps: out at the far end only is not known. */
static inline void
mark_unknown(const struct gauge *gauge, bool ceiling, size_t at, size_t count,
    uint32_t *restrict unknown)
{
	const struct gauge a = *gauge;
	const float *near = a.near + at, *far = a.far + at;
	unknown += at;
	for (size_t i = 0; i < count; i++)
		unknown[i] |= bit_if_out(&a, ceiling, far[i]) &
			      ~bit_if_out(&a, ceiling, near[i]);
}

/*
 * All tiles have one length: the last one is the last FOLD_TILE starts and may
 * overlap the one before, as marking a start twice changes nothing.
 */
static size_t
tile_at(size_t tile, size_t count)
{
	size_t at = tile * FOLD_TILE;
	return at + FOLD_TILE <= count ? at : count - FOLD_TILE;
}

/* A series that is shorter than one tile. */
static void
mark_short(const struct gauges *gauges, bool ceiling, const struct masks *masks)
{
	for (size_t r = 0; r < gauges->count; r += PASS)
		mark_broken(
		    &gauges->gauge[r], ceiling, 0, masks->count, masks->broken);
	for (size_t r = 0; r < gauges->count; r++)
		mark_unknown(&gauges->gauge[r], ceiling, 0, masks->count,
		    masks->unknown);
}

static void
mark_ceilings(
    const struct gauges *gauges, size_t tile, const struct masks *masks)
{
	size_t at = tile_at(tile, masks->count);
	for (size_t r = 0; r < gauges->count; r += PASS)
		mark_broken(
		    &gauges->gauge[r], true, at, FOLD_TILE, masks->broken);
	for (size_t r = 0; r < gauges->count; r++)
		if (gauges->gauge[r].gap[tile])
			mark_unknown(&gauges->gauge[r], true, at, FOLD_TILE,
			    masks->unknown);
}

static void
mark_floors(const struct gauges *gauges, size_t tile, const struct masks *masks)
{
	size_t at = tile_at(tile, masks->count);
	for (size_t r = 0; r < gauges->count; r += PASS)
		mark_broken(
		    &gauges->gauge[r], false, at, FOLD_TILE, masks->broken);
	for (size_t r = 0; r < gauges->count; r++)
		if (gauges->gauge[r].gap[tile])
			mark_unknown(&gauges->gauge[r], false, at, FOLD_TILE,
			    masks->unknown);
}

static void
add_gauge(struct gauges *gauges, const struct band *band,
    const struct rule *rule, uint32_t bit)
{
	bool ceiling = bound_is_ceiling(rule->bound);
	gauges->gauge[gauges->count++] =
	    (struct gauge){ .near = ceiling ? band->low : band->high,
		    .far = ceiling ? band->high : band->low,
		    .gap = band->gap,
		    .edge = first_broken(rule->bound, rule->limit),
		    .bit = bit };
}

/* Fills the last pass up with rules that have no bit. */
static void
fill_pass(struct gauges *gauges)
{
	for (size_t r = gauges->count; r % PASS != 0; r++) {
		gauges->gauge[r] = gauges->gauge[0];
		gauges->gauge[r].bit = 0;
	}
}

static void
make_room(struct verdicts *verdicts, size_t count, size_t rules)
{
	size_t planes = (rules + PLANE - 1) / PLANE;
	size_t words = planes * count;
	if (words > verdicts->planes * verdicts->count) {
		verdicts->broken = memory_resize(
		    verdicts->broken, words, sizeof *verdicts->broken);
		verdicts->unknown = memory_resize(
		    verdicts->unknown, words, sizeof *verdicts->unknown);
	}
	verdicts->count = count;
	verdicts->planes = planes;
	if (words > 0) {
		memset(verdicts->broken, 0, words * sizeof(uint32_t));
		memset(verdicts->unknown, 0, words * sizeof(uint32_t));
	}
}

static void
judge_plane(struct outlook *outlook, const struct check *checks, size_t count,
    int64_t duration, const struct masks *masks)
{
	struct gauges ceilings, floors;
	ceilings.count = 0;
	floors.count = 0;
	for (size_t r = 0; r < count; r++) {
		const struct rule *rule = &checks[r].rule;
		const struct band *band = outlook_fold(outlook,
		    checks[r].column, checks[r].continuous, rule->fold,
		    &rule->exposure, duration);
		add_gauge(bound_is_ceiling(rule->bound) ? &ceilings : &floors,
		    band, rule, (uint32_t)1 << r);
	}
	fill_pass(&ceilings);
	fill_pass(&floors);
	if (masks->count < FOLD_TILE) {
		mark_short(&ceilings, true, masks);
		mark_short(&floors, false, masks);
		return;
	}
	for (size_t tile = 0; tile * FOLD_TILE < masks->count; tile++) {
		mark_ceilings(&ceilings, tile, masks);
		mark_floors(&floors, tile, masks);
	}
}

void
judge(struct outlook *outlook, const struct check *checks, size_t count,
    int64_t duration, struct verdicts *ret)
{
	size_t starts = outlook->series->count;
	make_room(ret, starts, count);
	for (size_t plane = 0; plane < ret->planes; plane++) {
		size_t first = plane * PLANE, left = count - first;
		struct masks masks = { starts, ret->broken + plane * starts,
			ret->unknown + plane * starts };
		judge_plane(outlook, checks + first,
		    left < PLANE ? left : PLANE, duration, &masks);
	}
}

void
verdicts_release(struct verdicts *verdicts)
{
	if (verdicts == NULL)
		return;
	free(verdicts->broken);
	free(verdicts->unknown);
	*verdicts = (struct verdicts){ 0 };
}

enum verdict
verdict_at(const struct verdicts *verdicts, size_t start)
{
	uint32_t broken = 0, unknown = 0;
	for (size_t plane = 0; plane < verdicts->planes; plane++) {
		broken |= verdicts->broken[plane * verdicts->count + start];
		unknown |= verdicts->unknown[plane * verdicts->count + start];
	}
	return broken != 0    ? VERDICT_NO_GO
	       : unknown != 0 ? VERDICT_UNKNOWN
			      : VERDICT_GO;
}

bool
verdict_broken(const struct verdicts *verdicts, size_t start, size_t rule)
{
	uint32_t mask =
	    verdicts->broken[rule / PLANE * verdicts->count + start];
	return (mask >> rule % PLANE & 1) != 0;
}

bool
verdict_unknown(const struct verdicts *verdicts, size_t start, size_t rule)
{
	uint32_t mask =
	    verdicts->unknown[rule / PLANE * verdicts->count + start];
	return (mask >> rule % PLANE & 1) != 0;
}
