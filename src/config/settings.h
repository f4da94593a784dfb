/*
 * One table for every setting: name, place, kind, unit, range, default, help.
 * Parsing, checking, the sample file and the manual page are made from it.
 */
#ifndef CONFIG_SETTINGS_H
#define CONFIG_SETTINGS_H

#include "base/text.h"
#include "physics/units.h"

#include <stdbool.h>
#include <stddef.h>

enum setting_place {
	PLACE_TOP,
	PLACE_SITE,
	PLACE_SPRAYER,
	PLACE_PRODUCT,
	PLACE_PACKAGE,
	PLACE_PRACTICE,
	PLACES
};

enum setting_kind {
	SETTING_QUANTITY, /* "12 h" */
	SETTING_LIMIT,    /* "below 85 degF", "at least 3 mph", "85 degF" */
	SETTING_RATE,     /* amount per area or per volume of mix */
	SETTING_TEXT,
	SETTING_NAME,   /* of another section or a formulation */
	SETTING_CHOICE, /* one of the words in `words` */
	SETTING_YES_NO,
	SETTING_TIME_OF_DAY,    /* "19:00" */
	SETTING_ZONE,           /* "America/Chicago" */
	SETTING_CLOCK_SPANS,    /* list of "06:30-10:30" */
	SETTING_SOURCES,        /* list of "nws-grid", "nws-grid file:f.json" */
	SETTING_SOIL,           /* list of "2026-03-01 54 degF" */
	SETTING_TOLD,           /* list of "2026-02-01 dormant" */
	SETTING_WORDS,          /* list of words out of `words` */
	SETTING_SIDES,          /* list of "90 deg vegetable bed" */
	SETTING_WITHIN,         /* "0.5 in within 14 d" */
	SETTING_DATES,          /* list of "02-15 to 05-31" */
	SETTING_PARTNERS,       /* list of products, actives, groups, codes */
	SETTING_ACTIVES,        /* list of "atrazine 480 g/L" */
	SETTING_ACTIVE_RATES,   /* list of "atrazine 2 lb/acre" */
	SETTING_SENTENCES,      /* list of rules written out */
	SETTING_NOTES,          /* list of texts */
	SETTING_DATE,           /* "2026-03-01" */
	SETTING_AMOUNT,         /* a mass or a volume */
	SETTING_WEIGHINGS,      /* list of "2026-05-01 1.1 oz" */
	SETTING_SPOONS,         /* list of volumes */
	SETTING_PRACTICE_LIMIT, /* read as the card key of that name */
	SETTING_KINDS
};

struct setting {
	enum setting_place place;
	const char *name;
	enum setting_kind kind;
	enum quantity_kind quantity; /* QUANTITY and LIMIT */
	double least, most;          /* canonical; both 0: no bounds */
	const char *range;           /* the bounds as the manual writes them */
	bool required;
	const char *fallback; /* as one would write it; NULL: none */
	const char *words;    /* "us metric"; NULL */
	const char *example;  /* for the sample file; NULL: the fallback */
	const char *help;     /* one sentence for the manual */
};

/* The i-th setting, NULL after the last. Settings of a place are in a row. */
const struct setting *setting_at(size_t i);

/* NULL when there is none of that name in that place. */
const struct setting *setting_find(enum setting_place place, const char *name);

/* "site", "sprayer", "product", "package", "practice"; "" for the top. */
const char *setting_place_name(enum setting_place place);

/* True for the kinds that are written { "a", "b" }. */
bool setting_is_list(const struct setting *setting);

/* The list of settings as mdoc, for lull.conf(5). */
void settings_print_mdoc(struct text *ret);

#endif
