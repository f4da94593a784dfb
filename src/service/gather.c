#include "service/gather.h"

#include "base/memory.h"
#include "service/address.h"
#include "service/notify.h"
#include "weather/format.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
	FRESH_UNSAID = 3600, /* when a service does not say how long */
	FRESH_MOST = 6 * 3600,
	REFUSED_WAIT = 3600,
	WRONG_WAIT = 6 * 3600,
	WAIT_MOST = DAY_SECONDS, /* whatever a server wishes */
	HEARTBEAT_MS = 10000,
	JITTER_MOST = 30, /* s; no two programs ask in step */
};

struct errand {
	const struct keeper *keeper;
	const struct site *site; /* the first one with that address */
	int64_t now;
	struct error *error; /* of the store */
	bool failed;
};

int64_t
gather_backoff(int failures)
{
	static const int64_t wait[] = { 10, 60, 600, 1800 };
	int last = (int)(sizeof wait / sizeof wait[0]) - 1;
	int step = failures < 1 ? 0 : failures - 1 > last ? last : failures - 1;
	return wait[step];
}

bool
gather_is_due(int64_t due, int64_t now)
{
	return due <= now || due > now + WAIT_MOST + JITTER_MOST;
}

/* A few seconds that differ from address to address, but not from run to run.
 */
static int64_t
jitter(const char *address)
{
	uint32_t hash = 2166136261U;
	for (const char *c = address; *c != '\0'; c++)
		hash = (hash ^ (unsigned char)*c) * 16777619U;
	return hash % JITTER_MOST;
}

static void
replace_string(char **string, const char *value)
{
	char *copy = memory_string(value);
	free(*string);
	*string = copy;
}

static int64_t
next_due(const struct errand *errand, const struct fetch_reply *reply)
{
	int64_t now = errand->now;
	int64_t least = now + (int64_t)errand->keeper->config.poll_minimum;
	int64_t due = reply->expires != 0 ? reply->expires : now + FRESH_UNSAID;
	if (due > now + FRESH_MOST)
		due = now + FRESH_MOST;
	return due > least ? due : least;
}

static void
note_failure(const struct errand *errand, const struct fetch_reply *reply,
    const char *sentence, struct stored_source *source)
{
	source->failures++;
	replace_string(&source->trouble, sentence);
	int64_t wait = reply->class == FETCH_REFUSED ? REFUSED_WAIT
		       : reply->class == FETCH_WRONG
			   ? WRONG_WAIT
			   : gather_backoff(source->failures);
	if (reply->retry_after > wait)
		wait = reply->retry_after;
	if (wait > WAIT_MOST)
		wait = WAIT_MOST;
	source->due = errand->now + wait + jitter(source->address);
}

/* A file, or a server without validators, may give the same bytes again. */
static bool
is_stored(const struct errand *errand, const struct stored_source *source,
    const struct stored_document *document)
{
	struct stored_document *newest;
	size_t count;
	if (!store_documents(errand->keeper->store, source->address, INT64_MAX,
		&newest, &count, NULL))
		return false;
	bool same =
	    count > 0 && newest[0].length == document->length &&
	    memcmp(newest[0].body, document->body, document->length) == 0;
	stored_documents_free(newest, count);
	return same;
}

/* Reads the document to see that it is one; stores it when it is. */
static bool
take_document(const struct errand *errand, const struct fetch_reply *reply,
    struct stored_source *source, struct error *error)
{
	const struct format *format = format_find(errand->site->format);
	struct series series = { 0 };
	struct error fault = { 0 };
	if (!format->read(text_string(&reply->body), reply->body.length,
		&series, &fault)) {
		char shown[ADDRESS_SHOWN];
		address_show(source->address, shown, sizeof shown);
		(void)error_prefix(&fault, "%s", shown);
		note_failure(errand, reply, fault.text, source);
		return true;
	}
	/* When the service does not say: by now at the latest. */
	struct stored_document document = { .fetched = errand->now,
		.issued = series.issued != 0 ? series.issued : errand->now,
		.body = (char *)text_string(&reply->body),
		.length = reply->body.length };
	series_release(&series);
	bool stored = is_stored(errand, source, &document);
	replace_string(&source->etag, reply->etag);
	replace_string(&source->last_modified, reply->last_modified);
	replace_string(&source->trouble, NULL);
	source->failures = 0;
	source->due = next_due(errand, reply);
	return stored || store_document_add(errand->keeper->store,
			     source->address, &document, error);
}

