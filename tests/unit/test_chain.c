/* Which source answers, which fill, and what is said of those that cannot. */
#include "unit/chain_fixture.h"

static const int64_t issued = MIDNIGHT + 6 * HOUR + 1800;
static const int64_t fetched = MIDNIGHT + 7 * HOUR;

static void
the_first_fresh_source_answers(void **state)
{
	struct world world;
	world_make(&world, state, "", GRID ", " METEO);
	put_document(state, "file:/grid", fetched, issued, MADE(AT_06_30, AIR));
	put_document(state, "file:/meteo", fetched + 60, 0, HOURLY("", ""));
	world_load(&world, NOW);
	assert_int_equal(world.chain.count, 2);
	assert_int_equal(world.chain.answers, 0);
	assert_int_equal(world.chain.origin[MEASURE_AIR_TEMPERATURE], 0);
	check_cell(&world, MEASURE_AIR_TEMPERATURE, 0, 12.5);
	assert_true(world.series.issued == issued);
	assert_true(world.chain.link[0].issued == issued);
	assert_true(world.chain.link[0].fetched == fetched);
	/* It does not say, and is as old as its fetching. */
	assert_true(world.chain.link[1].issued == fetched + 60);
	assert_true(world.chain.link[0].used);
	/* It had nothing to add. */
	assert_false(world.chain.link[1].used);
	assert_string_equal(world.chain.trouble, "");
	assert_string_equal(world.chain.fetch_trouble, "");
	assert_ptr_equal(chain_leader(&world.chain), &world.chain.link[0]);
	world_end(&world);
}

static void
the_order_of_the_list_decides_and_not_the_age(void **state)
{
	struct world world;
	world_make(&world, state, "", METEO ", " GRID);
	put_document(state, "file:/grid", fetched, issued, MADE(AT_06_30, AIR));
	put_document(state, "file:/meteo", MIDNIGHT, 0, HOURLY("", ""));
	world_load(&world, NOW);
	assert_int_equal(world.chain.answers, 0);
	check_cell(&world, MEASURE_AIR_TEMPERATURE, HOUR, 2);
	check_cell(&world, MEASURE_AIR_TEMPERATURE, 3 * HOUR, (double)NAN);
	assert_true(world.series.issued == MIDNIGHT);
	world_end(&world);
}

/* By the setting, and for alerts by their format where that is less. */
static void
a_source_is_used_up_to_its_age_and_no_longer(void **state)
{
	static const struct {
		const char *top, *source, *address, *body;
		int64_t issued, good_for;
	} rows[] = {
		{ "", GRID, "file:/grid", MADE(AT_06_30, AIR), issued, DAY },
		{ "forecast-good-for = \"3 h\"\n", GRID, "file:/grid",
		    MADE(AT_06_30, AIR), issued, 3 * HOUR },
		{ "", METEO, "file:/meteo", HOURLY("", ""), fetched, DAY },
		{ "", WARNING, "file:/alerts", CALM, fetched, 6 * HOUR },
		{ "forecast-good-for = \"3 d\"\n", WARNING, "file:/alerts",
		    CALM, fetched, 6 * HOUR },
		{ "forecast-good-for = \"2 h\"\n", WARNING, "file:/alerts",
		    CALM, fetched, 2 * HOUR },
	};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		struct world world;
		int64_t end = rows[i].issued + rows[i].good_for;
		world_make(&world, state, rows[i].top, rows[i].source);
		put_document(state, rows[i].address, fetched, rows[i].issued,
		    rows[i].body);
		world_load(&world, end);
		assert_string_equal(world.chain.link[0].trouble, "");
		assert_true(world.chain.link[0].used);
		world_load(&world, end + 1);
		assert_contains(
		    world.chain.link[0].trouble, "is too old to be used");
		assert_false(world.chain.link[0].used);
		for (int m = 0; m < MEASURES; m++) {
			assert_null(world.series.column[m]);
			assert_int_equal(world.chain.origin[m], CHAIN_NOBODY);
		}
		world_end(&world);
	}
}

