#include "physics/units_table.h"

#include <string.h>
#include <strings.h>

/*
 * Symbols of the metric system keep their case, because another case is
 * another unit ("Mg", "ML", "M").
 */
static const struct unit table[] = {
	{ "degF", UNIT_DEGREE_F, UNIT_DEGREE_F_0, UNIT_TEMPERATURE,
	    UNIT_ANY_CASE },
	{ "°F", UNIT_DEGREE_F, UNIT_DEGREE_F_0, UNIT_TEMPERATURE,
	    UNIT_ANY_CASE },
	{ "deg F", UNIT_DEGREE_F, UNIT_DEGREE_F_0, UNIT_TEMPERATURE,
	    UNIT_ANY_CASE },
	{ "fahrenheit", UNIT_DEGREE_F, UNIT_DEGREE_F_0, UNIT_TEMPERATURE,
	    UNIT_ANY_CASE },
	{ "F", UNIT_DEGREE_F, UNIT_DEGREE_F_0, UNIT_TEMPERATURE, UNIT_EXACT },
	{ "[degF]", UNIT_DEGREE_F, UNIT_DEGREE_F_0, UNIT_TEMPERATURE,
	    UNIT_DOCUMENT },
	{ "degC", 1.0, 0.0, UNIT_TEMPERATURE, UNIT_ANY_CASE },
	{ "°C", 1.0, 0.0, UNIT_TEMPERATURE, UNIT_ANY_CASE },
	{ "deg C", 1.0, 0.0, UNIT_TEMPERATURE, UNIT_ANY_CASE },
	{ "celsius", 1.0, 0.0, UNIT_TEMPERATURE, UNIT_ANY_CASE },
	{ "C", 1.0, 0.0, UNIT_TEMPERATURE, UNIT_EXACT },
	{ "Cel", 1.0, 0.0, UNIT_TEMPERATURE, UNIT_DOCUMENT },
	{ "K", 1.0, UNIT_KELVIN_0, UNIT_TEMPERATURE, UNIT_EXACT },
	{ "mph", UNIT_MPH, 0.0, UNIT_SPEED, UNIT_ANY_CASE },
	{ "mp/h", UNIT_MPH, 0.0, UNIT_SPEED, UNIT_DOCUMENT },
	{ "[mi_i]/h", UNIT_MPH, 0.0, UNIT_SPEED, UNIT_DOCUMENT },
	{ "kph", UNIT_KPH, 0.0, UNIT_SPEED, UNIT_ANY_CASE },
	{ "kmh", UNIT_KPH, 0.0, UNIT_SPEED, UNIT_DOCUMENT },
	{ "km_h-1", UNIT_KPH, 0.0, UNIT_SPEED, UNIT_DOCUMENT },
	{ "m_s-1", 1.0, 0.0, UNIT_SPEED, UNIT_DOCUMENT },
	{ "kn", UNIT_KNOT, 0.0, UNIT_SPEED, UNIT_ANY_CASE },
	{ "knot", UNIT_KNOT, 0.0, UNIT_SPEED, UNIT_ANY_CASE },
	{ "knots", UNIT_KNOT, 0.0, UNIT_SPEED, UNIT_ANY_CASE },
	{ "kt", UNIT_KNOT, 0.0, UNIT_SPEED, UNIT_DOCUMENT },
	{ "[kn_i]", UNIT_KNOT, 0.0, UNIT_SPEED, UNIT_DOCUMENT },
	{ "in", UNIT_INCH, 0.0, UNIT_LENGTH, UNIT_ANY_CASE },
	{ "inch", UNIT_INCH, 0.0, UNIT_LENGTH, UNIT_ANY_CASE },
	{ "inches", UNIT_INCH, 0.0, UNIT_LENGTH, UNIT_ANY_CASE },
	{ "[in_i]", UNIT_INCH, 0.0, UNIT_LENGTH, UNIT_DOCUMENT },
	{ "ft", UNIT_FOOT, 0.0, UNIT_LENGTH, UNIT_ANY_CASE },
	{ "foot", UNIT_FOOT, 0.0, UNIT_LENGTH, UNIT_ANY_CASE },
	{ "feet", UNIT_FOOT, 0.0, UNIT_LENGTH, UNIT_ANY_CASE },
	{ "[ft_i]", UNIT_FOOT, 0.0, UNIT_LENGTH, UNIT_DOCUMENT },
	{ "yd", UNIT_YARD, 0.0, UNIT_LENGTH, UNIT_ANY_CASE },
	{ "yard", UNIT_YARD, 0.0, UNIT_LENGTH, UNIT_ANY_CASE },
	{ "yards", UNIT_YARD, 0.0, UNIT_LENGTH, UNIT_ANY_CASE },
	{ "mi", UNIT_MILE, 0.0, UNIT_LENGTH, UNIT_ANY_CASE },
	{ "mile", UNIT_MILE, 0.0, UNIT_LENGTH, UNIT_ANY_CASE },
	{ "miles", UNIT_MILE, 0.0, UNIT_LENGTH, UNIT_ANY_CASE },
	{ "mm", 0.001, 0.0, UNIT_LENGTH, UNIT_EXACT },
	{ "cm", 0.01, 0.0, UNIT_LENGTH, UNIT_EXACT },
	{ "m", 1.0, 0.0, UNIT_LENGTH, UNIT_EXACT },
	{ "meter", 1.0, 0.0, UNIT_LENGTH, UNIT_ANY_CASE },
	{ "meters", 1.0, 0.0, UNIT_LENGTH, UNIT_ANY_CASE },
	{ "metre", 1.0, 0.0, UNIT_LENGTH, UNIT_ANY_CASE },
	{ "metres", 1.0, 0.0, UNIT_LENGTH, UNIT_ANY_CASE },
	{ "km", 1000.0, 0.0, UNIT_LENGTH, UNIT_EXACT },
	{ "s", 1.0, 0.0, UNIT_SPAN, UNIT_EXACT },
	{ "sec", 1.0, 0.0, UNIT_SPAN, UNIT_ANY_CASE },
	{ "second", 1.0, 0.0, UNIT_SPAN, UNIT_ANY_CASE },
	{ "seconds", 1.0, 0.0, UNIT_SPAN, UNIT_ANY_CASE },
	{ "min", 60.0, 0.0, UNIT_SPAN, UNIT_ANY_CASE },
	{ "minute", 60.0, 0.0, UNIT_SPAN, UNIT_ANY_CASE },
	{ "minutes", 60.0, 0.0, UNIT_SPAN, UNIT_ANY_CASE },
	{ "h", 3600.0, 0.0, UNIT_SPAN, UNIT_EXACT },
	{ "hr", 3600.0, 0.0, UNIT_SPAN, UNIT_ANY_CASE },
	{ "hrs", 3600.0, 0.0, UNIT_SPAN, UNIT_ANY_CASE },
	{ "hour", 3600.0, 0.0, UNIT_SPAN, UNIT_ANY_CASE },
	{ "hours", 3600.0, 0.0, UNIT_SPAN, UNIT_ANY_CASE },
	{ "d", 86400.0, 0.0, UNIT_SPAN, UNIT_EXACT },
	{ "day", 86400.0, 0.0, UNIT_SPAN, UNIT_ANY_CASE },
	{ "days", 86400.0, 0.0, UNIT_SPAN, UNIT_ANY_CASE },
	{ "wk", 604800.0, 0.0, UNIT_SPAN, UNIT_ANY_CASE },
	{ "week", 604800.0, 0.0, UNIT_SPAN, UNIT_ANY_CASE },
	{ "weeks", 604800.0, 0.0, UNIT_SPAN, UNIT_ANY_CASE },
	{ "ft2", UNIT_SQUARE_FOOT, 0.0, UNIT_AREA, UNIT_ANY_CASE },
	{ "ft^2", UNIT_SQUARE_FOOT, 0.0, UNIT_AREA, UNIT_ANY_CASE },
	{ "ft²", UNIT_SQUARE_FOOT, 0.0, UNIT_AREA, UNIT_ANY_CASE },
	{ "sq ft", UNIT_SQUARE_FOOT, 0.0, UNIT_AREA, UNIT_ANY_CASE },
	{ "m2", 1.0, 0.0, UNIT_AREA, UNIT_EXACT },
	{ "m^2", 1.0, 0.0, UNIT_AREA, UNIT_EXACT },
	{ "m²", 1.0, 0.0, UNIT_AREA, UNIT_EXACT },
	{ "sq m", 1.0, 0.0, UNIT_AREA, UNIT_EXACT },
	{ "ac", UNIT_ACRE, 0.0, UNIT_AREA, UNIT_ANY_CASE },
	{ "acre", UNIT_ACRE, 0.0, UNIT_AREA, UNIT_ANY_CASE },
	{ "acres", UNIT_ACRE, 0.0, UNIT_AREA, UNIT_ANY_CASE },
	{ "ha", 10000.0, 0.0, UNIT_AREA, UNIT_EXACT },
	{ "hectare", 10000.0, 0.0, UNIT_AREA, UNIT_ANY_CASE },
	{ "hectares", 10000.0, 0.0, UNIT_AREA, UNIT_ANY_CASE },
	{ "gal", UNIT_GALLON, 0.0, UNIT_VOLUME, UNIT_ANY_CASE },
	{ "gallon", UNIT_GALLON, 0.0, UNIT_VOLUME, UNIT_ANY_CASE },
	{ "gallons", UNIT_GALLON, 0.0, UNIT_VOLUME, UNIT_ANY_CASE },
	{ "qt", UNIT_QUART, 0.0, UNIT_VOLUME, UNIT_ANY_CASE },
	{ "quart", UNIT_QUART, 0.0, UNIT_VOLUME, UNIT_ANY_CASE },
	{ "quarts", UNIT_QUART, 0.0, UNIT_VOLUME, UNIT_ANY_CASE },
	{ "pt", UNIT_PINT, 0.0, UNIT_VOLUME, UNIT_ANY_CASE },
	{ "pint", UNIT_PINT, 0.0, UNIT_VOLUME, UNIT_ANY_CASE },
	{ "pints", UNIT_PINT, 0.0, UNIT_VOLUME, UNIT_ANY_CASE },
	{ "fl oz", UNIT_FLUID_OUNCE, 0.0, UNIT_VOLUME, UNIT_ANY_CASE },
	{ "floz", UNIT_FLUID_OUNCE, 0.0, UNIT_VOLUME, UNIT_ANY_CASE },
	{ "tbsp", UNIT_TABLESPOON, 0.0, UNIT_VOLUME, UNIT_ANY_CASE },
	{ "tablespoon", UNIT_TABLESPOON, 0.0, UNIT_VOLUME, UNIT_ANY_CASE },
	{ "tablespoons", UNIT_TABLESPOON, 0.0, UNIT_VOLUME, UNIT_ANY_CASE },
	{ "tsp", UNIT_TEASPOON, 0.0, UNIT_VOLUME, UNIT_ANY_CASE },
	{ "teaspoon", UNIT_TEASPOON, 0.0, UNIT_VOLUME, UNIT_ANY_CASE },
	{ "teaspoons", UNIT_TEASPOON, 0.0, UNIT_VOLUME, UNIT_ANY_CASE },
	{ "L", 1.0, 0.0, UNIT_VOLUME, UNIT_EXACT },
	{ "l", 1.0, 0.0, UNIT_VOLUME, UNIT_EXACT },
	{ "liter", 1.0, 0.0, UNIT_VOLUME, UNIT_ANY_CASE },
	{ "liters", 1.0, 0.0, UNIT_VOLUME, UNIT_ANY_CASE },
	{ "litre", 1.0, 0.0, UNIT_VOLUME, UNIT_ANY_CASE },
	{ "litres", 1.0, 0.0, UNIT_VOLUME, UNIT_ANY_CASE },
	{ "mL", 0.001, 0.0, UNIT_VOLUME, UNIT_EXACT },
	{ "ml", 0.001, 0.0, UNIT_VOLUME, UNIT_EXACT },
	{ "cc", 0.001, 0.0, UNIT_VOLUME, UNIT_ANY_CASE },
	{ "g", 1.0, 0.0, UNIT_MASS, UNIT_EXACT },
	{ "gram", 1.0, 0.0, UNIT_MASS, UNIT_ANY_CASE },
	{ "grams", 1.0, 0.0, UNIT_MASS, UNIT_ANY_CASE },
	{ "kg", 1000.0, 0.0, UNIT_MASS, UNIT_EXACT },
	{ "mg", 0.001, 0.0, UNIT_MASS, UNIT_EXACT },
	{ "lb", UNIT_POUND, 0.0, UNIT_MASS, UNIT_ANY_CASE },
	{ "lbs", UNIT_POUND, 0.0, UNIT_MASS, UNIT_ANY_CASE },
	{ "pound", UNIT_POUND, 0.0, UNIT_MASS, UNIT_ANY_CASE },
	{ "pounds", UNIT_POUND, 0.0, UNIT_MASS, UNIT_ANY_CASE },
	{ "oz", UNIT_OUNCE, 0.0, UNIT_MASS, UNIT_ANY_CASE },
	{ "ounce", UNIT_OUNCE, 0.0, UNIT_MASS, UNIT_ANY_CASE },
	{ "ounces", UNIT_OUNCE, 0.0, UNIT_MASS, UNIT_ANY_CASE },
	{ "kg_m-2", 1.0, 0.0, UNIT_WATER, UNIT_DOCUMENT },
	{ "kg m-2", 1.0, 0.0, UNIT_WATER, UNIT_DOCUMENT },
	{ "%", 1.0, 0.0, UNIT_PERCENT, UNIT_EXACT },
	{ "percent", 1.0, 0.0, UNIT_PERCENT, UNIT_ANY_CASE },
	{ "deg", 1.0, 0.0, UNIT_ANGLE, UNIT_ANY_CASE },
	{ "degree", 1.0, 0.0, UNIT_ANGLE, UNIT_ANY_CASE },
	{ "degrees", 1.0, 0.0, UNIT_ANGLE, UNIT_ANY_CASE },
	{ "°", 1.0, 0.0, UNIT_ANGLE, UNIT_EXACT },
	{ "degree_(angle)", 1.0, 0.0, UNIT_ANGLE, UNIT_DOCUMENT },
	{ "1", 1.0, 0.0, UNIT_ONE, UNIT_DOCUMENT },
};

