#include "calendar/entry.h"

#include "base/civil.h"
#include "base/limits.h"
#include "calendar/clean.h"

#include <limits.h>
#include <math.h>
#include <string.h>

#include <libical/ical.h>

/* The years that a calendar can write: 0001 to 9999, in seconds and days. */
static const int64_t first_second = -62135596800;
static const int64_t last_second = 253402300799;
static const int64_t first_day = -719162;
static const int64_t last_day = 2932896;

enum { LINE_OCTETS = 75 }; /* without CR LF */

struct writer {
	struct text clean; /* the string cleaned last */
	bool lost;         /* libical could not make a part */
};

/* The cleaned string, valid until the next call. */
static const char *
clean(struct writer *writer, const char *raw, enum cleaning how)
{
	if (!clean_text(raw, how, &writer->clean))
		writer->lost = true;
	return text_string(&writer->clean);
}

static void
put(struct writer *writer, icalcomponent *parent, icalproperty *property)
{
	if (property == NULL)
		writer->lost = true;
	else
		icalcomponent_add_property(parent, property);
}

static icalcomponent *
open_component(
    struct writer *writer, icalcomponent *parent, icalcomponent_kind kind)
{
	icalcomponent *component = icalcomponent_new(kind);
	if (component == NULL)
		writer->lost = true;
	else
		icalcomponent_add_component(parent, component);
	return component;
}

static void
put_x(struct writer *writer, icalcomponent *parent, const char *name,
    const char *value)
{
	icalproperty *property = icalproperty_new_x(value);
	if (property != NULL)
		icalproperty_set_x_name(property, name);
	put(writer, parent, property);
}

static struct icaltimetype
make_time(int64_t utc)
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

static struct icaltimetype
make_entry_time(const struct entry *entry, int64_t at)
{
	if (!entry->all_day)
		return make_time(at);
	struct icaltimetype date = make_time(at * DAY_SECONDS);
	date.is_date = 1;
	date.zone = NULL;
	return date;
}

static void
put_alarm(struct writer *writer, icalcomponent *event,
    const struct entry *entry, size_t index)
{
	icalcomponent *alarm =
	    open_component(writer, event, ICAL_VALARM_COMPONENT);
	if (alarm == NULL)
		return;
	clean(writer, entry->uid, CLEAN_LINE);
	if (!text_format(&writer->clean, "-a%zu", index + 1))
		writer->lost = true;
	put(writer, alarm, icalproperty_new_uid(text_string(&writer->clean)));
	put(writer, alarm, icalproperty_new_action(ICAL_ACTION_DISPLAY));
	/* DISPLAY needs a DESCRIPTION (RFC 5545 section 3.6.6). */
	const char *text = clean(writer, entry->alarm[index].text, CLEAN_LINES);
	if (*text == '\0')
		text = clean(writer, entry->summary, CLEAN_LINE);
	put(writer, alarm, icalproperty_new_description(text));
	struct icaltriggertype trigger = { .time = icaltime_null_time(),
		.duration =
		    icaldurationtype_from_int(-entry->alarm[index].before) };
	put(writer, alarm, icalproperty_new_trigger(trigger));
}

/* Nothing is written for a description that is empty once it is clean. */
static void
put_description(struct writer *writer, icalcomponent *parent, const char *raw)
{
	const char *text = clean(writer, raw, CLEAN_LINES);
	if (*text != '\0')
		put(writer, parent, icalproperty_new_description(text));
}

static void
put_categories(
    struct writer *writer, icalcomponent *event, const struct entry *entry)
{
	for (size_t i = 0;
	     i < ENTRY_CATEGORIES_MAX && entry->categories[i] != NULL; i++) {
		const char *category =
		    clean(writer, entry->categories[i], CLEAN_CATEGORY);
		if (*category != '\0')
			put(writer, event,
			    icalproperty_new_categories(category));
	}
}

static void
put_entry(
    struct writer *writer, icalcomponent *calendar, const struct entry *entry)
{
	icalcomponent *event =
	    open_component(writer, calendar, ICAL_VEVENT_COMPONENT);
	if (event == NULL)
		return;
	const char *uid = clean(writer, entry->uid, CLEAN_LINE);
	put(writer, event, icalproperty_new_uid(uid));
	struct icaltimetype revised = make_time(entry->revised);
	put(writer, event, icalproperty_new_dtstamp(revised));
	put(writer, event, icalproperty_new_lastmodified(revised));
	put(writer, event, icalproperty_new_sequence(entry->sequence));
	struct icaltimetype from = make_entry_time(entry, entry->from);
	put(writer, event, icalproperty_new_dtstart(from));
	struct icaltimetype to = make_entry_time(entry, entry->to);
	put(writer, event, icalproperty_new_dtend(to));
	const char *summary = clean(writer, entry->summary, CLEAN_LINE);
	put(writer, event, icalproperty_new_summary(summary));
	put_description(writer, event, entry->description);
	put(writer, event,
	    icalproperty_new_status(entry->status == ENTRY_CONFIRMED
					? ICAL_STATUS_CONFIRMED
					: ICAL_STATUS_TENTATIVE));
	/* A window takes no time from the keeper's day. */
	put(writer, event, icalproperty_new_transp(ICAL_TRANSP_TRANSPARENT));
	put_categories(writer, event, entry);
	if (entry->has_place) {
		struct icalgeotype geo = { .lat = entry->latitude,
			.lon = entry->longitude };
		put(writer, event, icalproperty_new_geo(geo));
	}
	for (size_t i = 0; i < entry->alarm_count; i++)
		put_alarm(writer, event, entry, i);
}

