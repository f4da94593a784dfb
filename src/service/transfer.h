/*
 * One transfer of the fetcher: its options, what arrives, and the reply made
 * from it. For fetch.c only, which decides when each one runs.
 */
#ifndef SERVICE_TRANSFER_H
#define SERVICE_TRANSFER_H

#include "base/error.h"
#include "base/text.h"
#include "service/address.h"
#include "service/fetch.h"

#include <curl/curl.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

struct transfer {
	struct transfer *next;
	struct address address; /* no host and no path: no good */
	char *url, *accept, *etag, *last_modified; /* owned, may be NULL */
	int64_t now;
	fetch_done *done;
	void *context;
	CURL *easy; /* owned; NULL until it runs, and for files */
	struct curl_slist *headers; /* owned */
	struct text body;
	size_t header_bytes;
	bool headers_too_large;
	bool plain_refused;
	CURLcode code;
	char detail[CURL_ERROR_SIZE];
	char shown[ADDRESS_SHOWN];
	struct error error; /* set when the address is no good */
};

/*
 * Copies the request. A validator that cannot be sent back is left out: then
 * the whole document comes, which is never wrong.
 */
struct transfer *transfer_new(const struct fetch_request *request, int64_t now);
void transfer_free(struct transfer *transfer);

/* False for files and for addresses that are no good: nothing to wait for. */
bool transfer_is_remote(const struct transfer *transfer);

/* Hands it to libcurl; every option is needed, or it fails. */
bool transfer_run(struct transfer *transfer, CURLM *multi,
    const struct fetch_settings *settings);

/* Makes the reply (a file is read now) and calls `done`. */
void transfer_finish(struct transfer *transfer);

/* A value for one header line: no line break can be smuggled in. */
bool transfer_fits_header(const char *value);

#endif
