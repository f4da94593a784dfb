#include "unit/test.h"

#include "physics/soil.h"

#include <stdbool.h>

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))
#define YEAR         366
#define EVERY        30 /* days between two readings of the probe */

static const double example[SOIL_DAYS] = { 8, 9, 10, 12, 11, 13, 14, 12, 15, 16,
	17 };

/*
 * Computed from the model, whose weights and fifth were read in the source of
 * BIOME-BGC 4. Where the year's mean is the weighted mean itself, the last
 * step does nothing.
 */
static void
agrees_with_the_worked_example(void **state)
{
	(void)state;
	assert_close(soil_temperature_model(example, 16), 14.267, 0.0005);
	assert_close(soil_temperature_model(example, 13.833), 13.833, 0.0005);
}

/* One public copy divides by 77: 11.857 of the same example. Computed. */
static void
divisor_77_is_wrong(void **state)
{
	(void)state;
	double weighted = 13.8333333;
	assert_close(weighted * 66 / 77, 11.857, 0.0005);
	double model = soil_temperature_model(example, weighted);
	assert_true(fabs(model - 11.857) > 1.9);
	/* The weights sum up to 66: a steady air stays what it is. */
	double steady[SOIL_DAYS];
	for (size_t i = 0; i < SOIL_DAYS; i++)
		steady[i] = 20;
	assert_close(soil_temperature_model(steady, 20), 20, 1e-12);
}

/* Air that jumps from 10 to 20: the day before, and days 1 to 11. Computed. */
static void
follows_a_step_as_computed(void **state)
{
	(void)state;
	static const double wanted[] = { 10.00, 11.67, 13.18, 14.55, 15.76,
		16.82, 17.73, 18.48, 19.09, 19.55, 19.85, 20.00 };
	for (size_t day = 0; day < COUNT(wanted); day++) {
		double air[SOIL_DAYS];
		for (size_t i = 0; i < SOIL_DAYS; i++)
			air[i] = i + day < SOIL_DAYS ? 10 : 20;
		assert_close(soil_temperature_model(air, wanted[day]),
		    wanted[day], 0.005);
		assert_close(soil_temperature_model(air, 30),
		    0.8 * wanted[day] + 6, 0.005);
	}
}

static void
an_unknown_day_or_year_gives_unknown(void **state)
{
	(void)state;
	for (size_t day = 0; day < SOIL_DAYS; day++) {
		double air[SOIL_DAYS];
		memcpy(air, example, sizeof air);
		air[day] = NAN;
		assert_nan(soil_temperature_model(air, 16));
	}
	assert_nan(soil_temperature_model(example, NAN));
}

static void
bias_moves_half_way_to_each_later_reading(void **state)
{
	(void)state;
	static const double readings[] = { 2, 4, -1 };
	assert_close(soil_bias(NULL, 0), 0, 0);
	assert_close(soil_bias(readings, 1), 2, 1e-12);
	assert_close(soil_bias(readings, 2), 3, 1e-12);
	assert_close(soil_bias(readings, 3), 1, 1e-12);
	assert_nan(soil_bias((const double[]){ 1, NAN, 1 }, 3));
}

/* A year of one station: unknown days are NaN. */
struct year {
	size_t count;
	double air[YEAR], soil[YEAR], model[YEAR];
};

/* NOAA USCRN daily: field 8 is the mean of high and low, 24 soil at 10 cm. */
static void
read_day(char *line, struct year *year)
{
	char *rest = NULL;
	char *field = strtok_r(line, " \n", &rest);
	size_t day = year->count++;
	assert_true(day < YEAR);
	year->air[day] = year->soil[day] = NAN;
	for (int i = 1; field != NULL; i++) {
		double value = strtod(field, NULL);
		if (i == 8 && value > -999)
			year->air[day] = value;
		if (i == 24 && value > -999)
			year->soil[day] = value;
		field = strtok_r(NULL, " \n", &rest);
	}
}

static bool
read_year(struct year *year)
{
	char path[512], line[512];
	const char *folder = getenv("LULL_SHARED");
	if (folder == NULL)
		return false;
	(void)snprintf(
	    path, sizeof path, "%s/data/uscrn-daily-2015-austin.txt", folder);
	FILE *file = fopen(path, "r");
	if (file == NULL)
		return false;
	while (fgets(line, sizeof line, file) != NULL)
		read_day(line, year);
	(void)fclose(file);
	return true;
}

