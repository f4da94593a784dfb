#include "service/fetch_classify.h"

#include "base/limits.h"
#include "service/address.h"

#include <string.h>
#include <strings.h>

enum { DETAIL_SHOWN = 160, TYPE_SHOWN = 60 };

/* How a transfer without a usable status failed. Others are FETCH_LATER. */
static const struct failure {
	CURLcode code;
	enum fetch_class class;
	bool detail; /* libcurl's words add something */
	const char *sentence;
} failures[] = {
	{ CURLE_COULDNT_RESOLVE_HOST, FETCH_LATER, false,
	    "the server's name is not found" },
	{ CURLE_COULDNT_CONNECT, FETCH_LATER, true, "no connection" },
	{ CURLE_OPERATION_TIMEDOUT, FETCH_LATER, true,
	    "no whole answer in time" },
	{ CURLE_SSL_CONNECT_ERROR, FETCH_LATER, true, "no secure connection" },
	{ CURLE_GOT_NOTHING, FETCH_LATER, false,
	    "the server hung up without an answer" },
	{ CURLE_PARTIAL_FILE, FETCH_LATER, false, "the answer was cut off" },
	{ CURLE_RECV_ERROR, FETCH_LATER, false, "the answer was cut off" },
	{ CURLE_BAD_CONTENT_ENCODING, FETCH_LATER, false,
	    "the compressed answer is damaged" },
	{ CURLE_URL_MALFORMAT, FETCH_WRONG, false,
	    "not a usable address, or redirects to none" },
	{ CURLE_UNSUPPORTED_PROTOCOL, FETCH_WRONG, false,
	    "redirects to an address that is not https:" },
	{ CURLE_TOO_MANY_REDIRECTS, FETCH_WRONG, false, "redirects too often" },
	{ CURLE_PEER_FAILED_VERIFICATION, FETCH_WRONG, true,
	    "the server's certificate is not trusted" },
	{ CURLE_SSL_ISSUER_ERROR, FETCH_WRONG, true,
	    "the server's certificate is not trusted" },
	{ CURLE_SSL_INVALIDCERTSTATUS, FETCH_WRONG, true,
	    "the server's certificate is not trusted" },
	{ CURLE_SSL_CACERT_BADFILE, FETCH_WRONG, false,
	    "the file of trusted certificates cannot be read" },
};

static bool
is_too_large(const struct fetch_outcome *outcome)
{
	return outcome->body_too_large ||
	       outcome->code == CURLE_FILESIZE_EXCEEDED;
}

static enum fetch_class
name_size(const struct fetch_outcome *outcome, struct error *error)
{
	if (outcome->headers_too_large)
		(void)error_set(error, ERROR_INPUT,
		    "%s: more than %d bytes of headers", outcome->address,
		    LIMIT_HEADER_BYTES);
	else
		(void)error_set(error, ERROR_INPUT, "%s: longer than %d bytes",
		    outcome->address, LIMIT_FORECAST_BYTES);
	return FETCH_WRONG;
}

static enum fetch_class
name_failure(const struct fetch_outcome *outcome, struct error *error)
{
	struct failure failure = { .code = outcome->code,
		.class = FETCH_LATER,
		.sentence = curl_easy_strerror(outcome->code) };
	for (size_t i = 0; i < sizeof failures / sizeof failures[0]; i++) {
		if (failures[i].code == outcome->code)
			failure = failures[i];
	}
	/* The same code stands for an answer of no known protocol. */
	if (failure.code == CURLE_UNSUPPORTED_PROTOCOL && outcome->status < 300)
		failure = (struct failure){ .class = FETCH_LATER,
			.sentence = "the answer is not HTTP" };
	char detail[DETAIL_SHOWN] = "";
	if (failure.detail && outcome->detail != NULL)
		address_clean(detail, sizeof detail, outcome->detail,
		    strlen(outcome->detail));
	bool more = detail[0] != '\0';
	(void)error_set(error,
	    failure.class == FETCH_WRONG ? ERROR_INPUT : ERROR_SYSTEM,
	    "%s: %s%s%s%s", outcome->address, failure.sentence,
	    more ? " (" : "", detail, more ? ")" : "");
	return failure.class;
}

