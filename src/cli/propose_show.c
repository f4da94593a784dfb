/* How proposals are told. */
#include "cli/propose.h"

#include "turf/mix.h"

#include <math.h>

static void
add_cost(const struct propose *propose, double cost, const char *before)
{
	const struct config *config = &propose->session->keeper.config;
	struct text *out = &propose->session->out;
	if (config->package_count == 0)
		return;
	if (isnan(cost))
		text_format(out, "%scost not known\n", before);
	else
		text_format(out, "%scost %.2f%s%s\n", before, cost,
		    config->currency[0] != '\0' ? " " : "", config->currency);
}

/* "     post-a 0.9 g/1000 ft2 (2.7 g): yellow nutsedge". */
static void
add_dose(const struct propose *propose, const struct tank_mix *mix, size_t i)
{
	enum unit_system units = propose->session->keeper.config.units;
	struct text *out = &propose->session->out;
	const struct dose *dose = &mix->dose[i];
	struct job job = propose->job;
	struct mix amounts;
	char rate[QUANTITY_BUFFER], amount[QUANTITY_BUFFER];
	job.tank = *mix;
	text_format(out, "     %s %s", dose->product->name,
	    quantity_print(
		rate, sizeof rate, dose->rate, dose->rate_kind, units));
	if (mix_make(&job, false, &amounts, NULL))
		text_format(out, " (%s)",
		    quantity_print(amount, sizeof amount, amounts.total[i],
			amounts.kind[i], units));
	const char *link = ": ";
	for (size_t w = 0; w < propose->choice->weed_count; w++) {
		const char *weed = propose->choice->weed[w];
		if (!propose_covers(dose->product, weed))
			continue;
		text_format(out, "%s%s", link, weed);
		link = ", ";
	}
	text_add(out, "\n");
}

static void
add_window(
    struct text *out, const struct zone *zone, const struct tried_tank *tried)
{
	char from[CIVIL_BUFFER], to[CIVIL_BUFFER], last[CIVIL_BUFFER];
	const struct window *window = &tried->window;
	if (!tried->is_open && tried->why[0] == '\0') {
		text_add(out, "     not looked at: the tank before it has no "
			      "window\n");
		return;
	}
	if (!tried->is_open) {
		text_format(out, "     %s: %s\n",
		    tried->is_unknown ? "unknown" : "no window", tried->why);
		return;
	}
	bool one_day =
	    civil_day(zone, window->opens) == civil_day(zone, window->closes);
	text_format(out, "     first window: %s to %s, start by %s\n",
	    civil_print(
		from, sizeof from, zone, window->opens, CIVIL_DAY_CLOCK),
	    civil_print(to, sizeof to, zone, window->closes,
		one_day ? CIVIL_CLOCK : CIVIL_DAY_CLOCK),
	    civil_print(last, sizeof last, zone, window->last,
		one_day ? CIVIL_CLOCK : CIVIL_DAY_CLOCK));
}

static void
add_effects(
    struct text *out, const struct zone *zone, const struct tried_tank *tried)
{
	const struct tank_mix *mix = &tried->tank->mix;
	char span[QUANTITY_BUFFER], day[CIVIL_BUFFER];
	for (size_t i = 0; i < mix->count; i++) {
		const struct product *product = mix->dose[i].product;
		int64_t at = propose_effect(tried, product);
		if (!(product->effect > 0))
			continue;
		text_format(out, "     %s shows its effect after %s",
		    product->name,
		    span_print(span, sizeof span, product->effect));
		if (at != 0)
			text_format(out, ", about %s",
			    civil_print(day, sizeof day, zone, at, CIVIL_DAY));
		text_add(out, "\n");
	}
}

static void
add_cautions(struct text *out, const struct tried_tank *tried)
{
	static const char *const said[] = { "not on each card", "rotation kept",
		"rotation not kept" };
	const char *group[PROPOSE_GROUPS];
	size_t count = propose_groups(&tried->tank->mix, group);
	text_add(out, "     resistance groups: ");
	for (size_t i = 0; i < count; i++)
		text_format(out, "%s%s", group[i], i + 1 < count ? ", " : "; ");
	text_format(out, "%s\n", said[propose_rotation(tried)]);
	for (size_t i = 0; i < tried->caution_count; i++)
		text_format(out, "     caution: %s\n", tried->caution[i].text);
}

static void
add_tank(const struct propose *propose, const struct tried_tank *tried)
{
	const struct zone *zone = &propose->job.site->zone;
	struct text *out = &propose->session->out;
	for (size_t i = 0; i < tried->tank->mix.count; i++)
		add_dose(propose, &tried->tank->mix, i);
	add_window(out, zone, tried);
	add_effects(out, zone, tried);
	add_cautions(out, tried);
	add_cost(propose, tried->tank->cost, "     ");
}

static void
add_proposal(
    const struct propose *propose, const struct tried *tried, size_t number)
{
	struct text *out = &propose->session->out;
	char name[LIMIT_TEXT_BYTES];
	text_format(out, "\n%zu. %s%s\n", number,
	    tried->tank_count == 1   ? "One tank"
	    : tried->tank_count == 2 ? "Two tanks"
				     : "Three tanks",
	    tried->is_open ? "" : ", without a window");
	for (size_t t = 0; t < tried->tank_count; t++) {
		const struct tank_mix *mix = &tried->tank[t].tank->mix;
		text_format(out, "   %s\n", tank_print(name, sizeof name, mix));
		add_tank(propose, &tried->tank[t]);
	}
	if (tried->tank_count > 1)
		add_cost(propose, tried->proposal->cost, "   in all: ");
	text_add(out, "   To queue it:\n");
	for (size_t t = 0; t < tried->tank_count; t++) {
		text_add(out, "     ");
		propose_add_command(out, propose, tried->tank[t].tank);
		text_add(out, "\n");
	}
}

/* What was not proposed, and what was not looked at. */
static void
add_rest(const struct propose *propose, bool any_open)
{
	const struct choice *choice = propose->choice;
	struct text *out = &propose->session->out;
	if (choice->count > 0)
		text_add(out, "\n");
	for (size_t i = 0; i < choice->left_out_count; i++)
		text_format(out, "not proposed: %s\n", choice->left_out[i].why);
	if (choice->searched < choice->usable)
		text_format(out,
		    "%zu of %zu herbicides were searched, those that control "
		    "most of these weeds\n",
		    choice->searched, choice->usable);
	if (!any_open && propose->looked_at < choice->found)
		text_format(out,
		    "only the best %zu of %zu proposals were looked at\n",
		    propose->looked_at, choice->found);
	if (propose->session->keeper.config.package_count == 0)
		text_add(out, "no package is configured: every card counts as "
			      "on the shelf\n");
}

void
propose_show(
    const struct propose *propose, const struct tried *tried, size_t count)
{
	const struct choice *choice = propose->choice;
	struct text *out = &propose->session->out;
	if (count > 0)
		text_format(out, "%s:", propose->job.site->name);
	for (size_t w = 0; w < choice->weed_count && count > 0; w++)
		text_format(out, "%s%s", w > 0 ? ", " : " ", choice->weed[w]);
	text_add(out, count > 0 ? "\n" : "");
	for (size_t i = 0; i < count; i++)
		add_proposal(propose, &tried[i], i + 1);
	add_rest(propose, count > 0 && tried[0].is_open);
}
