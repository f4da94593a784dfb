/*
 * What the bulk judge says of cases on standard input, for slow_judge.py. A
 * line is a command with numbers:
 *
 *   zone OFFSET [FROM OFFSET]...       seconds east of UTC, and each change
 *   series START CELLS
 *   column CONTINUOUS [CELLS VALUE]... runs of equal cells; "nan": unknown
 *   days [AT]...                       a days-since column of these records
 *   sun COLUMN                         which of them is the sun's height
 *   rule COLUMN FOLD ANCHOR SECONDS ANCHOR SECONDS BOUND LIMIT
 *                                      enums of turf/rule.h as numbers; column
 *                                      -1 is absent
 *   job DURATION NOW AFTER BEFORE      judges the rules since the last job
 *   end                                of the case
 *
 * A job is answered by a line with a letter for each start (g, n, u), one such
 * line for each rule (g, n, u; both: x), and the windows' first and last
 * starts. The rules of later jobs share the outlook of the earlier ones.
 */
#include "advice/facts.h"
#include "advice/window.h"
#include "base/memory.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { RULES_MAX = 128, COLUMNS_MAX = 32, RECORDS_MAX = 16 };

struct column {
	float *cell; /* owned */
	bool continuous;
};

struct one_case {
	struct zone zone;
	struct series series;
	struct outlook outlook;
	struct column column[COLUMNS_MAX];
	size_t columns;
	struct check check[RULES_MAX];
	size_t checks;
};

/* What is left of the line. */
struct words {
	char *rest;
	bool good;
};

static bool
more(const struct words *words)
{
	return words->rest[strspn(words->rest, " \n")] != '\0';
}

static int64_t
take_whole(struct words *words)
{
	char *end;
	int64_t value = strtoll(words->rest, &end, 10);
	words->good = words->good && end > words->rest;
	words->rest = end;
	return value;
}

static double
take_number(struct words *words)
{
	char *end;
	double value = strtod(words->rest, &end);
	words->good = words->good && end > words->rest;
	words->rest = end;
	return value;
}

static void
read_zone(struct one_case *one, struct words *words)
{
	struct zone *zone = &one->zone;
	*zone = (struct zone){ .name = "Test/Zone" };
	zone->span[zone->count++].offset = (int32_t)take_whole(words);
	while (more(words) && zone->count < ZONE_SPANS_MAX) {
		struct zone_span *span = &zone->span[zone->count++];
		span->from = take_whole(words);
		span->offset = (int32_t)take_whole(words);
	}
	zone->span[0].from = INT64_MIN;
}

static void
read_series(struct one_case *one, struct words *words)
{
	int64_t start = take_whole(words);
	int64_t cells = take_whole(words);
	series_init(&one->series, start, start + cells * SERIES_STEP);
	outlook_init(&one->outlook, &one->series, &one->zone);
}

static void
read_column(struct one_case *one, struct words *words)
{
	if (one->columns == COLUMNS_MAX) {
		words->good = false;
		return;
	}
	struct column *column = &one->column[one->columns++];
	column->cell = memory_array(one->series.count, sizeof *column->cell);
	column->continuous = take_whole(words) != 0;
	size_t at = 0;
	while (more(words) && words->good) {
		int64_t cells = take_whole(words);
		float value = (float)take_number(words);
		for (; cells > 0 && at < one->series.count; cells--)
			column->cell[at++] = value;
	}
	words->good = words->good && at == one->series.count;
}

static void
read_days(struct one_case *one, struct words *words)
{
	struct site site = { .name = "site", .zone = one->zone };
	struct product product = { .name = "product" };
	struct application applications[RECORDS_MAX] = { 0 };
	struct job job = { .site = &site };
	struct dose dose = { .product = &product };
	struct rule rule = { .measure = MEASURE_DAYS_SINCE };
	struct past past = { .application = applications };
	struct facts_question question = { &rule, &job, &dose, &past };
	while (more(words) && past.application_count < RECORDS_MAX) {
		struct application *record =
		    &applications[past.application_count++];
		record->site = site.name;
		record->product = product.name;
		record->at = take_whole(words);
	}
	if (one->columns == COLUMNS_MAX)
		words->good = false;
	else
		one->column[one->columns++].cell =
		    facts_column(&question, &one->series);
}

