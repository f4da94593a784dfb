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

static void
check_rules(const struct rule *rules, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		require(isfinite(rules[i].limit));
		require(rules[i].name != NULL && rules[i].owner != NULL);
	}
}

static void
check_sprayer(const struct sprayer *sprayer)
{
	require(isfinite(sprayer->tank) && sprayer->tank > 0);
	require(isfinite(sprayer->carrier) && sprayer->carrier > 0);
	require(isfinite(sprayer->pace) && sprayer->pace > 0);
	require(isfinite(sprayer->fill) && sprayer->fill >= 0);
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
}

static void
check_config(const struct config *config)
{
	check_rules(config->practice, config->practice_count);
	for (size_t i = 0; i < config->product_count; i++) {
		const struct product *product = &config->products[i];
		check_rules(product->rules, product->rule_count);
		require(isfinite(product->rate) && product->rate >= 0);
	}
	for (size_t i = 0; i < config->sprayer_count; i++)
		check_sprayer(&config->sprayers[i]);
	for (size_t i = 0; i < config->site_count; i++)
		check_site(&config->sites[i]);
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
