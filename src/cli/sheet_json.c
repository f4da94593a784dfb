#include "cli/sheet_json.h"

#include "cli/session.h"
#include "turf/exclusion.h"
#include "turf/mix_order.h"

static void
put(cJSON *json, const char *name, double value, int decimals)
{
	cJSON_AddItemToObject(json, name, json_rounded(value, decimals));
}

static cJSON *
add_object(cJSON *list)
{
	cJSON *json = cJSON_CreateObject();
	cJSON_AddItemToArray(list, json);
	return json;
}

static void
add_amount(cJSON *json, const char *product, bool is_mass, double amount)
{
	cJSON_AddStringToObject(json, "product", product);
	cJSON_AddStringToObject(json, "unit", is_mass ? "g" : "mL");
	put(json, "amount", amount * (is_mass ? 1 : 1000), 6);
}

static void
add_spoons(
    cJSON *list, const struct measured *measured, const struct bench *bench)
{
	for (size_t i = 0; i < SPOON_KINDS_MOST; i++) {
		if (measured->spoon[i] == 0)
			continue;
		cJSON *spoon = add_object(list);
		put(spoon, "mL", bench->spoon[i] * 1000, 4);
		put(spoon, "count", (double)measured->spoon[i], 0);
	}
}

static void
add_measured(
    cJSON *json, const struct measured *measured, const struct bench *bench)
{
	double scale = measured->is_mass ? 1 : 1000;
	cJSON_AddStringToObject(json, "tool", tool_word(measured->tool));
	put(json, "told", measured->told * scale, 6);
	put(json, "off-percent", measured->off * 100, 2);
	if (measured->tool == TOOL_SCOOP) {
		put(json, "scoops", (double)measured->scoops, 0);
		put(json, "scoop-g", measured->scoop, 4);
		put(json, "rest-g", measured->rest, 4);
	} else if (measured->tool == TOOL_SPOONS) {
		add_spoons(
		    cJSON_AddArrayToObject(json, "spoons"), measured, bench);
	}
}

static void
add_fill(cJSON *list, const struct sheet *sheet, size_t tanks, bool is_last)
{
	const struct mix_tank *tank =
	    is_last ? &sheet->mix.last : &sheet->mix.each;
	cJSON *json = add_object(list);
	put(json, "tanks", (double)tanks, 0);
	put(json, "mix-litres", tank->water, 3);
	put(json, "area-m2", tank->area, 2);
	put(json, "first-fill-litres", tank->water * sheet->first_fill, 3);
	cJSON *steps = cJSON_AddArrayToObject(json, "steps");
	for (size_t i = 0; i < sheet->line_count; i++) {
		const struct sheet_line *line = &sheet->line[i];
		const struct measured *dose =
		    is_last ? &line->last : &line->each;
		const struct measured *draw =
		    is_last ? &line->draw_last : &line->draw_each;
		if (line->is_granule)
			continue;
		cJSON *step = add_object(steps);
		add_amount(
		    step, line->product->name, line->is_mass, dose->wanted);
		add_measured(step, dose, &sheet->bench);
		if (line->is_drawn)
			add_measured(cJSON_AddObjectToObject(step, "draw-mL"),
			    draw, &sheet->bench);
	}
}

static void
add_solution(
    cJSON *json, const struct sheet_line *line, const struct zone *zone)
{
	const struct sheet_solution *made = line->made;
	put(json, "weigh-g", line->make.mass, 4);
	put(json, "make-up-to-mL", line->make.volume * 1000, 1);
	put(json, "strength-g-L", line->make.strength, 4);
	if (made == NULL)
		return;
	put(json, "made-strength-g-L", made->strength, 4);
	put(json, "made-left-g", made->left, 4);
	cJSON_AddItemToObject(json, "made", json_time(zone, made->made));
	cJSON_AddItemToObject(json, "until", json_time(zone, made->until));
}

