/*
 * Degree days of one day from its high and low. Any unit of temperature, the
 * same for all arguments; the answer is in that unit. NaN in gives NaN out,
 * and so does a high below the low. Never negative.
 *
 * The methods differ most on a cold day with a warm afternoon, which only the
 * average calls nothing; a threshold is worth only what the method is by which
 * it was found.
 */
#ifndef PHYSICS_DEGREE_DAYS_H
#define PHYSICS_DEGREE_DAYS_H

/* The mean of high and low over the base, or 0. */
double degree_days_average(double high, double low, double base);

/*
 * The same after both have been brought into base..cap: with 50 and 86 degF the
 * modified method of maize growers. NaN for a cap below the base.
 */
double degree_days_capped(double high, double low, double base, double cap);

/*
 * The area over the base of one sine wave through low and high: Baskerville
 * and Emin 1969.
 */
double degree_days_sine(double high, double low, double base);

/* The four cases by which Met Eireann counts, near to the sine's area. */
double degree_days_four_cases(double high, double low, double base);

#endif
