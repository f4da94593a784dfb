/* What needs no server; tests/oracle/fetch.py has the rest. */
#include "unit/test.h"

#include "service/address.h"
#include "service/fetch.h"

#include <arpa/inet.h>
#include <netinet/in.h>
#include <time.h>
#include <unistd.h>

struct seen {
	size_t count;
	enum fetch_class class;
	struct fetcher *again; /* ask once more from the callback */
};

static void
note(void *context, const struct fetch_reply *reply)
{
	struct seen *seen = context;
	seen->count++;
	seen->class = reply->class;
	if (seen->again == NULL)
		return;
	struct fetch_request request = { .url = "file:///nonexistent" };
	assert_true(fetch_start(seen->again, &request, 0, note, seen, NULL));
	seen->again = NULL;
}

static struct fetcher *
open_fetcher(void)
{
	struct fetch_settings settings = { .user_agent = "test" };
	struct error error = { 0 };
	struct fetcher *fetcher = fetcher_open(&settings, &error);
	assert_non_null(fetcher);
	return fetcher;
}

static void
calls_back_from_poll_only(void **state)
{
	(void)state;
	struct fetcher *fetcher = open_fetcher();
	struct seen seen = { .again = fetcher };
	struct fetch_request request = { .url = "file:///nonexistent" };
	assert_true(fetch_start(fetcher, &request, 0, note, &seen, NULL));
	assert_int_equal(seen.count, 0);
	assert_int_equal(fetch_pending(fetcher), 1);
	assert_true(fetch_poll(fetcher, NULL, 0, -1, NULL));
	assert_int_equal(seen.count, 1);
	assert_int_equal(seen.class, FETCH_WRONG);
	/* What the callback asked for comes with the next call. */
	assert_int_equal(fetch_pending(fetcher), 1);
	assert_true(fetch_poll(fetcher, NULL, 0, -1, NULL));
	assert_int_equal(seen.count, 2);
	assert_int_equal(fetch_pending(fetcher), 0);
	fetcher_close(fetcher);
}

/* A server that takes connections and never says a word. */
static int
listen_mute(char *url, size_t size)
{
	struct sockaddr_in address = { .sin_family = AF_INET,
		.sin_addr.s_addr = htonl(INADDR_LOOPBACK) };
	socklen_t length = sizeof address;
	int descriptor = socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC, 0);
	assert_true(descriptor >= 0);
	assert_int_equal(
	    bind(descriptor, (struct sockaddr *)&address, length), 0);
	assert_int_equal(listen(descriptor, 8), 0);
	assert_int_equal(
	    getsockname(descriptor, (struct sockaddr *)&address, &length), 0);
	(void)snprintf(
	    url, size, "http://127.0.0.1:%d/", (int)ntohs(address.sin_port));
	return descriptor;
}

static void
close_drops_without_a_call(void **state)
{
	(void)state;
	char url[64];
	int descriptor = listen_mute(url, sizeof url);
	struct fetcher *fetcher = open_fetcher();
	struct seen seen = { 0 };
	struct fetch_request request = { .url = url };
	for (int i = 0; i < 5; i++)
		assert_true(
		    fetch_start(fetcher, &request, 0, note, &seen, NULL));
	for (int i = 0; i < 5; i++)
		assert_true(fetch_poll(fetcher, NULL, 0, 20, NULL));
	assert_int_equal(fetch_pending(fetcher), 5);
	fetcher_close(fetcher);
	assert_int_equal(seen.count, 0);
	assert_int_equal(close(descriptor), 0);
	fetcher_close(NULL);
}

static void
watches_descriptors(void **state)
{
	(void)state;
	struct fetcher *fetcher = open_fetcher();
	int quiet[2], busy[2];
	assert_int_equal(pipe(quiet), 0);
	assert_int_equal(pipe(busy), 0);
	struct fetch_watch watch[] = { { .descriptor = quiet[0],
					   .ready = true },
		{ .descriptor = busy[0] } };
	assert_int_equal(write(busy[1], "x", 1), 1);
	assert_true(fetch_poll(fetcher, watch, 2, -1, NULL));
	assert_false(watch[0].ready);
	assert_true(watch[1].ready);
	/* A writer that went away is news as well. */
	assert_int_equal(close(quiet[1]), 0);
	assert_true(fetch_poll(fetcher, watch, 1, -1, NULL));
	assert_true(watch[0].ready);
	(void)close(quiet[0]);
	(void)close(busy[0]);
	(void)close(busy[1]);
	fetcher_close(fetcher);
}

static void
waits_as_long_as_it_is_told(void **state)
{
	(void)state;
	struct fetcher *fetcher = open_fetcher();
	struct timespec start, end;
	assert_int_equal(clock_gettime(CLOCK_MONOTONIC, &start), 0);
	assert_true(fetch_poll(fetcher, NULL, 0, 120, NULL));
	assert_int_equal(clock_gettime(CLOCK_MONOTONIC, &end), 0);
	double spent = (double)(end.tv_sec - start.tv_sec) +
		       (double)(end.tv_nsec - start.tv_nsec) / 1e9;
	assert_true(spent > 0.1);
	fetcher_close(fetcher);
}

static void
refuses_headers_with_line_breaks(void **state)
{
	(void)state;
	struct error error = { 0 };
	struct fetch_settings settings = { .user_agent = "a\r\nb: c" };
	assert_null(fetcher_open(&settings, &error));
	assert_int_equal(error.kind, ERROR_INPUT);
	struct fetcher *fetcher = open_fetcher();
	struct fetch_request request = { .url = "file:///nonexistent",
		.accept = "a\nb: c" };
	assert_false(fetch_start(fetcher, &request, 0, note, NULL, &error));
	assert_int_equal(fetch_pending(fetcher), 0);
	fetcher_close(fetcher);
}

