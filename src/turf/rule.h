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
	double limit; /* canonical unit of the measure */
	enum origin origin;
	const char *owner;  /* borrowed: the product, site or "practice" */
	const char *source; /* borrowed: label place or publication; "" */
};

/* True for the bounds that cap from above. */
bool bound_is_ceiling(enum bound bound);

/* "at most", "below", "at least", "above". */
const char *bound_word(enum bound bound);

/* "label", "practice", "preference". */
const char *origin_word(enum origin origin);

/* "during the job", "during the job and 12 h after", "in the 12 h after", "in
   the 2 h before", "that day". */
char *exposure_print(
    char *buffer, size_t size, const struct exposure *exposure);

/* True when both are the same span of every application. */
bool exposure_same(const struct exposure *a, const struct exposure *b);

#endif
