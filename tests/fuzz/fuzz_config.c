/*
 * Any bytes as a configuration. It is refused with at least one complaint, or
 * it is one that the rules can rely on; and whatever it was, the next one is
 * read as if it had not been there: libconfuse's scanner is one for the whole
 * process.
 */
#include "base/limits.h"
#include "config/config.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static const char PLAIN[] = "practice \"wind-maximum\" {\n"
			    "\tlimit = \"at most 10 mph\"\n"
			    "\tsource = \"a source\"\n"
			    "}\n";

static void
require(bool condition)
{
	if (!condition)
		abort();
}

/* Far from its anchor a rule would look past all that an outlook lays out. */
static void
check_instant(const struct instant *instant)
{
	int32_t most = 60 * 86400;
	if (instant->anchor == ANCHOR_MIDNIGHT)
		most = 30;
	require(instant->seconds >= -most && instant->seconds <= most);
}

static void
check_rules(const struct rule *rules, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		const struct rule *rule = &rules[i];
		require(isfinite(rule->limit));
		require(rule->name != NULL && rule->owner != NULL);
		require(rule->source != NULL && rule->measure < MEASURES);
		require(rule->wording == NULL || rule->wording[0] != '\0');
		require((rule->measure == MEASURE_SEASON_ACTIVE) ==
			(rule->subject != NULL));
		require(
		    !rule->is_volume || rule->measure == MEASURE_SEASON_AMOUNT);
		require(!exposure_empty(&rule->exposure));
		check_instant(&rule->exposure.from);
		check_instant(&rule->exposure.to);
	}
}

/* What a mix sheet and a shelf divide by, or count days from. */
static void
check_amounts(const struct product *product)
{
	require(isfinite(product->stock) && product->stock >= 0);
	require(isfinite(product->stock_keeps) && product->stock_keeps >= 0);
	require(isfinite(product->scoop) && product->scoop >= 0);
	require(isfinite(product->effect) && product->effect >= 0);
	require(product->mix_step < MIX_STEPS);
	require(product->registration != NULL);
	for (size_t i = 0; i < product->control_count; i++)
		require(product->control[i][0] != '\0');
}

static void
check_card(const struct product *product)
{
	require(product->rule_count <= LIMIT_CARD_RULES);
	check_rules(product->rules, product->rule_count);
	require(isfinite(product->rate) && product->rate >= 0);
	require(product->rate_most == 0 ||
		product->rate <= product->rate_most * 1.00001);
	for (size_t i = 0; i < product->active_count; i++)
		require(product->active[i].content > 0);
	for (size_t i = 0; i < product->date_count; i++)
		require(product->date[i].from_month >= 1 &&
			product->date[i].to_day >= 1);
	require(product->water.amount == 0 ||
		product->water.within > product->water.not_before);
	for (size_t a = 0; a < product->rule_count; a++)
		for (size_t b = 0; b < product->rule_count; b++)
			require(!rules_exclude(
			    &product->rules[a], &product->rules[b]));
	require(product->missing_count <= 3);
	check_amounts(product);
}

static void
check_sprayer(const struct sprayer *sprayer)
{
	require(isfinite(sprayer->tank) && sprayer->tank > 0);
	require(isfinite(sprayer->carrier) && sprayer->carrier > 0);
	require(isfinite(sprayer->pace) && sprayer->pace > 0);
	require(isfinite(sprayer->fill) && sprayer->fill >= 0);
	require(sprayer->droplets <= DROPLETS_ULTRA_COARSE);
	require(isnan(sprayer->release_height) ||
		(sprayer->release_height >= 0 && sprayer->release_height <= 5));
	require(isnan(sprayer->swath) ||
		(sprayer->swath > 0 && sprayer->swath <= 100));
	require(isfinite(sprayer->calibration_holds) &&
		sprayer->calibration_holds > 0);
}

static void
check_site(const struct site *site)
{
	require(fabs(site->latitude) <= 90 && fabs(site->longitude) <= 180);
	require(isfinite(site->area) && site->area > 0);
	require(site->sprayer != NULL && site->zone.count > 0);
	require(site->rain_chance > 0 && site->rain_chance <= 100);
	for (size_t i = 1; i < site->told_count; i++)
		require(site->told[i - 1].from <= site->told[i].from);
	for (size_t i = 0; i < site->hours_count; i++)
		require(site->hours[i].from < site->hours[i].to);
	require(site->species < TURF_SPECIES_END);
	for (size_t i = 0; i < site->side_count; i++)
		require(site->side[i].bearing >= 0 &&
			site->side[i].bearing < 360 &&
			site->side[i].what[0] != '\0');
	require(site->client != NULL && site->address != NULL);
}

static void
check_weighings(const struct package *package)
{
	require(package->left_count == 0 || package->opened != INT64_MAX);
	for (size_t i = 0; i < package->left_count; i++) {
		const struct weighing *weighing = &package->left[i];
		require(weighing->day >= package->opened);
		require(i == 0 || weighing[-1].day < weighing->day);
		require(weighing->amount >= 0 &&
			weighing->amount <= package->size * 1.00001);
	}
}

static void
check_package(const struct config *config, const struct package *package)
{
	const struct product *product = package->product;
	require(product != NULL && package->name[0] != '\0');
	require(product == config_product(config, product->name));
	require(isfinite(package->size) && package->size > 0);
	require(isnan(package->price) ||
		(isfinite(package->price) && package->price >= 0));
	require(product->rate == 0 ||
		quantity_is_by_mass(product->rate_kind) == package->is_mass);
	require(package->opened == INT64_MAX ||
		package->expires >= package->opened);
	check_weighings(package);
	for (size_t i = 0; i < config->package_count; i++)
		require(config->packages[i].product != product ||
			config->packages[i].is_mass == package->is_mass);
}

static void
check_bench(const struct bench *bench)
{
	require(isfinite(bench->scale) && bench->scale >= 0);
	require(isfinite(bench->cylinder) && bench->cylinder >= 0);
	for (size_t i = 0; i < bench->spoon_count; i++) {
		require(bench->spoon[i] > 0 && bench->spoon[i] <= 1);
		require(i == 0 || bench->spoon[i] <= bench->spoon[i - 1]);
	}
}

static void
check_config(const struct config *config)
{
	require(config->applicator != NULL && config->certification != NULL);
	require(config->currency != NULL);
	check_bench(&config->bench);
	check_rules(config->practice, config->practice_count);
	for (size_t i = 0; i < config->product_count; i++)
		check_card(&config->products[i]);
	for (size_t i = 0; i < config->sprayer_count; i++)
		check_sprayer(&config->sprayers[i]);
	for (size_t i = 0; i < config->site_count; i++)
		check_site(&config->sites[i]);
	for (size_t i = 0; i < config->package_count; i++)
		check_package(config, &config->packages[i]);
}

/* Returns whether it was taken. */
static bool
read_one(const char *bytes, size_t size)
{
	struct config config = { 0 };
	struct text complaints;
	text_init(&complaints, LIMIT_OUTPUT_BYTES);
	bool good =
	    config_read_bytes("fuzz.conf", bytes, size, &config, &complaints);
	require(good == (complaints.length == 0));
	if (good)
		check_config(&config);
	config_release(&config);
	text_release(&complaints);
	return good;
}

int
LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	/* An included file would be one of this machine's. */
	if (size > 0 && memmem(data, size, "include", 7) != NULL)
		return 0;
	(void)read_one((const char *)data, size);
	require(read_one(PLAIN, sizeof PLAIN - 1));
	return 0;
}
