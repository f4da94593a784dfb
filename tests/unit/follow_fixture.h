/* A lawn that was sprayed with two products on a morning in April. */
#ifndef TESTS_UNIT_FOLLOW_FIXTURE_H
#define TESTS_UNIT_FOLLOW_FIXTURE_H

#include "unit/test.h"

#include "turf/follow.h"
#include "unit/heart.h"

struct sprayed {
	struct site site;
	struct rule rule[4];
	struct product product[2];
	struct tank_mix tank;
	struct application application[4];
	struct follow_facts facts;
	struct follow follow[FOLLOWS_MOST];
	size_t count;
};

/* On Tuesday 14 April 2026 from 8:00 to 9:05, in Chicago. */
static inline void
begin_sprayed(struct sprayed *sprayed)
{
	*sprayed = (struct sprayed){
		.site = { .name = "front",
		    .latitude = 33,
		    .longitude = -97,
		    .zone = chicago() },
		.product = { { .name = "su-b", .label = "label of su-b" },
		    { .name = "pre-g", .label = "" } },
	};
	sprayed->product[0].rules = sprayed->rule;
	sprayed->tank.count = 2;
	for (size_t i = 0; i < 2; i++)
		sprayed->tank.dose[i].product = &sprayed->product[i];
	sprayed->facts = (struct follow_facts){ .site = &sprayed->site,
		.tank = &sprayed->tank,
		.from = local_2026(4, 14, 8, 0),
		.to = local_2026(4, 14, 9, 5),
		.keep_off = 4 * HOUR,
		.applications = sprayed->application };
}

static inline void
add_card_rule(struct sprayed *sprayed, enum measure measure, enum bound bound,
    double limit)
{
	sprayed->rule[sprayed->product[0].rule_count++] =
	    (struct rule){ .measure = measure, .bound = bound, .limit = limit };
}

static inline void
list_follows(struct sprayed *sprayed)
{
	sprayed->count = follow_list(&sprayed->facts, sprayed->follow);
	assert_true(sprayed->count <= FOLLOWS_MOST);
}

#endif
