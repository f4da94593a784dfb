/* Records as journal entries of a calendar. */
#include "cli/records.h"

#include "base/memory.h"
#include "calendar/journal.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>

/* The strings of one journal entry. */
struct page {
	char uid[RECORD_UID_BUFFER], replaced_by[RECORD_UID_BUFFER];
	struct text summary, description; /* owned */
};

static void
summarize(struct text *out, const struct config *config,
    const struct stored_record *record)
{
	char text[QUANTITY_BUFFER];
	text_format(out, "%s: ", record->site);
	for (size_t i = 0; i < record->amount_count; i++)
		text_format(out, "%s%s %s", i > 0 ? ", " : "",
		    record->amount[i].product,
		    record_print_amount(
			text, sizeof text, &record->amount[i], config->units));
}

static void
describe(struct text *out, const struct config *config,
    const struct stored_record *record)
{
	const struct zone zone = record_zone(config, record);
	char from[CIVIL_BUFFER], to[CIVIL_BUFFER];
	text_format(out, "%s, record %" PRId64, record->site, record->id);
	if (record->job != 0)
		text_format(out, " of job %" PRId64, record->job);
	text_format(out, "\n%s to %s\n",
	    civil_print(from, sizeof from, &zone, record->from, CIVIL_STAMP),
	    civil_print(to, sizeof to, &zone, record->to, CIVIL_STAMP));
	record_add_work(out, config, record);
	record_add_rest(out, record, config->units);
	record_add_verdict(out, record, "measured on site");
	if (record->replaces != 0)
		text_format(
		    out, "replaces record %" PRId64 "\n", record->replaces);
	if (record->replaced_by != 0)
		text_format(out, "replaced by record %" PRId64 "\n",
		    record->replaced_by);
	text_add(out, "not told: ");
	size_t before = out->length;
	record_add_missing(out, config, record);
	text_add(out, out->length == before
			  ? "nothing of the usual fields\n"
			  : "; your state may ask for more\n");
}

/* It may be one that is not shown: of another day. */
static const struct stored_record *
find(const struct records *records, int64_t id)
{
	for (size_t i = 0; i < records->all_count; i++)
		if (records->all[i].id == id)
			return &records->all[i];
	return NULL;
}

static void
fill_page(struct page *page, const struct records *records,
    const struct stored_record *record, struct journal *ret)
{
	const struct stored_record *newer = find(records, record->replaced_by);
	text_init(&page->summary, LIMIT_OUTPUT_BYTES);
	text_init(&page->description, LIMIT_OUTPUT_BYTES);
	summarize(&page->summary, records->config, record);
	describe(&page->description, records->config, record);
	*ret = (struct journal){ .uid = record_print_uid(
				     page->uid, sizeof page->uid, record),
		.from = record->from,
		.created = record->created,
		.summary = text_string(&page->summary),
		.description = text_string(&page->description),
		.categories = { "RECORD", record->site } };
	if (newer == NULL)
		return;
	ret->replaced_by = record_print_uid(
	    page->replaced_by, sizeof page->replaced_by, newer);
	ret->replaced = newer->created;
}

int
records_journal(struct session *session, const struct records *records)
{
	static const struct calendar_head head = { .name = "Spray records",
		.description = "What was sprayed, as it was recorded." };
	size_t count = records->count;
	struct page *pages = memory_array(count, sizeof *pages);
	struct journal *journals = memory_array(count, sizeof *journals);
	for (size_t i = 0; i < count; i++)
		fill_page(&pages[i], records, records->record[i], &journals[i]);
	bool good = journal_write(
	    &head, journals, count, &session->out, &session->error);
	for (size_t i = 0; i < count; i++) {
		text_release(&pages[i].summary);
		text_release(&pages[i].description);
	}
	free(pages);
	free(journals);
	return good ? 0 : (int)session->error.kind;
}
