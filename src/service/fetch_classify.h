/*
 * From how a transfer ended to what the caller should do and a sentence for
 * the keeper. Pure; the network part is fetch.c.
 */
#ifndef SERVICE_FETCH_CLASSIFY_H
#define SERVICE_FETCH_CLASSIFY_H

#include "base/error.h"
#include "service/fetch.h"

#include <curl/curl.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

struct fetch_outcome {
	const char *address;      /* as address_show gives it */
	const char *content_type; /* NULL when absent */
	const char *detail;       /* libcurl's own words, may be "" */
	CURLcode code;
	long status;      /* of the last reply, 0 when there was none */
	size_t length;    /* bytes of the body */
	bool conditional; /* a validator was sent */
	bool headers_too_large, body_too_large; /* our own counters */
	bool plain_refused; /* plain http to a server that is not one's own */
	int64_t retry_after;
};

/* Leaves *error alone for FETCH_BODY and FETCH_SAME. */
enum fetch_class fetch_classify(
    const struct fetch_outcome *outcome, struct error *error);

#endif
