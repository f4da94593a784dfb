/*
 * Why: one rule at one start, with value, limit, margin and time. Made only
 * for the starts that somebody looks at, by walking the exposure itself; the
 * tests hold it against the bulk judge.
 */
#ifndef ADVICE_REASON_H
#define ADVICE_REASON_H

#include "advice/judge.h"

struct reason {
	const struct rule *rule; /* borrowed from the check */
	enum verdict verdict;
	double value; /* of the fold, canonical unit; NaN when unknown, infinite
			 or 0 when the exposure holds nothing (fold.h) */
	/*
	 * Signed distance to the limit, negative when broken, in the measure's
	 * unit (K for temperatures). For FOLD_ANY it is a time in seconds: how
	 * long the exposure stays clear beyond what the rule asks; +infinity
	 * when nothing is seen as far as the forecast goes, or the exposure
	 * holds nothing. NaN when unknown.
	 */
	double margin;
	int64_t at; /* start of the cell that decides; INT64_MIN: none */
	double rain, chance; /* of that cell's block, mm and %, for MEASURE_WET;
				NaN when unknown */
	const char *side;    /* borrowed: what the wind blows towards at that
				moment, for MEASURE_DRIFT; NULL: not known */
};

void reason_make(const struct outlook *outlook, const struct check *check,
    int64_t duration, size_t start, struct reason *ret);

/*
 * One sentence: "air temperature 88 °F Tue 3 Mar 15:00, wanted at most 85 °F
 * during the job", "rain Wed 4 Mar 02:00 (60 %, 0.1 in), wanted no rain during
 * the job and 12 h after". REASON_BUFFER bytes are
 * enough. Times in the zone, numbers in the units.
 */
char *reason_print(char *buffer, size_t size, const struct reason *reason,
    const struct zone *zone, enum unit_system units);

/*
 * How tight a reason is: its margin as a share of what matters for its measure
 * (5 K, 2 m/s, 2 K of delta T, 6 h of dry weather), so that the reasons of one
 * start can be put in order. +infinity for those that no number tells.
 */
double reason_tightness(const struct reason *reason);

/* The kind that a margin is told in: a span for FOLD_ANY, a difference for
   temperatures. */
enum quantity_kind reason_margin_kind(const struct rule *rule);

/* "3 °F over", "14 °F to spare", "5 h short", "not known". */
char *reason_print_margin(char *buffer, size_t size,
    const struct reason *reason, enum unit_system units);

/* A few words without a value: "wind over 10 mph", "rain", "dark". */
char *rule_print_short(
    char *buffer, size_t size, const struct rule *rule, enum unit_system units);

/* The rule as a sentence: "air temperature below 85 °F during the job". */
char *rule_print(
    char *buffer, size_t size, const struct rule *rule, enum unit_system units);

enum { REASON_BUFFER = 200 };

/*
 * The rule that best explains a start that is not open: a broken one before an
 * unknown one, label before practice before preference, then the first. The
 * number of checks when the start is open.
 */
size_t reason_leading(const struct check *checks, size_t count,
    const struct verdicts *verdicts, size_t start);

#endif
