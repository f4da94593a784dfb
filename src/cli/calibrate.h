/* The parts of `lull calibrate`, and what they share. */
#ifndef CLI_CALIBRATE_H
#define CLI_CALIBRATE_H

#include "cli/session.h"

/*
 * An option's quantity, NaN when it is not given; within what a person can mean
 * by one of that kind, so that a slip of a unit shows. False and the error.
 */
bool calibrate_read(struct session *session, const char *name,
    enum quantity_kind kind, double *ret);

/* The same for an option that may be given several times, in order. */
bool calibrate_read_all(struct session *session, const char *name,
    enum quantity_kind kind, double ret[ARGUMENTS_MAX], size_t *ret_count);

/* As the keeper reads it and as the trade speaks: "1 gal/1000 ft2 (43.6
   gal/acre, 407 L/ha)". Returns buffer; CALIBRATE_BUFFER bytes are enough. */
char *calibrate_print(
    char *buffer, size_t size, double carrier, enum unit_system units);

/* {"gallons-per-acre": G, "litres-per-ha": L} */
cJSON *calibrate_json(double carrier);

/* "Walk 1.2 mph: 100 ft in 56.8 s", a whole line. */
void calibrate_add_speed(struct session *session, double speed);

/* "One tank of 4 gal covers 4,000 ft2, at 400 ft2/min", a whole line; the pace
   may be NaN. */
void calibrate_add_reach(struct session *session, const struct sprayer *sprayer,
    double carrier, double pace);

/* A catch on a course or on a free area; how to do it, without a catch. The
   sprayer is the one in use before, with its last calibration. */
int calibrate_catch(struct session *session, const struct sprayer *sprayer);

/* Catches of --nozzle, held against each other and against --rated. */
int calibrate_nozzles(struct session *session, const struct sprayer *sprayer);

/* The fourth of --flow, --width, --speed and --carrier. */
int calibrate_sum(struct session *session, const struct sprayer *sprayer);

enum { CALIBRATE_BUFFER = 2 * QUANTITY_BUFFER + 48 };

#endif
