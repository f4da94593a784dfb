/*
 * What the files of the Open-Meteo readers share: time, values and the series
 * that comes of them. A forecast is read as an ensemble of one run.
 */
#ifndef WEATHER_OPEN_METEO_H
#define WEATHER_OPEN_METEO_H

#include "weather/measure.h"
#include "weather/strict_json.h"

#include <stdbool.h>
#include <stdint.h>

enum {
	OPEN_METEO_NAMES = 3, /* that one variable can have */
	OPEN_METEO_RUNS = 100 /* the control and members 01 to 99 */
};

/* What a value at stamp t tells of. */
enum meaning {
	MEANING_INSTANT, /* t itself: straight on to the next one */
	MEANING_ANGLE,   /* t itself: the shorter way round to the next one */
	MEANING_BEFORE,  /* the step that ends at t */
	MEANING_TOTAL,   /* the total of the step that ends at t */
};

struct open_meteo_variable {
	/* The first one with a value counts, alone; NULL: there are no more. */
	const char *names[OPEN_METEO_NAMES];
	enum measure measure;
	enum meaning meaning;
};

/* Evenly spaced, on quarter hours of UTC. */
struct open_meteo_stamps {
	int64_t first, step;
	size_t count;
};

/* A document while it is read. */
struct open_meteo {
	const cJSON *hourly, *units;
	bool ensemble;
	struct open_meteo_stamps stamps;
	/* One for each stamp in canonical units, NaN for a gap. Owned; NULL
	   when the document has none. */
	double *value[MEASURES];
	size_t rejected;
};

/* Fills in document->stamps; `root` tells the offset of local time. */
bool open_meteo_stamps_read(
    struct open_meteo *document, const cJSON *root, struct error *error);

/*
 * The run that a key tells of: 0 for the name alone, which is the control run,
 * N for name_memberNN, and OPEN_METEO_RUNS when it is not of that variable.
 */
size_t open_meteo_run(const char *key, const char *name);

/*
 * Fills in document->value[variable->measure], and in an ensemble the chance of
 * rain with the amounts. The caller releases them on failure too.
 */
bool open_meteo_values_read(struct open_meteo *document,
    const struct open_meteo_variable *variable, struct error *error);

#endif
