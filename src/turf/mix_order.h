/*
 * What goes into the tank first. By formulation code, not by the letters of an
 * acronym: published ones contradict each other. The list is that of Pease,
 * Christians and Thoms, SportsField Management, May/June 2021 (read): packets,
 * dry, conditioners, dispersed liquids, drift retardants, other liquids,
 * adjuvants, liquid fertilizers, defoamer. Dye behind the adjuvants is common
 * practice, no source. A label rules over all of it.
 */
#ifndef TURF_MIX_ORDER_H
#define TURF_MIX_ORDER_H

#include "turf/turf.h"

/* The step of a code ("WG", "sl"); MIX_UNSAID when it is not in the list. */
enum mix_step mix_step_of_code(const char *code);

/* The card's ruling, else its code; an adjuvant's step for an adjuvant that is
   liquid or has no code. MIX_UNSAID: only the label can say. */
enum mix_step mix_step_of(const struct product *product);

/* "packet", "dry", ...; the words of a card's mix-order; "" for UNSAID. */
const char *mix_step_word(enum mix_step step);

/* Granules (G, GR) are spread dry; no sprayer takes them. */
bool mix_is_granule(const struct product *product);

/*
 * The positions of the tank's doses, first to last, the same for every order in
 * which they were named: within a step by name. What nobody can tell comes
 * before a defoamer and what is last by its label.
 */
void mix_order(const struct tank_mix *tank, size_t ret[LIMIT_TANK_PRODUCTS]);

#endif
