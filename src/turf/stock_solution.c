#include "turf/stock_solution.h"

#include <math.h>

/* Common practice, no source. */
#define USUAL_STRENGTH 10.0 /* g/L */
#define STAYS_BEHIND   1.02
#define STEPS_LEAST    50 /* half a step is then 1 % */
#define HAIR           1e-9

/* The next number over it that is easy to weigh. */
static double
round_up(double grams)
{
	static const double easy[] = { 1, 1.2, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10 };
	double power = pow(10, floor(log10(grams)));
	size_t i = 0;
	while (i + 1 < sizeof easy / sizeof easy[0] &&
	       easy[i] * power < grams * (1 - HAIR))
		i++;
	return easy[i] * power;
}

struct stock_solution
stock_solution_make(const struct product *product, double grams, double scale)
{
	double least = fmax(grams * STAYS_BEHIND, STEPS_LEAST * scale);
	double strength = product->stock > 0 ? product->stock : USUAL_STRENGTH;
	struct stock_solution made = { 0 };
	made.mass = ceil(round_up(least) / scale - HAIR) * scale;
	made.volume =
	    fmax(1, round(made.mass / strength * 1000 * (1 + HAIR))) / 1000;
	made.strength = made.mass / made.volume;
	made.off = scale / 2 / made.mass;
	return made;
}

double
stock_solution_draw(double grams, double strength)
{
	return grams / strength;
}
