#include "physics/units.h"

#include "physics/units_table.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { SCALES = 3 };

enum digits {
	DIGITS_TENTH,     /* whole, or one decimal when it shows */
	DIGITS_HUNDREDTH, /* at most two decimals */
	DIGITS_DOSE,      /* three figures, at most six decimals */
	DIGITS_WHOLE,     /* whole from 10 on */
	DIGITS_COMMA,     /* the same with commas: 5,000 */
};

/* number = value / factor + offset, from |value| >= least on. */
struct scale {
	const char *label;
	double factor;
	double least;
	double offset;
	enum digits digits;
};

/* Largest unit first; the last has no least value. */
struct ladder {
	size_t main; /* the rung of quantity_number and quantity_unit */
	struct scale scale[SCALES];
};

#define ONE(label, factor, digits)                                             \
	{                                                                      \
		0,                                                             \
		{                                                              \
			{                                                      \
				label, factor, 0.0, 0.0, digits                \
			}                                                      \
		}                                                              \
	}

#define PER_1000_FT2(unit) ((unit) / (1000.0 * UNIT_SQUARE_FOOT))
#define PER_GALLON(unit)   ((unit) / UNIT_GALLON)
#define PER_MINUTE(unit)   ((unit) / 60.0)

/*
 * What is weighed or measured out changes its unit with its size; the main
 * rung is then the small one, so that a rounded table still shows a dose.
 */
static const struct ladder us[QUANTITY_KINDS] = {
	[QUANTITY_TEMPERATURE] = { 0,
	    { { "°F", UNIT_DEGREE_F, 0.0, 32.0, DIGITS_TENTH } } },
	[QUANTITY_TEMPERATURE_DIFFERENCE] =
	    ONE("°F", UNIT_DEGREE_F, DIGITS_TENTH),
	[QUANTITY_SPEED] = ONE("mph", UNIT_MPH, DIGITS_TENTH),
	[QUANTITY_LENGTH] = { 0,
	    { { "ft", UNIT_FOOT, 4.0 * UNIT_FOOT, 0.0, DIGITS_TENTH },
		{ "in", UNIT_INCH, 0.0, 0.0, DIGITS_TENTH } } },
	[QUANTITY_RAIN] = ONE("in", 1000.0 * UNIT_INCH, DIGITS_HUNDREDTH),
	[QUANTITY_SPAN] = ONE("h", 3600.0, DIGITS_HUNDREDTH),
	[QUANTITY_AREA] = ONE("ft2", UNIT_SQUARE_FOOT, DIGITS_COMMA),
	[QUANTITY_VOLUME] = { 1,
	    { { "gal", UNIT_GALLON, UNIT_GALLON, 0.0, DIGITS_DOSE },
		{ "fl oz", UNIT_FLUID_OUNCE, 0.0, 0.0, DIGITS_DOSE } } },
	[QUANTITY_MASS] = { 2,
	    { { "lb", UNIT_POUND, UNIT_POUND, 0.0, DIGITS_DOSE },
		{ "oz", UNIT_OUNCE, UNIT_OUNCE, 0.0, DIGITS_DOSE },
		{ "g", 1.0, 0.0, 0.0, DIGITS_DOSE } } },
	[QUANTITY_VOLUME_PER_AREA] = { 1,
	    { { "gal/1000 ft2", PER_1000_FT2(UNIT_GALLON),
		  PER_1000_FT2(UNIT_QUART), 0.0, DIGITS_DOSE },
		{ "fl oz/1000 ft2", PER_1000_FT2(UNIT_FLUID_OUNCE), 0.0, 0.0,
		    DIGITS_DOSE } } },
	[QUANTITY_MASS_PER_AREA] = { 2,
	    { { "lb/1000 ft2", PER_1000_FT2(UNIT_POUND),
		  PER_1000_FT2(UNIT_POUND), 0.0, DIGITS_DOSE },
		{ "oz/1000 ft2", PER_1000_FT2(UNIT_OUNCE),
		    PER_1000_FT2(UNIT_OUNCE), 0.0, DIGITS_DOSE },
		{ "g/1000 ft2", PER_1000_FT2(1.0), 0.0, 0.0, DIGITS_DOSE } } },
	[QUANTITY_VOLUME_PER_VOLUME] =
	    ONE("fl oz/gal", PER_GALLON(UNIT_FLUID_OUNCE), DIGITS_DOSE),
	[QUANTITY_MASS_PER_VOLUME] = { 1,
	    { { "oz/gal", PER_GALLON(UNIT_OUNCE), PER_GALLON(UNIT_OUNCE), 0.0,
		  DIGITS_DOSE },
		{ "g/gal", PER_GALLON(1.0), 0.0, 0.0, DIGITS_DOSE } } },
	[QUANTITY_AREA_PER_TIME] =
	    ONE("ft2/min", PER_MINUTE(UNIT_SQUARE_FOOT), DIGITS_COMMA),
	[QUANTITY_VOLUME_PER_TIME] = { 1,
	    { { "gal/min", PER_MINUTE(UNIT_GALLON), PER_MINUTE(UNIT_QUART), 0.0,
		  DIGITS_DOSE },
		{ "fl oz/min", PER_MINUTE(UNIT_FLUID_OUNCE), 0.0, 0.0,
		    DIGITS_DOSE } } },
	[QUANTITY_PERCENT] = ONE("%", 1.0, DIGITS_TENTH),
	[QUANTITY_ANGLE] = ONE("°", 1.0, DIGITS_TENTH),
	[QUANTITY_NUMBER] = ONE("", 1.0, DIGITS_HUNDREDTH),
};

