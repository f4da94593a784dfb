#include "unit/test.h"

#include "service/notify.h"

#include <sys/socket.h>
#include <sys/un.h>
#include <unistd.h>

/* A manager's socket; `name` is a path, or an abstract name after '@'. */
static int
listen_on(const char *name)
{
	struct sockaddr_un address = { .sun_family = AF_UNIX };
	size_t length = strlen(name);
	assert_true(length < sizeof address.sun_path);
	memcpy(address.sun_path, name, length);
	if (name[0] == '@')
		address.sun_path[0] = '\0';
	int descriptor = socket(AF_UNIX, SOCK_DGRAM | SOCK_CLOEXEC, 0);
	assert_true(descriptor >= 0);
	socklen_t size =
	    (socklen_t)(offsetof(struct sockaddr_un, sun_path) + length);
	assert_int_equal(
	    bind(descriptor, (struct sockaddr *)&address, size), 0);
	return descriptor;
}

static void
expect_delivery(const char *name)
{
	int descriptor = listen_on(name);
	assert_int_equal(setenv("NOTIFY_SOCKET", name, 1), 0);
	struct error error = { 0 };
	assert_true(notify("READY=1\nSTATUS=two windows", &error));
	assert_int_equal(error.kind, ERROR_NONE);
	char got[64] = "";
	ssize_t length = recv(descriptor, got, sizeof got - 1, MSG_DONTWAIT);
	assert_int_equal(close(descriptor), 0);
	assert_string_equal(got, "READY=1\nSTATUS=two windows");
	assert_int_equal(length, strlen(got));
}

static void
delivers_to_a_path(void **state)
{
	(void)state;
	char folder[] = P_tmpdir "/test_notify.XXXXXX";
	assert_non_null(mkdtemp(folder));
	char path[64];
	(void)snprintf(path, sizeof path, "%s/socket", folder);
	expect_delivery(path);
	assert_int_equal(unlink(path), 0);
	assert_int_equal(rmdir(folder), 0);
}

static void
delivers_to_an_abstract_name(void **state)
{
	(void)state;
	char name[64];
	(void)snprintf(name, sizeof name, "@test_notify.%ld", (long)getpid());
	expect_delivery(name);
}

static void
is_silent_without_a_manager(void **state)
{
	(void)state;
	struct error error = { 0 };
	assert_int_equal(unsetenv("NOTIFY_SOCKET"), 0);
	assert_true(notify("READY=1", &error));
	assert_int_equal(setenv("NOTIFY_SOCKET", "", 1), 0);
	assert_true(notify("READY=1", &error));
	assert_int_equal(error.kind, ERROR_NONE);
}

static void
names_a_socket_that_fails(void **state)
{
	(void)state;
	char too_long[200];
	memset(too_long, 'x', sizeof too_long);
	too_long[0] = '/';
	too_long[sizeof too_long - 1] = '\0';
	const char *const bad[] = { "/nonexistent/notify", "relative",
		"vsock:2:1234", "@", "/", too_long };
	for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
		struct error error = { 0 };
		assert_int_equal(setenv("NOTIFY_SOCKET", bad[i], 1), 0);
		assert_false(notify("READY=1", &error));
		assert_int_equal(error.kind, ERROR_SYSTEM);
		assert_non_null(strstr(error.text, "NOTIFY_SOCKET"));
	}
}

static void
does_not_wait_for_a_full_socket(void **state)
{
	(void)state;
	char name[64];
	(void)snprintf(name, sizeof name, "@test_notify.%ld", (long)getpid());
	int descriptor = listen_on(name);
	assert_int_equal(setenv("NOTIFY_SOCKET", name, 1), 0);
	struct error error = { 0 };
	bool good = true;
	for (int i = 0; i < 100000 && good; i++)
		good = notify("WATCHDOG=1", &error);
	assert_false(good);
	assert_int_equal(error.kind, ERROR_SYSTEM);
	assert_int_equal(close(descriptor), 0);
}

static void
watchdog_period_is_in_whole_seconds(void **state)
{
	(void)state;
	static const struct {
		const char *period;
		int64_t wanted;
	} rows[] = {
		{ "120000000", 120 },
		{ "1999999", 1 },
		{ "500000", 1 },
		{ "0", 0 },
		{ "", 0 },
		{ "-5000000", 0 },
		{ "5000000x", 0 },
		{ "99999999999999999999999", 0 },
	};
	assert_int_equal(unsetenv("WATCHDOG_PID"), 0);
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		assert_int_equal(setenv("WATCHDOG_USEC", rows[i].period, 1), 0);
		assert_int_equal(notify_watchdog_seconds(), rows[i].wanted);
	}
	assert_int_equal(unsetenv("WATCHDOG_USEC"), 0);
	assert_int_equal(notify_watchdog_seconds(), 0);
}

static void
watchdog_of_another_process_is_not_ours(void **state)
{
	(void)state;
	char own[32];
	(void)snprintf(own, sizeof own, "%ld", (long)getpid());
	assert_int_equal(setenv("WATCHDOG_USEC", "2000000", 1), 0);
	assert_int_equal(setenv("WATCHDOG_PID", own, 1), 0);
	assert_int_equal(notify_watchdog_seconds(), 2);
	assert_int_equal(setenv("WATCHDOG_PID", "1", 1), 0);
	assert_int_equal(notify_watchdog_seconds(), 0);
	assert_int_equal(setenv("WATCHDOG_PID", "", 1), 0);
	assert_int_equal(notify_watchdog_seconds(), 0);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(delivers_to_a_path),
		cmocka_unit_test(delivers_to_an_abstract_name),
		cmocka_unit_test(is_silent_without_a_manager),
		cmocka_unit_test(names_a_socket_that_fails),
		cmocka_unit_test(does_not_wait_for_a_full_socket),
		cmocka_unit_test(watchdog_period_is_in_whole_seconds),
		cmocka_unit_test(watchdog_of_another_process_is_not_ours),
	};
	return RUN_TESTS(tests);
}