static const char *const class_name[UNIT_CLASSES] = {
	[UNIT_NONE] = "bare number",
	[UNIT_TEMPERATURE] = "temperature",
	[UNIT_SPEED] = "speed",
	[UNIT_LENGTH] = "length",
	[UNIT_SPAN] = "time span",
	[UNIT_AREA] = "area",
	[UNIT_VOLUME] = "volume",
	[UNIT_MASS] = "mass",
	[UNIT_WATER] = "water depth",
	[UNIT_PERCENT] = "percentage",
	[UNIT_ANGLE] = "angle",
	[UNIT_ONE] = "bare number",
};

const struct unit *
unit_at(size_t i)
{
	return i < sizeof table / sizeof table[0] ? &table[i] : NULL;
}

const struct unit *
unit_find(const char *name, bool documents)
{
	const struct unit *near = NULL;
	for (size_t i = 0; i < sizeof table / sizeof table[0]; i++) {
		const struct unit *unit = &table[i];
		if (unit->naming == UNIT_DOCUMENT && !documents)
			continue;
		if (strcmp(unit->name, name) == 0)
			return unit;
		if (unit->naming == UNIT_ANY_CASE &&
		    strcasecmp(unit->name, name) == 0)
			near = unit;
	}
	return near;
}

const char *unit_class_name(enum unit_class class)
{
	return class_name[class];
}
