/*
 * The text side of quantities, private to the physics floor: numbers, and
 * units with at most one '/', before anybody asks which kind was wanted.
 */
#ifndef PHYSICS_UNITS_EXPRESSION_H
#define PHYSICS_UNITS_EXPRESSION_H

#include "base/error.h"
#include "physics/units_table.h"

/* over / (count x under), "fl oz/1000 ft2" */
struct expression {
	const struct unit *over;  /* NULL when there is no unit */
	const struct unit *under; /* NULL when there is no '/' */
	double count;             /* 1 unless written; over 0 and finite */
};

/*
 * A plain decimal number at *cursor, which moves past it: "12", "-3.5",
 * ".5". No exponent, no hexadecimal, no "inf". Commas are taken when they
 * part the digits in threes ("5,000"), and *ret_grouped says so: the caller
 * must refuse that where a comma may also be a decimal point.
 */
bool number_take(const char **cursor, double *ret, bool *ret_grouped);

/*
 * Reads a unit expression to the end of the text; "" is one. The error is
 * the reason alone ("unknown unit 'hrz'"), for the caller to put a prefix to.
 */
bool expression_read(const char *text, bool documents, struct expression *ret,
    struct error *error);

/*
 * A span of two or more parts, "1 h 30 min": units descend, all parts but
 * the last are whole, a sign stands in front and holds for the whole. Seconds.
 */
bool span_read(const char *text, double *ret);

#endif