static double
mean_of_known(const double *values, size_t count)
{
	double sum = 0, known = 0;
	for (size_t i = 0; i < count; i++) {
		if (!isnan(values[i])) {
			sum += values[i];
			known++;
		}
	}
	return sum / known;
}

static bool
model_year(struct year *year)
{
	if (!read_year(year))
		return false;
	double yearly = mean_of_known(year->air, year->count);
	for (size_t i = 0; i < year->count; i++)
		year->model[i] =
		    i + 1 < SOIL_DAYS
			? NAN
			: soil_temperature_model(
			      &year->air[i + 1 - SOIL_DAYS], yearly);
	return true;
}

/* Root of the mean square of soil less estimate, over the known days. */
static double
error_of(const struct year *year, const double *estimate)
{
	double square[YEAR];
	for (size_t i = 0; i < year->count; i++)
		square[i] = pow(year->soil[i] - estimate[i], 2);
	return sqrt(mean_of_known(square, year->count));
}

/*
 * Seen with the station's year: 2.05 K over 312 days, 6.1 K on the worst, and
 * 1.45 K without the step to the yearly mean. Today's air taken for the soil
 * would be 2.57 K off. What the model is for is a threshold that the soil nears
 * over weeks, so 2.5 K is asked of it here, which leaves the number seen some
 * room.
 */
static void
stays_near_a_measured_year(void **state)
{
	(void)state;
	struct year year = { 0 };
	double without[YEAR];
	if (!model_year(&year)) {
		print_message("no recorded year: skipped\n");
		skip();
	}
	double yearly = mean_of_known(year.air, year.count);
	for (size_t i = 0; i < year.count; i++)
		without[i] = (year.model[i] - 0.2 * yearly) / 0.8;
	double error = error_of(&year, year.model);
	print_message("soil at 10 cm: model %.2f K off, without the yearly "
		      "mean %.2f K, air %.2f K\n",
	    error, error_of(&year, without), error_of(&year, year.air));
	assert_true(error < 2.5);
	assert_true(error < error_of(&year, year.air));
}

/* The model with the bias of the readings made before each day. */
static void
follow_probe(const struct year *year, size_t first, double *ret_model,
    double *ret_corrected)
{
	double readings[YEAR];
	size_t count = 0;
	for (size_t i = 0; i < year->count; i++) {
		bool after = count > 0;
		double bias = soil_bias(readings, count);
		double difference = year->soil[i] - year->model[i];
		ret_model[i] = after ? year->model[i] : NAN;
		ret_corrected[i] = after ? year->model[i] + bias : NAN;
		if (i % EVERY == first && !isnan(difference))
			readings[count++] = difference;
	}
}

/*
 * One reading in 30 days, tried with each of the 30 days to begin on. Seen: the
 * bias helps for most of them; for a few, whose readings fall on odd days, it
 * harms by less than 0.3 K. All together it must help.
 */
static void
a_bias_from_few_readings_makes_it_no_worse(void **state)
{
	(void)state;
	struct year year = { 0 };
	double model[YEAR], corrected[YEAR];
	double before = 0, after = 0, worst = 0;
	int better = 0;
	if (!model_year(&year)) {
		print_message("no recorded year: skipped\n");
		skip();
	}
	for (size_t first = 0; first < EVERY; first++) {
		follow_probe(&year, first, model, corrected);
		double plain = error_of(&year, model);
		double biased = error_of(&year, corrected);
		before += plain * plain / EVERY;
		after += biased * biased / EVERY;
		better += biased <= plain;
		worst = fmax(worst, biased - plain);
	}
	print_message("bias of a reading in %d days: %.2f K off, was %.2f; "
		      "better for %d first days, at worst %.2f K worse\n",
	    EVERY, sqrt(after), sqrt(before), better, worst);
	assert_true(after < before);
	assert_true(better >= 25);
	assert_true(worst < 0.3);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(agrees_with_the_worked_example),
		cmocka_unit_test(divisor_77_is_wrong),
		cmocka_unit_test(follows_a_step_as_computed),
		cmocka_unit_test(an_unknown_day_or_year_gives_unknown),
		cmocka_unit_test(bias_moves_half_way_to_each_later_reading),
		cmocka_unit_test(stays_near_a_measured_year),
		cmocka_unit_test(a_bias_from_few_readings_makes_it_no_worse),
	};
	return RUN_TESTS(tests);
}
