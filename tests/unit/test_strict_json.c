#include "unit/test.h"

#include "base/limits.h"
#include "weather/strict_json.h"

/* Parses exactly these bytes from a block of that size, so that a sanitizer
   sees a read past the end. */
static cJSON *
parse(const char *bytes, size_t length, struct error *error)
{
	char *block = malloc(length > 0 ? length : 1);
	assert_non_null(block);
	memcpy(block, bytes, length);
	cJSON *root = json_parse(block, length, error);
	free(block);
	return root;
}

static void
takes_well_formed_documents(void **state)
{
	(void)state;
	static const char *const rows[] = { "{}", "[]", "null", " 1 ",
		"{\"a\":1}\r\n\t ", "[0,-0,10,1.5,1e5,1E-5,-1.25e+10,0.0,0e0]",
		"[\"\\u00e9\\n\\\\\\\"\\/\"]", "\"gr\xC3\xBC\xC3\x9F\"",
		"[\"long enough to be passed a word at a time\", \"short\"]",
		"[true,false,null]", "[\"12345678\"]", "[\"1234567\"]",
		"[\n\t\t\t\t\t\t\t\t\t1,\r\n            2\t \t]",
		"[12345678.12345678,-123456789e-12]",
		("[\"0123456789012345678901234567890123456789012345678901234\","
		 "\"0123456789 \xC2\xB0 0123 \xE2\x80\xB0\"]") };
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		struct error error = { 0 };
		cJSON *root = parse(rows[i], strlen(rows[i]), &error);
		if (root == NULL)
			fail_msg("%s: %s", rows[i], error.text);
		json_release(root);
	}
}

static void
check_refused(const char *bytes, size_t length, const char *why)
{
	struct error error = { 0 };
	cJSON *root = parse(bytes, length, &error);
	if (root != NULL)
		fail_msg("'%s' was taken", bytes);
	assert_int_equal(error.kind, ERROR_INPUT);
	assert_contains(error.text, why);
}

static void
check_no_number(const cJSON *item)
{
	double number = 42;
	assert_false(json_number(item, &number));
	assert_close(number, 42, 0);
}

/* A row of bytes that may hold a NUL. */
#define BYTES(text) text, sizeof(text) - 1

static void
closes_every_known_leniency(void **state)
{
	(void)state;
	static const struct {
		const char *bytes;
		size_t length;
		const char *why;
	} rows[] = {
		{ BYTES(""), "empty" },
		{ BYTES(" \n\t"), "empty" },
		{ BYTES("\xEF\xBB\xBF{}"), "byte-order mark" },
		{ BYTES("<!DOCTYPE html><html></html>"), "web page" },
		{ BYTES("{}\0"), "NUL" },
		{ BYTES("{\"a\":\"b\0c\"}"), "NUL" },
		{ BYTES("{\"a\":\"\xFF\xFE\"}"), "UTF-8" },
		{ BYTES("{\"a\":\"\xC0\x80\"}"), "UTF-8" },
		{ BYTES("{\"a\":\"\xED\xA0\x80\"}"), "UTF-8" },
		{ BYTES("{\"a\":1}garbage"), "byte 8 of 14" },
		{ BYTES("{\"a\":1}{}"), "byte 8" },
		{ BYTES("{\"a\":\"b\nc\"}"), "byte 6" },
		{ BYTES("{\"a\":\"0123456789012345\tc\"}"), "byte 6" },
		{ BYTES("{\"a\":\"\\u0000\"}"), "byte 6" },
		{ BYTES("{\"a\":012}"), "byte 6" },
		{ BYTES("{\"a\":-012}"), "byte 6" },
		{ BYTES("{\"a\":1.}"), "byte 6" },
		{ BYTES("{\"a\":1.e5}"), "byte 6" },
		{ BYTES("{\"a\":-.5}"), "byte 6" },
		{ BYTES("{\"a\":.5}"), "byte" },
		{ BYTES("{\"a\":1e}"), "byte 6" },
		{ BYTES("{\"a\":-}"), "byte 6" },
		{ BYTES("{\"a\":+1}"), "byte 6" },
		{ BYTES("{\"a\":0x10}"), "byte" },
		{ BYTES("{\"a\":NaN}"), "byte 6" },
		{ BYTES("{\"a\":nan}"), "byte 6" },
		{ BYTES("{\"a\":Infinity}"), "byte 6" },
		{ BYTES("{\"a\":1,}"), "byte" },
		{ BYTES("{\"a\":1,"), "byte 7 of 7" },
		{ BYTES("{\"a\":"), "byte 5 of 5" },
		{ BYTES("{\"a\":1 "), "byte 7 of 7" },
		{ BYTES("[1,2"), "byte 4 of 4" },
		{ BYTES("[1] \t\n x"), "byte 8 of 8" },
		{ BYTES("[\"\\"), "byte 2" },
		{ BYTES("[\"\\u0000"), "byte 2" },
		{ BYTES("[\"\\u000"), "byte" },
		{ BYTES("[1\x01]"), "byte 3" },
		{ BYTES("[1234567890123456\x01"), "byte 18" },
		{ BYTES("[\"\xC3\"]"), "UTF-8" },
		{ BYTES("[\"\xC3"), "UTF-8" },
		{ BYTES("{\"a"), "byte 2" },
		{ BYTES("{\"a\\"), "byte 2" },
		{ BYTES("{'a':1}"), "byte" },
		{ BYTES("{\f\"a\":1}"), "byte 2" },
		{ BYTES("{/* */}"), "byte" },
		{ BYTES("[\"\\ud800\"]"), "byte" },
	};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
		check_refused(rows[i].bytes, rows[i].length, rows[i].why);
}

