/* What stands on the shelf, and on the bench. */
#include "config/build.h"

#include "config/values.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static void
take_product(
    struct build *build, const struct section *section, struct package *package)
{
	const struct item *item = section_item(section, "product");
	struct error error = { 0 };
	if (item == NULL)
		return;
	package->product = config_product(build->config, item->value[0]);
	(void)build_judge(build, item,
	    package->product != NULL ||
		error_set(&error, ERROR_INPUT, "there is no product \"%s\"",
		    item->value[0]),
	    &error);
}

/* What is weighed on the card is weighed on the shelf. */
static bool
check_kind(const struct package *package, bool is_mass, struct error *error)
{
	const struct product *product = package->product;
	bool has_rate =
	    product != NULL && (product->rate > 0 || product->rate_least > 0 ||
				   product->rate_most > 0);
	if (!has_rate || is_mass == quantity_is_by_mass(product->rate_kind))
		return true;
	return error_set(error, ERROR_INPUT,
	    is_mass ? "the card's rate is a volume: write one here, too"
		    : "the card's rate is a weight: write one here, too");
}

/* And what is weighed in one package of a product is in the others. */
static bool
check_others(const struct build *build, const struct package *package,
    struct error *error)
{
	const struct config *config = build->config;
	for (const struct package *other = config->packages; other < package;
	     other++)
		if (other->product == package->product && other->size > 0 &&
		    package->product != NULL &&
		    other->is_mass != package->is_mass)
			return error_set(error, ERROR_INPUT,
			    "package %.64s of it is a %s: write one here, too",
			    other->name, other->is_mass ? "weight" : "volume");
	return true;
}

static void
take_size(
    struct build *build, const struct section *section, struct package *package)
{
	const struct item *item = section_item(section, "size");
	struct error error = { 0 };
	if (item == NULL)
		return;
	bool good = value_amount(
	    item->value[0], &package->size, &package->is_mass, &error);
	if (good && !(package->size > 0))
		good = error_set(
		    &error, ERROR_INPUT, "nothing at all is no package");
	good = good && check_kind(package, package->is_mass, &error) &&
	       check_others(build, package, &error);
	if (!build_judge(build, item, good, &error))
		package->size = 0;
}

static bool
check_weighing(const struct package *package, const struct weighing *weighing,
    bool is_mass, struct error *error)
{
	size_t count = package->left_count;
	if (is_mass != package->is_mass)
		return error_set(error, ERROR_INPUT,
		    "the size is a %s: write one here, too",
		    package->is_mass ? "weight" : "volume");
	if (weighing->amount > package->size * (1 + 1e-6))
		return error_set(
		    error, ERROR_INPUT, "more is left than the package held");
	if (weighing->day < package->opened && package->opened != INT64_MAX)
		return error_set(error, ERROR_INPUT,
		    "that is before the package was opened");
	if (count > 0 && weighing->day <= package->left[count - 1].day)
		return error_set(error, ERROR_INPUT,
		    "that is not later than the one before");
	return true;
}

/* Nothing is asked of what is left where the size is not understood. */
static void
take_left(
    struct build *build, const struct section *section, struct package *package)
{
	const struct item *item = section_item(section, "left");
	struct error error = { 0 };
	if (item == NULL || !(package->size > 0))
		return;
	if (section_item(section, "opened") == NULL) {
		(void)error_set(&error, ERROR_INPUT,
		    "say when it was opened, too: what is not open is full");
		(void)build_judge(build, item, false, &error);
		return;
	}
	package->left = arena_array(
	    &build->config->arena, item->value_count, sizeof *package->left);
	for (size_t i = 0; i < item->value_count; i++) {
		struct weighing weighing = { 0 };
		bool is_mass = false;
		bool good = value_weighing(
				item->value[i], &weighing, &is_mass, &error) &&
			    check_weighing(package, &weighing, is_mass, &error);
		if (build_judge(build, item, good, &error))
			package->left[package->left_count++] = weighing;
	}
}

/* Whichever comes first: the day on the package, or its age once open. */
static void
take_end(
    struct build *build, const struct section *section, struct package *package)
{
	const struct item *item = section_item(section, "expires");
	struct error error = { 0 };
	package->expires = build_date(build, section, "expires", INT64_MAX);
	double life = build_quantity(build, section, "shelf-life");
	if (package->opened == INT64_MAX)
		return;
	if (package->expires < package->opened) {
		(void)error_set(
		    &error, ERROR_INPUT, "it had expired before it was opened");
		(void)build_judge(build, item, false, &error);
	}
	int64_t last = package->opened + (int64_t)(life / DAY_SECONDS);
	if (life > 0 && last < package->expires)
		package->expires = last;
}

void
build_package(struct build *build, const struct section *section)
{
	struct config *config = build->config;
	struct package *package = &config->packages[config->package_count++];
	package->name = arena_string(&config->arena, section->title);
	package->opened = build_date(build, section, "opened", INT64_MAX);
	package->price = section_item(section, "price") == NULL
			     ? (double)NAN
			     : build_quantity(build, section, "price");
	take_product(build, section, package);
	take_size(build, section, package);
	take_end(build, section, package);
	take_left(build, section, package);
}

static int
compare_spoons(const void *a, const void *b)
{
	double one = *(const double *)a, other = *(const double *)b;
	return (one < other) - (one > other);
}

void
build_bench(struct build *build, const struct section *section)
{
	struct bench *bench = &build->config->bench;
	const struct item *item = section_item(section, "spoons");
	bench->scale = build_quantity(build, section, "scale");
	bench->cylinder = build_quantity(build, section, "cylinder");
	if (item == NULL)
		return;
	double *spoons = arena_array(
	    &build->config->arena, item->value_count, sizeof *spoons);
	for (size_t i = 0; i < item->value_count; i++) {
		struct error error = { 0 };
		double volume = 0;
		bool good = quantity_parse(
		    item->value[i], QUANTITY_VOLUME, &volume, &error);
		if (good && !(volume > 0 && volume <= 1))
			good = error_set(&error, ERROR_INPUT,
			    "'%s' is no size of a spoon", item->value[i]);
		if (build_judge(build, item, good, &error))
			spoons[bench->spoon_count++] = volume;
	}
	qsort(spoons, bench->spoon_count, sizeof *spoons, compare_spoons);
	bench->spoon = spoons;
}
