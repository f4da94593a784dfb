/* The entries that follow from what was done: keep off, water, mow again, look,
   a second application, a stock solution that goes. */
#include "service/publish_parts.h"

#include "service/record.h"
#include "service/stock.h"
#include "service/watering.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

/* A record as its entries see it. */
struct done {
	const struct board *board;
	const struct stored_record *record;
	const struct site *site;
	struct tank_mix tank;
	struct compose_style style;
	char uid[RECORD_UID_BUFFER];
	char name[LIMIT_TEXT_BYTES]; /* of the tank */
};

/* How long an entry stays once its day has gone by. */
enum { SHOWN_DAYS = 7 };

static bool
is_shown(const struct done *done, int64_t until)
{
	return until + (int64_t)SHOWN_DAYS * DAY_SECONDS > done->board->now;
}

/* The next application is planned, and its slot keeps the interval. */
static bool
is_planned(const struct done *done, const struct product *product)
{
	for (size_t j = 0; j < done->board->job_count; j++) {
		const struct board_job *job = &done->board->job[j];
		for (size_t i = 0; i < job->job.tank.count; i++)
			if (job->trouble[0] == '\0' &&
			    job->job.site == done->site &&
			    job->job.tank.dose[i].product == product)
				return true;
	}
	return false;
}

static size_t
place_of(const struct tank_mix *tank, const struct product *product)
{
	size_t i = 0;
	while (i < tank->count && tank->dose[i].product != product)
		i++;
	return i;
}

static void
add_follow(
    struct agenda *agenda, const struct done *done, const struct follow *follow)
{
	struct compose_follow facts = { .uid = done->uid,
		.site = done->site,
		.name = done->name,
		.weeds = done->record->weeds,
		.from = done->record->from,
		.follow = follow,
		.place = place_of(&done->tank, follow->product) };
	bool hold = follow->kind == FOLLOW_MOWING;
	bool again = follow->kind == FOLLOW_AGAIN;
	if (again && is_planned(done, follow->product))
		return;
	if (is_shown(done, hold ? follow->to : follow->from))
		compose_follow(&facts, &done->style, agenda_add(agenda));
	if (!again || follow->to == INT64_MAX || !is_shown(done, follow->to))
		return;
	facts.is_last = true;
	compose_follow(&facts, &done->style, agenda_add(agenda));
}

/* People stay off what was sprayed; it is shown until a day later. */
static void
add_keep_off(
    struct agenda *agenda, const struct done *done, const struct follow *follow)
{
	if (follow->to + DAY_SECONDS >= done->board->now)
		compose_keep_off(done->uid, done->site, done->name,
		    follow->from, (double)(follow->to - follow->from),
		    agenda_add(agenda));
}

static void
add_follows(struct agenda *agenda, const struct done *done)
{
	const struct follow_facts facts = { .site = done->site,
		.tank = &done->tank,
		.from = done->record->from,
		.to = done->record->to,
		.keep_off = done->style.keep_off,
		.applications = done->board->application,
		.application_count = done->board->application_count };
	struct follow follows[FOLLOWS_MOST];
	size_t count = follow_list(&facts, follows);
	for (size_t i = 0; i < count; i++) {
		enum follow_kind kind = follows[i].kind;
		if (kind == FOLLOW_KEEP_OFF)
			add_keep_off(agenda, done, &follows[i]);
		if (kind == FOLLOW_MOWING || kind == FOLLOW_LOOK ||
		    kind == FOLLOW_AGAIN)
			add_follow(agenda, done, &follows[i]);
	}
}

/* Whether the product's water can still be of interest. */
static bool
wants_water(const struct product *product, const struct stored_record *record,
    int64_t now)
{
	if (product == NULL || !(product->water.amount > 0))
		return false;
	int64_t shown = (int64_t)(WATER_SHOWN_DAYS + 2) * DAY_SECONDS;
	return record->to + (int64_t)product->water.within + shown > now;
}

static bool
add_water(struct agenda *agenda, const struct keeper *keeper,
    const struct done *done, struct error *error)
{
	const struct stored_record *record = done->record;
	const struct board_site *site =
	    board_find_site(done->board, record->site);
	for (size_t i = 0; i < record->amount_count; i++) {
		const struct product *product =
		    config_product(&keeper->config, record->amount[i].product);
		struct water_ledger ledger;
		if (!wants_water(product, record, done->board->now))
			continue;
		if (!watering_account(
			keeper, done->board, record, product, &ledger, error))
			return false;
		if (!water_is_due(&ledger,
			civil_day(&done->site->zone, done->board->now)))
			continue;
		struct compose_water facts = { done->uid, i, done->site,
			product, record->to, &ledger, site->chain.credit };
		compose_irrigate(&facts, &done->style, agenda_add(agenda));
	}
	return true;
}

static bool
add_record(struct agenda *agenda, const struct keeper *keeper,
    const struct board *board, const struct stored_record *record,
    struct error *error)
{
	struct done done = { .board = board,
		.record = record,
		.site = config_site(&keeper->config, record->site),
		.tank = record_tank(&keeper->config, record),
		.style = agenda_style(keeper) };
	if (done.site == NULL)
		return true;
	record_print_uid(done.uid, sizeof done.uid, record);
	record_print_name(done.name, sizeof done.name, record);
	add_follows(agenda, &done);
	return add_water(agenda, keeper, &done, error);
}

/* Stock solutions that were made, until they have to go and a little longer. */
static void
add_solutions(struct agenda *agenda, const struct keeper *keeper,
    const struct board *board)
{
	struct compose_style style = agenda_style(keeper);
	for (size_t i = 0; i < board->made_count; i++) {
		const struct sheet_solution *made = &board->solution[i];
		const struct compose_solution facts = { board->made[i].id,
			stock_zone(&keeper->config), made->product, made->made,
			made->until };
		if (made->until + (int64_t)SHOWN_DAYS * DAY_SECONDS >
		    board->now)
			compose_solution(&facts, &style, agenda_add(agenda));
	}
}

static void
add_stock(struct agenda *agenda, const struct keeper *keeper,
    const struct board *board)
{
	struct compose_style style = agenda_style(keeper);
	const struct shelf *shelf = &board->shelf;
	for (size_t i = 0; i < shelf->item_count; i++)
		if (compose_stock_is_due(&shelf->item[i], shelf->today))
			compose_stock(
			    &shelf->item[i], &style, agenda_add(agenda));
}

bool
agenda_add_records(struct agenda *agenda, const struct keeper *keeper,
    const struct board *board, struct error *error)
{
	bool good = true;
	for (size_t i = 0; i < board->record_count && good; i++)
		good =
		    add_record(agenda, keeper, board, &board->record[i], error);
	add_solutions(agenda, keeper, board);
	add_stock(agenda, keeper, board);
	return good;
}
