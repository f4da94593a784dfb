/* Quantities as the trade writes them, for the tests of calibrations. */
#ifndef TESTS_UNIT_CALIBRATION_FIXTURE_H
#define TESTS_UNIT_CALIBRATION_FIXTURE_H

#include "unit/test.h"

#include "physics/units.h"

#define ROWS(table) (sizeof(table) / sizeof(table)[0])

static inline double
quantity(const char *text, enum quantity_kind kind)
{
	double value = NAN;
	struct error error = { 0 };
	if (!quantity_parse(text, kind, &value, &error))
		fail_msg("%s", error.text);
	return value;
}

static inline double
volume(const char *text)
{
	return quantity(text, QUANTITY_VOLUME);
}

static inline double
area(const char *text)
{
	return quantity(text, QUANTITY_AREA);
}

static inline double
length(const char *text)
{
	return quantity(text, QUANTITY_LENGTH);
}

static inline double
rate(const char *text)
{
	return quantity(text, QUANTITY_VOLUME_PER_AREA);
}

/* As the trade tells a carrier. */
static inline double
to_gpa(double carrier)
{
	return carrier / rate("1 gal/acre");
}

#endif
