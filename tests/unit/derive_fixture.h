/* What the tests of derive() share. */
#ifndef TESTS_UNIT_DERIVE_FIXTURE_H
#define TESTS_UNIT_DERIVE_FIXTURE_H

#include "unit/test.h"

#include "unit/heart.h"

#include "advice/derive.h"

/* A site near San Antonio's latitude, with no facts of its own yet. */
static inline struct site
plain_site(void)
{
	return (struct site){ .name = "front",
		.latitude = 29.5,
		.longitude = -98.5,
		.zone = chicago(),
		.rain_chance = 30,
		.told_holds = 14.0 * DAY,
		.yearly_mean = (double)NAN,
		.degree_base = 10 };
}

/* The cell of a moment has the value, or is unknown when that is NaN. */
static inline void
check_cell(const struct series *series, enum measure measure, int64_t time,
    double wanted)
{
	char clock[CIVIL_BUFFER];
	struct zone zone = chicago();
	double value = (double)series_at(series, measure, time);
	if (isnan(wanted) ? isnan(value) : fabs(value - wanted) <= 1e-3)
		return;
	fail_msg("%s at %s is %g, wanted %g", measure_info(measure)->key,
	    civil_print(clock, sizeof clock, &zone, time, CIVIL_STAMP), value,
	    wanted);
}

#endif
