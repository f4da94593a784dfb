/* What follows from an application: entries on the days that a card names. */
#include "calendar/compose_parts.h"

#include "base/limits.h"

#include <inttypes.h>
#include <stdio.h>

/* One whole day, from its midnight on the clock of the zone. */
static void
set_day(struct composed *composed, const struct zone *zone, int64_t at)
{
	struct entry *entry = &composed->entry;
	entry->all_day = true;
	entry->from = civil_day(zone, at);
	entry->to = entry->from + 1;
	entry->status = ENTRY_CONFIRMED;
}

static void
tell_sprayed(struct composed *composed, const struct compose_follow *facts)
{
	char when[CIVIL_BUFFER];
	text_format(&composed->description, "%s was sprayed %s%s%s.\n",
	    facts->name,
	    civil_print(when, sizeof when, &facts->site->zone, facts->from,
		CIVIL_DAY_CLOCK),
	    facts->weeds[0] != '\0' ? " against " : "", facts->weeds);
}

static void
tell_source(struct composed *composed, const struct compose_follow *facts)
{
	const struct product *product = facts->follow->product;
	if (product->label[0] != '\0')
		text_format(
		    &composed->description, "Source: %s\n", product->label);
	text_add(&composed->description, compose_cautions);
}

static void
compose_mow(struct composed *composed, const struct compose_follow *facts)
{
	const struct zone *zone = &facts->site->zone;
	char clock[CIVIL_BUFFER], day[CIVIL_BUFFER];
	int64_t to = facts->follow->to;
	text_format(&composed->summary, "MOW AGAIN: %s, from %s",
	    facts->site->name,
	    civil_print(clock, sizeof clock, zone, to, CIVIL_CLOCK));
	text_format(&composed->description,
	    "The card of %s asks for no mowing before %s.\n"
	    "When it is mown: lull observe \"%s\" --mowed\n",
	    facts->follow->product->name,
	    civil_print(day, sizeof day, zone, to, CIVIL_DAY_CLOCK),
	    facts->site->name);
	set_day(composed, zone, to);
}

static void
compose_look(struct composed *composed, const struct compose_follow *facts)
{
	char span[QUANTITY_BUFFER];
	const struct product *product = facts->follow->product;
	text_format(&composed->summary,
	    "LOOK: %s, %s: its effect should show now", facts->site->name,
	    product->name);
	text_format(&composed->description,
	    "The card says that the effect of %s shows after %s. Look at the "
	    "weeds before you think of spraying again.\n",
	    product->name, span_print(span, sizeof span, product->effect));
	set_day(composed, &facts->site->zone, facts->follow->from);
}

static void
compose_again(struct composed *composed, const struct compose_follow *facts)
{
	const struct zone *zone = &facts->site->zone;
	const struct follow *follow = facts->follow;
	char sentence[FOLLOW_BUFFER], to[CIVIL_BUFFER] = "";
	bool ends = follow->to != INT64_MAX;
	if (ends)
		civil_print(to, sizeof to, zone, follow->to - 1, CIVIL_DAY);
	if (facts->is_last)
		text_format(&composed->summary,
		    "LAST DAY: %s, %s: second application", facts->site->name,
		    follow->product->name);
	else
		text_format(&composed->summary, "%s: %s, %s: from today %s%s",
		    ends ? "SECOND APPLICATION" : "AGAIN", facts->site->name,
		    follow->product->name, ends ? "to " : "on", to);
	text_format(&composed->description,
	    "%s.\nOnly when the weeds ask for it and the label allows it: "
	    "lull add \"%s\" %s\n",
	    follow_print(sentence, sizeof sentence, follow, zone, UNITS_METRIC),
	    facts->site->name, follow->product->name);
	set_day(composed, zone, facts->is_last ? follow->to - 1 : follow->from);
}

void
compose_follow(const struct compose_follow *facts,
    const struct compose_style *style, struct composed *ret)
{
	enum follow_kind kind = facts->follow->kind;
	bool mow = kind == FOLLOW_MOWING, look = kind == FOLLOW_LOOK;
	const char *word = mow              ? "mow"
			   : look           ? "look"
			   : facts->is_last ? "last"
					    : "again";
	char suffix[48], text[120];
	(void)snprintf(suffix, sizeof suffix, "-%s-%zu", word, facts->place);
	compose_begin(ret, facts->uid, suffix);
	tell_sprayed(ret, facts);
	if (mow)
		compose_mow(ret, facts);
	else if (look)
		compose_look(ret, facts);
	else
		compose_again(ret, facts);
	tell_source(ret, facts);
	(void)snprintf(
	    text, sizeof text, "Tomorrow: %s", text_string(&ret->summary));
	text_trim_end(text);
	if (mow || look || facts->is_last)
		compose_ring(ret, &facts->site->zone, facts->from, style, text);
	compose_finish(ret,
	    mow    ? "MOW-AGAIN"
	    : look ? "LOOK"
		   : "AGAIN",
	    facts->site);
}

/* "Wed 6 May 07:30", or "the end of Tue 14 Apr". */
static char *
print_until(char *buffer, size_t size, const struct zone *zone, int64_t until)
{
	char day[CIVIL_BUFFER];
	bool whole = civil_day_start(zone, civil_day(zone, until)) == until;
	(void)snprintf(buffer, size, "%s%s", whole ? "the end of " : "",
	    civil_print(day, sizeof day, zone, whole ? until - 1 : until,
		whole ? CIVIL_DAY : CIVIL_DAY_CLOCK));
	return buffer;
}

void
compose_solution(const struct compose_solution *facts,
    const struct compose_style *style, struct composed *ret)
{
	char uid[64], made[CIVIL_BUFFER], until[CIVIL_BUFFER + 16], text[120];
	(void)snprintf(uid, sizeof uid, "solution-%" PRId64 "-%" PRId64,
	    facts->made, facts->id);
	print_until(until, sizeof until, facts->zone, facts->until);
	compose_begin(ret, uid, "");
	text_format(&ret->summary, "DISCARD: stock solution of %s by %s",
	    facts->product, until);
	text_format(&ret->description,
	    "It was made %s and keeps until %s. Spray what is left within the "
	    "label's rate, or get rid of it as the label and local rules say; "
	    "never into a drain.\n",
	    civil_print(
		made, sizeof made, facts->zone, facts->made, CIVIL_DAY_CLOCK),
	    until);
	text_add(&ret->description, compose_cautions);
	/* one that is good to the end of a day goes on that day */
	set_day(ret, facts->zone, facts->until - 1);
	(void)snprintf(text, sizeof text,
	    "Tomorrow: discard the stock solution of %.64s", facts->product);
	compose_ring(ret, facts->zone, facts->made, style, text);
	compose_finish(ret, "DISCARD", NULL);
}
