#include "service/watering.h"

/* What the store told about those hours by the time they were over. */
static bool
load_hours(const struct keeper *keeper, const struct site *site, int64_t from,
    int64_t to, struct series *ret, struct error *error)
{
	struct chain chain;
	struct series hours = { 0 };
	series_init(&hours, from, to);
	if (!chain_load(
		&chain, site, keeper, series_end(&hours), &hours, error)) {
		series_release(&hours);
		return false;
	}
	chain_release(&chain);
	*ret = hours;
	return true;
}

bool
watering_account(const struct keeper *keeper, const struct board *board,
    const struct stored_record *record, const struct product *product,
    struct water_ledger *ret, struct error *error)
{
	const struct board_site *site = board_find_site(board, record->site);
	struct water_facts facts = { .water = &product->water,
		.zone = &site->site->zone,
		.applied = record->to,
		.now = board->now,
		.series = &site->series,
		.site = &site->facts };
	struct series hours = { 0 };
	int64_t from, to;
	if (water_hours(&facts, &from, &to)) {
		if (!load_hours(keeper, site->site, from, to, &hours, error))
			return false;
		facts.hours = &hours;
	}
	water_account(&facts, ret);
	series_release(&hours);
	return true;
}