/* For the anchors at sunrise and sunset. */
static void
read_sun(struct one_case *one, struct words *words)
{
	int64_t column = take_whole(words);
	if (column < 0 || column >= (int64_t)one->columns) {
		words->good = false;
		return;
	}
	memcpy(series_column(&one->series, MEASURE_SUN_HEIGHT),
	    one->column[column].cell, one->series.count * sizeof(float));
	one->series.continuous[MEASURE_SUN_HEIGHT] = true;
}

static struct instant
take_instant(struct words *words)
{
	enum anchor anchor = (enum anchor)take_whole(words);
	return (struct instant){ anchor, (int32_t)take_whole(words) };
}

static void
read_rule(struct one_case *one, struct words *words)
{
	int64_t column = take_whole(words);
	if (one->checks == RULES_MAX || column >= (int64_t)one->columns) {
		words->good = false;
		return;
	}
	struct check *check = &one->check[one->checks++];
	*check = (struct check){ .rule = { .name = "rule",
				     .measure = MEASURE_AIR_TEMPERATURE,
				     .owner = "card",
				     .source = "" } };
	check->rule.fold = (enum fold)take_whole(words);
	check->rule.exposure.from = take_instant(words);
	check->rule.exposure.to = take_instant(words);
	check->rule.bound = (enum bound)take_whole(words);
	check->rule.limit = take_number(words);
	if (column >= 0) {
		check->column = one->column[column].cell;
		check->continuous = one->column[column].continuous;
	}
}

static void
print_verdicts(const struct one_case *one, const struct verdicts *verdicts)
{
	for (size_t i = 0; i < verdicts->count; i++)
		putchar("gnu"[verdict_at(verdicts, i)]);
	putchar('\n');
	for (size_t r = 0; r < one->checks; r++) {
		for (size_t i = 0; i < verdicts->count; i++)
			putchar("gnux"[verdict_broken(verdicts, i, r) +
				       2 * verdict_unknown(verdicts, i, r)]);
		putchar('\n');
	}
}

static void
answer_job(struct one_case *one, struct words *words)
{
	struct window_limits limits;
	struct verdicts verdicts = { 0 };
	size_t count;
	limits.duration = take_whole(words);
	limits.now = take_whole(words);
	limits.after = take_whole(words);
	limits.before = take_whole(words);
	judge(
	    &one->outlook, one->check, one->checks, limits.duration, &verdicts);
	print_verdicts(one, &verdicts);
	struct window *windows = windows_find(
	    &one->outlook, one->check, one->checks, &verdicts, &limits, &count);
	for (size_t i = 0; i < count; i++)
		printf("%s%" PRId64 " %" PRId64, i > 0 ? " " : "",
		    windows[i].first, windows[i].last);
	putchar('\n');
	free(windows);
	verdicts_release(&verdicts);
	one->checks = 0;
}

static void
end_case(struct one_case *one, struct words *words)
{
	(void)words;
	outlook_release(&one->outlook);
	series_release(&one->series);
	for (size_t i = 0; i < one->columns; i++)
		free(one->column[i].cell);
	*one = (struct one_case){ 0 };
}

static const struct command {
	const char *name;
	void (*read)(struct one_case *one, struct words *words);
} commands[] = {
	{ "zone ", read_zone },
	{ "series ", read_series },
	{ "column ", read_column },
	{ "days", read_days },
	{ "sun ", read_sun },
	{ "rule ", read_rule },
	{ "job ", answer_job },
	{ "end", end_case },
};

static bool
obey(struct one_case *one, char *line)
{
	for (size_t i = 0; i < sizeof commands / sizeof commands[0]; i++) {
		size_t length = strlen(commands[i].name);
		struct words words = { line + length, true };
		if (strncmp(line, commands[i].name, length) != 0)
			continue;
		commands[i].read(one, &words);
		return words.good && !more(&words);
	}
	return false;
}

int
main(void)
{
	struct one_case one = { 0 };
	char *line = NULL;
	size_t room = 0;
	bool good = true;
	while (good && getline(&line, &room, stdin) > 0)
		good = obey(&one, line);
	if (!good)
		fprintf(stderr, "print_verdicts: '%.60s'?\n", line);
	free(line);
	return good ? 0 : 2;
}
