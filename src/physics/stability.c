#include "physics/stability.h"

#include <float.h>
#include <math.h>
#include <stdbool.h>
#include <stddef.h>

#define KNOTS_PER_M_S  (3600.0 / 1852.0)
#define NIGHT_HEIGHT   15.0 /* degrees: at most an hour from the horizon */
#define MOST_RADIATION 4
#define ANY_WIND       100.0 /* m/s: well into the last row */

/* EPA-454/R-99-005 table 6-4: net radiation index 4 to -2 by wind. */
static const int classes[9][7] = {
	{ 1, 1, 2, 3, 4, 6, 7 }, /* 0 and 1 knots */
	{ 1, 2, 2, 3, 4, 6, 7 }, /* 2 and 3 */
	{ 1, 2, 3, 4, 4, 5, 6 }, /* 4 and 5 */
	{ 2, 2, 3, 4, 4, 5, 6 }, /* 6 */
	{ 2, 2, 3, 4, 4, 4, 5 }, /* 7 */
	{ 2, 3, 3, 4, 4, 4, 5 }, /* 8 and 9 */
	{ 3, 3, 4, 4, 4, 4, 5 }, /* 10 */
	{ 3, 3, 4, 4, 4, 4, 4 }, /* 11 */
	{ 3, 4, 4, 4, 4, 4, 4 }, /* 12 and more */
};

/* The table counts whole knots, so each row ends half a knot further on. */
static size_t
find_row(double wind)
{
	static const double ends[] = { 1.5, 3.5, 5.5, 6.5, 7.5, 9.5, 10.5,
		11.5 };
	const size_t count = sizeof ends / sizeof ends[0];
	size_t row = 0;
	while (row < count && wind * KNOTS_PER_M_S >= ends[row])
		row++;
	return row;
}

/* Tables 6-5 and 6-6, with the choices that the header tells of. */
static int
net_radiation(double height, double cloud)
{
	if (height <= NIGHT_HEIGHT)
		return cloud < 50.0 ? -2 : -1;
	if (cloud > 90.0)
		return 0;
	int sun = 2;
	if (height > 60.0)
		sun = 4;
	else if (height > 35.0)
		sun = 3;
	if (cloud <= 50.0)
		return sun;
	return sun > 3 ? sun - 2 : 1;
}

static int
classify(double height, double cloud, double wind)
{
	int column = MOST_RADIATION - net_radiation(height, cloud);
	return classes[find_row(wind)][column];
}

static bool
may_be(double value, double low, double high)
{
	return isnan(value) || (value >= low && value <= high);
}

static double
known_or(double value, double guess)
{
	return isnan(value) ? guess : value;
}

/*
 * The class rises or falls steadily with each input while the others stay, so
 * its extremes are at the ends of what is unknown: eight corners at most.
 */
double
stability_class(
    double sun_height_degrees, double cloud_percent, double wind_10m_m_s)
{
	if (!may_be(sun_height_degrees, -90.0, 90.0) ||
	    !may_be(cloud_percent, 0.0, 100.0) ||
	    !may_be(wind_10m_m_s, 0.0, DBL_MAX))
		return NAN;
	int first = 0;
	for (unsigned corner = 0; corner < 8; corner++) {
		int class = classify(
		    known_or(sun_height_degrees, (corner & 1U) ? 90.0 : -90.0),
		    known_or(cloud_percent, (corner & 2U) ? 100.0 : 0.0),
		    known_or(wind_10m_m_s, (corner & 4U) ? ANY_WIND : 0.0));
		if (corner == 0)
			first = class;
		if (class != first)
			return NAN;
	}
	return first;
}
