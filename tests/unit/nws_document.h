/*
 * Gridpoint documents put together for the tests, in the shape of the
 * published description: layers of entries, each an interval and a value.
 */
#ifndef TESTS_UNIT_NWS_DOCUMENT_H
#define TESTS_UNIT_NWS_DOCUMENT_H

#include "unit/test.h"

#include "base/civil.h"
#include "base/file.h"
#include "base/limits.h"

/* 2026-03-02T00:00:00Z */
#define MIDNIGHT INT64_C(1772409600)
#define HOUR     INT64_C(3600)
#define DAY      INT64_C(86400)

#define ENTRY(time, value)                                                     \
	"{\"validTime\":\"2026-03-02T" time "\",\"value\":" value "}"
#define LAYER(name, uom, entries)                                              \
	"\"" name "\":{\"uom\":\"" uom "\",\"values\":[" entries "]}"
#define ISSUED "\"updateTime\":\"2026-03-02T06:30:00+00:00\""
#define DOCUMENT(layers)                                                       \
	"{\"type\":\"Feature\",\"properties\":{" ISSUED "," layers "}}"

#define AIR                                                                    \
	LAYER("temperature", "wmoUnit:degC",                                   \
	    ENTRY("00:00:00+00:00/P1D", "12.5"))
#define WIND(uom, value)                                                       \
	LAYER("windSpeed", uom, ENTRY("00:00:00+00:00/PT6H", value))
#define RAIN(entries) LAYER("quantitativePrecipitation", "wmoUnit:mm", entries)
#define CHANCE(entries)                                                        \
	LAYER("probabilityOfPrecipitation", "wmoUnit:percent", entries)

/* A file of tests/data/nws; the build says where the sources are. */
static inline void
read_fixture(const char *name, struct text *ret)
{
	char path[512];
	struct error error = { 0 };
	const char *folder = getenv("srcdir");
	(void)snprintf(path, sizeof path, "%s/tests/data/nws/%s",
	    folder != NULL ? folder : ".", name);
	text_init(ret, LIMIT_FORECAST_BYTES);
	if (!file_read(path, ret, &error))
		fail_msg("%s", error.text);
}

/* `hours` entries of one hour, each an hour later in UTC; the offset is
   `before` for the first ones and `after` from entry `change` on. */
static inline void
make_week(struct text *text, int64_t start, int hours, int change,
    const int offsets[2])
{
	static const struct zone utc = { 0 };
	text_init(text, LIMIT_FORECAST_BYTES);
	(void)text_add(text, "{\"properties\":{" ISSUED ",\"temperature\":{"
			     "\"uom\":\"wmoUnit:degC\",\"values\":[");
	for (int i = 0; i < hours; i++) {
		int offset = offsets[i < change ? 0 : 1];
		struct civil c =
		    civil_from_utc(&utc, start + (i + offset) * HOUR);
		(void)text_format(text,
		    "%s{\"validTime\":\"%04d-%02d-%02dT%02d:00:00%+03d:00/PT1H"
		    "\",\"value\":%d}",
		    i > 0 ? "," : "", c.year, c.month, c.day, c.hour, offset,
		    i % 40);
	}
	(void)text_add(text, "]}}}");
	assert_false(text->failed);
}

#endif
