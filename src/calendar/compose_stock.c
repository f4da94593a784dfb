/* What the calendar says of the shelf. */
#include "calendar/compose_parts.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>

/* How long around its day the entry stands: a choice of ours. */
enum { DAYS_BEFORE = 30, DAYS_AFTER = 7 };

bool
compose_stock_is_due(const struct shelf_item *item, int64_t today)
{
	int64_t last = item->package->expires;
	return last != INT64_MAX && item->left != 0 &&
	       today >= last - DAYS_BEFORE && today <= last + DAYS_AFTER;
}

/* FNV-1a of 32 bits: the name of a package may come again with something else
   in it, and that is another entry. */
static uint32_t
hash(const char *text)
{
	uint32_t sum = 2166136261U;
	for (; *text != '\0'; text++)
		sum = (sum ^ (unsigned char)*text) * 16777619U;
	return sum;
}

static char *
print_day(char buffer[CIVIL_BUFFER], int64_t day)
{
	static const struct zone no_zone = { 0 };
	return civil_print(
	    buffer, CIVIL_BUFFER, &no_zone, day * DAY_SECONDS, CIVIL_DATE);
}

static char *
print_left(char *buffer, size_t size, const struct shelf_item *item,
    enum unit_system units)
{
	char amount[QUANTITY_BUFFER];
	enum quantity_kind kind =
	    item->package->is_mass ? QUANTITY_MASS : QUANTITY_VOLUME;
	if (isnan(item->left))
		(void)snprintf(buffer, size, "what is left is not known");
	else
		(void)snprintf(buffer, size, "%s left",
		    quantity_print(
			amount, sizeof amount, item->left, kind, units));
	return buffer;
}

void
compose_stock(const struct shelf_item *item, const struct compose_style *style,
    struct composed *ret)
{
	const struct package *package = item->package;
	char uid[sizeof ret->uid], left[QUANTITY_BUFFER + 32],
	    day[CIVIL_BUFFER];
	(void)snprintf(uid, sizeof uid, "package-%.64s-expires-%08" PRIx32,
	    package->name, hash(package->product->name));
	compose_begin(ret, uid, "");
	text_format(&ret->summary, "EXPIRES: %s (%s), %s", package->name,
	    package->product->name,
	    print_left(left, sizeof left, item, style->units));
	if (package->opened != INT64_MAX)
		text_format(&ret->description, "It was opened on %s. ",
		    print_day(day, package->opened));
	text_format(&ret->description,
	    "Its last good day is %s. Use it within the label's limits until "
	    "then. After that get rid of what is left by the label and local "
	    "rules, never into a drain.\nWhat is there: lull stock %s\n",
	    print_day(day, package->expires), package->product->name);
	text_add(&ret->description, compose_cautions);
	ret->entry.all_day = true;
	ret->entry.from = package->expires;
	ret->entry.to = package->expires + 1;
	ret->entry.status = ENTRY_CONFIRMED;
	compose_finish(ret, "EXPIRES", NULL);
}
