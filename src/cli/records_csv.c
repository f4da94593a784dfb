/*
 * Records for a spreadsheet: RFC 4180, UTF-8, a header line, one row for each
 * product of a record, so that each row stands alone. What is not known is
 * empty. Numbers are metric, with the unit in the column's name; `amount`,
 * `rate` and `area` have the keeper's units beside the number.
 */
#include "cli/records.h"

#include <inttypes.h>
#include <math.h>
#include <string.h>

struct row {
	const struct config *config;
	const struct stored_record *record;
	const struct stored_amount *amount;
	struct text *cell; /* not quoted yet */
};

struct column {
	const char *name;
	void (*print)(const struct row *row, const struct column *column);
	size_t offset; /* into the record or the amount */
	/* of a rate; whether an amount is by mass */
	enum quantity_kind kind;
};

static const void *
in_record(const struct row *row, const struct column *column)
{
	return (const char *)row->record + column->offset;
}

/* Empty for what is not there. */
static void
print_id(const struct row *row, const struct column *column)
{
	int64_t id = *(const int64_t *)in_record(row, column);
	if (id != 0)
		text_format(row->cell, "%" PRId64, id);
}

static void
add_number(const struct row *row, double value)
{
	if (!isnan(value))
		text_format(row->cell, "%.9g", value);
}

/* A forecast has no more figures. */
static void
print_weather(const struct row *row, const struct column *column)
{
	double value = *(const double *)in_record(row, column);
	if (!isnan(value))
		text_format(row->cell, "%.6g", value);
}

static void
print_number(const struct row *row, const struct column *column)
{
	add_number(row, *(const double *)in_record(row, column));
}

/* The lines of a text become parts of one. */
static void
print_text(const struct row *row, const struct column *column)
{
	const char *text = *(const char *const *)in_record(row, column);
	for (const char *at = text; *at != '\0'; at++) {
		if (*at == '\n')
			text_add(row->cell, "; ");
		else
			text_append(row->cell, at, 1);
	}
}

static void
add_time(const struct row *row, int64_t time, enum civil_style style)
{
	const struct zone zone = record_zone(row->config, row->record);
	char buffer[CIVIL_BUFFER];
	text_add(
	    row->cell, civil_print(buffer, sizeof buffer, &zone, time, style));
}

static void
print_time(const struct row *row, const struct column *column)
{
	int64_t time = *(const int64_t *)in_record(row, column);
	if (time != 0)
		add_time(row, time, CIVIL_STAMP);
}

static void
print_date(const struct row *row, const struct column *column)
{
	add_time(row, *(const int64_t *)in_record(row, column), CIVIL_DATE);
}

static void
print_status(const struct row *row, const struct column *column)
{
	(void)column;
	text_add(
	    row->cell, row->record->replaced_by != 0 ? "replaced" : "final");
}

static void
print_area(const struct row *row, const struct column *column)
{
	char text[QUANTITY_BUFFER];
	if (!isnan(row->record->area))
		text_add(row->cell,
		    quantity_print(text, sizeof text, row->record->area,
			column->kind, row->config->units));
}

static void
print_missing(const struct row *row, const struct column *column)
{
	(void)column;
	record_add_missing(row->cell, row->config, row->record);
}

static void
print_product(const struct row *row, const struct column *column)
{
	text_add(row->cell,
	    *(const char *const *)((const char *)row->amount + column->offset));
}

static void
print_amount(const struct row *row, const struct column *column)
{
	char text[QUANTITY_BUFFER];
	bool is_mass = column->kind == QUANTITY_MASS;
	if (column->kind != QUANTITY_NUMBER) {
		if (row->amount->is_mass == is_mass)
			add_number(row, row->amount->amount);
	} else if (!isnan(row->amount->amount)) {
		text_add(row->cell, record_print_amount(text, sizeof text,
					row->amount, row->config->units));
	}
}

static void
print_rate(const struct row *row, const struct column *column)
{
	const struct stored_amount *amount = row->amount;
	char text[QUANTITY_BUFFER];
	if (isnan(amount->rate))
		return;
	if (column->kind == QUANTITY_NUMBER)
		text_add(
		    row->cell, quantity_print(text, sizeof text, amount->rate,
				   amount->rate_kind, row->config->units));
	else if (column->kind == amount->rate_kind)
		add_number(row, amount->rate);
}

#define RECORD(name, print, member)                                            \
	{                                                                      \
		name, print, offsetof(struct stored_record, member),           \
		    QUANTITY_NUMBER                                            \
	}
#define AMOUNT(name, print, member)                                            \
	{                                                                      \
		name, print, offsetof(struct stored_amount, member),           \
		    QUANTITY_NUMBER                                            \
	}
