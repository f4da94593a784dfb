#include "config/card_values.h"

#include "config/values.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

/* The text from `from` on, `length` bytes, without the blanks around it. */
static const char *
cut(struct arena *arena, const char *from, size_t length)
{
	while (length > 0 && *from == ' ') {
		from++;
		length--;
	}
	while (length > 0 && from[length - 1] == ' ')
		length--;
	char *part = arena_array(arena, length + 1, 1);
	memcpy(part, from, length);
	return part;
}

bool
value_said(struct arena *arena, const char *text, struct said *ret,
    struct error *error)
{
	const char *part[3] = { "", "", "" };
	const char *rest = text;
	size_t count = 0;
	do {
		size_t length = strcspn(rest, "|");
		part[count++] = cut(arena, rest, length);
		rest = rest[length] == '|' ? rest + length + 1 : NULL;
	} while (count < 3 && rest != NULL);
	if (rest != NULL)
		return error_set(error, ERROR_INPUT,
		    "'%s' has too many parts: the value, the label's words and "
		    "their place",
		    text);
	if (part[0][0] == '\0' || part[count - 1][0] == '\0')
		return error_set(
		    error, ERROR_INPUT, "'%s' says nothing beside a '|'", text);
	*ret = (struct said){ .value = part[0],
		.words = part[1][0] != '\0' ? part[1] : NULL,
		.place = part[2][0] != '\0' ? part[2] : NULL };
	return true;
}

bool
value_is_none(const char *text)
{
	return strcmp(text, "none on label") == 0;
}

/* The two sides of a word that stands between blanks. */
static bool
split(const char *text, const char *word, char *first, size_t size,
    const char **ret_second)
{
	const char *at = strstr(text, word);
	if (at == NULL || (size_t)(at - text) >= size)
		return false;
	memcpy(first, text, (size_t)(at - text));
	first[at - text] = '\0';
	*ret_second = at + strlen(word);
	return true;
}

bool
value_within(const char *text, enum bound *ret_bound, double *ret_amount,
    double *ret_span, struct error *error)
{
	static const struct setting amount = { .quantity = QUANTITY_RAIN,
		.least = 0.1,
		.most = 500,
		.range = "0.1 mm to 500 mm" };
	static const struct setting span = { .quantity = QUANTITY_SPAN,
		.least = 3600,
		.most = 60 * (double)DAY_SECONDS,
		.range = "1 h to 60 d" };
	char first[QUANTITY_BUFFER * 2];
	const char *second;
	enum bound bound = *ret_bound;
	double rain, seconds;
	if (!split(text, " within ", first, sizeof first, &second))
		return error_set(error, ERROR_INPUT,
		    "'%s' is not an amount of water within a span; write "
		    "0.5 in within 48 h",
		    text);
	if (!value_limit(&amount, first, &bound, &rain, error) ||
	    !value_quantity(&span, second, &seconds, error))
		return false;
	*ret_bound = bound;
	*ret_amount = rain;
	*ret_span = seconds;
	return true;
}

bool
value_rate_per_area(const char *text, double *ret, enum quantity_kind *ret_kind,
    struct error *error)
{
	double rate;
	enum quantity_kind kind;
	if (!value_rate(text, &rate, &kind, error))
		return false;
	if (!quantity_is_per_area(kind))
		return error_set(
		    error, ERROR_INPUT, "'%s' is not a rate per area", text);
	*ret = rate;
	*ret_kind = kind;
	return true;
}

/* "02-15"; a leap day is a day. */
static bool
read_day(const char *text, int *ret_month, int *ret_day)
{
	char date[sizeof "2024-02-15"];
	int64_t ignored;
	struct civil civil;
	struct zone utc = { 0 };
	if (strlen(text) != 5)
		return false;
	(void)snprintf(date, sizeof date, "2024-%s", text);
	if (!civil_parse(date, &utc, &ignored, NULL))
		return false;
	civil = civil_from_utc(&utc, ignored);
	*ret_month = civil.month;
	*ret_day = civil.day;
	return true;
}

bool
value_dates(const char *text, struct date_span *ret, struct error *error)
{
	char first[8];
	const char *second;
	struct date_span span;
	if (!split(text, " to ", first, sizeof first, &second) ||
	    !read_day(first, &span.from_month, &span.from_day) ||
	    !read_day(second, &span.to_month, &span.to_day))
		return error_set(error, ERROR_INPUT,
		    "'%s' is not a span of the year; write 02-15 to 05-31",
		    text);
	*ret = span;
	return true;
}

