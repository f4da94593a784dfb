#include "weather/format.h"

#include "base/limits.h"

#include <stdio.h>
#include <string.h>

#define GRID_CREDIT "Forecast data: National Weather Service (weather.gov)"
#define OPEN_METEO_CREDIT                                                      \
	"Weather data by Open-Meteo.com (CC BY 4.0), changed: resampled"

/* Units are stated in the document; these keep its numbers short. */
#define OPEN_METEO_UNITS                                                       \
	"&temperature_unit=celsius&wind_speed_unit=ms&precipitation_unit=mm"   \
	"&timeformat=unixtime&timezone=GMT"

enum { ALERTS_GOOD_FOR = 6 * 3600 };

static const struct format formats[] = {
	{ .name = "nws-grid",
	    .accept = "application/geo+json",
	    .credit = GRID_CREDIT,
	    .address = "https://api.weather.gov/points/{latitude},{longitude}",
	    .decimals = 4,
	    .read = nws_grid_read,
	    .link = nws_point_link },
	{ .name = "nws-alerts",
	    .accept = "application/geo+json",
	    .credit = GRID_CREDIT,
	    .address = "https://api.weather.gov/alerts/active"
		       "?point={latitude},{longitude}",
	    .decimals = 4,
	    .good_for = ALERTS_GOOD_FOR,
	    .as_asked = true,
	    .read = nws_alerts_read },
	/* Ten variables and fourteen days count as one request. */
	{ .name = "open-meteo",
	    .accept = "application/json",
	    .credit = OPEN_METEO_CREDIT,
	    .address = "https://api.open-meteo.com/v1/forecast?{query}",
	    .query = "latitude={latitude}&longitude={longitude}"
		     "&hourly=temperature_2m,relative_humidity_2m,"
		     "wind_speed_10m,wind_gusts_10m,wind_direction_10m,"
		     "cloud_cover,precipitation,precipitation_probability,"
		     "soil_temperature_6cm"
		     "&past_days=2&forecast_days=10" OPEN_METEO_UNITS,
	    .decimals = 2,
	    .home_host = "api.open-meteo.com",
	    .read = open_meteo_read },
	{ .name = "open-meteo-ensemble",
	    .accept = "application/json",
	    .credit = OPEN_METEO_CREDIT,
	    .address = "https://ensemble-api.open-meteo.com/v1/ensemble?"
		       "{query}",
	    .query = "latitude={latitude}&longitude={longitude}"
		     "&models=ncep_gefs_seamless"
		     "&hourly=temperature_2m,relative_humidity_2m,"
		     "wind_speed_10m,wind_gusts_10m,wind_direction_10m,"
		     "cloud_cover,precipitation"
		     "&past_days=2&forecast_days=10" OPEN_METEO_UNITS,
	    .decimals = 2,
	    .home_host = "ensemble-api.open-meteo.com",
	    .read = open_meteo_ensemble_read },
	{ .name = "met-norway",
	    .accept = "application/json",
	    .credit = "Based on data from MET Norway (CC BY 4.0), resampled",
	    .address = "https://api.met.no/weatherapi/locationforecast/2.0/"
		       "complete?lat={latitude}&lon={longitude}",
	    .decimals = 2,
	    .read = met_norway_read },
};

enum { FORMATS = sizeof formats / sizeof formats[0] };

const struct format *
format_find(const char *name)
{
	for (size_t i = 0; i < FORMATS; i++)
		if (strcmp(formats[i].name, name) == 0)
			return &formats[i];
	return NULL;
}

const struct format *
format_at(size_t i)
{
	return i < FORMATS ? &formats[i] : NULL;
}

/* Without zeros behind, and never "-0": each place has one address. */
static void
add_degrees(struct text *ret, double degrees, int decimals)
{
	char digits[32];
	(void)snprintf(digits, sizeof digits, "%.*f", decimals, degrees);
	size_t length = strlen(digits);
	while (strchr(digits, '.') != NULL &&
	       (digits[length - 1] == '0' || digits[length - 1] == '.')) {
		bool point = digits[length - 1] == '.';
		digits[--length] = '\0';
		if (point)
			break;
	}
	text_add(ret, strcmp(digits, "-0") == 0 ? "0" : digits);
}

/* A place, and what an address may name of it. */
struct blanks {
	double latitude, longitude;
	int decimals;
	const char *query; /* NULL: there is none */
};

/* The word in braces that begins at `rest`; false when it is not known. */
static bool
fill_blank(const char *rest, size_t word, const struct blanks *blanks,
    struct text *ret)
{
	if (strncmp(rest, "{latitude}", word) == 0)
		add_degrees(ret, blanks->latitude, blanks->decimals);
	else if (strncmp(rest, "{longitude}", word) == 0)
		add_degrees(ret, blanks->longitude, blanks->decimals);
	else if (strncmp(rest, "{query}", word) == 0 && blanks->query != NULL)
		text_add(ret, blanks->query);
	else
		return false;
	return true;
}

/* The word that is not known, or NULL when all are filled in. */
static const char *
fill(const char *pattern, const struct blanks *blanks, struct text *ret)
{
	const char *rest = pattern;
	for (;;) {
		size_t plain = strcspn(rest, "{");
		(void)text_append(ret, rest, plain);
		rest += plain;
		if (*rest == '\0')
			return NULL;
		size_t word = strcspn(rest, "}") + 1;
		if (!fill_blank(rest, word, blanks, ret))
			return rest;
		rest += word;
	}
}

bool
format_address(const struct format *format, const char *pattern,
    double latitude, double longitude, struct text *ret, struct error *error)
{
	struct blanks blanks = { latitude, longitude, format->decimals, NULL };
	struct text query;
	text_init(&query, LIMIT_TEXT_BYTES);
	const char *unknown = NULL;
	if (format->query != NULL) {
		unknown = fill(format->query, &blanks, &query);
		blanks.query = text_string(&query);
	}
	if (unknown == NULL)
		unknown = fill(pattern, &blanks, ret);
	text_release(&query);
	if (unknown == NULL)
		return true;
	size_t word = strcspn(unknown, "}") + 1;
	return error_set(error, ERROR_INPUT,
	    "'%.*s' is not a word that an address of %s knows",
	    (int)(word < 40 ? word : 40), unknown, format->name);
}