#define KIND(name, print, kind)                                                \
	{                                                                      \
		name, print, 0, kind                                           \
	}

static const struct column columns[] = {
	RECORD("record", print_id, id),
	RECORD("job", print_id, job),
	RECORD("status", print_status, replaced_by),
	RECORD("replaces", print_id, replaces),
	RECORD("replaced_by", print_id, replaced_by),
	RECORD("date", print_date, from),
	RECORD("from", print_time, from),
	RECORD("to", print_time, to),
	RECORD("site", print_text, site),
	RECORD("place", print_text, place),
	RECORD("client", print_text, client),
	RECORD("area_m2", print_number, area),
	KIND("area", print_area, QUANTITY_AREA),
	AMOUNT("product", print_product, product),
	AMOUNT("registration", print_product, registration),
	KIND("amount_g", print_amount, QUANTITY_MASS),
	KIND("amount_L", print_amount, QUANTITY_VOLUME),
	KIND("amount", print_amount, QUANTITY_NUMBER),
	KIND("rate_g_per_m2", print_rate, QUANTITY_MASS_PER_AREA),
	KIND("rate_L_per_m2", print_rate, QUANTITY_VOLUME_PER_AREA),
	KIND("rate_g_per_L", print_rate, QUANTITY_MASS_PER_VOLUME),
	KIND("rate_L_per_L", print_rate, QUANTITY_VOLUME_PER_VOLUME),
	KIND("rate", print_rate, QUANTITY_NUMBER),
	RECORD("mix_used_L", print_number, used),
	RECORD("carrier_L_per_m2", print_number, carrier),
	RECORD("sprayer", print_text, sprayer),
	RECORD("weeds", print_text, weeds),
	RECORD("turf", print_text, turf),
	RECORD("applicator", print_text, who),
	RECORD("certification", print_text, certification),
	RECORD("wind_m_per_s", print_weather, measured.wind),
	RECORD("gust_m_per_s", print_weather, measured.gust),
	RECORD("wind_from_degrees", print_weather, measured.wind_direction),
	RECORD("air_degC", print_weather, measured.air_temperature),
	RECORD("humidity_percent", print_weather, measured.humidity),
	RECORD("forecast_wind_m_per_s", print_weather, forecast.wind),
	RECORD("forecast_gust_m_per_s", print_weather, forecast.gust),
	RECORD("forecast_wind_from_degrees", print_weather,
	    forecast.wind_direction),
	RECORD("forecast_air_degC", print_weather, forecast.air_temperature),
	RECORD("forecast_humidity_percent", print_weather, forecast.humidity),
	RECORD("forecast_source", print_text, forecast_source),
	RECORD("forecast_issued", print_time, forecast_issued),
	RECORD("verdict", print_text, verdict),
	RECORD("reasons", print_text, reasons),
	RECORD("unusual", print_text, unusual),
	RECORD("left_over", print_text, leftover),
	RECORD("note", print_text, note),
	RECORD("not_told", print_missing, id),
	RECORD("created", print_time, created),
};

enum { COLUMNS = sizeof columns / sizeof columns[0] };

/* Quoted only where it must be; a quote inside is doubled. */
static void
add_cell(struct text *out, const char *cell)
{
	if (strpbrk(cell, "\",\r\n") == NULL) {
		text_add(out, cell);
		return;
	}
	text_add(out, "\"");
	for (; *cell != '\0'; cell++) {
		text_append(out, cell, 1);
		if (*cell == '"')
			text_add(out, "\"");
	}
	text_add(out, "\"");
}

static void
add_row(struct text *out, const struct row *row)
{
	for (size_t i = 0; i < COLUMNS; i++) {
		text_clear(row->cell);
		columns[i].print(row, &columns[i]);
		text_add(out, i > 0 ? "," : "");
		add_cell(out, text_string(row->cell));
	}
	text_add(out, "\r\n");
}

int
records_csv(struct session *session, const struct records *records)
{
	struct text cell;
	text_init(&cell, LIMIT_OUTPUT_BYTES);
	for (size_t i = 0; i < COLUMNS; i++)
		text_format(
		    &session->out, "%s%s", i > 0 ? "," : "", columns[i].name);
	text_add(&session->out, "\r\n");
	for (size_t r = 0; r < records->count; r++) {
		const struct stored_record *record = records->record[r];
		for (size_t i = 0; i < record->amount_count; i++) {
			const struct row row = { records->config, record,
				&record->amount[i], &cell };
			add_row(&session->out, &row);
		}
	}
	text_release(&cell);
	return 0;
}
