#include "physics/degree_days.h"

#include <math.h>
#include <stdbool.h>

#define PI 3.14159265358979323846

static bool
is_day(double high, double low, double base)
{
	return high >= low && !isnan(base);
}

/* Not fmax, which would turn an unknown into 0. */
static double
positive(double value)
{
	return value < 0.0 ? 0.0 : value;
}

static double
clamp(double value, double low, double high)
{
	if (value < low)
		return low;
	return value > high ? high : value;
}

double
degree_days_average(double high, double low, double base)
{
	if (!is_day(high, low, base))
		return NAN;
	return positive((high + low) / 2.0 - base);
}

double
degree_days_capped(double high, double low, double base, double cap)
{
	if (!(high >= low && cap >= base))
		return NAN;
	return degree_days_average(
	    clamp(high, base, cap), clamp(low, base, cap), base);
}

double
degree_days_sine(double high, double low, double base)
{
	if (!is_day(high, low, base))
		return NAN;
	if (low >= base || high <= base)
		return degree_days_average(high, low, base);
	double half_range = (high - low) / 2.0;
	double under = base - (high + low) / 2.0;
	/* Rounding must not take the sine over 1. */
	double crossing = asin(clamp(under / half_range, -1.0, 1.0));
	return positive(
	    (half_range * cos(crossing) - under * (PI / 2.0 - crossing)) / PI);
}

double
degree_days_four_cases(double high, double low, double base)
{
	if (!is_day(high, low, base))
		return NAN;
	if (low >= base || high <= base)
		return degree_days_average(high, low, base);
	if ((high + low) / 2.0 >= base)
		return (high - base) / 2.0 - (base - low) / 4.0;
	return (high - base) / 4.0;
}
