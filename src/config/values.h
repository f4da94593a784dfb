/*
 * The small languages inside settings: limits, rates, spans of the day, looks
 * at the turf. Pure; each refuses what it does not wholly understand.
 */
#ifndef CONFIG_VALUES_H
#define CONFIG_VALUES_H

#include "config/settings.h"
#include "turf/turf.h"

/* A quantity of the setting's kind, inside its bounds. */
bool value_quantity(const struct setting *setting, const char *text,
    double *ret, struct error *error);

/*
 * "below 85 degF", "at most ...", "at least ...", "above ...", or a quantity
 * alone, which leaves *ret_bound at what the caller put there.
 */
bool value_limit(const struct setting *setting, const char *text,
    enum bound *ret_bound, double *ret, struct error *error);

/* An amount per area, or per volume of finished mix; over 0. */
bool value_rate(const char *text, double *ret, enum quantity_kind *ret_kind,
    struct error *error);

/* "06:30-10:30" */
bool value_clock_span(
    const char *text, struct clock_span *ret, struct error *error);

/* "2026-02-01 dormant"; the date is a local day of the zone. */
bool value_told(const char *text, const struct zone *zone,
    struct turf_told *ret, struct error *error);

/* "2026-03-01 54 degF"; the same. */
bool value_soil(const char *text, const struct zone *zone,
    struct soil_reading *ret, struct error *error);

/* "2026-03-01", as a civil day. */
bool value_date(const char *text, int64_t *ret, struct error *error);

/* "1.1 oz", "1 qt": g or L, and which of them. */
bool value_amount(
    const char *text, double *ret, bool *ret_is_mass, struct error *error);

/* "2026-05-01 1.1 oz": what was left at the end of that day. */
bool value_weighing(const char *text, struct weighing *ret, bool *ret_is_mass,
    struct error *error);

/* Position of the word in a list such as "us metric". */
bool value_choice(
    const char *words, const char *text, size_t *ret, struct error *error);

bool value_yes_no(const char *text, bool *ret, struct error *error);

/*
 * A name for a site, product or sprayer: 1 to LIMIT_NAME_BYTES bytes of
 * letters, digits, '-', '_', '.', so that it can be typed on a command line;
 * what begins with '-' would be an option there.
 */
bool value_name(const char *text, struct error *error);

#endif
