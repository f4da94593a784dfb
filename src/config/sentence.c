#include "config/sentence.h"

#include "base/civil.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* What is left of the sentence, and the whole for the complaint. */
struct scan {
	const char *whole, *rest;
};

/* What one sentence may say of a measure. */
enum speech {
	SPEECH_NONE,    /* bookkeeping, and what belongs to one product */
	SPEECH_NO,      /* yes or no: only "no wet" */
	SPEECH_EXTREME, /* highest and lowest */
	SPEECH_AMOUNT,  /* those and the mean */
	SPEECH_TOTAL,   /* a share of each step: only the total */
};

static enum speech
speech_of(enum measure measure)
{
	const struct measure_info *info = measure_info(measure);
	if (measure >= MEASURE_DAYS_SINCE || measure == MEASURE_HOURS ||
	    measure == MEASURE_WIND_DIRECTION ||
	    measure == MEASURE_RAIN_BLOCK || measure == MEASURE_RAIN_BLOCK_SPAN)
		return SPEECH_NONE;
	if (measure == MEASURE_RAIN)
		return SPEECH_TOTAL;
	if (info->kind == QUANTITY_NUMBER && info->least == 0 &&
	    info->most == 1)
		return SPEECH_NO;
	if (info->kind == QUANTITY_NUMBER || info->kind == QUANTITY_SPAN ||
	    measure == MEASURE_DEGREE_DAYS)
		return SPEECH_EXTREME;
	return SPEECH_AMOUNT;
}

static bool
refuse(const struct scan *scan, const char *why, struct error *error)
{
	return error_set(error, ERROR_INPUT, "'%s': %s", scan->whole, why);
}

/* Takes the words if they come next, as whole words. */
static bool
take(struct scan *scan, const char *words)
{
	size_t length = strlen(words);
	const char *after = scan->rest + length;
	if (strncmp(scan->rest, words, length) != 0 ||
	    (*after != ' ' && *after != '\0'))
		return false;
	scan->rest = after + (*after == ' ' ? 1 : 0);
	return true;
}

static bool
take_measure(struct scan *scan, enum measure *ret, struct error *error)
{
	char key[32] = "";
	size_t length = strcspn(scan->rest, " ");
	if (length < sizeof key)
		memcpy(key, scan->rest, length);
	enum measure measure = measure_find(key);
	if (measure == MEASURES)
		return error_set(error, ERROR_INPUT,
		    "'%s': there is no measure \"%.*s\"", scan->whole,
		    (int)(length < sizeof key ? length : sizeof key),
		    scan->rest);
	if (speech_of(measure) == SPEECH_NONE)
		return error_set(error, ERROR_INPUT,
		    "'%s': no sentence can be written about %s", scan->whole,
		    key);
	(void)take(scan, key);
	*ret = measure;
	return true;
}

static bool
take_fold(struct scan *scan, enum fold *ret, struct error *error)
{
	static const struct {
		const char *word;
		enum fold fold;
	} folds[] = { { "highest", FOLD_MAX }, { "lowest", FOLD_MIN },
		{ "total", FOLD_SUM }, { "mean", FOLD_MEAN },
		{ "no", FOLD_ANY } };
	for (size_t i = 0; i < sizeof folds / sizeof folds[0]; i++)
		if (take(scan, folds[i].word)) {
			*ret = folds[i].fold;
			return true;
		}
	return refuse(
	    scan, "it begins with highest, lowest, total, mean or no", error);
}

static bool
check_fold(
    const struct scan *scan, const struct rule *rule, struct error *error)
{
	enum speech speech = speech_of(rule->measure);
	const char *key = measure_info(rule->measure)->key;
	bool extreme = rule->fold == FOLD_MAX || rule->fold == FOLD_MIN;
	if (speech == SPEECH_NO && rule->fold != FOLD_ANY)
		return error_set(error, ERROR_INPUT,
		    "'%s': %s is yes or no; write \"no %s ...\"", scan->whole,
		    key, key);
	if (speech == SPEECH_TOTAL && rule->fold != FOLD_SUM)
		return error_set(error, ERROR_INPUT,
		    "'%s': of %s only the total can be judged", scan->whole,
		    key);
	if ((speech == SPEECH_EXTREME && !extreme) ||
	    (speech == SPEECH_AMOUNT && !extreme && rule->fold != FOLD_MEAN))
		return error_set(error, ERROR_INPUT, "'%s': %s has %s",
		    scan->whole, key,
		    speech == SPEECH_EXTREME
			? "a highest and a lowest only"
			: "a highest, a lowest and a mean only");
	return true;
}

