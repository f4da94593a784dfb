#include "cli/session.h"

#include "cli/records.h"
#include "cli/stock.h"
#include "service/sprayers.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static bool
load(struct session *session, struct stock *ret)
{
	const struct keeper *keeper = &session->keeper;
	const struct config *config = &keeper->config;
	int64_t now = clock_now(&session->clock);
	struct stored_record *records;
	size_t count;
	struct stock stock = { .config = config };
	if (!sprayers_load(keeper, now, &stock.sprayers, &session->error))
		return false;
	if (!store_records(
		keeper->store, false, &records, &count, &session->error)) {
		free(stock.sprayers);
		return false;
	}
	bool good = stock_load(
	    keeper, records, count, now, &stock.shelf, &session->error);
	stored_records_free(records, count);
	if (!good) {
		free(stock.sprayers);
		return false;
	}
	stock.lawn = stock_lawns(config, stock.sprayers);
	stock.lawns = (struct lawns){ stock.lawn, config->site_count };
	*ret = stock;
	return true;
}

static void
release(struct stock *stock)
{
	shelf_release(&stock->shelf);
	free(stock->lawn);
	free(stock->sprayers);
}

/* The products that were asked for, by their place in the configuration. */
static bool
is_asked(const struct session *session, const struct product *product)
{
	return session->word_count == 0 ||
	       strcmp(session->word[0], product->name) == 0;
}

/* "opened 2026-03-01, good until 2028-02-29 (655 d), worth 61.97 USD". */
static void
add_facts(
    struct text *text, const struct stock *stock, const struct shelf_item *item)
{
	const struct package *package = item->package;
	const char *currency = stock->config->currency;
	char day[CIVIL_BUFFER];
	double worth = shelf_item_worth(item);
	if (package->opened > stock->shelf.today)
		text_add(text, "not opened");
	else
		text_format(text, "opened %s",
		    stock_print_day(day, sizeof day, package->opened));
	if (item->left == 0)
		return;
	bool expired = package_is_expired(package, stock->shelf.today);
	if (package->expires != INT64_MAX)
		text_format(text, ", %s until %s",
		    expired ? "was good" : "good",
		    stock_print_day(day, sizeof day, package->expires));
	if (package->expires != INT64_MAX && !expired)
		text_format(text, " (%" PRId64 " d)",
		    package->expires - stock->shelf.today);
	if (!isnan(worth) && !expired)
		text_format(text, ", worth %.2f%s%s", worth,
		    currency[0] != '\0' ? " " : "", currency);
}

static void
add_item(
    struct text *out, const struct stock *stock, const struct shelf_item *item)
{
	const struct package *package = item->package;
	enum unit_system units = stock->config->units;
	char left[QUANTITY_BUFFER], size[QUANTITY_BUFFER];
	struct text line;
	text_init(&line, LIMIT_OUTPUT_BYTES);
	stock_print_amount(
	    left, sizeof left, item->left, package->is_mass, units);
	stock_print_amount(
	    size, sizeof size, package->size, package->is_mass, units);
	text_format(&line, "%s: ", package->name);
	if (item->left == 0)
		text_format(&line, "empty, of %s", size);
	else if (isnan(item->left))
		text_format(&line, "of %s, not known what is left", size);
	else
		text_format(&line, "%s of %s left (%.3g %%)", left, size,
		    item->left / package->size * 100);
	records_wrap(out, 2, text_string(&line));
	text_clear(&line);
	add_facts(&line, stock, item);
	records_wrap(out, 4, text_string(&line));
	text_release(&line);
}

static void
add_row(
    struct text *out, const struct stock *stock, const struct shelf_row *row)
{
	cJSON *warnings = stock_warnings(stock, row);
	const cJSON *warning;
	text_format(out, "%s\n", row->product->name);
	for (size_t i = 0; i < row->count; i++)
		add_item(out, stock, &row->item[i]);
	cJSON_ArrayForEach(warning, warnings)
	{
		struct text line;
		text_init(&line, LIMIT_OUTPUT_BYTES);
		text_format(&line, "warning: %s", warning->valuestring);
		records_wrap(out, 2, text_string(&line));
		text_release(&line);
	}
	cJSON_Delete(warnings);
}

