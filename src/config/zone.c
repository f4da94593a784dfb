#include "config/zone.h"

#include <libical/ical.h>
#include <stdio.h>
#include <string.h>

/* No zone has gone back after less than a week: Boa Vista did, in 2000. */
enum { PROBE_STEP = 3 * DAY_SECONDS };

#define FIRST_PROBE INT64_C(946684800)  /* 2000-01-01 */
#define LAST_PROBE  INT64_C(2145916800) /* 2038-01-01 */

static int32_t
offset_at(icaltimezone *zone, int64_t utc)
{
	struct icaltimetype time = icaltime_from_timet_with_zone(
	    (time_t)utc, 0, icaltimezone_get_utc_timezone());
	int is_daylight;
	return icaltimezone_get_utc_offset_of_utc_time(
	    zone, &time, &is_daylight);
}

/* The first second of the new offset, between a probe of the old and one of
   the new. */
static int64_t
find_change(icaltimezone *zone, int64_t old, int64_t new)
{
	int32_t before = offset_at(zone, old);
	while (new - old > 1) {
		int64_t middle = old + (new - old) / 2;
		if (offset_at(zone, middle) == before)
			old = middle;
		else
			new = middle;
	}
	return new;
}

static bool
probe_changes(icaltimezone *zone, struct zone *ret)
{
	ret->span[0] =
	    (struct zone_span){ FIRST_PROBE, offset_at(zone, FIRST_PROBE) };
	ret->count = 1;
	int32_t last = ret->span[0].offset;
	for (int64_t t = FIRST_PROBE; t < LAST_PROBE; t += PROBE_STEP) {
		int32_t next = offset_at(zone, t + PROBE_STEP);
		if (next == last)
			continue;
		if (ret->count == ZONE_SPANS_MAX)
			return false;
		ret->span[ret->count++] =
		    (struct zone_span){ find_change(zone, t, t + PROBE_STEP),
			    next };
		last = next;
	}
	return true;
}

/*
 * Names are "Area/Place". libical would open any file below the system's
 * zoneinfo: those in "right" count leap seconds, and ".." leads elsewhere.
 */
static bool
may_be_zone(const char *name)
{
	return strlen(name) < sizeof((struct zone *)0)->name &&
	       strchr(name, '/') != NULL && strchr(name, '.') == NULL &&
	       strncmp(name, "right/", 6) != 0;
}

bool
zone_load(const char *name, struct zone *ret, struct error *error)
{
	struct zone zone = { 0 };
	(void)snprintf(zone.name, sizeof zone.name, "%s", name);
	if (strcmp(name, "UTC") == 0) {
		*ret = zone;
		return true;
	}
	icaltimezone *found =
	    may_be_zone(name) ? icaltimezone_get_builtin_timezone(name) : NULL;
	if (found == NULL)
		return error_set(error, ERROR_INPUT,
		    "no time zone '%s' (write one such as America/Chicago)",
		    name);
	if (!probe_changes(found, &zone))
		return error_set(error, ERROR_INPUT,
		    "time zone '%s' changes too often", name);
	*ret = zone;
	return true;
}
