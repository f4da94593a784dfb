/* What every command and every pass works with. */
#ifndef SERVICE_KEEPER_H
#define SERVICE_KEEPER_H

#include "base/clock.h"
#include "config/config.h"
#include "store/store.h"

struct keeper {
	struct config config; /* owned */
	struct store *store;  /* owned; NULL until opened */
	char *config_path;    /* owned */
	char *state;          /* owned: the state folder */
	struct clock clock;
};

/*
 * Finds configuration and state folder (either may be NULL: then that of the
 * user if it is there, else the system's) and reads the configuration.
 * Complaints, one a line, go to `complaints`. keeper_release in either case.
 */
bool keeper_init(struct keeper *keeper, const char *config_path,
    const char *state, struct clock clock, struct text *complaints);

/* Creates the state folder if need be and opens the store in it. */
bool keeper_open_store(struct keeper *keeper, struct error *error);

/*
 * Reads the configuration again; on a fault the old one stays in force. Jobs
 * and boards made before must be gone: they borrow from it.
 */
bool keeper_reload(struct keeper *keeper, struct text *complaints);
void keeper_release(struct keeper *keeper);

/* A path in the state folder; free it. */
char *keeper_path(const struct keeper *keeper, const char *name);

#endif
