#include "turf/shelf.h"

#include "base/memory.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* What a sum of doubles leaves where nothing is, as a part of the whole. */
static const double dust = 1e-9;

bool
package_is_expired(const struct package *package, int64_t day)
{
	return day > package->expires;
}

double
shelf_item_worth(const struct shelf_item *item)
{
	return item->package->price * (item->left / item->package->size);
}

static bool
is_open(const struct package *package, int64_t day)
{
	return package->opened <= day;
}

static int
compare_items(const void *a, const void *b)
{
	const struct package *one = ((const struct shelf_item *)a)->package;
	const struct package *other = ((const struct shelf_item *)b)->package;
	int order = strcmp(one->product->name, other->product->name);
	if (order == 0)
		order = (one->opened > other->opened) -
			(one->opened < other->opened);
	return order != 0 ? order : strcmp(one->name, other->name);
}

/* By day; then by amount, so that a sum of one day is always the same; what is
   not known comes last. */
static int
compare_draws(const void *a, const void *b)
{
	const struct draw *one = a, *other = b;
	if (one->day != other->day)
		return one->day < other->day ? -1 : 1;
	if (isnan(one->amount) || isnan(other->amount))
		return isnan(one->amount) - isnan(other->amount);
	return (one->amount > other->amount) - (one->amount < other->amount);
}

/*
 * Takes what it can and returns the rest. Neither is known once one of them is
 * not: an empty package alone gives nothing for sure.
 */
static double
take(struct shelf_item *item, double wanted)
{
	if (item->left == 0 || wanted == 0)
		return wanted;
	if (isnan(item->left) || isnan(wanted)) {
		item->left = item->drawn = (double)NAN;
		return (double)NAN;
	}
	double taken = fmin(item->left, wanted);
	item->left -= taken;
	item->drawn += taken;
	if (item->left < dust * item->package->size)
		item->left = 0;
	return wanted - taken > dust * wanted ? wanted - taken : 0;
}

/* Settles the packages by what was weighed from `from` on and before `until`.
 */
static void
weigh(struct shelf_row *row, int64_t from, int64_t until)
{
	for (size_t i = 0; i < row->count; i++) {
		struct shelf_item *item = &row->item[i];
		const struct package *package = item->package;
		for (size_t w = 0; w < package->left_count; w++) {
			const struct weighing *weighing = &package->left[w];
			if (weighing->day < from || weighing->day >= until)
				continue;
			item->left = weighing->amount;
			item->drawn = 0;
			row->overdrawn = 0;
		}
	}
}

/* Out of the open packages: the good ones, then the expired ones. */
static void
take_recorded(struct shelf_row *row, int64_t day, double wanted)
{
	double rest = wanted;
	bool found = false;
	for (int expired = 0; expired < 2; expired++)
		for (size_t i = 0; i < row->count; i++) {
			struct shelf_item *item = &row->item[i];
			const struct package *package = item->package;
			if (!is_open(package, day) ||
			    package_is_expired(package, day) != (expired == 1))
				continue;
			found = found || item->left != 0;
			rest = take(item, rest);
		}
	if (!found || !isnan(rest))
		row->overdrawn += rest;
}

/* When the first package was opened; INT64_MAX: none is open. */
static int64_t
first_opened(const struct shelf_row *row)
{
	return row->item[0].package->opened;
}

/* The draws are those of the row, by day. */
static void
take_all(struct shelf_row *row, const struct draw *draws, size_t count,
    int64_t today)
{
	int64_t weighed = INT64_MIN; /* weighings before that day are in */
	bool opened = first_opened(row) <= today;
	for (size_t i = 0; i < count;) {
		int64_t day = draws[i].day;
		double sum = 0;
		for (; i < count && draws[i].day == day; i++)
			sum += draws[i].amount;
		if (opened && day < first_opened(row)) {
			row->earlier += sum;
			continue;
		}
		weigh(row, weighed, day);
		weighed = day;
		take_recorded(row, day, sum);
	}
	weigh(row, weighed, today + 1);
}

/* Those of one product by day; what is told in the wrong kind is unknown. */
static void
count_row(struct shelf_row *row, const struct draw *draws, size_t draw_count,
    int64_t today)
{
	bool is_mass = row->item[0].package->is_mass;
	struct draw *own = memory_array(draw_count, sizeof *own);
	size_t count = 0;
	for (size_t i = 0; i < draw_count; i++) {
		if (strcmp(draws[i].product, row->product->name) != 0)
			continue;
		own[count] = draws[i];
		if (own[count].is_mass != is_mass)
			own[count].amount = (double)NAN;
		count++;
	}
	qsort(own, count, sizeof *own, compare_draws);
	take_all(row, own, count, today);
	free(own);
}

