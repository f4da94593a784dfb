/*
 * A rule written out, for what has no short name on a card:
 *
 *	highest air-temperature from midnight to midnight + 3 d below 85 degF
 *	total rain from end to end + 2 d at most 0.5 in
 *	no freeze during the job
 *
 * FOLD MEASURE EXPOSURE BOUND QUANTITY, or no MEASURE EXPOSURE for what is yes
 * or no. FOLD: highest, lowest, mean, total. MEASURE: a key of
 * weather/measure.h. EXPOSURE: "during the job", "that day" or "from INSTANT to
 * INSTANT", where an INSTANT is start, end, midnight, sunrise or sunset, with
 * or without "+ SPAN" or "- SPAN". Pure; refuses what it does not wholly
 * understand, and what has no sense: totals of temperatures, an exposure that
 * ends before it begins.
 */
#ifndef CONFIG_SENTENCE_H
#define CONFIG_SENTENCE_H

#include "base/error.h"
#include "turf/rule.h"

/* An exposure may reach so far from what it hangs on. */
enum { SENTENCE_DAYS = 30 };

/* Name, origin, owner and source are the caller's. */
bool sentence_parse(const char *text, struct rule *ret, struct error *error);

#endif
