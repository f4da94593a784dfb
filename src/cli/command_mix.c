#include "cli/session.h"

#include "cli/show.h"
#include "turf/exclusion.h"
#include "turf/mix.h"

#include <stdio.h>

static void
add_tank(struct session *session, const struct job *job, const struct mix *mix,
    const struct mix_tank *tank, const char *title)
{
	enum unit_system units = session->keeper.config.units;
	char water[QUANTITY_BUFFER], area[QUANTITY_BUFFER];
	char amount[QUANTITY_BUFFER];
	text_format(&session->out, "%s: %s for %s\n", title,
	    quantity_print(
		water, sizeof water, tank->water, QUANTITY_VOLUME, units),
	    quantity_print(
		area, sizeof area, tank->area, QUANTITY_AREA, units));
	for (size_t i = 0; i < job->tank.count; i++)
		text_format(&session->out, "  %s %s\n",
		    quantity_print(amount, sizeof amount, tank->amount[i],
			mix->kind[i], units),
		    job->tank.dose[i].product->name);
}

/* What the cards say and no limit holds. */
static void
add_notes(struct text *out, const struct job *job)
{
	for (size_t i = 0; i < job->tank.count; i++) {
		const struct product *product = job->tank.dose[i].product;
		for (size_t n = 0; n < product->note_count; n++)
			text_format(
			    out, "%s: %s\n", product->name, product->note[n]);
	}
}

static void
print_text(
    struct session *session, const struct job *job, const struct mix *mix)
{
	char name[LIMIT_TEXT_BYTES], title[64];
	text_format(&session->out, "%s, %s\n", job->site->name,
	    tank_print(name, sizeof name, &job->tank));
	(void)snprintf(title, sizeof title,
	    mix->full_count == 1 ? "%zu full tank" : "%zu full tanks, each",
	    mix->full_count);
	if (mix->full_count > 0)
		add_tank(session, job, mix, &mix->full, title);
	if (mix->has_last)
		add_tank(session, job, mix, &mix->last,
		    mix->full_count > 0 ? "Last tank" : "One tank");
	add_notes(&session->out, job);
	exclusion_print(name, sizeof name, job->site->sprayer,
	    session->keeper.config.units);
	if (name[0] != '\0')
		text_format(&session->out, "%s\n", name);
	text_add(&session->out,
	    "Order and amounts on the label rule over this sheet. Wear what "
	    "the label asks for; mix\nwhere a spill can be caught; never pour "
	    "what is left over into a drain.\n");
}

static void
add_json_notes(cJSON *item, const struct product *product)
{
	cJSON *notes = cJSON_AddArrayToObject(item, "notes");
	for (size_t n = 0; n < product->note_count; n++)
		cJSON_AddItemToArray(
		    notes, cJSON_CreateString(product->note[n]));
}

static void
print_json(
    struct session *session, const struct job *job, const struct mix *mix)
{
	cJSON *json = cJSON_CreateObject();
	cJSON_AddNumberToObject(json, "job", (double)job->id);
	cJSON_AddItemToObject(json, "area-m2", json_rounded(job->area, 2));
	cJSON_AddItemToObject(
	    json, "mix-litres", json_rounded(mix->carrier, 3));
	cJSON_AddNumberToObject(json, "tanks", (double)mix->tank_count);
	cJSON *list = cJSON_AddArrayToObject(json, "products");
	for (size_t i = 0; i < job->tank.count; i++) {
		bool mass = mix->kind[i] == QUANTITY_MASS;
		cJSON *item = cJSON_CreateObject();
		cJSON_AddItemToArray(list, item);
		cJSON_AddStringToObject(
		    item, "product", job->tank.dose[i].product->name);
		cJSON_AddStringToObject(item, "unit", mass ? "g" : "mL");
		cJSON_AddItemToObject(item, "amount",
		    json_rounded(mix->total[i] * (mass ? 1 : 1000), 3));
		add_json_notes(item, job->tank.dose[i].product);
	}
	(void)session_print_json(session, json);
}

int
command_mix(struct session *session)
{
	struct board board;
	struct mix mix;
	int64_t id;
	if (!session_job(session, 0, &id) || !show_load(session, &board))
		return (int)session->error.kind;
	const struct board_job *job = show_find(session, &board, id);
	int code = 0;
	if (job == NULL || !mix_make(&job->job, &mix, &session->error))
		code = (int)session->error.kind;
	else if (session->json)
		print_json(session, &job->job, &mix);
	else
		print_text(session, &job->job, &mix);
	board_release(&board);
	return code;
}
