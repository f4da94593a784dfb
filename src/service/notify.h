/*
 * Words to the service manager: the datagram protocol of sd_notify(3),
 * written here because the library that offers it drags five others in.
 */
#ifndef SERVICE_NOTIFY_H
#define SERVICE_NOTIFY_H

#include "base/error.h"

#include <stdbool.h>
#include <stdint.h>

/*
 * Sends `state` ("READY=1\nSTATUS=...") to the socket that $NOTIFY_SOCKET
 * names, a path or an abstract name after '@'. True and silent when the
 * variable is unset or empty. Never waits: a full socket is an error.
 */
bool notify(const char *state, struct error *error);

/*
 * Within how many seconds the manager wants "WATCHDOG=1" again (send it twice
 * as often), from $WATCHDOG_USEC; 0 when it wants none from this process
 * ($WATCHDOG_PID). Less than a second counts as one.
 */
int64_t notify_watchdog_seconds(void);

#endif
