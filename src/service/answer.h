/*
 * What an answer means: the document goes into the store, and what is known of
 * its address is brought up to date.
 */
#ifndef SERVICE_ANSWER_H
#define SERVICE_ANSWER_H

#include "service/fetch.h"
#include "service/keeper.h"
#include "weather/format.h"

struct question {
	const struct keeper *keeper;
	const struct format *format;
	const char *address;
	bool is_led; /* another document named the address */
	int64_t now;
};

/*
 * Fails on the store only. A document that cannot be read, or that leads to
 * another server or round in a circle, is not stored and counts as a failure
 * of the address.
 */
bool answer_take(const struct question *question,
    const struct fetch_reply *reply, struct error *error);

#endif
