/* The mix sheet as numbers. */
#include "unit/test.h"

#include "turf/sheet.h"
#include "unit/heart.h"
#include "unit/mix_lawn.h"
#include "unit/sheet_bench.h"

static void
the_lines_stand_in_the_order_of_the_tank(void **state)
{
	(void)state;
	struct saturday saturday;
	begin_saturday(&saturday);
	make_sheet(&saturday);
	static const struct {
		const char *name;
		size_t place;
		enum mix_step step;
	} rows[] = { { "post-a", 3, MIX_DRY }, { "post-b", 2, MIX_SOLUTION },
		{ "surfactant-n", 1, MIX_ADJUVANT }, { "dye", 0, MIX_DYE } };
	assert_int_equal(saturday.sheet.line_count, COUNT(rows));
	for (size_t i = 0; i < COUNT(rows); i++) {
		const struct sheet_line *line = &saturday.sheet.line[i];
		assert_string_equal(line->product->name, rows[i].name);
		assert_int_equal(line->place, rows[i].place);
		assert_int_equal(line->step, rows[i].step);
	}
	assert_true(saturday.sheet.foams);
	assert_true(saturday.sheet.dyes);
	/* 1.5 of 2.5 gal come first: common practice, no source */
	assert_close(saturday.sheet.mix.last.water * saturday.sheet.first_fill,
	    quantity("1.5 gal", QUANTITY_VOLUME), 1e-9);
}

static void
the_doses_are_those_of_the_mix(void **state)
{
	(void)state;
	struct saturday saturday;
	begin_saturday(&saturday);
	make_sheet(&saturday);
	const struct sheet *sheet = &saturday.sheet;
	for (size_t i = 0; i < sheet->line_count; i++) {
		const struct sheet_line *line = &sheet->line[i];
		assert_close(
		    line->each.wanted, sheet->mix.each.amount[line->place], 0);
		assert_close(
		    line->last.wanted, sheet->mix.last.amount[line->place], 0);
		assert_close(
		    line->each.wanted + line->last.wanted, line->total, 1e-9);
		assert_close(sheet_line_taken(line), line->total, 0);
		assert_false(line->is_drawn);
	}
	assert_int_equal(sheet->line[0].each.tool, TOOL_SCALE);
	assert_close(sheet->line[0].each.told, 1.46, 1e-9);
	assert_close(sheet->line[0].last.told, 0.91, 1e-9);
	assert_int_equal(sheet->line[1].each.tool, TOOL_CYLINDER);
	assert_int_equal(sheet->line[3].last.tool, TOOL_SPOONS);
}

/* 1.458 g is too little for a scale of 0.1 g; 5 g make 500 mL of 10 g/L. */
static void
small_doses_are_drawn_from_one_solution(void **state)
{
	(void)state;
	struct saturday saturday;
	begin_saturday(&saturday);
	saturday.bench.scale = 0.1;
	make_sheet(&saturday);
	const struct sheet_line *line = &saturday.sheet.line[0];
	assert_true(line->is_drawn);
	assert_null(line->made);
	assert_close(line->make.mass, 5, 1e-9);
	assert_close(sheet_line_taken(line), 5, 1e-9);
	assert_close(line->draw_each.told, 0.146, 1e-9);
	assert_close(line->draw_last.told, 0.091, 1e-9);
	/* in a litre of mix: 1.458 g in 4 gal, at 10 g/L */
	assert_close(line->in_mix, 1.458 / 15.1416 / 10, 1e-5);
	assert_false(saturday.sheet.line[1].is_drawn);
	/* the larger dose could be weighed; it comes out of the same bottle */
	saturday.bench.scale = 0.08;
	make_sheet(&saturday);
	assert_int_equal(saturday.sheet.line[0].each.tool, TOOL_STOCK);
	assert_close(saturday.sheet.line[0].each.told,
	    saturday.sheet.line[0].each.wanted, 0);
	assert_int_equal(saturday.sheet.line[0].last.tool, TOOL_STOCK);
	assert_true(saturday.sheet.line[0].is_drawn);
}

