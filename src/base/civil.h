/*
 * Civil time: the clock on the keeper's wall. Everything inside counts
 * seconds since 1970-01-01 UTC; this file is the only way to and from local
 * time. A zone is plain data, so the pure floors need no tables on disk.
 */
#ifndef BASE_CIVIL_H
#define BASE_CIVIL_H

#include "base/error.h"

#include <stddef.h>
#include <stdint.h>

enum { DAY_SECONDS = 86400, ZONE_SPANS_MAX = 192 };

struct zone_span {
	int64_t from;   /* first second of the span, UTC */
	int32_t offset; /* seconds east of UTC */
};

struct zone {
	char name[64]; /* IANA name, "UTC" when count is 0 */
	size_t count;  /* 0 means UTC */
	struct zone_span span[ZONE_SPANS_MAX]; /* ascending; the first holds
						  for all time before it */
};

struct civil {
	int year, month, day; /* month 1..12, day 1..31 */
	int hour, minute, second;
	int weekday; /* 0 = Sunday; ignored on input */
};

int32_t zone_offset(const struct zone *zone, int64_t utc);

struct civil civil_from_utc(const struct zone *zone, int64_t utc);

/*
 * RFC 5545 section 3.3.5: a local time that occurs twice is the first one;
 * one that does not occur is read with the offset before the gap.
 */
int64_t utc_from_civil(const struct zone *zone, const struct civil *civil);

/* Days since 1970-01-01 of the local date (proleptic Gregorian). */
int64_t civil_day(const struct zone *zone, int64_t utc);

/* First second of the local day `day` (as of civil_day). */
int64_t civil_day_start(const struct zone *zone, int64_t day);

/* False for 30 February, month 13, hour 25 and the like. */
bool civil_is_valid(const struct civil *civil);

/*
 * Reads "2026-03-02", "2026-03-02 07:15", "2026-03-02T07:15:30" (local time
 * of `zone`) and the same with "Z" or "+hh:mm" (ISO 8601 / RFC 3339). A bare
 * date is its first second. Leaves *ret alone on failure.
 */
bool civil_parse(const char *text, const struct zone *zone, int64_t *ret,
    struct error *error);

/* Time of day "07:15" as seconds after midnight; "24:00" is allowed. */
bool civil_parse_clock(const char *text, int *ret, struct error *error);

enum civil_style {
	CIVIL_DAY,       /* Tue 3 Mar */
	CIVIL_CLOCK,     /* 07:15 */
	CIVIL_DAY_CLOCK, /* Tue 3 Mar 07:15 */
	CIVIL_DATE,      /* 2026-03-03 */
	CIVIL_WEEKDAY,   /* Tue */
	CIVIL_STAMP,     /* 2026-03-03T07:15:00-06:00 (RFC 3339) */
};

/* Writes into `buffer` (40 bytes are always enough) and returns it. */
char *civil_print(char *buffer, size_t size, const struct zone *zone,
    int64_t utc, enum civil_style style);

enum { CIVIL_BUFFER = 40 };

#endif
