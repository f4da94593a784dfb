/* What the tests of advice/facts share: one lawn, four products and what was
   done with them. */
#ifndef TESTS_UNIT_FACTS_LAWN_H
#define TESTS_UNIT_FACTS_LAWN_H

#include "unit/test.h"

#include "advice/rulebook.h"
#include "unit/heart.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

enum { PRODUCTS = 4, RECORDS = 12 };

/* A lawn of 500 m2 under 0.04 L/m2; "a" and "b" are sprayed by volume, "c" by
   mass, "d" by share of the mix. */
struct lawn {
	struct sprayer sprayer;
	struct site site;
	struct product product[PRODUCTS];
	struct active active[PRODUCTS];
	struct application record[RECORDS];
	struct job job;
	struct rule rule;
	struct past past;
	struct series series;
};

static inline void
open_lawn(struct lawn *lawn, int64_t from, int64_t to)
{
	static const char *const names[PRODUCTS] = { "a", "b", "c", "d" };
	static const double rates[PRODUCTS] = { 0.001, 0.002, 0.05, 0.0025 };
	static const enum quantity_kind kinds[PRODUCTS] = {
		QUANTITY_VOLUME_PER_AREA, QUANTITY_VOLUME_PER_AREA,
		QUANTITY_MASS_PER_AREA, QUANTITY_VOLUME_PER_VOLUME
	};
	*lawn = (struct lawn){ 0 };
	lawn->sprayer = (struct sprayer){
		.tank = 15, .carrier = 0.04, .pace = 0.2, .fill = 600
	};
	lawn->site = (struct site){ .name = "front",
		.zone = chicago(),
		.area = 500,
		.sprayer = &lawn->sprayer };
	for (size_t i = 0; i < PRODUCTS; i++) {
		lawn->active[i] = (struct active){ "other", 100,
			kinds[i] != QUANTITY_MASS_PER_AREA };
		lawn->product[i] = (struct product){ .name = names[i],
			.rate = rates[i],
			.rate_kind = kinds[i],
			.active = &lawn->active[i],
			.active_count = 1 };
		lawn->job.tank.dose[i] =
		    (struct dose){ &lawn->product[i], rates[i], kinds[i] };
	}
	lawn->job.site = &lawn->site;
	lawn->job.sprayer = &lawn->sprayer;
	lawn->job.area = 500;
	lawn->job.tank.count = 1;
	lawn->past = (struct past){ .application = lawn->record,
		.product = lawn->product,
		.product_count = PRODUCTS,
		.now = from };
	series_init(&lawn->series, from, to);
}

static inline void
close_lawn(struct lawn *lawn)
{
	series_release(&lawn->series);
}

static inline void
record(struct lawn *lawn, const char *product, int64_t at, double amount)
{
	assert_true(lawn->past.application_count < RECORDS);
	lawn->record[lawn->past.application_count++] =
	    (struct application){ "front", product, at, 500, amount,
		    product[0] == 'c' };
}

#endif
