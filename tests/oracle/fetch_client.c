/*
 * Fetches each address of its command line through service/fetch.h, all at
 * once, and prints one JSON line per reply in the order of their ends.
 *
 * usage: fetch_client [--agent T] [--accept T] [--etag T] [--modified T]
 *                     [--ca FILE] [--time S] [--stall S] URL...
 */
#include "service/fetch.h"

#include <cjson/cJSON.h>
#include <getopt.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>

enum { NOW = 1800000000 };

struct options {
	struct fetch_settings settings;
	struct fetch_request request;
};

static const char *const class_names[] = { [FETCH_BODY] = "BODY",
	[FETCH_SAME] = "SAME",
	[FETCH_LATER] = "LATER",
	[FETCH_REFUSED] = "REFUSED",
	[FETCH_WRONG] = "WRONG" };

static void
add_text(cJSON *line, const char *name, const char *value)
{
	if (value == NULL)
		(void)cJSON_AddNullToObject(line, name);
	else
		(void)cJSON_AddStringToObject(line, name, value);
}

static void
print_reply(void *context, const struct fetch_reply *reply)
{
	cJSON *line = cJSON_CreateObject();
	add_text(line, "url", context);
	add_text(line, "class", class_names[reply->class]);
	(void)cJSON_AddNumberToObject(line, "status", (double)reply->status);
	(void)cJSON_AddNumberToObject(
	    line, "bytes", (double)reply->body.length);
	add_text(line, "etag", reply->etag);
	add_text(line, "last_modified", reply->last_modified);
	if (reply->expires == 0)
		add_text(line, "fresh", NULL);
	else
		(void)cJSON_AddNumberToObject(
		    line, "fresh", (double)(reply->expires - NOW));
	(void)cJSON_AddNumberToObject(
	    line, "retry_after", (double)reply->retry_after);
	add_text(line, "error", reply->error.text);
	(void)cJSON_AddNumberToObject(line, "kind", (double)reply->error.kind);
	char *printed = cJSON_PrintUnformatted(line);
	(void)puts(printed);
	cJSON_free(printed);
	cJSON_Delete(line);
}

static int
to_seconds(const char *text)
{
	return (int)strtol(text, NULL, 10);
}

static bool
read_options(int argc, char **argv, struct options *ret)
{
	static const struct option known[] = {
		{ "agent", required_argument, NULL, 'u' },
		{ "accept", required_argument, NULL, 'a' },
		{ "etag", required_argument, NULL, 'e' },
		{ "modified", required_argument, NULL, 'm' },
		{ "ca", required_argument, NULL, 'c' },
		{ "time", required_argument, NULL, 't' },
		{ "stall", required_argument, NULL, 's' },
		{ NULL, 0, NULL, 0 },
	};
	for (;;) {
		switch (getopt_long(argc, argv, "", known, NULL)) {
		case -1:
			return true;
		case 'u':
			ret->settings.user_agent = optarg;
			break;
		case 'a':
			ret->request.accept = optarg;
			break;
		case 'e':
			ret->request.etag = optarg;
			break;
		case 'm':
			ret->request.last_modified = optarg;
			break;
		case 'c':
			ret->settings.ca_file = optarg;
			break;
		case 't':
			ret->settings.time_limit = to_seconds(optarg);
			break;
		case 's':
			ret->settings.stall_limit = to_seconds(optarg);
			break;
		default:
			return false;
		}
	}
}

static bool
fetch_all(struct fetcher *fetcher, struct fetch_request request, char **urls,
    struct error *error)
{
	for (; *urls != NULL; urls++) {
		request.url = *urls;
		if (!fetch_start(
			fetcher, &request, NOW, print_reply, *urls, error))
			return false;
	}
	while (fetch_pending(fetcher) > 0) {
		if (!fetch_poll(fetcher, NULL, 0, -1, error))
			return false;
	}
	return true;
}

int
main(int argc, char **argv)
{
	struct options options = { .settings = { .user_agent = "lull-test" } };
	if (!read_options(argc, argv, &options))
		return ERROR_INPUT;
	(void)signal(SIGPIPE, SIG_IGN);
	(void)setvbuf(stdout, NULL, _IOLBF, 0);
	struct error error = { 0 };
	struct fetcher *fetcher = fetcher_open(&options.settings, &error);
	bool good = fetcher != NULL &&
		    fetch_all(fetcher, options.request, argv + optind, &error);
	if (!good)
		(void)fprintf(stderr, "fetch_client: %s\n", error.text);
	fetcher_close(fetcher);
	return good ? 0 : (int)error.kind;
}