static void
behind_a_stale_source_the_next_one_answers(void **state)
{
	struct world world;
	world_make(&world, state, "", GRID ", " METEO);
	put_document(state, "file:/grid", fetched, issued, MADE(AT_06_30, AIR));
	put_document(state, "file:/meteo", fetched + HOUR, 0, HOURLY("", ""));
	world_load(&world, fetched + DAY);
	assert_int_equal(world.chain.answers, 1);
	assert_ptr_equal(chain_leader(&world.chain), &world.chain.link[1]);
	assert_true(world.series.issued == fetched + HOUR);
	check_cell(&world, MEASURE_AIR_TEMPERATURE, 0, 1);
	assert_string_equal(world.chain.trouble, "");
	/* The local clock of the site: 06:30 UTC. */
	assert_string_equal(world.chain.fetch_trouble,
	    "nws-grid: the forecast of Mon 2 Mar 00:30 is too old to be used");
	world_load(&world, fetched + HOUR + DAY + 1);
	assert_int_equal(world.chain.answers, 2);
	assert_ptr_equal(chain_leader(&world.chain), &world.chain.link[0]);
	assert_string_equal(world.chain.trouble,
	    "nws-grid: the forecast of Mon 2 Mar 00:30 is too old to be used; "
	    "open-meteo: the forecast of Mon 2 Mar 02:00 is too old to be "
	    "used");
	assert_string_equal(world.chain.fetch_trouble, "");
	world_end(&world);
}

static void
a_stale_source_behind_a_fresh_one_changes_nothing(void **state)
{
	struct world world;
	world_make(&world, state, "", GRID ", " METEO);
	put_document(state, "file:/grid", fetched, issued, MADE(AT_06_30, AIR));
	put_document(state, "file:/meteo", MIDNIGHT, 0,
	    HOURLY(",\"cloud_cover\":\"%\"", ",\"cloud_cover\":[1,2,3]"));
	world_load(&world, MIDNIGHT + DAY + 1);
	assert_int_equal(world.chain.answers, 0);
	assert_true(world.series.issued == issued);
	assert_null(world.series.column[MEASURE_CLOUD]);
	assert_string_equal(world.chain.trouble, "");
	assert_contains(world.chain.fetch_trouble, "open-meteo: ");
	world_end(&world);
}

static void
a_stale_source_alone_still_tells_when_it_was_made(void **state)
{
	struct world world;
	world_make(&world, state, "", GRID);
	put_document(state, "file:/grid", fetched, issued, MADE(AT_06_30, AIR));
	world_load(&world, issued + DAY + 1);
	assert_int_equal(world.chain.answers, 1);
	assert_true(world.series.issued == issued);
	assert_string_equal(world.chain.trouble,
	    "the forecast of Mon 2 Mar 00:30 is too old to be used");
	world_end(&world);
}

static void
a_broken_newest_document_falls_back_on_an_older_one(void **state)
{
	struct world world;
	world_make(&world, state, "", GRID ", " METEO);
	put_document(state, "file:/grid", fetched, issued, MADE(AT_06_30, AIR));
	put_document(state, "file:/grid", fetched + 600, issued + 600, "{");
	put_document(state, "file:/meteo", fetched, 0, HOURLY("", ""));
	world_load(&world, NOW);
	assert_int_equal(world.chain.answers, 0);
	assert_true(world.chain.link[0].issued == issued);
	assert_true(world.chain.link[0].fetched == fetched + 600);
	assert_string_equal(world.chain.link[0].trouble, "");
	check_cell(&world, MEASURE_AIR_TEMPERATURE, 0, 12.5);
	world_end(&world);
}

static void
a_source_whose_documents_are_all_broken_does_not_answer(void **state)
{
	struct world world;
	world_make(&world, state, "", GRID ", " METEO);
	put_document(state, "file:/grid", fetched, fetched, "{\"a\":1}");
	put_document(state, "file:/grid", fetched + 1, fetched + 1, "[");
	put_document(state, "file:/meteo", fetched, 0, HOURLY("", ""));
	world_load(&world, NOW);
	assert_int_equal(world.chain.answers, 1);
	assert_true(world.chain.link[0].issued == 0);
	/* What is said is said of the newest. */
	assert_null(strstr(world.chain.link[0].trouble, "gridpoint"));
	assert_true(world.chain.link[0].trouble[0] != '\0');
	assert_contains(world.chain.fetch_trouble, "nws-grid: ");
	world_end(&world);
}

static void
older_documents_fill_the_hours_before_the_newest(void **state)
{
	struct world world;
	world_make(&world, state, "", GRID);
	put_document(state, "file:/grid", MIDNIGHT + 3 * HOUR,
	    MIDNIGHT + 3 * HOUR,
	    MADE("2026-03-02T03:00:00+00:00",
		ONE("temperature", "degC", "00:00:00+00:00/PT12H", "1")));
	/* Made after the hours that are missing: it is not asked for them. */
	put_document(state, "file:/grid", fetched, issued,
	    MADE(AT_06_30,
		ONE("temperature", "degC", "00:00:00+00:00/PT12H", "2")));
	put_document(state, "file:/grid", fetched + 600, issued + 600,
	    MADE("2026-03-02T06:40:00+00:00",
		ONE("temperature", "degC", "06:00:00+00:00/PT12H", "3")));
	world_load(&world, NOW);
	check_cell(&world, MEASURE_AIR_TEMPERATURE, 0, 1);
	check_cell(&world, MEASURE_AIR_TEMPERATURE, 3 * HOUR - 1, 1);
	check_cell(&world, MEASURE_AIR_TEMPERATURE, 6 * HOUR, 3);
	check_cell(&world, MEASURE_AIR_TEMPERATURE, 18 * HOUR - 1, 3);
	check_cell(&world, MEASURE_AIR_TEMPERATURE, 18 * HOUR, (double)NAN);
	assert_true(world.series.issued == issued + 600);
	world_end(&world);
}

