/* The forecast of then, and what the rules said at the weather of then. */
#include "cli/done.h"

#include "base/memory.h"
#include "cli/look.h"
#include "cli/records.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct application *
done_applications(const struct done *done, int64_t until, size_t *ret_count)
{
	const struct board *board = &done->board;
	struct application *list =
	    memory_array(board->application_count, sizeof *list);
	size_t used = 0, next = 0;
	/* the board's applications are those of its records, one by one */
	for (size_t r = 0; r < board->record_count; r++) {
		const struct stored_record *record = &board->record[r];
		bool counts = record->id != done->record.replaces &&
			      record->from <= until;
		for (size_t i = 0; i < record->amount_count; i++, next++)
			if (counts)
				list[used++] = board->application[next];
	}
	*ret_count = used;
	return list;
}

/* Over the whole span; unknown when a part of it is. */
static double
mean_of(
    const struct series *series, enum measure measure, int64_t from, int64_t to)
{
	double sum = 0;
	for (int64_t at = from; at < to;) {
		int64_t end = at - at % SERIES_STEP + SERIES_STEP;
		end = end < to ? end : to;
		sum += (double)(end - at) * series_at(series, measure, at);
		at = end;
	}
	return sum / (double)(to - from);
}

static void
take_forecast(struct stored_record *record, const struct board_site *site)
{
	const struct series *series = &site->series;
	const struct chain *chain = &site->chain;
	const struct chain_link *leader = chain_leader(chain);
	int64_t from = record->from, to = record->to;
	bool answers = chain->answers < chain->count;
	record->forecast =
	    (struct stored_weather){ .air_temperature = mean_of(series,
					 MEASURE_AIR_TEMPERATURE, from, to),
		    .wind = mean_of(series, MEASURE_WIND, from, to),
		    .gust = mean_of(series, MEASURE_GUST, from, to),
		    /* directions have no mean */
		    .wind_direction =
			series_at(series, MEASURE_WIND_DIRECTION, from),
		    .humidity = mean_of(series, MEASURE_HUMIDITY, from, to) };
	free(record->forecast_source);
	record->forecast_source =
	    memory_string(answers ? leader->format->name : "");
	record->forecast_issued = answers ? leader->issued : 0;
}

static void
set_text(char **text, const char *value)
{
	free(*text);
	*text = memory_string(value);
}

/* As `lull why` has it, with the name of whose rule it is. */
static void
add_reason(struct text *text, const struct done *done, const struct look *look,
    size_t rule)
{
	enum unit_system units = done->session->keeper.config.units;
	char sentence[REASON_BUFFER], margin[QUANTITY_BUFFER * 2];
	struct reason reason;
	look_reason(look, rule, &reason);
	text_format(text, "%s%s: %s: %s (%s)", text->length > 0 ? "\n" : "",
	    verdict_word(reason.verdict),
	    reason_print(sentence, sizeof sentence, &reason,
		&look->job->job.site->zone, units),
	    reason_print_margin(margin, sizeof margin, &reason, units),
	    look->checks[rule].rule.owner);
}

/* What was broken first; a tank that is wrong in any weather before that. */
static void
take_verdict(struct done *done, const struct look *look, const char *forbidden)
{
	static const enum verdict order[] = { VERDICT_NO_GO, VERDICT_UNKNOWN };
	enum verdict verdict =
	    forbidden[0] != '\0' ? VERDICT_NO_GO : look_verdict(look);
	struct text text;
	text_init(&text, LIMIT_OUTPUT_BYTES);
	if (forbidden[0] != '\0')
		text_format(&text, "%s: %s", verdict_word(verdict), forbidden);
	for (size_t o = 0; o < sizeof order / sizeof order[0]; o++)
		for (size_t r = 0; r < look->check_count; r++)
			if (look_verdict_of(look, r) == order[o])
				add_reason(&text, done, look, r);
	set_text(&done->record.verdict, verdict_word(verdict));
	set_text(&done->record.reasons, text_string(&text));
	text_release(&text);
}

/* A season's maximum is asked of what was put down. */
static void
take_amounts(struct job *job, const struct stored_record *record)
{
	job->area = record->area;
	for (size_t i = 0; i < record->amount_count; i++) {
		const struct stored_amount *amount = &record->amount[i];
		struct dose *dose = &job->tank.dose[i];
		if (i >= job->tank.count || !(amount->amount > 0))
			continue;
		dose->rate = amount->amount / record->area;
		dose->rate_kind = amount->is_mass ? QUANTITY_MASS_PER_AREA
						  : QUANTITY_VOLUME_PER_AREA;
	}
}

/* Records count, promises do not. */
static void
ask_job(struct done *done, const struct board *board, struct board_job *job)
{
	const struct stored_weather *measured = &done->record.measured;
	struct look look = { .readings = look_nothing };
	job->promised = 0;
	take_amounts(&job->job, &done->record);
	look.readings.wind = measured->wind;
	look.readings.gust = measured->gust;
	look.readings.direction = measured->wind_direction;
	look.readings.air = measured->air_temperature;
	look.readings.humidity = measured->humidity;
	look_init(&look, board, &done->session->keeper.config, job,
	    (struct slot){ done->record.from, done->record.to });
	take_verdict(done, &look, job->trouble);
	look_release(&look);
}

