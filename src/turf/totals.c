#include "turf/totals.h"

#include "base/memory.h"

#include <math.h>
#include <string.h>
#include <strings.h>

static const double unknown = (double)NAN;

/* What the lines are made from, and what of it a line is about. */
struct group {
	const struct totals_item *items;
	size_t count;
	const struct product *products;
	size_t product_count;
	int year;
	const char *site; /* NULL: all */
};

struct list {
	struct total *total;
	size_t count, capacity;
};

static bool
is_in(const struct group *group, size_t i)
{
	const struct totals_item *item = &group->items[i];
	return item->year == group->year &&
	       (group->site == NULL ||
		   strcmp(item->application.site, group->site) == 0);
}

static struct total *
add_line(struct list *list, const struct group *group, enum totals_kind kind,
    const char *name)
{
	list->total = memory_grow(
	    list->total, list->count, &list->capacity, sizeof *list->total);
	struct total *total = &list->total[list->count++];
	*total = (struct total){ .year = group->year,
		.kind = kind,
		.site = group->site,
		.name = name };
	return total;
}

static void
add_to(struct totals_sum *sum, double share)
{
	if (isnan(share))
		sum->unknown++;
	else
		sum->known += share;
}

static void
add_record(struct total *total, const struct totals_item *item, int64_t *last)
{
	if (total->count > 0 && *last == item->record)
		return;
	*last = item->record;
	total->count++;
	add_to(&total->area, item->application.area);
}

static void
add_amount(struct total *total, const struct totals_item *item, double amount)
{
	double area = item->application.area;
	add_to(&total->amount, amount);
	add_to(&total->per_area, area > 0 ? amount / area : unknown);
}

static void
add_site(struct list *list, const struct group *group)
{
	struct total *total = add_line(list, group, TOTALS_SITE, group->site);
	int64_t last = 0;
	for (size_t i = 0; i < group->count; i++)
		if (is_in(group, i))
			add_record(total, &group->items[i], &last);
}

static bool
is_same_product(const struct group *group, size_t i, size_t j)
{
	return is_in(group, j) && strcmp(group->items[i].application.product,
				      group->items[j].application.product) == 0;
}

static bool
is_known(const struct group *group, size_t i)
{
	return !isnan(group->items[i].application.amount);
}

/* The first one of its product, or of its kind where amounts are told. */
static bool
begins_line(const struct group *group, size_t i)
{
	bool is_mass = group->items[i].application.is_mass;
	for (size_t j = 0; j < group->count; j++) {
		if (j == i || !is_same_product(group, i, j))
			continue;
		bool counts = is_known(group, j);
		if (!is_known(group, i) && (counts || j < i))
			return false;
		if (counts && j < i &&
		    group->items[j].application.is_mass == is_mass)
			return false;
	}
	return true;
}

/* An amount that is not known is one of the product's first line. */
static void
add_product(struct list *list, const struct group *group, size_t first)
{
	const struct application *one = &group->items[first].application;
	bool takes_unknown = true;
	for (size_t j = 0; j < first; j++)
		takes_unknown =
		    takes_unknown &&
		    !(is_same_product(group, first, j) && is_known(group, j));
	struct total *total =
	    add_line(list, group, TOTALS_PRODUCT, one->product);
	total->is_mass = one->is_mass;
	int64_t last = 0;
	for (size_t i = 0; i < group->count; i++) {
		const struct totals_item *item = &group->items[i];
		if (!is_same_product(group, first, i) ||
		    (is_known(group, i)
			    ? item->application.is_mass != one->is_mass
			    : !takes_unknown))
			continue;
		add_record(total, item, &last);
		add_amount(total, item, item->application.amount);
	}
}

static const struct product *
find_product(const struct group *group, size_t i)
{
	const char *name = group->items[i].application.product;
	for (size_t p = 0; p < group->product_count; p++)
		if (strcmp(group->products[p].name, name) == 0)
			return &group->products[p];
	return NULL;
}

/* Of the record that begins there; returns where the next one does. On how much
   ground an active was is known when one product surely held it. */
static size_t
add_active_record(struct total *total, const struct group *group, size_t first)
{
	const struct totals_item *begin = &group->items[first];
	bool surely = false, perhaps = false;
	size_t i = first;
	for (; i < group->count && group->items[i].record == begin->record;
	     i++) {
		const struct application *one = &group->items[i].application;
		const struct product *product = find_product(group, i);
		bool has = product != NULL &&
			   product_find_active(product, total->name) != NULL;
		double amount = product == NULL
				    ? unknown
				    : product_active(product, total->name,
					  one->amount, one->is_mass);
		if (!is_in(group, i) || (!has && !isnan(amount)))
			continue;
		surely = surely || has;
		perhaps = true;
		add_amount(total, &group->items[i], amount);
	}
	if (surely)
		total->count++;
	if (perhaps)
		add_to(
		    &total->area, surely ? begin->application.area : unknown);
	return i;
}

static void
add_active(struct list *list, const struct group *group, const char *name)
{
	struct total *total = add_line(list, group, TOTALS_ACTIVE, name);
	total->is_mass = true;
	for (size_t i = 0; i < group->count;)
		i = add_active_record(total, group, i);
}

static bool
has_active(const struct list *list, size_t begin, const char *name)
{
	for (size_t i = begin; i < list->count; i++)
		if (list->total[i].kind == TOTALS_ACTIVE &&
		    strcasecmp(list->total[i].name, name) == 0)
			return true;
	return false;
}

static void
add_group(struct list *list, const struct group *group)
{
	size_t begin = list->count;
	if (group->site != NULL)
		add_site(list, group);
	for (size_t i = 0; i < group->count; i++)
		if (is_in(group, i) && begins_line(group, i))
			add_product(list, group, i);
	for (size_t i = 0; i < group->count; i++) {
		const struct product *product =
		    is_in(group, i) ? find_product(group, i) : NULL;
		for (size_t a = 0; product != NULL && a < product->active_count;
		     a++)
			if (!has_active(list, begin, product->active[a].name))
				add_active(
				    list, group, product->active[a].name);
	}
}

/* True for the first item of its site in the year. */
static bool
begins_site(const struct group *year, size_t i)
{
	struct group before = *year;
	before.site = year->items[i].application.site;
	for (size_t j = 0; j < i; j++)
		if (is_in(&before, j))
			return false;
	return true;
}

static void
add_year(struct list *list, const struct group *year)
{
	size_t sites = 0;
	for (size_t i = 0; i < year->count; i++) {
		struct group group = *year;
		if (!is_in(year, i) || !begins_site(year, i))
			continue;
		group.site = year->items[i].application.site;
		add_group(list, &group);
		sites++;
	}
	if (sites > 1)
		add_group(list, year);
}

/* The first year after `year`, or that. */
static int
next_year(const struct group *all, int year)
{
	int next = year;
	for (size_t i = 0; i < all->count; i++) {
		int one = all->items[i].year;
		if (one > year && (next == year || one < next))
			next = one;
	}
	return next;
}

struct total *
totals_find(const struct totals_item *items, size_t count,
    const struct product *products, size_t product_count, size_t *ret_count)
{
	struct list list = { 0 };
	struct group year = { items, count, products, product_count, INT32_MIN,
		NULL };
	int next;
	while ((next = next_year(&year, year.year)) != year.year) {
		year.year = next;
		add_year(&list, &year);
	}
	*ret_count = list.count;
	return list.total;
}
