#include "weather/format.h"

#include <string.h>

static const struct format formats[] = {
	{ "nws-grid", "application/geo+json",
	    "Forecast data: National Weather Service (weather.gov)",
	    nws_grid_read },
	{ "open-meteo", "application/json",
	    "Weather data by Open-Meteo.com (CC BY 4.0), changed: resampled",
	    open_meteo_read },
	{ "met-norway", "application/json",
	    "Based on data from MET Norway (CC BY 4.0), resampled",
	    met_norway_read },
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
