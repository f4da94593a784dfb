#include "turf/measure_out.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Parts of the wanted amount: common practice, no source. */
#define OFF_MOST  0.05
#define OFF_SMALL 0.025
#define HAIR      1e-9

#define FLUID_OUNCE 0.0295735295625 /* L, exact */
#define TEASPOON    (FLUID_OUNCE / 6)

/* More than these are miscounted: common practice, no source. */
enum { SCOOPS_MOST = 12, SPOONS_MOST = 8, SPOONS_BESIDE_CYLINDER = 4 };

static double
round_to(double value, double step)
{
	return round(value / step) * step;
}

/* What one scoop holds, and whether the scale can tell that it does. */
static size_t
scoops_to_check(double scale, double scoop)
{
	if (!(scale > 0))
		return 0;
	if (scale <= OFF_SMALL * scoop * (1 + HAIR))
		return 1;
	return scale <= OFF_SMALL * 10 * scoop * (1 + HAIR) ? 10 : 0;
}

static bool
take_scoops(const struct bench *bench, double scoop, struct measured *measured)
{
	double wanted = measured->wanted;
	double count = round(wanted / scoop);
	double rest = 0;
	bool whole = fabs(count * scoop - wanted) <= OFF_SMALL * wanted;
	if (!whole && !(bench->scale > 0))
		return false;
	if (!whole) {
		count = floor(wanted / scoop);
		rest = round_to(wanted - count * scoop, bench->scale);
	}
	if (count < 1 || count > SCOOPS_MOST)
		return false;
	double told = count * scoop + rest;
	double off = fabs(told - wanted) + count * scoop * OFF_SMALL +
		     (whole ? 0 : bench->scale / 2);
	if (off > OFF_MOST * wanted * (1 + HAIR))
		return false;
	measured->tool = TOOL_SCOOP;
	measured->told = told;
	measured->off = off / wanted;
	measured->scoops = (size_t)count;
	measured->scoop = scoop;
	measured->rest = rest;
	measured->scoops_checked = scoops_to_check(bench->scale, scoop);
	return true;
}

/* On a scale or a cylinder with marks of `step`; what is less than the half of
   one is on no tool. */
static void
take_step(enum tool tool, double step, struct measured *measured)
{
	if (measured->wanted < step / 2)
		return;
	measured->tool = tool;
	measured->told = round_to(measured->wanted, step);
	measured->off = (fabs(measured->told - measured->wanted) + step / 2) /
			measured->wanted;
}

struct measured
measure_mass(const struct bench *bench, double grams, double scoop)
{
	struct measured measured = {
		.is_mass = true, .wanted = grams, .told = grams, .off = NAN
	};
	if (scoop > 0 && take_scoops(bench, scoop, &measured))
		return measured;
	if (!(bench->scale > 0))
		return measured;
	struct measured weighed = measured;
	take_step(TOOL_SCALE, bench->scale, &weighed);
	if (weighed.off <= OFF_MOST * (1 + HAIR))
		return weighed;
	measured.tool = TOOL_STOCK;
	return measured;
}

/* With the largest `kinds` of spoons, the sum that is nearest: largest first,
   up to the half of the smallest of them over the amount. */
static struct measured
count_spoons(
    const struct bench *bench, size_t kinds, const struct measured *measured)
{
	struct measured with = *measured;
	double left = with.wanted + bench->spoon[kinds - 1] / 2;
	double count = 0;
	with.told = 0;
	/* rather one cylinder than many spoons */
	double most =
	    bench->cylinder > 0 ? SPOONS_BESIDE_CYLINDER : SPOONS_MOST;
	for (size_t i = 0; i < kinds && count <= most; i++) {
		double fits = floor(left / bench->spoon[i] + HAIR);
		left -= fits * bench->spoon[i];
		with.told += fits * bench->spoon[i];
		with.spoon[i] = (size_t)fits;
		count += fits;
	}
	with.tool = count > most ? TOOL_NONE : TOOL_SPOONS;
	with.off = fabs(with.told - with.wanted) / with.wanted;
	return with;
}

