/*
 * Documents from http(s): and file: addresses, through libcurl's multi
 * interface, in the one loop of the daemon: fetch_poll is its only blocking
 * call and also watches the loop's own descriptors.
 *
 * TLS is verified; plain http is for servers of one's own; redirects go to
 * https only (or stay on http when the request was http), at most
 * LIMIT_REDIRECTS of them. Size, time, stall and header limits are those of
 * base/limits.h and hold for decompressed bytes too.
 */
#ifndef SERVICE_FETCH_H
#define SERVICE_FETCH_H

#include "base/error.h"
#include "base/text.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

struct fetcher;

struct fetch_request {
	const char *url; /* borrowed during fetch_start only, as all of these */
	const char *accept; /* Accept header; NULL for any */
	const char *etag; /* sent back verbatim as If-None-Match; NULL: none */
	const char *last_modified; /* verbatim, If-Modified-Since; NULL: none */
};

enum fetch_class {
	FETCH_BODY,    /* 200 or 203 with a whole body, as far as HTTP tells:
			  only a reader sees that a server stored half a
			  document, or half a gzip stream */
	FETCH_SAME,    /* 304: what we have is still the answer */
	FETCH_LATER,   /* timeout, 429, 5xx, no network: try again later */
	FETCH_REFUSED, /* 403: stop for an hour and tell the keeper */
	FETCH_WRONG,   /* other 4xx, bad address, too large, bad certificate */
};

struct fetch_reply {
	enum fetch_class class;
	long status;      /* HTTP status, 0 when there was none */
	struct text body; /* released after the callback */
	const char *etag; /* NULL when absent; valid in the callback only */
	const char *last_modified;
	int64_t
	    expires;         /* UTC until which the answer is fresh, from
				Cache-Control max-age (preferred) or Expires less
				Date, counted from the receiver's `now`; 0: unsaid */
	int64_t retry_after; /* seconds the server asked for; 0: unsaid */
	struct error error;  /* the sentence for the keeper unless BODY or SAME;
				starts with the address */
};

/* Called from fetch_poll, never from fetch_start. */
typedef void fetch_done(void *context, const struct fetch_reply *reply);

struct fetch_settings {
	const char *user_agent; /* borrowed for the fetcher's life */
	const char *ca_file;    /* extra trust anchors; NULL: the system's */
	int time_limit, stall_limit; /* seconds; 0: those of limits.h */
};

/*
 * The program must ignore SIGPIPE: libcurl is told to leave signals alone, and
 * a server that hangs up would end the process.
 */
struct fetcher *fetcher_open(
    const struct fetch_settings *settings, struct error *error);
void fetcher_close(struct fetcher *fetcher); /* drops what is under way; NULL
						is allowed */

/*
 * Queues one transfer; at most two to one host run at a time. A bad address is
 * told by the callback; false only for an `accept` that no header line can
 * carry.
 */
bool fetch_start(struct fetcher *fetcher, const struct fetch_request *request,
    int64_t now, fetch_done *done, void *context, struct error *error);

/* Drops what is under way; none of it calls back. */
void fetch_cancel(struct fetcher *fetcher);

/* Transfers that have not called back yet. */
size_t fetch_pending(const struct fetcher *fetcher);

struct fetch_watch {
	int descriptor; /* watched for reading */
	bool ready;     /* set by fetch_poll */
};

/*
 * Waits until a transfer moves, a descriptor is readable or the time is over
 * (-1: for ever), then drives transfers and calls back those that ended.
 */
bool fetch_poll(struct fetcher *fetcher, struct fetch_watch *watch,
    size_t count, int timeout_ms, struct error *error);

#endif
