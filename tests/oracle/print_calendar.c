/*
 * Prints a calendar of awkward entries for the outside checks:
 *   print_calendar            the calendar as calendar_write makes it
 *   print_calendar --expect   one JSON line per entry: what a reader must get
 *   print_calendar --empty    a calendar without entries
 * The expected texts are written out here by hand, apart from the code that
 * cleans them.
 */
#include "base/limits.h"
#include "base/memory.h"
#include "calendar/compose.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { SAMPLES_MAX = 64, LONG_BYTES = 3000 };

struct sample {
	struct entry entry;
	const char *summary, *description; /* wanted; NULL: as in the entry */
	const char *category;              /* the first one wanted, or NULL */
};

struct samples {
	struct sample item[SAMPLES_MAX];
	size_t count;
	char uid[SAMPLES_MAX][32];
	char text[SAMPLES_MAX][256];
	char essay[LONG_BYTES + 1];
	struct composed task; /* the strings of one entry */
};

static const struct calendar_head head = {
	.name = "Lawns, front; back\\side \xF0\x9F\x8C\xB1",
	.description = "Windows for the queue,\nas of the last pass",
	.refresh = 5400,
	.revised = 1772434800,
};

static const struct sample fixed[] = {
	{ { .sequence = 2,
	      .revised = 1772366400,
	      .from = 1772434800,
	      .to = 1772443800,
	      .summary = "GO: front lawn, 7:00",
	      .description = "Dry until noon\nWind 5 mph; gust 8\nKeep off",
	      .categories = { "GO", "front lawn" },
	      .status = ENTRY_CONFIRMED,
	      .has_place = true,
	      .latitude = 29.424122,
	      .longitude = -98.493629,
	      .alarm = { { 86400, "tomorrow" }, { 5400, "a,b;c\\d" },
		  { 0, "now" } },
	      .alarm_count = 3 },
	    NULL, NULL, NULL },
	{ { .revised = 1772366400,
	      .all_day = true,
	      .from = 20512, /* 28 February 2026 */
	      .to = 20513,
	      .summary = "Look at the weeds",
	      .alarm = { { 3600, "soon" } },
	      .alarm_count = 1 },
	    NULL, NULL, NULL },
	{ { .sequence = 41,
	      .revised = 4102444799,
	      .from = 1709164800, /* 29 February 2024 */
	      .to = 1709251199,
	      .summary = "a,b;c\\d\\n\"e\":f \\, \\; ^n",
	      .description = "\\n is not a break\n, ; : \" \\\\ %0A &amp; <b>",
	      .categories = { "a,b;c" },
	      .has_place = true,
	      .latitude = -33.5,
	      .longitude = 151 },
	    NULL, NULL, "a/b/c" },
	{ { .from = 0,
	      .to = 1,
	      .summary = "one\r\ntwo\rthree\n four",
	      .description = "one\r\ntwo\rthree\n\n  four\r\n\r\n" },
	    "one two three four", "one\ntwo\nthree\n\n  four", NULL },
	{ { .revised = 1,
	      .from = 1772434800,
	      .to = 1772438400,
	      .summary = "\x01 bell\a tab\t esc\x1b[0m del\x7f \xC2\x85 end",
	      .description = "x\r\nEND:VEVENT\r\nBEGIN:VEVENT\x0B\x0C.",
	      .categories = { "\a", "\x1bred" } },
	    "bell tab esc[0m del end", "x\nEND:VEVENT\nBEGIN:VEVENT.", "red" },
	{ { .revised = 1,
	      .from = 1772434800,
	      .to = 1772438400,
	      .summary = "bad \xFF\xC0 cut \xF0\x9F",
	      .description = "\xED\xA0\x80" },
	    "bad \xEF\xBF\xBD\xEF\xBF\xBD cut \xEF\xBF\xBD\xEF\xBF\xBD",
	    "\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD", NULL },
};

static struct sample *
add(struct samples *samples, const struct sample *sample)
{
	size_t index = samples->count++;
	struct sample *item = &samples->item[index];
	*item = *sample;
	(void)snprintf(samples->uid[index], sizeof(samples->uid[index]),
	    "lull-sample-%zu", index + 1);
	item->entry.uid = samples->uid[index];
	return item;
}

/* Emoji, escapes and word ends at each column around the fold. */
static void
add_folds(struct samples *samples)
{
	static const char *const tail[] = { "\xF0\x9F\x8C\xB1\xF0\x9F\x92\xA7",
		"\xC3\xA9\xE2\x82\xAC,;\\" };
	for (size_t column = 70; column <= 80; column++) {
		size_t dots = column - strlen("SUMMARY:");
		for (size_t i = 0; i < 2; i++) {
			struct sample plain = { .entry = fixed[1].entry };
			char *text = samples->text[samples->count];
			memset(text, '.', dots);
			(void)snprintf(text + dots, 128, "%s word %s%s",
			    tail[i], tail[1 - i], tail[i]);
			plain.entry.summary = text;
			add(samples, &plain);
		}
	}
}

