#include "cli/stock.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>

/* How long before its last day a package is named: a choice of ours. */
enum { DAYS_BEFORE = 60 };

char *
stock_print_amount(char *buffer, size_t size, double amount, bool is_mass,
    enum unit_system units)
{
	return quantity_print(buffer, size, amount,
	    is_mass ? QUANTITY_MASS : QUANTITY_VOLUME, units);
}

char *
stock_print_day(char *buffer, size_t size, int64_t day)
{
	static const struct zone no_zone = { 0 };
	return civil_print(
	    buffer, size, &no_zone, day * DAY_SECONDS, CIVIL_DATE);
}

double
stock_on_hand(const struct stock *stock, const struct shelf_row *row)
{
	const struct shelf_wish wish = { .product = row->product,
		.is_mass = row->item[0].package->is_mass,
		.day = stock->shelf.today };
	struct shelf_answer answer;
	shelf_ask(&stock->shelf, &wish, &answer);
	return answer.on_hand;
}

const struct lawn *
stock_largest_lawn(const struct stock *stock, const struct product *product)
{
	const struct lawn *largest = NULL;
	double most = 0;
	for (size_t i = 0; i < stock->lawns.count; i++) {
		const struct lawn *lawn = &stock->lawn[i];
		double dose = lawn_dose(product, lawn);
		if (!product_suits(product, lawn->site) || !(dose > most))
			continue;
		most = dose;
		largest = lawn;
	}
	return largest;
}

bool
stock_is_surplus(
    const struct stock *stock, const struct shelf_item *item, double *ret_use)
{
	*ret_use =
	    package_use(item->package, &stock->lawns, stock->shelf.today);
	return !package_is_expired(item->package, stock->shelf.today) &&
	       package_is_surplus(item, *ret_use);
}

size_t
stock_substitutes(const struct stock *stock, const struct shelf_item *item,
    struct substitute *ret, size_t most)
{
	const struct config *config = stock->config;
	const struct substitute_facts facts = { .package = item->package,
		.products = config->products,
		.product_count = config->product_count,
		.packages = config->packages,
		.package_count = config->package_count,
		.lawns = &stock->lawns };
	return substitutes_find(&facts, ret, most);
}

static void
add(cJSON *list, struct text *sentence)
{
	cJSON_AddItemToArray(list, cJSON_CreateString(text_string(sentence)));
	text_release(sentence);
}

/* "20 % of a package", "3.2 packages". */
static void
add_packages(struct text *text, double share)
{
	if (share >= 1.5)
		text_format(text, "%.1f packages", share);
	else if (share >= 0.005)
		text_format(text, "%.0f %% of a package", share * 100);
	else
		text_add(text, "under 1 % of a package");
}

/* " (20 % of a package, 12.00 USD)", as far as it is known. */
static void
add_share(struct text *text, double share, double cost, const char *currency)
{
	if (isnan(share) && isnan(cost))
		return;
	text_add(text, " (");
	if (!isnan(share))
		add_packages(text, share);
	if (!isnan(cost))
		text_format(text, "%s%.2f%s%s", isnan(share) ? "" : ", ", cost,
		    currency[0] != '\0' ? " " : "", currency);
	text_add(text, ")");
}

static void
add_substitute(struct text *text, const struct stock *stock,
    const struct package *own, const struct substitute *other)
{
	enum unit_system units = stock->config->units;
	const char *currency = stock->config->currency;
	char amount[QUANTITY_BUFFER];
	text_format(
	    text, "; %s controls %s, too", other->product->name, other->weed);
	if (isnan(other->season))
		return;
	text_format(text, ": a season takes at most %s of it",
	    stock_print_amount(
		amount, sizeof amount, other->season, other->is_mass, units));
	add_share(text, other->share, other->cost, currency);
	if (isnan(other->own_season))
		return;
	text_format(text, ", against %s of %s",
	    stock_print_amount(
		amount, sizeof amount, other->own_season, own->is_mass, units),
	    own->product->name);
	add_share(text, other->own_season / own->size,
	    other->own_season / own->size * own->price, currency);
}

