#include "unit/test.h"

#include "unit/open_meteo_document.h"

struct row {
	const char *document, *why;
};

static void
check_rows(const struct row *rows, size_t count)
{
	for (size_t i = 0; i < count; i++)
		check_refusal(open_meteo_read, rows[i].document,
		    strlen(rows[i].document), rows[i].why);
}

#define CHECK_ROWS(rows) check_rows(rows, sizeof(rows) / sizeof((rows)[0]))

static void
refuses_what_is_not_a_forecast_with_the_services_reason(void **state)
{
	(void)state;
	static const struct row rows[] = {
		{ "", "empty" },
		{ "<html>502 Bad Gateway</html>", "web page" },
		{ "{\"latitude\":nan,\"longitude\":nan}",
		    "not well-formed JSON" },
		{ "{\"latitude\":nan,\"longitude\":nan,\"utc_offset_seconds\""
		  ":0,\"hourly\":{\"time\":[" STAMPS "]," AIR "}}",
		    "not well-formed JSON at byte 13 " },
		{ FORECAST("", "") "Unexpected error while streaming data: x",
		    "not well-formed JSON" },
		{ "{\"hourly\":{\"time\":[1772409600,Unexpected error while "
		  "streaming data: timeout",
		    "not well-formed JSON" },
		{ "{\"error\":true,\"reason\":\"Minutely API request limit "
		  "exceeded. Please try again in one minute.\"}",
		    "the service answered: Minutely API request limit" },
		{ "{\"error\":true,\"reason\":\"The service is overloaded\"}",
		    "the service answered: The service is overloaded" },
		{ "{\"reason\":\"Something went wrong.\",\"error\":true}",
		    "the service answered: Something went wrong." },
		{ "{\"error\":true,\"reason\":7}",
		    "an error without a reason" },
		{ "{\"error\":true,\"reason\":\"a\\nb\"}",
		    "the service answered: a?b" },
		{ "{\"error\":true}", "an error without a reason" },
		{ "{\"error\":false}", "no hourly values" },
		{ "{\"hourly\":null}", "no hourly values" },
		{ "{\"type\":\"Feature\",\"properties\":{}}",
		    "no hourly values" },
		{ "7", "no hourly values" },
		{ "[" FORECAST("", "") "," FORECAST("", "") "]",
		    "several places: ask for one" },
		{ "[]", "several places" },
	};
	CHECK_ROWS(rows);
}

static void
refuses_several_models_and_members(void **state)
{
	(void)state;
	static const struct row rows[] = {
		{ TIMED("unixtime", STAMPS,
		      UNIT("temperature_2m_gfs_seamless", "°C"),
		      "\"temperature_2m_gfs_seamless\":[1,2,3]" LIST(
			  "temperature_2m_icon_seamless", "1,2,3")),
		    "(temperature_2m_gfs_seamless): ask for one model" },
		{ FORECAST(UNIT("temperature_2m_member01", "°C"),
		      LIST("temperature_2m_member01", "1,2,3")),
		    "members of an ensemble: read it with the format "
		    "open-meteo-ensemble" },
		{ TIMED("unixtime", STAMPS,
		      UNIT("temperature_2m_member01", "°C"),
		      "\"temperature_2m_member01\":[1,2,3]"),
		    "members of an ensemble" },
		{ FORECAST(UNIT("temperature_2m_member01_gfs", "°C"),
		      LIST("temperature_2m_member01_gfs", "1,2,3")),
		    "(temperature_2m_member01_gfs): ask for one model" },
	};
	CHECK_ROWS(rows);
}

