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
	const struct turf_event *event;
	size_t event_count;
	int64_t now; /* 0: not said */
};

static struct diary
open_diary(const struct site *site, const struct site_facts *facts)
{
	return (struct diary){ site, facts->days, facts->day_count,
		facts->event, facts->event_count, facts->now };
}

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

struct reading {
	int64_t day;
	int64_t told;
	double temperature;
};

struct readings {
	struct reading *item; /* ascending by day, one a day */
	size_t count;
};

/* Of one day the reading that was told last counts. */
static void
add_reading(struct readings *readings, struct reading reading)
{
	size_t i = readings->count;
	while (i > 0 && readings->item[i - 1].day > reading.day)
		i--;
	struct reading *before = i > 0 ? &readings->item[i - 1] : NULL;
	if (before != NULL && before->day == reading.day) {
		if (reading.told >= before->told)
			*before = reading;
		return;
	}
	for (size_t j = readings->count++; j > i; j--)
		readings->item[j] = readings->item[j - 1];
	readings->item[i] = reading;
}

/* Those of the configuration do not say when they were told: what the keeper
   observes on the same day counts. */
static struct readings
list_readings(const struct diary *diary)
{
	const struct site *site = diary->site;
	struct readings readings = { .item = memory_array(
					 site->soil_count + diary->event_count,
					 sizeof *readings.item) };
	for (size_t i = 0; i < site->soil_count &&
			   (diary->now == 0 || site->soil[i].at <= diary->now);
	     i++)
		add_reading(&readings,
		    (struct reading){ civil_day(&site->zone, site->soil[i].at),
			INT64_MIN, site->soil[i].temperature });
	for (size_t i = 0; i < diary->event_count; i++) {
		const struct turf_event *event = &diary->event[i];
		if (event->kind == EVENT_SOIL)
			add_reading(
			    &readings, (struct reading){
					   civil_day(&site->zone, event->from),
					   event->told, event->amount });
	}
	return readings;
}

/* The bias of what the column holds, by the keeper's thermometer. */
static double
find_bias(const struct diary *diary, int64_t start,
    double (*uncorrected)(const struct diary *, int64_t))
{
	struct readings readings = list_readings(diary);
	int64_t oldest = civil_day(&diary->site->zone, start) - PROBE_DAYS;
	double *difference = memory_array(readings.count, sizeof *difference);
	size_t known = 0;
	for (size_t i = 0; i < readings.count; i++) {
		const struct reading *reading = &readings.item[i];
		if (reading->day < oldest)
			continue;
		double value =
		    reading->temperature - uncorrected(diary, reading->day);
		if (!isnan(value))
			difference[known++] = value;
	}
	double bias = soil_bias(difference, known);
	free(difference);
	free(readings.item);
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

/*
 * What was stored of days that the source does not hold any more, so that a
 * mean over a week has its days. A gap within a day stays one.
 */
static void
hold_history(struct series *series, const struct diary *diary)
{
	const struct zone *zone = &diary->site->zone;
	int64_t day = civil_day(zone, series->start), from, to;
	for (from = civil_day_start(zone, day); from < series_end(series);
	     from = to) {
		bool known = false;
		to = civil_day_start(zone, day + 1);
		for (int64_t time = from; time < to; time += SERIES_STEP)
			known |= !isnan(series_at(series, MEASURE_SOIL, time));
		if (!known)
			series_hold(series, MEASURE_SOIL, from, to,
			    source_soil(diary, day));
		day++;
	}
}

static void
fill_soil(struct series *series, const struct diary *diary)
{
	bool has_source = is_any_known(series, MEASURE_SOIL);
	if (has_source)
		hold_history(series, diary);
	else
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
    const struct site_facts *facts)
{
	const struct diary diary = open_diary(site, facts);
	fill_soil(series, &diary);
	fill_degree_days(series, &diary);
}

/* Source and model one by one and not as a whole: a forecast that goes stale
   must not forget what the soil of the days before was. */
void
derive_daily_soil(const struct series *series, const struct site *site,
    const struct site_facts *facts, int64_t first, size_t count, double *ret)
{
	const struct diary diary = open_diary(site, facts);
	double of_source = find_bias(&diary, series->start, source_soil);
	double of_model = find_bias(&diary, series->start, model_soil);
	int64_t seen = civil_day(&site->zone, series->start);
	for (size_t i = 0; i < count; i++) {
		int64_t day = first + (int64_t)i;
		ret[i] = day < seen ? (double)NAN
				    : daily_of(series, &site->zone, day).soil;
		if (isnan(ret[i]))
			ret[i] = source_soil(&diary, day) + of_source;
		if (isnan(ret[i]))
			ret[i] = model_soil(&diary, day) + of_model;
	}
}
