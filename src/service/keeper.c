#include "service/keeper.h"

#include "base/file.h"
#include "base/memory.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#ifndef SYSCONFDIR
#define SYSCONFDIR "/etc"
#endif
#ifndef LOCALSTATEDIR
#define LOCALSTATEDIR "/var"
#endif

static char *
join(const char *a, const char *b, const char *c)
{
	size_t size = strlen(a) + strlen(b) + strlen(c) + 1;
	char *path = memory_array(size, 1);
	(void)snprintf(path, size, "%s%s%s", a, b, c);
	return path;
}

/* $variable/lull/..., else $HOME/fallback/lull/...; NULL without either. */
static char *
user_path(const char *variable, const char *fallback, const char *name)
{
	const char *base = getenv(variable);
	if (base != NULL && base[0] == '/')
		return join(base, "/lull", name);
	const char *home = getenv("HOME");
	if (home == NULL || home[0] != '/')
		return NULL;
	char *folder = join(home, fallback, "/lull");
	char *path = join(folder, name, "");
	free(folder);
	return path;
}

/* The user's configuration when there is one, else the system's. */
static void
find_places(struct keeper *keeper, const char *config_path, const char *state)
{
	char *own = user_path("XDG_CONFIG_HOME", "/.config", "/lull.conf");
	bool is_own =
	    config_path == NULL && own != NULL && access(own, R_OK) == 0;
	keeper->config_path = config_path != NULL ? memory_string(config_path)
			      : is_own
				  ? memory_string(own)
				  : memory_string(SYSCONFDIR "/lull/lull.conf");
	free(own);
	if (state != NULL)
		keeper->state = memory_string(state);
	else if (is_own)
		keeper->state =
		    user_path("XDG_STATE_HOME", "/.local/state", "");
	if (keeper->state == NULL)
		keeper->state = memory_string(LOCALSTATEDIR "/lib/lull");
}

bool
keeper_init(struct keeper *keeper, const char *config_path, const char *state,
    struct clock clock, struct text *complaints)
{
	*keeper = (struct keeper){ .clock = clock };
	find_places(keeper, config_path, state);
	return config_read(keeper->config_path, &keeper->config, complaints);
}

bool
keeper_open_store(struct keeper *keeper, struct error *error)
{
	if (!file_make_folder(keeper->state, error))
		return false;
	char *path = keeper_path(keeper, "lull.db");
	keeper->store = store_open(path, error);
	free(path);
	return keeper->store != NULL;
}

bool
keeper_reload(struct keeper *keeper, struct text *complaints)
{
	struct config fresh;
	if (!config_read(keeper->config_path, &fresh, complaints))
		return false;
	config_release(&keeper->config);
	keeper->config = fresh;
	return true;
}

void
keeper_release(struct keeper *keeper)
{
	store_close(keeper->store);
	config_release(&keeper->config);
	free(keeper->config_path);
	free(keeper->state);
	*keeper = (struct keeper){ 0 };
}

char *
keeper_path(const struct keeper *keeper, const char *name)
{
	return join(keeper->state, "/", name);
}
