#include "cli/records.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

const struct weather_field weather_fields[WEATHER_FIELDS] = {
	{ "wind", "wind", "wind_m_per_s", QUANTITY_SPEED },
	{ "gust", "gust", "gust_m_per_s", QUANTITY_SPEED },
	{ "wind from", "wind-direction", "wind_from_degrees", QUANTITY_ANGLE },
	{ "air", "air-temperature", "air_degC", QUANTITY_TEMPERATURE },
	{ "humidity", "humidity", "humidity_percent", QUANTITY_PERCENT },
};

double
weather_value(const struct stored_weather *weather, size_t field)
{
	const double value[WEATHER_FIELDS] = { weather->wind, weather->gust,
		weather->wind_direction, weather->air_temperature,
		weather->humidity };
	return value[field];
}

char *
record_print_amount(char *buffer, size_t size,
    const struct stored_amount *amount, enum unit_system units)
{
	if (!isnan(amount->amount))
		return quantity_print(buffer, size, amount->amount,
		    amount->is_mass ? QUANTITY_MASS : QUANTITY_VOLUME, units);
	(void)snprintf(buffer, size, "amount not known");
	return buffer;
}

/* Of a rate over the ground: more or less of the mix than planned was used. */
static bool
differs(const struct stored_amount *amount, double put_down)
{
	return quantity_is_per_area(amount->rate_kind) && !isnan(put_down) &&
	       fabs(put_down / amount->rate - 1) > RECORD_GRAIN;
}

void
record_add_card(struct text *out, const struct stored_record *record,
    const struct stored_amount *amount, enum unit_system units)
{
	double put_down = amount->amount / record->area;
	char text[QUANTITY_BUFFER];
	if (!isnan(amount->rate))
		text_format(out, " at %s",
		    quantity_print(text, sizeof text, amount->rate,
			amount->rate_kind, units));
	if (differs(amount, put_down))
		text_format(out, ", sprayed at %s",
		    quantity_print(
			text, sizeof text, put_down, amount->rate_kind, units));
	if (amount->registration[0] != '\0')
		text_format(
		    out, ", registration number %s", amount->registration);
}

static void
add_product(struct text *out, const struct stored_record *record,
    const struct stored_amount *amount, enum unit_system units)
{
	char text[QUANTITY_BUFFER];
	text_format(out, "%s: %s", amount->product,
	    record_print_amount(text, sizeof text, amount, units));
	record_add_card(out, record, amount, units);
	text_add(out, "\n");
}

/* "wind 5 mph measured, 7 mph forecast" */
static void
add_weather(struct text *out, const struct stored_record *record, size_t field,
    enum unit_system units)
{
	enum quantity_kind kind = weather_fields[field].kind;
	double measured = weather_value(&record->measured, field);
	double forecast = weather_value(&record->forecast, field);
	char text[QUANTITY_BUFFER];
	if (isnan(measured) && isnan(forecast))
		return;
	text_add(out, weather_fields[field].words);
	if (!isnan(measured))
		text_format(out, " %s measured",
		    quantity_print(text, sizeof text, measured, kind, units));
	if (!isnan(forecast))
		text_format(out, "%s %s forecast", isnan(measured) ? "" : ",",
		    quantity_print(text, sizeof text, forecast, kind, units));
	text_add(out, isnan(measured) ? ", not measured\n" : "\n");
}

void
record_add_work(struct text *out, const struct config *config,
    const struct stored_record *record)
{
	char text[QUANTITY_BUFFER], when[CIVIL_BUFFER];
	text_format(out, "%s",
	    quantity_print(
		text, sizeof text, record->area, QUANTITY_AREA, config->units));
	if (!isnan(record->used))
		text_format(out, ", %s of mix used",
		    quantity_print(text, sizeof text, record->used,
			QUANTITY_VOLUME, config->units));
	text_add(out, "\n");
	for (size_t i = 0; i < record->amount_count; i++)
		add_product(out, record, &record->amount[i], config->units);
	for (size_t i = 0; i < WEATHER_FIELDS; i++)
		add_weather(out, record, i, config->units);
	if (record->forecast_source[0] == '\0')
		return;
	const struct zone zone = record_zone(config, record);
	text_format(out, "forecast of %s", record->forecast_source);
	if (record->forecast_issued != 0)
		text_format(out, ", issued %s",
		    civil_print(when, sizeof when, &zone,
			record->forecast_issued, CIVIL_DAY_CLOCK));
	text_add(out, "\n");
}

