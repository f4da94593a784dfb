/* The one clock. A fixed clock serves demonstrations and tests (--now). */
#ifndef BASE_CLOCK_H
#define BASE_CLOCK_H

#include <stdbool.h>
#include <stdint.h>

struct clock {
	bool fixed;
	int64_t at; /* UTC seconds; the answer while `fixed` */
};

int64_t clock_now(const struct clock *clock);

#endif
