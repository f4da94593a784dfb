/*
 * Whole records that follow from a number, and whether two are the same in
 * every member: for the unit tests and for the program that is killed.
 */
#ifndef TESTS_UNIT_RECORD_SAMPLE_H
#define TESTS_UNIT_RECORD_SAMPLE_H

#include "store/store.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#define AT(member) offsetof(struct stored_record, member)

static const size_t record_texts[] = { AT(site), AT(forecast_source),
	AT(verdict), AT(reasons), AT(who), AT(certification), AT(client),
	AT(place), AT(weeds), AT(turf), AT(sprayer), AT(unusual), AT(leftover),
	AT(note) };

static const size_t record_reals[] = { AT(area), AT(used),
	AT(measured.air_temperature), AT(measured.wind), AT(measured.gust),
	AT(measured.wind_direction), AT(measured.humidity),
	AT(forecast.air_temperature), AT(forecast.wind), AT(forecast.gust),
	AT(forecast.wind_direction), AT(forecast.humidity), AT(carrier) };

static const size_t record_integers[] = { AT(id), AT(job), AT(replaces),
	AT(replaced_by), AT(from), AT(to), AT(utc_offset), AT(forecast_issued),
	AT(created) };

#undef AT

enum {
	RECORD_TEXTS = sizeof record_texts / sizeof record_texts[0],
	RECORD_REALS = sizeof record_reals / sizeof record_reals[0],
	RECORD_INTEGERS = sizeof record_integers / sizeof record_integers[0],
	RECORD_STRINGS = RECORD_TEXTS + 2 * LIMIT_TANK_PRODUCTS
};

/* Both quotes, letters of two and four bytes, a newline, a tab. */
#define RECORD_HARD "Gr\xc3\xbc\xc3\x9f \xf0\x9f\x8c\xa7 'a' \"b\"\n%%s\t--\\"

struct record_sample {
	struct stored_record record;
	char string[RECORD_STRINGS][80];
};

static inline char *
sample_string(struct record_sample *sample, size_t i, int64_t number)
{
	char *string = sample->string[i];
	(void)snprintf(string, sizeof sample->string[i],
	    RECORD_HARD " %zu %" PRId64, i, number);
	return string;
}

/* Each third is not known. */
static inline double
sample_real(size_t i, int64_t number)
{
	int64_t place = (int64_t)i + number;
	return place % 3 == 0 ? NAN : (double)place / 7;
}

static inline void
sample_amounts(struct record_sample *sample, int64_t number)
{
	static const enum quantity_kind kinds[] = { QUANTITY_MASS_PER_AREA,
		QUANTITY_VOLUME_PER_AREA, QUANTITY_MASS_PER_VOLUME,
		QUANTITY_VOLUME_PER_VOLUME };
	size_t count = (size_t)(number % LIMIT_TANK_PRODUCTS) + 1;
	sample->record.amount_count = count;
	for (size_t i = 0; i < count; i++) {
		size_t place = RECORD_TEXTS + 2 * i;
		double rate = sample_real(i, number);
		sample->record.amount[i] = (struct stored_amount){
			.product = sample_string(sample, place, number),
			.amount = sample_real(i + 1, number),
			.is_mass = (number + (int64_t)i) % 2 == 0,
			.registration =
			    sample_string(sample, place + 1, number),
			.rate = rate,
			.rate_kind =
			    isnan(rate) ? QUANTITY_NUMBER : kinds[i % 4],
		};
	}
}

/* Everything but the three links and the id, which are 0. */
static inline void
sample_fill(struct record_sample *sample, int64_t number)
{
	static char *const verdicts[] = { "", "go", "no-go", "unknown" };
	struct stored_record *record = &sample->record;
	stored_record_init(record);
	for (size_t i = 0; i < RECORD_TEXTS; i++) {
		char **member = (void *)((char *)record + record_texts[i]);
		*member = sample_string(sample, i, number);
	}
	for (size_t i = 0; i < RECORD_REALS; i++) {
		double *member = (void *)((char *)record + record_reals[i]);
		*member = sample_real(i, number);
	}
	record->verdict = verdicts[number % 4];
	record->from = number;
	record->to = number + 60;
	record->forecast_issued = number + 1;
	record->created = number;
	sample_amounts(sample, number);
}

/* What is NULL in a record that is added reads as "". */
static inline void
sample_empty_texts(struct stored_record *record)
{
	for (size_t i = 0; i < RECORD_TEXTS; i++) {
		char **member = (void *)((char *)record + record_texts[i]);
		if (*member == NULL)
			*member = "";
	}
	for (size_t i = 0; i < record->amount_count; i++)
		if (record->amount[i].registration == NULL)
			record->amount[i].registration = "";
}

static inline bool
same_real(double a, double b)
{
	return isnan(a) ? isnan(b) : a == b;
}

static inline bool
same_amount(const struct stored_amount *a, const struct stored_amount *b)
{
	return strcmp(a->product, b->product) == 0 &&
	       strcmp(a->registration, b->registration) == 0 &&
	       same_real(a->amount, b->amount) && a->is_mass == b->is_mass &&
	       same_real(a->rate, b->rate) && a->rate_kind == b->rate_kind;
}

/* In every member. */
static inline bool
same_record(const struct stored_record *a, const struct stored_record *b)
{
	const char *first = (const char *)a;
	const char *second = (const char *)b;
	bool same = a->amount_count == b->amount_count;
	for (size_t i = 0; i < RECORD_TEXTS && same; i++) {
		const char *const *one =
		    (const void *)(first + record_texts[i]);
		const char *const *two =
		    (const void *)(second + record_texts[i]);
		same = strcmp(*one, *two) == 0;
	}
	for (size_t i = 0; i < RECORD_REALS && same; i++) {
		const double *one = (const void *)(first + record_reals[i]);
		const double *two = (const void *)(second + record_reals[i]);
		same = same_real(*one, *two);
	}
	for (size_t i = 0; i < RECORD_INTEGERS && same; i++)
		same = memcmp(first + record_integers[i],
			   second + record_integers[i], sizeof(int64_t)) == 0;
	for (size_t i = 0; i < a->amount_count && same; i++)
		same = same_amount(&a->amount[i], &b->amount[i]);
	return same;
}

#endif
