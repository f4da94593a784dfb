/* Which way the drift goes, and whom it would meet. */
#include "unit/test.h"

#include "advice/drift.h"
#include "advice/reason.h"
#include "unit/derive_fixture.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

struct vector {
	double bearing, direction; /* degrees */
	bool blocked;
};

/* Computed: the direction the wind comes from, turned round, within 45 degrees
   of the bearing. */
static const struct vector vectors[] = {
	{ 90, 270, true },
	{ 90, 315, true }, /* the edge is in */
	{ 90, 316, false },
	{ 90, 225, true }, /* the other edge */
	{ 90, 224, false },
	{ 90, 90, false },
	/* around north */
	{ 350, 175, true },
	{ 350, 215, true },
	{ 350, 216, false },
	{ 350, 125, true },
	{ 350, 124, false },
	{ 0, 180, true },
	{ 360, 180, true },
	{ 0, 135, true },
	{ 0, 225, true },
	{ 10, 145, true },
	{ 10, 144, false },
	{ 180, 0, true },
	{ 180, 360, true },
	/* not a number that a float holds: 78.3 + 45 = 123.3 */
	{ 78.3, 303.3, true },
	{ 78.3, 303.4, false },
	{ 90, NAN, false },
};

static void
a_side_is_blocked_within_45_degrees_of_where_the_wind_blows(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(vectors); i++) {
		struct sensitive_side side = { vectors[i].bearing, "the bed" };
		struct site site = plain_site();
		site.side = &side;
		site.side_count = 1;
		const struct sensitive_side *met =
		    drift_side(&site, vectors[i].direction);
		if ((met == &side) != vectors[i].blocked)
			fail_msg("side at %g, wind from %g: %s",
			    vectors[i].bearing, vectors[i].direction,
			    met == NULL ? "free" : "blocked");
	}
}

static void
of_several_sides_the_one_in_the_line_of_the_wind_is_named(void **state)
{
	(void)state;
	static const struct {
		double direction;
		const char *what; /* NULL: none */
	} rows[] = { { 270, "the bed" }, { 290, "the bed" },
		{ 300, "the pond" }, { 340, "the pond" }, { 2, NULL },
		{ 40, "the hives" }, { 180, NULL }, { 292.5, "the bed" },
		{ NAN, NULL } };
	struct sensitive_side sides[] = { { 90, "the bed" },
		{ 135, "the pond" }, { 230, "the hives" } };
	struct site site = plain_site();
	site.side = sides;
	site.side_count = COUNT(sides);
	for (size_t i = 0; i < COUNT(rows); i++) {
		const struct sensitive_side *side =
		    drift_side(&site, rows[i].direction);
		const char *what = side == NULL ? "none" : side->what;
		const char *wanted =
		    rows[i].what == NULL ? "none" : rows[i].what;
		if (strcmp(what, wanted) != 0)
			fail_msg("wind from %g: %s, wanted %s",
			    rows[i].direction, what, wanted);
	}
}

struct air {
	double wind, direction; /* m/s, degrees */
	double drift;
};

/* The bed is in the east. 3 mph are 1.34112 m/s by definition. */
static const struct air airs[] = {
	{ 3, 270, 1 },
	{ 3, 315, 1 },
	{ 3, 316, 0 },
	{ 3, 90, 0 },
	{ 1.34112, 270, 1 },
	{ 1.3411, 270, NAN },
	{ 1.3411, 90, NAN },
	{ 0, 270, NAN },
	{ NAN, 270, NAN },
	{ 3, NAN, NAN },
	{ NAN, NAN, NAN },
};

static void
check_airs(struct site *site, bool has_side)
{
	struct series series;
	series_init(&series, 0, cells(COUNT(airs)));
	float *wind = series_column(&series, MEASURE_WIND);
	float *from = series_column(&series, MEASURE_WIND_DIRECTION);
	for (size_t i = 0; i < COUNT(airs); i++) {
		wind[i] = (float)airs[i].wind;
		from[i] = (float)airs[i].direction;
	}
	derive(&series, site, NULL);
	for (size_t i = 0; i < COUNT(airs); i++)
		check_cell(&series, MEASURE_DRIFT, series_time(&series, i),
		    has_side ? airs[i].drift : 0);
	assert_false(series.continuous[MEASURE_DRIFT]);
	series_release(&series);
}

static void
drift_is_unknown_in_light_air_and_nought_without_a_side(void **state)
{
	(void)state;
	struct sensitive_side bed = { 90, "the bed" };
	struct site site = plain_site();
	check_airs(&site, false);
	site.side = &bed;
	site.side_count = 1;
	check_airs(&site, true);
}

static void
a_service_without_wind_or_direction_leaves_drift_unknown(void **state)
{
	(void)state;
	struct sensitive_side bed = { 90, "the bed" };
	for (int given = 0; given < 3; given++) {
		struct series series;
		struct site site = plain_site();
		series_init(&series, 0, HOUR);
		if (given == 1)
			fill(&series, MEASURE_WIND, 3);
		if (given == 2)
			fill(&series, MEASURE_WIND_DIRECTION, 90);
		site.side = &bed;
		site.side_count = 1;
		derive(&series, &site, NULL);
		check_cell(&series, MEASURE_DRIFT, 0, NAN);
		series_release(&series);
	}
}

static void
a_reason_names_the_side_that_the_wind_blows_towards(void **state)
{
	(void)state;
	struct sensitive_side sides[] = { { 90, "vegetable bed" },
		{ 0, "pond" } };
	struct site site = plain_site();
	struct series series;
	site.side = sides;
	site.side_count = COUNT(sides);
	series_init(&series, 0, (int64_t)DAY_SECONDS);
	fill(&series, MEASURE_WIND, 3);
	fill(&series, MEASURE_WIND_DIRECTION, 270);
	drift_fill(&series, &site);
	struct rule rule = { .name = "no-drift",
		.measure = MEASURE_DRIFT,
		.fold = FOLD_ANY,
		.exposure = { { ANCHOR_START, 0 }, { ANCHOR_END, 0 } },
		.owner = "post-a",
		.source = "" };
	struct check check = { .rule = rule,
		.column = series.column[MEASURE_DRIFT],
		.site = &site };
	struct outlook outlook;
	struct reason reason;
	char sentence[REASON_BUFFER];
	outlook_init(&outlook, &series, &site.zone);
	reason_make(&outlook, &check, 3600, 8, &reason);
	assert_int_equal(reason.verdict, VERDICT_NO_GO);
	assert_string_equal(reason.side, "vegetable bed");
	(void)reason_print(
	    sentence, sizeof sentence, &reason, &site.zone, UNITS_METRIC);
	assert_contains(sentence, "wind towards the vegetable bed ");
	check.site = NULL; /* nobody says whose sides they are */
	reason_make(&outlook, &check, 3600, 8, &reason);
	assert_null(reason.side);
	(void)reason_print(
	    sentence, sizeof sentence, &reason, &site.zone, UNITS_METRIC);
	assert_contains(sentence, "wind towards a side to spare ");
	outlook_release(&outlook);
	series_release(&series);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(
		    a_side_is_blocked_within_45_degrees_of_where_the_wind_blows),
		cmocka_unit_test(
		    of_several_sides_the_one_in_the_line_of_the_wind_is_named),
		cmocka_unit_test(
		    drift_is_unknown_in_light_air_and_nought_without_a_side),
		cmocka_unit_test(
		    a_service_without_wind_or_direction_leaves_drift_unknown),
		cmocka_unit_test(
		    a_reason_names_the_side_that_the_wind_blows_towards),
	};
	return RUN_TESTS(tests);
}
