#include "calendar/compose_parts.h"

#include "base/limits.h"

#include <math.h>
#include <stdio.h>

/* "Tue 24 Mar", or with the clock when it closes within a day. */
static char *
print_close(char *buffer, size_t size, const struct compose_water *facts)
{
	const struct zone *zone = &facts->site->zone;
	const struct water_ledger *ledger = facts->ledger;
	bool whole =
	    ledger->closes == civil_day_start(zone, ledger->last_day + 1);
	return civil_print(buffer, size, zone,
	    whole ? ledger->closes - 1 : ledger->closes,
	    whole ? CIVIL_DAY : CIVIL_DAY_CLOCK);
}

static char *
print_rain(char buffer[QUANTITY_BUFFER], double amount, enum unit_system units)
{
	return quantity_print(
	    buffer, QUANTITY_BUFFER, amount, QUANTITY_RAIN, units);
}

/* Rounded up to what is printed: too little would not do, and 0 says nothing.
 */
static char *
print_missing(
    char buffer[QUANTITY_BUFFER], double amount, enum unit_system units)
{
	/* a step of the print in mm; the last digits of a sum are not meant */
	double step = units == UNITS_US ? 0.254 : 0.1;
	double steps = ceil(amount / step - 1e-3);
	return print_rain(buffer, (steps > 1 ? steps : 1) * step, units);
}

static void
summarize(struct text *text, const struct compose_water *facts,
    enum unit_system units)
{
	const struct water_ledger *ledger = facts->ledger;
	char missing[QUANTITY_BUFFER], wanted[QUANTITY_BUFFER],
	    close[CIVIL_BUFFER];
	bool unknown = ledger->state == WATER_UNKNOWN;
	print_missing(missing, ledger->missing, units);
	print_rain(wanted, ledger->needed, units);
	print_close(close, sizeof close, facts);
	const char *state = unknown ? "UNKNOWN" : "NO WATER";
	text_format(text, "%s: %s, %s: ", ledger->over ? state : "IRRIGATE",
	    facts->site->name, facts->product->name);
	if (!ledger->over)
		text_format(text, "%s%s by %s", unknown ? "looks short, " : "",
		    missing, close);
	else if (unknown)
		text_format(
		    text, "whether %s of water came by %s", wanted, close);
	else
		text_format(
		    text, "%s of %s missing by %s", missing, wanted, close);
}

static void
tell_wanted(struct text *text, const struct compose_water *facts,
    enum unit_system units)
{
	const struct zone *zone = &facts->site->zone;
	const struct product *product = facts->product;
	char amount[QUANTITY_BUFFER], opens[CIVIL_BUFFER], close[CIVIL_BUFFER],
	    applied[CIVIL_BUFFER];
	civil_print(
	    applied, sizeof applied, zone, facts->applied, CIVIL_DAY_CLOCK);
	civil_print(
	    opens, sizeof opens, zone, facts->ledger->opens, CIVIL_DAY_CLOCK);
	text_format(text,
	    "%s was applied until %s. It wants %s of rain or irrigation "
	    "from %s to %s%s.\n",
	    product->name, applied,
	    print_rain(amount, facts->ledger->needed, units), opens,
	    facts->ledger->closes ==
		    civil_day_start(zone, facts->ledger->last_day + 1)
		? "the end of "
		: "",
	    print_close(close, sizeof close, facts));
	if (product->label[0] != '\0')
		text_format(text, "Source: %s\n", product->label);
}

static void
tell_amounts(struct text *text, const struct water_ledger *ledger,
    enum unit_system units)
{
	char rain[QUANTITY_BUFFER], irrigation[QUANTITY_BUFFER],
	    sum[QUANTITY_BUFFER];
	text_format(text, "Received: %s (rain %s, irrigation %s).\n",
	    print_rain(sum, ledger->rain + ledger->irrigation, units),
	    print_rain(rain, ledger->rain, units),
	    print_rain(irrigation, ledger->irrigation, units));
	if (!ledger->over)
		text_format(text,
		    "Expected: %s, the forecast rain whose chance is 50 %% or "
		    "more.\n",
		    print_rain(sum, ledger->expected, units));
	text_format(
	    text, "Missing: %s.\n", print_missing(sum, ledger->missing, units));
}

static void
tell_gaps(struct text *text, const struct compose_water *facts)
{
	const struct water_ledger *ledger = facts->ledger;
	const struct zone *zone = &facts->site->zone;
	char day[CIVIL_BUFFER];
	if (ledger->unknown_count > 0)
		text_format(text,
		    "Not known: what came on %zu day%s, the first %s, or at "
		    "what time. It may have been enough.\n",
		    ledger->unknown_count,
		    ledger->unknown_count == 1 ? "" : "s",
		    civil_print(day, sizeof day, zone,
			civil_day_start(zone, ledger->unknown_day), CIVIL_DAY));
	if (ledger->blind_count > 0)
		text_format(text,
		    "Not known: the forecast rain of %zu day%s.\n",
		    ledger->blind_count, ledger->blind_count == 1 ? "" : "s");
}

/* The commands that tell of water, with the amount that would do. */
static void
tell_commands(struct text *text, const struct compose_water *facts,
    enum unit_system units)
{
	char missing[QUANTITY_BUFFER];
	print_missing(missing, facts->ledger->missing, units);
	text_format(text,
	    "When it is watered: lull observe \"%s\" --irrigation \"%s\"\n"
	    "When the gauge says otherwise: lull observe \"%s\" --rain "
	    "AMOUNT\n",
	    facts->site->name, missing, facts->site->name);
}

void
compose_irrigate(const struct compose_water *facts,
    const struct compose_style *style, struct composed *ret)
{
	const struct water_ledger *ledger = facts->ledger;
	struct entry *entry = &ret->entry;
	bool unknown = ledger->state == WATER_UNKNOWN;
	char suffix[32];
	(void)snprintf(suffix, sizeof suffix, "-water-%zu", facts->place);
	compose_begin(ret, facts->uid, suffix);
	summarize(&ret->summary, facts, style->units);
	tell_wanted(&ret->description, facts, style->units);
	tell_amounts(&ret->description, ledger, style->units);
	tell_gaps(&ret->description, facts);
	tell_commands(&ret->description, facts, style->units);
	text_add(&ret->description, compose_cautions);
	text_add(&ret->description, facts->credit);
	entry->all_day = true;
	entry->from = ledger->over ? ledger->last_day + 1 : ledger->task_day;
	entry->to = ledger->last_day + (ledger->over ? 2 : 1);
	entry->status = unknown ? ENTRY_TENTATIVE : ENTRY_CONFIRMED;
	char text[120];
	(void)snprintf(
	    text, sizeof text, "Tomorrow: irrigate %s", facts->site->name);
	if (!ledger->over)
		compose_ring(
		    ret, &facts->site->zone, facts->applied, style, text);
	const char *state = unknown ? "UNKNOWN" : "NO-WATER";
	compose_finish(ret, ledger->over ? state : "IRRIGATE", facts->site);
}
