/*
 * A forecast on a uniform time step: struct of arrays. Cell i of a column is
 * the half-open span [start + i*step, start + (i+1)*step). NaN is "not known";
 * nothing else is.
 */
#ifndef WEATHER_SERIES_H
#define WEATHER_SERIES_H

#include "base/error.h"
#include "weather/measure.h"

#include <stddef.h>
#include <stdint.h>

enum { SERIES_STEP = 900 }; /* seconds */

struct series {
	int64_t start;  /* UTC, a multiple of SERIES_STEP */
	size_t count;   /* cells in each column */
	int64_t issued; /* when the service made the forecast, UTC; 0 unknown */
	size_t rejected;           /* values thrown out as implausible */
	float *column[MEASURES];   /* owned; NULL when no cell is known */
	bool continuous[MEASURES]; /* the value runs from cell to cell (instants
				      interpolated), else it is held */
};

/*
 * Cells that cover [from, to); all columns absent. `from` is rounded down and
 * `to` up to a step. The series must be zeroed or released before.
 */
void series_init(struct series *series, int64_t from, int64_t to);
void series_release(struct series *series); /* also of a zeroed one, or NULL */

int64_t series_time(const struct series *series, size_t cell);
int64_t series_end(const struct series *series);

/* The column, made with all cells NaN when absent. */
float *series_column(struct series *series, enum measure measure);

/* The value of the cell that holds `time`; NaN outside and when absent. */
float series_at(
    const struct series *series, enum measure measure, int64_t time);

/*
 * Holds `value` over every cell that [from, to) touches; a value that is
 * implausible for the measure is counted in `rejected` and left NaN. Cells
 * outside the series are ignored.
 */
void series_hold(struct series *series, enum measure measure, int64_t from,
    int64_t to, double value);

/*
 * Shares an amount out over [from, to): each cell gets the part of its overlap.
 * Cells that were NaN start from 0.
 */
void series_share(struct series *series, enum measure measure, int64_t from,
    int64_t to, double amount);

/*
 * The value `part` (0 to 1) of the way between two instants. `around`: they are
 * degrees of a circle, and the shorter way round counts; half a turn has none
 * and gives NaN.
 */
double series_between(bool around, double from, double to, double part);

/*
 * Copies into `series` every known cell of `older` where `series` has none, for
 * the cells before `before` only: how the past part of an earlier issue of the
 * same source is kept. Columns that `series` lacks stay away, since another
 * source may give them whole. The rain columns move together or not at all.
 */
void series_fill_past(
    struct series *series, const struct series *older, int64_t before);

/*
 * Copies from another source the whole columns that `series` lacks, never an
 * hour into a column that is there. Columns that mean little apart come
 * together: the rain amounts, and humidity with dew point, of which one alone
 * is enough to find the other. Sets ret[measure] for each that came.
 */
void series_fill_columns(
    struct series *series, const struct series *from, bool ret[MEASURES]);

/* Copies the cells of `from` that lie in `series`, columns and issue time. */
void series_overlay(struct series *series, const struct series *from);

#endif
