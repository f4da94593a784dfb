/*
 * What crash_store adds. Everything follows from a number, so that what is read
 * back can be compared byte for byte.
 */
#ifndef TESTS_ORACLE_CRASH_PARCEL_H
#define TESTS_ORACLE_CRASH_PARCEL_H

#include "store/store.h"
#include "unit/record_sample.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#define ADDRESS "https://forecast.example/grid"

enum { BODY_MAX = 20000, GENERATIONS = 3 };

/* All that one transaction adds, and what is added after it. */
struct parcel {
	char uid[40];
	char text[120];
	char body[BODY_MAX];
	struct stored_job job;
	/* The first is part of the transaction; each corrects the one before
	   it. There are `records` of them, or fewer after a kill. */
	struct record_sample record[GENERATIONS];
	size_t records;
	struct stored_slot slot;
	struct stored_document document;
	struct stored_calibration calibration;
	struct stored_solution solution;
};

static inline void
fill_body(char *body, size_t length, int64_t number)
{
	/* Numbers that look random (a linear congruence) cannot be packed. */
	uint32_t noise = (uint32_t)number;
	for (size_t i = 0; i < length; i++) {
		noise = noise * 1664525U + 1013904223U;
		body[i] = (char)(noise >> 24);
	}
}

static inline void
fill_parcel(struct parcel *parcel, int64_t number)
{
	*parcel = (struct parcel){ 0 };
	(void)snprintf(parcel->uid, sizeof parcel->uid, "job-%" PRId64, number);
	(void)snprintf(parcel->text, sizeof parcel->text,
	    "Gr\xc3\xbc\xc3\x9f 'no' \"%" PRId64 "\"\n", number * 977);
	size_t length = (size_t)(number * 7919 % BODY_MAX);
	fill_body(parcel->body, length, number);
	parcel->job = (struct stored_job){ .uid = parcel->uid,
		.site = parcel->text,
		.dose_count = (size_t)(number % LIMIT_TANK_PRODUCTS) + 1,
		.after = number,
		.before = INT64_MAX,
		.weeds = "",
		.note = parcel->text };
	for (size_t i = 0; i < parcel->job.dose_count; i++)
		parcel->job.dose[i].product = parcel->text;
	for (int64_t i = 0; i < GENERATIONS; i++)
		sample_fill(&parcel->record[i], number * GENERATIONS + i);
	parcel->records = (size_t)(number % GENERATIONS) + 1;
	parcel->slot = (struct stored_slot){ 0, number, number + 60, 1 };
	parcel->document = (struct stored_document){
		.fetched = number, .issued = 1, .length = length
	};
	parcel->calibration = (struct stored_calibration){ 0, parcel->text,
		number, (double)number / 7, number % 2 == 0 ? NAN : 1.25,
		parcel->uid, number * 3 };
	parcel->solution = (struct stored_solution){ 0, parcel->text, number,
		(double)number / 7, (double)number / 3, number * 3 };
}

static inline bool
is_job_whole(const struct stored_job *job, const struct parcel *wanted)
{
	if (strcmp(job->uid, wanted->uid) != 0 ||
	    strcmp(job->site, wanted->text) != 0 ||
	    strcmp(job->note, wanted->text) != 0 ||
	    job->dose_count != wanted->job.dose_count)
		return false;
	for (size_t i = 0; i < job->dose_count; i++)
		if (strcmp(job->dose[i].product, wanted->text) != 0)
			return false;
	return true;
}

static inline bool
is_calibration_whole(const struct stored_calibration *one)
{
	struct parcel parcel;
	fill_parcel(&parcel, one->at);
	const struct stored_calibration *wanted = &parcel.calibration;
	return strcmp(one->sprayer, wanted->sprayer) == 0 &&
	       strcmp(one->method, wanted->method) == 0 &&
	       same_real(one->carrier, wanted->carrier) &&
	       same_real(one->pace, wanted->pace) &&
	       one->created == wanted->created;
}

static inline bool
is_solution_whole(const struct stored_solution *one)
{
	struct parcel parcel;
	fill_parcel(&parcel, one->made);
	const struct stored_solution *wanted = &parcel.solution;
	return strcmp(one->product, wanted->product) == 0 &&
	       same_real(one->mass, wanted->mass) &&
	       same_real(one->volume, wanted->volume) &&
	       one->created == wanted->created;
}

#endif
