/* A lawn, a backpack sprayer and a tank, for the tests of mixing. */
#ifndef TESTS_UNIT_MIX_LAWN_H
#define TESTS_UNIT_MIX_LAWN_H

#include "unit/test.h"

#include "turf/turf.h"
#include "unit/heart.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

static inline double
quantity(const char *text, enum quantity_kind kind)
{
	double value = NAN;
	assert_true(quantity_parse(text, kind, &value, NULL));
	return value;
}

/* Every dose has a product of its own. */
struct lawn {
	struct sprayer sprayer;
	struct site site;
	struct product product[LIMIT_TANK_PRODUCTS];
	struct job job;
};

static inline void
lay_out(
    struct lawn *lawn, const char *tank, const char *carrier, const char *area)
{
	*lawn = (struct lawn){ 0 };
	lawn->sprayer = (struct sprayer){ .name = "backpack",
		.tank = quantity(tank, QUANTITY_VOLUME),
		.carrier = quantity(carrier, QUANTITY_VOLUME_PER_AREA),
		.pace = quantity("500 ft2/min", QUANTITY_AREA_PER_TIME),
		.fill = 600,
		.release_height = NAN,
		.calibrated = INT64_MIN };
	lawn->site = (struct site){
		.name = "front", .zone = chicago(), .sprayer = &lawn->sprayer
	};
	lawn->job = (struct job){ .id = 1,
		.site = &lawn->site,
		.sprayer = &lawn->sprayer,
		.area = quantity(area, QUANTITY_AREA) };
}

/* Returns the product, so that a test can say more of it. */
static inline struct product *
add_dose(struct lawn *lawn, const char *name, const char *rate,
    enum quantity_kind kind)
{
	struct tank_mix *tank = &lawn->job.tank;
	struct product *product = &lawn->product[tank->count];
	*product = (struct product){ .name = name, .formulation = "" };
	tank->dose[tank->count++] = (struct dose){ .product = product,
		.rate = quantity(rate, kind),
		.rate_kind = kind };
	return product;
}

#endif
