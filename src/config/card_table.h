/*
 * The short names that a card may use, as a table; private to src/config.
 * What each shape makes of its text is config/cards.c's business.
 */
#ifndef CONFIG_CARD_TABLE_H
#define CONFIG_CARD_TABLE_H

#include "turf/rule.h"

enum shape {
	SHAPE_LIMIT,     /* a bound and a quantity */
	SHAPE_SPAN,      /* a span that the measure is held against */
	SHAPE_DAYS,      /* the same in whole days */
	SHAPE_COUNT,     /* a whole number */
	SHAPE_AFTER,     /* a span after the job */
	SHAPE_BEFORE,    /* a span before it; none is no rule */
	SHAPE_WITHIN,    /* an amount within a span after the job */
	SHAPE_RATE,      /* an amount per area */
	SHAPE_YES,       /* a fixed limit, when the answer is yes */
	SHAPE_NO_ALERT,  /* one for each kind of alert, when it is yes */
	SHAPE_STATES,    /* the states that are allowed */
	SHAPE_DATES,     /* spans of the year: one rule for all */
	SHAPE_ACTIVES,   /* one for each active */
	SHAPE_SENTENCES, /* one for each sentence */
};

/* Who may say it besides a label, and in which other ways. */
enum {
	CARD_PRACTICE = 1,   /* published practice may */
	CARD_EITHER_WAY = 2, /* floor and ceiling are both sensible */
	CARD_MAY_BE_NONE = 4 /* "none on label" */
};

struct short_rule {
	const char *name;
	enum shape shape;
	enum measure measure;
	enum fold fold;
	struct exposure exposure;
	enum bound bound; /* when the card does not say */
	unsigned flags;
	double limit; /* of what is answered with yes */
};

/* NULL when there is none of that name. */
const struct short_rule *short_rule_find(const char *name);

#endif
