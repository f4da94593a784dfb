#include "base/civil.h"

#include <stdio.h>
#include <string.h>

static const char *const weekday_name[] = { "Sun", "Mon", "Tue", "Wed", "Thu",
	"Fri", "Sat" };
static const char *const month_name[] = { "Jan", "Feb", "Mar", "Apr", "May",
	"Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec" };

static int64_t
floor_divide(int64_t a, int64_t b)
{
	return a / b - (a % b < 0 ? 1 : 0);
}

/*
 * Days since 1970-01-01 of a Gregorian date. Years are counted from March so
 * that the leap day is last; 719468 days lie between 0000-03-01 and 1970.
 */
static int64_t
day_from_date(int year, int month, int day)
{
	int64_t y = year - (month <= 2 ? 1 : 0);
	int64_t era = floor_divide(y, 400);
	int64_t year_of_era = y - era * 400;
	int64_t month_from_march = (month + 9) % 12;
	int64_t day_of_year = (153 * month_from_march + 2) / 5 + day - 1;
	int64_t day_of_era = year_of_era * 365 + year_of_era / 4 -
			     year_of_era / 100 + day_of_year;
	return era * 146097 + day_of_era - 719468;
}

static void
date_from_day(int64_t day, struct civil *ret)
{
	int64_t z = day + 719468;
	int64_t era = floor_divide(z, 146097);
	int64_t day_of_era = z - era * 146097;
	int64_t year_of_era = (day_of_era - day_of_era / 1460 +
				  day_of_era / 36524 - day_of_era / 146096) /
			      365;
	int64_t day_of_year =
	    day_of_era -
	    (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
	int64_t month_from_march = (5 * day_of_year + 2) / 153;
	ret->day = (int)(day_of_year - (153 * month_from_march + 2) / 5 + 1);
	ret->month = (int)(month_from_march < 10 ? month_from_march + 3
						 : month_from_march - 9);
	ret->year = (int)(year_of_era + era * 400 + (ret->month <= 2 ? 1 : 0));
	ret->weekday = (int)(((day + 4) % 7 + 7) % 7);
}

int32_t
zone_offset(const struct zone *zone, int64_t utc)
{
	if (zone->count == 0)
		return 0;
	size_t i = zone->count - 1;
	while (i > 0 && zone->span[i].from > utc)
		i--;
	return zone->span[i].offset;
}

struct civil
civil_from_utc(const struct zone *zone, int64_t utc)
{
	int64_t local = utc + zone_offset(zone, utc);
	int64_t day = floor_divide(local, DAY_SECONDS);
	int second = (int)(local - day * DAY_SECONDS);
	struct civil civil = { .hour = second / 3600,
		.minute = second / 60 % 60,
		.second = second % 60 };
	date_from_day(day, &civil);
	return civil;
}

/*
 * The local second as if it were UTC, less each offset that is in force near
 * it, gives at most two candidates. One that maps back is real; of two real
 * ones the earlier is the first occurrence. None is real in a gap: then the
 * offset before the gap decides.
 */
static int64_t
utc_from_local(const struct zone *zone, int64_t local)
{
	int32_t before = zone_offset(zone, local - DAY_SECONDS);
	int32_t after = zone_offset(zone, local + DAY_SECONDS);
	int64_t first = local - (before > after ? before : after);
	int64_t second = local - (before > after ? after : before);
	if (first + zone_offset(zone, first) == local)
		return first;
	if (second + zone_offset(zone, second) == local)
		return second;
	return local - before;
}

int64_t
utc_from_civil(const struct zone *zone, const struct civil *civil)
{
	int64_t day = day_from_date(civil->year, civil->month, civil->day);
	int second = civil->hour * 3600 + civil->minute * 60 + civil->second;
	return utc_from_local(zone, day * DAY_SECONDS + second);
}

int64_t
civil_day(const struct zone *zone, int64_t utc)
{
	return floor_divide(utc + zone_offset(zone, utc), DAY_SECONDS);
}

int64_t
civil_day_start(const struct zone *zone, int64_t day)
{
	return utc_from_local(zone, day * DAY_SECONDS);
}

static bool
is_leap(int year)
{
	return year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
}

bool
civil_is_valid(const struct civil *civil)
{
	static const int length[] = { 31, 29, 31, 30, 31, 30, 31, 31, 30, 31,
		30, 31 };
	if (civil->year < 1 || civil->year > 9999 || civil->month < 1 ||
	    civil->month > 12 || civil->day < 1 ||
	    civil->day > length[civil->month - 1])
		return false;
	bool leap_day = civil->month == 2 && civil->day == 29;
	return (!leap_day || is_leap(civil->year)) && civil->hour >= 0 &&
	       civil->hour <= 23 && civil->minute >= 0 && civil->minute <= 59 &&
	       civil->second >= 0 && civil->second <= 59;
}

/* Exactly `digits` decimal digits at *cursor, which moves past them. */
static bool
take_number(const char **cursor, int digits, int *ret)
{
	int value = 0;
	for (int i = 0; i < digits; i++) {
		char c = (*cursor)[i];
		if (c < '0' || c > '9')
			return false;
		value = value * 10 + (c - '0');
	}
	*cursor += digits;
	*ret = value;
	return true;
}

static bool
take_character(const char **cursor, char wanted)
{
	if (**cursor != wanted)
		return false;
	(*cursor)++;
	return true;
}

static bool
take_date(const char **cursor, struct civil *civil)
{
	return take_number(cursor, 4, &civil->year) &&
	       take_character(cursor, '-') &&
	       take_number(cursor, 2, &civil->month) &&
	       take_character(cursor, '-') &&
	       take_number(cursor, 2, &civil->day);
}

static bool
take_clock(const char **cursor, struct civil *civil)
{
	if (!take_number(cursor, 2, &civil->hour) ||
	    !take_character(cursor, ':') ||
	    !take_number(cursor, 2, &civil->minute))
		return false;
	return !take_character(cursor, ':') ||
	       take_number(cursor, 2, &civil->second);
}

/* "Z", "+hh:mm" or "-hh:mm"; *ret is seconds east. */
static bool
take_offset(const char **cursor, int *ret)
{
	if (take_character(cursor, 'Z')) {
		*ret = 0;
		return true;
	}
	int sign = **cursor == '-' ? -1 : 1;
	int hours, minutes;
	if (!take_character(cursor, '+') && !take_character(cursor, '-'))
		return false;
	if (!take_number(cursor, 2, &hours) || !take_character(cursor, ':') ||
	    !take_number(cursor, 2, &minutes) || hours > 23 || minutes > 59)
		return false;
	*ret = sign * (hours * 3600 + minutes * 60);
	return true;
}

bool
civil_parse(const char *text, const struct zone *zone, int64_t *ret,
    struct error *error)
{
	static const struct zone utc = { 0 };
	const char *cursor = text;
	struct civil civil = { 0 };
	bool good = take_date(&cursor, &civil);
	if (good && (*cursor == 'T' || *cursor == ' ')) {
		cursor++;
		good = take_clock(&cursor, &civil);
	}
	int offset = 0;
	bool has_offset = good && *cursor != '\0';
	if (has_offset)
		good = take_offset(&cursor, &offset) && *cursor == '\0';
	if (!good || !civil_is_valid(&civil))
		return error_set(error, ERROR_INPUT,
		    "'%s' is not a time; write 2026-03-02 or "
		    "\"2026-03-02 07:15\"",
		    text);
	*ret = has_offset ? utc_from_civil(&utc, &civil) - offset
			  : utc_from_civil(zone, &civil);
	return true;
}

bool
civil_parse_clock(const char *text, int *ret, struct error *error)
{
	const char *cursor = text;
	struct civil civil = { .year = 2000, .month = 1, .day = 1 };
	bool good = take_clock(&cursor, &civil) && *cursor == '\0';
	bool day_end =
	    good && civil.hour == 24 && civil.minute == 0 && civil.second == 0;
	if (!good || (!day_end && !civil_is_valid(&civil)))
		return error_set(error, ERROR_INPUT,
		    "'%s' is not a time of day; write 07:15", text);
	*ret = civil.hour * 3600 + civil.minute * 60 + civil.second;
	return true;
}

static void
print_stamp(char *buffer, size_t size, const struct zone *zone, int64_t utc)
{
	struct civil c = civil_from_utc(zone, utc);
	int minutes = zone_offset(zone, utc) / 60;
	int absolute = minutes < 0 ? -minutes : minutes;
	(void)snprintf(buffer, size, "%04d-%02d-%02dT%02d:%02d:%02d%c%02d:%02d",
	    c.year, c.month, c.day, c.hour, c.minute, c.second,
	    minutes < 0 ? '-' : '+', absolute / 60 % 100, absolute % 60);
}

char *
civil_print(char *buffer, size_t size, const struct zone *zone, int64_t utc,
    enum civil_style style)
{
	struct civil c = civil_from_utc(zone, utc);
	const char *weekday = weekday_name[c.weekday];
	const char *month = month_name[c.month - 1];
	switch (style) {
	case CIVIL_DAY:
		(void)snprintf(buffer, size, "%s %d %s", weekday, c.day, month);
		break;
	case CIVIL_CLOCK:
		(void)snprintf(buffer, size, "%02d:%02d", c.hour, c.minute);
		break;
	case CIVIL_DAY_CLOCK:
		(void)snprintf(buffer, size, "%s %d %s %02d:%02d", weekday,
		    c.day, month, c.hour, c.minute);
		break;
	case CIVIL_DATE:
		(void)snprintf(
		    buffer, size, "%04d-%02d-%02d", c.year, c.month, c.day);
		break;
	case CIVIL_WEEKDAY:
		(void)snprintf(buffer, size, "%s", weekday);
		break;
	case CIVIL_STAMP:
		print_stamp(buffer, size, zone, utc);
		break;
	}
	return buffer;
}