/* RFC 7986 asks for a positive duration; without one there is no hint. */
static void
put_refresh(struct writer *writer, icalcomponent *calendar, int64_t refresh)
{
	if (refresh <= 0)
		return;
	struct icaldurationtype every = icaldurationtype_from_int(
	    refresh > INT_MAX ? INT_MAX : (int)refresh);
	put(writer, calendar, icalproperty_new_refreshinterval(every));
	char *span = icaldurationtype_as_ical_string_r(every);
	if (span == NULL)
		writer->lost = true;
	else
		put_x(writer, calendar, "X-PUBLISHED-TTL", span);
	icalmemory_free_buffer(span);
}

static void
put_head(struct writer *writer, icalcomponent *calendar,
    const struct calendar_head *head)
{
	put(writer, calendar, icalproperty_new_version("2.0"));
	put(writer, calendar,
	    icalproperty_new_prodid("-//lull//spray windows//EN"));
	const char *name = clean(writer, head->name, CLEAN_LINE);
	if (*name != '\0') {
		put(writer, calendar, icalproperty_new_name(name));
		name = clean(writer, head->name, CLEAN_PLAIN);
		put_x(writer, calendar, "X-WR-CALNAME", name);
	}
	put_description(writer, calendar, head->description);
	put_refresh(writer, calendar, head->refresh);
	put(writer, calendar,
	    icalproperty_new_lastmodified(make_time(head->revised)));
}

static bool
second_fits(int64_t utc)
{
	return utc >= first_second && utc <= last_second;
}

static bool
span_fits(const struct entry *entry)
{
	if (entry->all_day)
		return entry->from >= first_day && entry->to <= last_day;
	return second_fits(entry->from) && second_fits(entry->to);
}

static bool
place_fits(const struct entry *entry)
{
	return !entry->has_place ||
	       (fabs(entry->latitude) <= 90 && fabs(entry->longitude) <= 180);
}

static bool
alarms_fit(const struct entry *entry)
{
	if (entry->alarm_count > ENTRY_ALARMS_MAX)
		return false;
	for (size_t i = 0; i < entry->alarm_count; i++) {
		if (entry->alarm[i].before < 0)
			return false;
	}
	return true;
}

static bool
check_entry(struct writer *writer, const struct entry *entry, size_t index,
    struct error *error)
{
	const char *fault = NULL;
	if (*clean(writer, entry->uid, CLEAN_LINE) == '\0')
		return error_set(error, ERROR_INPUT,
		    "calendar entry %zu has no uid", index + 1);
	if (*clean(writer, entry->summary, CLEAN_LINE) == '\0')
		fault = "has no summary";
	else if (entry->from >= entry->to)
		fault = "does not end after its start";
	else if (!span_fits(entry) || !second_fits(entry->revised))
		fault = "has a time outside the years 1 to 9999";
	else if (entry->sequence < 0)
		fault = "has a sequence below 0";
	else if (!place_fits(entry))
		fault = "has a place that is not on the earth";
	else if (!alarms_fit(entry))
		fault = "has too many alarms or one after its start";
	if (fault == NULL)
		return true;
	return error_set(error, ERROR_INPUT, "calendar entry \"%s\" %s",
	    clean(writer, entry->uid, CLEAN_LINE), fault);
}

static bool
check(struct writer *writer, const struct calendar_head *head,
    const struct entry *entries, size_t count, struct error *error)
{
	if (!second_fits(head->revised))
		return error_set(error, ERROR_INPUT,
		    "the calendar's revision is outside the years 1 to 9999");
	for (size_t i = 0; i < count; i++) {
		if (!check_entry(writer, &entries[i], i, error))
			return false;
	}
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

/* Appends in one step, so that a full `ret` is left as it was. */
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

/*
 * A calendar without entries has no component, which RFC 5545 section 3.6 does
 * not foresee but readers take as an empty calendar; an invented entry would
 * be worse than none.
 */
bool
calendar_write(const struct calendar_head *head, const struct entry *entries,
    size_t count, struct text *ret, struct error *error)
{
	struct writer writer = { .lost = false };
	text_init(&writer.clean, LIMIT_CALENDAR_BYTES);
	icalcomponent *calendar = NULL;
	char *bytes = NULL;
	bool done = false;

	if (!check(&writer, head, entries, count, error))
		goto out;
	icalerror_set_errors_are_fatal(0);
	calendar = icalcomponent_new(ICAL_VCALENDAR_COMPONENT);
	if (calendar != NULL) {
		put_head(&writer, calendar, head);
		for (size_t i = 0; i < count; i++)
			put_entry(&writer, calendar, &entries[i]);
		bytes = icalcomponent_as_ical_string_r(calendar);
	}
	if (bytes == NULL || writer.lost)
		error_set(error, ERROR_SYSTEM, "cannot compose the calendar");
	else
		done = append(ret, bytes, error);
out:
	icalmemory_free_buffer(bytes);
	if (calendar != NULL)
		icalcomponent_free(calendar);
	text_release(&writer.clean);
	return done;
}

void
calendar_finish(void)
{
	icaltimezone_free_builtin_timezones();
	icalmemory_free_ring();
}
