/*
 * Any bytes into every forecast format's reader. What a reader accepts must be
 * a series that the rules can rely on; what it refuses must have a reason.
 */
#include "weather/format.h"

#include <math.h>
#include <stdlib.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void
require(bool condition)
{
	if (!condition)
		abort();
}

/* Finite and plausible, or not known. */
static void
check_cell(float value, const struct measure_info *info)
{
	if (isnan(value))
		return;
	require(isfinite(value));
	require(!((double)value < info->least));
	require(!((double)value > info->most));
}

/* An amount is known together with the block that it came in. */
static void
check_rain(const struct series *series, size_t cell)
{
	int64_t time = series_time(series, cell);
	bool share = isnan(series_at(series, MEASURE_RAIN, time));
	bool block = isnan(series_at(series, MEASURE_RAIN_BLOCK, time));
	bool span = isnan(series_at(series, MEASURE_RAIN_BLOCK_SPAN, time));
	require(share == block && block == span);
}

static void
check_series(const struct series *series)
{
	require(series->count > 0);
	require(series->start % SERIES_STEP == 0);
	require(series->column[MEASURE_AIR_TEMPERATURE] != NULL);
	for (int m = 0; m < MEASURES; m++)
		for (size_t i = 0; series->column[m] && i < series->count; i++)
			check_cell(series->column[m][i],
			    measure_info((enum measure)m));
	for (size_t i = 0; i < series->count; i++)
		check_rain(series, i);
}

int
LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	const struct format *format;
	for (size_t i = 0; (format = format_at(i)) != NULL; i++) {
		struct series series;
		struct error error = { 0 };
		if (!format->read((const char *)data, size, &series, &error)) {
			require(error.kind == ERROR_INPUT);
			require(error.text[0] != '\0');
			continue;
		}
		check_series(&series);
		series_release(&series);
	}
	return 0;
}
