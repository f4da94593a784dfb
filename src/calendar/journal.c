#include "calendar/journal.h"

#include "calendar/ics_parts.h"

static int64_t
revised(const struct journal *journal)
{
	return journal->replaced_by != NULL ? journal->replaced
					    : journal->created;
}

static void
put_related(
    struct ics *ics, icalcomponent *component, const struct journal *journal)
{
	icalproperty *related = icalproperty_new_relatedto(
	    ics_clean(ics, journal->replaced_by, CLEAN_LINE));
	/* without it the other one would be a parent */
	if (related != NULL)
		icalproperty_add_parameter(
		    related, icalparameter_new_reltype(ICAL_RELTYPE_SIBLING));
	ics_put(ics, component, related);
}

static void
put_journal(struct ics *ics, const struct journal *journal)
{
	bool replaced = journal->replaced_by != NULL;
	icalcomponent *component =
	    ics_open(ics, ics->calendar, ICAL_VJOURNAL_COMPONENT);
	if (component == NULL)
		return;
	ics_put_revision(
	    ics, component, journal->uid, revised(journal), replaced ? 1 : 0);
	ics_put(ics, component,
	    icalproperty_new_created(ics_time(journal->created)));
	ics_put(
	    ics, component, icalproperty_new_dtstart(ics_time(journal->from)));
	ics_put_summary(ics, component, journal->summary);
	ics_put_description(ics, component, journal->description);
	ics_put(ics, component,
	    icalproperty_new_status(
		replaced ? ICAL_STATUS_CANCELLED : ICAL_STATUS_FINAL));
	ics_put_categories(ics, component, journal->categories);
	if (replaced)
		put_related(ics, component, journal);
}

static bool
check_journal(struct ics *ics, const struct journal *journal, size_t index,
    struct error *error)
{
	const char *fault = NULL;
	if (*ics_clean(ics, journal->uid, CLEAN_LINE) == '\0')
		return error_set(error, ERROR_INPUT,
		    "journal entry %zu has no uid", index + 1);
	if (*ics_clean(ics, journal->summary, CLEAN_LINE) == '\0')
		fault = "has no summary";
	else if (!ics_second_fits(journal->from) ||
		 !ics_second_fits(journal->created) ||
		 !ics_second_fits(revised(journal)))
		fault = "has a time outside the years 1 to 9999";
	else if (journal->replaced_by != NULL &&
		 *ics_clean(ics, journal->replaced_by, CLEAN_LINE) == '\0')
		fault = "is replaced by one without a uid";
	if (fault == NULL)
		return true;
	return error_set(error, ERROR_INPUT, "journal entry \"%s\" %s",
	    ics_clean(ics, journal->uid, CLEAN_LINE), fault);
}

static int64_t
youngest(const struct journal *journals, size_t count)
{
	int64_t latest = 0;
	for (size_t i = 0; i < count; i++)
		if (revised(&journals[i]) > latest &&
		    ics_second_fits(revised(&journals[i])))
			latest = revised(&journals[i]);
	return latest;
}

bool
journal_write(const struct calendar_head *head, const struct journal *journals,
    size_t count, struct text *ret, struct error *error)
{
	struct ics ics;
	struct calendar_head own = *head;
	own.revised = youngest(journals, count);
	bool good = ics_begin(&ics, &own, error);
	for (size_t i = 0; i < count && good; i++) {
		good = check_journal(&ics, &journals[i], i, error);
		if (good)
			put_journal(&ics, &journals[i]);
	}
	good = good && ics_finish(&ics, ret, error);
	ics_release(&ics);
	return good;
}
