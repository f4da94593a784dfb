/* Time zones with their changes of a year, by the rules of the tz database,
   written out by hand. */
#ifndef TESTS_UNIT_CIVIL_ZONES_H
#define TESTS_UNIT_CIVIL_ZONES_H

#include "base/civil.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

enum { HOUR = 3600 };

static const struct zone utc = { .name = "UTC" };
static const struct zone chicago = { .name = "America/Chicago",
	.count = 3,
	.span = { { 0, -6 * HOUR }, { 1772956800, -5 * HOUR },
	    { 1793516400, -6 * HOUR } } };
static const struct zone london = { .name = "Europe/London",
	.count = 3,
	.span = { { 0, 0 }, { 1774746000, HOUR }, { 1792890000, 0 } } };
static const struct zone sydney = { .name = "Australia/Sydney",
	.count = 3,
	.span = { { 0, 11 * HOUR }, { 1775318400, 10 * HOUR },
	    { 1791043200, 11 * HOUR } } };
static const struct zone lord_howe = { .name = "Australia/Lord_Howe",
	.count = 3,
	.span = { { 0, 11 * HOUR }, { 1775314800, 10 * HOUR + HOUR / 2 },
	    { 1791041400, 11 * HOUR } } };
static const struct zone phoenix = {
	.name = "America/Phoenix", .count = 1, .span = { { 0, -7 * HOUR } }
};
static const struct zone kolkata = { .name = "Asia/Kolkata",
	.count = 1,
	.span = { { 0, 5 * HOUR + HOUR / 2 } } };
static const struct zone new_york = { .name = "America/New_York",
	.count = 3,
	.span = { { 0, -5 * HOUR }, { 1173596400, -4 * HOUR },
	    { 1194156000, -5 * HOUR } } };

static const struct zone *const zones[] = { &utc, &chicago, &london, &sydney,
	&lord_howe, &phoenix, &kolkata, &new_york };

struct moment {
	const struct zone *zone;
	const char *local;
	int64_t utc;
};

#endif
