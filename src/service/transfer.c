#include "service/transfer.h"

#include "base/file.h"
#include "base/limits.h"
#include "base/memory.h"
#include "service/fetch_classify.h"
#include "service/freshness.h"

#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <sys/socket.h>
#include <sys/stat.h>

enum { STALL_BYTES_PER_SECOND = 100 };

bool
transfer_fits_header(const char *value)
{
	for (const char *byte = value; *byte != '\0'; byte++) {
		if ((unsigned char)*byte < 0x20 || *byte == 0x7F)
			return false;
	}
	return true;
}

/* A copy of a validator that can be sent back, else NULL. */
static char *
copy_validator(const char *value)
{
	if (value == NULL || value[0] == '\0' || !transfer_fits_header(value))
		return NULL;
	size_t length = strlen(value);
	if (length > LIMIT_VALIDATOR_BYTES || !text_is_utf8(value, length))
		return NULL;
	return memory_string(value);
}

struct transfer *
transfer_new(const struct fetch_request *request, int64_t now)
{
	struct transfer *transfer = memory_array(1, sizeof *transfer);
	transfer->url = memory_string(request->url);
	transfer->accept = memory_string(request->accept);
	transfer->etag = copy_validator(request->etag);
	transfer->last_modified = copy_validator(request->last_modified);
	transfer->now = now;
	text_init(&transfer->body, LIMIT_FORECAST_BYTES);
	address_show(request->url, transfer->shown, sizeof transfer->shown);
	(void)address_parse(request->url, &transfer->address, &transfer->error);
	return transfer;
}

void
transfer_free(struct transfer *transfer)
{
	if (transfer == NULL)
		return;
	curl_easy_cleanup(transfer->easy);
	curl_slist_free_all(transfer->headers);
	text_release(&transfer->body);
	address_release(&transfer->address);
	free(transfer->url);
	free(transfer->accept);
	free(transfer->etag);
	free(transfer->last_modified);
	free(transfer);
}

bool
transfer_is_remote(const struct transfer *transfer)
{
	return transfer->address.host != NULL;
}

/* libcurl's write callback: a short count ends the transfer. */
static size_t
take_body(char *data, size_t size, size_t count, void *context)
{
	struct transfer *transfer = context;
	return text_append(&transfer->body, data, size * count) ? size * count
								: 0;
}

/* NOLINTBEGIN(readability-non-const-parameter): libcurl's type */
/* Counts headers of all replies, redirects and trailers included. */
static size_t
take_header(char *data, size_t size, size_t count, void *context)
{
	(void)data;
	struct transfer *transfer = context;
	transfer->header_bytes += size * count;
	if (transfer->header_bytes <= LIMIT_HEADER_BYTES)
		return size * count;
	transfer->headers_too_large = true;
	return 0;
}
/* NOLINTEND(readability-non-const-parameter) */

/*
 * Called before each connection, that of a redirect included. Whatever is
 * not https may only go to a server of one's own.
 */
static curl_socket_t
open_socket(void *context, curlsocktype purpose, struct curl_sockaddr *peer)
{
	(void)purpose;
	struct transfer *transfer = context;
	const char *url = NULL;
	(void)curl_easy_getinfo(transfer->easy, CURLINFO_EFFECTIVE_URL, &url);
	bool secure = url != NULL && strncasecmp(url, "https:", 6) == 0;
	if (!secure && !address_is_own(&peer->addr)) {
		transfer->plain_refused = true;
		return CURL_SOCKET_BAD;
	}
	return socket(
	    peer->family, peer->socktype | SOCK_CLOEXEC, peer->protocol);
}

static bool
set_limits(CURL *easy, const struct fetch_settings *settings)
{
	long whole = settings->time_limit > 0 ? settings->time_limit
					      : LIMIT_FETCH_SECONDS;
	long stall = settings->stall_limit > 0 ? settings->stall_limit
					       : LIMIT_STALL_SECONDS;
	long connect =
	    whole < LIMIT_CONNECT_SECONDS ? whole : LIMIT_CONNECT_SECONDS;
	return !curl_easy_setopt(easy, CURLOPT_TIMEOUT, whole) &&
	       !curl_easy_setopt(easy, CURLOPT_CONNECTTIMEOUT, connect) &&
	       !curl_easy_setopt(easy, CURLOPT_LOW_SPEED_TIME, stall) &&
	       !curl_easy_setopt(easy, CURLOPT_LOW_SPEED_LIMIT,
		   (long)STALL_BYTES_PER_SECOND) &&
	       !curl_easy_setopt(
		   easy, CURLOPT_MAXREDIRS, (long)LIMIT_REDIRECTS) &&
	       !curl_easy_setopt(easy, CURLOPT_MAXFILESIZE_LARGE,
		   (curl_off_t)LIMIT_FORECAST_BYTES);
}

