#include "service/notify.h"

#include <errno.h>
#include <stddef.h>
#include <stdlib.h>
#include <string.h>
#include <sys/socket.h>
#include <sys/un.h>
#include <unistd.h>

static bool
send_to(const struct sockaddr_un *address, socklen_t size, const char *state)
{
	int descriptor = socket(AF_UNIX, SOCK_DGRAM | SOCK_CLOEXEC, 0);
	if (descriptor < 0)
		return false;
	ssize_t sent = sendto(descriptor, state, strlen(state),
	    MSG_NOSIGNAL | MSG_DONTWAIT, (const struct sockaddr *)address,
	    size);
	int saved = errno;
	(void)close(descriptor);
	errno = saved;
	return sent >= 0;
}

bool
notify(const char *state, struct error *error)
{
	const char *name = getenv("NOTIFY_SOCKET");
	if (name == NULL || name[0] == '\0')
		return true;
	struct sockaddr_un address = { .sun_family = AF_UNIX };
	size_t length = strlen(name);
	if ((name[0] != '/' && name[0] != '@') || length < 2 ||
	    length >= sizeof address.sun_path)
		return error_set(error, ERROR_SYSTEM,
		    "NOTIFY_SOCKET: '%.120s' is not a socket name", name);
	memcpy(address.sun_path, name, length);
	if (name[0] == '@')
		address.sun_path[0] = '\0';
	size_t size = offsetof(struct sockaddr_un, sun_path) + length;
	if (!send_to(&address, (socklen_t)size, state))
		return error_set(error, ERROR_SYSTEM, "NOTIFY_SOCKET %s: %s",
		    name, strerror(errno));
	return true;
}

/* A positive decimal number in the environment, 0 when there is none. */
static long long
read_number(const char *name)
{
	const char *text = getenv(name);
	if (text == NULL || text[0] < '0' || text[0] > '9')
		return 0;
	char *end = NULL;
	errno = 0;
	long long number = strtoll(text, &end, 10);
	return errno != 0 || *end != '\0' ? 0 : number;
}

int64_t
notify_watchdog_seconds(void)
{
	long long period = read_number("WATCHDOG_USEC");
	if (period == 0)
		return 0;
	if (getenv("WATCHDOG_PID") != NULL &&
	    read_number("WATCHDOG_PID") != (long long)getpid())
		return 0;
	return period < 1000000 ? 1 : (int64_t)(period / 1000000);
}
