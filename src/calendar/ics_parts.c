#include "calendar/ics_parts.h"

#include "base/civil.h"
#include "base/limits.h"

#include <limits.h>
#include <string.h>

/* The years that a calendar can write: 0001 to 9999, in seconds and days. */
static const int64_t first_second = -62135596800;
static const int64_t last_second = 253402300799;
static const int64_t first_day = -719162;
static const int64_t last_day = 2932896;

enum { LINE_OCTETS = 75 }; /* without CR LF */

bool
ics_second_fits(int64_t utc)
{
	return utc >= first_second && utc <= last_second;
}

bool
ics_day_fits(int64_t day)
{
	return day >= first_day && day <= last_day;
}

const char *
ics_clean(struct ics *ics, const char *raw, enum cleaning how)
{
	if (!clean_text(raw, how, &ics->clean))
		ics->lost = true;
	return text_string(&ics->clean);
}

void
ics_put(struct ics *ics, icalcomponent *parent, icalproperty *property)
{
	if (property == NULL)
		ics->lost = true;
	else
		icalcomponent_add_property(parent, property);
}

icalcomponent *
ics_open(struct ics *ics, icalcomponent *parent, icalcomponent_kind kind)
{
	icalcomponent *component = icalcomponent_new(kind);
	if (component == NULL)
		ics->lost = true;
	else
		icalcomponent_add_component(parent, component);
	return component;
}

struct icaltimetype
ics_time(int64_t utc)
{
	static const struct zone zone = { .name = "UTC" };
	struct civil civil = civil_from_utc(&zone, utc);
	struct icaltimetype time = icaltime_null_time();
	time.year = civil.year;
	time.month = civil.month;
	time.day = civil.day;
	time.hour = civil.hour;
	time.minute = civil.minute;
	time.second = civil.second;
	time.zone = icaltimezone_get_utc_timezone();
	return time;
}

void
ics_put_revision(struct ics *ics, icalcomponent *parent, const char *uid,
    int64_t revised, int sequence)
{
	struct icaltimetype time = ics_time(revised);
	ics_put(
	    ics, parent, icalproperty_new_uid(ics_clean(ics, uid, CLEAN_LINE)));
	ics_put(ics, parent, icalproperty_new_dtstamp(time));
	ics_put(ics, parent, icalproperty_new_lastmodified(time));
	ics_put(ics, parent, icalproperty_new_sequence(sequence));
}

void
ics_put_summary(struct ics *ics, icalcomponent *parent, const char *raw)
{
	const char *text = ics_clean(ics, raw, CLEAN_LINE);
	ics_put(ics, parent, icalproperty_new_summary(text));
}

void
ics_put_description(struct ics *ics, icalcomponent *parent, const char *raw)
{
	const char *text = ics_clean(ics, raw, CLEAN_LINES);
	if (*text != '\0')
		ics_put(ics, parent, icalproperty_new_description(text));
}

void
ics_put_categories(
    struct ics *ics, icalcomponent *parent, const char *const *categories)
{
	for (size_t i = 0; i < ENTRY_CATEGORIES_MAX && categories[i] != NULL;
	     i++) {
		const char *category =
		    ics_clean(ics, categories[i], CLEAN_CATEGORY);
		if (*category != '\0')
			ics_put(
			    ics, parent, icalproperty_new_categories(category));
	}
}

static void
put_x(struct ics *ics, const char *name, const char *value)
{
	icalproperty *property = icalproperty_new_x(value);
	if (property != NULL)
		icalproperty_set_x_name(property, name);
	ics_put(ics, ics->calendar, property);
}

/* RFC 7986 asks for a positive duration; without one there is no hint. */
static void
put_refresh(struct ics *ics, int64_t refresh)
{
	if (refresh <= 0)
		return;
	struct icaldurationtype every = icaldurationtype_from_int(
	    refresh > INT_MAX ? INT_MAX : (int)refresh);
	ics_put(ics, ics->calendar, icalproperty_new_refreshinterval(every));
	char *span = icaldurationtype_as_ical_string_r(every);
	if (span == NULL)
		ics->lost = true;
	else
		put_x(ics, "X-PUBLISHED-TTL", span);
	icalmemory_free_buffer(span);
}

static void
put_head(struct ics *ics, const struct calendar_head *head)
{
	icalcomponent *calendar = ics->calendar;
	ics_put(ics, calendar, icalproperty_new_version("2.0"));
	ics_put(ics, calendar,
	    icalproperty_new_prodid("-//lull//spray windows//EN"));
	const char *name = ics_clean(ics, head->name, CLEAN_LINE);
	if (*name != '\0') {
		ics_put(ics, calendar, icalproperty_new_name(name));
		put_x(ics, "X-WR-CALNAME",
		    ics_clean(ics, head->name, CLEAN_PLAIN));
	}
	ics_put_description(ics, calendar, head->description);
	put_refresh(ics, head->refresh);
	if (head->revised != 0)
		ics_put(ics, calendar,
		    icalproperty_new_lastmodified(ics_time(head->revised)));
}

bool
ics_begin(
    struct ics *ics, const struct calendar_head *head, struct error *error)
{
	*ics = (struct ics){ 0 };
	text_init(&ics->clean, LIMIT_CALENDAR_BYTES);
	if (!ics_second_fits(head->revised))
		return error_set(error, ERROR_INPUT,
		    "the calendar's revision is outside the years 1 to 9999");
	icalerror_set_errors_are_fatal(0);
	ics->calendar = icalcomponent_new(ICAL_VCALENDAR_COMPONENT);
	if (ics->calendar == NULL)
		return error_set(
		    error, ERROR_SYSTEM, "cannot compose the calendar");
	put_head(ics, head);
	return true;
}

/*
 * libical 3.0.16 can fold between the CR and the LF that end a line, which
 * breaks it (its pull request 1338 mends that in 4.0.3). So its folds are taken
 * out, as no value holds a raw CR LF, and made anew: between characters, at 75
 * octets (RFC 5545 section 3.1).
 */
static void
fold(const char *bytes, struct text *ret)
{
	size_t column = 0;
	const char *at = bytes;
	while (*at != '\0') {
		if (strncmp(at, "\r\n ", 3) == 0) {
			at += 3;
			continue;
		}
		size_t length = 1;
		while (((unsigned char)at[length] & 0xC0) == 0x80)
			length++;
		bool line_end = *at == '\r' || *at == '\n';
		if (!line_end && column + length > LINE_OCTETS) {
			text_add(ret, "\r\n ");
			column = 1;
		}
		text_append(ret, at, length);
		column = line_end ? 0 : column + length;
		at += length;
	}
}

static bool
append(struct text *ret, const char *bytes, struct error *error)
{
	struct text folded;
	text_init(&folded, ret->ceiling);
	fold(bytes, &folded);
	bool done =
	    !folded.failed && text_append(ret, folded.data, folded.length);
	text_release(&folded);
	if (done)
		return true;
	return error_set(error, ERROR_SYSTEM,
	    "the calendar is larger than %zu bytes", ret->ceiling);
}

bool
ics_finish(struct ics *ics, struct text *ret, struct error *error)
{
	char *bytes = icalcomponent_as_ical_string_r(ics->calendar);
	bool done = bytes != NULL && !ics->lost;
	if (!done)
		error_set(error, ERROR_SYSTEM, "cannot compose the calendar");
	else
		done = append(ret, bytes, error);
	icalmemory_free_buffer(bytes);
	return done;
}

void
ics_release(struct ics *ics)
{
	if (ics->calendar != NULL)
		icalcomponent_free(ics->calendar);
	text_release(&ics->clean);
}
