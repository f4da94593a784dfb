/*
 * Every rule on every label is one sentence: a measure, folded over an
 * exposure, stays within a limit. This is that sentence as plain data; what
 * it means over a forecast is src/advice's business.
 */
#ifndef TURF_RULE_H
#define TURF_RULE_H

#include "weather/measure.h"

#include <stdbool.h>
#include <stdint.h>

enum fold {
	FOLD_MAX,
	FOLD_MIN,
	FOLD_SUM,
	FOLD_MEAN,
	FOLD_ANY, /* of a measure that is 0 or 1: is there any 1 */
};

/* Where an exposure is tied to the application that starts at t. */
enum anchor {
	ANCHOR_START,    /* t */
	ANCHOR_END,      /* t + duration of the job */
	ANCHOR_MIDNIGHT, /* the first second of t's local day */
	ANCHOR_SUNRISE,  /* of t's local day; a gap where there is none */
	ANCHOR_SUNSET,   /* the same */
};

struct instant {
	enum anchor anchor;
	int32_t seconds; /* after the anchor; whole local days when the anchor
			    is MIDNIGHT: a day is not always 86400 s */
};

/* The half-open span in which a rule must hold. */
struct exposure {
	struct instant from, to;
};

enum bound {
	BOUND_AT_MOST,  /* value <= limit */
	BOUND_BELOW,    /* value < limit */
	BOUND_AT_LEAST, /* value >= limit */
	BOUND_ABOVE,    /* value > limit */
};

enum origin {
	ORIGIN_LABEL,      /* the law: never offered for relaxing */
	ORIGIN_PRACTICE,   /* published guidance */
	ORIGIN_PREFERENCE, /* what suits the keeper */
};

struct rule {
	const char *name; /* short name, "temperature-ceiling"; static */
	enum measure measure;
	enum fold fold;
	struct exposure exposure;
	enum bound bound;
	double limit;  /* canonical unit of the measure */
	double raised; /* a floor that the card gives near the ground: so many
			  times as high at 10 m; 0: as on the card */
	enum origin origin;
	const char *owner;   /* borrowed: the product, site or "practice" */
	const char *source;  /* borrowed: label place or publication; "" */
	const char *wording; /* borrowed: the label's own words; NULL: none */
	const char *subject; /* borrowed: the active of a SEASON_ACTIVE rule;
				else NULL */
	bool is_volume;      /* a SEASON_AMOUNT in L/m2, else it is in g/m2 */
};

/* True for the bounds that cap from above. */
bool bound_is_ceiling(enum bound bound);

/* "at most", "below", "at least", "above". */
const char *bound_word(enum bound bound);

/* "label", "practice", "preference". */
const char *origin_word(enum origin origin);

/* The kind that its limit and values are told in. */
enum quantity_kind rule_kind(const struct rule *rule);

/*
 * "during the job", "during the job and 12 h after", "in the 12 h after", "in
 * the 2 h before", "that day", "that day and the 3 days after", "from 1 h after
 * sunrise to 2 h before sunset". EXPOSURE_BUFFER bytes are enough.
 */
char *exposure_print(
    char *buffer, size_t size, const struct exposure *exposure);

enum { EXPOSURE_BUFFER = 96 };

/* True when both are the same span of every application. */
bool exposure_same(const struct exposure *a, const struct exposure *b);

/* True when `inner` lies in `outer` for every application, however long. */
bool exposure_inside(
    const struct exposure *inner, const struct exposure *outer);

/* True when the two have a moment in common for every application. */
bool exposure_meets(const struct exposure *a, const struct exposure *b);

/* True when it ends where it begins, or before, for every application. */
bool exposure_empty(const struct exposure *exposure);

/*
 * True when `low` is a floor and `high` a ceiling that no application can keep
 * together: of one measure, with folds and exposures that leave no way out. A
 * floor under the highest of a day does not exclude a lower ceiling during the
 * job, for mornings are cooler.
 */
bool rules_exclude(const struct rule *low, const struct rule *high);

#endif