static void
add_essay(struct samples *samples)
{
	static const char part[] = "Rain-free 6 h: ok, wind 5 mph; gusts \\8\n";
	for (size_t i = 0; i < LONG_BYTES; i++)
		samples->essay[i] = part[i % (sizeof(part) - 1)];
	samples->essay[LONG_BYTES - 1] = '.';
	struct sample essay = { .entry = fixed[0].entry };
	essay.entry.description = samples->essay;
	add(samples, &essay);
}

/* A task as it is composed: days, a place, an alarm, lines of text. */
static void
add_task(struct samples *samples)
{
	static const struct site site = { .name = "front lawn",
		.latitude = 29.424122,
		.longitude = -98.493629 };
	static const struct product product = { .name = "pre-c",
		.label = "label, page 2; \"water in\"" };
	static const struct water_ledger ledger = { .state = WATER_SHORT,
		.opens = 1773140400, /* 10 March 2026, 11:00 */
		.closes = 1774396800,
		.task_day = 20534, /* 22 March */
		.last_day = 20536,
		.needed = 12.7,
		.rain = 5.08,
		.missing = 7.62 };
	const struct compose_water facts = { "record-1", 0, &site, &product,
		1773140400, &ledger, "Forecast: nobody" };
	const struct compose_style style = { UNITS_US, 68400, 0 };
	compose_irrigate(&facts, &style, &samples->task);
	struct sample task = { .entry = samples->task.entry,
		.summary = "IRRIGATE: front lawn, pre-c: 0.3 in by Tue 24 Mar",
		.category = "IRRIGATE" };
	add(samples, &task);
}

static void
print_string(const char *name, const char *string)
{
	printf("\"%s\": \"", name);
	for (const char *at = string; *at != '\0'; at++) {
		unsigned char byte = (unsigned char)*at;
		if (byte < 0x20 || byte == '"' || byte == '\\')
			printf("\\u%04x", byte);
		else
			putchar(byte);
	}
	printf("\", ");
}

static void
print_categories(const struct sample *sample)
{
	const char *comma = "";
	printf("\"categories\": [");
	for (size_t i = 0; i < ENTRY_CATEGORIES_MAX; i++) {
		const char *category = sample->entry.categories[i];
		if (category == NULL || (sample->category != NULL && i > 0))
			break;
		printf("%s\"%s\"", comma,
		    sample->category == NULL ? category : sample->category);
		comma = ", ";
	}
	printf("], ");
}

static void
print_expected(const struct sample *sample)
{
	const struct entry *entry = &sample->entry;
	const char *description = sample->description != NULL
				      ? sample->description
				      : entry->description;
	printf("{");
	print_string("uid", entry->uid);
	print_string("summary",
	    sample->summary != NULL ? sample->summary : entry->summary);
	print_string("description", description == NULL ? "" : description);
	print_string("status",
	    entry->status == ENTRY_CONFIRMED ? "CONFIRMED" : "TENTATIVE");
	print_categories(sample);
	printf("\"all_day\": %s, \"from\": %lld, \"to\": %lld, ",
	    entry->all_day ? "true" : "false", (long long)entry->from,
	    (long long)entry->to);
	printf("\"sequence\": %d, \"revised\": %lld, ", entry->sequence,
	    (long long)entry->revised);
	if (entry->has_place)
		printf("\"place\": [%.6f, %.6f], ", entry->latitude,
		    entry->longitude);
	printf("\"triggers\": [");
	for (size_t i = 0; i < entry->alarm_count; i++)
		printf("%s-%d", i == 0 ? "" : ", ", entry->alarm[i].before);
	printf("]}\n");
}

static int
print_calendar(const struct samples *samples)
{
	struct entry *entries = memory_array(SAMPLES_MAX, sizeof(*entries));
	for (size_t i = 0; i < samples->count; i++)
		entries[i] = samples->item[i].entry;
	struct text text;
	struct error error = { 0 };
	text_init(&text, LIMIT_CALENDAR_BYTES);
	bool done =
	    calendar_write(&head, entries, samples->count, &text, &error);
	if (done)
		(void)fwrite(text.data, 1, text.length, stdout);
	else
		(void)fprintf(stderr, "print_calendar: %s\n", error.text);
	text_release(&text);
	free(entries);
	calendar_finish();
	return done && fflush(stdout) == 0 ? 0 : 3;
}

static void
add_all(struct samples *samples)
{
	for (size_t i = 0; i < sizeof(fixed) / sizeof(fixed[0]); i++)
		add(samples, &fixed[i]);
	add_folds(samples);
	add_essay(samples);
	add_task(samples);
}

int
main(int argc, char **argv)
{
	const char *how = argc > 1 ? argv[1] : "";
	struct samples *samples = memory_array(1, sizeof(*samples));
	int code = 0;
	if (strcmp(how, "--empty") != 0)
		add_all(samples);
	if (strcmp(how, "--expect") != 0)
		code = print_calendar(samples);
	else
		for (size_t i = 0; i < samples->count; i++)
			print_expected(&samples->item[i]);
	composed_release(&samples->task);
	free(samples);
	return fflush(stdout) == 0 ? code : 3;
}
