/* What a lawn keeps of the days before: warmth in the soil, degree days. */
#include "advice/derive_parts.h"

#include "base/memory.h"
#include "physics/degree_days.h"
#include "physics/soil.h"

#include <stdlib.h>

enum { PROBE_DAYS = 60 }; /* before the series: a choice of ours */

/* What is known of the days, and where. */
struct diary {
	const struct site *site;
	const struct daily *days;
	size_t count;
};

static double
model_soil(const struct diary *diary, int64_t day)
{
	double mean[SOIL_DAYS];
	for (int i = 0; i < SOIL_DAYS; i++) {
		const struct daily *one = daily_find(
		    diary->days, diary->count, day - SOIL_DAYS + 1 + i);
		mean[i] = one == NULL ? (double)NAN : one->mean;
	}
	return soil_temperature_model(mean, diary->site->yearly_mean);
}

static double
source_soil(const struct diary *diary, int64_t day)
{
	const struct daily *one = daily_find(diary->days, diary->count, day);
	return one == NULL ? (double)NAN : one->soil;
}

/* The bias of what the column holds, by the keeper's thermometer. */
static double
find_bias(const struct diary *diary, int64_t start,
    double (*uncorrected)(const struct diary *, int64_t))
{
	const struct site *site = diary->site;
	if (site->soil_count == 0)
		return 0;
	int64_t oldest = civil_day(&site->zone, start) - PROBE_DAYS;
	double *difference = memory_array(site->soil_count, sizeof *difference);
	size_t known = 0;
	for (size_t i = 0; i < site->soil_count; i++) {
		int64_t day = civil_day(&site->zone, site->soil[i].at);
		if (day < oldest)
			continue;
		double value =
		    site->soil[i].temperature - uncorrected(diary, day);
		if (!isnan(value))
			difference[known++] = value;
	}
	double bias = soil_bias(difference, known);
	free(difference);
	return bias;
}

static bool
is_any_known(const struct series *series, enum measure measure)
{
	for (size_t i = 0; i < series->count; i++)
		if (!isnan(cell_or_unknown(series, measure, i)))
			return true;
	return false;
}

static void
hold_model(struct series *series, const struct diary *diary)
{
	const struct zone *zone = &diary->site->zone;
	int64_t day = civil_day(zone, series->start), from, to;
	series->continuous[MEASURE_SOIL] = false;
	for (from = civil_day_start(zone, day); from < series_end(series);
	     from = to) {
		to = civil_day_start(zone, day + 1);
		series_hold(
		    series, MEASURE_SOIL, from, to, model_soil(diary, day));
		day++;
	}
}

static void
fill_soil(struct series *series, const struct diary *diary)
{
	bool has_source = is_any_known(series, MEASURE_SOIL);
	if (!has_source)
		hold_model(series, diary);
	float *column = series->column[MEASURE_SOIL];
	if (column == NULL)
		return;
	double bias = find_bias(
	    diary, series->start, has_source ? source_soil : model_soil);
	for (size_t i = 0; i < series->count; i++)
		column[i] = (float)((double)column[i] + bias);
}

/* The first day of the season that the day lies in. */
static int64_t
season_start(const struct site *site, int64_t day)
{
	bool south = site->latitude < 0;
	struct civil civil =
	    civil_from_utc(&site->zone, civil_day_start(&site->zone, day));
	struct civil first = {
		.year = civil.year, .month = south ? 7 : 1, .day = 1
	};
	if (civil.month < first.month)
		first.year--;
	return civil_day(&site->zone, utc_from_civil(&site->zone, &first));
}

static double
degrees_of(const struct diary *diary, int64_t day)
{
	const struct daily *one = daily_find(diary->days, diary->count, day);
	return one == NULL ? (double)NAN
			   : degree_days_sine(
				 one->high, one->low, diary->site->degree_base);
}

static void
fill_degree_days(struct series *series, const struct diary *diary)
{
	const struct zone *zone = &diary->site->zone;
	int64_t day = civil_day(zone, series->start), from, to;
	int64_t next = INT64_MIN; /* the first day that is not in the sum */
	double sum = 0;
	for (from = civil_day_start(zone, day); from < series_end(series);
	     from = to) {
		int64_t start = season_start(diary->site, day);
		if (start > next) {
			sum = 0;
			next = start;
		}
		for (; next < day; next++)
			sum += degrees_of(diary, next);
		to = civil_day_start(zone, day + 1);
		series_hold(series, MEASURE_DEGREE_DAYS, from, to, sum);
		day++;
	}
}

void
derive_soil(struct series *series, const struct site *site,
    const struct daily *days, size_t count)
{
	struct diary diary = { site, days, count };
	fill_soil(series, &diary);
	fill_degree_days(series, &diary);
}