/* Products with a card and without a package; nothing when there are none. */
static void
add_without(struct session *session, const struct stock *stock)
{
	struct text line;
	size_t count = 0;
	text_init(&line, LIMIT_OUTPUT_BYTES);
	text_add(&line, "No package on file:");
	for (size_t i = 0; i < stock->config->product_count; i++) {
		const struct product *product = &stock->config->products[i];
		if (is_asked(session, product) &&
		    shelf_find(&stock->shelf, product->name) == NULL)
			text_format(&line, "%s %s", count++ > 0 ? "," : "",
			    product->name);
	}
	if (count > 0)
		records_wrap(&session->out, 0, text_string(&line));
	text_release(&line);
}

static void
print_text(struct session *session, const struct stock *stock)
{
	const struct config *config = stock->config;
	if (config->package_count == 0) {
		text_format(&session->out,
		    "No package is on file. Write each into %s, as package "
		    "\"%s-1\" {\nproduct = \"%s\" size = \"1.5 oz\" opened = "
		    "\"2026-03-01\" }; lull.conf(5) tells the rest.\n",
		    config->path,
		    config->product_count > 0 ? config->products[0].name
					      : "post-a",
		    config->product_count > 0 ? config->products[0].name
					      : "post-a");
		return;
	}
	for (size_t i = 0; i < config->product_count; i++) {
		const struct shelf_row *row =
		    shelf_find(&stock->shelf, config->products[i].name);
		if (row != NULL && is_asked(session, row->product))
			add_row(&session->out, stock, row);
	}
	add_without(session, stock);
}

/* An amount in g or mL. */
static cJSON *
amount_json(double amount, bool is_mass)
{
	return json_rounded(is_mass ? amount : amount * 1000, 3);
}

static cJSON *
day_json(int64_t day, bool is_known)
{
	char buffer[CIVIL_BUFFER];
	return is_known ? cJSON_CreateString(
			      stock_print_day(buffer, sizeof buffer, day))
			: cJSON_CreateNull();
}

static cJSON *
substitute_json(const struct substitute *other, const struct package *own)
{
	cJSON *json = cJSON_CreateObject();
	cJSON_AddStringToObject(json, "product", other->product->name);
	cJSON_AddStringToObject(json, "weed", other->weed);
	cJSON_AddStringToObject(json, "unit", other->is_mass ? "g" : "mL");
	cJSON_AddItemToObject(
	    json, "season", amount_json(other->season, other->is_mass));
	cJSON_AddItemToObject(
	    json, "percent", json_rounded(other->share * 100, 3));
	cJSON_AddItemToObject(json, "cost", json_rounded(other->cost, 2));
	cJSON_AddItemToObject(
	    json, "own-season", amount_json(other->own_season, own->is_mass));
	cJSON_AddItemToObject(json, "own-cost",
	    json_rounded(other->own_season / own->size * own->price, 2));
	return json;
}

static void
add_surplus_json(
    cJSON *json, const struct stock *stock, const struct shelf_item *item)
{
	struct substitute other[SUBSTITUTES_MOST];
	const struct package *package = item->package;
	double use;
	bool surplus = stock_is_surplus(stock, item, &use);
	cJSON_AddItemToObject(
	    json, "usable", amount_json(use, package->is_mass));
	cJSON_AddBoolToObject(json, "too-much", surplus);
	cJSON *list = cJSON_AddArrayToObject(json, "substitutes");
	size_t count =
	    surplus ? stock_substitutes(stock, item, other, SUBSTITUTES_MOST)
		    : 0;
	for (size_t i = 0; i < count; i++)
		cJSON_AddItemToArray(list, substitute_json(&other[i], package));
}

