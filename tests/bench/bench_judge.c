/*
 * How fast the heart judges. Prints a table and asserts nothing.
 *
 * A job-step is one possible start of one job, judged by all 12 rules of the
 * yardstick. Case A is a keeper's week: one site, 20 jobs. Case B is a large
 * operator: 10,000 sites with 10 jobs each. Every site has its own outlook,
 * so the folds are paid anew for each. `bench_judge N` takes N sites instead.
 */
#include "advice/derive.h"
#include "advice/window.h"
#include "unit/heart.h"

#include <malloc.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/resource.h>
#include <time.h>

enum { CELLS = 672, RULES = 12, PATTERNS = 2048, JOBS_MAX = 20 };

/* The columns that the yardstick looks at, one for each rule. */
static const enum measure yardstick[RULES] = { MEASURE_AIR_TEMPERATURE,
	MEASURE_AIR_TEMPERATURE, MEASURE_WIND, MEASURE_WIND, MEASURE_GUST,
	MEASURE_DELTA_T, MEASURE_DELTA_T, MEASURE_SUN_HEIGHT, MEASURE_WET,
	MEASURE_WET, MEASURE_AIR_TEMPERATURE, MEASURE_DORMANT };

struct bench_job {
	struct check check[RULES]; /* tied to one site's series at a time */
	int64_t duration;
};

/* Seconds spent, by stage. */
struct spent {
	double whole, folds, judge, windows, read;
};

/* Time of this process alone: the machine may be busy with other things. */
static double
seconds_now(void)
{
	struct timespec now;
	(void)clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
	return (double)now.tv_sec + (double)now.tv_nsec * 1e-9;
}

/* A day's wave with some noise. */
static void
draw_wave(struct series *series, enum measure measure, double mean,
    double swing, uint64_t *seed)
{
	float *column = series_column(series, measure);
	double lift = draw_from(seed, -40, 40) / 40.0 * swing / 2;
	for (size_t i = 0; i < series->count; i++)
		column[i] = (float)(mean + lift +
				    swing * sin((double)i / 96 * 6.2832 - 2) +
				    draw_from(seed, -20, 20) / 40.0);
}

static void
draw_series(struct series *series, uint64_t *seed)
{
	int64_t start = 1775433600; /* 2026-04-06 00:00 UTC */
	series_init(series, start, start + cells(CELLS));
	draw_wave(series, MEASURE_AIR_TEMPERATURE, 22, 7, seed);
	draw_wave(series, MEASURE_WIND, 3.5, 2, seed);
	draw_wave(series, MEASURE_GUST, 5, 3, seed);
	draw_wave(series, MEASURE_DELTA_T, 5, 4, seed);
	draw_wave(series, MEASURE_SUN_HEIGHT, 0, 60, seed);
	series->continuous[MEASURE_SUN_HEIGHT] = true;
	series->continuous[MEASURE_AIR_TEMPERATURE] = true;
	fill(series, MEASURE_DORMANT, 0);
	float *wet = series_column(series, MEASURE_WET);
	for (size_t i = 0; i < CELLS; i++)
		wet[i] = 0;
	for (int shower = draw_from(seed, 0, 4); shower > 0; shower--) {
		size_t from = (size_t)draw_from(seed, 0, CELLS - 25);
		for (size_t i = from; i < from + 24; i++)
			wet[i] = 1;
	}
	/* The last hours of a forecast often lack the gust. */
	float *gust = series_column(series, MEASURE_GUST);
	for (size_t i = CELLS - 48; i < CELLS; i++)
		gust[i] = NAN;
}

static void
add(struct bench_job *job, size_t r, enum fold fold, struct exposure exposure,
    enum bound bound, double limit)
{
	job->check[r].rule =
	    rule_of(yardstick[r], fold, exposure, bound, limit);
}

