/* Documents are kept packed: they come out as they went in, or not at all. */
#include "unit/test.h"

#include "unit/store_fixture.h"

static const struct stored_span always = { INT64_MIN, INT64_MAX };

static void
add(struct store *store, const char *address, int64_t fetched, const char *body,
    size_t length)
{
	struct stored_document document = {
		.fetched = fetched, .issued = fetched - 1, .length = length
	};
	struct error error = { 0 };
	if (!store_document_add(store, address, &document, body, &error))
		fail_msg("%s", error.text);
}

static void
add_short(struct store *store, const char *address, int64_t fetched)
{
	char body[32];
	(void)snprintf(body, sizeof body, "%s %d", address, (int)fetched);
	add(store, address, fetched, body, strlen(body));
}

/* The times of an address's documents as text, in the order given out. */
static const char *
list(struct store *store, const char *address, struct stored_span span,
    char *buffer)
{
	struct stored_document *documents = NULL;
	size_t count = 0;
	size_t used = 0;
	buffer[0] = '\0';
	assert_true(
	    store_documents(store, address, span, &documents, &count, NULL));
	for (size_t i = 0; i < count; i++)
		used += (size_t)snprintf(
		    buffer + used, 64 - used, "%d ", (int)documents[i].fetched);
	stored_documents_free(documents, count);
	return buffer;
}

static int64_t
newest_id(struct store *store, const char *address)
{
	struct stored_document *documents = NULL;
	size_t count = 0;
	assert_true(
	    store_documents(store, address, always, &documents, &count, NULL));
	assert_true(count > 0);
	int64_t id = documents[0].id;
	stored_documents_free(documents, count);
	return id;
}

static void
gives_documents_newest_first_and_always_the_newest(void **state)
{
	struct store *store = store_of(state);
	char text[64];
	assert_string_equal(list(store, "a", always, text), "");
	add_short(store, "a", 20);
	add_short(store, "a", 40);
	add_short(store, "b", 90);
	add_short(store, "a", 30);
	static const struct {
		const char *address;
		struct stored_span span;
		const char *times;
	} cases[] = {
		{ "a", { INT64_MIN, INT64_MAX }, "40 30 20 " },
		{ "a", { 30, 40 }, "40 30 " },
		{ "a", { 30, 39 }, "30 " },
		{ "a", { 31, 39 }, "30 " },
		{ "a", { 41, 50 }, "40 " },
		{ "a", { 20, 20 }, "20 " },
		{ "a", { 0, 19 }, "" },
		{ "a", { INT64_MAX, 35 }, "30 " },
		{ "c", { INT64_MIN, INT64_MAX }, "" },
	};
	for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++)
		assert_string_equal(
		    list(store, cases[i].address, cases[i].span, text),
		    cases[i].times);
}

static void
gives_a_document_back_whole(void **state)
{
	struct store *store = store_of(state);
	struct stored_document *back = NULL;
	size_t count = 0;
	struct stored_document full = { .fetched = 5,
		.issued = -6,
		.length = strlen(HARD),
		.etag = HARD,
		.last_modified = "Mon, 02 Mar 2026 07:00:00 GMT" };
	struct stored_document bare = { .fetched = 4, .length = 1 };
	assert_true(store_document_add(store, HARD, &full, HARD, NULL));
	assert_true(store_document_add(store, HARD, &bare, "x", NULL));
	assert_true(store_documents(store, HARD, always, &back, &count, NULL));
	assert_int_equal(count, 2);
	assert_true(back[0].fetched == 5 && back[0].issued == -6);
	assert_int_equal(back[0].length, strlen(HARD));
	assert_string_equal(back[0].etag, HARD);
	assert_string_equal(back[0].last_modified, full.last_modified);
	assert_true(back[1].issued == 0 && back[1].length == 1);
	assert_null(back[1].etag);
	assert_null(back[1].last_modified);
	struct text body;
	assert_true(store_document_body(store, back[0].id, &body, NULL));
	assert_string_equal(text_string(&body), HARD);
	text_release(&body);
	stored_documents_free(back, count);
}

