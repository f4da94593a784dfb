/*
 * Any bytes into every forecast format's reader and its link. What a reader
 * accepts must be a series that the rules can rely on; what it refuses must
 * have a reason.
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

/* Some kind of alert, which is there or is not. */
static bool
has_alerts(const struct series *series)
{
	bool any = false;
	for (int m = MEASURE_ALERT_WIND; m <= MEASURE_ALERT_SMOKE; m++) {
		const float *column = series->column[m];
		any = any || column != NULL;
		for (size_t i = 0; column != NULL && i < series->count; i++)
			require(column[i] == 0.0F || column[i] == 1.0F);
	}
	return any;
}

static void
check_series(const struct series *series)
{
	bool alerts = has_alerts(series);
	require(series->count > 0);
	require(series->start % SERIES_STEP == 0);
	require(alerts || series->column[MEASURE_AIR_TEMPERATURE] != NULL);
	for (int m = 0; m < MEASURES; m++)
		for (size_t i = 0; series->column[m] && i < series->count; i++)
			check_cell(series->column[m][i],
			    measure_info((enum measure)m));
	for (size_t i = 0; i < series->count; i++)
		check_rain(series, i);
}

/* A link is an address, or the document is of another kind. */
static void
check_link(const struct format *format, const char *bytes, size_t size)
{
	char *address = NULL;
	struct error error = { 0 };
	if (format->link == NULL)
		return;
	if (format->link(bytes, size, &address, &error)) {
		require(address == NULL || address[0] != '\0');
	} else {
		require(address == NULL);
		require(error.kind == ERROR_INPUT);
		require(error.text[0] != '\0');
	}
	free(address);
}

static void
check_read(const struct format *format, const char *bytes, size_t size)
{
	struct series series;
	struct error error = { 0 };
	if (!format->read(bytes, size, &series, &error)) {
		require(error.kind == ERROR_INPUT);
		require(error.text[0] != '\0');
		return;
	}
	check_series(&series);
	series_release(&series);
}

int
LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	const struct format *format;
	for (size_t i = 0; (format = format_at(i)) != NULL; i++) {
		check_link(format, (const char *)data, size);
		check_read(format, (const char *)data, size);
	}
	return 0;
}