/* The next words up to `stop`, or to one of the bounds, as a quantity. */
static bool
take_span(struct scan *scan, double *ret, struct error *error)
{
	static const char *const stops[] = { "to", "at", "below", "above" };
	char text[QUANTITY_BUFFER];
	size_t used = 0;
	while (*scan->rest != '\0') {
		size_t length = strcspn(scan->rest, " ");
		bool stop = false;
		for (size_t i = 0; i < sizeof stops / sizeof stops[0]; i++)
			stop = stop ||
			       (strlen(stops[i]) == length &&
				   strncmp(scan->rest, stops[i], length) == 0);
		if (stop)
			break;
		if (used + length + 2 > sizeof text)
			return refuse(scan, "that is no span", error);
		if (used > 0)
			text[used++] = ' ';
		memcpy(text + used, scan->rest, length);
		used += length;
		scan->rest += length + (scan->rest[length] == ' ' ? 1 : 0);
	}
	text[used] = '\0';
	return quantity_parse(text, QUANTITY_SPAN, ret, error);
}

static bool
take_offset(struct scan *scan, struct instant *instant, struct error *error)
{
	bool after = take(scan, "+");
	double span;
	if (!after && !take(scan, "-"))
		return true;
	if (!take_span(scan, &span, error))
		return false;
	if (!(span > 0) || span > SENTENCE_DAYS * (double)DAY_SECONDS)
		return refuse(scan,
		    "a span in it is more than nothing and at most 30 d",
		    error);
	if (instant->anchor == ANCHOR_MIDNIGHT && fmod(span, DAY_SECONDS) != 0)
		return refuse(scan, "from a midnight it is whole days", error);
	if (instant->anchor == ANCHOR_MIDNIGHT)
		span /= DAY_SECONDS;
	instant->seconds = (int32_t)(after ? span : -span);
	return true;
}

static bool
take_instant(struct scan *scan, struct instant *ret, struct error *error)
{
	static const struct {
		const char *word;
		enum anchor anchor;
	} anchors[] = { { "start", ANCHOR_START }, { "end", ANCHOR_END },
		{ "midnight", ANCHOR_MIDNIGHT }, { "sunrise", ANCHOR_SUNRISE },
		{ "sunset", ANCHOR_SUNSET } };
	for (size_t i = 0; i < sizeof anchors / sizeof anchors[0]; i++)
		if (take(scan, anchors[i].word)) {
			*ret = (struct instant){ anchors[i].anchor, 0 };
			return take_offset(scan, ret, error);
		}
	return refuse(scan,
	    "a time in it is start, end, midnight, sunrise or sunset", error);
}

static bool
take_exposure(struct scan *scan, struct exposure *ret, struct error *error)
{
	if (take(scan, "during the job")) {
		*ret =
		    (struct exposure){ { ANCHOR_START, 0 }, { ANCHOR_END, 0 } };
		return true;
	}
	if (take(scan, "that day")) {
		*ret = (struct exposure){ { ANCHOR_MIDNIGHT, 0 },
			{ ANCHOR_MIDNIGHT, 1 } };
		return true;
	}
	if (!take(scan, "from"))
		return refuse(scan,
		    "after the measure comes \"during the job\", \"that "
		    "day\" or \"from ... to ...\"",
		    error);
	if (!take_instant(scan, &ret->from, error))
		return false;
	if (!take(scan, "to"))
		return refuse(scan, "\"to\" is missing", error);
	if (!take_instant(scan, &ret->to, error))
		return false;
	if (exposure_empty(ret))
		return refuse(scan, "it ends before it begins", error);
	return true;
}

static bool
take_limit(struct scan *scan, struct rule *rule, struct error *error)
{
	static const enum bound bounds[] = { BOUND_AT_MOST, BOUND_BELOW,
		BOUND_AT_LEAST, BOUND_ABOVE };
	const struct measure_info *info = measure_info(rule->measure);
	bool found = false;
	for (size_t i = 0; i < 4 && !found; i++)
		if (take(scan, bound_word(bounds[i]))) {
			rule->bound = bounds[i];
			found = true;
		}
	if (!found)
		return refuse(scan,
		    "it ends with at most, below, at least or above and a "
		    "quantity",
		    error);
	if (!quantity_parse(scan->rest, info->kind, &rule->limit, error))
		return false;
	if (rule->limit < info->least || rule->limit > info->most)
		return error_set(error, ERROR_INPUT,
		    "'%s': there is no %s of %s", scan->whole, info->label,
		    scan->rest);
	return true;
}

bool
sentence_parse(const char *text, struct rule *ret, struct error *error)
{
	struct scan scan = { text, text };
	struct rule rule = { .name = "rules", .owner = "", .source = "" };
	if (!take_fold(&scan, &rule.fold, error) ||
	    !take_measure(&scan, &rule.measure, error) ||
	    !check_fold(&scan, &rule, error) ||
	    !take_exposure(&scan, &rule.exposure, error))
		return false;
	if (rule.fold == FOLD_ANY) {
		rule.bound = BOUND_AT_MOST;
		rule.limit = 0;
		if (scan.rest[0] != '\0')
			return refuse(
			    &scan, "a \"no\" has no limit behind it", error);
	} else if (!take_limit(&scan, &rule, error)) {
		return false;
	}
	*ret = rule;
	return true;
}
