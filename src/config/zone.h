/* A time zone by its IANA name, as plain data (base/civil.h). */
#ifndef CONFIG_ZONE_H
#define CONFIG_ZONE_H

#include "base/civil.h"

/*
 * Reads the zone's changes from 2000 to 2037 through libical (the system's
 * zoneinfo). libical 3.0.16 is wrong on the past of a few zones (Jerusalem
 * before 2017, Easter before 2022, a dozen more); from 2023 on none was found.
 * "UTC" is allowed. ERROR_INPUT when there is no such zone.
 */
bool zone_load(const char *name, struct zone *ret, struct error *error);

#endif
