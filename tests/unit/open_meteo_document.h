/*
 * Open-Meteo forecasts put together for the tests, in the shape of the public
 * documentation: one list of stamps, one list of values for each variable.
 */
#ifndef TESTS_UNIT_OPEN_METEO_DOCUMENT_H
#define TESTS_UNIT_OPEN_METEO_DOCUMENT_H

#include "unit/test.h"

#include "base/civil.h"
#include "base/limits.h"
#include "base/text.h"
#include "weather/format.h"

/* 2026-03-02T00:00:00Z */
#define MIDNIGHT INT64_C(1772409600)
#define HOUR     INT64_C(3600)
#define DAY      INT64_C(86400)

#define UNIT(name, unit)   ",\"" name "\":\"" unit "\""
#define LIST(name, values) ",\"" name "\":[" values "]"

/* Three hours from MIDNIGHT on, and air; the rest begins with a comma. */
#define STAMPS "1772409600,1772413200,1772416800"
#define AIR    "\"temperature_2m\":[10,12,8]"
#define TIMED(unit, stamps, units, lists)                                      \
	"{\"latitude\":33.1,\"utc_offset_seconds\":0,\"timezone\":\"GMT\","    \
	"\"hourly_units\":{\"time\":\"" unit "\",\"temperature_2m\":\"°C\""   \
	"" units "},\"hourly\":{\"time\":[" stamps "]," lists "}}"
#define FORECAST(units, lists) TIMED("unixtime", STAMPS, units, AIR lists)

typedef bool open_meteo_reader(
    const char *bytes, size_t length, struct series *ret, struct error *error);

/* Reads a document that must be good, from a block of its exact size. */
static inline void
take_with(open_meteo_reader *read, const char *bytes, size_t length,
    struct series *ret)
{
	struct error error = { 0 };
	char *block = malloc(length > 0 ? length : 1);
	assert_non_null(block);
	memcpy(block, bytes, length);
	bool good = read(block, length, ret, &error);
	free(block);
	if (!good)
		fail_msg("refused: %s", error.text);
}

static inline void
take_bytes(const char *bytes, size_t length, struct series *ret)
{
	take_with(open_meteo_read, bytes, length, ret);
}

static inline void
take(const char *document, struct series *ret)
{
	take_bytes(document, strlen(document), ret);
}

/* Reads a document that must be refused, and leaves *ret alone then. */
static inline void
check_refusal(
    open_meteo_reader *read, const char *bytes, size_t length, const char *why)
{
	struct series series = { .start = 42 };
	struct error error = { 0 };
	if (read(bytes, length, &series, &error))
		fail_msg("was taken: %s", bytes);
	assert_int_equal(error.kind, ERROR_INPUT);
	assert_contains(error.text, why);
	assert_true(series.start == 42);
}

/* The value `seconds` after midnight; a wanted NaN is "not known". */
static inline void
check_at(const struct series *series, enum measure measure, int64_t seconds,
    double wanted)
{
	double value = (double)series_at(series, measure, MIDNIGHT + seconds);
	if (isnan(wanted))
		assert_nan(value);
	else
		assert_close(value, wanted, 1e-4);
}

#endif
