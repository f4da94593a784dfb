/* lulld(8): reads forecasts, keeps the plan, publishes the calendar. */
#include "calendar/entry.h"
#include "service/loop.h"

#include <getopt.h>
#include <signal.h>
#include <stdio.h>
#include <unistd.h>

struct request {
	const char *config, *state;
	struct clock clock;
	bool once;
};

static const char usage[] =
    "usage: lulld [--config FILE] [--state DIR] [--once [--now TIME]]\n";

static bool
read_now(const char *text, struct clock *ret)
{
	static const struct zone utc = { 0 };
	struct error error = { 0 };
	ret->fixed = civil_parse(text, &utc, &ret->at, &error);
	if (!ret->fixed)
		(void)fprintf(stderr, "lulld: --now: %s\n", error.text);
	return ret->fixed;
}

static bool
take_option(int letter, struct request *ret)
{
	switch (letter) {
	case 'c':
		ret->config = optarg;
		return true;
	case 's':
		ret->state = optarg;
		return true;
	case 'o':
		ret->once = true;
		return true;
	case 'n':
		return read_now(optarg, &ret->clock);
	default:
		return false;
	}
}

static bool
read_request(int argc, char **argv, struct request *ret)
{
	static const struct option options[] = {
		{ "config", required_argument, NULL, 'c' },
		{ "state", required_argument, NULL, 's' },
		{ "once", no_argument, NULL, 'o' },
		{ "now", required_argument, NULL, 'n' },
		{ 0 },
	};
	int letter;
	while ((letter = getopt_long(argc, argv, "", options, NULL)) != -1)
		if (!take_option(letter, ret))
			return false;
	return optind == argc && (ret->once || !ret->clock.fixed);
}

static int
serve(struct keeper *keeper, bool once)
{
	struct error error = { 0 };
	if (!keeper_open_store(keeper, &error)) {
		(void)fprintf(stderr, "lulld: %s\n", error.text);
		return ERROR_SYSTEM;
	}
	if (once)
		return loop_once(keeper);
	int lock = loop_lock(keeper, &error);
	if (lock < 0) {
		(void)fprintf(stderr, "lulld: %s\n", error.text);
		return ERROR_SYSTEM;
	}
	int code = loop_run(keeper);
	(void)close(lock);
	return code;
}

int
main(int argc, char **argv)
{
	struct request request = { 0 };
	struct keeper keeper;
	struct text complaints;
	int code = ERROR_INPUT;
	if (!read_request(argc, argv, &request)) {
		(void)fputs(usage, stderr);
		return ERROR_INPUT;
	}
	(void)signal(SIGPIPE, SIG_IGN);
	text_init(&complaints, LIMIT_OUTPUT_BYTES);
	if (keeper_init(&keeper, request.config, request.state, request.clock,
		&complaints))
		code = serve(&keeper, request.once);
	else
		(void)fputs(text_string(&complaints), stderr);
	text_release(&complaints);
	keeper_release(&keeper);
	calendar_finish();
	return code;
}