/* Limits like those of cards and guidance: common practice, no source. */
static void
make_job(struct bench_job *job, int number)
{
	double shift = number % 5;
	int dry = 4 << number % 4; /* 4, 8, 16 or 32 h, the last cut to 24 */
	struct exposure rain_free =
	    after_end((dry > 24 ? 24 : dry) * (int)HOUR);
	job->duration = number % 2 == 0 ? 2700 : 5400;
	size_t r = 0;
	add(job, r++, FOLD_MAX, during, BOUND_BELOW, 29.4 - shift);
	add(job, r++, FOLD_MIN, during, BOUND_AT_LEAST, 10 + shift);
	add(job, r++, FOLD_MIN, during, BOUND_AT_LEAST, 1.34);
	add(job, r++, FOLD_MAX, during, BOUND_AT_MOST, 4.47 + shift / 10);
	add(job, r++, FOLD_MAX, during, BOUND_AT_MOST, 6.7);
	add(job, r++, FOLD_MIN, during, BOUND_AT_LEAST, 2);
	add(job, r++, FOLD_MAX, during, BOUND_AT_MOST, 8 + shift / 4);
	add(job, r++, FOLD_MIN, during, BOUND_AT_LEAST, -0.83);
	add(job, r++, FOLD_ANY, before_start(2 * HOUR), BOUND_AT_MOST, 0);
	add(job, r++, FOLD_ANY, rain_free, BOUND_AT_MOST, 0);
	add(job, r++, FOLD_MAX, that_day, BOUND_BELOW, 32.2 - shift);
	add(job, r, FOLD_ANY, during, BOUND_AT_MOST, 0);
}

struct workload {
	struct series pattern[PATTERNS];
	struct bench_job job[JOBS_MAX];
	struct verdicts verdicts[JOBS_MAX];
	struct zone zone;
	size_t sites, jobs;
	size_t windows; /* found, so that nothing is optimised away */
	double sum;
};

static const struct series *
series_of(const struct workload *bench, size_t site)
{
	return &bench->pattern[(site + 1) % PATTERNS];
}

/* Ties every job's rules to the site's columns; not a part of the judging. */
static void
tie(struct workload *bench, const struct series *series)
{
	for (size_t j = 0; j < bench->jobs; j++)
		for (size_t r = 0; r < RULES; r++)
			bench->job[j].check[r] =
			    check_of(series, bench->job[j].check[r].rule);
}

static void
judge_all(struct workload *bench, struct outlook *outlook)
{
	for (size_t j = 0; j < bench->jobs; j++)
		judge(outlook, bench->job[j].check, RULES,
		    bench->job[j].duration, &bench->verdicts[j]);
}

static void
find_windows(struct workload *bench, struct outlook *outlook, size_t j)
{
	struct window_limits limits = { .now = outlook->series->start,
		.after = INT64_MIN,
		.before = INT64_MAX,
		.duration = bench->job[j].duration };
	size_t count = 0;
	struct window *windows = windows_find(outlook, bench->job[j].check,
	    RULES, &bench->verdicts[j], &limits, &count);
	bench->windows += count;
	free(windows);
}

/* The whole of a site as the service does it: outlook, folds, judge. */
static void
time_whole(struct workload *bench, struct spent *spent)
{
	struct outlook outlook;
	for (size_t s = 0; s < bench->sites; s++) {
		const struct series *series = series_of(bench, s);
		tie(bench, series);
		double start = seconds_now();
		outlook_init(&outlook, series, &bench->zone);
		judge_all(bench, &outlook);
		outlook_release(&outlook);
		spent->whole += seconds_now() - start;
	}
}

static void
fold_all(struct workload *bench, struct outlook *outlook)
{
	for (size_t j = 0; j < bench->jobs; j++)
		for (size_t r = 0; r < RULES; r++) {
			const struct check *check = &bench->job[j].check[r];
			(void)outlook_fold(outlook, check->column,
			    check->continuous, check->rule.fold,
			    &check->rule.exposure, bench->job[j].duration);
		}
}

/* The same in stages; each asks for the folds, so they count a little more. */
static void
time_stages(struct workload *bench, struct spent *spent)
{
	struct outlook outlook;
	for (size_t s = 0; s < bench->sites; s++) {
		const struct series *series = series_of(bench, s);
		tie(bench, series);
		double start = seconds_now();
		outlook_init(&outlook, series, &bench->zone);
		fold_all(bench, &outlook);
		double folded = seconds_now();
		judge_all(bench, &outlook);
		double judged = seconds_now();
		for (size_t j = 0; j < bench->jobs; j++)
			find_windows(bench, &outlook, j);
		double found = seconds_now();
		outlook_release(&outlook);
		spent->folds += folded - start + seconds_now() - found;
		spent->judge += judged - folded;
		spent->windows += found - judged;
	}
}

