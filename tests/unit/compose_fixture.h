/* A job, its site and its judgement, made by hand for calendar and page. */
#ifndef TESTS_UNIT_COMPOSE_FIXTURE_H
#define TESTS_UNIT_COMPOSE_FIXTURE_H

#include "unit/test.h"

#include "calendar/compose.h"
#include "unit/heart.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

enum { CHECKS_MAX = LIMIT_RULES };

/* A job on one site in five days of mild weather. */
struct world {
	struct sprayer sprayer;
	struct site site;
	struct product product[2];
	struct job job;
	struct series series;
	struct outlook outlook;
	struct check check[CHECKS_MAX];
	size_t count;
	struct verdicts verdicts;
	struct window_limits limits;
	struct judgement judgement;
	struct compose_style style;
	struct compose_slot facts;
};

static inline void
add_rule_to(struct world *world, const char *owner, enum measure measure,
    struct exposure exposure, double limit)
{
	struct rule rule =
	    rule_of(measure, measure == MEASURE_WET ? FOLD_ANY : FOLD_MAX,
		exposure, BOUND_AT_MOST, limit);
	rule.owner = owner;
	if (strcmp(owner, "practice") != 0)
		rule.origin = ORIGIN_LABEL;
	world->check[world->count++] = check_of(&world->series, rule);
}

static inline void
make_job(struct world *world)
{
	world->sprayer = (struct sprayer){ .name = "pack",
		.tank = 15,
		.carrier = 0.05,
		.pace = 0.25,
		.fill = 600 };
	world->site = (struct site){ .name = "front",
		.latitude = 33,
		.longitude = -97,
		.zone = chicago(),
		.area = 600,
		.sprayer = &world->sprayer };
	world->product[0] = (struct product){
		.name = "post-a", .label = "a label", .keep_off = 12 * HOUR
	};
	world->product[1] = (struct product){ .name = "dye", .label = "" };
	world->job = (struct job){ .id = 7,
		.uid = "job-7",
		.site = &world->site,
		.sprayer = &world->sprayer,
		.tank = { { { &world->product[0], 0.3, QUANTITY_MASS_PER_AREA },
			      { &world->product[1], 0.002,
				  QUANTITY_VOLUME_PER_VOLUME } },
		    2 },
		.area = 600,
		.after = INT64_MIN,
		.before = INT64_MAX,
		.priority = 5,
		.note = "" };
}

/* The middle day is the one given; its slot is at seven in the morning. */
static inline void
begin_world(struct world *world, int month, int day)
{
	*world = (struct world){ .count = 0 };
	make_job(world);
	int64_t middle = local_2026(month, day, 0, 0);
	int64_t from = local_2026(month, day, 7, 0);
	series_init(&world->series, middle - 2 * DAY, middle + 3 * DAY);
	fill(&world->series, MEASURE_AIR_TEMPERATURE, 20);
	fill(&world->series, MEASURE_WIND, 3);
	fill(&world->series, MEASURE_WET, 0);
	fill(&world->series, MEASURE_DELTA_T, 4);
	world->limits = (struct window_limits){ world->series.start + HOUR,
		INT64_MIN, INT64_MAX, job_duration(&world->job) };
	world->style =
	    (struct compose_style){ UNITS_METRIC, 19 * HOUR, 4 * HOUR };
	world->facts = (struct compose_slot){ .slot = { from, from + 2 * HOUR },
		.planned = from - 2 * DAY,
		.verdict = VERDICT_GO,
		.start = cell_of(&world->series, from),
		.trouble = "",
		.credit = "Forecast: somebody" };
	add_rule_to(world, "post-a", MEASURE_AIR_TEMPERATURE, during, 22);
	add_rule_to(world, "practice", MEASURE_WIND, during, 10);
	add_rule_to(world, "practice", MEASURE_DELTA_T, during, 8);
	add_rule_to(world, "post-a", MEASURE_WET, after_end(12 * HOUR), 0);
}

static inline void
judge_world(struct world *world)
{
	outlook_init(&world->outlook, &world->series, &world->site.zone);
	judge(&world->outlook, world->check, world->count,
	    world->limits.duration, &world->verdicts);
	world->judgement = (struct judgement){ &world->job, &world->outlook,
		world->check, world->count, &world->verdicts, &world->limits };
	if (world->facts.trouble[0] == '\0')
		world->facts.verdict =
		    verdict_at(&world->verdicts, world->facts.start);
}

static inline void
end_world(struct world *world)
{
	verdicts_release(&world->verdicts);
	outlook_release(&world->outlook);
	series_release(&world->series);
}

static inline void
assert_begins(const char *text, const char *wanted)
{
	if (strncmp(text, wanted, strlen(wanted)) != 0)
		fail_msg("'%s' does not begin with '%s'", text, wanted);
}

/* Label, protection, people, water and pollinators: the usual ones. */
static inline void
assert_cautions(const struct composed *composed)
{
	static const char *const words[] = {
		"The label in your hand is the law", "Wear what it asks for",
		"Keep people and pets off", "away from water",
		"flowers in bloom", "Local rules"
	};
	for (size_t i = 0; i < COUNT(words); i++)
		assert_contains(composed->entry.description, words[i]);
}

static inline void
assert_entry(const struct composed *composed, const char *uid,
    const char *category, enum entry_status status)
{
	const struct entry *entry = &composed->entry;
	assert_string_equal(entry->uid, uid);
	assert_string_equal(entry->categories[0], category);
	assert_null(entry->categories[1]);
	assert_int_equal(entry->status, status);
	assert_true(entry->from < entry->to);
	assert_ptr_equal(entry->summary, text_string(&composed->summary));
	assert_true(text_is_utf8(entry->summary, strlen(entry->summary)));
	assert_false(composed->summary.failed);
	assert_false(composed->description.failed);
}

static inline size_t
count_reasons(const char *text)
{
	size_t count = 0;
	for (const char *at = text; (at = strstr(at, "\n- ")) != NULL; at++)
		count++;
	return count;
}

#endif
