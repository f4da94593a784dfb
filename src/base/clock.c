#include "base/clock.h"

#include <time.h>

int64_t
clock_now(const struct clock *clock)
{
	return clock->fixed ? clock->at : (int64_t)time(NULL);
}