/* 429 and 5xx, with the server's wish if it stated one. */
static enum fetch_class
name_later(const struct fetch_outcome *outcome, struct error *error)
{
	const char *sentence =
	    outcome->status == 429 ? "too many requests" : "the server failed";
	if (outcome->retry_after > 0)
		(void)error_set(error, ERROR_SYSTEM,
		    "%s: %s (%ld); it asks to wait %lld s", outcome->address,
		    sentence, outcome->status, (long long)outcome->retry_after);
	else
		(void)error_set(error, ERROR_SYSTEM, "%s: %s (%ld)",
		    outcome->address, sentence, outcome->status);
	return FETCH_LATER;
}

/* A status of 400 or more says enough, whatever became of its body. */
static enum fetch_class
name_refusal(const struct fetch_outcome *outcome, struct error *error)
{
	long status = outcome->status;
	if (status == 429 || status >= 500)
		return name_later(outcome, error);
	if (status == 403) {
		(void)error_set(error, ERROR_SYSTEM,
		    "%s: the server refuses us (403); it may want another "
		    "User-Agent",
		    outcome->address);
		return FETCH_REFUSED;
	}
	const char *sentence = status == 404 || status == 410
				   ? "no such document"
				   : "the server does not accept the request";
	(void)error_set(error, ERROR_INPUT, "%s: %s (%ld)", outcome->address,
	    sentence, status);
	return FETCH_WRONG;
}

/*
 * JSON by its name (RFC 8259, RFC 6839 "+json"), or a type that says
 * nothing: plain text, or none.
 */
static bool
may_be_json(const char *content_type)
{
	if (content_type == NULL)
		return true;
	size_t length = strcspn(content_type, "; \t");
	static const char *const ends[] = { "/json", "+json" };
	for (size_t i = 0; i < sizeof ends / sizeof ends[0]; i++) {
		size_t end = strlen(ends[i]);
		if (length > end &&
		    strncasecmp(content_type + length - end, ends[i], end) == 0)
			return true;
	}
	return length == 0 ||
	       (length == strlen("text/plain") &&
		   strncasecmp(content_type, "text/plain", length) == 0);
}

static enum fetch_class
name_document(const struct fetch_outcome *outcome, struct error *error)
{
	if (!may_be_json(outcome->content_type)) {
		char type[TYPE_SHOWN];
		address_clean(type, sizeof type, outcome->content_type,
		    strcspn(outcome->content_type, "; \t"));
		(void)error_set(error, ERROR_SYSTEM, "%s: is not JSON (%s)",
		    outcome->address, type);
		return FETCH_LATER;
	}
	if (outcome->length == 0) {
		(void)error_set(error, ERROR_SYSTEM, "%s: the answer is empty",
		    outcome->address);
		return FETCH_LATER;
	}
	return FETCH_BODY;
}

static enum fetch_class
name_answer(const struct fetch_outcome *outcome, struct error *error)
{
	long status = outcome->status;
	if (status == 200 || status == 203)
		return name_document(outcome, error);
	/* Nobody may tell us to keep what we never said we have. */
	if (status == 304 && outcome->conditional)
		return FETCH_SAME;
	if (status >= 300 && status != 304) {
		(void)error_set(error, ERROR_INPUT,
		    "%s: redirects without saying where (%ld)",
		    outcome->address, status);
		return FETCH_WRONG;
	}
	(void)error_set(error, ERROR_SYSTEM,
	    "%s: the server answered without a document (%ld)",
	    outcome->address, status);
	return FETCH_LATER;
}

enum fetch_class
fetch_classify(const struct fetch_outcome *outcome, struct error *error)
{
	if (outcome->status >= 400)
		return name_refusal(outcome, error);
	if (outcome->headers_too_large || is_too_large(outcome))
		return name_size(outcome, error);
	if (outcome->code != CURLE_OK && outcome->plain_refused) {
		(void)error_set(error, ERROR_INPUT,
		    "%s: plain http is for servers of one's own only; "
		    "use https",
		    outcome->address);
		return FETCH_WRONG;
	}
	if (outcome->code != CURLE_OK)
		return name_failure(outcome, error);
	return name_answer(outcome, error);
}
