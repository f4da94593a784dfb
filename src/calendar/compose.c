#include "calendar/compose_parts.h"

#include "base/limits.h"
#include "turf/exclusion.h"

#include <stdio.h>
#include <string.h>

enum { NEAREST = 3, NOTICE_SECONDS = 900, HOUR = 3600 };

/* Room for a line on every rule, so that the cautions always find theirs. */
enum {
	DESCRIPTION_BYTES =
	    2 * LIMIT_RULES * REASON_BUFFER + 8 * LIMIT_TEXT_BYTES
};

const char compose_cautions[] =
    "\nThe label in your hand is the law and rules over this entry. Wear what "
    "it asks for. Keep people and pets off until the spray has dried. Keep "
    "away from water and from flowers in bloom. Local rules and licensed "
    "practice come first.\n";

void
compose_begin(struct composed *composed, const char *uid, const char *suffix)
{
	*composed = (struct composed){ 0 };
	(void)snprintf(
	    composed->uid, sizeof composed->uid, "%s%s", uid, suffix);
	text_init(&composed->summary, LIMIT_TEXT_BYTES);
	text_init(&composed->description, DESCRIPTION_BYTES);
}

void
compose_finish(
    struct composed *composed, const char *category, const struct site *site)
{
	struct entry *entry = &composed->entry;
	entry->uid = composed->uid;
	entry->summary = text_string(&composed->summary);
	entry->description = text_string(&composed->description);
	entry->categories[0] = category;
	entry->has_place = site != NULL;
	entry->latitude = site != NULL ? site->latitude : 0;
	entry->longitude = site != NULL ? site->longitude : 0;
	for (size_t i = 0; i < entry->alarm_count; i++)
		entry->alarm[i].text = composed->alarm_text[i];
}

void
composed_release(struct composed *composed)
{
	text_release(&composed->summary);
	text_release(&composed->description);
}

void
compose_alarm(struct composed *composed, int64_t before, const char *text)
{
	struct entry *entry = &composed->entry;
	(void)snprintf(composed->alarm_text[entry->alarm_count],
	    sizeof composed->alarm_text[0], "%s", text);
	entry->alarm[entry->alarm_count++].before = (int32_t)before;
}

void
compose_ring(struct composed *composed, const struct zone *zone, int64_t known,
    const struct compose_style *style, const char *text)
{
	int64_t before = DAY_SECONDS - style->evening_alarm;
	int64_t start = civil_day_start(zone, composed->entry.from);
	if (start - before > known)
		compose_alarm(composed, before, text);
}

static void
add_reason(struct text *text, const struct judgement *judgement,
    const struct reason *reason, enum unit_system units)
{
	char sentence[REASON_BUFFER], margin[QUANTITY_BUFFER * 2];
	text_format(text, "- %s: %s (%s)\n",
	    reason_print(sentence, sizeof sentence, reason,
		judgement->outlook->zone, units),
	    reason_print_margin(margin, sizeof margin, reason, units),
	    reason->rule->owner);
}

static void
describe_go(struct composed *composed, const struct judgement *judgement,
    const struct compose_slot *facts, enum unit_system units)
{
	struct text *text = &composed->description;
	const struct zone *zone = &judgement->job->site->zone;
	struct reason nearest[NEAREST];
	char last[CIVIL_BUFFER];
	/* not when it opens: that is now for a window that is open already,
	   and an entry may not change because time goes by */
	if (facts->window != NULL)
		text_format(text, "Start by %s at the latest.\n",
		    civil_print(last, sizeof last, zone, facts->window->last,
			CIVIL_DAY_CLOCK));
	size_t count =
	    judgement_nearest(judgement, facts->start, nearest, NEAREST);
	text_format(text, "All %zu rules hold. Nearest limits:\n",
	    judgement->check_count);
	for (size_t i = 0; i < count; i++)
		add_reason(text, judgement, &nearest[i], units);
}

static void
describe_not_go(struct composed *composed, const struct judgement *judgement,
    const struct compose_slot *facts, enum unit_system units)
{
	struct text *text = &composed->description;
	if (facts->trouble[0] != '\0') {
		text_format(text, "Cannot tell: %s.\n", facts->trouble);
		return;
	}
	text_add(text, "What stands in the way:\n");
	for (size_t r = 0; r < judgement->check_count; r++) {
		struct reason reason;
		reason_make(judgement->outlook, &judgement->checks[r],
		    judgement->limits->duration, facts->start, &reason);
		if (reason.verdict != VERDICT_GO)
			add_reason(text, judgement, &reason, units);
	}
}

