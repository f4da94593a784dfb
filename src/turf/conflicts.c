#include "turf/conflicts.h"

#include "turf/conflicts_parts.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

bool
conflict_same_name(const char *a, const char *b)
{
	return a != NULL && b != NULL && strcasecmp(a, b) == 0;
}

static bool
is_told(const struct finding *finding, const char *text)
{
	for (size_t i = 0; i < finding->count; i++)
		if (strcmp(finding->conflict[i].text, text) == 0)
			return true;
	return false;
}

void
finding_add(struct finding *finding, bool forbids, const char *format, ...)
{
	struct conflict found = { .forbids = forbids };
	char whole[2 * CONFLICT_TEXT];
	struct error cut; /* knows where a sentence may be cut */
	va_list arguments;
	va_start(arguments, format);
	(void)vsnprintf(whole, sizeof whole, format, arguments);
	va_end(arguments);
	(void)error_set(&cut, ERROR_ANSWER, "%s", whole);
	(void)snprintf(found.text, sizeof found.text, "%s", cut.text);
	size_t at = forbids ? finding->forbidding : finding->count;
	if (at == finding->most || is_told(finding, found.text))
		return;
	if (finding->count == finding->most)
		finding->count--;
	memmove(&finding->conflict[at + 1], &finding->conflict[at],
	    (finding->count - at) * sizeof found);
	finding->conflict[at] = found;
	finding->count++;
	finding->forbidding += forbids ? 1 : 0;
}

static const struct product *
find_product(const struct conflict_facts *facts, const char *name)
{
	for (size_t i = 0; i < facts->product_count; i++)
		if (strcmp(facts->products[i].name, name) == 0)
			return &facts->products[i];
	return NULL;
}

/* The herbicide of an application on the site; NULL when it was none, or one
   whose card is gone. */
static const struct product *
herbicide_of(const struct finding *finding, size_t i)
{
	const struct application *one = &finding->facts->applications[i];
	if (strcmp(one->site, finding->job->site->name) != 0)
		return NULL;
	const struct product *product =
	    find_product(finding->facts, one->product);
	return product != NULL && product->kind == PRODUCT_HERBICIDE ? product
								     : NULL;
}

static bool
has_group(const struct product *product, const char *group)
{
	for (size_t i = 0; i < product->group_count; i++)
		if (conflict_same_name(product->group[i], group))
			return true;
	return false;
}

/* Was the group in the tank that was sprayed at that moment? */
static bool
was_used(const struct finding *finding, int64_t at, const char *group)
{
	for (size_t i = 0; i < finding->facts->application_count; i++) {
		const struct product *product = herbicide_of(finding, i);
		if (finding->facts->applications[i].at == at &&
		    product != NULL && has_group(product, group))
			return true;
	}
	return false;
}

/* When the last herbicide of the site went out; INT64_MIN: never. */
static int64_t
last_herbicide(const struct finding *finding)
{
	int64_t last = INT64_MIN;
	for (size_t i = 0; i < finding->facts->application_count; i++) {
		int64_t at = finding->facts->applications[i].at;
		if (at > last && herbicide_of(finding, i) != NULL)
			last = at;
	}
	return last;
}

static bool
is_listed(const char **group, size_t count, const char *name)
{
	for (size_t i = 0; i < count; i++)
		if (conflict_same_name(group[i], name))
			return true;
	return false;
}

/* The groups of the tank's herbicides, each once; 0 when one does not say. */
static size_t
list_groups(const struct tank_mix *tank, const char **ret, size_t most)
{
	size_t count = 0;
	for (size_t p = 0; p < tank->count; p++) {
		const struct product *product = tank->dose[p].product;
		if (product->kind != PRODUCT_HERBICIDE)
			continue;
		if (product->group_count == 0)
			return 0;
		for (size_t i = 0; i < product->group_count; i++)
			if (count < most &&
			    !is_listed(ret, count, product->group[i]))
				ret[count++] = product->group[i];
	}
	return count;
}

/*
 * A group that the last tank did not have breaks the row. One that is new
 * beside an old one does so, too: mixing two is what is recommended.
 */
static void
find_repeated_groups(struct finding *finding)
{
	enum { GROUPS = 4 * LIMIT_TANK_PRODUCTS };
	const char *group[GROUPS];
	char list[CONFLICT_TEXT / 2];
	size_t used = 0;
	size_t count = list_groups(&finding->job->tank, group, GROUPS);
	int64_t last = last_herbicide(finding);
	for (size_t i = 0; i < count; i++) {
		if (!was_used(finding, last, group[i]))
			return;
		int wrote = snprintf(list + used, sizeof list - used, "%s%s",
		    i > 0 ? ", " : "", group[i]);
		used += wrote > 0 ? (size_t)wrote : 0;
		used = used < sizeof list ? used : sizeof list - 1;
	}
	if (count > 0)
		finding_add(finding, false,
		    "same resistance group twice in a row: %s", list);
}

size_t
conflicts_find(const struct job *job, const struct conflict_facts *facts,
    struct conflict *ret, size_t most)
{
	struct finding finding = {
		.job = job, .facts = facts, .conflict = ret, .most = most
	};
	find_partner_conflicts(&finding);
	find_rule_conflicts(&finding);
	find_empty_sets(&finding);
	find_card_conflicts(&finding);
	find_repeated_groups(&finding);
	find_shelf_conflicts(&finding);
	return finding.count;
}
