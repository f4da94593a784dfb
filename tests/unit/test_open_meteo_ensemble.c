#include "unit/test.h"

#include "unit/open_meteo_document.h"

static const double unknown = (double)NAN;

/* A control run and two members of the air; the rest begins with a comma. */
#define MEMBER_UNITS                                                           \
	UNIT("temperature_2m_member01", "°C")                                  \
	UNIT("temperature_2m_member02", "°C")
#define MEMBERS                                                                \
	LIST("temperature_2m_member01", "11,13,9")                             \
	LIST("temperature_2m_member02", "18,20,16")
#define ENSEMBLE(units, lists)                                                 \
	TIMED("unixtime", STAMPS, MEMBER_UNITS units, AIR MEMBERS lists)

static void
take_ensemble(const char *document, struct series *ret)
{
	take_with(open_meteo_ensemble_read, document, strlen(document), ret);
}

/* The control counts as one of them. */
static void
a_value_is_the_median_of_the_runs_that_know_it(void **state)
{
	(void)state;
	static const struct {
		const char *control, *one, *two, *three; /* at the stamps */
		double wanted[3];
	} rows[] = {
		{ "1,2,3", "5,1,3", "3,9,3", "7,4,3", { 4, 3, 3 } },
		{ "1,2,3", "5,1,9", "3,9,6", "null,null,null", { 3, 2, 6 } },
		{ "null,2,null", "5,1,null", "3,9,null", "9,null,null",
		    { 5, 2, (double)NAN } },
		{ "null,null,4", "null,8,null", "null,null,null", "1,null,null",
		    { 1, 8, 4 } },
		/* No wind blows at 1000 m/s: that member does not know. */
		{ "1,2,3", "5,1,1000", "3,9,6", "null,null,null",
		    { 3, 2, 4.5 } },
	};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		struct series s;
		char document[2000];
		(void)snprintf(document, sizeof document,
		    ENSEMBLE(UNIT("wind_speed_10m", "m/s")
				 UNIT("wind_speed_10m_member01", "m/s")
				     UNIT("wind_speed_10m_member02", "m/s")
					 UNIT("wind_speed_10m_member07", "m/s"),
			LIST("wind_speed_10m_member07", "%s")
			    LIST("wind_speed_10m_member02", "%s")
				LIST("wind_speed_10m_member01", "%s")
				    LIST("wind_speed_10m", "%s")),
		    rows[i].three, rows[i].two, rows[i].one, rows[i].control);
		take_ensemble(document, &s);
		for (int h = 0; h < 3; h++)
			check_at(&s, MEASURE_WIND, h * HOUR, rows[i].wanted[h]);
		check_at(&s, MEASURE_AIR_TEMPERATURE, 0, 11);
		check_at(&s, MEASURE_AIR_TEMPERATURE, 1800, 12);
		assert_true(s.continuous[MEASURE_WIND]);
		series_release(&s);
	}
}

/* Each list has a unit of its own. */
static void
members_are_converted_one_by_one(void **state)
{
	(void)state;
	struct series s;
	take_ensemble(
	    ENSEMBLE(UNIT("windspeed_10m", "m/s") UNIT("windspeed_10m_member01",
			 "km/h") UNIT("windspeed_10m_member02", "kn"),
		LIST("windspeed_10m", "1,1,9") LIST("windspeed_10m_member01",
		    "18,18,18") LIST("windspeed_10m_member02", "90,90,90")),
	    &s);
	check_at(&s, MEASURE_WIND, 0, 5);
	check_at(&s, MEASURE_WIND, 2 * HOUR, 9);
	assert_int_equal(s.rejected, 0);
	series_release(&s);
}