/* The floor under it all: one addition for each cell that the rules look at. */
static inline void
add_eight(float sum[8], const float *cells)
{
	for (size_t k = 0; k < 8; k++)
		sum[k] += cells[k];
}

static double
time_read(struct workload *bench)
{
	double start = seconds_now();
	for (size_t s = 0; s < bench->sites; s++)
		for (size_t j = 0; j < bench->jobs; j++)
			for (size_t r = 0; r < RULES; r++) {
				const float *column =
				    series_of(bench, s)->column[yardstick[r]];
				float sum[8] = { 0 };
				for (size_t i = 0; i < CELLS; i += 8)
					add_eight(sum, column + i);
				bench->sum += sum[0] > 1e6F ? 1 : 0;
			}
	return seconds_now() - start;
}

/* What a site pays once for each forecast, before any job is judged. */
static void
time_derive(struct workload *bench)
{
	enum { TIMES = 200 };
	struct site site = { .name = "front",
		.latitude = 29.5,
		.longitude = -98.5,
		.zone = bench->zone,
		.rain_chance = 30,
		.told_holds = 86400 };
	double spent = 0;
	for (size_t n = 0; n < TIMES; n++) {
		struct series series;
		int64_t start = bench->pattern[0].start;
		series_init(&series, start, start + cells(CELLS));
		fill(&series, MEASURE_AIR_TEMPERATURE, 25);
		fill(&series, MEASURE_HUMIDITY, 60);
		fill(&series, MEASURE_RAIN_CHANCE, 10);
		double before = seconds_now();
		derive(&series, &site, NULL);
		spent += seconds_now() - before;
		series_release(&series);
	}
	printf("derived columns      %8.1f us/site\n", spent / TIMES * 1e6);
}

static void
run(struct workload *bench, const char *name, size_t sites, size_t jobs)
{
	struct spent spent = { 0 };
	bench->sites = sites;
	bench->jobs = jobs;
	bench->windows = 0;
	time_whole(bench, &spent);
	time_stages(bench, &spent);
	spent.read = time_read(bench);
	double steps = (double)(sites * jobs * CELLS);
	double staged = spent.folds + spent.judge;
	printf("%-4s %7zu sites x %zu jobs x %d cells = %.2e job-steps\n", name,
	    sites, jobs, CELLS, steps);
	printf("     judge with folds   %8.3f ns/job-step\n",
	    spent.whole / steps * 1e9);
	printf(
	    "     share of folds     %8.1f %%\n", spent.folds / staged * 100);
	printf("     folds alone        %8.3f ns/job-step\n",
	    spent.folds / steps * 1e9);
	printf("     judge alone        %8.3f ns/job-step\n",
	    spent.judge / steps * 1e9);
	printf("     windows            %8.3f ns/job-step (%zu windows)\n",
	    spent.windows / steps * 1e9, bench->windows);
	printf("     job-hours judged   %8.1f million/s\n",
	    steps / 4 / spent.whole / 1e6);
	printf("     plain read         %8.3f ns/job-step; judge is %.2f x\n",
	    spent.read / steps * 1e9, spent.whole / spent.read);
}

int
main(int argc, char **argv)
{
	struct workload *bench = calloc(1, sizeof *bench);
	uint64_t seed = 1;
	size_t sites = argc > 1 ? strtoul(argv[1], NULL, 10) : 10000;
	if (bench == NULL)
		return 3;
	(void)mallopt(M_TRIM_THRESHOLD, 64 * 1024 * 1024); /* as lulld does */
	bench->zone = chicago();
	for (size_t p = 0; p < PATTERNS; p++)
		draw_series(&bench->pattern[p], &seed);
	for (int j = 0; j < JOBS_MAX; j++)
		make_job(&bench->job[j], j);
	run(bench, "A", 1, 20);
	run(bench, "A", 1, 20); /* warm */
	run(bench, "B", sites, 10);
	time_derive(bench);
	struct rusage usage;
	(void)getrusage(RUSAGE_SELF, &usage);
	printf("peak memory %.1f MB (%g)\n", (double)usage.ru_maxrss / 1024,
	    bench->sum);
	for (size_t p = 0; p < PATTERNS; p++)
		series_release(&bench->pattern[p]);
	for (size_t j = 0; j < JOBS_MAX; j++)
		verdicts_release(&bench->verdicts[j]);
	free(bench);
	return 0;
}
