#include "physics/units_expression.h"

#include "base/limits.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static bool
is_digit(char c)
{
	return c >= '0' && c <= '9';
}

static bool
is_space(char c)
{
	return c == ' ' || c == '\t';
}

static const char *
skip_spaces(const char *text)
{
	while (is_space(*text))
		text++;
	return text;
}

static size_t
count_digits(const char *text)
{
	size_t count = 0;
	while (is_digit(text[count]))
		count++;
	return count;
}

/* Length of the ",ddd" groups behind a head of one to three digits. */
static size_t
measure_groups(const char *text, size_t head)
{
	size_t length = 0;
	if (head < 1 || head > 3 || (head == 1 && text[-1] == '0'))
		return 0;
	while (text[length] == ',' && count_digits(text + length + 1) == 3)
		length += 4;
	return length;
}

/* Length of the number without its sign; 0 when there is none. */
static size_t
measure_number(const char *text, bool *ret_grouped)
{
	size_t whole = count_digits(text);
	size_t groups = measure_groups(text + whole, whole);
	size_t length = whole + groups;
	*ret_grouped = groups > 0;
	if (text[length] != '.')
		return length;
	size_t fraction = count_digits(text + length + 1);
	return fraction == 0 ? 0 : length + 1 + fraction;
}

bool
number_take(const char **cursor, double *ret, bool *ret_grouped)
{
	char digits[LIMIT_NAME_BYTES];
	const char *text = *cursor;
	bool negative = *text == '-';
	if (negative)
		text++;
	bool grouped = false;
	size_t length = measure_number(text, &grouped);
	if (length == 0 || length >= sizeof digits)
		return false;
	size_t used = 0;
	for (size_t i = 0; i < length; i++) {
		if (text[i] != ',')
			digits[used++] = text[i];
	}
	digits[used] = '\0';
	double value = strtod(digits, NULL);
	*cursor = text + length;
	*ret = negative ? -value : value;
	*ret_grouped = grouped;
	return true;
}

/* Copies text without outer spaces, and inner runs of spaces as one. */
static bool
copy_name(const char *text, size_t length, char *name, size_t size)
{
	size_t used = 0;
	for (size_t i = 0; i < length; i++) {
		bool space = is_space(text[i]);
		if (space && (used == 0 || name[used - 1] == ' '))
			continue;
		if (used + 1 >= size)
			return false;
		name[used++] = text[i];
		if (space)
			name[used - 1] = ' ';
	}
	if (used > 0 && name[used - 1] == ' ')
		used--;
	name[used] = '\0';
	return true;
}

static bool
find_name(const char *text, size_t length, bool documents,
    const struct unit **ret, struct error *error)
{
	char name[LIMIT_NAME_BYTES];
	if (!copy_name(text, length, name, sizeof name))
		return error_set(error, ERROR_INPUT, "no unit is that long");
	if (name[0] == '\0')
		return error_set(
		    error, ERROR_INPUT, "a unit is missing beside the '/'");
	const struct unit *unit = unit_find(name, documents);
	if (unit == NULL)
		return error_set(error, ERROR_INPUT, "unknown unit '%s'", name);
	*ret = unit;
	return true;
}

/* What stands under the '/': a number or none, and a unit. */
static bool
read_under(const char *text, bool documents, struct expression *expression,
    struct error *error)
{
	const char *cursor = skip_spaces(text);
	bool grouped = false;
	if (number_take(&cursor, &expression->count, &grouped) &&
	    !(expression->count > 0))
		return error_set(error, ERROR_INPUT,
		    "the number under the '/' must be over 0");
	if (!find_name(
		cursor, strlen(cursor), documents, &expression->under, error))
		return false;
	if (grouped && expression->under->factor != UNIT_SQUARE_FOOT)
		return error_set(error, ERROR_INPUT,
		    "write the number under the '/' without a comma");
	return true;
}

bool
expression_read(const char *text, bool documents, struct expression *ret,
    struct error *error)
{
	struct expression expression = { .count = 1.0 };
	text = skip_spaces(text);
	size_t length = strlen(text);
	/* Some documents' names hold a '/', so the whole text comes first. */
	if (length == 0 ||
	    find_name(text, length, documents, &expression.over, error)) {
		*ret = expression;
		return true;
	}
	const char *slash = strchr(text, '/');
	if (slash == NULL)
		return false;
	if (!find_name(text, (size_t)(slash - text), documents,
		&expression.over, error) ||
	    !read_under(slash + 1, documents, &expression, error))
		return false;
	*ret = expression;
	return true;
}

/* One part of a span at *cursor: a number without sign, and its unit. */
static bool
take_part(const char **cursor, double *ret_number, double *ret_factor)
{
	bool grouped = false;
	const char *text = *cursor;
	if (*text == '-' || !number_take(&text, ret_number, &grouped) ||
	    grouped)
		return false;
	text = skip_spaces(text);
	size_t length = strcspn(text, " \t0123456789.-");
	const struct unit *unit = NULL;
	if (!find_name(text, length, false, &unit, NULL) || unit == NULL ||
	    unit->class != UNIT_SPAN)
		return false;
	*ret_factor = unit->factor;
	*cursor = skip_spaces(text + length);
	return true;
}

bool
span_read(const char *text, double *ret)
{
	const char *cursor = skip_spaces(text);
	double sign = *cursor == '-' ? -1.0 : 1.0;
	if (sign < 0)
		cursor++;
	double total = 0;
	double last_factor = HUGE_VAL;
	size_t parts = 0;
	for (bool whole = true; *cursor != '\0'; parts++) {
		double number = 0, factor = 0;
		if (!whole || !take_part(&cursor, &number, &factor) ||
		    factor >= last_factor)
			return false;
		whole = number == floor(number);
		total += number * factor;
		last_factor = factor;
	}
	if (parts < 2)
		return false;
	*ret = sign * total;
	return true;
}