static void
the_chance_of_rain_is_the_share_of_wet_members(void **state)
{
	(void)state;
	static const struct {
		const char *unit, *control, *one, *two;
		double chance[2], block[2]; /* before stamps 0 and 1 */
	} rows[] = {
		{ "mm", "0,0,0", "0,3,0", "0,1,0", { 0, 200.0 / 3 }, { 0, 1 } },
		{ "mm", "0.25,0.24,0", "0.25,0.24,0", "0.25,0.24,0", { 100, 0 },
		    { 0.25, 0.24 } },
		{ "inch", "0.01,0,0", "0,0,0", "0,0,0", { 100.0 / 3, 0 },
		    { 0, 0 } },
		/* Who does not know is neither wet nor dry. */
		{ "mm", "null,1,0", "2,null,0", "0,4,0", { 50, 100 },
		    { 1, 2.5 } },
		{ "mm", "5,null,0", "null,null,0", "null,0,0",
		    { (double)NAN, (double)NAN }, { 5, 0 } },
		{ "mm", "null,-1,0", "null,601,0", "null,null,0",
		    { (double)NAN, (double)NAN },
		    { (double)NAN, (double)NAN } },
	};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		struct series s;
		char document[2000];
		(void)snprintf(document, sizeof document,
		    ENSEMBLE(UNIT("precipitation", "%s")
				 UNIT("precipitation_member01", "%s")
				     UNIT("precipitation_member02", "%s"),
			LIST("precipitation", "%s")
			    LIST("precipitation_member01", "%s")
				LIST("precipitation_member02", "%s")),
		    rows[i].unit, rows[i].unit, rows[i].unit, rows[i].control,
		    rows[i].one, rows[i].two);
		take_ensemble(document, &s);
		for (int h = 0; h < 2; h++) {
			int64_t at = (h - 1) * HOUR;
			check_at(
			    &s, MEASURE_RAIN_CHANCE, at, rows[i].chance[h]);
			check_at(&s, MEASURE_RAIN_CHANCE, at + HOUR - 1,
			    rows[i].chance[h]);
			check_at(&s, MEASURE_RAIN_BLOCK, at, rows[i].block[h]);
			check_at(&s, MEASURE_RAIN, at, rows[i].block[h] / 4);
			check_at(&s, MEASURE_RAIN_BLOCK_SPAN, at,
			    isnan(rows[i].block[h]) ? unknown : 3600);
		}
		series_release(&s);
	}
}

/* The service computes none for members; what stands there is another run's. */
static void
a_chance_in_the_document_is_passed_over(void **state)
{
	(void)state;
	struct series s;
	take_ensemble(ENSEMBLE(UNIT("precipitation_probability", "%"),
			  LIST("precipitation_probability", "50,50,50")),
	    &s);
	assert_null(s.column[MEASURE_RAIN_CHANCE]);
	assert_null(s.column[MEASURE_RAIN]);
	series_release(&s);
}

static void
a_direction_is_that_of_the_control_run(void **state)
{
	(void)state;
	struct series s;
	take_ensemble(ENSEMBLE(UNIT("wind_direction_10m", "°")
				   UNIT("wind_direction_10m_member01", "°"),
			  LIST("wind_direction_10m", "350,10,null")
			      LIST("wind_direction_10m_member01", "90,90,90")),
	    &s);
	check_at(&s, MEASURE_WIND_DIRECTION, 0, 350);
	check_at(&s, MEASURE_WIND_DIRECTION, 1800, 360);
	check_at(&s, MEASURE_WIND_DIRECTION, HOUR, 10);
	check_at(&s, MEASURE_WIND_DIRECTION, 2 * HOUR, unknown);
	series_release(&s);
}

/* Members have soil under the name of their model's layer. */
static void
soil_of_members_is_found_under_another_name(void **state)
{
	(void)state;
	struct series s;
	take_ensemble(
	    ENSEMBLE(UNIT("soil_temperature_6cm", "undefined")
			 UNIT("soil_temperature_0_to_10cm", "°C")
			     UNIT("soil_temperature_0_to_10cm_member01", "°C"),
		LIST("soil_temperature_6cm", "null,null,null")
		    LIST("soil_temperature_6cm_member01", "null,null,null")
			LIST("soil_temperature_0_to_10cm", "10,12,null") LIST(
			    "soil_temperature_0_to_10cm_member01", "11,14,15")),
	    &s);
	check_at(&s, MEASURE_SOIL, 0, 10.5);
	check_at(&s, MEASURE_SOIL, HOUR, 13);
	check_at(&s, MEASURE_SOIL, 2 * HOUR, 15);
	series_release(&s);
}

