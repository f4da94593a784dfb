/* Records for people: newest last, in 80 columns where names allow it. */
#include "cli/records.h"

#include <inttypes.h>
#include <math.h>
#include <string.h>

/* In so many columns, with two blanks behind; a longer one moves the rest. */
static void
put(struct text *out, const char *word, int wide, bool right)
{
	int columns = 0;
	for (const char *at = word; *at != '\0'; at++)
		columns += ((unsigned char)*at & 0xC0) != 0x80;
	int blanks = columns < wide ? wide - columns : 0;
	text_format(out, "%*s%s%*s", right ? blanks : 0, "", word,
	    right ? 0 : blanks, "");
}

enum {
	NUMBER = 3,
	DATE = 10,
	TIME = 11,
	SITE = 10,
	AREA = 10,
	PRODUCT = 14,
	AMOUNT = 10
};

static void
put_head(struct text *out)
{
	put(out, "no", NUMBER, true);
	text_add(out, "  ");
	put(out, "date", DATE, false);
	text_add(out, "  ");
	put(out, "time", TIME, false);
	text_add(out, "  ");
	put(out, "site", SITE, false);
	text_add(out, "  ");
	put(out, "area", AREA, true);
	text_add(out, "  ");
	put(out, "product", PRODUCT, false);
	text_add(out, "  ");
	put(out, "amount", AMOUNT, true);
	text_add(out, "\n");
}

static void
put_when(struct text *out, const struct records *records,
    const struct stored_record *record)
{
	const struct zone zone = record_zone(records->config, record);
	char from[CIVIL_BUFFER], to[CIVIL_BUFFER], area[QUANTITY_BUFFER];
	text_format(out, "%*" PRId64 "  %s  ", NUMBER, record->id,
	    civil_print(from, sizeof from, &zone, record->from, CIVIL_DATE));
	text_format(out, "%s-%s  ",
	    civil_print(from, sizeof from, &zone, record->from, CIVIL_CLOCK),
	    civil_print(to, sizeof to, &zone, record->to, CIVIL_CLOCK));
	put(out, record->site, SITE, false);
	text_add(out, "  ");
	put(out,
	    quantity_print(area, sizeof area, record->area, QUANTITY_AREA,
		records->config->units),
	    AREA, true);
	text_add(out, "  ");
}

static void
put_products(struct text *out, const struct stored_record *record,
    enum unit_system units)
{
	enum { BEFORE = NUMBER + DATE + TIME + SITE + AREA + 10 };
	char text[QUANTITY_BUFFER];
	for (size_t i = 0; i < record->amount_count; i++) {
		const struct stored_amount *amount = &record->amount[i];
		text_format(out, "%*s", i > 0 ? BEFORE : 0, "");
		put(out, amount->product, PRODUCT, false);
		text_add(out, "  ");
		put(out,
		    isnan(amount->amount)
			? "not known"
			: record_print_amount(text, sizeof text, amount, units),
		    AMOUNT, true);
		text_add(out, "\n");
	}
}

/* "wind 5 mph (forecast 7 mph), air 61 °F (forecast), rules: go" */
static void
add_weather(struct text *line, const struct stored_record *record,
    enum unit_system units)
{
	char text[QUANTITY_BUFFER];
	for (size_t i = 0; i < WEATHER_FIELDS; i++) {
		enum quantity_kind kind = weather_fields[i].kind;
		double measured = weather_value(&record->measured, i);
		double forecast = weather_value(&record->forecast, i);
		bool is_measured = !isnan(measured);
		if (!is_measured && isnan(forecast))
			continue;
		text_format(line, "%s %s%s", weather_fields[i].words,
		    quantity_print(text, sizeof text,
			is_measured ? measured : forecast, kind, units),
		    is_measured ? "" : " (forecast)");
		if (is_measured && !isnan(forecast))
			text_format(line, " (forecast %s)",
			    quantity_print(
				text, sizeof text, forecast, kind, units));
		text_add(line, ", ");
	}
	if (record->verdict[0] != '\0')
		text_format(line, "rules: %s, ", record->verdict);
}

static void
wrap_line(struct text *out, const char *name, const char *text)
{
	enum { INDENT = NUMBER + 2 };
	struct text line;
	if (text[0] == '\0')
		return;
	text_init(&line, LIMIT_OUTPUT_BYTES);
	text_format(&line, "%s%s%s", name, name[0] != '\0' ? ": " : "", text);
	records_wrap(out, INDENT, text_string(&line));
	text_release(&line);
}

