#include "cli/records.h"

#include "base/memory.h"

#include <stdlib.h>
#include <string.h>

/* Which of the records are asked for. */
struct choice {
	const char *site;          /* NULL: all */
	const char *since, *until; /* local days, both in; NULL: any */
};

static bool
check_forms(struct session *session)
{
	bool csv = session_option(session, "csv") != NULL;
	bool journal = session_option(session, "vjournal") != NULL;
	bool totals = session_option(session, "totals") != NULL;
	if (csv + journal + (session->json || totals) > 1)
		return error_set(&session->error, ERROR_INPUT,
		    "--csv and --vjournal stand alone, without each other, "
		    "--totals or --json");
	if (totals && session_option(session, "all") != NULL)
		return error_set(&session->error, ERROR_INPUT,
		    "--totals and --all exclude each other: what was replaced "
		    "does not count");
	return true;
}

static bool
read_day(struct session *session, const char *name, const char **ret,
    int64_t *ret_day)
{
	static const struct zone utc = { .name = "UTC" };
	int64_t time = 0;
	*ret = session_option(session, name);
	if (!session_time(session, name, &utc, &time))
		return false;
	*ret_day = civil_day(&utc, time);
	return true;
}

/* A site that is gone from the configuration has its records still. */
static bool
is_site(const struct session *session, const struct records *records,
    const char *name)
{
	for (size_t i = 0; i < records->all_count; i++)
		if (strcmp(records->all[i].site, name) == 0)
			return true;
	return config_site(&session->keeper.config, name) != NULL;
}

static bool
read_choice(
    struct session *session, const struct records *records, struct choice *ret)
{
	int64_t since, until;
	ret->site = session_option(session, "site");
	if (!read_day(session, "since", &ret->since, &since) ||
	    !read_day(session, "until", &ret->until, &until))
		return false;
	if (ret->since != NULL && ret->until != NULL && until < since)
		return error_set(
		    &session->error, ERROR_INPUT, "--until: before --since");
	if (ret->site != NULL && !is_site(session, records, ret->site))
		return error_set(&session->error, ERROR_ANSWER,
		    "there is no site '%.64s'", ret->site);
	return true;
}

/* The local day of a text that was read before. */
static int64_t
day_of(const char *text, const struct zone *zone)
{
	int64_t time = 0;
	(void)civil_parse(text, zone, &time, NULL);
	return civil_day(zone, time);
}

static bool
is_chosen(const struct choice *choice, const struct config *config,
    const struct stored_record *record)
{
	const struct zone zone = record_zone(config, record);
	int64_t day = civil_day(&zone, record->from);
	return (choice->site == NULL ||
		   strcmp(choice->site, record->site) == 0) &&
	       (choice->since == NULL || day >= day_of(choice->since, &zone)) &&
	       (choice->until == NULL || day <= day_of(choice->until, &zone));
}

static int
print(struct session *session, const struct records *records)
{
	if (session_option(session, "csv") != NULL)
		return records_csv(session, records);
	if (session_option(session, "vjournal") != NULL)
		return records_journal(session, records);
	if (session_option(session, "totals") == NULL && session->json)
		return records_json(session, records);
	if (records->count == 0 && !session->json) {
		text_add(&session->out, records->all_count == 0
					    ? "Nothing is recorded.\n"
					    : "No record is like that.\n");
		return 0;
	}
	return session_option(session, "totals") != NULL
		   ? records_totals(session, records)
		   : records_table(session, records);
}

int
command_records(struct session *session)
{
	struct records records = { .config = &session->keeper.config };
	struct stored_record *all;
	struct choice choice;
	bool with_replaced = session_option(session, "all") != NULL;
	if (!check_forms(session) ||
	    !store_records(session->keeper.store, with_replaced, &all,
		&records.all_count, &session->error))
		return (int)session->error.kind;
	records.all = all;
	records.record = memory_array(records.all_count, sizeof(void *));
	bool good = read_choice(session, &records, &choice);
	for (size_t i = 0; i < records.all_count && good; i++)
		if (is_chosen(&choice, records.config, &all[i]))
			records.record[records.count++] = &all[i];
	int code = good ? print(session, &records) : (int)session->error.kind;
	free(records.record);
	stored_records_free(all, records.all_count);
	return code;
}
