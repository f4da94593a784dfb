/*
 * What the unit table says, for units.py: one line each of "unit", class,
 * name, factor and offset; then "rate", text, kind and the value read.
 */
#include "physics/units.h"
#include "physics/units_table.h"

#include <stdio.h>

struct rate {
	const char *text;
	enum quantity_kind kind;
};

static const struct rate rates[] = {
	{ "1 fl oz/1000 ft2", QUANTITY_VOLUME_PER_AREA },
	{ "1.5 fl oz/1000 sq ft", QUANTITY_VOLUME_PER_AREA },
	{ "1 fl oz/acre", QUANTITY_VOLUME_PER_AREA },
	{ "1 gal/1000 ft2", QUANTITY_VOLUME_PER_AREA },
	{ "1 gal/acre", QUANTITY_VOLUME_PER_AREA },
	{ "2 pt/acre", QUANTITY_VOLUME_PER_AREA },
	{ "60 mL/100 m2", QUANTITY_VOLUME_PER_AREA },
	{ "200 L/ha", QUANTITY_VOLUME_PER_AREA },
	{ "1 oz/acre", QUANTITY_MASS_PER_AREA },
	{ "1 oz/1000 ft2", QUANTITY_MASS_PER_AREA },
	{ "1 lb/acre", QUANTITY_MASS_PER_AREA },
	{ "3 g/1000 ft2", QUANTITY_MASS_PER_AREA },
	{ "1 kg/ha", QUANTITY_MASS_PER_AREA },
	{ "3.2 g/gal", QUANTITY_MASS_PER_VOLUME },
	{ "0.5 oz/gal", QUANTITY_MASS_PER_VOLUME },
	{ "5 g/L", QUANTITY_MASS_PER_VOLUME },
	{ "1 tsp/gal", QUANTITY_VOLUME_PER_VOLUME },
	{ "1 tbsp/gal", QUANTITY_VOLUME_PER_VOLUME },
	{ "1 fl oz/gal", QUANTITY_VOLUME_PER_VOLUME },
	{ "5 mL/L", QUANTITY_VOLUME_PER_VOLUME },
	{ "10 mi/h", QUANTITY_SPEED },
	{ "10 km/h", QUANTITY_SPEED },
	{ "88 ft/min", QUANTITY_SPEED },
	{ "1000 ft2/10 min", QUANTITY_AREA_PER_TIME },
	{ "1 acre/h", QUANTITY_AREA_PER_TIME },
	{ "0.4 gal/min", QUANTITY_VOLUME_PER_TIME },
	{ "12 fl oz/min", QUANTITY_VOLUME_PER_TIME },
	{ "480 mL/min", QUANTITY_VOLUME_PER_TIME },
	{ "1.5 L/min", QUANTITY_VOLUME_PER_TIME },
	{ "4.4 ft/s", QUANTITY_SPEED },
	{ "5 m/s", QUANTITY_SPEED },
	{ "0.25 inch", QUANTITY_RAIN },
};

int
main(void)
{
	for (size_t i = 0; unit_at(i) != NULL; i++) {
		const struct unit *unit = unit_at(i);
		printf("unit\t%s\t%s\t%.17g\t%.17g\n",
		    unit_class_name(unit->class), unit->name, unit->factor,
		    unit->offset);
	}
	for (size_t i = 0; i < sizeof rates / sizeof rates[0]; i++) {
		double value = 0;
		struct error error;
		if (!quantity_parse(
			rates[i].text, rates[i].kind, &value, &error)) {
			fprintf(stderr, "%s\n", error.text);
			return 1;
		}
		printf("rate\t%s\t%s\t%.17g\n", rates[i].text,
		    quantity_kind_name(rates[i].kind), value);
	}
	return 0;
}
