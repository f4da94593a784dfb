/*
 * The small languages of cards: what a limit says with its words and place,
 * amounts within spans, dates of the year, active ingredients; and the sides of
 * a site. Pure, and as strict as those of config/values.h.
 */
#ifndef CONFIG_CARD_VALUES_H
#define CONFIG_CARD_VALUES_H

#include "base/arena.h"
#include "turf/turf.h"

/* "12 h | Do not apply if rain is expected within 12 hours | page 3" */
struct said {
	const char *value;
	const char *words; /* NULL: none */
	const char *place; /* NULL: none */
};

/* The parts are cut out of the text into `arena`. */
bool value_said(struct arena *arena, const char *text, struct said *ret,
    struct error *error);

/* "none on label" */
bool value_is_none(const char *text);

/*
 * "at most 0.5 in within 48 h": an amount of water over 0 and a span. The bound
 * may be left out, as in value_limit.
 */
bool value_within(const char *text, enum bound *ret_bound, double *ret_amount,
    double *ret_span, struct error *error);

/* "4 pt/acre": a rate (value_rate) per area. */
bool value_rate_per_area(const char *text, double *ret,
    enum quantity_kind *ret_kind, struct error *error);

/* "02-15 to 05-31", month and day */
bool value_dates(const char *text, struct date_span *ret, struct error *error);

/*
 * The name of an active ingredient, or of another partner in a tank: as
 * value_name, with commas.
 */
bool value_partner(const char *text, struct error *error);

/*
 * "atrazine 480 g/L", "prodiamine 65 %": the name goes into `name`, and is not
 * set in *ret.
 */
bool value_active(const char *text, char name[LIMIT_NAME_BYTES + 1],
    struct active *ret, struct error *error);

/* "atrazine 2 lb/acre" */
bool value_active_rate(const char *text, char name[LIMIT_NAME_BYTES + 1],
    double *ret, struct error *error);

/*
 * "90 deg vegetable bed", "north pond", "NNE pond": the bearing, and where in
 * `text` the name of what is there begins.
 */
bool value_side(const char *text, double *ret_bearing, const char **ret_what,
    struct error *error);

#endif
