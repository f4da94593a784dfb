#include "service/loop.h"

#include "base/file.h"
#include "service/fetch.h"
#include "service/notify.h"
#include "service/pass.h"

#include <errno.h>
#include <inttypes.h>
#include <malloc.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/signalfd.h>
#include <sys/timerfd.h>
#include <time.h>
#include <unistd.h>

#ifndef PACKAGE_VERSION
#define PACKAGE_VERSION "0"
#endif

enum {
	RETRY_SECONDS = 60, /* after a pass that failed */
	TRIM_BYTES = 64 * 1024 * 1024,
	SLEEP_MOST = 6 * 3600, /* however little there is to do */
};

struct loop {
	struct keeper *keeper;
	struct fetcher *fetcher;
	struct text user_agent;
	struct text last_trouble; /* told already */
	int signals, timer;
	bool ends;
};

static void
say(const char *text)
{
	(void)fprintf(stderr, "lulld: %s\n", text);
}

struct fetcher *
loop_open_fetcher(
    const struct keeper *keeper, struct text *user_agent, struct error *error)
{
	const char *contact = keeper->config.contact;
	text_init(user_agent, LIMIT_TEXT_BYTES + 100);
	text_format(user_agent, "lull/%s (%s)", PACKAGE_VERSION,
	    contact != NULL ? contact : "no contact given");
	struct fetch_settings settings = { .user_agent =
					       text_string(user_agent) };
	return fetcher_open(&settings, error);
}

int
loop_lock(const struct keeper *keeper, struct error *error)
{
	char *path = keeper_path(keeper, "lulld.lock");
	int lock = file_lock(path, false, error);
	if (lock < 0 && error->kind == ERROR_ANSWER)
		(void)error_set(error, ERROR_SYSTEM,
		    "another lulld works in %s already", keeper->state);
	free(path);
	return lock;
}

/*
 * Rings at a time of day, so that a machine that slept rings when it is late,
 * and one whose clock is set rings at once: then everything is looked at anew.
 */
static void
set_timer(const struct loop *loop, int64_t now, int64_t next)
{
	struct timespec here = { 0 };
	int64_t wait = next - now;
	wait = wait < 1 ? 1 : wait > SLEEP_MOST ? SLEEP_MOST : wait;
	(void)clock_gettime(CLOCK_REALTIME, &here);
	struct itimerspec at = { .it_value = { here.tv_sec + (time_t)wait,
				     here.tv_nsec } };
	(void)timerfd_settime(loop->timer,
	    TFD_TIMER_ABSTIME | TFD_TIMER_CANCEL_ON_SET, &at, NULL);
}

/* True when the timer rang, or the clock was set under it. */
static bool
has_rung(const struct loop *loop)
{
	uint64_t rings;
	ssize_t got = read(loop->timer, &rings, sizeof rings);
	return got > 0 || (got < 0 && errno == ECANCELED);
}

/* A line for the journal; trouble is told when it is new. */
static void
tell(struct loop *loop, const struct pass_report *report)
{
	char state[160];
	struct error error = { 0 };
	(void)snprintf(state, sizeof state,
	    "WATCHDOG=1\nSTATUS=%zu jobs, %zu slots", report->jobs,
	    report->slots);
	if (!notify(state, &error))
		say(error.text);
	if (report->moved > 0)
		(void)fprintf(stderr, "lulld: %zu of %zu slots moved\n",
		    report->moved, report->jobs);
	const char *trouble = text_string(&report->trouble);
	if (strcmp(trouble, text_string(&loop->last_trouble)) == 0)
		return;
	text_clear(&loop->last_trouble);
	text_add(&loop->last_trouble, trouble);
	if (trouble[0] != '\0')
		(void)fprintf(stderr, "lulld: %s", trouble);
}

static void
pass(struct loop *loop)
{
	struct pass_order order = { .fetcher = loop->fetcher,
		.interrupt = loop->signals };
	struct pass_report report;
	struct error error = { 0 };
	int64_t now = clock_now(&loop->keeper->clock);
	if (pass_run(loop->keeper, &order, &report, &error)) {
		tell(loop, &report);
		text_release(&report.trouble);
		set_timer(loop, clock_now(&loop->keeper->clock), report.next);
	} else {
		say(error.text);
		set_timer(loop, now, now + RETRY_SECONDS);
	}
	(void)malloc_trim(0); /* the forecast's tree is gone: say so */
}

