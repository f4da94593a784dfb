#include "advice/water.h"

#include "turf/follow.h"

#include <math.h>

enum { TASK_DAYS_BEFORE = 2 };

/* %: less than an even chance is not counted on. */
static const double likely = 50;

/* A double sum of amounts that a label and a source rounded apart. */
static const double tolerance = 1e-4;

/* One civil day, or what of it lies in [opens, closes). */
struct piece {
	int64_t day, from, to;
	bool whole;
};

/* The least and the most that came: apart where something is not known. */
struct share {
	double least, most;
};

/* What the keeper said of the rain of a day. */
struct telling {
	bool any, whole_day;
	double amount;
	int64_t until; /* it says nothing of the time after */
};

static void
set_span(const struct water_facts *facts, struct water_ledger *ledger)
{
	const struct zone *zone = facts->zone;
	water_span(facts->water, zone, facts->applied, &ledger->opens,
	    &ledger->closes);
	int64_t first_day = civil_day(zone, ledger->opens);
	ledger->over = facts->now >= ledger->closes;
	ledger->last_day = civil_day(zone, ledger->closes - 1);
	ledger->task_day = ledger->last_day - TASK_DAYS_BEFORE;
	if (ledger->task_day < first_day)
		ledger->task_day = first_day;
	if (ledger->task_day > ledger->last_day)
		ledger->task_day = ledger->last_day;
}

static struct piece
piece_of(
    const struct water_ledger *ledger, const struct zone *zone, int64_t day)
{
	int64_t from = civil_day_start(zone, day);
	int64_t to = civil_day_start(zone, day + 1);
	struct piece piece = { .day = day, .from = from, .to = to };
	if (piece.from < ledger->opens)
		piece.from = ledger->opens;
	if (piece.to > ledger->closes)
		piece.to = ledger->closes;
	piece.whole = piece.from == from && piece.to == to;
	return piece;
}

/* Its rain over [from, to), of the steps that are known; *ret_known is false
   when some are not. */
static double
sum_rain(const struct series *series, int64_t from, int64_t to,
    double least_chance, bool *ret_known)
{
	double sum = 0;
	*ret_known = true;
	for (int64_t time = from - from % SERIES_STEP; time < to;
	     time += SERIES_STEP) {
		int64_t first = time < from ? from : time;
		int64_t last =
		    time + SERIES_STEP < to ? time + SERIES_STEP : to;
		double rain = (double)series_at(series, MEASURE_RAIN, time);
		double chance =
		    (double)series_at(series, MEASURE_RAIN_CHANCE, time);
		if (isnan(rain))
			*ret_known = false;
		else if (!(chance < least_chance))
			sum += rain * (double)(last - first) / SERIES_STEP;
	}
	return sum;
}

static double
rain_of_day(const struct water_facts *facts, int64_t day)
{
	const struct daily *daily =
	    daily_find(facts->site->days, facts->site->day_count, day);
	return daily == NULL ? (double)NAN : daily->rain;
}

/* What was observed of a piece that is over. */
static struct share
observe(const struct water_facts *facts, const struct piece *piece)
{
	double total = rain_of_day(facts, piece->day);
	if (piece->whole && !isnan(total))
		return (struct share){ total, total };
	bool known;
	double sum = sum_rain(facts->series, piece->from, piece->to, 0, &known);
	if (!known && facts->hours != NULL)
		sum = sum_rain(facts->hours, piece->from, piece->to, 0, &known);
	if (known)
		return (struct share){ sum, sum };
	double most = isnan(total) ? (double)INFINITY : total;
	return (struct share){ sum < most ? sum : most, most };
}

/* Said of what is over or has begun; a plan, and a later day, is not. */
static bool
has_happened(const struct turf_event *event, int64_t now)
{
	return event->from <= now && event->told >= event->from;
}

static bool
is_whole_day(const struct turf_event *event)
{
	return event->to > event->from;
}

/* The last telling of a whole day rules; else its moments add up. */
static struct telling
find_telling(const struct water_facts *facts, const struct piece *piece)
{
	struct telling telling = { .any = false };
	for (size_t i = 0; i < facts->site->event_count; i++) {
		const struct turf_event *event = &facts->site->event[i];
		bool whole_day = is_whole_day(event);
		bool meant =
		    whole_day
			? civil_day(facts->zone, event->from) == piece->day
			: event->from >= piece->from && event->from < piece->to;
		if (event->kind != EVENT_RAIN || !meant ||
		    !has_happened(event, facts->now) || isnan(event->amount))
			continue;
		if (whole_day &&
		    (!telling.whole_day || event->told >= telling.until))
			telling = (struct telling){ true, true, event->amount,
				event->told };
		else if (!whole_day && !telling.whole_day)
			telling = (struct telling){ true, false,
				telling.amount + event->amount, event->from };
	}
	return telling;
}

static struct share
share_told(const struct telling *telling, const struct piece *piece)
{
	bool placed = piece->whole || !telling->whole_day;
	return (struct share){ placed ? telling->amount : 0, telling->amount };
}

