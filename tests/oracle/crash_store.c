/*
 * The program that crash_store.py kills.
 *
 *   crash_store write FILE ROUND   adds without end; a line to standard output
 *                                  after each commit says what must survive
 *   crash_store check FILE         the lines on standard input must be true
 *   crash_store full FOLDER        fills the file system of FOLDER
 *
 * Everything that is written follows from a number, so that what is read back
 * can be compared byte for byte. check and full print what is wrong and exit
 * with 1.
 */
#include "store/store.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum { BODY_MAX = 20000, FILLER = 300000, FULL_MAX = 10000 };

#define ADDRESS "https://forecast.example/grid"

/* All that one transaction adds. */
struct parcel {
	char uid[40];
	char text[120];
	char body[BODY_MAX];
	struct stored_job job;
	struct stored_record record;
	struct stored_slot slot;
	struct stored_document document;
};

static bool
complain(const char *what, int64_t number)
{
	(void)printf("%s (%" PRId64 ")\n", what, number);
	return false;
}

static bool
report(const struct error *error)
{
	(void)printf("%s\n", error->text);
	return false;
}

static void
fill_parcel(struct parcel *parcel, int64_t number)
{
	*parcel = (struct parcel){ 0 };
	(void)snprintf(parcel->uid, sizeof parcel->uid, "job-%" PRId64, number);
	(void)snprintf(parcel->text, sizeof parcel->text,
	    "Gr\xc3\xbc\xc3\x9f 'no' \"%" PRId64 "\"\n", number * 977);
	size_t count = (size_t)(number % LIMIT_TANK_PRODUCTS) + 1;
	size_t length = (size_t)(number * 7919 % BODY_MAX);
	/* Numbers that look random (a linear congruence) cannot be packed. */
	uint32_t noise = (uint32_t)number;
	for (size_t i = 0; i < length; i++) {
		noise = noise * 1664525U + 1013904223U;
		parcel->body[i] = (char)(noise >> 24);
	}
	parcel->job = (struct stored_job){ .uid = parcel->uid,
		.site = parcel->text,
		.dose_count = count,
		.after = number,
		.before = INT64_MAX,
		.weeds = "",
		.note = parcel->text };
	parcel->record = (struct stored_record){ .site = parcel->text,
		.amount_count = count,
		.from = number,
		.to = number + 60,
		.note = parcel->uid };
	for (size_t i = 0; i < count; i++) {
		parcel->job.dose[i].product = parcel->text;
		parcel->record.amount[i].product = parcel->text;
		parcel->record.amount[i].amount = (double)number / 8;
	}
	parcel->slot = (struct stored_slot){ 0, number, number + 60, 1 };
	parcel->document = (struct stored_document){
		.fetched = number, .issued = 1, .length = length
	};
}

static bool
add_parts(struct store *store, struct parcel *parcel, struct error *error)
{
	int64_t record = 0;
	if (!store_job_add(store, &parcel->job, &parcel->slot.job, error))
		return false;
	parcel->record.job = parcel->slot.job;
	return store_slot_put(store, &parcel->slot, error) &&
	       store_record_add(store, &parcel->record, &record, error) &&
	       store_document_add(
		   store, ADDRESS, &parcel->document, parcel->body, error);
}

/* One transaction; *ret_job is the id of its job. */
static bool
add_parcel(
    struct store *store, int64_t number, int64_t *ret_job, struct error *error)
{
	struct parcel parcel;
	fill_parcel(&parcel, number);
	if (!store_begin(store, error))
		return false;
	if (!add_parts(store, &parcel, error)) {
		store_rollback(store);
		return false;
	}
	if (!store_commit(store, error))
		return false;
	*ret_job = parcel.slot.job;
	return true;
}

/* One write, so that a kill cannot cut the line in its middle. */
static bool
acknowledge(const char *what, int64_t number, int64_t job)
{
	char line[96];
	int length = snprintf(line, sizeof line, "%s %" PRId64 " %" PRId64 "\n",
	    what, number, job);
	return write(STDOUT_FILENO, line, (size_t)length) == length;
}

static bool
write_on(struct store *store, int64_t first, struct error *error)
{
	for (int64_t number = first;; number++) {
		int64_t job = 0;
		struct stored_entry entry = { "slot", 7, (int)number, 1 };
		if (!add_parcel(store, number, &job, error) ||
		    !acknowledge("added", number, job) ||
		    !store_entry_put(store, &entry, error) ||
		    !acknowledge("entry", number, 0))
			return false;
		if (number % 3 != 0)
			continue;
		if (!store_job_finish(store, job, STORED_DONE, error) ||
		    !acknowledge("finished", number, job))
			return false;
	}
}

/* Everything in the store, in arrays by number. */
struct content {
	struct store *store; /* borrowed; for the bodies of documents */
	struct stored_job *jobs;
	struct stored_record *records;
	struct stored_slot *slots;
	struct stored_document *documents;
	struct stored_entry *entries;
	size_t job_count, record_count, slot_count, document_count, entry_count;
};