static void
reload(struct loop *loop)
{
	struct text complaints;
	struct error error = { 0 };
	text_init(&complaints, LIMIT_OUTPUT_BYTES);
	if (keeper_reload(loop->keeper, &complaints)) {
		fetcher_close(loop->fetcher);
		text_release(&loop->user_agent);
		loop->fetcher =
		    loop_open_fetcher(loop->keeper, &loop->user_agent, &error);
		if (loop->fetcher == NULL)
			say(error.text);
		say("the configuration is read again");
	} else {
		(void)fprintf(stderr,
		    "%slulld: the configuration stays as it was\n",
		    text_string(&complaints));
	}
	text_release(&complaints);
	pass(loop);
}

static void
take_signal(struct loop *loop)
{
	struct signalfd_siginfo info;
	if (read(loop->signals, &info, sizeof info) != (ssize_t)sizeof info)
		return;
	if (info.ssi_signo == SIGHUP)
		reload(loop);
	else
		loop->ends = true;
}

/* Waits on signals, timer and transfers: the only place that blocks. */
static bool
wait_once(struct loop *loop, struct error *error)
{
	struct fetch_watch watch[] = { { .descriptor = loop->signals },
		{ .descriptor = loop->timer } };
	int64_t watchdog = notify_watchdog_seconds();
	int limit = watchdog > 0 ? (int)(watchdog * 1000 / 2) : -1;
	if (!fetch_poll(loop->fetcher, watch, 2, limit, error))
		return false;
	if (watchdog > 0)
		(void)notify("WATCHDOG=1", NULL);
	if (watch[0].ready)
		take_signal(loop);
	if (watch[1].ready && !loop->ends && has_rung(loop))
		pass(loop);
	return true;
}

static bool
open_descriptors(struct loop *loop, struct error *error)
{
	sigset_t set;
	(void)sigemptyset(&set);
	(void)sigaddset(&set, SIGTERM);
	(void)sigaddset(&set, SIGINT);
	(void)sigaddset(&set, SIGHUP);
	(void)sigprocmask(SIG_BLOCK, &set, NULL);
	loop->signals = signalfd(-1, &set, SFD_NONBLOCK | SFD_CLOEXEC);
	loop->timer =
	    timerfd_create(CLOCK_REALTIME, TFD_NONBLOCK | TFD_CLOEXEC);
	if (loop->signals < 0 || loop->timer < 0)
		return error_set(
		    error, ERROR_SYSTEM, "cannot wait: %s", strerror(errno));
	loop->fetcher =
	    loop_open_fetcher(loop->keeper, &loop->user_agent, error);
	return loop->fetcher != NULL;
}

int
loop_run(struct keeper *keeper)
{
	struct loop loop = { .keeper = keeper, .signals = -1, .timer = -1 };
	struct error error = { 0 };
	text_init(&loop.last_trouble, LIMIT_OUTPUT_BYTES);
	/* memory goes back at the end of a pass, not at every site in it */
	(void)mallopt(M_TRIM_THRESHOLD, TRIM_BYTES);
	bool good = open_descriptors(&loop, &error);
	if (good) {
		(void)notify("READY=1", NULL);
		pass(&loop);
	}
	while (good && !loop.ends && loop.fetcher != NULL)
		good = wait_once(&loop, &error);
	if (!good)
		say(error.text);
	(void)notify("STOPPING=1", NULL);
	fetcher_close(loop.fetcher);
	text_release(&loop.user_agent);
	text_release(&loop.last_trouble);
	if (loop.signals >= 0)
		(void)close(loop.signals);
	if (loop.timer >= 0)
		(void)close(loop.timer);
	return good ? 0 : (int)error.kind;
}

int
loop_once(struct keeper *keeper)
{
	struct text user_agent;
	struct error error = { 0 };
	struct pass_report report;
	struct fetcher *fetcher =
	    loop_open_fetcher(keeper, &user_agent, &error);
	struct pass_order order = { .fetcher = fetcher, .interrupt = -1 };
	bool good =
	    fetcher != NULL && pass_run(keeper, &order, &report, &error);
	if (good) {
		(void)fputs(text_string(&report.trouble), stderr);
		text_release(&report.trouble);
	} else {
		say(error.text);
	}
	fetcher_close(fetcher);
	text_release(&user_agent);
	return good ? 0 : (int)error.kind;
}
