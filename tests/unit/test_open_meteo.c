#include "unit/test.h"

#include "unit/open_meteo_document.h"

static const double unknown = (double)NAN;

/* A value at a stamp is that of the moment; cells have the one at their start
   and the last stamp has a cell, for what runs up to it. */
static void
instants_run_from_stamp_to_stamp(void **state)
{
	(void)state;
	struct series s;
	take(FORECAST(
		 UNIT("dew_point_2m", "°C") UNIT("relative_humidity_2m", "%")
		     UNIT("wind_speed_10m", "m/s") UNIT("cloud_cover", "%"),
		 LIST("dew_point_2m", "-2,2,2") LIST("relative_humidity_2m",
		     "40,60,100") LIST("wind_speed_10m", "1,5,3")
		     LIST("cloud_cover", "0,100,100")),
	    &s);
	assert_true(s.start == MIDNIGHT - HOUR);
	assert_true(series_end(&s) == MIDNIGHT + 2 * HOUR + 900);
	assert_int_equal(s.rejected, 0);
	check_at(&s, MEASURE_AIR_TEMPERATURE, -1, unknown);
	check_at(&s, MEASURE_AIR_TEMPERATURE, 0, 10);
	check_at(&s, MEASURE_AIR_TEMPERATURE, 900, 10.5);
	check_at(&s, MEASURE_AIR_TEMPERATURE, HOUR - 1, 11.5);
	check_at(&s, MEASURE_AIR_TEMPERATURE, HOUR, 12);
	check_at(&s, MEASURE_AIR_TEMPERATURE, HOUR + 1800, 10);
	check_at(&s, MEASURE_AIR_TEMPERATURE, 2 * HOUR, 8);
	check_at(&s, MEASURE_DEW_POINT, 1800, 0);
	check_at(&s, MEASURE_HUMIDITY, HOUR + 900, 70);
	check_at(&s, MEASURE_WIND, 900, 2);
	check_at(&s, MEASURE_CLOUD, 2700, 75);
	static const enum measure runs[] = { MEASURE_AIR_TEMPERATURE,
		MEASURE_DEW_POINT, MEASURE_HUMIDITY, MEASURE_WIND,
		MEASURE_CLOUD };
	for (size_t i = 0; i < sizeof runs / sizeof runs[0]; i++)
		assert_true(s.continuous[runs[i]]);
	series_release(&s);
}

/* A sum, a maximum or a chance at a stamp is that of the hour before it: the
   documentation says "preceding hour". */
static void
stamps_of_rain_gust_and_chance_end_their_hour(void **state)
{
	(void)state;
	struct series s;
	take(FORECAST(UNIT("precipitation", "mm") UNIT("wind_gusts_10m", "m/s")
			  UNIT("precipitation_probability", "%"),
		 LIST("precipitation", "0,4,0") LIST("wind_gusts_10m", "7,9,8")
		     LIST("precipitation_probability", "5,80,20")),
	    &s);
	check_at(&s, MEASURE_RAIN_BLOCK, -HOUR, 0);
	check_at(&s, MEASURE_RAIN_BLOCK, -1, 0);
	check_at(&s, MEASURE_RAIN_BLOCK, 0, 4);
	check_at(&s, MEASURE_RAIN_BLOCK, HOUR - 1, 4);
	check_at(&s, MEASURE_RAIN_BLOCK, HOUR, 0);
	check_at(&s, MEASURE_RAIN_BLOCK, 2 * HOUR, unknown);
	check_at(&s, MEASURE_RAIN_BLOCK_SPAN, 0, 3600);
	check_at(&s, MEASURE_RAIN, 0, 1);
	check_at(&s, MEASURE_RAIN, HOUR - 1, 1);
	check_at(&s, MEASURE_RAIN, HOUR, 0);
	check_at(&s, MEASURE_GUST, -1, 7);
	check_at(&s, MEASURE_GUST, 0, 9);
	check_at(&s, MEASURE_GUST, HOUR - 1, 9);
	check_at(&s, MEASURE_GUST, 2 * HOUR - 1, 8);
	check_at(&s, MEASURE_GUST, 2 * HOUR, unknown);
	check_at(&s, MEASURE_RAIN_CHANCE, 0, 80);
	check_at(&s, MEASURE_RAIN_CHANCE, HOUR, 20);
	assert_false(s.continuous[MEASURE_GUST]);
	assert_false(s.continuous[MEASURE_RAIN]);
	assert_false(s.continuous[MEASURE_RAIN_CHANCE]);
	series_release(&s);
}

