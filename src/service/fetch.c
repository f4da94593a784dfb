#include "service/fetch.h"

#include "base/memory.h"
#include "service/transfer.h"

#include <curl/curl.h>
#include <limits.h>
#include <stdlib.h>
#include <strings.h>
#include <unistd.h>

enum { HOST_TRANSFERS = 2 };

/* In order of arrival; `end` is where the next one is hung. */
struct queue {
	struct transfer *first;
	struct transfer **end;
};

/*
 * Transfers wait here and not inside libcurl: there the time limit would run
 * while they wait, and streams of one connection would not be counted.
 */
struct fetcher {
	CURLM *multi;
	struct fetch_settings settings;
	struct queue waiting, running, ended;
	size_t pending;
	bool changed; /* something waits or a place became free */
};

static void
queue_init(struct queue *queue)
{
	queue->first = NULL;
	queue->end = &queue->first;
}

static void
queue_add(struct queue *queue, struct transfer *transfer)
{
	transfer->next = NULL;
	*queue->end = transfer;
	queue->end = &transfer->next;
}

/* Takes out what hangs at `place` of the queue. */
static struct transfer *
queue_take(struct queue *queue, struct transfer **place)
{
	struct transfer *taken = *place;
	*place = taken->next;
	if (*place == NULL)
		queue->end = place;
	return taken;
}

static void
queue_free(struct queue *queue)
{
	while (queue->first != NULL)
		transfer_free(queue_take(queue, &queue->first));
}

struct fetcher *
fetcher_open(const struct fetch_settings *settings, struct error *error)
{
	if (settings->user_agent != NULL &&
	    !transfer_fits_header(settings->user_agent)) {
		(void)error_set(error, ERROR_INPUT,
		    "the user agent has a control character");
		return NULL;
	}
	if (settings->ca_file != NULL && access(settings->ca_file, R_OK) != 0) {
		(void)error_set(error, ERROR_INPUT,
		    "%s: cannot read the trusted certificates",
		    settings->ca_file);
		return NULL;
	}
	if (curl_global_init(CURL_GLOBAL_DEFAULT) != CURLE_OK) {
		(void)error_set(
		    error, ERROR_SYSTEM, "the network library does not start");
		return NULL;
	}
	struct fetcher *fetcher = memory_array(1, sizeof *fetcher);
	fetcher->settings = *settings;
	queue_init(&fetcher->waiting);
	queue_init(&fetcher->running);
	queue_init(&fetcher->ended);
	fetcher->multi = curl_multi_init();
	if (fetcher->multi == NULL ||
	    curl_multi_setopt(fetcher->multi, CURLMOPT_MAX_HOST_CONNECTIONS,
		(long)HOST_TRANSFERS) != CURLM_OK) {
		fetcher_close(fetcher);
		(void)error_set(
		    error, ERROR_SYSTEM, "the network library does not start");
		return NULL;
	}
	return fetcher;
}

void
fetch_cancel(struct fetcher *fetcher)
{
	for (struct transfer *one = fetcher->running.first; one != NULL;
	     one = one->next)
		(void)curl_multi_remove_handle(fetcher->multi, one->easy);
	queue_free(&fetcher->waiting);
	queue_free(&fetcher->running);
	queue_free(&fetcher->ended);
	fetcher->pending = 0;
}

void
fetcher_close(struct fetcher *fetcher)
{
	if (fetcher == NULL)
		return;
	fetch_cancel(fetcher);
	(void)curl_multi_cleanup(fetcher->multi);
	curl_global_cleanup();
	free(fetcher);
}

size_t
fetch_pending(const struct fetcher *fetcher)
{
	return fetcher->pending;
}

bool
fetch_start(struct fetcher *fetcher, const struct fetch_request *request,
    int64_t now, fetch_done *done, void *context, struct error *error)
{
	if (request->accept != NULL && !transfer_fits_header(request->accept))
		return error_set(error, ERROR_INPUT,
		    "the Accept header has a control character");
	struct transfer *transfer = transfer_new(request, now);
	transfer->done = done;
	transfer->context = context;
	queue_add(&fetcher->waiting, transfer);
	fetcher->pending++;
	fetcher->changed = true;
	return true;
}

