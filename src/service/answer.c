#include "service/answer.h"

#include "base/memory.h"
#include "service/address.h"
#include "service/polling.h"

#include <stdlib.h>
#include <string.h>
#include <strings.h>

static void
replace_string(char **string, const char *value)
{
	char *copy = memory_string(value);
	free(*string);
	*string = copy;
}

static void
note_failure(const struct question *question, const struct fetch_reply *reply,
    const char *sentence, struct stored_source *source)
{
	source->failures++;
	replace_string(&source->trouble, sentence);
	source->due = polling_after_failure(
	    reply, source->failures, source->address, question->now);
}

static void
note_success(const struct fetch_reply *reply, struct stored_source *source)
{
	source->failures = 0;
	replace_string(&source->trouble, NULL);
	if (reply->class != FETCH_BODY)
		return;
	replace_string(&source->etag, reply->etag);
	replace_string(&source->last_modified, reply->last_modified);
}

/* A fault of the document, with the address in front. */
static void
note_fault(const struct question *question, const struct fetch_reply *reply,
    struct error *fault, struct stored_source *source)
{
	char shown[ADDRESS_SHOWN];
	address_show(source->address, shown, sizeof shown);
	(void)error_prefix(fault, "%s", shown);
	note_failure(question, reply, fault->text, source);
}

static int64_t
poll_minimum(const struct question *question)
{
	return (int64_t)question->keeper->config.poll_minimum;
}

/* A document sends us to another one, but not to another server. */
static bool
is_same_server(const char *a, const char *b)
{
	struct address first = { 0 }, second = { 0 };
	bool same =
	    address_parse(a, &first, NULL) && address_parse(b, &second, NULL) &&
	    first.scheme == second.scheme && first.port == second.port &&
	    first.host != NULL && second.host != NULL &&
	    strcasecmp(first.host, second.host) == 0;
	address_release(&first);
	address_release(&second);
	return same;
}

/* The document only tells where the forecast lies. */
static void
take_link(const struct question *question, const struct fetch_reply *reply,
    const char *link, struct stored_source *source)
{
	struct error fault = { 0 };
	bool same = is_same_server(source->address, link);
	bool circle = question->is_led || strcmp(link, source->address) == 0;
	if (!same || circle) {
		(void)error_set(&fault, ERROR_INPUT,
		    same ? "it leads on to yet another document"
			 : "it names a forecast on another server");
		note_fault(question, reply, &fault, source);
		return;
	}
	note_success(reply, source);
	replace_string(&source->leads_to, link);
	source->due =
	    polling_next_link(reply, poll_minimum(question), question->now);
}

/* A file, or a server without validators, may give the same bytes again. Nobody
   makes a forecast after it was fetched: such a time would never get stale. */
static bool
store_document(const struct question *question, const struct fetch_reply *reply,
    int64_t issued, struct error *error)
{
	struct store *store = question->keeper->store;
	bool same = false;
	struct stored_document document = { .fetched = question->now,
		.issued = issued != 0 && issued < question->now ? issued
								: question->now,
		.length = reply->body.length,
		.etag = (char *)reply->etag,
		.last_modified = (char *)reply->last_modified };
	const char *body = text_string(&reply->body);
	if (!question->format->as_asked &&
	    !store_document_is_newest(
		store, question->address, &document, body, &same, error))
		return false;
	return same || store_document_add(
			   store, question->address, &document, body, error);
}

/* Reads the document to see that it is one; stores it when it is. */
static bool
take_document(const struct question *question, const struct fetch_reply *reply,
    struct stored_source *source, struct error *error)
{
	const struct format *format = question->format;
	const char *body = text_string(&reply->body);
	struct series series = { 0 };
	struct error fault = { 0 };
	char *link = NULL;
	bool good = format->link == NULL ||
		    format->link(body, reply->body.length, &link, &fault);
	if (good && link != NULL) {
		take_link(question, reply, link, source);
		free(link);
		return true;
	}
	if (!good || !format->read(body, reply->body.length, &series, &fault)) {
		note_fault(question, reply, &fault, source);
		return true;
	}
	int64_t issued = series.issued;
	series_release(&series);
	note_success(reply, source);
	replace_string(&source->leads_to, NULL);
	source->due =
	    polling_next(reply, poll_minimum(question), question->now);
	return store_document(question, reply, issued, error);
}

/* A stored document that is damaged: the next answer is to come whole. */
static void
note_damage(const struct question *question, const struct fetch_reply *reply,
    struct error *fault, struct stored_source *source)
{
	replace_string(&source->etag, NULL);
	replace_string(&source->last_modified, NULL);
	note_fault(question, reply, fault, source);
}

/* The newest document, as young as this answer. */
static bool
renew(const struct question *question, const struct fetch_reply *reply,
    struct stored_source *source, struct error *error)
{
	struct store *store = question->keeper->store;
	struct stored_span span = { question->now, question->now };
	struct stored_document *newest;
	struct text body = { 0 };
	struct error fault = { 0 };
	size_t count;
	if (!store_documents(
		store, question->address, span, &newest, &count, error))
		return false;
	bool good = true;
	if (count > 0 &&
	    !store_document_body(store, newest[0].id, &body, &fault)) {
		note_damage(question, reply, &fault, source);
	} else if (count > 0) {
		newest[0].issued = newest[0].fetched = question->now;
		good = store_document_add(store, question->address, &newest[0],
		    text_string(&body), error);
	}
	text_release(&body);
	stored_documents_free(newest, count);
	return good;
}

/* What we have is still the answer. */
static bool
take_same(const struct question *question, const struct fetch_reply *reply,
    struct stored_source *source, struct error *error)
{
	int64_t minimum = poll_minimum(question);
	note_success(reply, source);
	source->due = source->leads_to != NULL
			  ? polling_next_link(reply, minimum, question->now)
			  : polling_next(reply, minimum, question->now);
	return !question->format->as_asked ||
	       renew(question, reply, source, error);
}

bool
answer_take(const struct question *question, const struct fetch_reply *reply,
    struct error *error)
{
	struct store *store = question->keeper->store;
	struct stored_source source;
	if (!store_source_get(store, question->address, &source, error))
		return false;
	bool good = true;
	source.checked = question->now;
	if (reply->class == FETCH_BODY)
		good = take_document(question, reply, &source, error);
	else if (reply->class == FETCH_SAME)
		good = take_same(question, reply, &source, error);
	else
		note_failure(question, reply, reply->error.text, &source);
	good = good && store_source_put(store, &source, error);
	stored_source_release(&source);
	return good;
}
