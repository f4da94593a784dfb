#include "service/gather.h"

#include "base/memory.h"
#include "service/address.h"
#include "service/answer.h"
#include "service/notify.h"
#include "service/polling.h"

#include <stdlib.h>
#include <string.h>

enum {
	MOVED_WAIT = 3600, /* between two looks where a cell went */
	HEARTBEAT_MS = 10000,
	ROUNDS_MOST = 4, /* a place, its cell, the place again, its new cell */
	HTTP_NOT_FOUND = 404,
	LEASE = 60, /* s */
};

struct gathering {
	const struct keeper *keeper;
	struct fetcher *fetcher;
	int64_t now;
	bool all;               /* also what is not due yet */
	struct errand **errand; /* owned; each keeps its place in memory */
	size_t count, capacity;
	size_t started;      /* in this round */
	struct error *error; /* of the store */
	bool failed;
};

/* One address. */
struct errand {
	struct gathering *gathering;
	const struct format *format;
	char *address;   /* owned */
	char *leads_to;  /* owned; the address that it names, NULL: none */
	bool is_led;     /* another one names it */
	int asked;       /* the round in which it was asked last; 0: never */
	int64_t checked; /* before this pass; 0: never */
	size_t place;    /* in the order of the configuration */
};

/* What was asked in a time to come was noted by a clock that has been set back
   since: what came of it is not in use yet, so it is not what we have. */
static bool
is_due(const struct stored_source *source, int64_t now)
{
	return polling_is_due(source->due, now) || source->checked > now;
}

/* A cell that is gone: a place in it is asked again where it lies now. */
static bool
ask_anew(const struct errand *place, struct error *error)
{
	struct store *store = place->gathering->keeper->store;
	struct stored_source source;
	if (!store_source_get(store, place->address, &source, error))
		return false;
	bool good = true;
	int64_t now = place->gathering->now;
	if (source.checked + MOVED_WAIT <= now || source.checked > now) {
		source.due = 0;
		good = store_source_put(store, &source, error);
	}
	stored_source_release(&source);
	return good;
}

/* Sites with places of their own may share the cell. */
static bool
ask_places(const struct gathering *gathering, const char *cell)
{
	bool good = true;
	for (size_t i = 0; i < gathering->count && good; i++) {
		const struct errand *place = gathering->errand[i];
		if (place->leads_to != NULL &&
		    strcmp(place->leads_to, cell) == 0)
			good = ask_anew(place, gathering->error);
	}
	return good;
}

static void
take_reply(void *context, const struct fetch_reply *reply)
{
	const struct errand *errand = context;
	struct gathering *gathering = errand->gathering;
	struct question question = { .keeper = gathering->keeper,
		.format = errand->format,
		.address = errand->address,
		.is_led = errand->is_led,
		.now = gathering->now };
	bool good = answer_take(&question, reply, gathering->error);
	if (good && reply->status == HTTP_NOT_FOUND)
		good = ask_places(gathering, errand->address);
	gathering->failed = gathering->failed || !good;
}

static void
add_errand(struct gathering *gathering, const struct format *format,
    const char *address, bool is_led)
{
	for (size_t i = 0; i < gathering->count; i++)
		if (strcmp(gathering->errand[i]->address, address) == 0)
			return;
	struct errand *errand = memory_array(1, sizeof *errand);
	*errand = (struct errand){ .gathering = gathering,
		.format = format,
		.address = memory_string(address),
		.is_led = is_led,
		.place = gathering->count };
	gathering->errand = memory_grow(gathering->errand, gathering->count,
	    &gathering->capacity, sizeof(struct errand *));
	gathering->errand[gathering->count++] = errand;
}

static void
list_sources(struct gathering *gathering)
{
	const struct config *config = &gathering->keeper->config;
	for (size_t i = 0; i < config->site_count; i++) {
		const struct site *site = &config->sites[i];
		for (size_t s = 0; s < site->source_count; s++)
			add_errand(gathering,
			    format_find(site->source[s].format),
			    site->source[s].address, false);
	}
}

static int
compare_wait(const void *a, const void *b)
{
	const struct errand *first = *(struct errand *const *)a;
	const struct errand *second = *(struct errand *const *)b;
	if (first->checked != second->checked)
		return first->checked < second->checked ? -1 : 1;
	return first->place < second->place ? -1 : 1;
}

/* Whoever was asked longest ago goes first: a budget leaves nobody out for
   good. */
static bool
sort_errands(struct gathering *gathering)
{
	struct stored_source source;
	for (size_t i = 0; i < gathering->count; i++) {
		struct errand *errand = gathering->errand[i];
		if (!store_source_get(gathering->keeper->store, errand->address,
			&source, gathering->error))
			return false;
		if (source.checked <= gathering->now)
			errand->checked = source.checked;
		stored_source_release(&source);
	}
	if (gathering->count > 0)
		qsort(gathering->errand, gathering->count,
		    sizeof(struct errand *), compare_wait);
	return true;
}

/* The host's budget for the hour; a file has none. */
static bool
may_ask(const struct errand *errand, struct stored_source *source, bool *ret,
    struct error *error)
{
	const struct gathering *gathering = errand->gathering;
	struct store *store = gathering->keeper->store;
	double most = gathering->keeper->config.requests_per_hour;
	struct address address = { 0 };
	size_t used = 0;
	int64_t oldest = 0;
	*ret = true;
	if (!address_parse(errand->address, &address, NULL) ||
	    address.host == NULL) {
		address_release(&address);
		return true;
	}
	bool good = store_requests(
	    store, address.host, gathering->now, &used, &oldest, error);
	*ret = good && (double)used < most;
	if (*ret) {
		good = store_request_add(
		    store, address.host, gathering->now, error);
	} else if (good) {
		struct error fault = { 0 };
		(void)error_set(&fault, ERROR_SYSTEM,
		    "%.80s: the %.0f requests for this hour are used up",
		    address.host, most);
		free(source->trouble);
		source->trouble = memory_string(fault.text);
		if (is_due(source, gathering->now))
			source->due = oldest + 3600;
		good = store_source_put(store, source, error);
	}
	address_release(&address);
	return good;
}