static void
refuses_stamps_that_contradict_themselves(void **state)
{
	(void)state;
	static const struct row rows[] = {
		{ TIMED(
		      "unixtime", "1772409600,1772413200,1772420400", "", AIR),
		    "even steps of quarter hours up to 6 h at "
		    "2026-03-02T03:00:00" },
		{ TIMED(
		      "unixtime", "1772409600,1772413200,1772413200", "", AIR),
		    "time contradicts itself" },
		{ TIMED(
		      "unixtime", "1772416800,1772413200,1772409600", "", AIR),
		    "time contradicts itself" },
		{ TIMED(
		      "unixtime", "1772409600,1772409600,1772409600", "", AIR),
		    "time contradicts itself" },
		{ TIMED(
		      "unixtime", "1772409601,1772413201,1772416801", "", AIR),
		    "time contradicts itself" },
		{ TIMED(
		      "unixtime", "1772409600,1772410200,1772410800", "", AIR),
		    "time contradicts itself" },
		{ TIMED(
		      "unixtime", "1772409600,1772434800,1772460000", "", AIR),
		    "time contradicts itself" },
		{ TIMED("unixtime", "-99999999999,99999999999", "", AIR),
		    "time contradicts itself" },
		{ TIMED("unixtime", "1772409600.5", "", AIR),
		    "stamp 1 is not a whole number" },
		{ TIMED("unixtime", "1e300", "", AIR), "stamp 1 is not" },
		{ TIMED("unixtime", "1772409600,null", "", AIR),
		    "stamp 2 is not a whole number" },
		{ TIMED("unixtime", "\"2026-03-02T00:00\"", "", AIR),
		    "stamp 1 is not a whole number" },
		{ TIMED("iso8601", "1772409600", "", AIR),
		    "stamp 1 is not like 2026-03-02T07:00" },
		{ TIMED("iso8601", "\"2026-03-02T00:00Z\"", "", AIR),
		    "stamp 1 is not like" },
		{ TIMED("iso8601", "\"2026-03-02T00+01\"", "", AIR),
		    "stamp 1 is not like" },
		{ TIMED("iso8601", "\"2026-03-02 00:00\"", "", AIR),
		    "stamp 1 is not like" },
		{ TIMED("iso8601", "\"2026-02-29T00:00\"", "", AIR),
		    "stamp 1 is not like" },
		{ TIMED("iso8601", "\"2026-03-02\"", "", AIR),
		    "stamp 1 is not like" },
		{ TIMED("unixtime", "", "", AIR), "not a list of stamps" },
		{ TIMED("days", "1772409600", "", AIR),
		    "neither unixtime nor iso8601" },
		{ "{\"hourly\":{\"time\":[" STAMPS "]," AIR "}}",
		    "neither unixtime nor iso8601" },
		{ "{\"hourly_units\":{\"time\":\"unixtime\"},\"hourly\":{" AIR
		  "}}",
		    "not a list of stamps" },
	};
	CHECK_ROWS(rows);
}

#define LOCAL(offset)                                                          \
	"{" offset "\"hourly_units\":{\"time\":\"iso8601\",\"temperature_2m\"" \
	":\"°C\"},\"hourly\":{\"time\":[\"2026-03-02T00:00\"],"               \
	"\"temperature_2m\":[10]}}"

static void
refuses_local_time_without_a_good_offset(void **state)
{
	(void)state;
	static const struct row rows[] = {
		{ LOCAL(""), "utc_offset_seconds does not say" },
		{ LOCAL("\"utc_offset_seconds\":null,"),
		    "utc_offset_seconds does not say" },
		{ LOCAL("\"utc_offset_seconds\":\"0\","),
		    "utc_offset_seconds does not say" },
		{ LOCAL("\"utc_offset_seconds\":0.5,"),
		    "utc_offset_seconds does not say" },
		{ LOCAL("\"utc_offset_seconds\":1e9,"),
		    "utc_offset_seconds does not say" },
		{ LOCAL("\"utc_offset_seconds\":61,"),
		    "time contradicts itself" },
	};
	CHECK_ROWS(rows);
}

