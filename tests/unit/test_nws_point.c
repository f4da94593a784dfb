#include "unit/test.h"

#include "unit/nws_document.h"
#include "weather/format.h"

#define POINT(properties)                                                      \
	"{\"type\":\"Feature\",\"properties\":{\"gridId\":\"TST\"" properties  \
	"}}"
#define ADDRESS     "https://weather.example/gridpoints/TST/12,34"
#define LINK(value) ",\"forecastGridData\":" value

/* The address is released; NULL wants none. */
static void
check_link(const char *bytes, size_t length, const char *wanted)
{
	char *address = "never";
	struct error error = { 0 };
	if (!nws_point_link(bytes, length, &address, &error))
		fail_msg("%s", error.text);
	if (wanted == NULL) {
		assert_null(address);
		return;
	}
	assert_string_equal(address, wanted);
	free(address);
}

static void
check_refused(const char *document, const char *why)
{
	char *address = "left alone";
	struct error error = { 0 };
	if (nws_point_link(document, strlen(document), &address, &error))
		fail_msg("was taken: %s", document);
	assert_int_equal(error.kind, ERROR_INPUT);
	assert_contains(error.text, why);
	assert_string_equal(address, "left alone");
}

static void
names_the_forecast_of_a_place(void **state)
{
	(void)state;
	static const char document[] = POINT(LINK("\"" ADDRESS "\""));
	static const char escaped[] =
	    POINT(LINK("\"https:\\/\\/weather.example\\/a\""));
	struct text text;
	check_link(document, sizeof document - 1, ADDRESS);
	check_link(escaped, sizeof escaped - 1, "https://weather.example/a");
	read_fixture("points.json", &text);
	check_link(text.data, text.length, ADDRESS);
	text_release(&text);
}

/* The forecast's own reader tells then what is wrong, if anything is. */
static void
other_documents_name_none(void **state)
{
	(void)state;
	static const char *const rows[] = {
		"",
		"<html>busy</html>",
		"{\"properties\":",
		"[]",
		POINT(""),
		POINT(LINK("null")),
		POINT(",\"type\":\"marine\""),
		DOCUMENT(AIR),
		"{\"@context\":{\"forecastGridData\":{\"@type\":\"@id\"}},"
		"\"properties\":{}}",
		"{\"forecastGridData\":\"" ADDRESS "\"}",
		"{\"title\":\"Not Found\",\"status\":404,"
		"\"detail\":\"no forecastGridData\"}",
	};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
		check_link(rows[i], strlen(rows[i]), NULL);
}

/* No forecast holds the name, so none is parsed for it: broken ones pass. */
static void
a_forecast_is_left_to_its_reader(void **state)
{
	(void)state;
	struct text text;
	read_fixture("grid.json", &text);
	check_link(text.data, text.length, NULL);
	check_link(text.data, text.length / 2, NULL);
	text_release(&text);
}

static void
refuses_what_is_not_an_address(void **state)
{
	(void)state;
	static const struct {
		const char *document, *why;
	} rows[] = {
		{ POINT(LINK("7")), "forecastGridData is not an address" },
		{ POINT(LINK("[\"" ADDRESS "\"]")), "not an address" },
		{ POINT(LINK("{}")), "not an address" },
		{ POINT(LINK("true")), "not an address" },
		{ POINT(LINK("\"\"")), "not an address" },
		{ POINT(LINK("\"https://a.example/\\r\\nHost: b\"")),
		    "control characters" },
		{ POINT(LINK("\"https://a.example/\\u007f\"")),
		    "control characters" },
		{ POINT(LINK("\"" ADDRESS "\"") LINK("\"" ADDRESS "\"")),
		    "member twice" },
		{ "{\"properties\":{\"forecastGridData\":\"" ADDRESS "\"},"
		  "\"properties\":{}}",
		    "member twice" },
		{ "{\"properties\":{\"forecastGridData\":\"" ADDRESS "\"}",
		    "not well-formed" },
		{ "<p>forecastGridData</p>", "web page" },
	};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
		check_refused(rows[i].document, rows[i].why);
}

static void
an_address_has_a_ceiling(void **state)
{
	(void)state;
	char address[LIMIT_TEXT_BYTES + 2], document[2 * LIMIT_TEXT_BYTES];
	memset(address, 'a', sizeof address);
	address[LIMIT_TEXT_BYTES] = '\0';
	int length =
	    snprintf(document, sizeof document, POINT(LINK("\"%s\"")), address);
	check_link(document, (size_t)length, address);
	address[LIMIT_TEXT_BYTES] = 'a';
	address[LIMIT_TEXT_BYTES + 1] = '\0';
	(void)snprintf(
	    document, sizeof document, POINT(LINK("\"%s\"")), address);
	check_refused(document, "1 to 1000 bytes");
}

/*
 * Documents recorded from the service are not ours to ship. They are read when
 * LULL_SHARED names a folder that holds samples/nws; otherwise this test says
 * that it was skipped.
 */
static void
reads_recorded_places(void **state)
{
	(void)state;
	static const struct {
		const char *name, *address;
	} rows[] = {
		{ "points_BOX_41.967_-71.189_2026.json",
		    "https://api.weather.gov/gridpoints/BOX/70,82" },
		{ "points_LZK_34.749_-92.275.json",
		    "https://api.weather.gov/gridpoints/LZK/83,73" },
		{ "error_404_InvalidPoint.json", NULL },
		{ "gridpoint_BMX_59_84_20240220.json", NULL },
	};
	const char *folder = getenv("LULL_SHARED");
	if (folder == NULL)
		skip();
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		char path[512];
		struct text text;
		(void)snprintf(path, sizeof path, "%s/samples/nws/%s", folder,
		    rows[i].name);
		text_init(&text, LIMIT_FORECAST_BYTES);
		if (!file_read(path, &text, NULL))
			skip();
		check_link(text.data, text.length, rows[i].address);
		text_release(&text);
	}
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(names_the_forecast_of_a_place),
		cmocka_unit_test(other_documents_name_none),
		cmocka_unit_test(a_forecast_is_left_to_its_reader),
		cmocka_unit_test(refuses_what_is_not_an_address),
		cmocka_unit_test(an_address_has_a_ceiling),
		cmocka_unit_test(reads_recorded_places),
	};
	return RUN_TESTS(tests);
}