enum { STEPS = 30, MOST_RUNS = 100 };

static int
next_random(uint32_t *state, int below)
{
	*state = *state * 1664525U + 1013904223U;
	return (int)((*state >> 8) % (uint32_t)below);
}

static void
add_name(struct text *text, const char *name, int run)
{
	(void)text_format(
	    text, run == 0 ? "\"%s\":" : "\"%s_member%02d\":", name, run);
}

static void
add_run(struct text *text, const char *name, int run, const int *values)
{
	(void)text_add(text, ",");
	add_name(text, name, run);
	for (int i = 0; i < STEPS; i++) {
		(void)text_add(text, i == 0 ? "[" : ",");
		if (values[i] < 0)
			(void)text_add(text, "null");
		else
			(void)text_format(text, "%d", values[i]);
	}
	(void)text_add(text, "]");
}

/* Temperature and rain have the same numbers; the last run comes first. */
static void
write_runs(struct text *text, int values[][STEPS], int runs)
{
	static const char *const names[] = { "temperature_2m",
		"precipitation" };
	text_init(text, LIMIT_FORECAST_BYTES);
	(void)text_add(text, "{\"hourly_units\":{\"time\":\"unixtime\"");
	for (int run = 0; run < 2 * runs; run++) {
		(void)text_add(text, ",");
		add_name(text, names[run % 2], run / 2);
		(void)text_add(text, run % 2 == 0 ? "\"°C\"" : "\"mm\"");
	}
	(void)text_add(text, "},\"hourly\":{\"time\":[");
	for (int i = 0; i < STEPS; i++)
		(void)text_format(text, "%s%lld", i > 0 ? "," : "",
		    (long long)(MIDNIGHT + i * HOUR));
	(void)text_add(text, "]");
	for (int run = 2 * runs - 1; run >= 0; run--)
		add_run(text, names[run % 2], run / 2, values[run / 2]);
	(void)text_add(text, "}}");
	assert_false(text->failed);
}

/* The definition: as many known ones below as above. */
static bool
is_median(double value, int values[][STEPS], int runs, int step)
{
	int below = 0, same = 0, above = 0;
	for (int run = 0; run < runs; run++) {
		if (values[run][step] < 0)
			continue;
		below += values[run][step] < value - 0.01;
		same += fabs(values[run][step] - value) <= 0.01;
		above += values[run][step] > value + 0.01;
	}
	return abs(below - above) <= same;
}

static void
check_step(const struct series *s, int values[][STEPS], int runs, int step)
{
	int known = 0, wet = 0;
	int64_t at = MIDNIGHT + step * HOUR;
	for (int run = 0; run < runs; run++) {
		known += values[run][step] >= 0;
		wet += values[run][step] > 0;
	}
	double air = (double)series_at(s, MEASURE_AIR_TEMPERATURE, at);
	double block = (double)series_at(s, MEASURE_RAIN_BLOCK, at - 1);
	double chance = (double)series_at(s, MEASURE_RAIN_CHANCE, at - 1);
	assert_true(isnan(air) == (known == 0));
	assert_true(isnan(block) == (known == 0));
	assert_true(isnan(chance) == (known < 2));
	if (known > 0) {
		assert_true(is_median(air, values, runs, step));
		assert_close(block, air, 0);
	}
	if (known > 1)
		assert_close(chance, 100.0 * wet / known, 1e-4);
}

static void
any_number_of_members_is_counted(void **state)
{
	(void)state;
	static const int counts[] = { 2, 3, 18, 21, 31, 51, 64, MOST_RUNS };
	static int values[MOST_RUNS][STEPS];
	uint32_t seed = 20260302;
	for (int round = 0; round < rounds(80); round++) {
		int runs = counts[round % 8];
		struct text text;
		struct series s;
		for (int run = 0; run < runs; run++)
			for (int i = 0; i < STEPS; i++)
				values[run][i] = next_random(&seed, STEPS) <= i
						     ? -1
						     : next_random(&seed, 9);
		write_runs(&text, values, runs);
		take_with(open_meteo_ensemble_read, text.data, text.length, &s);
		for (int i = 0; i < STEPS; i++)
			check_step(&s, values, runs, i);
		series_release(&s);
		text_release(&text);
	}
}