static void
directions_turn_the_shorter_way(void **state)
{
	(void)state;
	static const struct {
		const char *values;
		double quarter[3]; /* at 15, 30 and 45 min */
	} rows[] = {
		{ "350,10,10", { 355, 360, 5 } },
		{ "10,350,350", { 5, 0, 355 } },
		{ "360,0,0", { 360, 360, 360 } },
		{ "0,360,360", { 0, 0, 0 } },
		{ "90,180,180", { 112.5, 135, 157.5 } },
		{ "20,200,200", { (double)NAN, (double)NAN, (double)NAN } },
		{ "20,null,200", { (double)NAN, (double)NAN, (double)NAN } },
	};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		struct series s;
		char document[1000];
		(void)snprintf(document, sizeof document,
		    FORECAST(UNIT("wind_direction_10m", "°"),
			LIST("wind_direction_10m", "%s")),
		    rows[i].values);
		take(document, &s);
		for (int k = 0; k < 3; k++)
			check_at(&s, MEASURE_WIND_DIRECTION,
			    (k + 1) * INT64_C(900), rows[i].quarter[k]);
		assert_false(s.continuous[MEASURE_WIND_DIRECTION]);
		series_release(&s);
	}
}

static void
converts_every_unit_that_can_be_asked_for(void **state)
{
	(void)state;
	static const struct {
		const char *name, *unit, *value;
		enum measure measure;
		int64_t at;
		double wanted;
	} rows[] = {
		{ "dew_point_2m", "°F", "50", MEASURE_DEW_POINT, 0, 10 },
		{ "dew_point_2m", "\\u00b0C", "50", MEASURE_DEW_POINT, 0,
		    (double)NAN },
		{ "dew_point_2m", "\\u00b0C", "-0", MEASURE_DEW_POINT, 0, 0 },
		{ "wind_speed_10m", "km/h", "36", MEASURE_WIND, 0, 10 },
		{ "wind_speed_10m", "m/s", "36", MEASURE_WIND, 0, 36 },
		{ "wind_speed_10m", "mp/h", "10", MEASURE_WIND, 0, 4.4704 },
		{ "wind_speed_10m", "kn", "10", MEASURE_WIND, 0, 5.144444 },
		{ "windspeed_10m", "km/h", "36", MEASURE_WIND, 0, 10 },
		{ "wind_gusts_10m", "mp/h", "10", MEASURE_GUST, -HOUR, 4.4704 },
		{ "windgusts_10m", "km/h", "36", MEASURE_GUST, -HOUR, 10 },
		{ "precipitation", "inch", "0.1", MEASURE_RAIN_BLOCK, -HOUR,
		    2.54 },
		{ "precipitation", "mm", "-0.0", MEASURE_RAIN_BLOCK, -HOUR, 0 },
		{ "precipitation", "mm", "1.5", MEASURE_RAIN_BLOCK, -HOUR,
		    1.5 },
		{ "wind_gusts_10m", "kn", "10", MEASURE_GUST, -HOUR, 5.144444 },
		{ "wind_gusts_10m", "m/s", "36", MEASURE_GUST, -HOUR, 36 },
		{ "precipitation_probability", "%", "55", MEASURE_RAIN_CHANCE,
		    -HOUR, 55 },
		{ "soil_temperature_6cm", "°F", "50", MEASURE_SOIL, 0, 10 },
		{ "relativehumidity_2m", "%", "55", MEASURE_HUMIDITY, 0, 55 },
		{ "dewpoint_2m", "°C", "5", MEASURE_DEW_POINT, 0, 5 },
		{ "cloudcover", "%", "55", MEASURE_CLOUD, 0, 55 },
		{ "winddirection_10m", "°", "360", MEASURE_WIND_DIRECTION, 0,
		    360 },
	};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		struct series s;
		char document[1000];
		(void)snprintf(document, sizeof document,
		    FORECAST(UNIT("%s", "%s"), LIST("%s", "%s,null,null")),
		    rows[i].name, rows[i].unit, rows[i].name, rows[i].value);
		take(document, &s);
		check_at(&s, rows[i].measure, rows[i].at, rows[i].wanted);
		if (rows[i].wanted == 0)
			assert_false(signbit(series_at(
			    &s, rows[i].measure, MIDNIGHT + rows[i].at)));
		assert_int_equal(s.rejected, isnan(rows[i].wanted) ? 1 : 0);
		series_release(&s);
	}
}