static void
a_solution_that_keeps_is_used_up(void **state)
{
	(void)state;
	struct saturday saturday;
	begin_saturday(&saturday);
	saturday.bench.scale = 0.1;
	int64_t now = saturday.facts.at;
	const struct sheet_solution made[] = {
		{ "post-a", now - 9 * HOUR, now + HOUR, 20, 5 },
		{ "post-a", now - 2 * HOUR, now + HOUR, 5, 5 },
		{ "post-a", now - HOUR, now, 8, 5 },         /* gone */
		{ "post-a", now + 1, now + HOUR, 9, 5 },     /* not yet */
		{ "post-a", now - 60, now + HOUR, 7, NAN },  /* unknown */
		{ "post-a", now - 60, now + HOUR, 6, 2.3 },  /* too little */
		{ "post-b", now - HOUR, now + HOUR, 40, 5 }, /* of another */
	};
	saturday.facts.solution = made;
	saturday.facts.solution_count = COUNT(made);
	make_sheet(&saturday);
	const struct sheet_line *line = &saturday.sheet.line[0];
	assert_ptr_equal(line->made, &made[1]);
	assert_close(line->draw_each.wanted, line->each.wanted / 5, 1e-12);
	/* what is there takes nothing more out of the package */
	assert_close(sheet_line_taken(line), 0, 0);
	assert_false(saturday.sheet.line[1].is_drawn);
}

/* 2.369 g for both tanks. */
static void
a_solution_that_is_not_enough_is_made_anew(void **state)
{
	(void)state;
	struct saturday saturday;
	begin_saturday(&saturday);
	saturday.bench.scale = 0.1;
	make_sheet(&saturday);
	double total = saturday.sheet.line[0].total;
	const struct {
		double left;
		bool taken;
	} rows[] = { { total, true }, { total * 0.999, false }, { 0, false },
		{ NAN, false } };
	for (size_t i = 0; i < COUNT(rows); i++) {
		const struct sheet_solution made = { "post-a",
			saturday.facts.at, saturday.facts.at + HOUR, 20,
			rows[i].left };
		saturday.facts.solution = &made;
		saturday.facts.solution_count = 1;
		make_sheet(&saturday);
		const struct sheet_line *line = &saturday.sheet.line[0];
		assert_true(line->is_drawn);
		assert_true((line->made != NULL) == rows[i].taken);
		assert_close(sheet_line_taken(line), rows[i].taken ? 0 : 5, 0);
		/* 20 g/L, or the new one of 10 */
		assert_close(line->draw_each.wanted,
		    line->each.wanted / (rows[i].taken ? 20 : 10), 1e-12);
	}
}

static void
a_granule_is_never_dissolved(void **state)
{
	(void)state;
	struct saturday saturday;
	begin_saturday(&saturday);
	saturday.bench.scale = 0.1;
	make_sheet(&saturday);
	assert_true(saturday.sheet.line[0].is_drawn);
	assert_true(saturday.sheet.sprays);
	saturday.lawn.product[3].formulation = "GR";
	make_sheet(&saturday);
	for (size_t i = 0; i < saturday.sheet.line_count; i++)
		assert_false(saturday.sheet.line[i].is_drawn);
	assert_true(saturday.sheet.sprays);
	saturday.lawn.job.tank.dose[0] = saturday.lawn.job.tank.dose[3];
	saturday.lawn.job.tank.count = 1;
	make_sheet(&saturday);
	assert_false(saturday.sheet.sprays);
	assert_close(sheet_line_taken(&saturday.sheet.line[0]),
	    saturday.sheet.line[0].total, 0);
}

static void
a_calibration_grows_old_by_days(void **state)
{
	(void)state;
	static const struct {
		int64_t caught; /* days before the sheet's day */
		enum sheet_calibration wanted;
	} rows[] = { { 0, CALIBRATION_GOOD }, { 180, CALIBRATION_GOOD },
		{ 181, CALIBRATION_STALE }, { -1, CALIBRATION_GOOD } };
	struct saturday saturday;
	begin_saturday(&saturday);
	int64_t today = civil_day(&saturday.lawn.site.zone, saturday.facts.at);
	for (size_t i = 0; i < COUNT(rows); i++) {
		saturday.lawn.sprayer.calibrated = today - rows[i].caught;
		make_sheet(&saturday);
		assert_int_equal(saturday.sheet.calibration, rows[i].wanted);
	}
	saturday.lawn.sprayer.calibrated = INT64_MIN;
	make_sheet(&saturday);
	assert_int_equal(saturday.sheet.calibration, CALIBRATION_NEVER);
}

