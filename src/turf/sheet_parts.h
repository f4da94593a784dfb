/* What the printing files of the sheet share; for them alone. */
#ifndef TURF_SHEET_PARTS_H
#define TURF_SHEET_PARTS_H

#include "turf/sheet.h"

struct page {
	struct text *text;
	const struct sheet *sheet;
	enum unit_system units;
};

/* A line, folded between words at SHEET_COLUMNS; what follows its first row
   stands `hang` columns further in. */
void page_add(const struct page *page, int hang, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* quantity_print in the page's units. */
char *page_print(char buffer[QUANTITY_BUFFER], const struct page *page,
    double value, enum quantity_kind kind);

/* The solutions to make and the tanks. */
void page_add_tanks(const struct page *page);

#endif