/* As it will be then: an entry may not change because time goes by. */
static void
add_mix(struct text *text, const struct job *job,
    const struct compose_slot *facts, enum unit_system units)
{
	struct sheet_facts known = { 0 };
	struct sheet sheet;
	char amount[QUANTITY_BUFFER];
	if (facts->sheet != NULL)
		known = *facts->sheet;
	known.at = facts->slot.from;
	if (!sheet_make(job, &known, &sheet, NULL))
		return;
	const struct mix *mix = &sheet.mix;
	text_add(text, "Mix: ");
	if (sheet.sprays)
		text_format(text, "%s in %zu tank%s, ",
		    quantity_print(amount, sizeof amount, mix->carrier,
			QUANTITY_VOLUME, units),
		    mix->tank_count, mix->tank_count == 1 ? "" : "s");
	for (size_t i = 0; i < job->tank.count; i++)
		text_format(text, "%s%s %s", i > 0 ? ", " : "",
		    job->tank.dose[i].product->name,
		    quantity_print(amount, sizeof amount, mix->total[i],
			mix->kind[i], units));
	text_format(text, " (lull mix %lld).\n", (long long)job->id);
	sheet_print_tanks(text, &sheet, units);
	text_add(text, "\n");
}

/*
 * The evening before, and an hour before; one that would have rung before the
 * slot was chosen is left out. It depends on the slot alone, so that an entry
 * does not change because time goes by.
 */
static void
add_alarms(struct composed *composed, const struct job *job,
    const struct compose_slot *facts, const struct compose_style *style)
{
	const struct zone *zone = &job->site->zone;
	char clock[CIVIL_BUFFER], text[120];
	int64_t from = facts->slot.from;
	struct civil evening = civil_from_utc(zone,
	    civil_day_start(zone, civil_day(zone, from) - 1) + DAY_SECONDS / 2);
	evening.hour = style->evening_alarm / 3600;
	evening.minute = style->evening_alarm / 60 % 60;
	evening.second = 0;
	int64_t at = utc_from_civil(zone, &evening);
	civil_print(clock, sizeof clock, zone, from, CIVIL_CLOCK);
	if (at > facts->planned) {
		(void)snprintf(text, sizeof text, "Tomorrow %s: spray %s",
		    clock, job->site->name);
		compose_alarm(composed, from - at, text);
	}
	if (from - HOUR > facts->planned) {
		(void)snprintf(text, sizeof text, "At %s: spray %s", clock,
		    job->site->name);
		compose_alarm(composed, HOUR, text);
	}
}

void
compose_slot(const struct judgement *judgement,
    const struct compose_slot *facts, const struct compose_style *style,
    struct composed *ret)
{
	static const char *const word[] = { "GO", "NO-GO", "UNKNOWN" };
	const struct job *job = judgement->job;
	char tank[LIMIT_TEXT_BYTES], away[80];
	compose_begin(ret, job->uid, "");
	text_format(&ret->summary, "%s: %s, %s", word[facts->verdict],
	    job->site->name, tank_print(tank, sizeof tank, &job->tank));
	if (facts->verdict == VERDICT_GO)
		describe_go(ret, judgement, facts, style->units);
	else
		describe_not_go(ret, judgement, facts, style->units);
	add_mix(&ret->description, job, facts, style->units);
	exclusion_print(away, sizeof away, job->sprayer, style->units);
	if (away[0] != '\0')
		text_format(&ret->description, "%s\n", away);
	for (size_t i = 0; i < facts->caution_count; i++)
		text_format(
		    &ret->description, "Caution: %s\n", facts->caution[i].text);
	if (job->note[0] != '\0')
		text_format(&ret->description, "Note: %s\n", job->note);
	text_format(&ret->description, "When it is done: lull done %lld\n",
	    (long long)job->id);
	text_add(&ret->description, compose_cautions);
	text_add(&ret->description, facts->credit);
	ret->entry.from = facts->slot.from;
	ret->entry.to = facts->slot.to;
	ret->entry.status =
	    facts->verdict == VERDICT_GO ? ENTRY_CONFIRMED : ENTRY_TENTATIVE;
	add_alarms(ret, job, facts, style);
	compose_finish(ret, word[facts->verdict], job->site);
}