bool
value_partner(const char *text, struct error *error)
{
	size_t length = strlen(text);
	bool good = length > 0 && length <= LIMIT_NAME_BYTES;
	for (size_t i = 0; i < length && good; i++)
		good = isalnum((unsigned char)text[i]) != 0 ||
		       strchr("-_.,", text[i]) != NULL;
	if (good)
		return true;
	return error_set(error, ERROR_INPUT,
	    "'%.80s' is not a name: letters, digits, '-', '_', '.' and ',' "
	    "only",
	    text);
}

/* The name that a text begins with, and what follows its blank. */
static bool
take_name(const char *text, char name[LIMIT_NAME_BYTES + 1],
    const char **ret_rest, struct error *error)
{
	char first[LIMIT_NAME_BYTES + 1];
	if (!split(text, " ", first, sizeof first, ret_rest))
		return error_set(error, ERROR_INPUT,
		    "'%s' is not a name and an amount", text);
	if (!value_partner(first, error))
		return false;
	memcpy(name, first, sizeof first);
	return true;
}

bool
value_active(const char *text, char name[LIMIT_NAME_BYTES + 1],
    struct active *ret, struct error *error)
{
	static const enum quantity_kind kinds[] = { QUANTITY_MASS_PER_VOLUME,
		QUANTITY_PERCENT };
	const double heaviest = 2000; /* g/L: no liquid product is */
	char first[LIMIT_NAME_BYTES + 1] = "";
	const char *rest = text;
	enum quantity_kind kind;
	double content;
	if (!take_name(text, first, &rest, error) ||
	    !quantity_parse_any(rest, kinds, 2, &content, &kind, error))
		return false;
	bool liquid = kind == QUANTITY_MASS_PER_VOLUME;
	content /= liquid ? 1 : 100;
	if (!(content > 0) || content > (liquid ? heaviest : 1))
		return error_set(error, ERROR_INPUT,
		    "'%s' is not what a product can hold", text);
	memcpy(name, first, sizeof first);
	ret->content = content;
	ret->is_liquid = liquid;
	return true;
}

bool
value_active_rate(const char *text, char name[LIMIT_NAME_BYTES + 1],
    double *ret, struct error *error)
{
	char first[LIMIT_NAME_BYTES + 1] = "";
	const char *rest = text;
	double rate;
	if (!take_name(text, first, &rest, error) ||
	    !quantity_parse(rest, QUANTITY_MASS_PER_AREA, &rate, error))
		return false;
	if (!(rate > 0))
		return error_set(error, ERROR_INPUT,
		    "'%s' is not a rate: it has to be more than nothing", text);
	memcpy(name, first, sizeof first);
	*ret = rate;
	return true;
}

/* "north-northeast" and "NNE" as "NNE"; "" for what is no compass word. */
static void
shorten(const char *word, size_t length, char point[4])
{
	static const char *const names[] = { "north", "east", "south", "west" };
	char short_one[4] = "";
	size_t used = 0, at = 0;
	while (at < length) {
		size_t step = 1;
		for (size_t i = 0; i < 4; i++)
			if (strncasecmp(
				word + at, names[i], strlen(names[i])) == 0)
				step = strlen(names[i]);
		if (used == 3 || at + step > length)
			return;
		short_one[used++] = (char)toupper((unsigned char)word[at]);
		at += step;
		at += at + 1 < length && word[at] == '-' ? 1 : 0;
	}
	memcpy(point, short_one, sizeof short_one);
}

static bool
read_point(const char *word, size_t length, double *ret)
{
	static const char *const points[] = { "N", "NNE", "NE", "ENE", "E",
		"ESE", "SE", "SSE", "S", "SSW", "SW", "WSW", "W", "WNW", "NW",
		"NNW" };
	char point[4] = "";
	shorten(word, length, point);
	for (size_t i = 0; i < sizeof points / sizeof points[0]; i++)
		if (strcmp(points[i], point) == 0) {
			*ret = 22.5 * (double)i;
			return true;
		}
	return false;
}

bool
value_side(const char *text, double *ret_bearing, const char **ret_what,
    struct error *error)
{
	char degrees[QUANTITY_BUFFER] = "";
	double bearing = 0;
	size_t length = strcspn(text, " ");
	bool good = read_point(text, length, &bearing);
	if (!good) {
		/* "90 deg": two words */
		length += text[length] == ' ' ? 1 : 0;
		length += strcspn(text + length, " ");
		if (length < sizeof degrees)
			memcpy(degrees, text, length);
		good =
		    quantity_parse(degrees, QUANTITY_ANGLE, &bearing, NULL) &&
		    bearing >= 0 && bearing <= 360;
	}
	if (!good || text[length] != ' ' || text[length + 1] == '\0')
		return error_set(error, ERROR_INPUT,
		    "'%s' is not a side of a site; write \"north pond\" or "
		    "\"90 deg vegetable bed\"",
		    text);
	*ret_bearing = fmod(bearing, 360);
	*ret_what = text + length + 1;
	return true;
}
