/* The soil temperature, corrected by the keeper's thermometer. */
#include "unit/test.h"

#include "unit/ground.h"

struct probe {
	int day[3]; /* of the reading, before the series; -1: none */
	double read[3];
	double bias;
};

/*
 * The source says 12 on each of the 70 days before, but nothing 5 days before.
 * A later reading moves the bias half way to itself (physics/soil.h).
 */
static const struct probe probes[] = {
	{ { -1 }, { 0 }, 0 },
	{ { 10, -1 }, { 14 }, 2 },
	{ { 10, -1 }, { 9.5 }, -2.5 },
	{ { 10, 3, -1 }, { 14, 16 }, 3 },
	{ { 10, 3, 1 }, { 14, 16, 12 }, 1.5 },
	/* no value of the source to compare with */
	{ { 5, -1 }, { 14 }, 0 },
	{ { 10, 5, -1 }, { 14, 20 }, 2 },
	/* sixty days back and no farther */
	{ { 60, -1 }, { 14 }, 2 },
	{ { 61, -1 }, { 14 }, 0 },
	{ { 61, 10, -1 }, { 20, 14 }, 2 },
	/* of the series' own first day */
	{ { 0, -1 }, { 14 }, 2 },
};

static void
the_probe_corrects_a_source(void **state)
{
	(void)state;
	int64_t start = day_of(2026, 4, 20); /* the clocks have changed since */
	for (size_t i = 0; i < COUNT(probes); i++) {
		const struct probe *probe = &probes[i];
		/* the model would be there, too, and says something else */
		struct ground *ground = ramp_new(start - 70, 80, 30);
		struct soil_reading readings[3];
		size_t count = 0;
		for (size_t d = 0; d < ground->count; d++)
			ground->days[d].soil = d == 65 ? (double)NAN : 12;
		for (; count < 3 && probe->day[count] >= 0; count++)
			readings[count] = (struct soil_reading){
				civil_day_start(&ground->site.zone,
				    start - probe->day[count]),
				probe->read[count]
			};
		ground->site.soil = readings;
		ground->site.soil_count = count;
		ground_series(ground, start, start + 3);
		fill(&ground->series, MEASURE_SOIL, 13);
		ground->series.column[MEASURE_SOIL][7] = NAN;
		ground_derive(ground);
		check_day(ground, MEASURE_SOIL, start + 1, 13 + probe->bias);
		assert_nan((double)ground->series.column[MEASURE_SOIL][7]);
		ground_free(ground);
	}
}

/* A reading of a day before the series, of the configuration or observed. */
struct told_reading {
	int day; /* before the series */
	bool observed;
	int told; /* in what order */
	double read;
};

/* The days have 12 uncorrected. The last difference of 12 to 14 and 12 to 16 is
   3: half way from the first to the second. */
static const struct {
	struct told_reading reading[3];
	size_t count;
	double bias;
} told_probes[] = {
	{ { { 20, true, 1, 14 } }, 1, 2 },
	{ { { 20, false, 0, 14 }, { 10, true, 1, 16 } }, 2, 3 },
	{ { { 10, false, 0, 16 }, { 20, true, 1, 14 } }, 2, 3 },
	/* of one day the last word counts, and an observation before a card */
	{ { { 20, false, 0, 14 }, { 20, true, 1, 16 } }, 2, 4 },
	{ { { 20, true, 1, 14 }, { 20, true, 2, 16 } }, 2, 4 },
	{ { { 20, true, 2, 16 }, { 20, true, 1, 14 } }, 2, 4 },
	{ { { 20, true, 1, 14 }, { 20, true, 1, 16 } }, 2, 4 },
	/* too long ago */
	{ { { 61, true, 1, 14 }, { 10, true, 2, 16 } }, 2, 4 },
};

static void
what_the_keeper_observes_is_a_reading_too(void **state)
{
	(void)state;
	int64_t start = day_of(2026, 4, 20);
	for (size_t i = 0; i < COUNT(told_probes); i++) {
		struct ground *ground = ramp_new(start - 70, 80, 30);
		struct soil_reading soil[3];
		struct turf_event event[4] = { { .kind = EVENT_GREEN,
		    .from = civil_day_start(&ground->site.zone, start - 30),
		    .amount = 50 } };
		ground->event = event;
		ground->event_count = 1;
		ground->site.soil = soil;
		for (size_t d = 0; d < ground->count; d++)
			ground->days[d].soil = 12;
		for (size_t r = 0; r < told_probes[i].count; r++) {
			const struct told_reading *one =
			    &told_probes[i].reading[r];
			int64_t at = civil_day_start(
			    &ground->site.zone, start - one->day);
			if (one->observed)
				event[ground->event_count++] =
				    (struct turf_event){ EVENT_SOIL,
					    at + 9 * HOUR, at + 9 * HOUR,
					    one->read, one->told };
			else
				soil[ground->site.soil_count++] =
				    (struct soil_reading){ at, one->read };
		}
		ground_series(ground, start, start + 3);
		fill(&ground->series, MEASURE_SOIL, 13);
		ground_derive(ground);
		check_day(
		    ground, MEASURE_SOIL, start + 1, 13 + told_probes[i].bias);
		ground_free(ground);
	}
}

/* The model with the bias of one reading says what was read, on that day. */
static void
the_probe_corrects_the_model(void **state)
{
	(void)state;
	int64_t first = day_of(2026, 5, 1);
	struct ground *ground = ramp_new(first, 30, 18);
	struct soil_reading reading = {
		civil_day_start(&ground->site.zone, first + 15), 21.5
	};
	/* what a source once said is no measure of the model */
	ground->days[15].soil = 3;
	ground->site.soil = &reading;
	ground->site.soil_count = 1;
	ground_series(ground, first + 15, first + 18);
	ground_derive(ground);
	check_day(ground, MEASURE_SOIL, first + 15, 21.5);
	check_day(ground, MEASURE_SOIL, first + 17, 21.5 + 2 * 0.8);
	ground_free(ground);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(the_probe_corrects_a_source),
		cmocka_unit_test(what_the_keeper_observes_is_a_reading_too),
		cmocka_unit_test(the_probe_corrects_the_model),
	};
	return RUN_TESTS(tests);
}