void
shelf_count(const struct package *packages, size_t package_count,
    const struct draw *draws, size_t draw_count, int64_t today,
    struct shelf *ret)
{
	struct shelf shelf = { .today = today, .item_count = package_count };
	shelf.item = memory_array(package_count, sizeof *shelf.item);
	shelf.row = memory_array(package_count, sizeof *shelf.row);
	for (size_t i = 0; i < package_count; i++)
		shelf.item[i] = (struct shelf_item){ .package = &packages[i],
			.left = packages[i].size };
	qsort(shelf.item, package_count, sizeof *shelf.item, compare_items);
	for (size_t i = 0; i < package_count; i++) {
		const struct product *product = shelf.item[i].package->product;
		struct shelf_row *row = shelf.row_count > 0
					    ? &shelf.row[shelf.row_count - 1]
					    : NULL;
		if (row == NULL ||
		    strcmp(row->product->name, product->name) != 0) {
			row = &shelf.row[shelf.row_count++];
			*row = (struct shelf_row){ .product = product,
				.item = &shelf.item[i] };
		}
		row->count++;
	}
	for (size_t i = 0; i < shelf.row_count; i++)
		count_row(&shelf.row[i], draws, draw_count, today);
	*ret = shelf;
}

void
shelf_release(struct shelf *shelf)
{
	if (shelf == NULL)
		return;
	free(shelf->item);
	free(shelf->row);
	*shelf = (struct shelf){ 0 };
}

const struct shelf_row *
shelf_find(const struct shelf *shelf, const char *product)
{
	for (size_t i = 0; i < shelf->row_count; i++)
		if (strcmp(shelf->row[i].product->name, product) == 0)
			return &shelf->row[i];
	return NULL;
}

/* In which turn a wish of that day comes to the package. */
static int
turn_of(const struct package *package, int64_t day)
{
	return (package_is_expired(package, day) ? 2 : 0) +
	       (is_open(package, day) ? 0 : 1);
}

/*
 * Returns what the packages cannot give. Adds to *cost, and puts into *expired
 * the first expired package that something is taken from, unless NULL.
 */
static double
take_wish(struct shelf_row *row, int64_t day, double wanted, double *cost,
    const struct package **expired)
{
	double rest = wanted;
	for (int turn = 0; turn < 4; turn++)
		for (size_t i = 0; i < row->count; i++) {
			struct shelf_item *item = &row->item[i];
			const struct package *package = item->package;
			if (turn_of(package, day) != turn)
				continue;
			double before = rest;
			rest = take(item, rest);
			if (before == rest)
				continue;
			*cost +=
			    (before - rest) * (package->price / package->size);
			if (*expired == NULL && !isnan(rest) &&
			    package_is_expired(package, day))
				*expired = package;
		}
	return rest;
}

static void
take_before(struct shelf_row *row, const struct shelf_wish *wish)
{
	for (size_t i = 0; i < wish->before_count; i++) {
		const struct draw *draw = &wish->before[i];
		const struct package *expired = NULL;
		double cost = 0;
		bool same_kind = draw->is_mass == row->item[0].package->is_mass;
		if (strcmp(draw->product, row->product->name) == 0)
			(void)take_wish(row, draw->day,
			    same_kind ? draw->amount : (double)NAN, &cost,
			    &expired);
	}
}

/* What is good on that day, or what is not. */
static double
add_up(const struct shelf_row *row, int64_t day, bool expired)
{
	double sum = 0;
	for (size_t i = 0; i < row->count; i++)
		if (package_is_expired(row->item[i].package, day) == expired)
			sum += row->item[i].left;
	return sum;
}

static const struct package *
find_first(const struct shelf_row *row, int64_t day)
{
	const struct package *first = NULL;
	for (size_t i = 0; i < row->count; i++) {
		const struct package *package = row->item[i].package;
		if (row->item[i].left == 0 || package->expires == INT64_MAX ||
		    package_is_expired(package, day))
			continue;
		if (first == NULL || package->expires < first->expires)
			first = package;
	}
	return first;
}

void
shelf_ask(const struct shelf *shelf, const struct shelf_wish *wish,
    struct shelf_answer *ret)
{
	const double unknown = (double)NAN;
	const struct shelf_row *found = shelf_find(shelf, wish->product->name);
	*ret = (struct shelf_answer){ .on_hand = unknown,
		.stale = unknown,
		.left = unknown,
		.missing = unknown,
		.cost = unknown };
	if (found == NULL)
		return;
	struct shelf_row row = *found; /* a copy to take from */
	row.item = memory_array(row.count, sizeof *row.item);
	memcpy(row.item, found->item, row.count * sizeof *row.item);
	take_before(&row, wish);
	bool same_kind = wish->is_mass == row.item[0].package->is_mass;
	ret->packages = row.count;
	ret->on_hand = add_up(&row, wish->day, false);
	ret->stale = add_up(&row, wish->day, true);
	ret->expires_first = find_first(&row, wish->day);
	double cost = 0;
	ret->missing = take_wish(&row, wish->day,
	    same_kind ? wish->amount : unknown, &cost, &ret->expired);
	ret->left = add_up(&row, wish->day, false);
	if (ret->missing == 0)
		ret->cost = cost;
	free(row.item);
}