static void
now_in_the_past_uses_the_documents_of_then(void **state)
{
	struct world world;
	world_make(&world, state, "", GRID);
	put_document(state, "file:/grid", fetched, issued, MADE(AT_06_30, AIR));
	put_document(state, "file:/grid", NOW + HOUR, NOW,
	    MADE("2026-03-02T08:00:00+00:00",
		ONE("temperature", "degC", "00:00:00+00:00/P1D", "30")));
	world_load(&world, NOW);
	assert_true(world.chain.link[0].fetched == fetched);
	assert_true(world.series.issued == issued);
	check_cell(&world, MEASURE_AIR_TEMPERATURE, 0, 12.5);
	world_load(&world, NOW + HOUR);
	assert_true(world.series.issued == NOW);
	check_cell(&world, MEASURE_AIR_TEMPERATURE, 0, 30);
	world_load(&world, fetched - 1);
	assert_string_equal(
	    world.chain.trouble, "no forecast has been fetched yet");
	assert_true(world.series.issued == 0);
	world_end(&world);
}

/*
 * A document that begins after it was made, as those of one service do: what
 * an older one said of the hours that have passed since is all there is.
 */
static void
hours_before_a_document_begins_come_from_the_one_before(void **state)
{
	struct world world;
	world_make(&world, state, "", GRID);
	put_document(state, "file:/grid", MIDNIGHT - HOUR, MIDNIGHT - HOUR,
	    MADE("2026-03-01T23:00:00+00:00",
		ONE("temperature", "degC", "00:00:00+00:00/P1D", "1")));
	put_document(state, "file:/grid", MIDNIGHT + HOUR, MIDNIGHT + HOUR,
	    MADE("2026-03-02T01:00:00+00:00",
		ONE("temperature", "degC", "02:00:00+00:00/P1D", "2")));
	put_document(state, "file:/grid", fetched, issued,
	    MADE(AT_06_30,
		ONE("temperature", "degC", "07:00:00+00:00/P1D", "3")));
	world_load(&world, NOW);
	check_cell(&world, MEASURE_AIR_TEMPERATURE, 0, 1);
	check_cell(&world, MEASURE_AIR_TEMPERATURE, 2 * HOUR - 1, 1);
	check_cell(&world, MEASURE_AIR_TEMPERATURE, 2 * HOUR, 2);
	check_cell(&world, MEASURE_AIR_TEMPERATURE, 7 * HOUR - 1, 2);
	check_cell(&world, MEASURE_AIR_TEMPERATURE, 7 * HOUR, 3);
	world_end(&world);
}

static void
alerts_fill_but_do_not_answer(void **state)
{
	struct world world;
	world_make(&world, state, "", WARNING ", " GRID);
	put_document(state, "file:/alerts", fetched, 0, WINDY);
	world_load(&world, NOW);
	assert_int_equal(world.chain.answers, 2);
	assert_string_equal(
	    world.chain.trouble, "nws-grid: no forecast has been fetched yet");
	put_document(state, "file:/grid", fetched, issued, MADE(AT_06_30, AIR));
	world_load(&world, NOW);
	assert_int_equal(world.chain.answers, 1);
	assert_string_equal(world.chain.trouble, "");
	assert_true(world.series.issued == issued);
	assert_true(world.chain.link[0].used);
	assert_true(world.chain.link[1].used);
	assert_int_equal(world.chain.origin[MEASURE_ALERT_WIND], 0);
	assert_int_equal(world.chain.origin[MEASURE_ALERT_HEAT], 0);
	assert_int_equal(world.chain.origin[MEASURE_AIR_TEMPERATURE], 1);
	check_cell(&world, MEASURE_ALERT_WIND, 6 * HOUR, 1);
	check_cell(&world, MEASURE_ALERT_WIND, 12 * HOUR, 0);
	check_cell(&world, MEASURE_ALERT_HEAT, 6 * HOUR, 0);
	world_end(&world);
}

