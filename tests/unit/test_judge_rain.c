/* More rain in a forecast never makes a rule about rain kinder. */
#include "unit/derive_fixture.h"

#include "advice/reason.h"
#include "unit/judge_order.h"

enum { FORECASTS = 300 };

/* Blocks of 1 to 12 hours, amounts and chances around what makes them wet. */
static void
draw_rain(struct series *series, uint64_t *seed)
{
	static const float amounts[] = { 0, 0, 0, 0.2F, 0.25F, 3, NAN };
	static const float chances[] = { 0, 5, 10, 29, 30, 90, NAN };
	static const int hours[] = { 1, 1, 3, 6, 12 };
	float *amount = series_column(series, MEASURE_RAIN_BLOCK);
	float *chance = series_column(series, MEASURE_RAIN_CHANCE);
	for (size_t i = 0; i < series->count;) {
		size_t end = i + (size_t)hours[draw_from(seed, 0, 4)] * 4;
		float a = amounts[draw_from(seed, 0, 6)];
		float c = chances[draw_from(seed, 0, 6)];
		for (; i < end && i < series->count; i++) {
			amount[i] = a;
			chance[i] = c;
		}
	}
}

/* More in some cells; or the blocks reach on over the cells behind them, which
   keep what is more. What was not known stays so. */
static void
make_wetter(const struct series *dry, struct series *wet, enum measure measure,
    uint64_t *seed)
{
	const float *from = dry->column[measure];
	float *to = series_column(wet, measure);
	int reach = draw_from(seed, 0, 40);
	float more = (float)draw_from(seed, 0, 20) / 10;
	for (size_t i = 0; i < dry->count; i++) {
		float most = from[i];
		for (size_t k = 1; k <= (size_t)reach && k <= i; k++)
			if (from[i - k] > most)
				most = from[i - k];
		to[i] = draw_once_in(seed, 3) ? most + more : most;
	}
}

static void
wet_rules(struct check checks[3], const struct series *series, uint64_t *seed)
{
	int span = draw_from(seed, 1, 24 * HOUR);
	const struct exposure exposures[3] = { after_end(span),
		before_start(span), that_day };
	for (size_t r = 0; r < 3; r++)
		checks[r] =
		    check_of(series, rule_of(MEASURE_WET, FOLD_ANY,
					 exposures[r], BOUND_AT_MOST, 0));
}

/* The same rules over a drier and a wetter forecast. */
struct rain {
	struct series series;
	struct outlook outlook;
	struct check check[3];
	struct verdicts verdicts;
};

static void
judge_rain(
    struct rain *rain, const struct site *site, int64_t duration, uint64_t seed)
{
	derive(&rain->series, site, NULL);
	outlook_init(&rain->outlook, &rain->series, &site->zone);
	wet_rules(rain->check, &rain->series, &seed);
	judge(&rain->outlook, rain->check, 3, duration, &rain->verdicts);
}

static void
release_rain(struct rain *rain)
{
	verdicts_release(&rain->verdicts);
	outlook_release(&rain->outlook);
	series_release(&rain->series);
}

/* How long it stays dry beyond what the first rule asks. */
static double
dry_margin(const struct rain *rain, int64_t duration, size_t start)
{
	struct reason reason;
	reason_make(&rain->outlook, &rain->check[0], duration, start, &reason);
	return reason.margin;
}

static void
check_wetter(const struct rain *dry, const struct rain *wet, int64_t duration)
{
	check_no_start_gained(&wet->verdicts, &dry->verdicts);
	check_broken_stays(&dry->verdicts, &wet->verdicts, 3);
	for (size_t i = 0; i < dry->verdicts.count; i++) {
		double drier = dry_margin(dry, duration, i);
		double wetter = dry_margin(wet, duration, i);
		assert_false(wetter > drier);
	}
}

static void
a_wetter_forecast_never_shortens_a_hold_for_rain(void **state)
{
	(void)state;
	uint64_t seed = 26;
	struct site site = plain_site();
	for (int n = 0; n < rounds(FORECASTS); n++) {
		struct rain dry = { 0 }, wet = { 0 };
		int64_t start = local_2026(3, 6, draw_from(&seed, 0, 23), 0);
		int64_t duration = minutes(draw_from(&seed, 5, 180));
		series_init(&dry.series, start, start + 3 * DAY);
		series_init(&wet.series, start, start + 3 * DAY);
		draw_rain(&dry.series, &seed);
		make_wetter(
		    &dry.series, &wet.series, MEASURE_RAIN_BLOCK, &seed);
		make_wetter(
		    &dry.series, &wet.series, MEASURE_RAIN_CHANCE, &seed);
		judge_rain(&dry, &site, duration, (uint64_t)n);
		judge_rain(&wet, &site, duration, (uint64_t)n);
		check_wetter(&dry, &wet, duration);
		release_rain(&dry);
		release_rain(&wet);
	}
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(
		    a_wetter_forecast_never_shortens_a_hold_for_rain),
	};
	return RUN_TESTS(tests);
}
