/*
 * Times whole passes: fetch from a file, read, derive, judge, plan, store and
 * publish, with 20 jobs on one site. Usage: bench_pass CONFIG STATE NOW SITE
 * PRODUCT...; each job takes one of the products in turn.
 */
#include "service/loop.h"
#include "service/pass.h"

#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/resource.h>
#include <time.h>

enum { JOBS = 20, ROUNDS = 15 };

static double
cpu_milliseconds(void)
{
	struct timespec t;
	(void)clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
	return (double)t.tv_sec * 1e3 + (double)t.tv_nsec / 1e6;
}

static void
stop(const char *sentence)
{
	(void)fprintf(stderr, "bench_pass: %s\n", sentence);
	exit(1);
}

static void
queue_jobs(struct keeper *keeper, const char *site, char **products, int count)
{
	struct error error = { 0 };
	for (int i = 0; i < JOBS; i++) {
		char uid[40], name[LIMIT_NAME_BYTES + 1], empty[] = "";
		int64_t id;
		(void)snprintf(uid, sizeof uid, "bench-%d", i);
		(void)snprintf(name, sizeof name, "%s", site);
		struct stored_job job = { .uid = uid,
			.site = name,
			.dose = { { .product = products[i % count] } },
			.dose_count = 1,
			.after = INT64_MIN,
			.before = INT64_MAX,
			.priority = 1 + i % 9,
			.weeds = empty,
			.note = empty,
			.created = keeper->clock.at };
		if (!store_job_add(keeper->store, &job, &id, &error))
			stop(error.text);
	}
}

static int
compare_doubles(const void *left, const void *right)
{
	double a = *(const double *)left, b = *(const double *)right;
	return a < b ? -1 : a > b ? 1 : 0;
}

/* CPU milliseconds of one pass whose clock stands a minute later. */
static double
time_pass(
    struct keeper *keeper, struct fetcher *fetcher, struct pass_report *report)
{
	struct error error = { 0 };
	struct pass_order order = {
		.fetcher = fetcher, .fetch_all = true, .interrupt = -1
	};
	double before = cpu_milliseconds();
	keeper->clock.at += 60;
	if (!pass_run(keeper, &order, report, &error))
		stop(error.text);
	return cpu_milliseconds() - before;
}

static void
run(struct keeper *keeper)
{
	struct text user_agent;
	struct error error = { 0 };
	struct fetcher *fetcher =
	    loop_open_fetcher(keeper, &user_agent, &error);
	double took[ROUNDS];
	struct pass_report report = { .jobs = 0 };
	if (fetcher == NULL)
		stop(error.text);
	for (int i = 0; i < ROUNDS; i++) {
		took[i] = time_pass(keeper, fetcher, &report);
		text_release(&report.trouble);
	}
	double first = took[0];
	qsort(took, ROUNDS, sizeof took[0], compare_doubles);
	struct rusage usage;
	(void)getrusage(RUSAGE_SELF, &usage);
	(void)printf("one pass, 1 site x %zu jobs x 7 days (%zu slots): first "
		     "%.1f ms, then median %.1f ms of CPU; peak %ld kB "
		     "resident\n",
	    report.jobs, report.slots, first, took[ROUNDS / 2],
	    usage.ru_maxrss);
	fetcher_close(fetcher);
	text_release(&user_agent);
}

int
main(int argc, char **argv)
{
	static const struct zone utc = { 0 };
	struct clock clock = { .fixed = true };
	struct keeper keeper;
	struct text complaints;
	struct error error = { 0 };
	if (argc < 6)
		stop("usage: bench_pass CONFIG STATE NOW SITE PRODUCT...");
	(void)signal(SIGPIPE, SIG_IGN);
	text_init(&complaints, LIMIT_OUTPUT_BYTES);
	if (!civil_parse(argv[3], &utc, &clock.at, &error))
		stop(error.text);
	if (!keeper_init(&keeper, argv[1], argv[2], clock, &complaints))
		stop(text_string(&complaints));
	if (!keeper_open_store(&keeper, &error))
		stop(error.text);
	queue_jobs(&keeper, argv[4], argv + 5, argc - 5);
	run(&keeper);
	keeper_release(&keeper);
	text_release(&complaints);
	return 0;
}
