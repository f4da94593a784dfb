#include "config/values.h"

#include <ctype.h>
#include <math.h>
#include <string.h>

/* A bound is in itself, whatever the rounding: 140 degF is 60 degC. */
static bool
in_bounds(const struct setting *setting, const char *text, double value,
    struct error *error)
{
	bool bounded = setting->least != 0 || setting->most != 0;
	double least = setting->least - 1e-9 * fabs(setting->least);
	double most = setting->most + 1e-9 * fabs(setting->most);
	if (!bounded || (value >= least && value <= most))
		return true;
	return error_set(error, ERROR_INPUT, "'%s' is out of range (%s)", text,
	    setting->range);
}

bool
value_quantity(const struct setting *setting, const char *text, double *ret,
    struct error *error)
{
	double value;
	if (!quantity_parse(text, setting->quantity, &value, error) ||
	    !in_bounds(setting, text, value, error))
		return false;
	*ret = value;
	return true;
}

bool
value_limit(const struct setting *setting, const char *text,
    enum bound *ret_bound, double *ret, struct error *error)
{
	static const enum bound bounds[] = { BOUND_AT_MOST, BOUND_BELOW,
		BOUND_AT_LEAST, BOUND_ABOVE };
	enum bound bound = *ret_bound;
	const char *rest = text;
	for (size_t i = 0; i < sizeof bounds / sizeof bounds[0]; i++) {
		const char *word = bound_word(bounds[i]);
		size_t length = strlen(word);
		if (strncmp(text, word, length) != 0 || text[length] != ' ')
			continue;
		bound = bounds[i];
		rest = text + length + 1;
	}
	if (!value_quantity(setting, rest, ret, error))
		return false;
	*ret_bound = bound;
	return true;
}

bool
value_rate(const char *text, double *ret, enum quantity_kind *ret_kind,
    struct error *error)
{
	static const enum quantity_kind kinds[] = { QUANTITY_MASS_PER_AREA,
		QUANTITY_VOLUME_PER_AREA, QUANTITY_MASS_PER_VOLUME,
		QUANTITY_VOLUME_PER_VOLUME };
	double value;
	enum quantity_kind kind;
	if (!quantity_parse_any(text, kinds, sizeof kinds / sizeof kinds[0],
		&value, &kind, error))
		return false;
	if (!(value > 0))
		return error_set(error, ERROR_INPUT,
		    "'%s' is not a rate: it has to be more than nothing", text);
	*ret = value;
	*ret_kind = kind;
	return true;
}

bool
value_clock_span(const char *text, struct clock_span *ret, struct error *error)
{
	char from[8] = "", to[8] = "";
	const char *dash = strchr(text, '-');
	struct clock_span span;
	if (dash == NULL || (size_t)(dash - text) >= sizeof from ||
	    strlen(dash + 1) >= sizeof to)
		return error_set(error, ERROR_INPUT,
		    "'%s' is not a span of the day; write 06:30-10:30", text);
	memcpy(from, text, (size_t)(dash - text));
	memcpy(to, dash + 1, strlen(dash + 1));
	if (!civil_parse_clock(from, &span.from, error) ||
	    !civil_parse_clock(to, &span.to, error))
		return false;
	if (span.from >= span.to)
		return error_set(error, ERROR_INPUT,
		    "'%s' ends before it begins; write a span over midnight "
		    "as two",
		    text);
	*ret = span;
	return true;
}

/* What follows the date that `text` begins with, or NULL. */
static const char *
split_date(const char *text, const struct zone *zone, int64_t *ret)
{
	char date[sizeof "2026-02-01"] = "";
	const char *blank = strchr(text, ' ');
	if (blank == NULL || (size_t)(blank - text) != sizeof date - 1)
		return NULL;
	memcpy(date, text, (size_t)(blank - text));
	return civil_parse(date, zone, ret, NULL) ? blank + 1 : NULL;
}

/* A civil day is a UTC day of no zone at all. */
static const struct zone no_zone = { 0 };

