/*
 * Text on its way to libical, which escapes TEXT and folds lines but lets
 * control characters and ill-formed UTF-8 through, and does not escape X-
 * values at all. Every string of a calendar is cleaned first.
 */
#ifndef CALENDAR_CLEAN_H
#define CALENDAR_CLEAN_H

#include "base/text.h"

enum cleaning {
	CLEAN_LINES,    /* keeps line breaks and spaces */
	CLEAN_LINE,     /* one line; runs of white space become one space */
	CLEAN_CATEGORY, /* as CLEAN_LINE; "/" for ',' and ';', which libical
			   leaves unescaped: one category would be two */
	CLEAN_PLAIN,    /* as CLEAN_LINE; "-" for what X- needs escaped */
};

/*
 * Replaces the content of `ret` by `raw`, cleaned: well-formed UTF-8 without
 * control characters, with '\n' for every kind of line break and no white
 * space at its end. A byte that is not UTF-8 becomes U+FFFD; a tab becomes a
 * space. NULL is cleaned to "". False when `ret` is full.
 */
bool clean_text(const char *raw, enum cleaning how, struct text *ret);

#endif
