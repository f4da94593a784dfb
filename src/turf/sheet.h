/*
 * The sheet that the keeper takes to the bench: what to measure out with which
 * tool, in which order it goes into each tank, and what is left of it. A plain
 * struct, and one printer for `lull mix` and the calendar.
 */
#ifndef TURF_SHEET_H
#define TURF_SHEET_H

#include "base/text.h"
#include "turf/conflicts.h"
#include "turf/measure_out.h"
#include "turf/mix.h"
#include "turf/stock_solution.h"

/* What the shelf has of one product. */
struct sheet_stock {
	bool on_file;
	double on_hand;    /* g or L; NaN: unknown */
	double left_after; /* of it, when the job is done; NaN */
	double cost;       /* of the job; NaN: no price */
};

/* A stock solution that was made. */
struct sheet_solution {
	const char *product;
	int64_t made, until; /* UTC; it keeps before `until` */
	double strength;     /* g/L */
	double left;         /* g that it still holds; NaN: not known */
};

/* What is known beside the job; NULL and 0 are allowed everywhere. */
struct sheet_facts {
	const struct bench *bench;
	int64_t at; /* when it is mixed, UTC */
	bool even;  /* split evenly */
	/* one for each dose of the tank, in its order */
	const struct sheet_stock *stock;
	const struct sheet_solution *solution;
	size_t solution_count;
	const struct application *application;
	size_t application_count;
	const struct conflict *caution;
	size_t caution_count;
	const char *currency;
};

/* One product, in the order in which they go in. */
struct sheet_line {
	const struct product *product;
	size_t place; /* in the job's tank */
	enum mix_step step;
	bool is_granule; /* spread dry: not for this sprayer */
	bool is_mass;
	double total;               /* g or L in all tanks */
	struct measured each, last; /* of mix.each and mix.last */
	/* Out of a stock solution, since a tank's dose is too little for the
	   scale: how to make one, the one that is there, keeps and holds enough
	   (NULL: none), and what to draw of that, else of the new one. */
	bool is_drawn;
	struct stock_solution make;
	const struct sheet_solution *made;
	struct measured draw_each, draw_last;
	double in_mix; /* g or L in 1 L of mix; of the solution when drawn: L */
	struct sheet_stock stock;
};

struct sheet_pair {
	const struct product *a, *b;
};

enum sheet_calibration {
	CALIBRATION_GOOD,
	CALIBRATION_STALE,
	CALIBRATION_NEVER
};

enum {
	SHEET_PAIRS = LIMIT_TANK_PRODUCTS * (LIMIT_TANK_PRODUCTS - 1) / 2,
	SHEET_COLUMNS = 80,
};

struct sheet {
	const struct job *job; /* borrowed, as all of the facts are */
	struct sheet_facts facts;
	struct bench bench;
	struct mix mix;
	struct sheet_line line[LIMIT_TANK_PRODUCTS]; /* as they go in */
	size_t line_count;
	double first_fill; /* the part of a tank's water that comes first */
	enum sheet_calibration calibration;
	/* that were never in one tank, as far as the records go */
	struct sheet_pair pair[SHEET_PAIRS];
	size_t pair_count;
	bool sprays; /* something goes into the tank: not granules alone */
	bool foams;  /* a surfactant or another adjuvant is in it */
	bool dyes;
	double cost; /* of all products; NaN when one has no price */
};

/* ERROR_INPUT when a product has no rate. The job and the facts must live as
   long as the sheet. */
bool sheet_make(const struct job *job, const struct sheet_facts *facts,
    struct sheet *ret, struct error *error);

/* g or L that leave the package: the total; or what a solution that has to be
   made takes; or nothing, when it was made before. */
double sheet_line_taken(const struct sheet_line *line);

/* The volume of a jar test: a pint, or 500 mL. L. */
double sheet_jar(enum unit_system units);

/* The whole sheet, in at most SHEET_COLUMNS columns unless a name or a word of
   a card is longer. */
void sheet_print(
    struct text *text, const struct sheet *sheet, enum unit_system units);

/* The solutions to make and the tanks, as they stand in the whole sheet. */
void sheet_print_tanks(
    struct text *text, const struct sheet *sheet, enum unit_system units);

#endif