bool
value_date(const char *text, int64_t *ret, struct error *error)
{
	int64_t at;
	if (strlen(text) != sizeof "2026-02-01" - 1 ||
	    !civil_parse(text, &no_zone, &at, NULL))
		return error_set(error, ERROR_INPUT,
		    "'%s' is not a date; write 2026-03-01", text);
	*ret = civil_day(&no_zone, at);
	return true;
}

bool
value_amount(
    const char *text, double *ret, bool *ret_is_mass, struct error *error)
{
	static const enum quantity_kind kinds[] = { QUANTITY_MASS,
		QUANTITY_VOLUME };
	double value;
	enum quantity_kind kind;
	if (!quantity_parse_any(text, kinds, 2, &value, &kind, error))
		return false;
	if (value < 0)
		return error_set(
		    error, ERROR_INPUT, "'%s' is less than nothing", text);
	*ret = value;
	*ret_is_mass = kind == QUANTITY_MASS;
	return true;
}

bool
value_weighing(const char *text, struct weighing *ret, bool *ret_is_mass,
    struct error *error)
{
	int64_t at;
	struct weighing weighing;
	const char *rest = split_date(text, &no_zone, &at);
	if (rest == NULL)
		return error_set(error, ERROR_INPUT,
		    "'%s' is not a date and what was left; write 2026-05-01 "
		    "1.1 oz",
		    text);
	if (!value_amount(rest, &weighing.amount, ret_is_mass, error))
		return false;
	weighing.day = civil_day(&no_zone, at);
	*ret = weighing;
	return true;
}

bool
value_told(const char *text, const struct zone *zone, struct turf_told *ret,
    struct error *error)
{
	struct turf_told told;
	size_t state;
	const char *rest = split_date(text, zone, &told.from);
	if (rest == NULL)
		return error_set(error, ERROR_INPUT,
		    "'%s' is not a look at the turf; write 2026-02-01 dormant",
		    text);
	if (!value_choice("dormant green-up green", rest, &state, error))
		return false;
	told.state = (enum turf_state)state;
	*ret = told;
	return true;
}

bool
value_soil(const char *text, const struct zone *zone, struct soil_reading *ret,
    struct error *error)
{
	const double least = -40, most = 60;
	struct soil_reading reading;
	const char *rest = split_date(text, zone, &reading.at);
	if (rest == NULL)
		return error_set(error, ERROR_INPUT,
		    "'%s' is not a soil temperature of a day; write "
		    "2026-03-01 54 degF",
		    text);
	if (!quantity_parse(
		rest, QUANTITY_TEMPERATURE, &reading.temperature, error))
		return false;
	if (reading.temperature < least || reading.temperature > most)
		return error_set(error, ERROR_INPUT,
		    "'%s' is no temperature that a soil has", rest);
	*ret = reading;
	return true;
}

bool
value_choice(
    const char *words, const char *text, size_t *ret, struct error *error)
{
	size_t length = strlen(text), position = 0;
	for (const char *word = words; *word != '\0'; position++) {
		size_t size = strcspn(word, " ");
		if (size == length && memcmp(word, text, size) == 0) {
			*ret = position;
			return true;
		}
		word += size;
		word += *word == ' ' ? 1 : 0;
	}
	return error_set(
	    error, ERROR_INPUT, "'%s' is none of: %s", text, words);
}

bool
value_yes_no(const char *text, bool *ret, struct error *error)
{
	size_t position = 0;
	if (!value_choice("no yes", text, &position, error))
		return false;
	*ret = position == 1;
	return true;
}

bool
value_name(const char *text, struct error *error)
{
	size_t length = strlen(text);
	bool good = length > 0 && length <= LIMIT_NAME_BYTES && text[0] != '-';
	for (size_t i = 0; i < length && good; i++)
		good = isalnum((unsigned char)text[i]) != 0 ||
		       strchr("-_.", text[i]) != NULL;
	if (good)
		return true;
	return error_set(error, ERROR_INPUT,
	    "'%.80s' is not a name: letters, digits, '-', '_' and '.' only, "
	    "and no '-' in front",
	    text);
}
