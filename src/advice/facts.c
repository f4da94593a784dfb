#include "advice/facts.h"

#include "base/memory.h"

#include <math.h>
#include <string.h>
#include <strings.h>

static const double unknown = (double)NAN;

static bool
is_here(const struct application *application,
    const struct facts_question *question)
{
	return strcmp(application->site, question->job->site->name) == 0;
}

static bool
is_of(const struct application *application, const struct product *product)
{
	return strcmp(application->product, product->name) == 0;
}

/* The first application after `time` on the site, of the product unless that is
   NULL; INT64_MAX when there is none. */
static int64_t
find_next(const struct facts_question *question, const struct product *product,
    int64_t time)
{
	const struct past *past = question->past;
	int64_t next = INT64_MAX;
	for (size_t i = 0; i < past->application_count; i++) {
		const struct application *one = &past->application[i];
		if (one->at > time && one->at < next &&
		    is_here(one, question) &&
		    (product == NULL || is_of(one, product)))
			next = one->at;
	}
	return next;
}

static double
tell_days_since(const struct facts_question *question, int64_t time)
{
	const struct past *past = question->past;
	const struct site *site = question->job->site;
	int64_t last =
	    application_last(past->application, past->application_count,
		site->name, question->dose->product->name, time);
	if (last == INT64_MIN)
		return (double)INFINITY;
	return (double)(civil_day(&site->zone, time) -
			civil_day(&site->zone, last));
}

static double
tell_days_waited(const struct facts_question *question, int64_t time)
{
	const struct product *product = question->dose->product;
	const struct zone *zone = &question->job->site->zone;
	const double most = question->rule->limit;
	bool is_open = false;
	int64_t last = INT64_MIN; /* day of the last one */
	for (int64_t at = find_next(question, product, INT64_MIN); at <= time;
	     at = find_next(question, product, at)) {
		int64_t day = civil_day(zone, at);
		if (day == last)
			continue;
		is_open = !is_open || (double)(day - last) > most;
		last = day;
	}
	int64_t today = civil_day(zone, question->past->now);
	if (!is_open || (double)(today - last) > most)
		return 0;
	return (double)(civil_day(zone, time) - last);
}

static int64_t
year_start(const struct zone *zone, int64_t time)
{
	struct civil civil = civil_from_utc(zone, time);
	struct civil first = { .year = civil.year, .month = 1, .day = 1 };
	return utc_from_civil(zone, &first);
}

static const struct product *
find_product(const struct past *past, const char *name)
{
	for (size_t i = 0; i < past->product_count; i++)
		if (strcmp(past->product[i].name, name) == 0)
			return &past->product[i];
	return NULL;
}

/*
 * What one application adds to a sum of the year; each is of the site. The
 * unknown goes on into the sum.
 */
typedef double adding(const struct facts_question *question,
    const struct application *application);

static double
add_up(const struct facts_question *question, int64_t time, adding *add)
{
	const struct past *past = question->past;
	const struct zone *zone = &question->job->site->zone;
	int64_t from = year_start(zone, time);
	double sum = 0;
	for (size_t i = 0; i < past->application_count; i++) {
		const struct application *one = &past->application[i];
		if (one->at >= from && one->at <= time &&
		    is_here(one, question))
			sum += add(question, one);
	}
	for (size_t i = 0; i < past->promised_count; i++) {
		const struct application *one = &past->promised[i];
		if (year_start(zone, one->at) == from && is_here(one, question))
			sum += add(question, one);
	}
	return sum;
}

static double
add_count(const struct facts_question *question,
    const struct application *application)
{
	return is_of(application, question->dose->product) ? 1 : 0;
}

static double
tell_season_count(const struct facts_question *question, int64_t time)
{
	return add_up(question, time, add_count) + 1;
}

/*
 * On the ground that it covered: two spots may have been the same one, and the
 * label's maximum holds for every one.
 */