/* Empty, with NUL bytes, easy and impossible to pack. */
static void
gives_bodies_back_byte_for_byte(void **state)
{
	struct store *store = store_of(state);
	enum { LARGE = 300000 };
	char *zeros = calloc(LARGE, 1);
	char *noise = calloc(LARGE, 1);
	assert_true(zeros != NULL && noise != NULL);
	fill_with_noise(noise, LARGE);
	const struct {
		const char *bytes;
		size_t length;
	} cases[] = { { NULL, 0 }, { "\0", 1 }, { zeros, LARGE },
		{ noise, LARGE }, { noise, 1 } };
	for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
		struct text body;
		add(store, "a", (int64_t)i, cases[i].bytes, cases[i].length);
		assert_true(store_document_body(
		    store, newest_id(store, "a"), &body, NULL));
		assert_int_equal(body.length, cases[i].length);
		if (body.length > 0)
			assert_memory_equal(
			    body.data, cases[i].bytes, body.length);
		assert_true(text_string(&body)[body.length] == '\0');
		text_release(&body);
	}
	free(zeros);
	free(noise);
}

static void
refuses_what_it_cannot_keep(void **state)
{
	struct store *store = store_of(state);
	struct error error = { 0 };
	struct stored_document document = { .length = 1 };
	assert_false(store_document_add(store, "", &document, "x", &error));
	assert_int_equal(error.kind, ERROR_INPUT);
	document.length = LIMIT_FORECAST_BYTES + 1;
	assert_false(store_document_add(store, "a", &document, "x", &error));
	assert_int_equal(error.kind, ERROR_INPUT);
	assert_contains(error.text, "a document of 8388609 bytes is too long");
	char text[64];
	assert_string_equal(list(store, "a", always, text), "");
	char *most = calloc(LIMIT_FORECAST_BYTES, 1);
	assert_non_null(most);
	add(store, "a", 1, most, LIMIT_FORECAST_BYTES);
	bool same = false;
	assert_true(store_document_is_newest(store, "a",
	    &(struct stored_document){
		.fetched = INT64_MAX, .length = LIMIT_FORECAST_BYTES },
	    most, &same, NULL));
	assert_true(same);
	free(most);
}

static void
knows_the_bytes_of_the_newest_document(void **state)
{
	struct store *store = store_of(state);
	add(store, "a", 10, "old", 3);
	add(store, "a", 30, "new", 3);
	add(store, "a", 20, "mid", 3);
	add(store, "empty", 1, NULL, 0);
	static const struct {
		const char *address;
		const char *body;
		size_t length;
		bool same;
	} cases[] = {
		{ "a", "new", 3, true },
		{ "a", "neW", 3, false },
		{ "a", "new", 2, false },
		{ "a", "old", 3, false },
		{ "a", "", 0, false },
		{ "empty", NULL, 0, true },
		{ "none", "new", 3, false },
		{ "none", NULL, 0, false },
	};
	for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
		bool same = !cases[i].same;
		assert_true(store_document_is_newest(store, cases[i].address,
		    &(struct stored_document){
			.fetched = INT64_MAX, .length = cases[i].length },
		    cases[i].body, &same, NULL));
		assert_int_equal(same, cases[i].same);
	}
}

/* A clock that was set back: what is dated ahead of it is not in use. */
static void
newest_is_that_of_the_moment_asked_for(void **state)
{
	struct store *store = store_of(state);
	bool same;
	add(store, "a", 10, "old", 3);
	add(store, "a", 20, "new", 3);
	static const struct {
		int64_t at;
		const char *body;
	} rows[] = { { 10, "old" }, { 19, "old" }, { 20, "new" },
		{ INT64_MAX, "new" } };
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		struct stored_document asked = { .fetched = rows[i].at,
			.length = 3 };
		assert_true(store_document_is_newest(
		    store, "a", &asked, rows[i].body, &same, NULL));
		assert_true(same);
	}
	struct stored_document early = { .fetched = 9, .length = 3 };
	assert_true(
	    store_document_is_newest(store, "a", &early, "old", &same, NULL));
	assert_false(same);
}