static void
add_product(cJSON *list, const struct sheet *sheet, size_t place)
{
	size_t i = 0;
	while (sheet->line[i].place != place)
		i++;
	const struct sheet_line *line = &sheet->line[i];
	const struct product *product = line->product;
	double scale = line->is_mass ? 1 : 1000;
	cJSON *json = add_object(list);
	add_amount(json, product->name, line->is_mass, line->total);
	cJSON *notes = cJSON_AddArrayToObject(json, "notes");
	for (size_t n = 0; n < product->note_count; n++)
		cJSON_AddItemToArray(
		    notes, cJSON_CreateString(product->note[n]));
	put(json, "order", (double)i + 1, 0);
	cJSON_AddStringToObject(json, "step", mix_step_word(line->step));
	cJSON_AddBoolToObject(json, "granule", line->is_granule);
	put(json, "taken", sheet_line_taken(line) * scale, 6);
	put(json, "on-hand", line->stock.on_hand * scale, 6);
	put(json, "left", line->stock.left_after * scale, 6);
	put(json, "cost", line->stock.cost, 2);
	if (line->is_drawn)
		add_solution(cJSON_AddObjectToObject(json, "stock-solution"),
		    line, &sheet->job->site->zone);
}

static void
add_jar(cJSON *json, const struct sheet *sheet, enum unit_system units)
{
	double jar = sheet_jar(units);
	put(json, "water-mL", jar * 1000, 1);
	cJSON *pairs = cJSON_AddArrayToObject(json, "new-pairs");
	for (size_t i = 0; i < sheet->pair_count; i++) {
		const char *const names[] = { sheet->pair[i].a->name,
			sheet->pair[i].b->name };
		cJSON_AddItemToArray(pairs, cJSON_CreateStringArray(names, 2));
	}
	cJSON *list = cJSON_AddArrayToObject(json, "products");
	for (size_t i = 0; i < sheet->line_count; i++) {
		const struct sheet_line *line = &sheet->line[i];
		if (!line->is_granule)
			add_amount(add_object(list), line->product->name,
			    line->is_mass && !line->is_drawn,
			    line->in_mix * jar);
	}
}

cJSON *
sheet_json(const struct sheet *sheet, enum unit_system units)
{
	static const char *const calibration[] = { "good", "stale", "never" };
	const struct job *job = sheet->job;
	const struct mix *mix = &sheet->mix;
	cJSON *json = cJSON_CreateObject();
	put(json, "job", (double)job->id, 0);
	put(json, "area-m2", job->area, 2);
	put(json, "mix-litres", sheet->sprays ? mix->carrier : 0, 3);
	put(json, "tanks", sheet->sprays ? (double)mix->tank_count : 0, 0);
	cJSON *products = cJSON_AddArrayToObject(json, "products");
	for (size_t i = 0; i < sheet->line_count; i++)
		add_product(products, sheet, i);
	cJSON *fills = cJSON_AddArrayToObject(json, "fills");
	if (sheet->sprays)
		add_fill(fills, sheet, mix->tank_count - !mix->is_even, false);
	if (sheet->sprays && !mix->is_even)
		add_fill(fills, sheet, 1, true);
	cJSON_AddStringToObject(json, "sprayer", job->sprayer->name);
	put(json, "carrier-l-m2", job->sprayer->carrier, 5);
	cJSON_AddStringToObject(
	    json, "calibration", calibration[sheet->calibration]);
	add_jar(cJSON_AddObjectToObject(json, "jar-test"), sheet, units);
	cJSON_AddBoolToObject(json, "foams", sheet->foams);
	cJSON_AddBoolToObject(json, "dye", sheet->dyes);
	put(json, "cost", sheet->cost, 2);
	cJSON_AddStringToObject(json, "currency", sheet->facts.currency);
	put(json, "keep-away-m",
	    exclusion_zone(
		job->sprayer->droplets, job->sprayer->release_height),
	    2);
	cJSON *cautions = cJSON_AddArrayToObject(json, "cautions");
	for (size_t i = 0; i < sheet->facts.caution_count; i++)
		cJSON_AddItemToArray(
		    cautions, cJSON_CreateString(sheet->facts.caution[i].text));
	return json;
}
