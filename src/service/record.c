#include "service/record.h"

#include <inttypes.h>
#include <stdio.h>

struct zone
record_zone(const struct config *config, const struct stored_record *record)
{
	const struct site *site = config_site(config, record->site);
	struct zone still = { .name = "UTC" };
	if (site != NULL)
		return site->zone;
	if (record->utc_offset == 0)
		return still;
	still.name[0] = '\0';
	still.count = 1;
	still.span[0] =
	    (struct zone_span){ INT64_MIN, (int32_t)record->utc_offset };
	return still;
}

struct tank_mix
record_tank(const struct config *config, const struct stored_record *record)
{
	struct tank_mix tank = { .count = 0 };
	for (size_t i = 0; i < record->amount_count; i++) {
		const struct product *product =
		    config_product(config, record->amount[i].product);
		if (product != NULL)
			tank.dose[tank.count++].product = product;
	}
	return tank;
}

char *
record_print_name(char *buffer, size_t size, const struct stored_record *record)
{
	size_t used = 0;
	buffer[0] = '\0';
	for (size_t i = 0; i < record->amount_count && used < size; i++) {
		int wrote = snprintf(buffer + used, size - used, "%s%s",
		    i > 0 ? " + " : "", record->amount[i].product);
		used += wrote > 0 ? (size_t)wrote : 0;
	}
	return buffer;
}

char *
record_print_uid(char *buffer, size_t size, const struct stored_record *record)
{
	(void)snprintf(buffer, size, "record-%" PRId64 "-%" PRId64,
	    record->created, record->id);
	return buffer;
}