static void
refuses_what_is_no_ensemble_with_a_reason(void **state)
{
	(void)state;
	static const struct {
		const char *document, *why;
	} rows[] = {
		{ FORECAST("", ""), "read it with the format open-meteo" },
		{ FORECAST(UNIT("cloud_cover_member01", "%"),
		      LIST("cloud_cover_member01", "1,2,3")),
		    "a single run and no ensemble" },
		{ TIMED("unixtime", STAMPS,
		      UNIT("temperature_2m_member01", "°C"),
		      "\"temperature_2m_member01\":[1,2,3]"),
		    "a single run and no ensemble" },
		{ ENSEMBLE("", LIST("temperature_2m_member01_one", "1,2,3")),
		    "several models (temperature_2m_member01_one): ask for" },
		{ ENSEMBLE("", LIST("temperature_2m_member00", "1,2,3")),
		    "several models (temperature_2m_member00)" },
		{ ENSEMBLE("", LIST("temperature_2m_member100", "1,2,3")),
		    "several models (temperature_2m_member100)" },
		{ ENSEMBLE("", LIST("temperature_2m_member3", "1,2,3")),
		    "several models (temperature_2m_member3)" },
		{ TIMED("unixtime", STAMPS, "",
		      "\"temperature_2m_member01_one\":[1,2,3]" LIST(
			  "temperature_2m_one", "1,2,3")),
		    "several models (temperature_2m_member01_one)" },
		{ TIMED("unixtime", STAMPS, "",
		      "\"temperature_2m_one\":[1,2,3]" LIST(
			  "temperature_2m_two", "1,2,3")),
		    "several models (temperature_2m_one)" },
		{ ENSEMBLE("", LIST("temperature_2m_member01", "1,2,3")),
		    "member twice" },
		{ ENSEMBLE("", LIST("temperature_2m_member03", "1,2,3")),
		    "temperature_2m_member03 has values but no unit" },
		{ ENSEMBLE(UNIT("cloud_cover_member03", "mm"),
		      LIST("cloud_cover_member03", "1,2,3")),
		    "cloud_cover_member03: 'mm' is not a unit" },
		{ ENSEMBLE(UNIT("cloud_cover_member03", "%"),
		      LIST("cloud_cover_member03", "1,2")),
		    "cloud_cover_member03 is not a list of 3 values" },
		{ ENSEMBLE(UNIT("cloud_cover_member03", "%"),
		      LIST("cloud_cover_member03", "1,2,\"3\"")),
		    "cloud_cover_member03: value 3 is neither a number" },
		{ "{\"error\":true,\"reason\":\"The service is overloaded\"}",
		    "the service answered: The service is overloaded" },
		{ "{\"latitude\":nan,\"longitude\":nan}", "not well-formed" },
		{ ENSEMBLE("", "") "Unexpected error while streaming data: x",
		    "not well-formed" },
		{ "[" ENSEMBLE("", "") "]", "several places" },
	};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
		check_refusal(open_meteo_ensemble_read, rows[i].document,
		    strlen(rows[i].document), rows[i].why);
}

static void
the_table_of_formats_finds_the_reader(void **state)
{
	(void)state;
	const struct format *format = format_find("open-meteo-ensemble");
	assert_non_null(format);
	assert_true(format->read == open_meteo_ensemble_read);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(
		    a_value_is_the_median_of_the_runs_that_know_it),
		cmocka_unit_test(members_are_converted_one_by_one),
		cmocka_unit_test(
		    the_chance_of_rain_is_the_share_of_wet_members),
		cmocka_unit_test(a_chance_in_the_document_is_passed_over),
		cmocka_unit_test(a_direction_is_that_of_the_control_run),
		cmocka_unit_test(soil_of_members_is_found_under_another_name),
		cmocka_unit_test(any_number_of_members_is_counted),
		cmocka_unit_test(refuses_what_is_no_ensemble_with_a_reason),
		cmocka_unit_test(the_table_of_formats_finds_the_reader),
	};
	return RUN_TESTS(tests);
}
