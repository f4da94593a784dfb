#include "calendar/entry.h"

#include "base/civil.h"
#include "calendar/ics_parts.h"

#include <math.h>

static struct icaltimetype
make_entry_time(const struct entry *entry, int64_t at)
{
	if (!entry->all_day)
		return ics_time(at);
	struct icaltimetype date = ics_time(at * DAY_SECONDS);
	date.is_date = 1;
	date.zone = NULL;
	return date;
}

static void
put_alarm(struct ics *ics, icalcomponent *event, const struct entry *entry,
    size_t index)
{
	icalcomponent *alarm = ics_open(ics, event, ICAL_VALARM_COMPONENT);
	if (alarm == NULL)
		return;
	ics_clean(ics, entry->uid, CLEAN_LINE);
	if (!text_format(&ics->clean, "-a%zu", index + 1))
		ics->lost = true;
	ics_put(ics, alarm, icalproperty_new_uid(text_string(&ics->clean)));
	ics_put(ics, alarm, icalproperty_new_action(ICAL_ACTION_DISPLAY));
	/* DISPLAY needs a DESCRIPTION (RFC 5545 section 3.6.6). */
	const char *text =
	    ics_clean(ics, entry->alarm[index].text, CLEAN_LINES);
	if (*text == '\0')
		text = ics_clean(ics, entry->summary, CLEAN_LINE);
	ics_put(ics, alarm, icalproperty_new_description(text));
	struct icaltriggertype trigger = { .time = icaltime_null_time(),
		.duration =
		    icaldurationtype_from_int(-entry->alarm[index].before) };
	ics_put(ics, alarm, icalproperty_new_trigger(trigger));
}

static void
put_entry(struct ics *ics, const struct entry *entry)
{
	icalcomponent *event =
	    ics_open(ics, ics->calendar, ICAL_VEVENT_COMPONENT);
	if (event == NULL)
		return;
	ics_put_revision(
	    ics, event, entry->uid, entry->revised, entry->sequence);
	struct icaltimetype from = make_entry_time(entry, entry->from);
	ics_put(ics, event, icalproperty_new_dtstart(from));
	struct icaltimetype to = make_entry_time(entry, entry->to);
	ics_put(ics, event, icalproperty_new_dtend(to));
	ics_put_summary(ics, event, entry->summary);
	ics_put_description(ics, event, entry->description);
	ics_put(ics, event,
	    icalproperty_new_status(entry->status == ENTRY_CONFIRMED
					? ICAL_STATUS_CONFIRMED
					: ICAL_STATUS_TENTATIVE));
	/* A window takes no time from the keeper's day. */
	ics_put(ics, event, icalproperty_new_transp(ICAL_TRANSP_TRANSPARENT));
	ics_put_categories(ics, event, entry->categories);
	if (entry->has_place) {
		struct icalgeotype geo = { .lat = entry->latitude,
			.lon = entry->longitude };
		ics_put(ics, event, icalproperty_new_geo(geo));
	}
	for (size_t i = 0; i < entry->alarm_count; i++)
		put_alarm(ics, event, entry, i);
}

static bool
span_fits(const struct entry *entry)
{
	if (entry->all_day)
		return ics_day_fits(entry->from) && ics_day_fits(entry->to);
	return ics_second_fits(entry->from) && ics_second_fits(entry->to);
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
check_entry(struct ics *ics, const struct entry *entry, size_t index,
    struct error *error)
{
	const char *fault = NULL;
	if (*ics_clean(ics, entry->uid, CLEAN_LINE) == '\0')
		return error_set(error, ERROR_INPUT,
		    "calendar entry %zu has no uid", index + 1);
	if (*ics_clean(ics, entry->summary, CLEAN_LINE) == '\0')
		fault = "has no summary";
	else if (entry->from >= entry->to)
		fault = "does not end after its start";
	else if (!span_fits(entry) || !ics_second_fits(entry->revised))
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
	    ics_clean(ics, entry->uid, CLEAN_LINE), fault);
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
	struct ics ics;
	bool good = ics_begin(&ics, head, error);
	for (size_t i = 0; i < count && good; i++) {
		good = check_entry(&ics, &entries[i], i, error);
		if (good)
			put_entry(&ics, &entries[i]);
	}
	good = good && ics_finish(&ics, ret, error);
	ics_release(&ics);
	return good;
}

void
calendar_finish(void)
{
	icaltimezone_free_builtin_timezones();
	icalmemory_free_ring();
}