static bool
has_place(const struct fetcher *fetcher, const struct transfer *transfer)
{
	if (!transfer_is_remote(transfer))
		return true;
	int used = 0;
	for (const struct transfer *one = fetcher->running.first; one != NULL;
	     one = one->next) {
		if (strcasecmp(one->address.host, transfer->address.host) == 0)
			used++;
	}
	return used < HOST_TRANSFERS;
}

/* Starts what may start; files and bad addresses have ended at once. */
static void
start_waiting(struct fetcher *fetcher)
{
	if (!fetcher->changed)
		return;
	fetcher->changed = false;
	struct transfer **place = &fetcher->waiting.first;
	while (*place != NULL) {
		if (!has_place(fetcher, *place)) {
			place = &(*place)->next;
			continue;
		}
		struct transfer *transfer =
		    queue_take(&fetcher->waiting, place);
		bool runs =
		    transfer_is_remote(transfer) &&
		    transfer_run(transfer, fetcher->multi, &fetcher->settings);
		queue_add(runs ? &fetcher->running : &fetcher->ended, transfer);
	}
}

/* Moves one that libcurl is done with from `running` to `ended`. */
static void
end(struct fetcher *fetcher, const CURL *easy, CURLcode code)
{
	struct transfer **place = &fetcher->running.first;
	while (*place != NULL && (*place)->easy != easy)
		place = &(*place)->next;
	if (*place == NULL)
		return;
	struct transfer *transfer = queue_take(&fetcher->running, place);
	(void)curl_multi_remove_handle(fetcher->multi, transfer->easy);
	transfer->code = code;
	queue_add(&fetcher->ended, transfer);
	fetcher->changed = true;
}

static void
collect(struct fetcher *fetcher)
{
	int left = 0;
	for (;;) {
		const CURLMsg *message =
		    curl_multi_info_read(fetcher->multi, &left);
		if (message == NULL)
			return;
		if (message->msg == CURLMSG_DONE)
			end(fetcher, message->easy_handle,
			    message->data.result);
	}
}

/*
 * Calls back those that have ended by now. What a callback starts waits for
 * the next fetch_poll.
 */
static void
call_back(struct fetcher *fetcher)
{
	while (fetcher->ended.first != NULL) {
		struct transfer *transfer =
		    queue_take(&fetcher->ended, &fetcher->ended.first);
		fetcher->pending--;
		transfer_finish(transfer);
		transfer_free(transfer);
	}
}

/* libcurl knows no "for ever" and refuses a negative time. */
static CURLMcode
wait_for(struct fetcher *fetcher, struct fetch_watch *watch, size_t count,
    int timeout_ms)
{
	struct curl_waitfd *waits = memory_array(count, sizeof *waits);
	for (size_t i = 0; i < count; i++) {
		waits[i].fd = watch[i].descriptor;
		waits[i].events = CURL_WAIT_POLLIN;
	}
	CURLMcode code = curl_multi_poll(fetcher->multi, waits, (unsigned)count,
	    timeout_ms < 0 ? INT_MAX : timeout_ms, NULL);
	for (size_t i = 0; i < count; i++)
		watch[i].ready = waits[i].revents != 0;
	free(waits);
	return code;
}

bool
fetch_poll(struct fetcher *fetcher, struct fetch_watch *watch, size_t count,
    int timeout_ms, struct error *error)
{
	start_waiting(fetcher);
	bool ended = fetcher->ended.first != NULL;
	CURLMcode code =
	    wait_for(fetcher, watch, count, ended ? 0 : timeout_ms);
	int running = 0;
	if (code == CURLM_OK)
		code = curl_multi_perform(fetcher->multi, &running);
	collect(fetcher);
	call_back(fetcher);
	if (code == CURLM_OK)
		return true;
	return error_set(error, ERROR_SYSTEM, "cannot wait for the network: %s",
	    curl_multi_strerror(code));
}
