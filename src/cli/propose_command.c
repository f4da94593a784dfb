/* The commands that queue a proposal, and what else is told of a tank. */
#include "cli/propose.h"

#include "turf/weeds.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

/*
 * A word as a shell takes it. Double quotes where only blanks ask for them, as
 * a person would; single ones around what is still special inside those.
 */
static void
add_word(struct text *text, const char *word)
{
	bool plain = word[0] != '\0', mild = true;
	for (const char *c = word; *c != '\0'; c++) {
		plain &= isalnum((unsigned char)*c) != 0 ||
			 strchr("-_./:=,%+", *c) != NULL;
		mild &= strchr("\"\\$`!", *c) == NULL;
	}
	if (plain || mild) {
		text_format(text, plain ? " %s" : " \"%s\"", word);
		return;
	}
	text_add(text, " '");
	for (const char *c = word; *c != '\0'; c++)
		if (*c == '\'')
			text_add(text, "'\\''");
		else
			text_append(text, c, 1);
	text_add(text, "'");
}

static void
add_option(struct text *text, const char *name, const char *value)
{
	text_format(text, " --%s", name);
	add_word(text, value);
}

/* What the keeper gave besides the weeds, in that order. */
static void
add_given(struct text *text, const struct session *session)
{
	static const struct zone utc = { 0 };
	char now[CIVIL_BUFFER];
	for (size_t i = 0; i < session->given_count; i++) {
		const struct given *given = &session->given[i];
		const char *option = session->command->options[given->option];
		if (option[0] != OPTION_OFTEN)
			add_option(text, option, given->value);
	}
	if (session->config_path != NULL)
		add_option(text, "config", session->config_path);
	if (session->state != NULL)
		add_option(text, "state", session->state);
	if (session->clock.fixed)
		add_option(text, "now",
		    civil_print(
			now, sizeof now, &utc, session->clock.at, CIVIL_STAMP));
}

void
propose_add_command(struct text *text, const struct propose *propose,
    const struct proposed_tank *tank)
{
	const struct choice *choice = propose->choice;
	enum unit_system units = propose->session->keeper.config.units;
	char word[LIMIT_NAME_BYTES + QUANTITY_BUFFER + 2];
	char rate[QUANTITY_BUFFER];
	text_add(text, "lull add");
	add_word(text, propose->job.site->name);
	for (size_t i = 0; i < tank->mix.count; i++) {
		const struct dose *dose = &tank->mix.dose[i];
		(void)snprintf(word, sizeof word, "%s=%s", dose->product->name,
		    propose_print_rate(rate, sizeof rate, dose, units));
		add_word(
		    text, dose->product->rate > 0 ? dose->product->name : word);
	}
	for (size_t w = 0; w < choice->weed_count; w++)
		if ((tank->covers >> w & 1) != 0)
			add_option(text, "weed", choice->weed[w]);
	add_given(text, propose->session);
}

char *
propose_print_rate(
    char *buffer, size_t size, const struct dose *dose, enum unit_system units)
{
	double back = 0;
	quantity_print(buffer, size, dose->rate, dose->rate_kind, units);
	if (quantity_parse(buffer, dose->rate_kind, &back, NULL) &&
	    fabs(back - dose->rate) <= 1e-5 * dose->rate)
		return buffer;
	(void)snprintf(buffer, size, "%.9g %s",
	    quantity_number(dose->rate, dose->rate_kind, units),
	    quantity_unit(dose->rate_kind, units));
	return buffer;
}

bool
propose_covers(const struct product *product, const char *weed)
{
	return product->kind == PRODUCT_HERBICIDE &&
	       product_controls(product, weed);
}

static bool
is_listed(const char **list, size_t count, const char *name)
{
	for (size_t i = 0; i < count; i++)
		if (strcasecmp(list[i], name) == 0)
			return true;
	return false;
}

size_t
propose_groups(const struct tank_mix *mix, const char *ret[PROPOSE_GROUPS])
{
	size_t count = 0;
	for (size_t p = 0; p < mix->count; p++) {
		const struct product *product = mix->dose[p].product;
		if (product->kind != PRODUCT_HERBICIDE)
			continue;
		for (size_t g = 0; g < product->group_count; g++)
			if (count < PROPOSE_GROUPS &&
			    !is_listed(ret, count, product->group[g]))
				ret[count++] = product->group[g];
	}
	return count;
}

/* The words of turf/conflicts.c for a row that is not broken. */
enum rotation
propose_rotation(const struct tried_tank *tried)
{
	const struct tank_mix *mix = &tried->tank->mix;
	for (size_t i = 0; i < tried->caution_count; i++)
		if (strstr(tried->caution[i].text, "same resistance group") !=
		    NULL)
			return ROTATION_BROKEN;
	for (size_t i = 0; i < mix->count; i++)
		if (mix->dose[i].product->kind == PRODUCT_HERBICIDE &&
		    mix->dose[i].product->group_count == 0)
			return ROTATION_UNKNOWN;
	return ROTATION_KEPT;
}

int64_t
propose_effect(const struct tried_tank *tried, const struct product *product)
{
	return product->effect > 0 && tried->is_open
		   ? tried->to + (int64_t)product->effect
		   : 0;
}
