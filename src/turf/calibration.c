#include "turf/calibration.h"

#include <math.h>

/* m2 of 1/128 acre. */
#define PLOT (43560.0 / 128 * 0.3048 * 0.3048)

/* Parts of what is usual; a hair more, so that "more than" is not rounding. */
#define UNEVEN     (0.05 + 1e-9)
#define UNLIKE_NEW (0.10 + 1e-9)

static bool
is_some(double value)
{
	return isfinite(value) && value > 0;
}

static double
divide(double over, double under)
{
	return is_some(over) && is_some(under) ? over / under : (double)NAN;
}

static double
multiply(double a, double b)
{
	return is_some(a) && is_some(b) ? a * b : (double)NAN;
}

double
calibration_carrier(double caught, double area)
{
	return divide(caught, area);
}

double
calibration_course(double swath)
{
	return divide(PLOT, swath);
}

double
calibration_walk_carrier(const struct calibration_walk *walk)
{
	double flow = divide(walk->caught, walk->caught_in);
	return calibration_carrier(multiply(flow, walk->time), walk->area);
}

bool
calibration_solve(struct calibration_nozzle *nozzle, struct error *error)
{
	struct calibration_nozzle whole = *nozzle;
	double *part[] = { &whole.carrier, &whole.flow, &whole.swath,
		&whole.speed };
	double *missing = NULL;
	size_t missing_count = 0;
	for (size_t i = 0; i < sizeof part / sizeof part[0]; i++) {
		if (is_some(*part[i]))
			continue;
		if (!isnan(*part[i]))
			return error_set(error, ERROR_INPUT,
			    "carrier, flow, swath and speed must be over 0");
		missing = part[i];
		missing_count++;
	}
	if (missing_count != 1)
		return error_set(error, ERROR_INPUT,
		    "three of carrier, flow, swath and speed give the fourth");
	if (missing == &whole.flow)
		*missing = whole.carrier * whole.swath * whole.speed;
	else if (missing == &whole.carrier)
		*missing = whole.flow / (whole.swath * whole.speed);
	else if (missing == &whole.swath)
		*missing = whole.flow / (whole.carrier * whole.speed);
	else
		*missing = whole.flow / (whole.carrier * whole.swath);
	if (!is_some(*missing))
		return error_set(error, ERROR_INPUT,
		    "carrier, flow, swath and speed are too far apart");
	*nozzle = whole;
	return true;
}

double
calibration_mean(const double *value, size_t count)
{
	double sum = 0;
	for (size_t i = 0; i < count; i++) {
		if (!is_some(value[i]))
			return (double)NAN;
		sum += value[i];
	}
	return divide(sum, (double)count);
}

double
calibration_pace(double swath, double speed)
{
	return multiply(swath, speed);
}

double
calibration_reach(double tank, double carrier)
{
	return divide(tank, carrier);
}

double
calibration_excess(double caught, double usual)
{
	return divide(caught, usual) - 1;
}

bool
calibration_is_uneven(double excess)
{
	return fabs(excess) > UNEVEN;
}

bool
calibration_is_unlike_new(double excess)
{
	return fabs(excess) > UNLIKE_NEW;
}

bool
calibration_is_stale(const struct sprayer *sprayer, int64_t today)
{
	return sprayer->calibrated != INT64_MIN &&
	       (double)(today - sprayer->calibrated) * DAY_SECONDS >
		   sprayer->calibration_holds;
}
