#include "service/polling.h"

#include "base/civil.h"

enum {
	FRESH_UNSAID = 3600, /* when a service does not say how long */
	FRESH_MOST = 6 * 3600,
	LINK_UNSAID = DAY_SECONDS,
	LINK_MOST = 7 * DAY_SECONDS, /* cells are renumbered at times */
	REFUSED_WAIT = 3600,
	WRONG_WAIT = 6 * 3600,
	WAIT_MOST = DAY_SECONDS, /* whatever a server wishes */
	JITTER_MOST = 30,        /* s; no two programs ask in step */
	BUSY_MINUTE = 60,        /* the first of each hour */
	BUSY_FROM = 600,         /* a shorter wait is meant as it is */
};

int64_t
polling_backoff(int failures)
{
	static const int64_t wait[] = { 10, 60, 600, 1800 };
	int last = (int)(sizeof wait / sizeof wait[0]) - 1;
	int step = failures < 1 ? 0 : failures - 1 > last ? last : failures - 1;
	return wait[step];
}

bool
polling_is_due(int64_t due, int64_t now)
{
	return due <= now || due > now + LINK_MOST + BUSY_MINUTE;
}

/* A few seconds that differ from address to address, but not from run to run.
 */
static int64_t
jitter(const char *address)
{
	uint32_t hash = 2166136261U;
	for (const char *c = address; *c != '\0'; c++)
		hash = (hash ^ (unsigned char)*c) * 16777619U;
	return hash % JITTER_MOST;
}

static int64_t
next_within(int64_t wait, int64_t least, int64_t most, int64_t now)
{
	wait = wait > most ? most : wait;
	wait = wait < least ? least : wait;
	int64_t due = now + wait;
	if (wait >= BUSY_FROM && due % 3600 < BUSY_MINUTE)
		due += BUSY_MINUTE - due % 3600;
	return due;
}

int64_t
polling_next(const struct fetch_reply *reply, int64_t minimum, int64_t now)
{
	int64_t wait =
	    reply->expires != 0 ? reply->expires - now : FRESH_UNSAID;
	return next_within(wait, minimum, FRESH_MOST, now);
}

int64_t
polling_next_link(const struct fetch_reply *reply, int64_t minimum, int64_t now)
{
	int64_t wait = reply->expires != 0 ? reply->expires - now : LINK_UNSAID;
	return next_within(wait, minimum, LINK_MOST, now);
}

int64_t
polling_after_failure(const struct fetch_reply *reply, int failures,
    const char *address, int64_t now)
{
	int64_t wait = reply->class == FETCH_REFUSED ? REFUSED_WAIT
		       : reply->class == FETCH_WRONG
			   ? WRONG_WAIT
			   : polling_backoff(failures);
	wait = reply->retry_after > wait ? reply->retry_after : wait;
	wait = wait > WAIT_MOST ? WAIT_MOST : wait;
	return now + wait + jitter(address);
}
