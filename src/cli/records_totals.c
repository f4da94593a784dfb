/* What was put down in each calendar year, on the clock of its site. */
#include "cli/records.h"

#include "base/memory.h"
#include "turf/totals.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct totals_item *
list_items(const struct records *records, size_t *ret_count)
{
	struct totals_item *items = NULL;
	size_t count = 0, capacity = 0;
	for (size_t r = 0; r < records->count; r++) {
		const struct stored_record *record = records->record[r];
		const struct zone zone = record_zone(records->config, record);
		int year = civil_from_utc(&zone, record->from).year;
		for (size_t i = 0; i < record->amount_count; i++) {
			const struct stored_amount *amount = &record->amount[i];
			items =
			    memory_grow(items, count, &capacity, sizeof *items);
			items[count++] = (struct totals_item){ record->id, year,
				{ record->site, amount->product, record->from,
				    record->area, amount->amount,
				    amount->is_mass } };
		}
	}
	*ret_count = count;
	return items;
}

enum { SUM_BUFFER = QUANTITY_BUFFER + 64 };

/* "18 fl oz", "at least 9 fl oz", "unknown" when no share of it is known. */
static char *
print_sum(char *buffer, size_t size, const struct totals_sum *sum,
    enum quantity_kind kind, enum unit_system units)
{
	char text[QUANTITY_BUFFER];
	bool none = sum->unknown > 0 && !(sum->known > 0);
	(void)snprintf(buffer, size, "%s%s",
	    sum->unknown > 0 && !none ? "at least " : "",
	    quantity_print(
		text, sizeof text, none ? NAN : sum->known, kind, units));
	return buffer;
}

static void
add_amount(struct text *line, const struct total *total, enum unit_system units)
{
	char sum[SUM_BUFFER];
	size_t unknown = total->amount.unknown;
	text_format(line, "%s",
	    print_sum(sum, sizeof sum, &total->amount,
		total->is_mass ? QUANTITY_MASS : QUANTITY_VOLUME, units));
	if (unknown == 1)
		text_add(line, ", one amount is not known,");
	else if (unknown > 1)
		text_format(line, ", %zu amounts are not known,", unknown);
}

static void
describe(struct text *line, const struct total *total, enum unit_system units)
{
	char sum[SUM_BUFFER];
	if (total->kind == TOTALS_SITE)
		text_format(line, "%zu record%s", total->count,
		    total->count == 1 ? "" : "s");
	else
		text_format(line, "%zu time%s, ", total->count,
		    total->count == 1 ? "" : "s");
	if (total->kind != TOTALS_SITE)
		add_amount(line, total, units);
	text_format(line, " on %s",
	    print_sum(sum, sizeof sum, &total->area, QUANTITY_AREA, units));
	if (total->kind == TOTALS_SITE || total->site == NULL)
		return;
	text_format(line, "; the rates add up to %s",
	    print_sum(sum, sizeof sum, &total->per_area,
		total->is_mass ? QUANTITY_MASS_PER_AREA
			       : QUANTITY_VOLUME_PER_AREA,
		units));
}

static void
add_line(struct text *out, const struct total *total, enum unit_system units)
{
	struct text line;
	text_init(&line, LIMIT_OUTPUT_BYTES);
	text_format(&line,
	    "%s%s: ", total->kind == TOTALS_ACTIVE ? "active " : "",
	    total->name);
	describe(&line, total, units);
	records_wrap(
	    out, total->kind == TOTALS_SITE ? 0 : 2, text_string(&line));
	text_release(&line);
}

/* The lines of all sites have no site of their own to head them. */
static void
print_text(struct session *session, const struct total *totals, size_t count)
{
	struct text *out = &session->out;
	int year = INT32_MIN;
	const char *site = NULL;
	for (size_t i = 0; i < count; i++) {
		const struct total *total = &totals[i];
		if (total->year != year)
			text_format(
			    out, "%s%d\n", i > 0 ? "\n" : "", total->year);
		if (total->site == NULL && site != NULL)
			text_add(out, "all sites:\n");
		year = total->year;
		site = total->site;
		add_line(out, total, session->keeper.config.units);
	}
}

static void
add_sum(
    cJSON *json, const char *name, const struct totals_sum *sum, int decimals)
{
	char unknown[48];
	cJSON_AddItemToObject(json, name, json_rounded(sum->known, decimals));
	(void)snprintf(unknown, sizeof unknown, "%s-not-known", name);
	cJSON_AddNumberToObject(json, unknown, (double)sum->unknown);
}

static cJSON *
total_json(const struct total *total, enum unit_system units)
{
	static const char *const kind[] = { "site", "product", "active" };
	cJSON *json = cJSON_CreateObject();
	struct text line;
	cJSON_AddNumberToObject(json, "year", total->year);
	cJSON_AddStringToObject(json, "kind", kind[total->kind]);
	cJSON_AddItemToObject(json, "site",
	    total->site != NULL ? cJSON_CreateString(total->site)
				: cJSON_CreateNull());
	cJSON_AddStringToObject(json, "name", total->name);
	cJSON_AddNumberToObject(json, "count", (double)total->count);
	add_sum(json, "area-m2", &total->area, 4);
	if (total->kind != TOTALS_SITE) {
		add_sum(json, "amount", &total->amount, 6);
		cJSON_AddStringToObject(
		    json, "unit", total->is_mass ? "g" : "L");
	}
	if (total->kind != TOTALS_SITE && total->site != NULL) {
		add_sum(json, "per-area", &total->per_area, 9);
		cJSON_AddStringToObject(
		    json, "per-area-unit", total->is_mass ? "g/m2" : "L/m2");
	}
	text_init(&line, LIMIT_OUTPUT_BYTES);
	describe(&line, total, units);
	cJSON_AddStringToObject(json, "sentence", text_string(&line));
	text_release(&line);
	return json;
}

int
records_totals(struct session *session, const struct records *records)
{
	const struct config *config = records->config;
	size_t item_count, count;
	struct totals_item *items = list_items(records, &item_count);
	struct total *totals = totals_find(
	    items, item_count, config->products, config->product_count, &count);
	cJSON *json = session->json ? cJSON_CreateObject() : NULL;
	cJSON *list =
	    json != NULL ? cJSON_AddArrayToObject(json, "totals") : NULL;
	for (size_t i = 0; i < count && list != NULL; i++)
		cJSON_AddItemToArray(
		    list, total_json(&totals[i], config->units));
	if (json != NULL)
		(void)session_print_json(session, json);
	else
		print_text(session, totals, count);
	free(totals);
	free(items);
	return 0;
}
