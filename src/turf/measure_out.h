/*
 * An amount on the tools of the bench. Weights go onto the scale, or into a
 * scoop whose weight the card tells; spoons and marks are for liquids alone, as
 * a spoon says nothing of a weight. The limits are common practice, no source:
 * what the scale may get wrong by more than 5 % is not weighed, and up to 2.5 %
 * is not worth a word.
 */
#ifndef TURF_MEASURE_OUT_H
#define TURF_MEASURE_OUT_H

#include "base/text.h"
#include "turf/turf.h"

enum tool {
	TOOL_NONE, /* nothing on the bench fits: the amount alone */
	TOOL_SCALE,
	TOOL_SCOOP, /* level scoops, and what is no whole one on the scale */
	TOOL_SPOONS,
	TOOL_CYLINDER,
	TOOL_STOCK, /* too little for the scale: out of a stock solution */
};

enum { SPOON_KINDS_MOST = 8 };

struct measured {
	enum tool tool;
	bool is_mass;
	double wanted; /* g or L */
	double told;   /* g or L, as the tools say it */
	/*
	 * The most that it can be off, as a part of `wanted`: what was rounded,
	 * half a step of the scale or the cylinder, and 2.5 % of a scoop. A
	 * level spoon counts as exact. NaN without a tool.
	 */
	double off;
	size_t scoops;
	double scoop; /* g in one */
	double rest;  /* g on the scale, beside the scoops */
	/* the scale can tell that so many scoops weigh what they should; 0: it
	   is too coarse, or there is none */
	size_t scoops_checked;
	size_t spoon[SPOON_KINDS_MOST]; /* of the bench's largest */
};

/* `scoop`: g in one level scoop; 0: none. */
struct measured measure_mass(
    const struct bench *bench, double grams, double scoop);
struct measured measure_volume(const struct bench *bench, double litres);

/* A draw of a stock solution: never with a spoon. */
struct measured measure_draw(const struct bench *bench, double litres);

/*
 * "weigh 8 g", "2 level scoops of 0.8 g (1.6 g); one must weigh 0.78 g
 * to 0.82 g, else weigh it all", "2 tsp + 1/2 tsp: 0.417 fl oz (12.3 mL)",
 * "37 mL in the cylinder (1.25 fl oz)"; ", at most 4 % off" when that is
 * worth a word. Without a tool, the amount.
 */
void measured_print(struct text *text, const struct measured *measured,
    const struct bench *bench, enum unit_system units);

/* "scale", "scoop", "spoons", "cylinder", "stock-solution", "none". */
const char *tool_word(enum tool tool);

#endif