void
compose_keep_off(const char *uid, const struct site *site, const char *name,
    int64_t from, double span, struct composed *ret)
{
	char until[CIVIL_BUFFER];
	compose_begin(ret, uid, "-off");
	ret->entry.from = from;
	ret->entry.to = from + (int64_t)span;
	text_format(&ret->summary, "KEEP OFF: %s until %s and until dry",
	    site->name,
	    civil_print(
		until, sizeof until, &site->zone, ret->entry.to, CIVIL_CLOCK));
	text_format(&ret->description,
	    "Sprayed with %s. People and pets stay off until then and until "
	    "the leaves are dry, whichever is later; longer if the label says "
	    "so.\n",
	    name);
	text_add(&ret->description, compose_cautions);
	ret->entry.status = ENTRY_CONFIRMED;
	compose_finish(ret, "KEEP-OFF", site);
}

static void
add_helps(struct text *text, const struct judgement *judgement)
{
	struct help helps[HELPS_MAX];
	size_t count = helps_find(judgement, helps);
	char line[HELP_BUFFER];
	for (size_t i = 0; i < count; i++)
		text_format(text, "%s.\n",
		    help_print(line, sizeof line, &helps[i],
			judgement->outlook->zone, CIVIL_DAY));
}

static void
add_blockers(struct text *text, const struct judgement *judgement,
    enum unit_system units)
{
	char why[LIMIT_TEXT_BYTES], until[CIVIL_BUFFER];
	blockers_print(why, sizeof why, judgement, units);
	if (why[0] == '\0')
		text_add(
		    text, blockers_tell(why, sizeof why, judgement, units));
	else
		text_format(text, "no window before %s: %s",
		    civil_print(until, sizeof until, judgement->outlook->zone,
			blockers_until(judgement), CIVIL_DAY),
		    why);
}

void
compose_none(const struct judgement *judgement,
    const struct compose_none *facts, const struct compose_style *style,
    struct composed *ret)
{
	const struct job *job = judgement->job;
	const struct zone *zone = &job->site->zone;
	char tank[LIMIT_TEXT_BYTES];
	bool blind = facts->trouble[0] != '\0';
	bool unknown = blind || (facts->outcome != PLAN_TAKEN &&
				    blockers_unknown(judgement));
	compose_begin(ret, job->uid, "-none");
	text_format(&ret->summary,
	    "%s: %s, %s: ", unknown ? "UNKNOWN" : "NO WINDOW", job->site->name,
	    tank_print(tank, sizeof tank, &job->tank));
	if (blind)
		text_format(&ret->summary, "%s", facts->trouble);
	else if (facts->outcome == PLAN_TAKEN)
		text_add(&ret->summary, "other jobs have the open hours");
	else
		add_blockers(&ret->summary, judgement, style->units);
	if (!blind && facts->outcome == PLAN_NO_WINDOW) {
		text_add(&ret->description, "What would open one:\n");
		size_t before = ret->description.length;
		add_helps(&ret->description, judgement);
		if (ret->description.length == before)
			text_add(&ret->description, "nothing but time.\n");
	}
	text_format(&ret->description, "Why, hour by hour: lull why %lld\n",
	    (long long)job->id);
	text_add(&ret->description, compose_cautions);
	text_add(&ret->description, facts->credit);
	ret->entry.all_day = true;
	ret->entry.from = civil_day(zone, judgement->limits->now);
	ret->entry.to = ret->entry.from + 1;
	ret->entry.status = ENTRY_TENTATIVE;
	compose_finish(ret, unknown ? "UNKNOWN" : "NO-WINDOW", job->site);
}

void
compose_refused(
    const struct job *job, int64_t now, const char *why, struct composed *ret)
{
	char tank[LIMIT_TEXT_BYTES];
	compose_begin(ret, job->uid, "-none");
	text_format(&ret->summary, "NO-GO: %s, %s: %s", job->site->name,
	    tank_print(tank, sizeof tank, &job->tank), why);
	text_format(&ret->description,
	    "No weather makes this right. Change the tank, or take it off: "
	    "lull drop %lld\n",
	    (long long)job->id);
	text_add(&ret->description, compose_cautions);
	ret->entry.all_day = true;
	ret->entry.from = civil_day(&job->site->zone, now);
	ret->entry.to = ret->entry.from + 1;
	ret->entry.status = ENTRY_TENTATIVE;
	compose_finish(ret, "NO-GO", job->site);
}

void
compose_notice(const char *uid, int64_t at, const char *title,
    const char *message, const struct site *site, struct composed *ret)
{
	compose_begin(ret, uid, "");
	text_add(&ret->summary, title);
	text_add(&ret->description, message);
	text_add(&ret->description, compose_cautions);
	ret->entry.from = at;
	ret->entry.to = at + NOTICE_SECONDS;
	ret->entry.status = ENTRY_CONFIRMED;
	compose_alarm(ret, 0, title);
	compose_finish(ret, "MOVED", site);
}
