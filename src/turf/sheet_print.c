/* The sheet as text, in the order of the work at the bench: one page. */
#include "turf/sheet.h"

#include "base/civil.h"
#include "turf/exclusion.h"
#include "turf/sheet_parts.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#define ACRE    4046.8564224 /* m2, exact */
#define HECTARE 10000.0
#define GALLON  3.785411784 /* L, exact */

/* All pairs of a full tank with the longest names. */
enum { ROW_BYTES = 4 * LIMIT_TEXT_BYTES };

/* Columns of a word: continuation bytes take none. */
static size_t
measure_width(const char *word, size_t length)
{
	size_t width = 0;
	for (size_t i = 0; i < length; i++)
		width += ((unsigned char)word[i] & 0xC0U) != 0x80U;
	return width;
}

/* Whole words, the lines after the first `hang` columns further in. */
static void
fold(struct text *text, int hang, const char *line)
{
	size_t column = strspn(line, " ");
	bool first = true;
	text_append(text, line, column);
	for (const char *word = line + column; *word != '\0';) {
		size_t length = strcspn(word, " ");
		size_t width = measure_width(word, length);
		if (!first && column + 1 + width > SHEET_COLUMNS) {
			text_format(text, "\n%*s", hang, "");
			column = (size_t)hang;
		} else if (!first) {
			text_add(text, " ");
			column++;
		}
		text_append(text, word, length);
		column += width;
		first = false;
		word += length + strspn(word + length, " ");
	}
	text_add(text, "\n");
}

void
page_add(const struct page *page, int hang, const char *format, ...)
{
	char line[ROW_BYTES];
	va_list arguments;
	va_start(arguments, format);
	(void)vsnprintf(line, sizeof line, format, arguments);
	va_end(arguments);
	text_trim_end(line);
	fold(page->text, hang, line);
}

char *
page_print(char buffer[QUANTITY_BUFFER], const struct page *page, double value,
    enum quantity_kind kind)
{
	return quantity_print(
	    buffer, QUANTITY_BUFFER, value, kind, page->units);
}

static char *
print_amount(char buffer[QUANTITY_BUFFER], const struct page *page,
    const struct sheet_line *line, double amount)
{
	return page_print(buffer, page, amount,
	    line->is_mass ? QUANTITY_MASS : QUANTITY_VOLUME);
}

static void
add_calibration(const struct page *page)
{
	static const struct zone no_zone = { 0 };
	const struct sprayer *sprayer = page->sheet->job->sprayer;
	char day[CIVIL_BUFFER], holds[QUANTITY_BUFFER];
	if (page->sheet->calibration == CALIBRATION_NEVER) {
		page_add(page, 2,
		    "%s was never calibrated, or nobody said when: lull "
		    "calibrate first.",
		    sprayer->name);
		return;
	}
	civil_print(day, sizeof day, &no_zone,
	    sprayer->calibrated * DAY_SECONDS, CIVIL_DATE);
	if (page->sheet->calibration == CALIBRATION_STALE)
		page_add(page, 2,
		    "%s was calibrated on %s, more than %s ago: do it again "
		    "first (lull calibrate).",
		    sprayer->name, day,
		    span_print(
			holds, sizeof holds, sprayer->calibration_holds));
	else
		page_add(
		    page, 2, "%s was calibrated on %s.", sprayer->name, day);
}

static void
add_head(const struct page *page)
{
	const struct sheet *sheet = page->sheet;
	const struct job *job = sheet->job;
	double carrier = job->sprayer->carrier;
	char area[QUANTITY_BUFFER];
	char water[QUANTITY_BUFFER], rate[QUANTITY_BUFFER];
	bool us = page->units == UNITS_US;
	double usual = us ? carrier / GALLON * ACRE : carrier * HECTARE;
	page_add(page, 2, "%s, job %lld", job->site->name, (long long)job->id);
	if (!sheet->sprays) {
		page_add(page, 2, "%s.",
		    page_print(area, page, job->area, QUANTITY_AREA));
		return;
	}
	page_add(page, 2, "%s with %s: %s in %zu tank%s, %s (%.*f %s).",
	    page_print(area, page, job->area, QUANTITY_AREA),
	    job->sprayer->name,
	    page_print(water, page, sheet->mix.carrier, QUANTITY_VOLUME),
	    sheet->mix.tank_count, sheet->mix.tank_count == 1 ? "" : "s",
	    page_print(rate, page, carrier, QUANTITY_VOLUME_PER_AREA),
	    usual < 99.95 ? 1 : 0, usual, us ? "gal/acre" : "L/ha");
	add_calibration(page);
}

static void
add_stock(struct text *row, const struct page *page,
    const struct sheet_line *line, double taken)
{
	const struct sheet_stock *stock = &line->stock;
	const char *currency = page->sheet->facts.currency;
	char amount[QUANTITY_BUFFER];
	if (!stock->on_file)
		return;
	text_format(row, "; on hand %s",
	    print_amount(amount, page, line, stock->on_hand));
	if (stock->on_hand < taken * (1 - 1e-9))
		text_add(row, ": NOT ENOUGH");
	else if (!isnan(stock->left_after))
		text_format(row, ", left %s",
		    print_amount(amount, page, line, stock->left_after));
	if (!isnan(stock->cost))
		text_format(row, ", %.2f %s", stock->cost,
		    currency != NULL ? currency : "");
}

