/*
 * The program that crash_store.py kills.
 *
 *   crash_store write FILE ROUND   adds without end; a line to standard output
 *                                  after each commit says what must survive
 *   crash_store check FILE         the lines on standard input must be true
 *   crash_store full FOLDER        fills the file system of FOLDER
 *
 * check and full print what is wrong and exit with 1.
 */
#include "oracle/crash_content.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum { FILLER = 300000, FULL_MAX = 10000 };

static bool
report(const struct error *error)
{
	(void)printf("%s\n", error->text);
	return false;
}

static bool
add_parts(struct store *store, struct parcel *parcel, struct error *error)
{
	struct stored_record *record = &parcel->record[0].record;
	if (!store_job_add(store, &parcel->job, &parcel->job.id, error))
		return false;
	parcel->slot.job = record->job = parcel->job.id;
	return store_slot_put(store, &parcel->slot, error) &&
	       store_record_add(store, record, &record->id, error) &&
	       store_document_add(
		   store, ADDRESS, &parcel->document, parcel->body, error);
}

/* One transaction. The parcel is that of the number and knows its ids. */
static bool
add_parcel(struct store *store, int64_t number, struct parcel *parcel,
    struct error *error)
{
	fill_parcel(parcel, number);
	if (!store_begin(store, error))
		return false;
	if (!add_parts(store, parcel, error)) {
		store_rollback(store);
		return false;
	}
	return store_commit(store, error);
}

/* One write, so that a kill cannot cut the line in its middle. */
static bool
acknowledge(const char *what, int64_t number, int64_t id)
{
	char line[96];
	int length = snprintf(line, sizeof line, "%s %" PRId64 " %" PRId64 "\n",
	    what, number, id);
	return write(STDOUT_FILENO, line, (size_t)length) == length;
}

/* Each a write of its own, as a program would make it. */
static bool
add_corrections(struct store *store, struct parcel *parcel, struct error *error)
{
	for (size_t i = 1; i < parcel->records; i++) {
		struct stored_record *record = &parcel->record[i].record;
		record->job = parcel->job.id;
		record->replaces = parcel->record[i - 1].record.id;
		if (!store_record_add(store, record, &record->id, error) ||
		    !acknowledge("corrected", record->created, record->id))
			return false;
	}
	return true;
}

static bool
add_shed(struct store *store, struct parcel *parcel, struct error *error)
{
	int64_t number = parcel->calibration.at;
	int64_t id = 0;
	return store_calibration_add(store, &parcel->calibration, &id, error) &&
	       acknowledge("caught", number, id) &&
	       store_solution_add(store, &parcel->solution, &id, error) &&
	       acknowledge("made", number, id);
}

static bool
write_on(struct store *store, int64_t first, struct error *error)
{
	for (int64_t number = first;; number++) {
		struct parcel parcel;
		struct stored_entry entry = { "slot", 7, (int)number, 1 };
		if (!add_parcel(store, number, &parcel, error) ||
		    !acknowledge("added", number, parcel.job.id) ||
		    !add_corrections(store, &parcel, error) ||
		    !add_shed(store, &parcel, error) ||
		    !store_entry_put(store, &entry, error) ||
		    !acknowledge("entry", number, 0))
			return false;
		if (number % 3 != 0)
			continue;
		if (!store_job_finish(
			store, parcel.job.id, STORED_DONE, error) ||
		    !acknowledge("finished", number, parcel.job.id))
			return false;
	}
}

static bool
check_lines(const struct content *content, FILE *lines)
{
	char line[96];
	while (fgets(line, sizeof line, lines) != NULL) {
		char *rest = strchr(line, ' ');
		if (rest == NULL)
			return complain("a line without a number", 0);
		*rest++ = '\0';
		int64_t number = strtoll(rest, &rest, 10);
		int64_t id = strtoll(rest, NULL, 10);
		if (!is_kept(content, line, number, id))
			return complain(line, number);
	}
	return true;
}

static bool
check(struct store *store, FILE *lines, struct error *error)
{
	struct content content = { 0 };
	bool good = load(store, &content, error)
			? is_whole(&content) && check_lines(&content, lines)
			: report(error);
	if (good)
		(void)printf("%zu\n", content.job_count + content.record_count +
					  content.calibration_count +
					  content.solution_count);
	release(&content);
	return good;
}

static bool
make_filler(const char *path)
{
	static const char zeros[FILLER];
	FILE *file = fopen(path, "w");
	if (file == NULL)
		return complain("no filler", 0);
	bool good = fwrite(zeros, 1, FILLER, file) == FILLER;
	return fclose(file) == 0 && good;
}

static bool
is_full(const struct error *error, const char *path)
{
	char wanted[400];
	(void)snprintf(
	    wanted, sizeof wanted, "%s: database or disk is full", path);
	return strcmp(error->text, wanted) == 0 || report(error);
}

/* Adds until the disk is full, twice, then makes room and adds again. The
   acknowledgements go to `lines`. */
static bool
overfill(struct store *store, const char *path, const char *filler, FILE *lines)
{
	struct error error = { 0 };
	struct parcel parcel;
	int64_t number = 1;
	while (
	    number < FULL_MAX && add_parcel(store, number, &parcel, &error)) {
		(void)fprintf(lines, "added %" PRId64 " %" PRId64 "\n", number,
		    parcel.job.id);
		number++;
	}
	if (number == FULL_MAX || number < 3)
		return complain("the disk was not filled as meant", number);
	if (!is_full(&error, path))
		return false;
	/* Smaller parcels may still fit; a large one may not. */
	while (number * 7919 % BODY_MAX < BODY_MAX / 2)
		number++;
	if (add_parcel(store, number, &parcel, &error))
		return complain("a full disk took a large parcel", number);
	if (!is_full(&error, path) || unlink(filler) != 0)
		return false;
	if (!add_parcel(store, number, &parcel, &error))
		return report(&error);
	(void)fprintf(
	    lines, "added %" PRId64 " %" PRId64 "\n", number, parcel.job.id);
	return true;
}

/* The same, and a look at all of it after the file was opened again. */
static bool
fill_disk(const char *folder)
{
	char path[300];
	char filler[300];
	struct error error = { 0 };
	(void)snprintf(path, sizeof path, "%s/lull.db", folder);
	(void)snprintf(filler, sizeof filler, "%s/filler", folder);
	FILE *lines = tmpfile();
	struct store *store = store_open(path, &error);
	bool good = lines != NULL && store != NULL && make_filler(filler) &&
		    overfill(store, path, filler, lines);
	if (store == NULL)
		(void)report(&error);
	store_close(store);
	store = good ? store_open(path, &error) : NULL;
	if (store != NULL) {
		rewind(lines);
		good = check(store, lines, &error);
	}
	store_close(store);
	if (lines != NULL)
		(void)fclose(lines);
	return good && store != NULL;
}

int
main(int count, char **arguments)
{
	struct error error = { 0 };
	bool good = false;
	if (count == 3 && strcmp(arguments[1], "full") == 0)
		return fill_disk(arguments[2]) ? 0 : 1;
	if (count < 3)
		return 2;
	struct store *store = store_open(arguments[2], &error);
	if (store == NULL)
		(void)report(&error);
	else if (strcmp(arguments[1], "check") == 0)
		good = check(store, stdin, &error);
	else if (count == 4 && strcmp(arguments[1], "write") == 0)
		good = write_on(store, strtoll(arguments[3], NULL, 10), &error);
	store_close(store);
	return good ? 0 : 1;
}
