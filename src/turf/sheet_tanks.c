/* The solutions and the tanks of a sheet, in the order of the work. */
#include "turf/sheet_parts.h"

#include "base/civil.h"

#include <stdio.h>

/* So many times what the job needs is worth a word: a choice of ours. */
#define WASTE 5

static char *
print_metric(
    char buffer[QUANTITY_BUFFER], double value, enum quantity_kind kind)
{
	return quantity_print(
	    buffer, QUANTITY_BUFFER, value, kind, UNITS_METRIC);
}

/* How to make a solution, or which one is there. */
static void
add_solution(const struct page *page, const struct sheet_line *line)
{
	const struct zone *zone = &page->sheet->job->site->zone;
	const struct stock_solution *make = &line->make;
	char made[CIVIL_BUFFER], until[CIVIL_BUFFER], volume[QUANTITY_BUFFER];
	char keeps[QUANTITY_BUFFER];
	struct text weigh;
	text_add(page->text, "\n");
	if (line->made != NULL) {
		page_add(page, 2,
		    "STOCK SOLUTION of %s: take the one of %s, %.4g g/L, of "
		    "which %s should be there; it goes by %s. Shake before "
		    "each draw.",
		    line->product->name,
		    civil_print(made, sizeof made, zone, line->made->made,
			CIVIL_DAY_CLOCK),
		    line->made->strength,
		    print_metric(volume,
			stock_solution_draw(
			    line->made->left, line->made->strength),
			QUANTITY_VOLUME),
		    civil_print(until, sizeof until, zone, line->made->until,
			CIVIL_DAY_CLOCK));
		return;
	}
	text_init(&weigh, LIMIT_TEXT_BYTES);
	struct measured mass = measure_mass(&page->sheet->bench, make->mass, 0);
	measured_print(&weigh, &mass, &page->sheet->bench, page->units);
	page_add(page, 2,
	    "STOCK SOLUTION of %s: %s, make it up to %s with water in a marked "
	    "bottle (%.4g g/L). Shake before each draw. %s%s%s",
	    line->product->name, text_string(&weigh),
	    print_metric(volume, make->volume, QUANTITY_VOLUME), make->strength,
	    line->product->stock_keeps > 0 ? "It keeps " : "Use it up today.",
	    line->product->stock_keeps > 0
		? span_print(keeps, sizeof keeps, line->product->stock_keeps)
		: "",
	    line->product->stock_keeps > 0 ? "." : "");
	if (make->mass > WASTE * line->total)
		page_add(page, 2,
		    "Most of it is left over: a finer scale would save it.");
	text_release(&weigh);
}

/* "weigh 8 g", "stock solution for 1.46 g: 146 mL in the cylinder". */
static void
print_dose(struct text *text, const struct page *page,
    const struct sheet_line *line, bool is_last)
{
	char grams[QUANTITY_BUFFER];
	const struct bench *bench = &page->sheet->bench;
	const struct measured *dose = is_last ? &line->last : &line->each;
	const struct measured *draw =
	    is_last ? &line->draw_last : &line->draw_each;
	if (!line->is_drawn) {
		measured_print(text, dose, bench, page->units);
		return;
	}
	text_format(text, "stock solution for %s: ",
	    print_metric(grams, dose->wanted, QUANTITY_MASS));
	measured_print(text, draw, bench, UNITS_METRIC);
}

static void
add_line(const struct page *page, const struct sheet_line *line, size_t number,
    bool is_last)
{
	struct text dose;
	bool foams = line->step == MIX_ADJUVANT ||
		     line->product->kind == PRODUCT_ADJUVANT;
	text_init(&dose, LIMIT_TEXT_BYTES);
	print_dose(&dose, page, line, is_last);
	page_add(page, 5, "  %zu. %s: %s%s%s", number, line->product->name,
	    text_string(&dose), foams ? "; it foams" : "",
	    line->step == MIX_UNSAID ? "; its label says when it goes in" : "");
	text_release(&dose);
}

struct filled {
	const char *title;
	const struct mix_tank *fill;
	bool is_last;
};

/* Water, the products in order, and water again; a defoamer comes when all of
   it is in. */
static void
add_tank(const struct page *page, const struct filled *tank)
{
	const struct sheet *sheet = page->sheet;
	const struct mix_tank *fill = tank->fill;
	char water[QUANTITY_BUFFER], area[QUANTITY_BUFFER];
	char first[QUANTITY_BUFFER];
	size_t number = 1;
	bool topped = false;
	const char *top = sheet->foams ? "Top up gently" : "Top up";
	page_print(water, page, fill->water, QUANTITY_VOLUME);
	page_print(area, page, fill->area, QUANTITY_AREA);
	page_print(
	    first, page, fill->water * sheet->first_fill, QUANTITY_VOLUME);
	text_add(page->text, "\n");
	page_add(page, 2, "%s: %s for %s", tank->title, water, area);
	page_add(page, 5,
	    "  %zu. Water to about %s. Agitate; let each product disperse "
	    "before the next.",
	    number++, first);
	for (size_t i = 0; i < sheet->line_count; i++) {
		const struct sheet_line *line = &sheet->line[i];
		if (line->step == MIX_DEFOAMER && !topped) {
			page_add(
			    page, 5, "  %zu. %s to %s.", number++, top, water);
			topped = true;
		}
		if (!line->is_granule)
			add_line(page, line, number++, tank->is_last);
	}
	if (topped)
		page_add(page, 5, "  %zu. Agitate, spray %s.", number, area);
	else
		page_add(page, 5, "  %zu. %s to %s, agitate, spray %s.", number,
		    top, water, area);
}

static void
add_tanks(const struct page *page)
{
	const struct mix *mix = &page->sheet->mix;
	size_t alike = mix->is_even ? mix->tank_count : mix->tank_count - 1;
	char title[64];
	if (alike == 1)
		(void)snprintf(title, sizeof title, "TANK 1");
	else
		(void)snprintf(title, sizeof title, "TANKS 1 %s %zu, EACH",
		    alike == 2 ? "AND" : "TO", alike);
	struct filled filled = { title, &mix->each, false };
	add_tank(page, &filled);
	if (mix->is_even)
		return;
	(void)snprintf(title, sizeof title, "TANK %zu", mix->tank_count);
	filled = (struct filled){ title, &mix->last, true };
	add_tank(page, &filled);
}

static bool
is_weighed(const struct sheet_line *line)
{
	return line->is_drawn ? line->made == NULL
			      : line->each.tool == TOOL_SCALE ||
				    line->each.tool == TOOL_SCOOP;
}

void
page_add_tanks(const struct page *page)
{
	const struct sheet *sheet = page->sheet;
	bool weighed = false;
	for (size_t i = 0; i < sheet->line_count; i++) {
		const struct sheet_line *line = &sheet->line[i];
		weighed = weighed || (is_weighed(line) && !line->is_granule);
		if (line->is_granule)
			page_add(page, 2,
			    "%s is a granule: it is spread dry, and does not "
			    "go into the tank.",
			    line->product->name);
		else if (line->is_drawn)
			add_solution(page, line);
	}
	if (weighed)
		page_add(page, 2, "Tare the dish before each weighing.");
	if (sheet->sprays)
		add_tanks(page);
}
