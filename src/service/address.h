/*
 * Addresses as the fetcher takes them: which scheme, which host, and a form
 * that may be shown to anyone.
 */
#ifndef SERVICE_ADDRESS_H
#define SERVICE_ADDRESS_H

#include "base/error.h"

#include <stdbool.h>
#include <stddef.h>
#include <sys/socket.h>

enum address_scheme { ADDRESS_HTTPS, ADDRESS_HTTP, ADDRESS_FILE };

struct address {
	enum address_scheme scheme;
	char *host; /* owned; NULL for a file */
	int port;   /* its own or that of the scheme; 0 for a file */
	char *path; /* owned; of a file, percent signs decoded; else NULL */
};

enum { ADDRESS_SHOWN = 200 };

/*
 * Reads an absolute https:, http: or file: address. The sentence of a failure
 * starts with the address as it may be shown; *ret is untouched then.
 */
bool address_parse(const char *url, struct address *ret, struct error *error);
void address_release(struct address *address);

/*
 * The address without user, password, query and fragment, where secrets
 * live. One that address_parse refuses loses all that follows its "//" when
 * it has an "@". `size` is at least 8; ADDRESS_SHOWN is enough for most.
 */
void address_show(const char *url, char *buffer, size_t size);

/*
 * Copies bytes of a stranger for showing: control characters and what is not
 * UTF-8 become "?", a long text ends in "...". `size` is at least 8.
 */
void address_clean(char *buffer, size_t size, const char *bytes, size_t length);

/*
 * True for a server of one's own: loopback, private or link-local (RFC 1122,
 * 1918, 3927, 4193, 4291). Nothing but these may be asked without TLS.
 */
bool address_is_own(const struct sockaddr *address);

#endif