static void
alerts_alone_give_no_forecast_and_it_is_said(void **state)
{
	struct world world;
	world_make(&world, state, "", WARNING);
	put_document(state, "file:/alerts", fetched, 0, WINDY);
	world_load(&world, NOW);
	assert_int_equal(world.chain.answers, 1);
	assert_string_equal(
	    world.chain.trouble, "no source gives the air temperature");
	check_cell(&world, MEASURE_ALERT_WIND, 6 * HOUR, 1);
	world_end(&world);
}

/* The clock of a service may be wrong. */
static void
a_time_of_issue_to_come_is_that_of_the_fetching(void **state)
{
	struct world world;
	world_make(&world, state, "", GRID);
	put_document(
	    state, "file:/grid", MIDNIGHT, MIDNIGHT, MADE(AT_06_30, AIR));
	world_load(&world, MIDNIGHT + DAY);
	assert_true(world.series.issued == MIDNIGHT);
	assert_string_equal(world.chain.trouble, "");
	world_load(&world, MIDNIGHT + DAY + 1);
	assert_contains(world.chain.trouble, "is too old to be used");
	world_end(&world);
}

/* A list that is too old leaves its columns away: unknown, and not 0. */
static void
stale_alerts_are_unknown_beside_a_fresh_forecast(void **state)
{
	struct world world;
	world_make(&world, state, "", WARNING ", " GRID);
	put_document(state, "file:/alerts", fetched, 0, CALM);
	put_document(state, "file:/grid", fetched, issued, MADE(AT_06_30, AIR));
	world_load(&world, fetched + 6 * HOUR + 1);
	assert_int_equal(world.chain.answers, 1);
	assert_null(world.series.column[MEASURE_ALERT_WIND]);
	assert_false(world.chain.link[0].used);
	assert_contains(world.chain.fetch_trouble, "nws-alerts: ");
	assert_true(world.series.issued == issued);
	world_end(&world);
}

static void
an_address_is_followed_to_where_it_leads(void **state)
{
	static const char *const place = "https://example.net/p/33.1,-97.2";
	struct world world;
	world_make(&world, state, "",
	    "\"nws-grid https://example.net/p/{latitude},{longitude}\"");
	assert_string_equal(world.site->source[0].address, place);
	put_source(state, place, NULL, "https://example.net/cell");
	put_document(state, place, fetched, issued,
	    MADE(AT_06_30,
		ONE("temperature", "degC", "00:00:00+00:00/P1D", "-5")));
	world_load(&world, NOW);
	assert_string_equal(
	    world.chain.trouble, "no forecast has been fetched yet");
	put_document(state, "https://example.net/cell", fetched, issued,
	    MADE(AT_06_30, AIR));
	world_load(&world, NOW);
	assert_int_equal(world.chain.answers, 0);
	check_cell(&world, MEASURE_AIR_TEMPERATURE, 0, 12.5);
	/* Of the two sentences the forecast's own is told. */
	put_source(
	    state, place, "the place is silent", "https://example.net/cell");
	world_load(&world, NOW);
	assert_string_equal(world.chain.fetch_trouble, "the place is silent");
	put_source(
	    state, "https://example.net/cell", "the cell is silent", NULL);
	world_load(&world, NOW);
	assert_string_equal(world.chain.fetch_trouble, "the cell is silent");
	put_source(state, place, NULL, NULL);
	world_load(&world, NOW);
	check_cell(&world, MEASURE_AIR_TEMPERATURE, 0, -5);
	assert_string_equal(world.chain.fetch_trouble, "");
	world_end(&world);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		STORE_TEST(the_first_fresh_source_answers),
		STORE_TEST(the_order_of_the_list_decides_and_not_the_age),
		STORE_TEST(a_source_is_used_up_to_its_age_and_no_longer),
		STORE_TEST(behind_a_stale_source_the_next_one_answers),
		STORE_TEST(a_stale_source_behind_a_fresh_one_changes_nothing),
		STORE_TEST(a_stale_source_alone_still_tells_when_it_was_made),
		STORE_TEST(a_broken_newest_document_falls_back_on_an_older_one),
		STORE_TEST(
		    a_source_whose_documents_are_all_broken_does_not_answer),
		STORE_TEST(older_documents_fill_the_hours_before_the_newest),
		STORE_TEST(now_in_the_past_uses_the_documents_of_then),
		STORE_TEST(
		    hours_before_a_document_begins_come_from_the_one_before),
		STORE_TEST(alerts_fill_but_do_not_answer),
		STORE_TEST(alerts_alone_give_no_forecast_and_it_is_said),
		STORE_TEST(a_time_of_issue_to_come_is_that_of_the_fetching),
		STORE_TEST(stale_alerts_are_unknown_beside_a_fresh_forecast),
		STORE_TEST(an_address_is_followed_to_where_it_leads),
	};
	return RUN_TESTS(tests);
}
