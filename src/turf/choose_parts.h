/* The parts of choose_tanks: what may go into a tank, and which tanks there
   are. */
#ifndef TURF_CHOOSE_PARTS_H
#define TURF_CHOOSE_PARTS_H

#include "turf/choose.h"

/* More groups than there are on all labels. */
enum { CHOOSE_GROUPS = 64 };

/* A product that may go into a tank. */
struct part {
	const struct choose_item *item;
	struct dose dose;
	uint32_t covers; /* weeds */
	uint64_t groups; /* bits of search->group */
};

/* A tank that nothing forbids. */
struct blend {
	struct proposed_tank tank;
	unsigned parts; /* bits of search->herbicide */
	uint64_t groups;
};

struct search {
	const struct choose_wish *wish;
	struct choice *choice;
	uint32_t all;           /* the weeds */
	struct part *herbicide; /* owned; by name */
	size_t herbicide_count;
	struct part *adjuvant; /* owned; the cheapest first */
	size_t adjuvant_count;
	const char *group[CHOOSE_GROUPS];
	size_t group_count;
	uint64_t last;       /* groups of the last tank on the site */
	struct blend *blend; /* owned */
	size_t blend_count, blend_capacity;
	bool priced; /* the cost of every blend is known */
};

size_t choose_count_bits(uint64_t bits);

/* The bits of a product's resistance groups. */
uint64_t choose_groups(struct search *search, const struct product *product);

/* Fills herbicide and adjuvant, and what the choice leaves out. */
void choose_take_parts(struct search *search);

/* Fills blend: every tank of those herbicides in which each has a weed of its
   own, and which nothing forbids. */
void choose_blend_parts(struct search *search);

#endif
