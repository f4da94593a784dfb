/* What crash_store finds, and whether it is whole and all that was said. */
#ifndef TESTS_ORACLE_CRASH_CONTENT_H
#define TESTS_ORACLE_CRASH_CONTENT_H

#include "oracle/crash_parcel.h"
#include "store/store.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static inline bool
complain(const char *what, int64_t number)
{
	(void)printf("%s (%" PRId64 ")\n", what, number);
	return false;
}

/* Everything in the store, in arrays by number. */
struct content {
	struct store *store; /* borrowed; for the bodies of documents */
	struct stored_job *jobs;
	struct stored_record *records;
	struct stored_slot *slots;
	struct stored_document *documents;
	struct stored_entry *entries;
	struct stored_calibration *calibrations;
	struct stored_solution *solutions;
	size_t job_count, record_count, slot_count, document_count, entry_count;
	size_t calibration_count, solution_count;
};

static inline bool
load(struct store *store, struct content *ret, struct error *error)
{
	static const struct stored_span always = { 0, INT64_MAX };
	ret->store = store;
	return store_check(store, error) &&
	       store_jobs(store, false, &ret->jobs, &ret->job_count, error) &&
	       store_records(
		   store, true, &ret->records, &ret->record_count, error) &&
	       store_calibrations(
		   store, &ret->calibrations, &ret->calibration_count, error) &&
	       store_solutions(
		   store, &ret->solutions, &ret->solution_count, error) &&
	       store_slots(store, &ret->slots, &ret->slot_count, error) &&
	       store_documents(store, ADDRESS, always, &ret->documents,
		   &ret->document_count, error) &&
	       store_entries(store, &ret->entries, &ret->entry_count, error);
}

static inline void
release(struct content *content)
{
	stored_jobs_free(content->jobs, content->job_count);
	stored_records_free(content->records, content->record_count);
	free(content->slots);
	stored_documents_free(content->documents, content->document_count);
	stored_entries_free(content->entries, content->entry_count);
	stored_calibrations_free(
	    content->calibrations, content->calibration_count);
	stored_solutions_free(content->solutions, content->solution_count);
}

/*
 * A job's record and the corrections of it that came before the kill, from
 * `first` on. Each is whole, and both ends of each link agree. Returns how many
 * there are; 0 when something is wrong.
 */
static inline size_t
follow_chain(const struct content *content, size_t first, int64_t job,
    struct parcel *wanted)
{
	const struct stored_record *records = content->records + first;
	size_t left = content->record_count - first;
	size_t count = 0;
	bool goes_on = left > 0;
	while (goes_on) {
		struct stored_record *record = &wanted->record[count].record;
		goes_on = records[count].replaced_by != 0;
		if (goes_on &&
		    (count + 1 == wanted->records || count + 1 == left))
			return 0;
		record->job = job;
		record->id = records[count].id;
		record->replaces = count == 0 ? 0 : records[count - 1].id;
		record->replaced_by = goes_on ? records[count + 1].id : 0;
		if (!same_record(&records[count++], record))
			return 0;
	}
	return count;
}

static inline bool
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
static inline bool
are_parcels_whole(const struct content *content)
{
	struct parcel wanted;
	size_t slot = 0;
	size_t record = 0;
	if (content->document_count != content->job_count)
		return complain("parts are missing", 0);
	for (size_t i = 0; i < content->job_count; i++) {
		const struct stored_job *job = &content->jobs[i];
		const struct stored_document *document =
		    &content->documents[content->job_count - 1 - i];
		fill_parcel(&wanted, job->after);
		size_t chain = follow_chain(content, record, job->id, &wanted);
		record += chain;
		if (chain == 0 || !is_job_whole(job, &wanted))
			return complain(
			    "a job or its records are not whole", job->after);
		if (!is_document_whole(content, document, &wanted))
			return complain("a document is not whole", job->after);
		if (job->state != STORED_WAITING)
			continue;
		if (slot == content->slot_count ||
		    content->slots[slot].job != job->id ||
		    content->slots[slot++].from != job->after)
			return complain("a slot is missing", job->after);
	}
	return (slot == content->slot_count &&
		   record == content->record_count) ||
	       complain("a slot or a record too many", 0);
}

static inline bool
is_whole(const struct content *content)
{
	for (size_t i = 0; i < content->calibration_count; i++)
		if (!is_calibration_whole(&content->calibrations[i]))
			return complain("a calibration is not whole",
			    content->calibrations[i].at);
	for (size_t i = 0; i < content->solution_count; i++)
		if (!is_solution_whole(&content->solutions[i]))
			return complain("a solution is not whole",
			    content->solutions[i].made);
	return are_parcels_whole(content);
}

static inline bool
has_job(const struct content *content, int64_t number, int64_t id, bool done)
{
	for (size_t i = 0; i < content->job_count; i++)
		if (content->jobs[i].id == id)
			return content->jobs[i].after == number &&
			       (!done || content->jobs[i].state == STORED_DONE);
	return false;
}

static inline bool
has_record(const struct content *content, int64_t number, int64_t id)
{
	for (size_t i = 0; i < content->record_count; i++)
		if (content->records[i].id == id)
			return content->records[i].created == number &&
			       content->records[i].replaces != 0;
	return false;
}

static inline bool
is_in_shed(
    const struct content *content, const char *what, int64_t number, int64_t id)
{
	if (strcmp(what, "caught") == 0)
		for (size_t i = 0; i < content->calibration_count; i++)
			if (content->calibrations[i].id == id)
				return content->calibrations[i].at == number;
	if (strcmp(what, "made") == 0)
		for (size_t i = 0; i < content->solution_count; i++)
			if (content->solutions[i].id == id)
				return content->solutions[i].made == number;
	return false;
}

static inline bool
is_kept(
    const struct content *content, const char *what, int64_t number, int64_t id)
{
	if (strcmp(what, "entry") == 0)
		return content->entry_count == 1 &&
		       content->entries[0].sequence >= number;
	if (strcmp(what, "corrected") == 0)
		return has_record(content, number, id);
	if (strcmp(what, "added") == 0 || strcmp(what, "finished") == 0)
		return has_job(content, number, id, what[0] == 'f');
	return is_in_shed(content, what, number, id);
}

#endif