static void
take_reply(void *context, const struct fetch_reply *reply)
{
	struct errand *errand = context;
	struct store *store = errand->keeper->store;
	struct stored_source source;
	if (!store_source_get(
		store, errand->site->forecast, &source, errand->error)) {
		errand->failed = true;
		return;
	}
	bool good = true;
	source.checked = errand->now;
	if (reply->class == FETCH_BODY) {
		good = take_document(errand, reply, &source, errand->error);
	} else if (reply->class == FETCH_SAME) {
		source.failures = 0;
		replace_string(&source.trouble, NULL);
		source.due = next_due(errand, reply);
	} else {
		note_failure(errand, reply, reply->error.text, &source);
	}
	good = good && store_source_put(store, &source, errand->error);
	errand->failed = errand->failed || !good;
	stored_source_release(&source);
}

static bool
is_first_with_address(const struct config *config, size_t i)
{
	for (size_t j = 0; j < i; j++)
		if (strcmp(config->sites[j].forecast,
			config->sites[i].forecast) == 0)
			return false;
	return true;
}

static bool
start_errand(struct errand *errand, struct fetcher *fetcher, bool all)
{
	struct stored_source source;
	const struct format *format = format_find(errand->site->format);
	if (!store_source_get(errand->keeper->store, errand->site->forecast,
		&source, errand->error))
		return false;
	struct fetch_request request = { .url = source.address,
		.accept = format->accept,
		.etag = source.etag,
		.last_modified = source.last_modified };
	bool good = (!all && !gather_is_due(source.due, errand->now)) ||
		    fetch_start(fetcher, &request, errand->now, take_reply,
			errand, errand->error);
	stored_source_release(&source);
	return good;
}

/* Wakes up now and then to tell a watchdog that slow servers are no fault. */
static bool
wait_for_all(struct fetcher *fetcher, int interrupt, struct error *error)
{
	struct fetch_watch watch = { .descriptor = interrupt };
	while (fetch_pending(fetcher) > 0) {
		if (!fetch_poll(fetcher, &watch, interrupt >= 0 ? 1 : 0,
			HEARTBEAT_MS, error))
			return false;
		if (watch.ready)
			fetch_cancel(fetcher);
		(void)notify("WATCHDOG=1", NULL);
	}
	return true;
}

bool
gather(const struct keeper *keeper, struct fetcher *fetcher, int64_t now,
    bool all, int interrupt, struct error *error)
{
	const struct config *config = &keeper->config;
	struct errand *errands =
	    memory_array(config->site_count, sizeof *errands);
	bool good = true;
	for (size_t i = 0; i < config->site_count && good; i++) {
		errands[i] = (struct errand){ .keeper = keeper,
			.site = &config->sites[i],
			.now = now,
			.error = error };
		if (is_first_with_address(config, i))
			good = start_errand(&errands[i], fetcher, all);
	}
	good = good && wait_for_all(fetcher, interrupt, error);
	for (size_t i = 0; i < config->site_count; i++)
		good = good && !errands[i].failed;
	free(errands);
	return good;
}

bool
gather_next_due(const struct keeper *keeper, int64_t *ret, struct error *error)
{
	const struct config *config = &keeper->config;
	int64_t due = INT64_MAX;
	for (size_t i = 0; i < config->site_count; i++) {
		struct stored_source source;
		if (!store_source_get(keeper->store, config->sites[i].forecast,
			&source, error))
			return false;
		due = source.due < due ? source.due : due;
		stored_source_release(&source);
	}
	*ret = due;
	return true;
}
