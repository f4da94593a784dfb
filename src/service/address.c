#include "service/address.h"

#include "base/memory.h"
#include "base/text.h"

#include <arpa/inet.h>
#include <curl/curl.h>
#include <netinet/in.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

/* A part of a parsed address in our own memory, NULL when it has none. */
static char *
take_part(CURLU *parsed, CURLUPart which, unsigned flags)
{
	char *part = NULL;
	if (curl_url_get(parsed, which, &part, flags) != CURLUE_OK)
		return NULL;
	char *copy = memory_string(part);
	curl_free(part);
	return copy;
}

static bool
read_scheme(CURLU *parsed, enum address_scheme *ret)
{
	static const char *const names[] = { [ADDRESS_HTTPS] = "https",
		[ADDRESS_HTTP] = "http",
		[ADDRESS_FILE] = "file" };
	char *scheme = take_part(parsed, CURLUPART_SCHEME, 0);
	bool found = false;
	for (size_t i = 0; scheme != NULL && i < sizeof names / sizeof names[0];
	     i++) {
		if (strcasecmp(scheme, names[i]) != 0)
			continue;
		*ret = (enum address_scheme)i;
		found = true;
	}
	free(scheme);
	return found;
}

static bool
read_parts(const char *url, CURLU *parsed, struct address *ret)
{
	struct address address = { 0 };
	if (curl_url_set(parsed, CURLUPART_URL, url, 0) != CURLUE_OK ||
	    !read_scheme(parsed, &address.scheme))
		return false;
	bool good = false;
	if (address.scheme == ADDRESS_FILE) {
		address.path =
		    take_part(parsed, CURLUPART_PATH, CURLU_URLDECODE);
		good = address.path != NULL && address.path[0] == '/';
	} else {
		char *port =
		    take_part(parsed, CURLUPART_PORT, CURLU_DEFAULT_PORT);
		address.host = take_part(parsed, CURLUPART_HOST, 0);
		address.port = port == NULL ? 0 : (int)strtol(port, NULL, 10);
		free(port);
		good = address.host != NULL;
	}
	if (good)
		*ret = address;
	else
		address_release(&address);
	return good;
}

/* False, too, when libcurl has no memory left for its parser. */
static bool
parse(const char *url, struct address *ret)
{
	CURLU *parsed = curl_url();
	bool good = parsed != NULL && read_parts(url, parsed, ret);
	curl_url_cleanup(parsed);
	return good;
}

bool
address_parse(const char *url, struct address *ret, struct error *error)
{
	if (parse(url, ret))
		return true;
	char shown[ADDRESS_SHOWN];
	address_show(url, shown, sizeof shown);
	return error_set(error, ERROR_INPUT,
	    "%s: not an absolute https:, http: or file: address", shown);
}

void
address_release(struct address *address)
{
	if (address == NULL)
		return;
	free(address->host);
	free(address->path);
	*address = (struct address){ 0 };
}

void
address_clean(char *buffer, size_t size, const char *bytes, size_t length)
{
	bool utf8 = text_is_utf8(bytes, length);
	size_t used = length < size ? length : size - 4;
	/* A cut may not leave half a character. */
	while (used < length && used > 0 && (bytes[used] & 0xC0) == 0x80)
		used--;
	for (size_t i = 0; i < used; i++) {
		unsigned char byte = (unsigned char)bytes[i];
		bool shown = byte >= 0x20 && byte != 0x7F;
		buffer[i] = '?';
		if (shown && (utf8 || byte < 0x80))
			buffer[i] = bytes[i];
	}
	(void)snprintf(
	    buffer + used, size - used, "%s", used < length ? "..." : "");
}

/*
 * Where the authority begins: libcurl takes one to three slashes for it.
 * Without any, the start of the address.
 */
static const char *
find_authority(const char *url)
{
	const char *colon = strchr(url, ':');
	if (colon == NULL || colon[1] != '/')
		return url;
	return colon + 1 + strspn(colon + 1, "/");
}

/* The last "@" of the authority, which ends the user's part; or NULL. */
static const char *
find_user_end(const char *authority)
{
	const char *found = NULL;
	size_t length = strcspn(authority, "/?#");
	for (size_t i = 0; i < length; i++) {
		if (authority[i] == '@')
			found = authority + i;
	}
	return found;
}

void
address_show(const char *url, char *buffer, size_t size)
{
	struct address address;
	bool parsed = parse(url, &address);
	bool remote = parsed && address.scheme != ADDRESS_FILE;
	if (parsed)
		address_release(&address);
	size_t length = strcspn(url, "?#");
	const char *authority = find_authority(url);
	struct text shown;
	text_init(&shown, length + sizeof "...");
	if (!parsed && strchr(url, '@') != NULL) {
		(void)text_append(&shown, url, (size_t)(authority - url));
		(void)text_add(&shown, "...");
	} else {
		const char *at = remote ? find_user_end(authority) : NULL;
		const char *rest = at == NULL ? authority : at + 1;
		(void)text_append(&shown, url, (size_t)(authority - url));
		(void)text_append(&shown, rest, strcspn(rest, "?#"));
	}
	address_clean(buffer, size, text_string(&shown), shown.length);
	text_release(&shown);
}

static bool
is_own_v4(uint32_t host)
{
	static const struct {
		uint32_t network, mask;
	} own[] = {
		{ 0x7F000000, 0xFF000000 }, /* 127/8 loopback */
		{ 0x0A000000, 0xFF000000 }, /* 10/8 private */
		{ 0xAC100000, 0xFFF00000 }, /* 172.16/12 private */
		{ 0xC0A80000, 0xFFFF0000 }, /* 192.168/16 private */
		{ 0xA9FE0000, 0xFFFF0000 }, /* 169.254/16 link-local */
	};
	for (size_t i = 0; i < sizeof own / sizeof own[0]; i++) {
		if ((host & own[i].mask) == own[i].network)
			return true;
	}
	return false;
}

static bool
is_own_v6(const uint8_t *byte)
{
	static const uint8_t mapped[12] = { [10] = 0xFF, [11] = 0xFF };
	static const uint8_t loopback[16] = { [15] = 1 };
	if (memcmp(byte, mapped, sizeof mapped) == 0)
		return is_own_v4((uint32_t)byte[12] << 24 |
				 (uint32_t)byte[13] << 16 |
				 (uint32_t)byte[14] << 8 | byte[15]);
	return memcmp(byte, loopback, sizeof loopback) == 0 ||
	       (byte[0] & 0xFE) == 0xFC ||
	       (byte[0] == 0xFE && (byte[1] & 0xC0) == 0x80);
}

bool
address_is_own(const struct sockaddr *address)
{
	if (address->sa_family == AF_INET) {
		struct sockaddr_in v4;
		memcpy(&v4, address, sizeof v4);
		return is_own_v4(ntohl(v4.sin_addr.s_addr));
	}
	if (address->sa_family == AF_INET6) {
		struct sockaddr_in6 v6;
		memcpy(&v6, address, sizeof v6);
		return is_own_v6(v6.sin6_addr.s6_addr);
	}
	return false;
}
