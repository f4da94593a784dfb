#include "service/stock.h"

#include "base/memory.h"
#include "service/sprayers.h"
#include "turf/follow.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* What is there to the last gram is enough, in spite of rounding. */
#define HAIR 1e-9

static const struct zone no_zone = { 0 };

int64_t
stock_day(const struct config *config, const char *site, int64_t at)
{
	const struct site *known = config_site(config, site);
	return civil_day(known != NULL ? &known->zone : &no_zone, at);
}

const struct zone *
stock_zone(const struct config *config)
{
	return config->site_count > 0 ? &config->sites[0].zone : &no_zone;
}

int64_t
stock_until(const struct config *config, const struct stored_solution *made)
{
	return solution_until(config_product(config, made->product),
	    stock_zone(config), made->made);
}

static int64_t
find_today(const struct config *config, int64_t now)
{
	int64_t today = civil_day(stock_zone(config), now);
	for (size_t i = 0; i < config->site_count; i++) {
		int64_t day = civil_day(&config->sites[i].zone, now);
		today = day > today ? day : today;
	}
	return today;
}

/* A stock solution, and what nobody has sprayed of it yet. */
struct flask {
	const char *product;
	int64_t made, until;
	double left; /* g; NaN: not known */
};

/* What was taken until now. */
struct taking {
	const struct config *config;
	int64_t now;
	struct flask *flask; /* owned */
	size_t flask_count;
	struct draw *draw; /* owned */
	size_t draw_count, capacity;
};

static void
add_draw(struct taking *taking, const struct draw *draw)
{
	taking->draw = memory_grow(taking->draw, taking->draw_count,
	    &taking->capacity, sizeof *taking->draw);
	taking->draw[taking->draw_count++] = *draw;
}

static void
add_solutions(struct taking *taking, const struct stored_solution *solutions,
    size_t count)
{
	const struct zone *zone = stock_zone(taking->config);
	taking->flask = memory_array(count, sizeof *taking->flask);
	for (size_t i = 0; i < count; i++) {
		const struct stored_solution *made = &solutions[i];
		if (made->made > taking->now)
			continue;
		taking->flask[taking->flask_count++] =
		    (struct flask){ made->product, made->made,
			    stock_until(taking->config, made), made->mass };
		add_draw(taking,
		    &(struct draw){ made->product, civil_day(zone, made->made),
			made->mass, true });
	}
}

static bool
was_good(const struct flask *flask, const char *product, int64_t at)
{
	return strcmp(flask->product, product) == 0 && flask->made <= at &&
	       at < flask->until;
}

/* The newest that holds all of it, as the mix sheet tells; NULL when none. */
static struct flask *
find_enough(
    struct taking *taking, const char *product, double grams, int64_t at)
{
	for (size_t i = taking->flask_count; i-- > 0;)
		if (was_good(&taking->flask[i], product, at) &&
		    taking->flask[i].left >= grams * (1 - HAIR))
			return &taking->flask[i];
	return NULL;
}

/* What is still to be taken when the flasks that were good have given theirs.
   An amount that is not known leaves nothing known in them. */
static double
pour(struct taking *taking, const struct stored_amount *amount, int64_t at)
{
	double rest = amount->amount;
	if (!amount->is_mass)
		return rest;
	struct flask *enough = find_enough(taking, amount->product, rest, at);
	for (size_t i = 0; i < taking->flask_count; i++) {
		struct flask *flask = &taking->flask[i];
		if (!was_good(flask, amount->product, at) ||
		    (enough != NULL && flask != enough))
			continue;
		double poured = isnan(rest) || isnan(flask->left)
				    ? (double)NAN
				    : fmin(flask->left, rest);
		flask->left -= poured;
		rest -= poured;
	}
	return rest;
}

/* They ascend by `from`. */
static void
add_records(
    struct taking *taking, const struct stored_record *records, size_t count)
{
	for (size_t r = 0; r < count; r++) {
		const struct stored_record *record = &records[r];
		int64_t day =
		    stock_day(taking->config, record->site, record->to);
		if (record->from > taking->now)
			continue;
		for (size_t i = 0; i < record->amount_count; i++) {
			const struct stored_amount *amount = &record->amount[i];
			double rest = pour(taking, amount, record->from);
			add_draw(taking, &(struct draw){ amount->product, day,
					     rest, amount->is_mass });
		}
	}
}

/* Both lists are the caller's to free. */
static void
take_all(const struct config *config, const struct stock_past *past,
    struct taking *ret)
{
	*ret = (struct taking){ .config = config, .now = past->now };
	add_solutions(ret, past->made, past->made_count);
	add_records(ret, past->record, past->record_count);
}

void
stock_left(const struct config *config, const struct stock_past *past,
    double *ret_left)
{
	struct taking taking;
	size_t known = 0;
	take_all(config, past, &taking);
	for (size_t i = 0; i < past->made_count; i++)
		ret_left[i] = past->made[i].made <= past->now
				  ? taking.flask[known++].left
				  : (double)NAN;
	free(taking.flask);
	free(taking.draw);
}

bool
stock_load(const struct keeper *keeper, const struct stored_record *records,
    size_t count, int64_t now, struct shelf *ret, struct error *error)
{
	const struct config *config = &keeper->config;
	struct taking taking;
	struct stored_solution *solutions;
	size_t solution_count;
	if (!store_solutions(keeper->store, &solutions, &solution_count, error))
		return false;
	take_all(config,
	    &(struct stock_past){
		now, solutions, solution_count, records, count },
	    &taking);
	shelf_count(config->packages, config->package_count, taking.draw,
	    taking.draw_count, find_today(config, now), ret);
	free(taking.flask);
	free(taking.draw);
	stored_solutions_free(solutions, solution_count);
	return true;
}

struct lawn *
stock_lawns(const struct config *config, const struct sprayer *sprayers)
{
	struct lawn *lawns = memory_array(config->site_count, sizeof *lawns);
	for (size_t i = 0; i < config->site_count; i++)
		lawns[i] = (struct lawn){ &config->sites[i],
			sprayers_of(config, sprayers, &config->sites[i]) };
	return lawns;
}