static cJSON *
item_json(const struct stock *stock, const struct shelf_item *item)
{
	const struct package *package = item->package;
	int64_t today = stock->shelf.today;
	bool ends = package->expires != INT64_MAX;
	cJSON *json = cJSON_CreateObject();
	cJSON_AddStringToObject(json, "package", package->name);
	cJSON_AddItemToObject(
	    json, "size", amount_json(package->size, package->is_mass));
	cJSON_AddItemToObject(
	    json, "left", amount_json(item->left, package->is_mass));
	cJSON_AddItemToObject(
	    json, "percent", json_rounded(item->left / package->size * 100, 3));
	cJSON_AddItemToObject(
	    json, "drawn", amount_json(item->drawn, package->is_mass));
	cJSON_AddItemToObject(json, "opened",
	    day_json(package->opened, package->opened <= today));
	cJSON_AddItemToObject(
	    json, "good-until", day_json(package->expires, ends));
	cJSON_AddItemToObject(json, "days",
	    ends ? cJSON_CreateNumber((double)(package->expires - today))
		 : cJSON_CreateNull());
	cJSON_AddBoolToObject(
	    json, "expired", package_is_expired(package, today));
	cJSON_AddItemToObject(json, "price", json_rounded(package->price, 2));
	cJSON_AddItemToObject(
	    json, "worth", json_rounded(shelf_item_worth(item), 2));
	add_surplus_json(json, stock, item);
	return json;
}

static cJSON *
row_json(const struct stock *stock, const struct shelf_row *row)
{
	const struct product *product = row->product;
	const struct lawn *lawn = stock_largest_lawn(stock, product);
	bool is_mass = row->item[0].package->is_mass;
	cJSON *json = cJSON_CreateObject();
	cJSON_AddStringToObject(json, "product", product->name);
	cJSON_AddStringToObject(json, "unit", is_mass ? "g" : "mL");
	cJSON_AddItemToObject(
	    json, "on-hand", amount_json(stock_on_hand(stock, row), is_mass));
	cJSON_AddItemToObject(
	    json, "overdrawn", amount_json(row->overdrawn, is_mass));
	cJSON_AddItemToObject(
	    json, "earlier", amount_json(row->earlier, is_mass));
	cJSON_AddItemToObject(json, "season",
	    amount_json(
		season_most(product, NULL, is_mass, &stock->lawns), is_mass));
	cJSON_AddItemToObject(json, "largest-job",
	    lawn != NULL ? amount_json(lawn_dose(product, lawn),
			       quantity_is_by_mass(product->rate_kind))
			 : cJSON_CreateNull());
	cJSON *list = cJSON_AddArrayToObject(json, "packages");
	for (size_t i = 0; i < row->count; i++)
		cJSON_AddItemToArray(list, item_json(stock, &row->item[i]));
	cJSON_AddItemToObject(json, "warnings", stock_warnings(stock, row));
	return json;
}

static int
print_json(struct session *session, const struct stock *stock)
{
	const struct config *config = stock->config;
	cJSON *json = cJSON_CreateObject();
	cJSON_AddItemToObject(
	    json, "today", day_json(stock->shelf.today, true));
	cJSON_AddStringToObject(json, "currency", config->currency);
	cJSON *list = cJSON_AddArrayToObject(json, "products");
	cJSON *without = cJSON_AddArrayToObject(json, "without-package");
	for (size_t i = 0; i < config->product_count; i++) {
		const struct product *product = &config->products[i];
		const struct shelf_row *row =
		    shelf_find(&stock->shelf, product->name);
		if (!is_asked(session, product))
			continue;
		if (row != NULL)
			cJSON_AddItemToArray(list, row_json(stock, row));
		else
			cJSON_AddItemToArray(
			    without, cJSON_CreateString(product->name));
	}
	return session_print_json(session, json);
}

int
command_stock(struct session *session)
{
	struct stock stock;
	if (session->word_count > 0 &&
	    config_product(&session->keeper.config, session->word[0]) == NULL)
		return session_fail(session, ERROR_ANSWER,
		    "product '%.64s' is not on file", session->word[0]);
	if (!load(session, &stock))
		return (int)session->error.kind;
	if (session->json)
		(void)print_json(session, &stock);
	else
		print_text(session, &stock);
	release(&stock);
	return 0;
}