static void
prunes_by_age_but_never_the_newest(void **state)
{
	struct store *store = store_of(state);
	char text[64];
	static const int times[] = { 10, 20, 40, 40, 30 };
	for (size_t i = 0; i < 5; i++)
		add_short(store, "a", times[i]);
	add_short(store, "b", 5);
	assert_true(store_documents_prune(store, 20, INT64_MAX, NULL));
	assert_string_equal(list(store, "a", always, text), "40 40 30 20 ");
	assert_string_equal(list(store, "b", always, text), "5 ");
	assert_true(store_documents_prune(store, 1000, INT64_MAX, NULL));
	assert_string_equal(list(store, "a", always, text), "40 ");
	assert_string_equal(list(store, "b", always, text), "5 ");
}

/* Noise of 1000 bytes packs to 1000 and a few bytes, so 3500 hold three. */
static void
prunes_the_oldest_of_all_addresses_by_size(void **state)
{
	struct store *store = store_of(state);
	char noise[1000];
	char text[64];
	fill_with_noise(noise, sizeof noise);
	static const struct {
		const char *address;
		int fetched;
	} rows[] = { { "a", 50 }, { "b", 40 }, { "a", 30 }, { "a", 20 },
		{ "b", 35 }, { "still", 1 } };
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
		add(store, rows[i].address, rows[i].fetched, noise, 1000);
	static const struct {
		int64_t before, bytes_most;
		const char *a, *b;
	} cases[] = {
		{ INT64_MIN, 6500, "50 30 20 ", "40 35 " },
		{ INT64_MIN, 5500, "50 30 ", "40 35 " },
		{ INT64_MIN, 4500, "50 ", "40 35 " },
		{ 36, 4500, "50 ", "40 " },
		{ INT64_MIN, 0, "50 ", "40 " },
		{ INT64_MIN, -1, "50 ", "40 " },
	};
	for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
		assert_true(store_documents_prune(
		    store, cases[i].before, cases[i].bytes_most, NULL));
		assert_string_equal(list(store, "a", always, text), cases[i].a);
		assert_string_equal(list(store, "b", always, text), cases[i].b);
		assert_string_equal(list(store, "still", always, text), "1 ");
	}
}

static void
never_gives_an_id_to_another_document(void **state)
{
	struct fixture *fixture = *state;
	struct error error = { 0 };
	struct text body = { .length = 9 };
	/* The clock was set back: the last one is not the newest. */
	add_short(fixture->store, "a", 100);
	add_short(fixture->store, "a", 5);
	int64_t newest = newest_id(fixture->store, "a");
	assert_true(store_documents_prune(fixture->store, 50, 99999, NULL));
	store_close(fixture->store);
	fixture->store = open_or_fail(fixture->path);
	add_short(fixture->store, "a", 200);
	assert_true(newest_id(fixture->store, "a") == newest + 2);
	assert_false(
	    store_document_body(fixture->store, newest + 1, &body, &error));
	assert_int_equal(error.kind, ERROR_ANSWER);
	assert_string_equal(error.text, "there is no document 2");
	assert_int_equal(body.length, 9);
}

int
main(void)
{
#define TEST(name) cmocka_unit_test_setup_teardown(name, make_store, remove_all)
	const struct CMUnitTest tests[] = {
		TEST(gives_documents_newest_first_and_always_the_newest),
		TEST(gives_a_document_back_whole),
		TEST(gives_bodies_back_byte_for_byte),
		TEST(refuses_what_it_cannot_keep),
		TEST(knows_the_bytes_of_the_newest_document),
		TEST(newest_is_that_of_the_moment_asked_for),
		TEST(prunes_by_age_but_never_the_newest),
		TEST(prunes_the_oldest_of_all_addresses_by_size),
		TEST(never_gives_an_id_to_another_document),
	};
	return RUN_TESTS(tests);
}
