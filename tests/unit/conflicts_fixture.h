/* A lawn with a tank of up to eight products, for the tests of conflicts. */
#ifndef TESTS_UNIT_CONFLICTS_FIXTURE_H
#define TESTS_UNIT_CONFLICTS_FIXTURE_H

#include "unit/test.h"

#include "unit/heart.h"

#include "turf/conflicts.h"

/* Parts of a card. */
#define RULE(...) .rules = (struct rule[]){ { __VA_ARGS__ } }, .rule_count = 1
#define DURING                                                                 \
	{                                                                      \
		{ ANCHOR_START, 0 },                                           \
		{                                                              \
			ANCHOR_END, 0                                          \
		}                                                              \
	}
#define THAT_DAY                                                               \
	{                                                                      \
		{ ANCHOR_MIDNIGHT, 0 },                                        \
		{                                                              \
			ANCHOR_MIDNIGHT, 1                                     \
		}                                                              \
	}
#define AIR(way, edge, value)                                                  \
	RULE(.measure = MEASURE_AIR_TEMPERATURE, .fold = FOLD_##way,           \
	    .exposure = DURING, .bound = BOUND_##edge, .limit = (value))
#define DRY(anchor, from_hours, to_hours)                                      \
	RULE(.measure = MEASURE_WET, .fold = FOLD_ANY,                         \
	    .exposure = { { ANCHOR_##anchor, (from_hours)*3600 },              \
		{ ANCHOR_END, (to_hours)*3600 } },                             \
	    .bound = BOUND_AT_MOST)
#define NO_IRRIGATION(hours)                                                   \
	RULE(.measure = MEASURE_UNTIL_IRRIGATION, .fold = FOLD_MIN,            \
	    .exposure = DURING, .bound = BOUND_AT_LEAST,                       \
	    .limit = (hours)*3600)
#define WATER(hours) .water = { 13, (hours)*3600, 0 }
#define NO_STATE(state)                                                        \
	{                                                                      \
		.measure = MEASURE_##state, .fold = FOLD_ANY,                  \
		.exposure = DURING, .bound = BOUND_AT_MOST                     \
	}
#define STATES(...)    .rules = (struct rule[]){ __VA_ARGS__ }, .rule_count = 2
#define NOT_WITH(word) .not_with = (const char *[]){ word }, .not_with_count = 1
#define DATES(...)                                                             \
	.date = (struct date_span[]){ { __VA_ARGS__ } }, .date_count = 1
#define RATE(value) .rate = (value), .rate_kind = QUANTITY_VOLUME_PER_AREA
#define SEASON(what, edge, value)                                              \
	RULE(.measure = MEASURE_SEASON_##what, .fold = FOLD_MAX,               \
	    .exposure = DURING, .bound = BOUND_##edge, .limit = (value),       \
	    .subject = "auxin-x",                                              \
	    .is_volume = MEASURE_SEASON_##what == MEASURE_SEASON_AMOUNT)
#define ACTIVE(grams)                                                          \
	.active = (struct active[]){ { "auxin-x", (grams), true } },           \
	.active_count = 1
#define BIT(species) (1U << TURF_##species)

struct scene {
	struct sprayer sprayer;
	struct site site;
	struct conflict_facts facts;
	struct job job;
	struct conflict found[CONFLICTS_MOST];
	size_t count;
};

/* The carrier is 4 L/100 m2, the job takes 35 min. */
static inline void
begin_scene(struct scene *scene)
{
	*scene = (struct scene){
		.sprayer = { .name = "backpack",
		    .tank = 15,
		    .carrier = 0.04,
		    .pace = 0.5,
		    .fill = 600 },
		.site = { .name = "front", .sprayer = &scene->sprayer },
		.facts = { .units = UNITS_METRIC },
		.job = { .site = &scene->site,
		    .sprayer = &scene->sprayer,
		    .area = 500 },
	};
}

/* One whose card tells no rate at all was queued with one. */
static inline void
add_product(struct scene *scene, const struct product *product)
{
	bool silent = !(product->rate > 0) && !(product->rate_least > 0) &&
		      !(product->rate_most > 0);
	scene->job.tank.dose[scene->job.tank.count++] = (struct dose){ product,
		silent ? 1e-9 : product->rate, product->rate_kind };
}

static inline void
find_all(struct scene *scene)
{
	scene->count = conflicts_find(
	    &scene->job, &scene->facts, scene->found, CONFLICTS_MOST);
}

/* These sentences in this order, and no more. */
static inline void
check_sentences(
    const struct scene *scene, const char *const *says, size_t count)
{
	for (size_t i = 0; i < count && i < scene->count; i++)
		assert_string_equal(scene->found[i].text, says[i]);
	assert_int_equal(scene->count, count);
}

#endif