static bool
load(struct store *store, struct content *ret, struct error *error)
{
	static const struct stored_span always = { 0, INT64_MAX };
	ret->store = store;
	return store_check(store, error) &&
	       store_jobs(store, false, &ret->jobs, &ret->job_count, error) &&
	       store_records(store, &ret->records, &ret->record_count, error) &&
	       store_slots(store, &ret->slots, &ret->slot_count, error) &&
	       store_documents(store, ADDRESS, always, &ret->documents,
		   &ret->document_count, error) &&
	       store_entries(store, &ret->entries, &ret->entry_count, error);
}

static void
release(struct content *content)
{
	stored_jobs_free(content->jobs, content->job_count);
	stored_records_free(content->records, content->record_count);
	free(content->slots);
	stored_documents_free(content->documents, content->document_count);
	stored_entries_free(content->entries, content->entry_count);
}

static bool
is_job_whole(const struct stored_job *job, const struct parcel *wanted)
{
	if (strcmp(job->uid, wanted->uid) != 0 ||
	    strcmp(job->site, wanted->text) != 0 ||
	    strcmp(job->note, wanted->text) != 0 ||
	    job->dose_count != wanted->job.dose_count)
		return false;
	for (size_t i = 0; i < job->dose_count; i++)
		if (strcmp(job->dose[i].product, wanted->text) != 0)
			return false;
	return true;
}

static bool
is_record_whole(const struct stored_record *record, int64_t job,
    const struct parcel *wanted)
{
	if (strcmp(record->note, wanted->uid) != 0 || record->job != job ||
	    strcmp(record->site, wanted->text) != 0 ||
	    record->amount_count != wanted->record.amount_count)
		return false;
	for (size_t i = 0; i < record->amount_count; i++)
		if (record->amount[i].amount != wanted->record.amount[i].amount)
			return false;
	return true;
}

static bool
is_document_whole(const struct content *content,
    const struct stored_document *document, const struct parcel *wanted)
{
	struct text body = { 0 };
	bool good =
	    document->length == wanted->document.length &&
	    store_document_body(content->store, document->id, &body, NULL) &&
	    body.length == document->length &&
	    memcmp(text_string(&body), wanted->body, body.length) == 0;
	text_release(&body);
	return good;
}

/* Numbers rise with ids, so the parts of one transaction share a place: jobs
   and records count up, documents down, slots are those of waiting jobs. */
static bool
is_whole(const struct content *content)
{
	struct parcel wanted;
	size_t slot = 0;
	if (content->record_count != content->job_count ||
	    content->document_count != content->job_count)
		return complain("parts are missing", 0);
	for (size_t i = 0; i < content->job_count; i++) {
		const struct stored_job *job = &content->jobs[i];
		const struct stored_document *document =
		    &content->documents[content->job_count - 1 - i];
		fill_parcel(&wanted, job->after);
		if (!is_job_whole(job, &wanted) ||
		    !is_record_whole(&content->records[i], job->id, &wanted))
			return complain(
			    "a job or its record is not whole", job->after);
		if (!is_document_whole(content, document, &wanted))
			return complain("a document is not whole", job->after);
		if (job->state != STORED_WAITING)
			continue;
		if (slot == content->slot_count ||
		    content->slots[slot].job != job->id ||
		    content->slots[slot++].from != job->after)
			return complain("a slot is missing", job->after);
	}
	return slot == content->slot_count || complain("a slot too many", 0);
}

static bool
is_kept(
    const struct content *content, const char *what, int64_t number, int64_t id)
{
	if (strcmp(what, "entry") == 0)
		return content->entry_count == 1 &&
		       content->entries[0].sequence >= number;
	for (size_t i = 0; i < content->job_count; i++)
		if (content->jobs[i].id == id)
			return content->jobs[i].after == number &&
			       (strcmp(what, "added") == 0 ||
				   content->jobs[i].state == STORED_DONE);
	return false;
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
		(void)printf("%zu\n", content.job_count);
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
	int64_t number = 1;
	int64_t job = 0;
	while (number < FULL_MAX && add_parcel(store, number, &job, &error)) {
		(void)fprintf(
		    lines, "added %" PRId64 " %" PRId64 "\n", number, job);
		number++;
	}
	if (number == FULL_MAX || number < 3)
		return complain("the disk was not filled as meant", number);
	int64_t untouched = -7;
	if (!is_full(&error, path))
		return false;
	/* Smaller parcels may still fit; a large one may not. */
	while (number * 7919 % BODY_MAX < BODY_MAX / 2)
		number++;
	if (add_parcel(store, number, &untouched, &error) || untouched != -7)
		return complain("a failed call gave an id", number);
	if (!is_full(&error, path) || unlink(filler) != 0)
		return false;
	if (!add_parcel(store, number, &job, &error))
		return report(&error);
	(void)fprintf(lines, "added %" PRId64 " %" PRId64 "\n", number, job);
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