/*
 * Own servers are reached directly, not through a proxy of the environment,
 * so that the peer in open_socket is the server. QUICK_EXIT lets a hanging
 * name look-up end on its own instead of stopping the loop until it does.
 */
static bool
set_safety(struct transfer *transfer)
{
	CURL *easy = transfer->easy;
	bool plain = transfer->address.scheme == ADDRESS_HTTP;
	return !curl_easy_setopt(easy, CURLOPT_PROTOCOLS_STR, "http,https") &&
	       !curl_easy_setopt(easy, CURLOPT_REDIR_PROTOCOLS_STR,
		   plain ? "http,https" : "https") &&
	       (!plain || !curl_easy_setopt(easy, CURLOPT_NOPROXY, "*")) &&
	       !curl_easy_setopt(easy, CURLOPT_FOLLOWLOCATION, 1L) &&
	       !curl_easy_setopt(easy, CURLOPT_SSL_VERIFYPEER, 1L) &&
	       !curl_easy_setopt(easy, CURLOPT_SSL_VERIFYHOST, 2L) &&
	       !curl_easy_setopt(
		   easy, CURLOPT_SSLVERSION, (long)CURL_SSLVERSION_TLSv1_2) &&
	       !curl_easy_setopt(easy, CURLOPT_NOSIGNAL, 1L) &&
	       !curl_easy_setopt(easy, CURLOPT_QUICK_EXIT, 1L) &&
	       !curl_easy_setopt(
		   easy, CURLOPT_OPENSOCKETFUNCTION, open_socket) &&
	       !curl_easy_setopt(easy, CURLOPT_OPENSOCKETDATA, transfer);
}

static bool
add_header(struct transfer *transfer, const char *name, const char *value)
{
	if (value == NULL)
		return true;
	struct text line;
	text_init(&line, LIMIT_HEADER_BYTES);
	struct curl_slist *longer = NULL;
	if (text_format(&line, "%s: %s", name, value))
		longer =
		    curl_slist_append(transfer->headers, text_string(&line));
	text_release(&line);
	if (longer == NULL)
		return false;
	transfer->headers = longer;
	return true;
}

/* The search folder of the system stays in use beside ca_file. */
static bool
set_request(struct transfer *transfer, const struct fetch_settings *settings)
{
	CURL *easy = transfer->easy;
	return add_header(transfer, "Accept", transfer->accept) &&
	       add_header(transfer, "If-None-Match", transfer->etag) &&
	       add_header(
		   transfer, "If-Modified-Since", transfer->last_modified) &&
	       !curl_easy_setopt(easy, CURLOPT_URL, transfer->url) &&
	       !curl_easy_setopt(easy, CURLOPT_HTTPHEADER, transfer->headers) &&
	       !curl_easy_setopt(
		   easy, CURLOPT_USERAGENT, settings->user_agent) &&
	       !curl_easy_setopt(easy, CURLOPT_ACCEPT_ENCODING, "") &&
	       (settings->ca_file == NULL ||
		   !curl_easy_setopt(
		       easy, CURLOPT_CAINFO, settings->ca_file)) &&
	       !curl_easy_setopt(easy, CURLOPT_WRITEFUNCTION, take_body) &&
	       !curl_easy_setopt(easy, CURLOPT_WRITEDATA, transfer) &&
	       !curl_easy_setopt(easy, CURLOPT_HEADERFUNCTION, take_header) &&
	       !curl_easy_setopt(easy, CURLOPT_HEADERDATA, transfer) &&
	       !curl_easy_setopt(easy, CURLOPT_ERRORBUFFER, transfer->detail) &&
	       !curl_easy_setopt(easy, CURLOPT_PRIVATE, transfer);
}

bool
transfer_run(struct transfer *transfer, CURLM *multi,
    const struct fetch_settings *settings)
{
	transfer->easy = curl_easy_init();
	bool good = transfer->easy != NULL &&
		    set_limits(transfer->easy, settings) &&
		    set_safety(transfer) && set_request(transfer, settings) &&
		    curl_multi_add_handle(multi, transfer->easy) == CURLM_OK;
	if (!good)
		transfer->code = CURLE_FAILED_INIT;
	return good;
}

