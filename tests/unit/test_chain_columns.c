/* Which column comes from whom, whose credit is told, and what is wrong. */
#include "unit/chain_fixture.h"

static const int64_t issued = MIDNIGHT + 6 * HOUR + 1800;
static const int64_t fetched = MIDNIGHT + 7 * HOUR;

#define METEO_ALL                                                              \
	HOURLY(",\"relative_humidity_2m\":\"%\",\"dew_point_2m\":\"°C\","     \
	       "\"wind_speed_10m\":\"m/s\",\"cloud_cover\":\"%\","             \
	       "\"precipitation\":\"mm\",\"precipitation_probability\":\"%\"", \
	    ",\"relative_humidity_2m\":[70,71,72],\"dew_point_2m\":[-1,0,1],"  \
	    "\"wind_speed_10m\":[5,6,7],\"cloud_cover\":[10,20,30],"           \
	    "\"precipitation\":[0,4,8],\"precipitation_probability\":"         \
	    "[0,40,80]")

/* The first source is a grid of these layers, the second METEO_ALL. */
static void
load_over(struct world *world, void **state, const char *grid)
{
	world_make(world, state, "", GRID ", " METEO);
	put_document(state, "file:/grid", fetched, issued, grid);
	put_document(state, "file:/meteo", fetched, 0, METEO_ALL);
	world_load(world, NOW);
	assert_int_equal(world->chain.answers, 0);
	assert_int_equal(world->chain.origin[MEASURE_AIR_TEMPERATURE], 0);
}

static void
a_half_empty_column_is_not_touched(void **state)
{
	struct world world;
	load_over(&world, state,
	    MADE(AT_06_30, AIR
		"," ONE("windSpeed", "km_h-1", "01:00:00+00:00/PT1H", "36")));
	check_cell(&world, MEASURE_WIND, 0, (double)NAN);
	check_cell(&world, MEASURE_WIND, HOUR, 10);
	check_cell(&world, MEASURE_WIND, 2 * HOUR, (double)NAN);
	assert_int_equal(world.chain.origin[MEASURE_WIND], 0);
	assert_false(world.series.continuous[MEASURE_WIND]);
	world_end(&world);
}

static void
a_missing_column_comes_whole_from_the_next_source(void **state)
{
	struct world world;
	load_over(&world, state, MADE(AT_06_30, AIR));
	check_cell(&world, MEASURE_CLOUD, 0, 10);
	check_cell(&world, MEASURE_CLOUD, HOUR + 1800, 25);
	check_cell(&world, MEASURE_CLOUD, 3 * HOUR, (double)NAN);
	assert_int_equal(world.chain.origin[MEASURE_CLOUD], 1);
	assert_true(world.series.continuous[MEASURE_CLOUD]);
	assert_true(world.chain.link[1].used);
	/* Its age does not change whose forecast it is. */
	assert_true(world.series.issued == issued);
	/* Nobody has gusts. */
	assert_int_equal(world.chain.origin[MEASURE_GUST], CHAIN_NOBODY);
	assert_null(world.series.column[MEASURE_GUST]);
	world_end(&world);
}

/* One of two is enough to find the other, and both then agree. */
static void
humidity_and_dew_point_come_together_or_not_at_all(void **state)
{
	static const struct {
		const char *grid;
		int humidity, dew_point; /* whose */
	} rows[] = {
		{ MADE(AT_06_30, AIR), 1, 1 },
		{ MADE(AT_06_30, AIR
		      "," ONE("dewpoint", "degC", "00:00:00+00:00/PT1H", "4")),
		    CHAIN_NOBODY, 0 },
		{ MADE(AT_06_30, AIR "," ONE("relativeHumidity", "percent",
				     "00:00:00+00:00/PT1H", "55")),
		    0, CHAIN_NOBODY },
	};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		struct world world;
		load_over(&world, state, rows[i].grid);
		const uint8_t *origin = world.chain.origin;
		assert_int_equal(origin[MEASURE_HUMIDITY], rows[i].humidity);
		assert_int_equal(origin[MEASURE_DEW_POINT], rows[i].dew_point);
		assert_true((world.series.column[MEASURE_HUMIDITY] == NULL) ==
			    (rows[i].humidity == CHAIN_NOBODY));
		assert_true((world.series.column[MEASURE_DEW_POINT] == NULL) ==
			    (rows[i].dew_point == CHAIN_NOBODY));
		world_end(&world);
	}
}