/* The networks are those of the RFCs named in address.h. */
static void
knows_a_server_of_ones_own(void **state)
{
	(void)state;
	static const struct {
		const char *host;
		bool own;
	} rows[] = {
		{ "127.0.0.1", true },
		{ "127.255.255.255", true },
		{ "126.255.255.255", false },
		{ "128.0.0.0", false },
		{ "10.0.0.0", true },
		{ "11.0.0.0", false },
		{ "172.16.0.0", true },
		{ "172.31.255.255", true },
		{ "172.15.255.255", false },
		{ "172.32.0.0", false },
		{ "192.168.0.1", true },
		{ "192.169.0.1", false },
		{ "169.254.1.1", true },
		{ "0.0.0.0", false },
		{ "192.0.2.1", false },
		{ "::1", true },
		{ "::", false },
		{ "::2", false },
		{ "fc00::1", true },
		{ "fdff::1", true },
		{ "fe00::1", false },
		{ "fe80::1", true },
		{ "febf::1", true },
		{ "fec0::1", false },
		{ "2001:db8::1", false },
		{ "::ffff:127.0.0.1", true },
		{ "::ffff:192.0.2.1", false },
		{ "::127.0.0.1", false },
	};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		struct sockaddr_in v4 = { .sin_family = AF_INET };
		struct sockaddr_in6 v6 = { .sin6_family = AF_INET6 };
		const struct sockaddr *address = (struct sockaddr *)&v4;
		if (inet_pton(AF_INET, rows[i].host, &v4.sin_addr) != 1) {
			assert_int_equal(
			    inet_pton(AF_INET6, rows[i].host, &v6.sin6_addr),
			    1);
			address = (struct sockaddr *)&v6;
		}
		if (address_is_own(address) != rows[i].own)
			fail_msg("%s: wanted %d", rows[i].host, rows[i].own);
	}
	struct sockaddr other = { .sa_family = AF_UNIX };
	assert_false(address_is_own(&other));
}

static void
shows_addresses_without_secrets(void **state)
{
	(void)state;
	static const struct {
		const char *url, *shown;
	} rows[] = {
		{ "https://h/p", "https://h/p" },
		{ "https://h/p?key=k#f", "https://h/p" },
		{ "https://h/p#f?k", "https://h/p" },
		{ "https://u:p@h/p", "https://h/p" },
		{ "https://u@h", "https://h" },
		{ "https:/u:p@h/p", "https:/h/p" },
		{ "https://h/a@b", "https://h/a@b" },
		{ "https://h?a@b", "https://h" },
		{ "file:///a@b", "file:///a@b" },
		{ "https://u:p/q@h/", "https://..." },
		{ "u:p@h/x", "..." },
		{ "https://h/\xC3\xA9", "https://h/\xC3\xA9" },
		{ "https://h/\xE9\x7F", "https://h/??" },
		{ "", "" },
	};
	char shown[ADDRESS_SHOWN];
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		address_show(rows[i].url, shown, sizeof shown);
		assert_string_equal(shown, rows[i].shown);
	}
}

static void
cuts_long_texts_between_characters(void **state)
{
	(void)state;
	char shown[8];
	address_clean(shown, sizeof shown, "1234567", 7);
	assert_string_equal(shown, "1234567");
	address_clean(shown, sizeof shown, "12345678", 8);
	assert_string_equal(shown, "1234...");
	address_clean(shown, sizeof shown,
	    "123\xC3\xA9"
	    "678",
	    8);
	assert_string_equal(shown, "123...");
	address_clean(shown, sizeof shown, "", 0);
	assert_string_equal(shown, "");
}

static void
leaves_output_alone_on_failure(void **state)
{
	(void)state;
	static const char *const bad[] = { "", "h/x", "ftp://h/", "http://",
		"https://h:99999/", "file:relative", "file:///a%00b",
		"file://u:p@localhost/x", "https://h /" };
	for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
		struct address address = { .scheme = ADDRESS_FILE };
		struct error error = { 0 };
		assert_false(address_parse(bad[i], &address, &error));
		assert_int_equal(address.scheme, ADDRESS_FILE);
		assert_null(address.host);
		assert_null(address.path);
		assert_int_equal(error.kind, ERROR_INPUT);
	}
	struct address address;
	assert_true(address_parse("FILE:///a%20b", &address, NULL));
	assert_string_equal(address.path, "/a b");
	address_release(&address);
	assert_true(address_parse("HTTP://u:p@h:8/x", &address, NULL));
	assert_int_equal(address.scheme, ADDRESS_HTTP);
	assert_string_equal(address.host, "h");
	address_release(&address);
	address_release(NULL);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(calls_back_from_poll_only),
		cmocka_unit_test(close_drops_without_a_call),
		cmocka_unit_test(watches_descriptors),
		cmocka_unit_test(waits_as_long_as_it_is_told),
		cmocka_unit_test(refuses_headers_with_line_breaks),
		cmocka_unit_test(knows_a_server_of_ones_own),
		cmocka_unit_test(shows_addresses_without_secrets),
		cmocka_unit_test(cuts_long_texts_between_characters),
		cmocka_unit_test(leaves_output_alone_on_failure),
	};
	return RUN_TESTS(tests);
}
