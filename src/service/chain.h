/*
 * The forecast of one site out of its chain of sources: the first one that is
 * fresh answers, and those after it fill whole columns that it lacks.
 */
#ifndef SERVICE_CHAIN_H
#define SERVICE_CHAIN_H

#include "service/keeper.h"
#include "weather/format.h"

enum { CHAIN_TROUBLE = 400, CHAIN_CREDIT = 400, CHAIN_NOBODY = 255 };

struct chain_link {
	const struct forecast_source *source; /* borrowed */
	const struct format *format;
	int64_t fetched;         /* when its newest document came; 0: never */
	int64_t issued;          /* of that document; 0: none could be read */
	bool used;               /* it answers, or a column came from it */
	char trouble[240];       /* why it cannot be used; "" */
	char fetch_trouble[240]; /* why the last fetch failed, though an older
				    document is in use; "" */
};

struct chain {
	struct chain_link *link; /* owned, in the order of the site's sources */
	size_t count;
	size_t answers; /* the link that answers; `count` when none does */
	uint8_t origin[MEASURES]; /* the link a column came from; CHAIN_NOBODY
				     for one that is absent or derived */
	char trouble[CHAIN_TROUBLE]; /* why there is no usable forecast; "" */
	char fetch_trouble[CHAIN_TROUBLE]; /* what is wrong though there is */
	char credit[CHAIN_CREDIT];         /* attribution lines of those used */
};

/*
 * Fills the series, which the caller has made with its span, from what was
 * fetched by `now`. All unknown when no source is usable. series->issued is
 * that of the link that answers, or the newest when none is fresh.
 */
bool chain_load(struct chain *chain, const struct site *site,
    const struct keeper *keeper, int64_t now, struct series *series,
    struct error *error);
void chain_release(struct chain *chain);

/* The link that answers, else the first. */
const struct chain_link *chain_leader(const struct chain *chain);

/* "nws-grid, issued Tue 3 Mar 06:41 (2 h ago)"; never longer than 200. */
char *chain_print_link(char *buffer, size_t size, const struct chain_link *link,
    const struct zone *zone, int64_t now);

#endif