static void
add_totals(const struct page *page)
{
	const struct sheet *sheet = page->sheet;
	char amount[QUANTITY_BUFFER];
	text_add(page->text, "\n");
	page_add(page, 2, "IN ALL");
	for (size_t i = 0; i < sheet->line_count; i++) {
		const struct sheet_line *line = &sheet->line[i];
		double taken = sheet_line_taken(line);
		struct text row;
		text_init(&row, LIMIT_TEXT_BYTES);
		text_add(&row, print_amount(amount, page, line, line->total));
		if (line->is_drawn && line->made != NULL)
			text_add(&row, " out of the solution");
		else if (line->is_drawn)
			text_format(&row, " of %s that are weighed",
			    print_amount(amount, page, line, taken));
		add_stock(&row, page, line, taken);
		page_add(page, 5, "  %s: %s", line->product->name,
		    text_string(&row));
		text_release(&row);
	}
	if (!isnan(sheet->cost) && sheet->line_count > 1)
		page_add(page, 2, "  Cost: %.2f %s", sheet->cost,
		    sheet->facts.currency != NULL ? sheet->facts.currency : "");
}

/* The place of a product in the jar, where water is the first. */
static size_t
find_step(const struct sheet *sheet, const struct product *product)
{
	size_t step = 2;
	for (size_t i = 0; sheet->line[i].product != product; i++)
		step += !sheet->line[i].is_granule;
	return step;
}

/* By their steps: all pairs of eight names are no page any more. */
static void
add_pairs(const struct page *page)
{
	const struct sheet *sheet = page->sheet;
	struct text row;
	text_init(&row, ROW_BYTES);
	for (size_t i = 0; i < sheet->pair_count; i++)
		text_format(&row, "%s%zu+%zu", i > 0 ? ", " : "",
		    find_step(sheet, sheet->pair[i].a),
		    find_step(sheet, sheet->pair[i].b));
	text_add(page->text, "\n");
	page_add(page, 2, "JAR TEST: never in one tank before: %s",
	    text_string(&row));
	text_release(&row);
}

/* In millilitres: a jar holds less than a spoon of most. */
static void
add_jar(const struct page *page)
{
	const struct sheet *sheet = page->sheet;
	double jar = sheet_jar(page->units);
	char amount[QUANTITY_BUFFER];
	struct text row;
	if (sheet->pair_count == 0)
		return;
	add_pairs(page);
	text_init(&row, ROW_BYTES);
	text_format(&row, "1. %s of water",
	    page->units == UNITS_US ? "1 pint" : "500 mL");
	for (size_t i = 0; i < sheet->line_count; i++) {
		const struct sheet_line *line = &sheet->line[i];
		bool grams = line->is_mass && !line->is_drawn;
		if (line->is_granule)
			continue;
		text_format(&row, ", %zu. %s of %s%s",
		    find_step(sheet, line->product),
		    quantity_print(amount, sizeof amount, line->in_mix * jar,
			grams ? QUANTITY_MASS : QUANTITY_VOLUME, UNITS_METRIC),
		    line->is_drawn ? "the solution of " : "",
		    line->product->name);
	}
	page_add(page, 2,
	    "  In this order: %s. Shake; look after 15 to 30 min and again "
	    "later. Layers, lumps, gel, foam or heat: do not mix them.",
	    text_string(&row));
	text_release(&row);
}

static void
add_cautions(const struct page *page)
{
	const struct sheet *sheet = page->sheet;
	char away[80];
	text_add(page->text, "\n");
	for (size_t i = 0; i < sheet->line_count; i++) {
		const struct product *product = sheet->line[i].product;
		for (size_t n = 0; n < product->note_count; n++)
			page_add(
			    page, 2, "%s: %s", product->name, product->note[n]);
	}
	for (size_t i = 0; i < sheet->facts.caution_count; i++)
		page_add(page, 2, "Caution: %s", sheet->facts.caution[i].text);
	exclusion_print(away, sizeof away, sheet->job->sprayer, page->units);
	if (sheet->sprays && away[0] != '\0')
		page_add(page, 2, "%s", away);
	page_add(page, 2, "One pass over the ground, never two.%s",
	    sheet->dyes ? " Dye fades from concrete in a day or two." : "");
	page_add(page, 2,
	    "The label rules over this sheet. Wear what it asks for; mix where "
	    "a spill can be caught; never pour what is left over into a "
	    "drain.");
}

void
sheet_print(
    struct text *text, const struct sheet *sheet, enum unit_system units)
{
	const struct page page = { text, sheet, units };
	add_head(&page);
	page_add_tanks(&page);
	add_totals(&page);
	add_jar(&page);
	add_cautions(&page);
}

void
sheet_print_tanks(
    struct text *text, const struct sheet *sheet, enum unit_system units)
{
	const struct page page = { text, sheet, units };
	page_add_tanks(&page);
}