void
record_add_rest(struct text *out, const struct stored_record *record,
    enum unit_system units)
{
	char carrier[QUANTITY_BUFFER];
	const struct {
		const char *name, *text;
	} lines[] = {
		{ "applicator", record->who },
		{ "certification", record->certification },
		{ "client", record->client },
		{ "place", record->place },
		{ "weeds", record->weeds },
		{ "turf", record->turf },
		{ "sprayer", record->sprayer },
		{ "unusual", record->unusual },
		{ "left over", record->leftover },
		{ "note", record->note },
	};
	for (size_t i = 0; i < sizeof lines / sizeof lines[0]; i++)
		if (lines[i].text[0] != '\0')
			text_format(
			    out, "%s: %s\n", lines[i].name, lines[i].text);
	if (!isnan(record->carrier))
		text_format(out, "carrier: %s\n",
		    quantity_print(carrier, sizeof carrier, record->carrier,
			QUANTITY_VOLUME_PER_AREA, units));
}

const char *
record_next_reason(const char *reasons, struct text *line)
{
	size_t length = strcspn(reasons, "\n");
	text_clear(line);
	text_append(line, reasons, length);
	return reasons + length + (reasons[length] == '\n');
}

bool
record_is_measured(const struct stored_record *record)
{
	for (size_t i = 0; i < WEATHER_FIELDS; i++)
		if (!isnan(weather_value(&record->measured, i)))
			return true;
	return false;
}

static void
add_basis(
    struct text *out, const struct stored_record *record, const char *whose)
{
	if (record_is_measured(record))
		text_format(out, "at the weather %s", whose);
	else if (record->forecast_source[0] != '\0')
		text_add(out, "by the forecast, for nothing was measured,");
	else
		text_add(out, "without readings and without a forecast");
}

/* One that says what the whole does need not repeat it. */
static void
add_reason(struct text *out, const char *reason, const char *verdict)
{
	size_t word = strlen(verdict);
	bool repeats = strlen(reason) > word + 2 &&
		       strncmp(reason, verdict, word) == 0 &&
		       strncmp(reason + word, ": ", 2) == 0;
	text_format(out, "- %s\n", reason + (repeats ? word + 2 : 0));
}

void
record_add_verdict(
    struct text *out, const struct stored_record *record, const char *whose)
{
	if (record->verdict[0] == '\0')
		return;
	add_basis(out, record, whose);
	text_format(out, " it was %s%s\n", record->verdict,
	    record->reasons[0] != '\0' ? ":" : "");
	struct text line;
	text_init(&line, LIMIT_OUTPUT_BYTES);
	for (const char *rest = record->reasons; *rest != '\0';) {
		rest = record_next_reason(rest, &line);
		add_reason(out, text_string(&line), record->verdict);
	}
	text_release(&line);
}

/* How wide a text stands on the screen: characters, not bytes. */
static int
width(const char *text, size_t length)
{
	int columns = 0;
	for (size_t i = 0; i < length; i++)
		columns += ((unsigned char)text[i] & 0xC0) != 0x80;
	return columns;
}

void
records_wrap(struct text *out, int indent, const char *words)
{
	enum { COLUMNS = 80 };
	int column = 0;
	while (*words != '\0') {
		size_t length = strcspn(words, " ");
		int wide = width(words, length);
		if (column > 0 && column + 1 + wide > COLUMNS) {
			text_add(out, "\n");
			column = 0;
		}
		if (column == 0)
			text_format(out, "%*s", indent, "");
		else
			text_add(out, " ");
		column += wide + (column == 0 ? indent : 1);
		text_append(out, words, length);
		words += length + (words[length] == ' ');
	}
	text_add(out, "\n");
}
