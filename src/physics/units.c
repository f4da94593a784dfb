#include "physics/units.h"

#include "base/limits.h"
#include "physics/units_expression.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { KIND_FORMS = 2 };

/* canonical = (over / under) * scale; a scale of 0 ends the list. */
struct form {
	enum unit_class over;
	enum unit_class under;
	double scale;
};

struct kind {
	const char *name;
	const char *example;
	struct form form[KIND_FORMS];
};

static const struct kind kinds[QUANTITY_KINDS] = {
	[QUANTITY_TEMPERATURE] = { "air temperature", "85 degF",
	    { { UNIT_TEMPERATURE, UNIT_NONE, 1.0 } } },
	[QUANTITY_TEMPERATURE_DIFFERENCE] = { "temperature difference",
	    "2 degC", { { UNIT_TEMPERATURE, UNIT_NONE, 1.0 } } },
	[QUANTITY_SPEED] = { "speed", "10 mph",
	    { { UNIT_SPEED, UNIT_NONE, 1.0 },
		{ UNIT_LENGTH, UNIT_SPAN, 1.0 } } },
	[QUANTITY_LENGTH] = { "length", "20 in",
	    { { UNIT_LENGTH, UNIT_NONE, 1.0 } } },
	[QUANTITY_RAIN] = { "rain amount", "0.25 in",
	    { { UNIT_LENGTH, UNIT_NONE, 1000.0 },
		{ UNIT_WATER, UNIT_NONE, 1.0 } } },
	[QUANTITY_SPAN] = { "time span", "12 h",
	    { { UNIT_SPAN, UNIT_NONE, 1.0 } } },
	[QUANTITY_AREA] = { "area", "5000 ft2",
	    { { UNIT_AREA, UNIT_NONE, 1.0 } } },
	[QUANTITY_VOLUME] = { "volume", "4 gal",
	    { { UNIT_VOLUME, UNIT_NONE, 1.0 } } },
	[QUANTITY_MASS] = { "mass", "12 g", { { UNIT_MASS, UNIT_NONE, 1.0 } } },
	[QUANTITY_VOLUME_PER_AREA] = { "volume per area", "1.5 fl oz/1000 ft2",
	    { { UNIT_VOLUME, UNIT_AREA, 1.0 } } },
	[QUANTITY_MASS_PER_AREA] = { "mass per area", "0.2 oz/1000 ft2",
	    { { UNIT_MASS, UNIT_AREA, 1.0 } } },
	[QUANTITY_VOLUME_PER_VOLUME] = { "volume per volume", "0.5 fl oz/gal",
	    { { UNIT_VOLUME, UNIT_VOLUME, 1.0 },
		{ UNIT_PERCENT, UNIT_NONE, 0.01 } } },
	[QUANTITY_MASS_PER_VOLUME] = { "mass per volume", "3.2 g/gal",
	    { { UNIT_MASS, UNIT_VOLUME, 1.0 } } },
	[QUANTITY_AREA_PER_TIME] = { "area per time", "1000 ft2/5 min",
	    { { UNIT_AREA, UNIT_SPAN, 1.0 } } },
	[QUANTITY_VOLUME_PER_TIME] = { "volume per time", "0.4 gal/min",
	    { { UNIT_VOLUME, UNIT_SPAN, 1.0 } } },
	[QUANTITY_PERCENT] = { "percentage", "30 %",
	    { { UNIT_PERCENT, UNIT_NONE, 1.0 } } },
	[QUANTITY_ANGLE] = { "angle", "225 deg",
	    { { UNIT_ANGLE, UNIT_NONE, 1.0 } } },
	[QUANTITY_NUMBER] = { "bare number", "3",
	    { { UNIT_NONE, UNIT_NONE, 1.0 }, { UNIT_ONE, UNIT_NONE, 1.0 } } },
};

const char *
quantity_kind_name(enum quantity_kind kind)
{
	return kinds[kind].name;
}

static enum unit_class
class_of(const struct unit *unit)
{
	return unit == NULL ? UNIT_NONE : unit->class;
}

/* Rain is measured in lengths up to an inch; "5 ft" of it is a slip. */
static bool
is_too_long(const struct expression *expression, enum quantity_kind kind)
{
	return kind == QUANTITY_RAIN &&
	       class_of(expression->over) == UNIT_LENGTH &&
	       expression->over->factor > UNIT_INCH;
}

static bool
fit(const struct expression *expression, enum quantity_kind kind,
    double *ret_factor, double *ret_offset)
{
	if (is_too_long(expression, kind))
		return false;
	for (size_t i = 0; i < KIND_FORMS; i++) {
		const struct form *form = &kinds[kind].form[i];
		if (form->scale == 0 ||
		    form->over != class_of(expression->over) ||
		    form->under != class_of(expression->under))
			continue;
		double over = 1.0, under = 1.0;
		if (expression->over != NULL)
			over = expression->over->factor;
		if (expression->under != NULL)
			under = expression->count * expression->under->factor;
		*ret_factor = over / under * form->scale;
		*ret_offset = kind == QUANTITY_TEMPERATURE
				  ? expression->over->offset
				  : 0.0;
		return true;
	}
	return false;
}

