/*
 * The bulk judge: rules x series -> for every possible start, a bit mask of
 * the rules that are broken and one of the rules that nobody can tell. It
 * knows no product, no weed and no unit.
 */
#ifndef ADVICE_JUDGE_H
#define ADVICE_JUDGE_H

#include "advice/outlook.h"

struct site;

/* A rule tied to the column that answers it. */
struct check {
	struct rule rule;
	const float *column; /* borrowed for the outlook's life; NULL: absent */
	bool continuous;
	const struct site *site; /* borrowed: whose sides the rule spares; NULL
				    for every other rule */
};

enum verdict { VERDICT_GO, VERDICT_NO_GO, VERDICT_UNKNOWN };

/* "go", "no-go", "unknown". */
const char *verdict_word(enum verdict verdict);

/* Masks in planes of 32 rules: plane p of start i is at [p * count + i]. */
struct verdicts {
	size_t count; /* starts */
	size_t planes;
	uint32_t *broken, *unknown; /* owned */
};

/*
 * A limit and a value that are closer than this, relative to the larger of the
 * limit and 1, are equal: conversion between a document's unit and the
 * label's must not decide a case. It is far below any instrument. A limit under
 * 0.1 that is not 0 is one on a dose, and it is relative to that.
 */
#define JUDGE_GRAIN 1e-4

/*
 * Judges a start at each cell of the outlook, for a job of `duration` seconds.
 * *ret must be zeroed or come from an earlier call (its memory is used again).
 */
void judge(struct outlook *outlook, const struct check *checks, size_t count,
    int64_t duration, struct verdicts *ret);
void verdicts_release(struct verdicts *verdicts);

/* No-go when any rule is broken, else unknown when any is unknown. */
enum verdict verdict_at(const struct verdicts *verdicts, size_t start);

bool verdict_broken(const struct verdicts *verdicts, size_t start, size_t rule);
bool verdict_unknown(
    const struct verdicts *verdicts, size_t start, size_t rule);

/* One value against one limit, with the same grain as the bulk judge. */
bool bound_holds(enum bound bound, double limit, double value);

#endif