static void
pairs_that_were_in_one_tank_are_no_news(void **state)
{
	(void)state;
	struct saturday saturday;
	begin_saturday(&saturday);
	make_sheet(&saturday);
	assert_int_equal(saturday.sheet.pair_count, 6);
	static const struct application done[] = {
		{ .site = "front", .product = "post-a", .at = 100 },
		{ .site = "front", .product = "surfactant-n", .at = 100 },
		{ .site = "front", .product = "dye", .at = 200 },
		/* another site at the same moment is another tank */
		{ .site = "back", .product = "post-a", .at = 200 },
		{ .site = "back", .product = "post-b", .at = 300 },
		{ .site = "back", .product = "dye", .at = 300 },
	};
	saturday.facts.application = done;
	saturday.facts.application_count = COUNT(done);
	make_sheet(&saturday);
	static const char *const wanted[][2] = { { "post-a", "post-b" },
		{ "post-a", "dye" }, { "post-b", "surfactant-n" },
		{ "surfactant-n", "dye" } };
	assert_int_equal(saturday.sheet.pair_count, COUNT(wanted));
	for (size_t i = 0; i < COUNT(wanted); i++) {
		assert_string_equal(
		    saturday.sheet.pair[i].a->name, wanted[i][0]);
		assert_string_equal(
		    saturday.sheet.pair[i].b->name, wanted[i][1]);
	}
}

static void
the_cost_is_known_when_each_one_is(void **state)
{
	(void)state;
	struct saturday saturday;
	struct sheet_stock stock[] = { { true, 1, 0.9, 1.5 },
		{ true, 1, 0.9, 2 }, { true, 1, 0.9, 3 }, { true, 10, 7, 4 } };
	begin_saturday(&saturday);
	make_sheet(&saturday);
	assert_nan(saturday.sheet.cost);
	assert_false(saturday.sheet.line[0].stock.on_file);
	assert_nan(saturday.sheet.line[0].stock.on_hand);
	saturday.facts.stock = stock;
	make_sheet(&saturday);
	assert_close(saturday.sheet.cost, 10.5, 1e-12);
	/* by the place in the tank, not in the order of the sheet */
	assert_close(saturday.sheet.line[0].stock.cost, 4, 0);
	stock[2].cost = NAN;
	make_sheet(&saturday);
	assert_nan(saturday.sheet.cost);
}

static void
without_a_bench_the_amounts_stand_alone(void **state)
{
	(void)state;
	struct saturday saturday;
	begin_saturday(&saturday);
	saturday.facts.bench = NULL;
	make_sheet(&saturday);
	for (size_t i = 0; i < saturday.sheet.line_count; i++) {
		const struct sheet_line *line = &saturday.sheet.line[i];
		assert_int_equal(line->each.tool, TOOL_NONE);
		assert_close(line->each.told, line->each.wanted, 0);
	}
}

static void
leaves_output_alone_on_failure(void **state)
{
	(void)state;
	struct saturday saturday;
	struct error error = { 0 };
	begin_saturday(&saturday);
	saturday.lawn.job.tank.dose[2].rate = 0;
	saturday.sheet.line_count = 77;
	assert_false(sheet_make(
	    &saturday.lawn.job, &saturday.facts, &saturday.sheet, &error));
	assert_int_equal(error.kind, ERROR_INPUT);
	assert_contains(error.text, "post-b");
	assert_int_equal(saturday.sheet.line_count, 77);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(the_lines_stand_in_the_order_of_the_tank),
		cmocka_unit_test(the_doses_are_those_of_the_mix),
		cmocka_unit_test(small_doses_are_drawn_from_one_solution),
		cmocka_unit_test(a_solution_that_keeps_is_used_up),
		cmocka_unit_test(a_solution_that_is_not_enough_is_made_anew),
		cmocka_unit_test(a_granule_is_never_dissolved),
		cmocka_unit_test(a_calibration_grows_old_by_days),
		cmocka_unit_test(pairs_that_were_in_one_tank_are_no_news),
		cmocka_unit_test(the_cost_is_known_when_each_one_is),
		cmocka_unit_test(without_a_bench_the_amounts_stand_alone),
		cmocka_unit_test(leaves_output_alone_on_failure),
	};
	return RUN_TESTS(tests);
}