/* Puts the address off for as long as an answer may take. */
static bool
lease(const struct gathering *gathering, struct stored_source *source)
{
	if (source->checked > gathering->now) {
		free(source->etag);
		free(source->last_modified);
		source->etag = source->last_modified = NULL;
		source->checked = gathering->now;
	}
	source->due = gathering->now + LEASE;
	return store_source_put(
	    gathering->keeper->store, source, gathering->error);
}

/* In one transaction: of two programs at work at once, one asks. */
static bool
claim(const struct errand *errand, struct stored_source *source, bool *ret)
{
	const struct gathering *gathering = errand->gathering;
	struct store *store = gathering->keeper->store;
	*ret = false;
	if (!store_begin(store, gathering->error))
		return false;
	bool good =
	    store_source_get(store, errand->address, source, gathering->error);
	if (good && (gathering->all || is_due(source, gathering->now)))
		good = may_ask(errand, source, ret, gathering->error);
	if (good && *ret)
		good = lease(gathering, source);
	good = good && store_commit(store, gathering->error);
	if (!good)
		store_rollback(store);
	return good;
}

static bool
start(struct errand *errand)
{
	struct gathering *gathering = errand->gathering;
	struct stored_source source = { 0 };
	bool may;
	bool good = claim(errand, &source, &may);
	if (good && may) {
		struct fetch_request request = { .url = errand->address,
			.accept = errand->format->accept,
			.etag = source.etag,
			.last_modified = source.last_modified };
		gathering->started++;
		good = fetch_start(gathering->fetcher, &request, gathering->now,
		    take_reply, errand, gathering->error);
	}
	stored_source_release(&source);
	return good;
}

/* Starts what is due, once; learns on the way where the address leads. */
static bool
run_errand(struct gathering *gathering, size_t i, int round)
{
	struct errand *errand = gathering->errand[i];
	struct stored_source source;
	if (!store_source_get(gathering->keeper->store, errand->address,
		&source, gathering->error))
		return false;
	bool good = true;
	bool due = is_due(&source, gathering->now);
	if (errand->asked == 0 ? due || gathering->all
			       : due && errand->asked < round) {
		errand->asked = round;
		good = start(errand);
	}
	if (good && source.leads_to != NULL)
		add_errand(gathering, errand->format, source.leads_to, true);
	free(errand->leads_to);
	errand->leads_to = source.leads_to;
	source.leads_to = NULL;
	stored_source_release(&source);
	return good;
}

/* Wakes up now and then to tell a watchdog that slow servers are no fault. */
static bool
wait_for_all(struct gathering *gathering, int interrupt, bool *ret_interrupted)
{
	struct fetcher *fetcher = gathering->fetcher;
	struct fetch_watch watch = { .descriptor = interrupt };
	while (fetch_pending(fetcher) > 0) {
		if (!fetch_poll(fetcher, &watch, interrupt >= 0 ? 1 : 0,
			HEARTBEAT_MS, gathering->error))
			return false;
		if (watch.ready) {
			fetch_cancel(fetcher);
			*ret_interrupted = true;
		}
		(void)notify("WATCHDOG=1", NULL);
	}
	return true;
}

static void
release(struct gathering *gathering)
{
	for (size_t i = 0; i < gathering->count; i++) {
		free(gathering->errand[i]->address);
		free(gathering->errand[i]->leads_to);
		free(gathering->errand[i]);
	}
	free(gathering->errand);
}

bool
gather(const struct keeper *keeper, struct fetcher *fetcher,
    const struct gather_order *order, struct error *error)
{
	struct gathering gathering = { .keeper = keeper,
		.fetcher = fetcher,
		.now = order->now,
		.all = order->all,
		.started = 1,
		.error = error };
	bool interrupted = false;
	list_sources(&gathering);
	bool good = sort_errands(&gathering);
	for (int round = 1; round <= ROUNDS_MOST && good && !interrupted &&
			    gathering.started > 0;
	     round++) {
		gathering.started = 0;
		for (size_t i = 0; i < gathering.count && good; i++)
			good = run_errand(&gathering, i, round);
		good =
		    good &&
		    wait_for_all(&gathering, order->interrupt, &interrupted) &&
		    !gathering.failed;
	}
	fetch_cancel(fetcher); /* its callbacks know the errands */
	release(&gathering);
	return good;
}

/* The address, and the one that it leads to. */
static bool
find_due(
    struct store *store, const char *address, int64_t *due, struct error *error)
{
	struct stored_source source, grid = { .due = INT64_MAX };
	if (!store_source_get(store, address, &source, error))
		return false;
	bool good = source.leads_to == NULL ||
		    store_source_get(store, source.leads_to, &grid, error);
	*due = source.due < *due ? source.due : *due;
	*due = grid.due < *due ? grid.due : *due;
	stored_source_release(&source);
	stored_source_release(&grid);
	return good;
}

bool
gather_next_due(const struct keeper *keeper, int64_t *ret, struct error *error)
{
	const struct config *config = &keeper->config;
	int64_t due = INT64_MAX;
	for (size_t i = 0; i < config->site_count; i++) {
		const struct site *site = &config->sites[i];
		for (size_t s = 0; s < site->source_count; s++)
			if (!find_due(keeper->store, site->source[s].address,
				&due, error))
				return false;
	}
	*ret = due;
	return true;
}
