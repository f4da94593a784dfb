/*
 * What the records and the card say about one product on a site, as columns:
 * each belongs to one rule of one job, so the series cannot hold it.
 */
#ifndef ADVICE_FACTS_H
#define ADVICE_FACTS_H

#include "turf/turf.h"
#include "weather/series.h"

/* What has been done so far. */
struct past {
	const struct application *application; /* in any order */
	size_t application_count;
	/* Slots that other jobs were promised: they count for the sums of
	   their year, before and after the start. */
	const struct application *promised;
	size_t promised_count;
	const struct product *product; /* all that are on file */
	size_t product_count;
	int64_t now;
};

struct facts_question {
	const struct rule *rule; /* of the card; its measure is asked for */
	const struct job *job;
	const struct dose *dose; /* of that card, in the job's tank */
	const struct past *past;
};

/* Whether the measure is one of those below. */
bool facts_answer(enum measure measure);

/* Whether it is one of the sums in which promised slots count. */
bool facts_count_promised(enum measure measure);

/*
 * The column of the rule's measure, series->count cells that the caller frees.
 * A record counts from the moment at which it began. The year is the calendar
 * year of the start on the site's clock, which is how "per year" is commonly
 * counted (common practice, no source).
 *  - days since: local days since the last application, +infinity when there
 *    was none;
 *  - days waited: of two applications that belong together, the days since the
 *    first while the second one is missing; else 0. An application is a second
 *    one when it follows a first within the rule's limit of days; those of one
 *    day are one. Once the limit has passed at `now` the first stays alone, and
 *    the next one is a first again;
 *  - season count: the applications of the year, with this one. A spot
 *    counts like the whole site;
 *  - season amount: the amounts of the year, each over the area that it
 * covered, and this job's rate; g/m2 or L/m2, as the job doses it. Two spots
 * may have been the same one, so they add up. Unknown when an amount or its
 * area is, or it is told in the other kind;
 *  - season active: the same for rule->subject, in g/m2, over all products that
 *    contain it, those in the tank and those of the records. Unknown when a
 *    product is no longer on file, or is a herbicide whose card names no active
 *    at all, or its content is told in the other kind;
 *  - dates: 1 inside the dates of the card, or when it has none, else 0.
 *
 * Slots that were promised to other jobs count in the three sums, as if they
 * had been kept, and in nothing else: the planner keeps the re-treatment
 * interval between them.
 */
float *facts_column(
    const struct facts_question *question, const struct series *series);

#endif
