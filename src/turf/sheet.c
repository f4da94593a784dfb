#include "turf/sheet.h"

#include "base/civil.h"
#include "turf/calibration.h"
#include "turf/mix_order.h"

#include <math.h>
#include <string.h>

/* 1.5 of 2.5 gal: common practice, no source. */
#define FIRST_FILL 0.6

/* What is there to the last gram is enough, in spite of rounding. */
#define HAIR 1e-9

/* The newest one of the product that was made by then, keeps and holds so much;
   NULL. */
static const struct sheet_solution *
find_solution(
    const struct sheet_facts *facts, const char *product, double grams)
{
	const struct sheet_solution *found = NULL;
	for (size_t i = 0; i < facts->solution_count; i++) {
		const struct sheet_solution *one = &facts->solution[i];
		if (strcmp(one->product, product) == 0 &&
		    one->made <= facts->at && facts->at < one->until &&
		    one->left >= grams * (1 - HAIR) &&
		    (found == NULL || one->made >= found->made))
			found = one;
	}
	return found;
}

/* Out of the bottle, also where the scale could do the larger dose. */
static void
leave_scale(struct measured *dose)
{
	dose->tool = TOOL_STOCK;
	dose->told = dose->wanted;
	dose->off = NAN;
}

static void
draw_line(const struct sheet *sheet, struct sheet_line *line)
{
	line->is_drawn = true;
	leave_scale(&line->each);
	leave_scale(&line->last);
	line->make =
	    stock_solution_make(line->product, line->total, sheet->bench.scale);
	line->made =
	    find_solution(&sheet->facts, line->product->name, line->total);
	double strength =
	    line->made != NULL ? line->made->strength : line->make.strength;
	line->draw_each = measure_draw(
	    &sheet->bench, stock_solution_draw(line->each.wanted, strength));
	line->draw_last = measure_draw(
	    &sheet->bench, stock_solution_draw(line->last.wanted, strength));
	line->in_mix = stock_solution_draw(line->in_mix, strength);
}

static void
fill_line(const struct sheet *sheet, size_t place, struct sheet_line *line)
{
	static const struct sheet_stock no_stock = { false, NAN, NAN, NAN };
	const struct mix *mix = &sheet->mix;
	const struct bench *bench = &sheet->bench;
	const struct product *product = sheet->job->tank.dose[place].product;
	*line = (struct sheet_line){ .product = product,
		.place = place,
		.step = mix_step_of(product),
		.is_granule = mix_is_granule(product),
		.is_mass = mix->kind[place] == QUANTITY_MASS,
		.total = mix->total[place],
		.in_mix = mix->total[place] / mix->carrier,
		.stock = sheet->facts.stock != NULL ? sheet->facts.stock[place]
						    : no_stock };
	double each = mix->each.amount[place], last = mix->last.amount[place];
	if (!line->is_mass) {
		line->each = measure_volume(bench, each);
		line->last = measure_volume(bench, last);
		return;
	}
	line->each = measure_mass(bench, each, product->scoop);
	line->last = measure_mass(bench, last, product->scoop);
	if (!line->is_granule &&
	    (line->each.tool == TOOL_STOCK || line->last.tool == TOOL_STOCK))
		draw_line(sheet, line);
}

static bool
was_applied(const struct sheet_facts *facts, const struct application *with,
    const char *product)
{
	for (size_t i = 0; i < facts->application_count; i++) {
		const struct application *one = &facts->application[i];
		if (one->at == with->at && strcmp(one->site, with->site) == 0 &&
		    strcmp(one->product, product) == 0)
			return true;
	}
	return false;
}

/* Two products of one site with the same beginning were in one tank. */
static bool
were_together(const struct sheet_facts *facts, const struct sheet_pair *pair)
{
	for (size_t i = 0; i < facts->application_count; i++) {
		const struct application *one = &facts->application[i];
		if (strcmp(one->product, pair->a->name) == 0 &&
		    was_applied(facts, one, pair->b->name))
			return true;
	}
	return false;
}

static void
find_pairs(struct sheet *sheet)
{
	for (size_t a = 0; a < sheet->line_count; a++)
		for (size_t b = a + 1; b < sheet->line_count; b++) {
			struct sheet_pair pair = { sheet->line[a].product,
				sheet->line[b].product };
			if (!sheet->line[a].is_granule &&
			    !sheet->line[b].is_granule &&
			    !were_together(&sheet->facts, &pair))
				sheet->pair[sheet->pair_count++] = pair;
		}
}

static enum sheet_calibration
judge_calibration(const struct job *job, int64_t at)
{
	const struct sprayer *sprayer = job->sprayer;
	if (sprayer->calibrated == INT64_MIN)
		return CALIBRATION_NEVER;
	return calibration_is_stale(sprayer, civil_day(&job->site->zone, at))
		   ? CALIBRATION_STALE
		   : CALIBRATION_GOOD;
}

bool
sheet_make(const struct job *job, const struct sheet_facts *facts,
    struct sheet *ret, struct error *error)
{
	struct sheet sheet = { .job = job,
		.facts = *facts,
		.line_count = job->tank.count,
		.first_fill = FIRST_FILL,
		.calibration = judge_calibration(job, facts->at) };
	size_t order[LIMIT_TANK_PRODUCTS];
	if (!mix_make(job, facts->even, &sheet.mix, error))
		return false;
	if (facts->bench != NULL)
		sheet.bench = *facts->bench;
	mix_order(&job->tank, order);
	for (size_t i = 0; i < sheet.line_count; i++) {
		struct sheet_line *line = &sheet.line[i];
		fill_line(&sheet, order[i], line);
		sheet.sprays = sheet.sprays || !line->is_granule;
		sheet.foams = sheet.foams || line->step == MIX_ADJUVANT ||
			      line->product->kind == PRODUCT_ADJUVANT;
		sheet.dyes = sheet.dyes || line->step == MIX_DYE;
		sheet.cost += line->stock.cost;
	}
	find_pairs(&sheet);
	*ret = sheet;
	return true;
}

double
sheet_line_taken(const struct sheet_line *line)
{
	if (!line->is_drawn)
		return line->total;
	return line->made != NULL ? 0 : line->make.mass;
}

double
sheet_jar(enum unit_system units)
{
	return units == UNITS_US ? 3.785411784 / 8 : 0.5;
}
