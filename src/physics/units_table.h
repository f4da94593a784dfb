/*
 * The unit names, private to the physics floor and its oracle. One row per
 * name; an alias is a row of its own, so that the oracle compares them all.
 */
#ifndef PHYSICS_UNITS_TABLE_H
#define PHYSICS_UNITS_TABLE_H

#include <stdbool.h>
#include <stddef.h>

/* Exact by definition: NIST Handbook 44 Appendix C, SP 811 Appendix B. */
#define UNIT_INCH        0.0254                       /* m */
#define UNIT_FOOT        0.3048                       /* m */
#define UNIT_YARD        0.9144                       /* m */
#define UNIT_MILE        1609.344                     /* m */
#define UNIT_SQUARE_FOOT 0.09290304                   /* m2 */
#define UNIT_ACRE        (43560.0 * UNIT_SQUARE_FOOT) /* m2 */
#define UNIT_GALLON      3.785411784                  /* L, 231 in3 */
#define UNIT_QUART       (UNIT_GALLON / 4.0)          /* L */
#define UNIT_PINT        (UNIT_GALLON / 8.0)          /* L */
#define UNIT_FLUID_OUNCE (UNIT_GALLON / 128.0)        /* L */
#define UNIT_TABLESPOON  (UNIT_FLUID_OUNCE / 2.0)     /* L */
#define UNIT_TEASPOON    (UNIT_FLUID_OUNCE / 6.0)     /* L */
#define UNIT_POUND       453.59237                    /* g */
#define UNIT_OUNCE       (UNIT_POUND / 16.0)          /* g */
#define UNIT_MPH         0.44704                      /* m/s */
#define UNIT_KPH         (1.0 / 3.6)                  /* m/s */
#define UNIT_KNOT        (1852.0 / 3600.0)            /* m/s */
#define UNIT_DEGREE_F    (5.0 / 9.0)                  /* K */
#define UNIT_DEGREE_F_0  (-160.0 / 9.0)               /* degC of 0 degF */
#define UNIT_KELVIN_0    (-273.15)                    /* degC of 0 K */

/* What a unit measures. The factor's unit stands beside. */
enum unit_class {
	UNIT_NONE,
	UNIT_TEMPERATURE, /* K; the offset makes a reading degC */
	UNIT_SPEED,       /* m/s */
	UNIT_LENGTH,      /* m */
	UNIT_SPAN,        /* s */
	UNIT_AREA,        /* m2 */
	UNIT_VOLUME,      /* L */
	UNIT_MASS,        /* g */
	UNIT_WATER,       /* mm: mass of water on an area, in documents */
	UNIT_PERCENT,     /* % */
	UNIT_ANGLE,       /* degrees */
	UNIT_ONE,         /* a document's "1": no unit at all */
	UNIT_CLASSES
};

enum unit_naming {
	UNIT_EXACT,    /* another case may be another unit: "mL" and "ML" */
	UNIT_ANY_CASE, /* "MPH" is nothing else */
	UNIT_DOCUMENT, /* exact, and only forecast documents write it */
};

struct unit {
	const char *name; /* words are one space apart */
	double factor;
	double offset;
	enum unit_class class;
	enum unit_naming naming;
};

/* The i-th row, NULL after the last. */
const struct unit *unit_at(size_t i);

/*
 * The unit of that name, NULL when there is none. The exact name wins over
 * one in another case. Document names are found only with `documents`.
 */
const struct unit *unit_find(const char *name, bool documents);

/* "volume", "speed", ...: the class as an error message names it. */
const char *unit_class_name(enum unit_class class);

#endif