/* Beside a gap only the stamp itself is known. */
static void
nothing_is_interpolated_across_a_null(void **state)
{
	(void)state;
	struct series s;
	take(FORECAST(UNIT("wind_speed_10m", "m/s") UNIT("cloud_cover", "%")
			  UNIT("precipitation", "mm"),
		 LIST("wind_speed_10m", "1,null,3") LIST("cloud_cover",
		     "null,50,null") LIST("precipitation", "null,2,null")),
	    &s);
	check_at(&s, MEASURE_WIND, 0, 1);
	for (int64_t at = 900; at < 2 * HOUR; at += 900)
		check_at(&s, MEASURE_WIND, at, unknown);
	check_at(&s, MEASURE_WIND, 2 * HOUR, 3);
	check_at(&s, MEASURE_CLOUD, HOUR - 900, unknown);
	check_at(&s, MEASURE_CLOUD, HOUR, 50);
	check_at(&s, MEASURE_CLOUD, HOUR + 900, unknown);
	for (int m = MEASURE_RAIN; m <= MEASURE_RAIN_BLOCK_SPAN; m++) {
		check_at(&s, (enum measure)m, -1, unknown);
		check_at(&s, (enum measure)m, HOUR, unknown);
	}
	check_at(&s, MEASURE_RAIN, 0, 0.5);
	series_release(&s);
}

/* A model without a variable gives nulls, and a unit that is none. */
static void
lists_of_nulls_and_missing_lists_are_absent_columns(void **state)
{
	(void)state;
	struct series s;
	take(FORECAST(UNIT("wind_gusts_10m", "undefined"),
		 LIST("wind_gusts_10m",
		     "null,null,null") ",\"cloud_cover\":null"),
	    &s);
	assert_null(s.column[MEASURE_GUST]);
	assert_null(s.column[MEASURE_CLOUD]);
	assert_null(s.column[MEASURE_WIND]);
	assert_null(s.column[MEASURE_RAIN]);
	assert_null(s.column[MEASURE_RAIN_CHANCE]);
	assert_false(s.continuous[MEASURE_CLOUD]);
	series_release(&s);
}

/* 9999 must not turn into a plausible 22 on the way to it. */
static void
absurd_values_are_gaps_before_they_are_interpolated(void **state)
{
	(void)state;
	struct series s;
	take(TIMED("unixtime", STAMPS, UNIT("precipitation", "mm"),
		 "\"temperature_2m\":[18,9999,20]" LIST(
		     "precipitation", "-1,700,3")),
	    &s);
	assert_int_equal(s.rejected, 3);
	check_at(&s, MEASURE_AIR_TEMPERATURE, 0, 18);
	for (int64_t at = 900; at < 2 * HOUR; at += 900)
		check_at(&s, MEASURE_AIR_TEMPERATURE, at, unknown);
	check_at(&s, MEASURE_AIR_TEMPERATURE, 2 * HOUR, 20);
	check_at(&s, MEASURE_RAIN_BLOCK_SPAN, 0, unknown);
	check_at(&s, MEASURE_RAIN, HOUR, 0.75);
	series_release(&s);
}

/* Other sections and variables, whatever they hold; and the new name counts
   where a document has both. */
static void
passes_over_what_it_does_not_use(void **state)
{
	(void)state;
	struct series s;
	take("{\"elevation\":[],\"current\":{\"time\":7,\"interval\":900},"
	     "\"daily_units\":{},\"daily\":{\"time\":[\"x\"]},"
	     "\"hourly_units\":{\"time\":\"unixtime\",\"is_day\":\"\","
	     "\"temperature_2m\":\"°C\",\"cloud_cover\":\"%\","
	     "\"wind_speed_10m\":\"m/s\",\"windspeed_10m\":\"km/h\"},"
	     "\"hourly\":{" AIR ",\"is_day\":[1],\"weather_code\":\"sun\","
	     "\"soil_temperature_54cm\":[1,2,3,4],\"cloud_cover_low\":[9],"
	     "\"temperature_2m_previous_day1\":[1,2,3],"
	     "\"windspeed_10m\":[9,9,9],\"wind_speed_10m\":[2,2,2],"
	     "\"time\":[" STAMPS "]}}",
	    &s);
	check_at(&s, MEASURE_AIR_TEMPERATURE, HOUR, 12);
	check_at(&s, MEASURE_WIND, HOUR, 2);
	assert_null(s.column[MEASURE_CLOUD]);
	assert_true(s.issued == 0);
	series_release(&s);
}

