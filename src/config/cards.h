/*
 * The short names on a card and what they expand to: rules in the one
 * mechanism (turf/rule.h). The only place that knows the short names.
 */
#ifndef CONFIG_CARDS_H
#define CONFIG_CARDS_H

#include "config/settings.h"
#include "turf/rule.h"

enum { CARD_RULES_MAX = 5 }; /* that one short name expands to */

/* True when the product setting of that name is a limit on the application. */
bool card_is_rule(const char *name);

/*
 * Expands one setting of a card into rules (their origin, owner and source are
 * left to the caller). `values` are the setting's texts. Returns the number of
 * rules, 0 for "daylight = no", or -1 and the error.
 */
int card_expand(const struct setting *setting, const char **values,
    size_t count, struct rule ret[CARD_RULES_MAX], struct error *error);

#endif