static void
refuses_bad_units_and_values_with_a_reason(void **state)
{
	(void)state;
	static const struct row rows[] = {
		{ FORECAST("", LIST("wind_speed_10m", "1,2,3")),
		    "wind_speed_10m has values but no unit" },
		{ FORECAST(UNIT("wind_speed_10m", "undefined"),
		      LIST("wind_speed_10m", "1,2,3")),
		    "wind_speed_10m: 'undefined' is not a unit of speed" },
		{ FORECAST(UNIT("windspeed_10m", "°C"),
		      LIST("windspeed_10m", "1,2,3")),
		    "windspeed_10m: '°C' is not a unit of speed" },
		{ FORECAST(UNIT("precipitation", "cm/h"),
		      LIST("precipitation", "1,2,3")),
		    "precipitation: 'cm/h' is not a unit of rain" },
		{ FORECAST(
		      UNIT("cloud_cover", ""), LIST("cloud_cover", "1,2,3")),
		    "cloud_cover: '' is not a unit" },
		{ FORECAST(
		      UNIT("cloud_cover", "%"), LIST("cloud_cover", "1,2")),
		    "cloud_cover is not a list of 3 values, one for each" },
		{ FORECAST(
		      UNIT("cloud_cover", "%"), LIST("cloud_cover", "1,2,3,4")),
		    "cloud_cover is not a list of 3 values" },
		{ FORECAST(UNIT("cloud_cover", "%"), LIST("cloud_cover", "")),
		    "cloud_cover is not a list of 3 values" },
		{ FORECAST(UNIT("cloud_cover", "%"), ",\"cloud_cover\":7"),
		    "cloud_cover is not a list" },
		{ FORECAST(UNIT("cloud_cover", "%"),
		      LIST("cloud_cover", "1,\"2\",3")),
		    "cloud_cover: value 2 is neither a number nor null" },
		{ FORECAST(UNIT("cloud_cover", "%"),
		      LIST("cloud_cover", "1,2,true")),
		    "cloud_cover: value 3 is neither" },
		{ FORECAST(UNIT("cloud_cover", "%"),
		      LIST("cloud_cover", "1e999,2,3")),
		    "cloud_cover: value 1 is neither" },
		{ FORECAST("", "," AIR), "member twice" },
		{ FORECAST(UNIT("temperature_2m", "°F"), ""), "member twice" },
		{ TIMED("unixtime", STAMPS, UNIT("cloud_cover", "%"),
		      "\"cloud_cover\":[1,2,3]"),
		    "no air temperature" },
		{ TIMED("unixtime", STAMPS, "",
		      "\"temperature_2m\":[null,null,null]"),
		    "no air temperature" },
		{ TIMED("unixtime", STAMPS, "",
		      "\"temperature_2m\":[9999,9999,9999]"),
		    "no air temperature" },
	};
	CHECK_ROWS(rows);
}

static void
refuses_a_document_cut_anywhere(void **state)
{
	(void)state;
	static const char whole[] = FORECAST(
	    UNIT("precipitation", "mm"), LIST("precipitation", "0,1,null"));
	for (size_t length = 0; length + 1 < sizeof whole; length++) {
		struct series series;
		if (open_meteo_read(whole, length, &series, NULL))
			fail_msg("was taken when cut at byte %zu", length);
	}
}

static void
refuses_more_stamps_than_there_can_be(void **state)
{
	(void)state;
	struct text text;
	text_init(&text, LIMIT_FORECAST_BYTES);
	(void)text_add(&text, "{\"hourly_units\":{\"time\":\"unixtime\"},"
			      "\"hourly\":{\"time\":[0");
	for (int i = 1; i <= LIMIT_LAYER_VALUES; i++)
		(void)text_format(&text, ",%d", i * 3600);
	(void)text_add(&text, "]}}");
	assert_false(text.failed);
	check_refusal(open_meteo_read, text.data, text.length, "20000 at most");
	text_release(&text);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(
		    refuses_what_is_not_a_forecast_with_the_services_reason),
		cmocka_unit_test(refuses_several_models_and_members),
		cmocka_unit_test(refuses_stamps_that_contradict_themselves),
		cmocka_unit_test(refuses_local_time_without_a_good_offset),
		cmocka_unit_test(refuses_bad_units_and_values_with_a_reason),
		cmocka_unit_test(refuses_a_document_cut_anywhere),
		cmocka_unit_test(refuses_more_stamps_than_there_can_be),
	};
	return RUN_TESTS(tests);
}