/* The depth differs between models; the first of the names that knows
   anything stands alone, so that no two depths get into one column. */
static void
soil_is_the_nearest_to_ten_centimetres_that_is_known(void **state)
{
	(void)state;
#define SOIL_UNITS                                                             \
	UNIT("soil_temperature_0cm", "°C")                                     \
	UNIT("soil_temperature_6cm", "°C")                                     \
	UNIT("soil_temperature_18cm", "°C")                                    \
	UNIT("soil_temperature_0_to_10cm", "°F")                               \
	UNIT("soil_temperature_0_to_7cm", "°C")                                \
	UNIT("soil_temperature_7_to_28cm", "°C")
#define SOIL_OTHERS                                                            \
	LIST("soil_temperature_0cm", "30,30,30")                               \
	LIST("soil_temperature_18cm", "11,11,11")                              \
	LIST("soil_temperature_7_to_28cm", "12,12,12")
	static const struct {
		const char *lists;
		double wanted[3]; /* on the stamp, 15 min later, on the next */
	} rows[] = {
		{ LIST("soil_temperature_6cm", "14,18,18"), { 14, 15, 18 } },
		{ LIST("soil_temperature_0_to_10cm", "50,68,68"),
		    { 10, 12.5, 20 } },
		{ LIST("soil_temperature_0_to_7cm", "16,16,16"),
		    { 16, 16, 16 } },
		{ LIST("soil_temperature_0_to_7cm", "16,16,16")
			LIST("soil_temperature_0_to_10cm", "50,68,68")
			    LIST("soil_temperature_6cm", "14,18,18"),
		    { 14, 15, 18 } },
		/* No second depth in a gap. */
		{ LIST("soil_temperature_6cm", "14,null,18")
			LIST("soil_temperature_0_to_7cm", "16,16,16"),
		    { 14, (double)NAN, (double)NAN } },
		{ LIST("soil_temperature_6cm", "null,null,null")
			LIST("soil_temperature_0_to_7cm", "16,16,16"),
		    { 16, 16, 16 } },
		{ ",\"soil_temperature_6cm\":null" LIST(
		      "soil_temperature_0_to_10cm", "50,68,68"),
		    { 10, 12.5, 20 } },
		{ "", { (double)NAN, (double)NAN, (double)NAN } },
	};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		struct series s;
		char document[2000];
		(void)snprintf(document, sizeof document,
		    FORECAST(SOIL_UNITS, SOIL_OTHERS "%s"), rows[i].lists);
		take(document, &s);
		check_at(&s, MEASURE_SOIL, 0, rows[i].wanted[0]);
		check_at(&s, MEASURE_SOIL, 900, rows[i].wanted[1]);
		check_at(&s, MEASURE_SOIL, HOUR, rows[i].wanted[2]);
		assert_true(s.continuous[MEASURE_SOIL] ==
			    (s.column[MEASURE_SOIL] != NULL));
		series_release(&s);
	}
}

static void
the_table_of_formats_finds_the_reader(void **state)
{
	(void)state;
	const struct format *format = format_find("open-meteo");
	assert_non_null(format);
	assert_true(format->read == open_meteo_read);
	assert_string_equal(format->accept, "application/json");
	assert_contains(format->credit, "CC BY 4.0");
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(instants_run_from_stamp_to_stamp),
		cmocka_unit_test(stamps_of_rain_gust_and_chance_end_their_hour),
		cmocka_unit_test(directions_turn_the_shorter_way),
		cmocka_unit_test(converts_every_unit_that_can_be_asked_for),
		cmocka_unit_test(nothing_is_interpolated_across_a_null),
		cmocka_unit_test(
		    lists_of_nulls_and_missing_lists_are_absent_columns),
		cmocka_unit_test(
		    absurd_values_are_gaps_before_they_are_interpolated),
		cmocka_unit_test(passes_over_what_it_does_not_use),
		cmocka_unit_test(
		    soil_is_the_nearest_to_ten_centimetres_that_is_known),
		cmocka_unit_test(the_table_of_formats_finds_the_reader),
	};
	return RUN_TESTS(tests);
}
