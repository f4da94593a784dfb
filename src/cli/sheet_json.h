/* The mix sheet as JSON: grams, millilitres, litres, square metres. */
#ifndef CLI_SHEET_JSON_H
#define CLI_SHEET_JSON_H

#include "turf/sheet.h"

#include <cjson/cJSON.h>

/* An object that the caller frees; the jar test has the volume of those units.
 */
cJSON *sheet_json(const struct sheet *sheet, enum unit_system units);

#endif
