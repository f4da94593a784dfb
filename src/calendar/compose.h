/*
 * What the calendar says: entries composed from judgements, slots and records.
 * Every text names its state first, gives reasons, and ends with the usual
 * cautions. Pure; the same facts give the same entry.
 */
#ifndef CALENDAR_COMPOSE_H
#define CALENDAR_COMPOSE_H

#include "advice/outcome.h"
#include "advice/plan.h"
#include "advice/water.h"
#include "base/text.h"
#include "calendar/entry.h"
#include "turf/conflicts.h"
#include "turf/follow.h"
#include "turf/sheet.h"

/* An entry together with the strings that it borrows; it points into itself, so
   it must not be copied or moved. */
struct composed {
	struct entry entry;
	char uid[96];
	struct text summary, description; /* owned */
	char alarm_text[ENTRY_ALARMS_MAX][120];
};

struct compose_style {
	enum unit_system units;
	int evening_alarm; /* seconds after local midnight */
	double keep_off;   /* s, when no card says more */
};

struct compose_slot {
	struct slot slot;
	int64_t planned; /* when it was chosen: no alarm before that */
	enum verdict verdict;
	size_t start;                   /* the cell that answers for it */
	const struct window *window;    /* NULL when it is not in one */
	const char *trouble;            /* why nothing is known; "" */
	const char *credit;             /* attribution of the forecast; "" */
	const struct conflict *caution; /* what speaks against the tank */
	size_t caution_count;
	/* for the mix sheet; its moment is the slot's. NULL: nothing is known
	   beside the job */
	const struct sheet_facts *sheet;
};

void composed_release(struct composed *composed);

/* "GO: front, post-a + dye": the slot itself. */
void compose_slot(const struct judgement *judgement,
    const struct compose_slot *facts, const struct compose_style *style,
    struct composed *ret);

/* People and pets stay off from `from` on. `name` says what was sprayed. */
void compose_keep_off(const char *uid, const struct site *site,
    const char *name, int64_t from, double span, struct composed *ret);

struct compose_none {
	enum plan_outcome outcome; /* NO_WINDOW or TAKEN */
	const char *trouble;       /* the site has no usable forecast; "" */
	const char *credit;
};

/* An all-day entry today: why the job has no slot. */
void compose_none(const struct judgement *judgement,
    const struct compose_none *facts, const struct compose_style *style,
    struct composed *ret);

/* An all-day entry today: no start can ever be right, and why. */
void compose_refused(
    const struct job *job, int64_t now, const char *why, struct composed *ret);

struct compose_water {
	const char *uid; /* of the record */
	size_t place;    /* of the product in its tank */
	const struct site *site;
	const struct product *product;
	int64_t applied;                   /* when the application ended, UTC */
	const struct water_ledger *ledger; /* SHORT, FAILED or UNKNOWN */
	const char *credit;
};

/*
 * "IRRIGATE: front, pre-a: 0.3 in by Tue 24 Mar": an all-day entry from the
 * task's day to the last one on which the water counts, with an alarm on the
 * evening before; once that is over, what is missing, on the day after. Amounts
 * are rounded as they are printed, so that nothing changes without showing.
 */
void compose_irrigate(const struct compose_water *facts,
    const struct compose_style *style, struct composed *ret);

struct compose_follow {
	const char *uid; /* of the record */
	const struct site *site;
	const char *name;  /* what was sprayed, as tank_print says it */
	const char *weeds; /* against what; "" */
	int64_t from;      /* when it began, UTC */
	const struct follow *follow; /* MOWING, LOOK or AGAIN */
	bool is_last; /* of AGAIN with an end: its last day, not its first */
	size_t place; /* of the product in its tank */
};

/*
 * "MOW AGAIN: front, from 09:05", "LOOK: front, su-b: its effect shows now",
 * "SECOND APPLICATION: front, su-b: from today to Tue 23 Jun": an all-day entry
 * on the day that it is about.
 */
void compose_follow(const struct compose_follow *facts,
    const struct compose_style *style, struct composed *ret);

struct compose_solution {
	int64_t id;
	const struct zone *zone; /* the keeper's */
	const char *product;
	int64_t made, until; /* UTC; `until` is when it goes */
};

/* "DISCARD: stock solution of su-a": an all-day entry on its last day. */
void compose_solution(const struct compose_solution *facts,
    const struct compose_style *style, struct composed *ret);

/* What is in the package and will expire, or has lately: from 30 days before
   its last good day until 7 days after. */
bool compose_stock_is_due(const struct shelf_item *item, int64_t today);

/*
 * "EXPIRES: su-a-2026 (su-a), 1.1 oz left": an all-day entry on the package's
 * last good day, which has to be told.
 */
void compose_stock(const struct shelf_item *item,
    const struct compose_style *style, struct composed *ret);

/* A message with an alarm. */
void compose_notice(const char *uid, int64_t at, const char *title,
    const char *message, const struct site *site, struct composed *ret);

#endif
