/* Whether the shelf has what the job takes. Nothing here forbids: a package may
   have been bought and not been told of. */
#include "turf/conflicts_parts.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* g or L that the whole job takes; NaN when the product has no rate. */
static double
amount_of(const struct job *job, const struct dose *dose)
{
	return job->area * dose_on_ground(dose, job->sprayer);
}

/* "2 oz is", "nothing is". */
static char *
print_amount(char *buffer, size_t size, double amount,
    const struct shelf_wish *wish, enum unit_system units)
{
	enum quantity_kind kind =
	    wish->is_mass ? QUANTITY_MASS : QUANTITY_VOLUME;
	if (amount > 0)
		quantity_print(buffer, size, amount, kind, units);
	else
		(void)snprintf(buffer, size, "nothing");
	return buffer;
}

static bool
is_promised(const struct shelf_wish *wish)
{
	for (size_t i = 0; i < wish->before_count; i++)
		if (strcmp(wish->before[i].product, wish->product->name) == 0)
			return true;
	return false;
}

static void
tell_short(struct finding *finding, const struct shelf_wish *wish,
    const struct shelf_answer *answer)
{
	char wanted[QUANTITY_BUFFER], there[QUANTITY_BUFFER];
	enum unit_system units = finding->facts->units;
	print_amount(wanted, sizeof wanted, wish->amount, wish, units);
	print_amount(
	    there, sizeof there, answer->on_hand + answer->stale, wish, units);
	finding_add(finding, false,
	    "this job takes %s of %s, %s is on the shelf%s", wanted,
	    wish->product->name, there,
	    is_promised(wish) ? " after the jobs before it" : "");
}

static void
tell_expired(struct finding *finding, const struct shelf_wish *wish,
    const struct package *package)
{
	static const struct zone no_zone = { 0 };
	char day[CIVIL_BUFFER];
	bool already =
	    package_is_expired(package, finding->facts->shelf->today);
	civil_print(day, sizeof day, &no_zone, package->expires * DAY_SECONDS,
	    CIVIL_DATE);
	finding_add(finding, false,
	    already ? "%s would come from package %s, which was good until %s"
		    : "%s would come from package %s, which is good until %s "
		      "and not on the day of the job",
	    wish->product->name, package->name, day);
}

static void
check_dose(struct finding *finding, const struct dose *dose)
{
	const struct conflict_facts *facts = finding->facts;
	struct shelf_answer answer;
	struct shelf_wish wish = { .product = dose->product,
		.amount = amount_of(finding->job, dose),
		.is_mass = quantity_is_by_mass(dose->rate_kind),
		.day = facts->day,
		.before = facts->promised,
		.before_count = facts->promised_count };
	shelf_ask(facts->shelf, &wish, &answer);
	double spare = CONFLICT_GRAIN * wish.amount;
	if (answer.missing > spare)
		tell_short(finding, &wish, &answer);
	if (answer.expired != NULL && wish.amount - answer.on_hand > spare)
		tell_expired(finding, &wish, answer.expired);
}

void
find_shelf_conflicts(struct finding *finding)
{
	const struct tank_mix *tank = &finding->job->tank;
	for (size_t i = 0; i < tank->count && finding->facts->shelf != NULL;
	     i++)
		check_dose(finding, &tank->dose[i]);
}
