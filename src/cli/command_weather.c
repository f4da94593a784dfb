#include "cli/session.h"

#include "cli/show.h"
#include "cli/weather_turf.h"
#include "service/address.h"

#include <errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { HOURS_USUAL = 48, HOURS_MOST = 16 * 24, CELLS_IN_HOUR = 4 };

static const char usual_columns[] =
    "air-temperature,humidity,delta-t,wind,gust,"
    "rain-chance,rain-block,wet,sun-height";

struct choice {
	enum measure column[MEASURES];
	size_t count;
	size_t hours;
};

static bool
read_columns(struct session *session, const char *list, struct choice *choice)
{
	while (*list != '\0') {
		char key[LIMIT_NAME_BYTES];
		size_t length = strcspn(list, ",");
		size_t kept = length < sizeof key ? length : sizeof key - 1;
		memcpy(key, list, kept);
		key[kept] = '\0';
		enum measure measure = measure_find(key);
		if (measure == MEASURES || choice->count == MEASURES)
			return error_set(&session->error, ERROR_INPUT,
			    "--columns: there is no column '%s'", key);
		choice->column[choice->count++] = measure;
		list += length;
		list += *list == ',' ? 1 : 0;
	}
	return true;
}

static bool
read_choice(struct session *session, struct choice *choice)
{
	const char *columns = session_option(session, "columns");
	const char *hours = session_option(session, "hours");
	choice->hours = HOURS_USUAL;
	if (hours != NULL) {
		char *end;
		errno = 0;
		long value = strtol(hours, &end, 10);
		if (errno != 0 || end == hours || *end != '\0' || value < 1 ||
		    value > HOURS_MOST)
			return error_set(&session->error, ERROR_INPUT,
			    "--hours: '%.40s' is no number from 1 to %d", hours,
			    (int)HOURS_MOST);
		choice->hours = (size_t)value;
	}
	return read_columns(
	    session, columns != NULL ? columns : usual_columns, choice);
}

/* The value at the hour: cells within an hour are alike but at its seams. */
static double
value_at(const struct series *series, enum measure measure, size_t cell)
{
	const float *column = series->column[measure];
	return column == NULL ? NAN : (double)column[cell];
}

static int
width_of(const struct measure_info *info)
{
	int length = (int)strlen(info->key);
	return length < 7 ? 7 : length;
}

/* "soil-temperature, alert-wind": the columns that came from a link. */
static void
add_columns_of(struct text *out, const struct chain *chain, size_t link)
{
	const char *between = " fills ";
	for (int m = 0; m < MEASURES; m++) {
		if (chain->origin[m] != link)
			continue;
		text_format(
		    out, "%s%s", between, measure_info((enum measure)m)->key);
		between = ", ";
	}
}

static void
add_link(struct session *session, const struct board_site *site, size_t i,
    int64_t now)
{
	const struct chain_link *link = &site->chain.link[i];
	char shown[ADDRESS_SHOWN], line[256];
	struct text *out = &session->out;
	address_show(link->source->address, shown, sizeof shown);
	text_format(out, "%zu  %s", i + 1, shown);
	if (site->chain.answers == i)
		text_add(out, " answers");
	else if (link->used)
		add_columns_of(out, &site->chain, i);
	text_add(out, "\n");
	if (link->issued != 0)
		text_format(out, "   %s\n",
		    chain_print_link(
			line, sizeof line, link, &site->site->zone, now));
	if (link->trouble[0] != '\0')
		text_format(out, "   %s\n", link->trouble);
	if (link->fetch_trouble[0] != '\0')
		text_format(
		    out, "   the last fetch failed: %s\n", link->fetch_trouble);
}

static void
add_sources(struct session *session, const struct board_site *site, int64_t now)
{
	text_format(&session->out, "%s\n", site->site->name);
	for (size_t i = 0; i < site->chain.count; i++)
		add_link(session, site, i, now);
	text_format(&session->out, "=  follows from the others\n%s\n",
	    site->chain.credit);
	if (site->series.rejected > 0)
		text_format(&session->out,
		    "%zu values cannot be and were thrown out\n",
		    site->series.rejected);
}

/* The number of the source, "=" for what is derived, "?" for neither. */
static void
print_origin(char buffer[8], const struct board_site *site, enum measure column)
{
	uint8_t origin = site->chain.origin[column];
	if (origin != CHAIN_NOBODY)
		(void)snprintf(buffer, 8, "%d", origin + 1);
	else
		(void)snprintf(buffer, 8, "%s",
		    site->series.column[column] != NULL ? "=" : "?");
}

static void
add_head(struct session *session, const struct board_site *site,
    const struct choice *choice)
{
	enum unit_system units = session->keeper.config.units;
	char origin[8];
	text_format(&session->out, "\n%-16s", "");
	for (size_t c = 0; c < choice->count; c++) {
		const struct measure_info *info =
		    measure_info(choice->column[c]);
		text_format(&session->out, "  %*s", width_of(info), info->key);
	}
	text_format(&session->out, "\n%-16s", "source");
	for (size_t c = 0; c < choice->count; c++) {
		print_origin(origin, site, choice->column[c]);
		text_format(&session->out, "  %*s",
		    width_of(measure_info(choice->column[c])), origin);
	}
	text_format(&session->out, "\n%-16s", "");
	for (size_t c = 0; c < choice->count; c++) {
		const struct measure_info *info =
		    measure_info(choice->column[c]);
		const char *unit = quantity_unit(info->kind, units);
		/* a degree sign is two bytes and one column */
		int wide = strstr(unit, "\xC2\xB0") != NULL ? 1 : 0;
		text_format(
		    &session->out, "  %*s", width_of(info) + wide, unit);
	}
	text_add(&session->out, "\n");
}