static const struct ladder metric[QUANTITY_KINDS] = {
	[QUANTITY_TEMPERATURE] = ONE("°C", 1.0, DIGITS_TENTH),
	[QUANTITY_TEMPERATURE_DIFFERENCE] = ONE("°C", 1.0, DIGITS_TENTH),
	[QUANTITY_SPEED] = ONE("km/h", UNIT_KPH, DIGITS_TENTH),
	[QUANTITY_LENGTH] = { 0, { { "m", 1.0, 1.0, 0.0, DIGITS_HUNDREDTH },
				     { "cm", 0.01, 0.0, 0.0, DIGITS_TENTH } } },
	[QUANTITY_RAIN] = ONE("mm", 1.0, DIGITS_TENTH),
	[QUANTITY_SPAN] = ONE("h", 3600.0, DIGITS_HUNDREDTH),
	[QUANTITY_AREA] = ONE("m2", 1.0, DIGITS_WHOLE),
	[QUANTITY_VOLUME] = { 1, { { "L", 1.0, 1.0, 0.0, DIGITS_DOSE },
				     { "mL", 0.001, 0.0, 0.0, DIGITS_DOSE } } },
	[QUANTITY_MASS] = { 1, { { "kg", 1000.0, 1000.0, 0.0, DIGITS_DOSE },
				   { "g", 1.0, 0.0, 0.0, DIGITS_DOSE } } },
	[QUANTITY_VOLUME_PER_AREA] = { 1,
	    { { "L/100 m2", 0.01, 0.01, 0.0, DIGITS_DOSE },
		{ "mL/100 m2", 0.00001, 0.0, 0.0, DIGITS_DOSE } } },
	[QUANTITY_MASS_PER_AREA] = { 1,
	    { { "kg/100 m2", 10.0, 10.0, 0.0, DIGITS_DOSE },
		{ "g/100 m2", 0.01, 0.0, 0.0, DIGITS_DOSE } } },
	[QUANTITY_VOLUME_PER_VOLUME] = ONE("mL/L", 0.001, DIGITS_DOSE),
	[QUANTITY_MASS_PER_VOLUME] = ONE("g/L", 1.0, DIGITS_DOSE),
	[QUANTITY_AREA_PER_TIME] = ONE("m2/min", PER_MINUTE(1.0), DIGITS_WHOLE),
	[QUANTITY_VOLUME_PER_TIME] = { 1,
	    { { "L/min", PER_MINUTE(1.0), PER_MINUTE(1.0), 0.0, DIGITS_DOSE },
		{ "mL/min", PER_MINUTE(0.001), 0.0, 0.0, DIGITS_DOSE } } },
	[QUANTITY_PERCENT] = ONE("%", 1.0, DIGITS_TENTH),
	[QUANTITY_ANGLE] = ONE("°", 1.0, DIGITS_TENTH),
	[QUANTITY_NUMBER] = ONE("", 1.0, DIGITS_HUNDREDTH),
};

static const struct ladder *
ladder_of(enum quantity_kind kind, enum unit_system system)
{
	return system == UNITS_US ? &us[kind] : &metric[kind];
}

bool
quantity_is_by_mass(enum quantity_kind rate)
{
	return rate == QUANTITY_MASS_PER_AREA ||
	       rate == QUANTITY_MASS_PER_VOLUME;
}

bool
quantity_is_per_area(enum quantity_kind rate)
{
	return rate == QUANTITY_MASS_PER_AREA ||
	       rate == QUANTITY_VOLUME_PER_AREA;
}

const char *
quantity_unit(enum quantity_kind kind, enum unit_system system)
{
	const struct ladder *ladder = ladder_of(kind, system);
	return ladder->scale[ladder->main].label;
}

