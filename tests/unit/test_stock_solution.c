#include "unit/test.h"

#include "turf/stock_solution.h"
#include "unit/heart.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

/* House method: 1.000 g in 100 mL, 36.4 mL for 0.3645 g (computed). */
static void
the_house_vector_comes_out(void **state)
{
	(void)state;
	const struct product product = { .name = "post-a" };
	struct stock_solution made =
	    stock_solution_make(&product, 0.3645, 0.02);
	assert_close(made.mass, 1, 1e-9);
	assert_close(made.volume, 0.1, 1e-12);
	assert_close(made.strength, 10, 1e-9);
	assert_close(
	    stock_solution_draw(0.3645, made.strength) * 1000, 36.4, 0.06);
}

struct row {
	double grams, scale, card;
	double mass, volume; /* worked out by hand */
};

static const struct row rows[] = {
	/* enough for the job and 2 %: 2.42 g, so 2.5 */
	{ 2.3692, 0.01, 0, 2.5, 0.25 },
	/* heavy enough for the scale: 50 steps */
	{ 2.3692, 0.1, 0, 5, 0.5 },
	{ 0.3645, 0.01, 0, 0.5, 0.05 },
	{ 0.02, 0.001, 0, 0.05, 0.005 },
	/* the card's strength */
	{ 2.3692, 0.01, 50, 2.5, 0.05 },
	{ 2.3692, 0.01, 2, 2.5, 1.25 },
	/* to whole millilitres, and as strong as that makes it */
	{ 2.3692, 0.01, 7, 2.5, 0.357 },
	/* an odd scale: no round number, but one that it can tell */
	{ 2.3692, 0.03, 0, 2.52, 0.252 },
};

static void
what_is_weighed_is_round_and_enough(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(rows); i++) {
		const struct row *row = &rows[i];
		const struct product product = { .name = "post-a",
			.stock = row->card };
		struct stock_solution made =
		    stock_solution_make(&product, row->grams, row->scale);
		assert_close(made.mass, row->mass, 1e-9);
		assert_close(made.volume, row->volume, 1e-12);
		assert_close(made.strength, row->mass / row->volume, 1e-6);
	}
}

static void
it_is_enough_exact_and_not_much_too_much(void **state)
{
	(void)state;
	const struct product product = { .name = "post-a" };
	uint64_t seed = 12;
	for (int n = 0; n < rounds(5000); n++) {
		double grams = draw_from(&seed, 1, 100000) / 10000.0;
		double scale = draw_from(&seed, 1, 100) / 1000.0;
		struct stock_solution made =
		    stock_solution_make(&product, grams, scale);
		double steps = made.mass / scale;
		double need = fmax(grams * 1.02, 50 * scale);
		assert_true(made.mass >= grams * 1.02 * (1 - 1e-9));
		assert_close(steps, round(steps), 1e-6);
		assert_close(made.off, scale / 2 / made.mass, 1e-12);
		assert_true(made.off <= 0.01 * (1 + 1e-9));
		/* the numbers lie at most a third apart */
		assert_true(made.mass <= need * 4 / 3 + scale);
		assert_true(
		    stock_solution_draw(grams, made.strength) < made.volume);
	}
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(the_house_vector_comes_out),
		cmocka_unit_test(what_is_weighed_is_round_and_enough),
		cmocka_unit_test(it_is_enough_exact_and_not_much_too_much),
	};
	return RUN_TESTS(tests);
}
