/*
 * The short names on a card and what they expand to: rules in the one
 * mechanism (turf/rule.h). With config/card_table.h the only place that knows
 * the short names.
 */
#ifndef CONFIG_CARDS_H
#define CONFIG_CARDS_H

#include "config/card_values.h"
#include "config/settings.h"
#include "turf/rule.h"

enum { CARD_RULES_MAX = 12 }; /* that one setting of a card expands to */

/* True when the product setting of that name is a limit on the application. */
bool card_is_rule(const char *name);

/* True for those that published practice may set, too. */
bool card_is_practice(const char *name);

/*
 * Expands one setting of a card into rules. `said` are the setting's texts; the
 * rules borrow their words, as wording, and their place, as source. The active
 * that a rule speaks of is cut out of the text into `arena`. Origin and owner
 * are left to the caller. Returns the number of rules, 0 for "daylight = no" or
 * "none on label", or -1 and the error.
 */
int card_expand(struct arena *arena, const struct setting *setting,
    const struct said *said, size_t count, struct rule ret[CARD_RULES_MAX],
    struct error *error);

#endif