/* The rain of a piece that is over. */
static struct share
settle(const struct water_facts *facts, const struct piece *piece)
{
	struct telling telling = find_telling(facts, piece);
	if (!telling.any)
		return observe(facts, piece);
	struct share told = share_told(&telling, piece);
	if (telling.until >= piece->to)
		return told;
	struct share observed = observe(facts, piece);
	if (observed.most > told.most)
		told.most = observed.most;
	return told;
}

/* Irrigation that was done: on the piece, or on a part of it only perhaps. */
static struct share
irrigate(const struct water_facts *facts, const struct piece *piece)
{
	struct share sum = { 0, 0 };
	for (size_t i = 0; i < facts->site->event_count; i++) {
		const struct turf_event *event = &facts->site->event[i];
		bool touches =
		    event->from < piece->to &&
		    (event->to > piece->from || event->from >= piece->from);
		if (event->kind != EVENT_IRRIGATION || !touches ||
		    !has_happened(event, facts->now))
			continue;
		bool inside =
		    event->from >= piece->from && event->to <= piece->to;
		double known = isnan(event->amount) ? 0 : event->amount;
		sum.least += inside ? known : 0;
		sum.most += isnan(event->amount) ? (double)INFINITY : known;
	}
	return sum;
}

/* The rain of today or of a day to come: that of the hours after the keeper's
   telling is expected. */
static struct share
expect(const struct water_facts *facts, const struct piece *piece,
    struct water_ledger *ledger)
{
	struct telling telling = find_telling(facts, piece);
	struct share told = { 0, 0 };
	int64_t from = piece->from;
	bool known;
	if (telling.any) {
		told = share_told(&telling, piece);
		from = telling.until > from ? telling.until : from;
	}
	ledger->expected +=
	    sum_rain(facts->series, from, piece->to, likely, &known);
	ledger->blind_count += known ? 0 : 1;
	return told;
}

static void
add_piece(const struct water_facts *facts, const struct piece *piece,
    struct water_ledger *ledger)
{
	bool past = piece->day < civil_day(facts->zone, facts->now);
	struct share rain =
	    past ? settle(facts, piece) : expect(facts, piece, ledger);
	struct share irrigation = irrigate(facts, piece);
	double gap =
	    rain.most - rain.least + irrigation.most - irrigation.least;
	ledger->rain += rain.least;
	ledger->irrigation += irrigation.least;
	ledger->perhaps += gap;
	if (gap > 0 && ledger->unknown_count++ == 0)
		ledger->unknown_day = piece->day;
}

static bool
covers(double amount, double needed)
{
	return amount >= needed * (1 - tolerance);
}

static void
decide(struct water_ledger *ledger)
{
	double received = ledger->rain + ledger->irrigation;
	double total = received + ledger->expected;
	bool blind = ledger->blind_count > 0;
	if (covers(received, ledger->needed) ||
	    (ledger->over && covers(total, ledger->needed)))
		ledger->state = WATER_SATISFIED;
	else if (covers(total, ledger->needed))
		ledger->state = WATER_EXPECTED;
	else if (blind || covers(total + ledger->perhaps, ledger->needed))
		ledger->state = WATER_UNKNOWN;
	else
		ledger->state = ledger->over ? WATER_FAILED : WATER_SHORT;
	if (!covers(total, ledger->needed))
		ledger->missing = ledger->needed - total;
}

void
water_account(const struct water_facts *facts, struct water_ledger *ret)
{
	struct water_ledger ledger = { .needed = facts->water->amount };
	set_span(facts, &ledger);
	int64_t day = civil_day(facts->zone, ledger.opens);
	bool enough = false;
	for (; ledger.opens < ledger.closes && day <= ledger.last_day; day++) {
		struct piece piece = piece_of(&ledger, facts->zone, day);
		add_piece(facts, &piece, &ledger);
		double total =
		    ledger.rain + ledger.irrigation + ledger.expected;
		if (enough || !covers(total, ledger.needed))
			continue;
		enough = true;
		ledger.day = day;
	}
	decide(&ledger);
	*ret = ledger;
}

static bool
wants_hours(const struct water_facts *facts, const struct piece *piece)
{
	bool known;
	(void)sum_rain(facts->series, piece->from, piece->to, 0, &known);
	struct telling telling = find_telling(facts, piece);
	double total = rain_of_day(facts, piece->day);
	return !piece->whole && !known && !telling.any && !(total <= 0);
}

bool
water_hours(const struct water_facts *facts, int64_t *ret_from, int64_t *ret_to)
{
	struct water_ledger ledger = { .over = false };
	set_span(facts, &ledger);
	int64_t today = civil_day(facts->zone, facts->now);
	int64_t day = civil_day(facts->zone, ledger.opens);
	bool any = false;
	for (; ledger.opens < ledger.closes && day <= ledger.last_day &&
	       day < today;
	     day++) {
		struct piece piece = piece_of(&ledger, facts->zone, day);
		if (!wants_hours(facts, &piece))
			continue;
		*ret_from = any ? *ret_from : piece.from;
		*ret_to = piece.to;
		any = true;
	}
	return any;
}

bool
water_is_due(const struct water_ledger *ledger, int64_t today)
{
	if (ledger->state == WATER_SATISFIED || ledger->state == WATER_EXPECTED)
		return false;
	return today >= ledger->task_day - 1 &&
	       today <= ledger->last_day + WATER_SHOWN_DAYS;
}