static void
rain_amounts_come_together_and_the_chance_by_itself(void **state)
{
	static const struct {
		const char *grid;
		int amount, chance; /* whose */
		double block, span; /* at 00:30 */
	} rows[] = {
		{ MADE(AT_06_30, AIR), 1, 1, 4, 3600 },
		{ MADE(AT_06_30, AIR "," RAIN(ENTRY("00:00:00Z/PT6H", "9"))), 0,
		    1, 9, 21600 },
		{ MADE(AT_06_30, AIR "," CHANCE(ENTRY("00:00:00Z/PT6H", "15"))),
		    1, 0, 4, 3600 },
	};
	static const enum measure amounts[] = { MEASURE_RAIN,
		MEASURE_RAIN_BLOCK, MEASURE_RAIN_BLOCK_SPAN };
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		struct world world;
		load_over(&world, state, rows[i].grid);
		for (size_t a = 0; a < 3; a++)
			assert_int_equal(
			    world.chain.origin[amounts[a]], rows[i].amount);
		assert_int_equal(
		    world.chain.origin[MEASURE_RAIN_CHANCE], rows[i].chance);
		check_cell(&world, MEASURE_RAIN_BLOCK, 1800, rows[i].block);
		check_cell(&world, MEASURE_RAIN_BLOCK_SPAN, 1800, rows[i].span);
		check_cell(&world, MEASURE_RAIN, 1800,
		    rows[i].block * 900 / rows[i].span);
		check_cell(&world, MEASURE_RAIN_CHANCE, 1800,
		    rows[i].chance == 0 ? 15 : 40);
		world_end(&world);
	}
}

static void
values_thrown_out_are_counted_of_those_in_use(void **state)
{
	struct world world;
	world_make(&world, state, "", GRID ", " METEO);
	put_document(state, "file:/grid", fetched, issued,
	    MADE(AT_06_30, AIR "," WIND("wmoUnit:km_h-1", "9999")));
	put_document(state, "file:/meteo", MIDNIGHT, 0,
	    HOURLY(",\"cloud_cover\":\"%\"", ",\"cloud_cover\":[1,101,102]"));
	world_load(&world, NOW);
	assert_int_equal(world.series.rejected, 3);
	world_load(&world, MIDNIGHT + DAY + 1);
	assert_int_equal(world.series.rejected, 1);
	world_end(&world);
}

static void
trouble_is_a_sentence_and_with_several_sources_says_whose(void **state)
{
	struct world world;
	world_make(&world, state, "", GRID);
	world_load(&world, NOW);
	assert_string_equal(
	    world.chain.trouble, "no forecast has been fetched yet");
	assert_string_equal(world.chain.fetch_trouble, "");
	put_source(state, "file:/grid", "the file is away", NULL);
	world_load(&world, NOW);
	assert_string_equal(world.chain.trouble, "the file is away");
	assert_string_equal(world.chain.fetch_trouble, "");
	put_document(state, "file:/grid", fetched, issued, MADE(AT_06_30, AIR));
	world_load(&world, NOW);
	assert_string_equal(world.chain.trouble, "");
	assert_string_equal(world.chain.fetch_trouble, "the file is away");
	/* Too old because it is away: both are told. */
	world_load(&world, issued + DAY + 1);
	assert_contains(world.chain.trouble, "is too old to be used");
	assert_string_equal(world.chain.fetch_trouble, "the file is away");
	world_end(&world);

	world_make(&world, state, "", NORWAY ", " METEO);
	world_load(&world, NOW);
	assert_string_equal(world.chain.trouble,
	    "met-norway: no forecast has been fetched yet; "
	    "open-meteo: no forecast has been fetched yet");
	put_document(state, "file:/meteo", fetched, 0, METEO_ALL);
	world_load(&world, NOW);
	assert_string_equal(world.chain.trouble, "");
	assert_string_equal(world.chain.fetch_trouble,
	    "met-norway: no forecast has been fetched yet");
	put_source(state, "file:/meteo", "it is slow", NULL);
	world_load(&world, NOW);
	assert_string_equal(world.chain.fetch_trouble,
	    "met-norway: no forecast has been fetched yet; "
	    "open-meteo: it is slow");
	world_end(&world);
}

static void
long_sentences_are_cut(void **state)
{
	struct world world;
	char sentence[1000];
	memset(sentence, 'x', sizeof sentence - 1);
	sentence[sizeof sentence - 1] = '\0';
	put_source(state, "file:/grid", sentence, NULL);
	put_source(state, "file:/meteo", sentence, NULL);
	put_source(state, "file:/norway", sentence, NULL);
	world_make(&world, state, "", GRID ", " METEO ", " NORWAY);
	world_load(&world, NOW);
	assert_int_equal(strlen(world.chain.link[2].trouble), 239);
	assert_int_equal(strlen(world.chain.trouble), CHAIN_TROUBLE - 1);
	assert_contains(world.chain.trouble, "; open-meteo: xxx");
	world_end(&world);
}