bool
unit_conversion(const char *unit, enum quantity_kind kind, double *ret_factor,
    double *ret_offset)
{
	struct expression expression;
	double factor = 0, offset = 0;
	if (unit == NULL || !expression_read(unit, true, &expression, NULL) ||
	    !fit(&expression, kind, &factor, &offset) || !isfinite(factor))
		return false;
	*ret_factor = factor;
	*ret_offset = offset;
	return true;
}

static const char *
article(const char *noun)
{
	return strchr("aeiou", noun[0]) != NULL ? "an" : "a";
}

/* The sentence's reason when the unit is known but of another dimension. */
static bool
refuse_dimension(const struct expression *expression, enum quantity_kind kind,
    struct error *error)
{
	const char *example = kinds[kind].example;
	const struct unit *over = expression->over;
	if (over == NULL)
		return error_set(error, ERROR_INPUT,
		    "a unit is missing; write it like '%s'", example);
	if (over->class == UNIT_MASS && over->factor == UNIT_OUNCE &&
	    kinds[kind].form[0].over == UNIT_VOLUME)
		return error_set(error, ERROR_INPUT,
		    "'%s' is a dry ounce; write fl oz", over->name);
	const char *what = unit_class_name(over->class);
	if (expression->under == NULL)
		return error_set(error, ERROR_INPUT,
		    "'%s' is for %s %s; write it like '%s'", over->name,
		    article(what), what, example);
	return error_set(error, ERROR_INPUT,
	    "'%s' over '%s' is for %s %s per %s; write it like '%s'",
	    over->name, expression->under->name, article(what), what,
	    unit_class_name(expression->under->class), example);
}

/* The text once more without compound spans; errors are reasons alone. */
static bool
read_simple(
    const char *text, enum quantity_kind kind, double *ret, struct error *error)
{
	struct expression expression;
	const char *cursor = text + strspn(text, " \t");
	double number = 0, factor = 0, offset = 0;
	bool grouped = false;
	if (!number_take(&cursor, &number, &grouped))
		return error_set(error, ERROR_INPUT,
		    "no number in front; write it like '%s'",
		    kinds[kind].example);
	if (*cursor == ',')
		return error_set(error, ERROR_INPUT,
		    "write the number with a point and without a comma");
	if (!expression_read(cursor, false, &expression, error))
		return false;
	if (!fit(&expression, kind, &factor, &offset))
		return refuse_dimension(&expression, kind, error);
	/* "1,500 L" is 1.5 L to half the world; only feet are safe. */
	if (grouped && (expression.over == NULL ||
			   expression.over->factor != UNIT_SQUARE_FOOT))
		return error_set(error, ERROR_INPUT,
		    "write the number with a point and without a comma");
	double value = number * factor + offset;
	if (!isfinite(value))
		return error_set(
		    error, ERROR_INPUT, "the number is out of range");
	*ret = value;
	return true;
}

static bool
read_kind(
    const char *text, enum quantity_kind kind, double *ret, struct error *error)
{
	if (kind == QUANTITY_SPAN && span_read(text, ret))
		return true;
	return read_simple(text, kind, ret, error);
}

/* "a volume per area or a mass per area" */
static void
list_kinds(
    char *buffer, size_t size, const enum quantity_kind *kind, size_t count)
{
	size_t used = 0;
	buffer[0] = '\0';
	for (size_t i = 0; i < count && used < size; i++) {
		const char *name = kinds[kind[i]].name;
		int length = snprintf(buffer + used, size - used, "%s%s %s",
		    i == 0 ? "" : " or ", article(name), name);
		used += length > 0 ? (size_t)length : 0;
	}
}

bool
quantity_parse_any(const char *text, const enum quantity_kind *kind,
    size_t kind_count, double *ret, enum quantity_kind *ret_kind,
    struct error *error)
{
	char wanted[160];
	if (strnlen(text, LIMIT_NAME_BYTES) == LIMIT_NAME_BYTES)
		return error_set(error, ERROR_INPUT,
		    "a quantity is shorter than '%.40s...'", text);
	struct error reason = { .kind = ERROR_INPUT };
	for (size_t i = 0; i < kind_count; i++) {
		double value = 0;
		struct error ignored;
		if (!read_kind(
			text, kind[i], &value, i == 0 ? &reason : &ignored))
			continue;
		*ret = value;
		*ret_kind = kind[i];
		return true;
	}
	list_kinds(wanted, sizeof wanted, kind, kind_count);
	return error_set(error, ERROR_INPUT, "'%s' is not %s: %s", text, wanted,
	    reason.text);
}

bool
quantity_parse(
    const char *text, enum quantity_kind kind, double *ret, struct error *error)
{
	enum quantity_kind same;
	return quantity_parse_any(text, &kind, 1, ret, &same, error);
}
