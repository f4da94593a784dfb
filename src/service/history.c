#include "service/history.h"

#include "base/memory.h"

#include <math.h>
#include <stdlib.h>

/* Number by number, so that neither loses what the other knows. */
static struct daily
join(struct daily fresh, const struct daily *stored)
{
	if (stored == NULL)
		return fresh;
	if (isnan(fresh.mean)) {
		fresh.high = stored->high;
		fresh.low = stored->low;
		fresh.mean = stored->mean;
	}
	if (isnan(fresh.soil))
		fresh.soil = stored->soil;
	if (isnan(fresh.rain))
		fresh.rain = stored->rain;
	return fresh;
}

static bool
is_known(const struct daily *day)
{
	return !isnan(day->mean) || !isnan(day->soil) || !isnan(day->rain);
}

/* Whether the day has a number that is not stored yet. */
static bool
adds_to(const struct daily *stored, const struct daily *day)
{
	return stored == NULL || (isnan(stored->mean) && !isnan(day->mean)) ||
	       (isnan(stored->soil) && !isnan(day->soil)) ||
	       (isnan(stored->rain) && !isnan(day->rain));
}

bool
history_load(const struct keeper *keeper, const struct site *site,
    const struct series *series, struct daily **ret, size_t *ret_count,
    struct error *error)
{
	const struct zone *zone = &site->zone;
	int64_t first = civil_day(zone, series->start);
	int64_t last = civil_day(zone, series_end(series) - 1);
	struct daily *stored;
	size_t stored_count, count = 0;
	if (!store_days(keeper->store, site->name, first - HISTORY_DAYS,
		&stored, &stored_count, error))
		return false;
	struct daily *days = memory_array(
	    stored_count + (size_t)(last - first + 1), sizeof *days);
	while (count < stored_count && stored[count].day < first) {
		days[count] = stored[count];
		count++;
	}
	for (int64_t day = first; day <= last; day++) {
		struct daily one = join(daily_of(series, zone, day),
		    daily_find(stored, stored_count, day));
		if (is_known(&one))
			days[count++] = one;
	}
	free(stored);
	*ret = days;
	*ret_count = count;
	return true;
}

bool
history_keep(const struct keeper *keeper, const struct site *site,
    const struct daily *days, size_t count, int64_t now, struct error *error)
{
	const int64_t today = civil_day(&site->zone, now);
	const int64_t first = today - 3;
	struct daily *stored;
	size_t stored_count;
	if (!store_days(keeper->store, site->name, first, &stored,
		&stored_count, error))
		return false;
	bool good = true;
	for (size_t i = 0; i < count && good; i++) {
		const struct daily *day = &days[i];
		if (day->day < first || day->day >= today)
			continue;
		if (adds_to(daily_find(stored, stored_count, day->day), day))
			good = store_day_put(
			    keeper->store, site->name, day, error);
	}
	free(stored);
	return good;
}

bool
history_prune(const struct keeper *keeper, int64_t now, struct error *error)
{
	return store_days_prune(
	    keeper->store, now / DAY_SECONDS - HISTORY_DAYS, error);
}