static int
decimals_of(enum quantity_kind kind)
{
	return kind == QUANTITY_RAIN ? 2 : kind == QUANTITY_NUMBER ? 0 : 1;
}

static void
add_row(struct session *session, const struct board_site *site, size_t cell,
    const struct choice *choice)
{
	enum unit_system units = session->keeper.config.units;
	char when[CIVIL_BUFFER];
	int64_t time = series_time(&site->series, cell);
	text_format(&session->out, "%-16s",
	    civil_print(
		when, sizeof when, &site->site->zone, time, CIVIL_DAY_CLOCK));
	for (size_t c = 0; c < choice->count; c++) {
		const struct measure_info *info =
		    measure_info(choice->column[c]);
		double value = value_at(&site->series, choice->column[c], cell);
		if (isnan(value))
			text_format(
			    &session->out, "  %*s", width_of(info), "?");
		else
			text_format(&session->out, "  %*.*f", width_of(info),
			    decimals_of(info->kind),
			    quantity_number(value, info->kind, units) + 0.0);
	}
	text_add(&session->out, "\n");
}

static void
add_links_json(cJSON *json, const struct board_site *site)
{
	const struct zone *zone = &site->site->zone;
	char shown[ADDRESS_SHOWN];
	cJSON *list = cJSON_AddArrayToObject(json, "sources");
	for (size_t i = 0; i < site->chain.count; i++) {
		const struct chain_link *link = &site->chain.link[i];
		cJSON *one = cJSON_CreateObject();
		cJSON_AddItemToArray(list, one);
		address_show(link->source->address, shown, sizeof shown);
		cJSON_AddStringToObject(one, "format", link->format->name);
		cJSON_AddStringToObject(one, "address", shown);
		cJSON_AddBoolToObject(one, "answers", site->chain.answers == i);
		cJSON_AddItemToObject(one, "issued",
		    link->issued != 0 ? json_time(zone, link->issued)
				      : cJSON_CreateNull());
		cJSON_AddStringToObject(one, "trouble", link->trouble);
		cJSON_AddStringToObject(
		    one, "fetch-trouble", link->fetch_trouble);
	}
}

/* "nws-grid", "derived", or null for a column that nobody has. */
static cJSON *
origin_json(const struct board_site *site, enum measure column)
{
	uint8_t origin = site->chain.origin[column];
	if (origin != CHAIN_NOBODY)
		return cJSON_CreateString(
		    site->chain.link[origin].format->name);
	return site->series.column[column] != NULL
		   ? cJSON_CreateString("derived")
		   : cJSON_CreateNull();
}

static void
add_json(struct session *session, const struct board *board,
    const struct board_site *site, size_t first, const struct choice *choice)
{
	const struct zone *zone = &site->site->zone;
	cJSON *json = cJSON_CreateObject();
	cJSON_AddStringToObject(json, "site", site->site->name);
	add_links_json(json, site);
	cJSON_AddStringToObject(json, "credit", site->chain.credit);
	cJSON_AddStringToObject(json, "trouble", site->chain.trouble);
	weather_turf_add_json(session, json, site, board->now);
	cJSON *origins = cJSON_AddObjectToObject(json, "origin");
	cJSON *times = cJSON_AddArrayToObject(json, "time");
	cJSON *units = cJSON_AddObjectToObject(json, "units");
	cJSON *columns = cJSON_AddObjectToObject(json, "columns");
	size_t count = choice->hours * CELLS_IN_HOUR;
	for (size_t i = first; i < first + count && i < site->series.count;
	     i += CELLS_IN_HOUR)
		cJSON_AddItemToArray(
		    times, json_time(zone, series_time(&site->series, i)));
	for (size_t c = 0; c < choice->count; c++) {
		const struct measure_info *info =
		    measure_info(choice->column[c]);
		cJSON_AddStringToObject(
		    units, info->key, quantity_unit(info->kind, UNITS_METRIC));
		cJSON_AddItemToObject(
		    origins, info->key, origin_json(site, choice->column[c]));
		cJSON *values = cJSON_AddArrayToObject(columns, info->key);
		for (size_t i = first;
		     i < first + count && i < site->series.count;
		     i += CELLS_IN_HOUR)
			cJSON_AddItemToArray(values,
			    json_rounded(
				quantity_number(value_at(&site->series,
						    choice->column[c], i),
				    info->kind, UNITS_METRIC),
				3));
	}
	(void)session_print_json(session, json);
}

int
command_weather(struct session *session)
{
	struct board board;
	struct choice choice = { .count = 0 };
	if (!read_choice(session, &choice) || session_site(session) == NULL ||
	    !show_load(session, &board))
		return (int)session->error.kind;
	const struct board_site *site =
	    board_find_site(&board, session->word[0]);
	int64_t hour = board.now - board.now % 3600;
	size_t first = (size_t)((hour - site->series.start) / SERIES_STEP);
	int code = site->chain.trouble[0] != '\0' ? ERROR_ANSWER : 0;
	if (session->json) {
		add_json(session, &board, site, first, &choice);
	} else {
		add_sources(session, site, board.now);
		weather_turf_add(session, site, board.now);
		add_head(session, site, &choice);
		for (size_t h = 0; h < choice.hours; h++) {
			size_t cell = first + h * CELLS_IN_HOUR;
			if (cell < site->series.count)
				add_row(session, site, cell, &choice);
		}
	}
	board_release(&board);
	return code;
}