static double
spread(const struct application *application)
{
	return application->area > 0 ? application->amount / application->area
				     : unknown;
}

static double
add_amount(const struct facts_question *question,
    const struct application *application)
{
	const struct dose *dose = question->dose;
	if (!is_of(application, dose->product))
		return 0;
	if (application->is_mass != quantity_is_by_mass(dose->rate_kind))
		return unknown;
	return spread(application);
}

static double
tell_season_amount(const struct facts_question *question, int64_t time)
{
	/* the card's maximum is in grams and the dose in litres, or so */
	if (question->rule->is_volume ==
	    quantity_is_by_mass(question->dose->rate_kind))
		return unknown;
	return add_up(question, time, add_amount) +
	       dose_on_ground(question->dose, question->job->sprayer);
}

static double
add_active(const struct facts_question *question,
    const struct application *application)
{
	const struct product *product =
	    find_product(question->past, application->product);
	if (product == NULL)
		return unknown;
	return product_active(product, question->rule->subject,
	    spread(application), application->is_mass);
}

static double
tell_season_active(const struct facts_question *question, int64_t time)
{
	const struct job *job = question->job;
	double sum = add_up(question, time, add_active);
	for (size_t i = 0; i < job->tank.count; i++) {
		const struct dose *dose = &job->tank.dose[i];
		sum += product_active(dose->product, question->rule->subject,
		    dose_on_ground(dose, job->sprayer),
		    quantity_is_by_mass(dose->rate_kind));
	}
	return sum;
}

static bool
lies_in(const struct date_span *span, const struct civil *civil)
{
	int from = span->from_month * 100 + span->from_day;
	int to = span->to_month * 100 + span->to_day;
	int date = civil->month * 100 + civil->day;
	bool before_end = date <= to, after_start = date >= from;
	return from <= to ? after_start && before_end
			  : after_start || before_end;
}

static double
tell_dates(const struct facts_question *question, int64_t time)
{
	const struct product *product = question->dose->product;
	struct civil civil = civil_from_utc(&question->job->site->zone, time);
	bool inside = product->date_count == 0;
	for (size_t i = 0; i < product->date_count && !inside; i++)
		inside = lies_in(&product->date[i], &civil);
	return inside ? 1 : 0;
}

typedef double telling(const struct facts_question *question, int64_t time);

static telling *
find_telling(enum measure measure)
{
	static telling *const tellings[MEASURES] = {
		[MEASURE_DAYS_SINCE] = tell_days_since,
		[MEASURE_DAYS_WAITED] = tell_days_waited,
		[MEASURE_SEASON_COUNT] = tell_season_count,
		[MEASURE_SEASON_AMOUNT] = tell_season_amount,
		[MEASURE_SEASON_ACTIVE] = tell_season_active,
		[MEASURE_DATES] = tell_dates,
	};
	return tellings[measure];
}

bool
facts_answer(enum measure measure)
{
	return find_telling(measure) != NULL;
}

bool
facts_count_promised(enum measure measure)
{
	return measure == MEASURE_SEASON_COUNT ||
	       measure == MEASURE_SEASON_AMOUNT ||
	       measure == MEASURE_SEASON_ACTIVE;
}

/* Nothing here changes but with the local day and with an application, so each
   is asked once between two of these. */
float *
facts_column(const struct facts_question *question, const struct series *series)
{
	const struct zone *zone = &question->job->site->zone;
	telling *tell = find_telling(question->rule->measure);
	float *column = memory_array(series->count, sizeof *column);
	for (size_t i = 0; i < series->count;) {
		int64_t time = series_time(series, i);
		int64_t end = civil_day_start(zone, civil_day(zone, time) + 1);
		int64_t next = find_next(question, NULL, time);
		float value = (float)tell(question, time);
		for (end = next < end ? next : end;
		     i < series->count && series_time(series, i) < end; i++)
			column[i] = value;
	}
	return column;
}