static void
refuses_a_document_over_the_ceiling(void **state)
{
	(void)state;
	const size_t length = 50000000;
	char *bytes = malloc(length);
	struct error error = { 0 };
	assert_non_null(bytes);
	memset(bytes, ' ', length);
	bytes[0] = '1';
	assert_null(json_parse(bytes, length, &error));
	assert_int_equal(error.kind, ERROR_INPUT);
	assert_contains(error.text, "larger than 8388608 bytes");
	assert_null(json_parse(bytes, LIMIT_FORECAST_BYTES + 1, NULL));
	cJSON *root = json_parse(bytes, LIMIT_FORECAST_BYTES, &error);
	assert_non_null(root);
	json_release(root);
	free(bytes);
}

static void
refuses_a_deep_nest(void **state)
{
	(void)state;
	char bytes[20000];
	memset(bytes, '[', sizeof bytes);
	assert_null(json_parse(bytes, sizeof bytes, NULL));
	memset(bytes + sizeof bytes / 2, ']', sizeof bytes / 2);
	assert_null(json_parse(bytes, sizeof bytes, NULL));
}

static void
finds_members_by_exact_name(void **state)
{
	(void)state;
	static const char text[] = "{\"Value\":1,\"value\":2,\"list\":[3]}";
	cJSON *root = parse(text, strlen(text), NULL);
	double number = 0;
	assert_true(json_number(json_member(root, "value"), &number));
	assert_close(number, 2, 0);
	assert_null(json_member(root, "VALUE"));
	assert_null(json_member(NULL, "value"));
	assert_null(json_member(json_member(root, "list"), "value"));
	json_release(root);
}

static void
only_finite_numbers_are_numbers(void **state)
{
	(void)state;
	static const char text[] =
	    "[1e999, -1e999, null, \"12\", \"NaN\", true, {}, []]";
	cJSON *root = parse(text, strlen(text), NULL);
	assert_non_null(root);
	const cJSON *item;
	cJSON_ArrayForEach(item, root) check_no_number(item);
	assert_false(json_number(NULL, &(double){ 0 }));
	assert_null(json_string(root->child));
	assert_null(json_string(NULL));
	json_release(root);
}

static void
sees_a_member_that_stands_twice(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		bool unique;
	} rows[] = {
		{ "{}", true },
		{ "[1,1]", true },
		{ "{\"a\":1,\"b\":1,\"A\":1}", true },
		{ "{\"a\":1,\"b\":1,\"a\":1}", false },
		{ "{\"b\":1,\"a\":1}", true },
		{ "{\"a\":1,\"a\":1}", false },
		{ "{\"\":1,\"\":1}", false },
		{ "{\"a\":1,\"\\u0061\":1}", false },
		{ "{\"a\":1,\"b\":1,\"c\":1,\"d\":1,\"e\":1,\"f\":1,\"g\":1,"
		  "\"h\":1,\"i\":1,\"j\":1,\"k\":1,\"l\":1,\"m\":1}",
		    true },
		{ "{\"a\":1,\"b\":1,\"c\":1,\"d\":1,\"e\":1,\"f\":1,\"g\":1,"
		  "\"h\":1,\"i\":1,\"j\":1,\"k\":1,\"l\":1,\"a\":1}",
		    false },
	};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		cJSON *root = parse(rows[i].text, strlen(rows[i].text), NULL);
		assert_non_null(root);
		assert_int_equal(json_members_unique(root), rows[i].unique);
		json_release(root);
	}
	assert_true(json_members_unique(NULL));
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(takes_well_formed_documents),
		cmocka_unit_test(closes_every_known_leniency),
		cmocka_unit_test(refuses_a_document_over_the_ceiling),
		cmocka_unit_test(refuses_a_deep_nest),
		cmocka_unit_test(finds_members_by_exact_name),
		cmocka_unit_test(only_finite_numbers_are_numbers),
		cmocka_unit_test(sees_a_member_that_stands_twice),
	};
	return RUN_TESTS(tests);
}
