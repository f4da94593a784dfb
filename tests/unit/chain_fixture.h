/* One site, its chain of sources, and documents of them in a real store. */
#ifndef TESTS_UNIT_CHAIN_FIXTURE_H
#define TESTS_UNIT_CHAIN_FIXTURE_H

#include "unit/config_fixture.h"
#include "unit/nws_alerts_document.h"
#include "unit/store_fixture.h"

#include "service/chain.h"

/* 2026-03-02T08:00:00Z */
#define NOW (MIDNIGHT + 8 * HOUR)

#define GRID    "\"nws-grid file:/grid\""
#define METEO   "\"open-meteo file:/meteo\""
#define NORWAY  "\"met-norway file:/norway\""
#define WARNING "\"nws-alerts file:/alerts\""

/* A gridpoint document that was made at the stamp. */
#define MADE(stamp, layers)                                                    \
	"{\"type\":\"Feature\",\"properties\":{\"updateTime\":\"" stamp        \
	"\"," layers "}}"
#define AT_06_30 "2026-03-02T06:30:00+00:00"
/* A layer of one value from a clock on: "01:00:00+00:00/PT1H". */
#define ONE(name, unit, time, value)                                           \
	LAYER(name, "wmoUnit:" unit, ENTRY(time, value))

/* Open-Meteo: three hours from MIDNIGHT on; lists begin with a comma. */
#define HOURLY(units, lists)                                                   \
	"{\"hourly_units\":{\"time\":\"unixtime\",\"temperature_2m\":\"°C\""  \
	"" units "},\"hourly\":{\"time\":[1772409600,1772413200,1772416800],"  \
	"\"temperature_2m\":[1,2,3]" lists "}}"

/* A list of a wind alert from 06:00 to 12:00, and one of none. */
#define WINDY ALERTS(ALERT("Wind Advisory", MORNING))
#define CALM  ALERTS("")

struct world {
	struct reading reading;
	struct keeper keeper;
	const struct site *site;
	struct chain chain;
	struct series series;
};

/* `top` are settings of the top, `sources` the items of the list. */
static inline void
world_make(
    struct world *world, void **state, const char *top, const char *sources)
{
	char text[4096];
	(void)snprintf(text, sizeof text,
	    "contact = \"keeper@example.net\"\n%s"
	    "sprayer \"backpack\" {\n\ttank = \"15 L\"\n"
	    "\tcarrier = \"0.05 L/m2\"\n\tpace = \"0.25 m2/s\"\n}\n"
	    "site \"front\" {\n\tlatitude = \"33.1 deg\"\n"
	    "\tlongitude = \"-97.2 deg\"\n\tzone = America/Chicago\n"
	    "\tarea = \"600 m2\"\n\tsprayer = backpack\n"
	    "\tforecast = { %s }\n}\n",
	    top, sources);
	*world = (struct world){ .reading = read_good(text) };
	world->keeper = (struct keeper){ .config = world->reading.config,
		.store = store_of(state) };
	world->site = config_site(&world->keeper.config, "front");
	assert_non_null(world->site);
}

/* The day of MIDNIGHT; what was loaded before is forgotten. */
static inline void
world_load(struct world *world, int64_t now)
{
	struct error error = { 0 };
	chain_release(&world->chain);
	series_release(&world->series);
	series_init(&world->series, MIDNIGHT, MIDNIGHT + DAY);
	if (!chain_load(&world->chain, world->site, &world->keeper, now,
		&world->series, &error))
		fail_msg("%s", error.text);
}

static inline void
world_end(struct world *world)
{
	chain_release(&world->chain);
	series_release(&world->series);
	end_reading(&world->reading);
}

/* `issued` 0: the document does not say, as the store has it then. */
static inline void
put_document(void **state, const char *address, int64_t fetched, int64_t issued,
    const char *body)
{
	struct error error = { 0 };
	struct stored_document document = { .fetched = fetched,
		.issued = issued != 0 ? issued : fetched,
		.length = strlen(body) };
	if (!store_document_add(
		store_of(state), address, &document, body, &error))
		fail_msg("%s", error.text);
}

/* The sentence of a failed fetch, and where the address leads; or NULL. */
static inline void
put_source(void **state, const char *address, const char *trouble,
    const char *leads_to)
{
	struct error error = { 0 };
	struct stored_source source = { .address = (char *)address,
		.failures = trouble != NULL ? 1 : 0,
		.trouble = (char *)trouble,
		.leads_to = (char *)leads_to };
	if (!store_source_put(store_of(state), &source, &error))
		fail_msg("%s", error.text);
}

/* The value `seconds` after midnight; a wanted NaN is "not known". */
static inline void
check_cell(const struct world *world, enum measure measure, int64_t seconds,
    double wanted)
{
	double value =
	    (double)series_at(&world->series, measure, MIDNIGHT + seconds);
	if (isnan(wanted) ? !isnan(value) : !(fabs(value - wanted) <= 1e-4))
		fail_msg("%s %lld s after midnight is %g, wanted %g",
		    measure_info(measure)->key, (long long)seconds, value,
		    wanted);
}

#define STORE_TEST(test)                                                       \
	cmocka_unit_test_setup_teardown(test, make_store, remove_all)

#endif
