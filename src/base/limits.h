/*
 * A ceiling for everything that a stranger, a file or a person can send. One
 * list, so that nothing is unbounded and each bound can be found.
 */
#ifndef BASE_LIMITS_H
#define BASE_LIMITS_H

enum {
	LIMIT_FORECAST_BYTES = 8 * 1024 * 1024, /* a grid is about 300 kB */
	LIMIT_HEADER_BYTES = 64 * 1024, /* reply headers that are kept */
	LIMIT_VALIDATOR_BYTES = 256,    /* an ETag or Last-Modified */
	LIMIT_FORECAST_DAYS = 17,       /* span of one document */
	LIMIT_LAYER_VALUES = 20000,     /* intervals in one layer */
	LIMIT_CONFIG_BYTES = 4 * 1024 * 1024,
	LIMIT_CONFIG_ERRORS = 20, /* messages of one reading */
	LIMIT_NAME_BYTES = 64,    /* a site, product or sprayer name */
	LIMIT_TEXT_BYTES = 1000,  /* a note, a wording, a title */
	LIMIT_TANK_PRODUCTS = 8,  /* products in one tank mix */
	LIMIT_CARD_RULES = 60,    /* rules that one card expands to */
	LIMIT_RULES = 512,        /* rules that one job is judged by */
	LIMIT_CALENDAR_BYTES = 64 * 1024 * 1024,
	LIMIT_OUTPUT_BYTES = 64 * 1024 * 1024, /* one screen, page or JSON */
	LIMIT_REDIRECTS = 3,
	LIMIT_FETCH_SECONDS = 60, /* one whole transfer */
	LIMIT_CONNECT_SECONDS = 15,
	LIMIT_STALL_SECONDS = 20, /* a transfer that stands still */
};

#endif