/* As few kinds of spoons as keep within a part of the amount. */
static bool
take_spoons(const struct bench *bench, double most, struct measured *measured)
{
	for (size_t kinds = 1;
	     kinds <= bench->spoon_count && kinds <= SPOON_KINDS_MOST;
	     kinds++) {
		struct measured with = count_spoons(bench, kinds, measured);
		if (with.tool != TOOL_SPOONS || with.off > most)
			continue;
		*measured = with;
		return true;
	}
	return false;
}

struct measured
measure_volume(const struct bench *bench, double litres)
{
	struct measured measured = {
		.wanted = litres, .told = litres, .off = NAN
	};
	if (take_spoons(bench, OFF_SMALL, &measured))
		return measured;
	if (bench->cylinder > 0)
		take_step(TOOL_CYLINDER, bench->cylinder, &measured);
	else
		(void)take_spoons(bench, OFF_MOST, &measured);
	return measured;
}

struct measured
measure_draw(const struct bench *bench, double litres)
{
	struct measured measured = {
		.wanted = litres, .told = litres, .off = NAN
	};
	if (bench->cylinder > 0)
		take_step(TOOL_CYLINDER, bench->cylinder, &measured);
	return measured;
}

const char *
tool_word(enum tool tool)
{
	static const char *const word[] = { "none", "scale", "scoop", "spoons",
		"cylinder", "stock-solution" };
	return word[tool];
}

/* A size as cooks name it; false for any other. */
static bool
name_spoon(double litres, const char **ret)
{
	static const struct {
		const char *name;
		double teaspoons;
	} names[] = { { "tbsp", 3 }, { "1/2 tbsp", 1.5 }, { "tsp", 1 },
		{ "3/4 tsp", 0.75 }, { "1/2 tsp", 0.5 }, { "1/4 tsp", 0.25 },
		{ "1/8 tsp", 0.125 } };
	for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
		double size = names[i].teaspoons * TEASPOON;
		*ret = names[i].name;
		if (fabs(litres - size) < 0.001 * size)
			return true;
	}
	return false;
}

/* "2 tsp", "1/2 tsp", "2 x 1/4 tsp", "1 x 5 mL". */
static void
print_spoon(char *buffer, size_t size, size_t count, double litres)
{
	const char *name;
	char other[QUANTITY_BUFFER];
	bool named = name_spoon(litres, &name);
	if (!named)
		name = quantity_print(
		    other, sizeof other, litres, QUANTITY_VOLUME, UNITS_METRIC);
	bool part = named && name[0] != 't';
	if (part && count == 1)
		(void)snprintf(buffer, size, "%s", name);
	else
		(void)snprintf(buffer, size, "%zu %s%s", count,
		    named && !part ? "" : "x ", name);
}

static void
print_spoons(struct text *text, const struct measured *measured,
    const struct bench *bench)
{
	char one[2 * QUANTITY_BUFFER];
	const char *between = "";
	for (size_t i = 0; i < bench->spoon_count && i < SPOON_KINDS_MOST;
	     i++) {
		if (measured->spoon[i] == 0)
			continue;
		print_spoon(
		    one, sizeof one, measured->spoon[i], bench->spoon[i]);
		text_format(text, "%s%s", between, one);
		between = " + ";
	}
}

/* With the decimals of the step, so that it reads as on the tool. */
static void
print_steps(struct text *text, double value, double step, const char *unit)
{
	int decimals = 0;
	double scaled = step;
	while (decimals < 4 && fabs(scaled - round(scaled)) > 1e-6 * scaled) {
		scaled *= 10;
		decimals++;
	}
	text_format(text, "%.*f %s", decimals, value, unit);
}