static void
warn_surplus(
    cJSON *list, const struct stock *stock, const struct shelf_item *item)
{
	const struct package *package = item->package;
	struct substitute other[SUBSTITUTES_MOST];
	char left[QUANTITY_BUFFER], used[QUANTITY_BUFFER], day[CIVIL_BUFFER];
	enum unit_system units = stock->config->units;
	double use;
	if (!stock_is_surplus(stock, item, &use))
		return;
	struct text text;
	text_init(&text, LIMIT_OUTPUT_BYTES);
	stock_print_amount(
	    left, sizeof left, item->left, package->is_mass, units);
	stock_print_amount(used, sizeof used, use, package->is_mass, units);
	text_format(&text,
	    "%s is far too much: %s is left, these lawns can use at most %s "
	    "(%.0f %% of it) until %s",
	    package->name, left, use > 0 ? used : "nothing",
	    use / item->left * 100,
	    stock_print_day(day, sizeof day, package->expires));
	size_t count = stock_substitutes(stock, item, other, SUBSTITUTES_MOST);
	for (size_t i = 0; i < count; i++)
		add_substitute(&text, stock, package, &other[i]);
	add(list, &text);
}

static void
warn_age(cJSON *list, const struct stock *stock, const struct shelf_item *item)
{
	const struct package *package = item->package;
	int64_t today = stock->shelf.today;
	int64_t days = package->expires - today;
	char day[CIVIL_BUFFER];
	struct text text;
	if (package->expires == INT64_MAX || days > DAYS_BEFORE)
		return;
	text_init(&text, LIMIT_OUTPUT_BYTES);
	stock_print_day(day, sizeof day, package->expires);
	if (days < 0)
		text_format(&text,
		    "%s has expired, it was good until %s: get rid of it by "
		    "the label and local rules, never into a drain",
		    package->name, day);
	else if (days == 0)
		text_format(&text, "%s expires: today is its last good day",
		    package->name);
	else
		text_format(&text, "%s expires in %" PRId64 " day%s, on %s",
		    package->name, days, days == 1 ? "" : "s", day);
	add(list, &text);
}

static void
warn_item(cJSON *list, const struct stock *stock, const struct shelf_item *item)
{
	struct text text;
	if (item->left == 0)
		return;
	if (isnan(item->left)) {
		text_init(&text, LIMIT_OUTPUT_BYTES);
		text_format(&text,
		    "what is left in %s is not known, as a record does not say "
		    "how much was used: weigh it and say so in its left",
		    item->package->name);
		add(list, &text);
	}
	warn_age(list, stock, item);
	warn_surplus(list, stock, item);
}

/* Less than one full job of the largest lawn. */
static void
warn_low(cJSON *list, const struct stock *stock, const struct shelf_row *row)
{
	const double grain = 1e-4; /* of two units for one amount */
	const struct lawn *lawn = stock_largest_lawn(stock, row->product);
	bool is_mass = row->item[0].package->is_mass;
	double on_hand = stock_on_hand(stock, row);
	enum unit_system units = stock->config->units;
	char there[QUANTITY_BUFFER], wanted[QUANTITY_BUFFER];
	struct text text;
	if (lawn == NULL ||
	    quantity_is_by_mass(row->product->rate_kind) != is_mass ||
	    !(on_hand < lawn_dose(row->product, lawn) * (1 - grain)))
		return;
	text_init(&text, LIMIT_OUTPUT_BYTES);
	stock_print_amount(there, sizeof there, on_hand, is_mass, units);
	text_format(&text,
	    "%s is running out: %s is on hand, one job on %s takes %s",
	    row->product->name, on_hand > 0 ? there : "nothing",
	    lawn->site->name,
	    stock_print_amount(wanted, sizeof wanted,
		lawn_dose(row->product, lawn), is_mass, units));
	add(list, &text);
}

static void
warn_overdrawn(
    cJSON *list, const struct stock *stock, const struct shelf_row *row)
{
	char amount[QUANTITY_BUFFER];
	struct text text;
	if (row->overdrawn == 0)
		return;
	text_init(&text, LIMIT_OUTPUT_BYTES);
	text_add(&text, "the records took ");
	if (!isnan(row->overdrawn))
		text_format(&text, "%s ",
		    stock_print_amount(amount, sizeof amount, row->overdrawn,
			row->item[0].package->is_mass, stock->config->units));
	text_format(&text,
	    "more of %s than the open packages held: say when the next was "
	    "opened, or what is left",
	    row->product->name);
	add(list, &text);
}

cJSON *
stock_warnings(const struct stock *stock, const struct shelf_row *row)
{
	cJSON *list = cJSON_CreateArray();
	warn_overdrawn(list, stock, row);
	warn_low(list, stock, row);
	for (size_t i = 0; i < row->count; i++)
		warn_item(list, stock, &row->item[i]);
	return list;
}