/* A header of the last reply, "" when absent; several are joined by commas. */
static void
read_header(CURL *easy, const char *name, struct text *ret)
{
	text_init(ret, LIMIT_HEADER_BYTES);
	struct curl_header *header = NULL;
	for (size_t i = 0; curl_easy_header(easy, name, i, CURLH_HEADER, -1,
			       &header) == CURLHE_OK;
	     i++) {
		if (i > 0)
			(void)text_add(ret, ", ");
		(void)text_add(ret, header->value);
	}
}

static const char *
or_null(const char *value)
{
	return value != NULL && value[0] != '\0' ? value : NULL;
}

/* What the headers say beside the class, for an answer we can use. */
static void
read_validity(
    const struct transfer *transfer, struct fetch_reply *reply, char **owned)
{
	struct text etag, modified, control, expires, date;
	read_header(transfer->easy, "ETag", &etag);
	read_header(transfer->easy, "Last-Modified", &modified);
	read_header(transfer->easy, "Cache-Control", &control);
	read_header(transfer->easy, "Expires", &expires);
	read_header(transfer->easy, "Date", &date);
	owned[0] = copy_validator(text_string(&etag));
	owned[1] = copy_validator(text_string(&modified));
	reply->etag = owned[0];
	reply->last_modified = owned[1];
	reply->expires = freshness_until(text_string(&control),
	    text_string(&expires), text_string(&date), transfer->now);
	text_release(&etag);
	text_release(&modified);
	text_release(&control);
	text_release(&expires);
	text_release(&date);
}

/* Fills class, status, wait and sentence. */
static void
classify(struct transfer *transfer, struct fetch_reply *reply)
{
	struct text type, wait;
	(void)curl_easy_getinfo(
	    transfer->easy, CURLINFO_RESPONSE_CODE, &reply->status);
	read_header(transfer->easy, "Content-Type", &type);
	read_header(transfer->easy, "Retry-After", &wait);
	if (reply->status == 429 || reply->status == 503)
		reply->retry_after =
		    freshness_retry_after(text_string(&wait), transfer->now);
	struct fetch_outcome outcome = {
		.address = transfer->shown,
		.content_type = or_null(text_string(&type)),
		.detail = transfer->detail,
		.code = transfer->code,
		.status = reply->status,
		.length = transfer->body.length,
		.conditional =
		    transfer->etag != NULL || transfer->last_modified != NULL,
		.headers_too_large = transfer->headers_too_large,
		.body_too_large = transfer->body.failed,
		.plain_refused = transfer->plain_refused,
		.retry_after = reply->retry_after,
	};
	reply->class = fetch_classify(&outcome, &reply->error);
	text_release(&type);
	text_release(&wait);
}

/* A pipe or a device could stop the loop for ever. */
static bool
read_plain_file(const char *path, struct text *ret, struct error *error)
{
	struct stat status;
	if (stat(path, &status) == 0 && !S_ISREG(status.st_mode))
		return error_set(
		    error, ERROR_INPUT, "%s: not a plain file", path);
	return file_read(path, ret, error);
}

/* The sentence of file_read names the path; the address says it already. */
static void
answer_from_file(struct transfer *transfer, struct fetch_reply *reply)
{
	const char *path = transfer->address.path;
	struct error error = { 0 };
	reply->class = FETCH_BODY;
	if (read_plain_file(path, &transfer->body, &error))
		return;
	size_t skip = strlen(path) + strlen(": ");
	const char *sentence = error.text;
	if (strlen(sentence) > skip && strncmp(sentence, path, skip - 2) == 0)
		sentence += skip;
	reply->class = FETCH_WRONG;
	(void)error_set(
	    &reply->error, ERROR_INPUT, "%s: %s", transfer->shown, sentence);
}

void
transfer_finish(struct transfer *transfer)
{
	struct fetch_reply reply = { .class = FETCH_WRONG };
	char *owned[2] = { NULL, NULL };
	if (transfer->address.path != NULL)
		answer_from_file(transfer, &reply);
	else if (transfer->address.host == NULL)
		reply.error = transfer->error;
	else
		classify(transfer, &reply);
	if (transfer_is_remote(transfer) &&
	    (reply.class == FETCH_BODY || reply.class == FETCH_SAME))
		read_validity(transfer, &reply, owned);
	/* Half a body, and the page that comes with an error, stay here. */
	if (reply.class != FETCH_BODY)
		text_clear(&transfer->body);
	reply.body = transfer->body;
	transfer->done(transfer->context, &reply);
	free(owned[0]);
	free(owned[1]);
}
