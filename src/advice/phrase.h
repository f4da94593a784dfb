/* Words for rules, private to the advice floor's phrase files. */
#ifndef ADVICE_PHRASE_H
#define ADVICE_PHRASE_H

#include "turf/rule.h"

/* A measure that is yes or no, and how it is said. */
struct phrase {
	enum measure measure;
	const char *broken; /* the rule is broken */
	const char *kept;   /* the rule holds */
	const char *wish;   /* the rule itself */
};

/* NULL for the measures that a number tells. */
const struct phrase *phrase_of(enum measure measure);

/* "85 °F", "21 days", "never". */
char *phrase_value(char *buffer, size_t size, const struct rule *rule,
    double value, enum unit_system units);

/* What is measured: "mean humidity", "post-a this year". */
char *phrase_name(char *buffer, size_t size, const struct rule *rule);

/* What was found: "humidity 31.6 %", "2 h after mowing", "no post-a before". */
char *phrase_found(char *buffer, size_t size, const struct rule *rule,
    double value, enum unit_system units);

/* The same words are said of a moment: "at 15:00". */
bool phrase_has_moment(const struct rule *rule);

/* The rule behind "wanted": "below 85 °F during the job". */
char *phrase_wish(
    char *buffer, size_t size, const struct rule *rule, enum unit_system units);

#endif