static void
a_column_that_only_an_older_document_has_comes_from_the_next(void **state)
{
	struct world world;
	world_make(&world, state, "", GRID ", " METEO);
	put_document(state, "file:/grid", MIDNIGHT, MIDNIGHT,
	    MADE("2026-03-02T00:00:00+00:00",
		AIR "," ONE("probabilityOfPrecipitation", "percent",
		    "00:00:00+00:00/PT1H", "5")));
	put_document(state, "file:/grid", fetched, issued,
	    MADE(AT_06_30,
		ONE("temperature", "degC", "01:00:00+00:00/P1D", "9")));
	put_document(state, "file:/meteo", fetched, 0, METEO_ALL);
	world_load(&world, NOW);
	check_cell(&world, MEASURE_AIR_TEMPERATURE, 0, 12.5);
	check_cell(&world, MEASURE_AIR_TEMPERATURE, HOUR, 9);
	assert_int_equal(world.chain.origin[MEASURE_RAIN_CHANCE], 1);
	check_cell(&world, MEASURE_RAIN_CHANCE, HOUR, 80);
	world_end(&world);
}

/* Two bytes each, cut at every place of the sentence. */
static void
no_sentence_ends_in_half_a_character(void **state)
{
	for (size_t shift = 0; shift < 2; shift++) {
		struct world world;
		struct text text;
		text_init(&text, 400);
		(void)text_add(&text, &"x"[shift]);
		for (int i = 0; i < 150; i++)
			(void)text_add(&text, "ü");
		const char *sentence = text_string(&text);
		world_make(&world, state, "", GRID ", " METEO);
		put_source(state, "file:/grid", sentence, NULL);
		put_source(state, "file:/meteo", sentence, NULL);
		world_load(&world, NOW);
		const char *one = world.chain.link[0].trouble;
		assert_true(strlen(one) >= 238);
		assert_true(text_is_utf8(one, strlen(one)));
		assert_true(strlen(world.chain.trouble) >= CHAIN_TROUBLE - 2);
		assert_true(text_is_utf8(
		    world.chain.trouble, strlen(world.chain.trouble)));
		world_end(&world);
		text_release(&text);
	}
}

static void
credit_names_each_of_those_in_use_once(void **state)
{
	char both[CHAIN_CREDIT];
	const char *grid = format_find("nws-grid")->credit;
	const char *meteo = format_find("open-meteo")->credit;
	struct world world;
	(void)snprintf(both, sizeof both, "%s. %s", grid, meteo);
	world_make(&world, state, "", GRID ", " WARNING ", " METEO);
	world_load(&world, NOW);
	/* None is in use: that of the first. */
	assert_string_equal(world.chain.credit, grid);
	put_document(state, "file:/grid", fetched, issued, MADE(AT_06_30, AIR));
	put_document(state, "file:/alerts", fetched, 0, CALM);
	world_load(&world, NOW);
	assert_true(world.chain.link[1].used);
	assert_string_equal(world.chain.credit, grid);
	put_document(state, "file:/meteo", fetched, 0, HOURLY("", ""));
	world_load(&world, NOW);
	assert_string_equal(world.chain.credit, grid);
	put_document(state, "file:/meteo", fetched + 1, 0, METEO_ALL);
	world_load(&world, NOW);
	assert_string_equal(world.chain.credit, both);
	world_end(&world);
}

static void
a_link_is_told_in_one_line(void **state)
{
	char line[200];
	struct world world;
	world_make(&world, state, "", GRID ", " METEO);
	put_document(state, "file:/grid", fetched, issued, MADE(AT_06_30, AIR));
	put_document(state, "file:/meteo", fetched, 0, METEO_ALL);
	world_load(&world, NOW);
	const struct chain_link *link = world.chain.link;
	assert_string_equal(chain_print_link(line, sizeof line, &link[0],
				&world.site->zone, NOW + 59),
	    "nws-grid, issued Mon 2 Mar 00:30 (1 h 30 min ago)");
	assert_string_equal(chain_print_link(line, sizeof line, &link[1],
				&world.site->zone, NOW),
	    "open-meteo, fetched Mon 2 Mar 01:00 (1 h ago)");
	assert_string_equal(
	    chain_print_link(line, 9, &link[0], &world.site->zone, NOW),
	    "nws-grid");
	world_end(&world);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		STORE_TEST(a_half_empty_column_is_not_touched),
		STORE_TEST(a_missing_column_comes_whole_from_the_next_source),
		STORE_TEST(humidity_and_dew_point_come_together_or_not_at_all),
		STORE_TEST(rain_amounts_come_together_and_the_chance_by_itself),
		STORE_TEST(values_thrown_out_are_counted_of_those_in_use),
		STORE_TEST(
		    trouble_is_a_sentence_and_with_several_sources_says_whose),
		STORE_TEST(long_sentences_are_cut),
		STORE_TEST(
		    a_column_that_only_an_older_document_has_comes_from_the_next),
		STORE_TEST(no_sentence_ends_in_half_a_character),
		STORE_TEST(credit_names_each_of_those_in_use_once),
		STORE_TEST(a_link_is_told_in_one_line),
	};
	return RUN_TESTS(tests);
}