static void
ask_rules(struct done *done, const struct board *then)
{
	const struct config *config = &done->session->keeper.config;
	struct board board = *then;
	struct board_job job;
	struct error error = { 0 };
	board.application = done_applications(
	    done, done->record.from, &board.application_count);
	set_text(&done->record.verdict, "");
	set_text(&done->record.reasons, "");
	if (board_try(&board, config, done->stored, &job, &error)) {
		ask_job(done, &board, &job);
		board_job_release(&job);
	} else {
		(void)snprintf(done->not_asked, sizeof done->not_asked,
		    "%.190s", error.text);
	}
	free(board.application);
}

static const char rate_words[] = "no-go: sprayed at ";

static bool
is_limited(const struct product *product, const struct stored_amount *amount)
{
	enum quantity_kind kind =
	    amount->is_mass ? QUANTITY_MASS_PER_AREA : QUANTITY_VOLUME_PER_AREA;
	return product != NULL && product->rate_most > 0 &&
	       product->rate_kind == kind;
}

/* More mix than planned on the same ground is more than the planned rate. */
static void
add_rates(struct text *text, const struct done *done)
{
	const struct config *config = &done->session->keeper.config;
	const struct stored_record *record = &done->record;
	char rate[QUANTITY_BUFFER], most[QUANTITY_BUFFER];
	for (size_t i = 0; i < record->amount_count; i++) {
		const struct stored_amount *amount = &record->amount[i];
		const struct product *product =
		    config_product(config, amount->product);
		double put_down = amount->amount / record->area;
		if (!is_limited(product, amount) ||
		    !(put_down > product->rate_most * (1 + RECORD_GRAIN)))
			continue;
		quantity_print(rate, sizeof rate, put_down, product->rate_kind,
		    config->units);
		quantity_print(most, sizeof most, product->rate_most,
		    product->rate_kind, config->units);
		text_format(text, "%s%s%s, the label allows at most %s (%s)",
		    text->length > 0 ? "\n" : "", rate_words, rate, most,
		    product->name);
	}
}

static bool
is_like(const char *line, const char *words)
{
	return strncmp(line, words, strlen(words)) == 0;
}

/* The rates stand before all else that was wrong, and what an earlier record
   said of them goes. The verdict is that of the worst line. */
static void
judge_rates(struct done *done)
{
	struct stored_record *record = &done->record;
	struct text text, line;
	if (record->verdict[0] == '\0')
		return; /* nobody could ask */
	text_init(&text, LIMIT_OUTPUT_BYTES);
	text_init(&line, LIMIT_OUTPUT_BYTES);
	add_rates(&text, done);
	enum verdict verdict = text.length > 0 ? VERDICT_NO_GO : VERDICT_GO;
	for (const char *rest = record->reasons; *rest != '\0';) {
		rest = record_next_reason(rest, &line);
		const char *reason = text_string(&line);
		if (is_like(reason, rate_words))
			continue;
		text_format(&text, "%s%s", text.length > 0 ? "\n" : "", reason);
		if (is_like(reason, "no-go: "))
			verdict = VERDICT_NO_GO;
		else if (verdict == VERDICT_GO)
			verdict = VERDICT_UNKNOWN;
	}
	set_text(&record->verdict, verdict_word(verdict));
	set_text(&record->reasons, text_string(&text));
	text_release(&text);
	text_release(&line);
}

/* Whether one of the options, with NULL after the last, is given. */
static bool
is_any_given(const struct done *done, const char *const *option)
{
	for (; *option != NULL; option++)
		if (session_option(done->session, *option) != NULL)
			return true;
	return false;
}

static const char *const weather_options[] = { "from", "to", "wind", "gust",
	"direction", "air", "humidity", NULL };

/* A correction of the amounts asks again unless the forecast of then is kept no
   longer; of the times or the weather in any case. */
static bool
asks_rules(const struct done *done, const struct board_site *site)
{
	bool answers = site != NULL && site->chain.answers < site->chain.count;
	return done->record.replaces == 0 || answers ||
	       done->record.forecast_source[0] == '\0' ||
	       is_any_given(done, weather_options);
}

/* A correction of the weather alone leaves the forecast of then. */
static bool
moves(const struct done *done)
{
	static const char *const times[] = { "from", "to", NULL };
	return done->record.replaces == 0 || is_any_given(done, times);
}

bool
done_judge(struct done *done)
{
	static const char *const amounts[] = { "area", "used", NULL };
	struct session *session = done->session;
	struct board then;
	if (done->record.replaces != 0 && !is_any_given(done, amounts) &&
	    !is_any_given(done, weather_options))
		return true;
	if (!board_load(
		&then, &session->keeper, done->record.from, &session->error))
		return false;
	const struct board_site *site =
	    board_find_site(&then, done->record.site);
	if (site != NULL && moves(done))
		take_forecast(&done->record, site);
	if (asks_rules(done, site))
		ask_rules(done, &then);
	judge_rates(done);
	board_release(&then);
	return true;
}
