/*
 * The report page: the queue at a glance, one table row and one strip of the
 * week for each job. Plain HTML with inline SVG, no script, nothing fetched.
 */
#ifndef PAGE_REPORT_H
#define PAGE_REPORT_H

#include "advice/outcome.h"
#include "advice/plan.h"
#include "base/text.h"

struct page_row {
	const struct judgement *judgement; /* borrowed, as all here */
	const struct window *windows;
	size_t window_count;
	bool has_slot;
	struct slot slot;
	enum verdict verdict; /* of the slot */
	const char *trouble;  /* why nothing is known; "" */
	const char *credit;   /* attribution of the forecast; "" */
};

/* Appends the whole page to `ret`. The same rows give the same bytes. */
void page_report(const struct page_row *rows, size_t count, int64_t now,
    enum unit_system units, struct text *ret);

#endif
