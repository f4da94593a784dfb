/* A whole bench and the tank of a keeper's Saturday: four products in two
   tanks. */
#ifndef TESTS_UNIT_SHEET_BENCH_H
#define TESTS_UNIT_SHEET_BENCH_H

#include "unit/test.h"

#include "turf/sheet.h"
#include "unit/heart.h"
#include "unit/mix_lawn.h"

struct saturday {
	struct lawn lawn;
	double spoon[4];
	struct bench bench;
	struct sheet_facts facts;
	struct sheet sheet;
};

/* The vectors of a 4 gal backpack on 6,500 ft2, and half an ounce of dye. */
static inline void
begin_saturday(struct saturday *saturday)
{
	static const char *const sizes[] = { "1 tbsp", "1 tsp", "0.5 tsp",
		"0.25 tsp" };
	struct lawn *lawn = &saturday->lawn;
	*saturday = (struct saturday){ 0 };
	lay_out(lawn, "4 gal", "1 gal/1000 ft2", "6500 ft2");
	lawn->sprayer.calibrated = 20515; /* 2026-03-03 */
	lawn->sprayer.calibration_holds = 180 * 86400.0;
	add_dose(lawn, "dye", "0.5 fl oz/gal", QUANTITY_VOLUME_PER_VOLUME)
	    ->mix_step = MIX_DYE;
	add_dose(lawn, "surfactant-n", "0.25 %", QUANTITY_VOLUME_PER_VOLUME)
	    ->kind = PRODUCT_ADJUVANT;
	add_dose(lawn, "post-b", "1.5 fl oz/1000 ft2", QUANTITY_VOLUME_PER_AREA)
	    ->formulation = "SL";
	add_dose(lawn, "post-a", "0.56 oz/acre", QUANTITY_MASS_PER_AREA)
	    ->formulation = "WG";
	for (size_t i = 0; i < COUNT(sizes); i++)
		saturday->spoon[i] = quantity(sizes[i], QUANTITY_VOLUME);
	saturday->bench =
	    (struct bench){ 0.01, 0.001, saturday->spoon, COUNT(sizes) };
	saturday->facts = (struct sheet_facts){ .bench = &saturday->bench,
		.at = local_2026(3, 10, 7, 0),
		.currency = "USD" };
}

static inline void
make_sheet(struct saturday *saturday)
{
	struct error error = { 0 };
	if (!sheet_make(&saturday->lawn.job, &saturday->facts, &saturday->sheet,
		&error))
		fail_msg("%s", error.text);
}

#endif
