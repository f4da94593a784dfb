/*
 * Lists of alerts put together for the tests, in the shape of the published
 * description, and the published names of events with the kind of each.
 */
#ifndef TESTS_UNIT_NWS_ALERTS_DOCUMENT_H
#define TESTS_UNIT_NWS_ALERTS_DOCUMENT_H

#include "unit/nws_document.h"

#include "weather/format.h"

/* A list made at MIDNIGHT + 10 min; the series begins with that cell. */
#define UPDATED "\"updated\":\"2026-03-02T00:10:00+00:00\""
#define ALERTS_WITH(more, features)                                            \
	"{\"type\":\"FeatureCollection\",\"features\":[" features              \
	"],\"title\":\"Current alerts\"" more "}"
#define ALERTS(features) ALERTS_WITH("," UPDATED, features)
#define FEATURE(properties)                                                    \
	"{\"type\":\"Feature\",\"geometry\":null,\"properties\":{" properties  \
	"}}"
#define REAL "\"status\":\"Actual\",\"messageType\":\"Alert\""
/* A real alert; `times` are the members that tell when. */
#define ALERT(event, times)       FEATURE("\"event\":\"" event "\"," REAL "," times)
#define TIME(name, day_and_clock) "\"" name "\":\"2026-03-" day_and_clock "\""
#define EFFECTIVE(day_and_clock)  TIME("effective", day_and_clock)
#define ONSET(day_and_clock)      TIME("onset", day_and_clock)
#define EXPIRES(day_and_clock)    TIME("expires", day_and_clock)
#define ENDS(day_and_clock)       TIME("ends", day_and_clock)
/* From 06:00 to 12:00 of the first day. */
#define MORNING ONSET("02T06:00:00Z") "," ENDS("02T12:00:00Z")

/*
 * The names of the service's list of event types and of the legend of its map
 * of watches and warnings, those of 2024 and the renamed ones of 2025. Source:
 * read in public copies (R2). Which kind bears on spraying is our judgement.
 */
static const char *const wind_names[] = { "Brisk Wind Advisory",
	"Extreme Wind Warning", "Gale Warning", "Gale Watch",
	"High Wind Warning", "High Wind Watch", "Hurricane Force Wind Warning",
	"Hurricane Force Wind Watch", "Hurricane Local Statement",
	"Hurricane Warning", "Hurricane Watch", "Lake Wind Advisory",
	"Severe Thunderstorm Warning", "Severe Thunderstorm Watch",
	"Severe Weather Statement", "Small Craft Advisory",
	"Small Craft Advisory For Hazardous Seas",
	"Small Craft Advisory For Rough Bar", "Small Craft Advisory For Winds",
	"Special Marine Warning", "Storm Warning", "Storm Watch",
	"Tornado Warning", "Tornado Watch", "Tropical Cyclone Local Statement",
	"Tropical Depression Local Statement", "Tropical Storm Local Statement",
	"Tropical Storm Warning", "Tropical Storm Watch",
	"Typhoon Local Statement", "Typhoon Warning", "Typhoon Watch",
	"Wind Advisory", NULL };
static const char *const freeze_names[] = { "Blizzard Warning",
	"Blizzard Watch", "Cold Weather Advisory", "Extreme Cold Warning",
	"Extreme Cold Watch", "Freeze Warning", "Freeze Watch",
	"Freezing Fog Advisory", "Freezing Rain Advisory",
	"Freezing Spray Advisory", "Frost Advisory", "Hard Freeze Warning",
	"Hard Freeze Watch", "Heavy Freezing Spray Warning",
	"Heavy Freezing Spray Watch", "Ice Storm Warning",
	"Lake Effect Snow Advisory", "Lake Effect Snow Warning",
	"Lake Effect Snow Watch", "Snow Squall Warning", "Wind Chill Advisory",
	"Wind Chill Warning", "Wind Chill Watch", "Winter Storm Warning",
	"Winter Storm Watch", "Winter Weather Advisory", NULL };
static const char *const heat_names[] = { "Excessive Heat Warning",
	"Excessive Heat Watch", "Extreme Heat Warning", "Extreme Heat Watch",
	"Heat Advisory", NULL };
static const char *const flood_names[] = {
	"Arroyo And Small Stream Flood Advisory", "Coastal Flood Advisory",
	"Coastal Flood Statement", "Coastal Flood Warning",
	"Coastal Flood Watch", "Flash Flood Statement", "Flash Flood Warning",
	"Flash Flood Watch", "Flood Advisory", "Flood Statement",
	"Flood Warning", "Flood Watch", "Hydrologic Advisory",
	"Lakeshore Flood Advisory", "Lakeshore Flood Statement",
	"Lakeshore Flood Warning", "Lakeshore Flood Watch",
	"Small Stream Flood Advisory", "Storm Surge Warning",
	"Storm Surge Watch", "Urban And Small Stream Flood Advisory", NULL
};
static const char *const smoke_names[] = { "Air Quality Alert",
	"Air Stagnation Advisory", "Ashfall Advisory", "Ashfall Warning",
	"Blowing Dust Advisory", "Blowing Dust Warning", "Dense Smoke Advisory",
	"Dust Advisory", "Dust Storm Warning", "Extreme Fire Danger",
	"Fire Warning", "Fire Weather Watch", "Red Flag Warning", NULL };
static const char *const other_names[] = { "911 Telephone Outage",
	"911 Telephone Outage Emergency", "Administrative Message",
	"Avalanche Advisory", "Avalanche Warning", "Avalanche Watch",
	"Beach Hazards Statement", "Blue Alert", "Child Abduction Emergency",
	"Civil Danger Warning", "Civil Emergency Message", "Dense Fog Advisory",
	"Earthquake Warning", "Evacuation - Immediate",
	"Hazardous Materials Warning", "Hazardous Seas Warning",
	"Hazardous Seas Watch", "Hazardous Weather Outlook",
	"High Surf Advisory", "High Surf Warning", "Hydrologic Outlook",
	"Law Enforcement Warning", "Local Area Emergency", "Low Water Advisory",
	"Marine Weather Statement", "Nuclear Power Plant Warning",
	"Radiological Hazard Warning", "Rip Current Statement",
	"Shelter In Place Warning", "Short Term Forecast",
	"Special Weather Statement", "Test", "Tsunami Advisory",
	"Tsunami Warning", "Tsunami Watch", "Volcano Warning", NULL };

static const struct {
	enum measure kind; /* MEASURES: none */
	const char *const *names;
} named[] = {
	{ MEASURE_ALERT_WIND, wind_names },
	{ MEASURE_ALERT_FREEZE, freeze_names },
	{ MEASURE_ALERT_HEAT, heat_names },
	{ MEASURE_ALERT_FLOOD, flood_names },
	{ MEASURE_ALERT_SMOKE, smoke_names },
	{ MEASURES, other_names },
};

#endif