/* "warm at 1.5 fl oz/1000 ft2, registration number 0-1; dye at 0.5 fl oz/gal"
 */
static void
put_cards(struct text *out, const struct stored_record *record,
    enum unit_system units)
{
	struct text line;
	text_init(&line, LIMIT_OUTPUT_BYTES);
	for (size_t i = 0; i < record->amount_count; i++) {
		const struct stored_amount *amount = &record->amount[i];
		if (isnan(amount->rate) && amount->registration[0] == '\0')
			continue;
		text_format(&line, "%s%s", line.length > 0 ? "; " : "",
		    amount->product);
		record_add_card(&line, record, amount, units);
	}
	wrap_line(out, "", text_string(&line));
	text_release(&line);
}

/* "for the owner, at 1 Hill Road, on bermuda, against clover, with backpack,
   5 gal of mix used" */
static void
put_where(struct text *out, const struct stored_record *record,
    enum unit_system units)
{
	const struct {
		const char *word, *text;
	} parts[] = { { "for", record->client }, { "at", record->place },
		{ "on", record->turf }, { "against", record->weeds },
		{ "with", record->sprayer } };
	struct text line;
	char used[QUANTITY_BUFFER];
	text_init(&line, LIMIT_OUTPUT_BYTES);
	for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++)
		if (parts[i].text[0] != '\0')
			text_format(&line, "%s%s %s",
			    line.length > 0 ? ", " : "", parts[i].word,
			    parts[i].text);
	if (!isnan(record->used))
		text_format(&line, "%s%s of mix used",
		    line.length > 0 ? ", " : "",
		    quantity_print(used, sizeof used, record->used,
			QUANTITY_VOLUME, units));
	wrap_line(out, "", text_string(&line));
	text_release(&line);
}

static void
put_who(struct text *out, const struct records *records,
    const struct stored_record *record)
{
	struct text line;
	text_init(&line, LIMIT_OUTPUT_BYTES);
	if (record->who[0] != '\0')
		text_format(&line, "by %s%s%s%s, ", record->who,
		    record->certification[0] != '\0' ? " (" : "",
		    record->certification,
		    record->certification[0] != '\0' ? ")" : "");
	add_weather(&line, record, records->config->units);
	if (line.length > 2)
		line.data[line.length - 2] = '\0';
	wrap_line(out, "", text_string(&line));
	text_release(&line);
}

/* What was broken; what nobody could tell is in the other forms. */
static void
put_reasons(struct text *out, const char *reasons)
{
	struct text line;
	text_init(&line, LIMIT_OUTPUT_BYTES);
	while (*reasons != '\0') {
		reasons = record_next_reason(reasons, &line);
		if (strncmp(text_string(&line), "no-go: ", 7) == 0)
			wrap_line(out, "", text_string(&line));
	}
	text_release(&line);
}

static void
put_notes(struct text *out, const struct records *records,
    const struct stored_record *record)
{
	struct text line;
	wrap_line(out, "unusual", record->unusual);
	wrap_line(out, "left over", record->leftover);
	wrap_line(out, "note", record->note);
	text_init(&line, LIMIT_OUTPUT_BYTES);
	record_add_missing(&line, records->config, record);
	wrap_line(out, "not told", text_string(&line));
	text_clear(&line);
	if (config_site(records->config, record->site) == NULL &&
	    record->utc_offset == 0)
		wrap_line(out, "",
		    "the times are UTC: the site is not in the configuration");
	if (record->replaces != 0)
		text_format(
		    &line, "replaces record %" PRId64, record->replaces);
	if (record->replaced_by != 0)
		text_format(&line, "%sREPLACED by record %" PRId64,
		    line.length > 0 ? ", " : "", record->replaced_by);
	wrap_line(out, "", text_string(&line));
	text_release(&line);
}

int
records_table(struct session *session, const struct records *records)
{
	struct text *out = &session->out;
	bool missing = false;
	put_head(out);
	for (size_t i = 0; i < records->count; i++) {
		const struct stored_record *record = records->record[i];
		struct missing names[MISSING_MOST];
		put_when(out, records, record);
		put_products(out, record, records->config->units);
		put_cards(out, record, records->config->units);
		put_where(out, record, records->config->units);
		put_who(out, records, record);
		put_reasons(out, record->reasons);
		put_notes(out, records, record);
		missing = missing ||
			  record_missing(records->config, record, names) > 0;
	}
	if (missing)
		text_add(out, "\nYour state may ask for more than is listed as "
			      "not told.\n");
	return 0;
}
