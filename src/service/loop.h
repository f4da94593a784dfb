/* The daemon: passes when something is due, and sleeps in between. */
#ifndef SERVICE_LOOP_H
#define SERVICE_LOOP_H

#include "service/keeper.h"

/* A fetcher that says who we are, with the keeper's contact; NULL on error. */
struct fetcher *loop_open_fetcher(
    const struct keeper *keeper, struct text *user_agent, struct error *error);

/*
 * Runs until SIGTERM or SIGINT. SIGHUP reads the configuration again and makes
 * a pass. Messages go to standard error, one line each. Returns an exit code.
 */
int loop_run(struct keeper *keeper);

/* One pass with fetching; returns an exit code. */
int loop_once(struct keeper *keeper);

/*
 * Takes the lock that only one daemon may hold in a state folder; -1 and the
 * sentence when another one runs.
 */
int loop_lock(const struct keeper *keeper, struct error *error);

#endif