double
quantity_number(double value, enum quantity_kind kind, enum unit_system system)
{
	const struct ladder *ladder = ladder_of(kind, system);
	const struct scale *scale = &ladder->scale[ladder->main];
	return value / scale->factor + scale->offset;
}

/* A hair of tolerance, so that a parsed "1 gal" prints as such. */
static const struct scale *
choose_scale(const struct ladder *ladder, double value)
{
	size_t i = 0;
	while (fabs(value) < ladder->scale[i].least * (1.0 - 1e-9))
		i++;
	return &ladder->scale[i];
}

static int
count_decimals(double number, enum digits digits)
{
	double size = fabs(number);
	switch (digits) {
	case DIGITS_TENTH:
		return 1;
	case DIGITS_HUNDREDTH:
		return 2;
	case DIGITS_WHOLE:
	case DIGITS_COMMA:
		return size < 9.95 ? 1 : 0;
	case DIGITS_DOSE:
		break;
	}
	int decimals = 0;
	while (size < 99.95 && decimals < 6) {
		size *= 10;
		decimals++;
	}
	return decimals;
}

/* "12.50" to "12.5", "3.0" to "3", "-0.0" to "0". */
static void
trim_zeros(char *text)
{
	if (strchr(text, '.') != NULL) {
		size_t length = strlen(text);
		while (text[length - 1] == '0')
			length--;
		if (text[length - 1] == '.')
			length--;
		text[length] = '\0';
	}
	if (strcmp(text, "-0") == 0)
		memmove(text, "0", 2);
}

/* Commas between the thousands of a whole number. */
static void
put_commas(char *text, size_t size)
{
	size_t length = strlen(text);
	size_t start = text[0] == '-' ? 1 : 0;
	if (strchr(text, '.') != NULL)
		return;
	for (size_t at = length; at > start + 3 && length + 2 <= size;) {
		at -= 3;
		memmove(text + at + 1, text + at, length - at + 1);
		text[at] = ',';
		length++;
	}
}

char *
quantity_print(char *buffer, size_t size, double value, enum quantity_kind kind,
    enum unit_system system)
{
	char digits[32];
	if (kind == QUANTITY_SPAN)
		return span_print(buffer, size, value);
	const struct scale *scale =
	    choose_scale(ladder_of(kind, system), isnan(value) ? 0 : value);
	double number = value / scale->factor + scale->offset;
	if (!isfinite(number)) {
		(void)snprintf(buffer, size, "unknown");
		return buffer;
	}
	if (fabs(number) < 1e15) {
		(void)snprintf(digits, sizeof digits, "%.*f",
		    count_decimals(number, scale->digits), number);
		trim_zeros(digits);
		if (scale->digits == DIGITS_COMMA)
			put_commas(digits, sizeof digits);
	} else {
		(void)snprintf(digits, sizeof digits, "%.3g", number);
	}
	bool tight = scale->label[0] == '\0' || strcmp(scale->label, "°") == 0;
	(void)snprintf(
	    buffer, size, "%s%s%s", digits, tight ? "" : " ", scale->label);
	return buffer;
}

/* The parts that are not 0, of whole seconds over 0. */
static void
print_parts(char *buffer, size_t size, double seconds)
{
	static const struct {
		double length;
		const char *label;
	} part[] = { { 86400.0, "d" }, { 3600.0, "h" }, { 60.0, "min" },
		{ 1.0, "s" } };
	size_t used = 0;
	for (size_t i = seconds < 172800.0 ? 1 : 0; i < 4 && used < size; i++) {
		double count = floor(seconds / part[i].length);
		seconds -= count * part[i].length;
		if (count == 0)
			continue;
		int length = snprintf(buffer + used, size - used, "%s%.0f %s",
		    used == 0 ? "" : " ", count, part[i].label);
		used += length > 0 ? (size_t)length : 0;
	}
}

/*
 * To the second below an hour, else to the minute. Hours go up to 47, because
 * labels write "24 h" and "36 h" and "1 d" could be read as a calendar day.
 */
char *
span_print(char *buffer, size_t size, double seconds)
{
	if (!isfinite(seconds) || fabs(seconds) >= 1e15) {
		(void)snprintf(buffer, size, "unknown");
		return buffer;
	}
	double rest = fabs(seconds);
	rest = rest < 3599.5 ? round(rest) : round(rest / 60.0) * 60.0;
	bool negative = seconds < 0 && rest > 0;
	(void)snprintf(buffer, size, rest == 0 ? "0 min" : "-");
	if (rest > 0 && size > 1)
		print_parts(buffer + negative, size - negative, rest);
	return buffer;
}
