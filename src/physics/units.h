/*
 * Quantities as people write them ("85 degF", "1.5 fl oz/1000 ft2", "12 h",
 * "3 to 10 mph" is two of them) and as the formulas want them (SI).
 *
 * Inside the program every quantity is a double in the canonical unit of its
 * kind, named in enum quantity_kind below. Text is read once, at the edge, by
 * a strict parser: number, space (optional), unit, with at most one '/' whose
 * right side may start with a number ("gal/1000 ft2"). The C locale is
 * assumed; nothing here calls setlocale.
 *
 * Factors: NIST Handbook 44 Appendix C and SP 811 Appendix B (exact values;
 * international foot and acre, US liquid gallon). The tests compare every
 * unit with GNU units.
 *
 * A dry ounce ("oz") and a fluid ounce ("fl oz") are different units. A unit
 * that is unknown, or of another dimension than the kind, is refused.
 */
#ifndef PHYSICS_UNITS_H
#define PHYSICS_UNITS_H

#include "base/error.h"

#include <stddef.h>

enum quantity_kind {
	QUANTITY_TEMPERATURE,            /* degC (a reading on a thermometer) */
	QUANTITY_TEMPERATURE_DIFFERENCE, /* K; "10 degF" is 5.556 K here */
	QUANTITY_SPEED,                  /* m/s */
	QUANTITY_LENGTH,                 /* m */
	QUANTITY_RAIN,                   /* mm of water */
	QUANTITY_SPAN,                   /* s; "3 d" is 3 x 86400 s */
	QUANTITY_AREA,                   /* m2 */
	QUANTITY_VOLUME,                 /* L */
	QUANTITY_MASS,                   /* g */
	QUANTITY_VOLUME_PER_AREA,        /* L/m2 */
	QUANTITY_MASS_PER_AREA,          /* g/m2 */
	QUANTITY_VOLUME_PER_VOLUME,      /* L/L; also "0.25 %" */
	QUANTITY_MASS_PER_VOLUME,        /* g/L */
	QUANTITY_AREA_PER_TIME,          /* m2/s */
	QUANTITY_VOLUME_PER_TIME,        /* L/s */
	QUANTITY_PERCENT, /* % (a number from 0 to 100 in most uses) */
	QUANTITY_ANGLE,   /* degrees */
	QUANTITY_NUMBER,  /* no unit at all */
	QUANTITY_KINDS
};

enum unit_system { UNITS_US, UNITS_METRIC };

/* "air temperature", "span", ...: the kind as an error message names it. */
const char *quantity_kind_name(enum quantity_kind kind);

/*
 * Reads one quantity of the given kind. Refuses other dimensions, unknown
 * units, missing units (except NUMBER), and numbers that are not finite.
 * Leaves *ret alone on failure; ERROR_INPUT with a sentence that quotes text.
 */
bool quantity_parse(const char *text, enum quantity_kind kind, double *ret,
    struct error *error);

/* As above; tries the kinds in order and says in *ret_kind which one fits. */
bool quantity_parse_any(const char *text, const enum quantity_kind *kinds,
    size_t kind_count, double *ret, enum quantity_kind *ret_kind,
    struct error *error);

/*
 * Factor and offset of a bare unit name for a kind, as a forecast document
 * states it: canonical = value * factor + offset. Accepts the names below and
 * those of WMO and UCUM ("km_h-1", "Cel", "percent", "degree_(angle)", "mp/h",
 * "kn", "celsius"). The caller strips a namespace ("wmoUnit:").
 */
bool unit_conversion(const char *unit, enum quantity_kind kind,
    double *ret_factor, double *ret_offset);

/*
 * Value in canonical units as the keeper reads it, with a fixed small number
 * of digits ("85 degF" prints as "85 °F", 4.4704 m/s as "10 mph"). Never
 * prints "-0". NaN and infinity print "unknown". Returns buffer; 48 bytes are
 * enough. What it prints, quantity_parse reads.
 *
 * US volumes are gal from 1 gal on, else fl oz; masses lb, oz, and g below an
 * ounce, because small doses are weighed in grams; rates per area change to
 * gal/1000 ft2 from a quart on, and flows to gal/min. Metric likewise: L and
 * mL, kg and g. Speed is mph and km/h. quantity_unit and quantity_number keep
 * to one unit per kind: the small one, so that a dose survives a rounded table.
 */
char *quantity_print(char *buffer, size_t size, double value,
    enum quantity_kind kind, enum unit_system system);

/* The unit's label in that system alone, "°F"; "" for NUMBER. */
const char *quantity_unit(enum quantity_kind kind, enum unit_system system);

/* The number alone in the keeper's unit (for JSON and tables). */
double quantity_number(
    double value, enum quantity_kind kind, enum unit_system system);

/* A span in words: "45 min", "12 h", "21 d", "1 h 30 min", "2 d 4 h". */
char *span_print(char *buffer, size_t size, double seconds);

/* True for a rate by weight, on the ground or in the mix. */
bool quantity_is_by_mass(enum quantity_kind rate);

/* True for a rate on the ground, by weight or by volume; else it is one in the
   mix. */
bool quantity_is_per_area(enum quantity_kind rate);

enum { QUANTITY_BUFFER = 48 };

#endif
