/*
 * Tanks for the weeds that a keeper names: which products on the shelf, in how
 * few tanks, together cover them. No weather is looked at here.
 */
#ifndef TURF_CHOOSE_H
#define TURF_CHOOSE_H

#include "turf/conflicts.h"

enum {
	CHOOSE_WEEDS = 32,
	CHOOSE_TANKS = 3,
	/* Herbicides in one tank: at most about three (published by an
	   extension service; read). */
	CHOOSE_PARTNERS = 3,
	/* Every set of so many herbicides is tried. Of more, some that together
	   cover all that can be, and those that cover most of the weeds; the
	   choice says so. */
	CHOOSE_HERBICIDES = 16,
	CHOOSE_MOST = 24, /* proposals that are kept */
};

/* A card, and what stands of it on the shelf. */
struct choose_item {
	const struct product *product;
	double on_hand; /* g or L; 0: nothing; NaN: not known, which is not
			   nothing */
	double cost;    /* of choose_dose for the job's area; NaN: not known */
};

struct choose_wish {
	const struct choose_item *item; /* every card, in any order */
	size_t item_count;
	const char *const *weed;
	size_t weed_count;
	const struct job *job; /* its site, sprayer and area; its tank is not
				  looked at */
	const struct conflict_facts *facts; /* with every card, too */
};

struct proposed_tank {
	struct tank_mix mix; /* the herbicides by name, then the adjuvant */
	uint32_t covers;     /* bits of the choice's weeds */
	double cost;         /* NaN: that of a product is not known */
};

/* All of its tanks cover all of the weeds, and none of its herbicides can be
   left out. */
struct proposal {
	struct proposed_tank tank[CHOOSE_TANKS]; /* by name */
	size_t tank_count;
	size_t product_count; /* of all tanks */
	size_t repeated;      /* resistance groups that the last tank on the
				 site had, or another one of these has */
	double cost;
};

/* Why a herbicide that controls one of the weeds is not proposed. */
struct left_out {
	const struct product *product;
	char why[CONFLICT_TEXT]; /* names it; one line, no full stop */
};

struct choice {
	const char *weed[CHOOSE_WEEDS]; /* as asked, each once; borrowed */
	size_t weed_count;
	uint32_t covered; /* bits of those that a herbicide that can be used
			     covers */
	struct proposal proposal[CHOOSE_MOST]; /* the best first */
	size_t count;
	size_t found;              /* in all, of which `count` are kept */
	size_t usable, searched;   /* herbicides; searched <= usable */
	struct left_out *left_out; /* owned; by name */
	size_t left_out_count;
};

/*
 * Every way to cover the weeds with up to CHOOSE_TANKS tanks of up to
 * CHOOSE_PARTNERS herbicides from the shelf, none of them in two tanks; with an
 * adjuvant where one is required, the cheapest that no card forbids there. In
 * this order: fewest tanks, fewest repeated resistance groups, cheapest when
 * the cost of every tank is known, fewest products, name.
 *
 * A choice without a proposal is an answer. ERROR_INPUT when no herbicide's
 * card lists one of the weeds, or there are none or too many of them. Free it
 * with choice_free.
 */
bool choose_tanks(
    const struct choose_wish *wish, struct choice **ret, struct error *error);
void choice_free(struct choice *choice); /* NULL is allowed */

/* The card's usual rate, else its least; 0 when it names neither. */
struct dose choose_dose(const struct product *product);

#endif