/* "(2.4 oz)" behind grams, where that is what the keeper thinks in. */
static void
add_ounces(struct text *text, double grams, enum unit_system units)
{
	char other[QUANTITY_BUFFER];
	quantity_print(other, sizeof other, grams, QUANTITY_MASS, units);
	if (units == UNITS_US && strstr(other, " g") == NULL)
		text_format(text, " (%s)", other);
}

static void
add_volume(struct text *text, double litres, enum unit_system units)
{
	char volume[QUANTITY_BUFFER];
	text_add(text, quantity_print(volume, sizeof volume, litres,
			   QUANTITY_VOLUME, units));
}

static char *
print_grams(char buffer[QUANTITY_BUFFER], double grams)
{
	return quantity_print(
	    buffer, QUANTITY_BUFFER, grams, QUANTITY_MASS, UNITS_METRIC);
}

static void
print_scoops(struct text *text, const struct measured *measured,
    const struct bench *bench)
{
	char one[QUANTITY_BUFFER], high[QUANTITY_BUFFER];
	double many = (double)measured->scoops_checked * measured->scoop;
	text_format(text, "%zu level scoop%s of %s", measured->scoops,
	    measured->scoops == 1 ? "" : "s",
	    print_grams(one, measured->scoop));
	if (measured->rest > 0) {
		text_add(text, " and ");
		print_steps(text, measured->rest, bench->scale, "g");
		text_add(text, " on the scale");
	}
	text_format(text, " (%s)", print_grams(one, measured->told));
	if (many > 0)
		text_format(text, "; %s must weigh %s to %s, else weigh it all",
		    measured->scoops_checked == 1 ? "one" : "ten",
		    print_grams(one, many * (1 - OFF_SMALL)),
		    print_grams(high, many * (1 + OFF_SMALL)));
}

/* In the other units, too, where the marks are not in the keeper's. */
static void
print_cylinder(struct text *text, const struct measured *measured,
    const struct bench *bench, enum unit_system units)
{
	double ounces = bench->cylinder / FLUID_OUNCE;
	bool by_ounces = fabs(ounces * 16 - round(ounces * 16)) < 1e-6;
	if (by_ounces)
		print_steps(
		    text, measured->told / FLUID_OUNCE, ounces, "fl oz");
	else
		print_steps(
		    text, measured->told * 1000, bench->cylinder * 1000, "mL");
	text_add(text, " in the cylinder");
	if (by_ounces == (units == UNITS_US))
		return;
	text_add(text, " (");
	add_volume(text, measured->wanted, units);
	text_add(text, ")");
}

static void
print_amount(
    struct text *text, const struct measured *measured, enum unit_system units)
{
	char grams[QUANTITY_BUFFER];
	double wanted = measured->wanted;
	if (measured->is_mass) {
		text_add(text, print_grams(grams, wanted));
		add_ounces(text, wanted, units);
		return;
	}
	add_volume(text, wanted, units);
	text_add(text, " (");
	add_volume(text, wanted, units == UNITS_US ? UNITS_METRIC : UNITS_US);
	text_add(text, ")");
}

void
measured_print(struct text *text, const struct measured *measured,
    const struct bench *bench, enum unit_system units)
{
	switch (measured->tool) {
	case TOOL_SCALE:
		text_add(text, "weigh ");
		print_steps(text, measured->told, bench->scale, "g");
		add_ounces(text, measured->told, units);
		break;
	case TOOL_SCOOP:
		print_scoops(text, measured, bench);
		break;
	case TOOL_SPOONS:
		print_spoons(text, measured, bench);
		text_add(text, ": ");
		print_amount(text, measured, units);
		break;
	case TOOL_CYLINDER:
		print_cylinder(text, measured, bench, units);
		break;
	case TOOL_NONE:
	case TOOL_STOCK:
		print_amount(text, measured, units);
		break;
	}
	if (measured->off > OFF_SMALL * (1 + HAIR))
		text_format(text, ", at most %.0f %% off%s",
		    ceil(measured->off * 100 - HAIR),
		    measured->off > OFF_MOST * (1 + HAIR)
			? ": it wants a finer mark"
			: "");
}
