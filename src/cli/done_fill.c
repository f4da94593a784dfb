/* What a record says: out of the job, the configuration and the options. */
#include "cli/done.h"

#include "base/memory.h"
#include "cli/look.h"
#include "service/record.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static bool
is_given(const struct done *done, const char *option)
{
	return session_option(done->session, option) != NULL;
}

/* One that is not given stays. */
static bool
read_text(struct done *done, const char *option, char **text)
{
	char *fresh;
	if (!is_given(done, option))
		return true;
	if (!session_text(done->session, option, &fresh))
		return false;
	free(*text);
	*text = fresh;
	return true;
}

static bool
read_texts(struct done *done)
{
	struct stored_record *record = &done->record;
	return read_text(done, "who", &record->who) &&
	       read_text(done, "certification", &record->certification) &&
	       read_text(done, "unusual", &record->unusual) &&
	       read_text(done, "leftover", &record->leftover) &&
	       read_text(done, "note", &record->note);
}

static int64_t
find_duration(const struct done *done)
{
	struct job job = done->job;
	job.area = done->record.area;
	return job_duration(&job);
}

/* A day or a month that was mistyped, most likely. */
static bool
check_span(struct done *done)
{
	const struct stored_record *record = &done->record;
	struct error *error = &done->session->error;
	int64_t now = done->board.now;
	bool is_told = is_given(done, "from") || is_given(done, "to");
	if (record->from >= record->to)
		return error_set(
		    error, ERROR_INPUT, "it would have ended before it began");
	if (record->from > now || (is_told && record->to > now))
		return error_set(error, ERROR_INPUT,
		    "it would have %s in the future",
		    record->from > now ? "begun" : "ended");
	if (is_told && record->to - record->from > DAY_SECONDS)
		return error_set(error, ERROR_INPUT,
		    "it would have lasted longer than a day");
	return true;
}

/* Without times: the slot when it has begun, else a job that ends now. */
static void
guess_span(struct done *done)
{
	struct stored_record *record = &done->record;
	const struct board_job *waits = done->waits;
	int64_t now = done->board.now;
	bool from_slot = waits->has_slot && waits->slot.from < now;
	record->to = from_slot && waits->slot.to <= now ? waits->slot.to : now;
	record->from =
	    from_slot ? waits->slot.from : record->to - find_duration(done);
}

/* It took as long as planned, but what is done is over by now. */
static void
guess_end(struct done *done)
{
	struct stored_record *record = &done->record;
	int64_t now = done->board.now;
	record->to = record->from + find_duration(done);
	if (record->to > now && record->from < now)
		record->to = now;
}

static bool
read_span(struct done *done)
{
	struct session *session = done->session;
	struct stored_record *record = &done->record;
	const struct zone zone = record_zone(&session->keeper.config, record);
	if (done->waits != NULL)
		guess_span(done);
	if (!session_time(session, "from", &zone, &record->from))
		return false;
	if (is_given(done, "from") && done->waits != NULL)
		guess_end(done);
	record->utc_offset = zone_offset(&zone, record->from);
	return session_time(session, "to", &zone, &record->to) &&
	       check_span(done);
}

static bool
read_weather(struct done *done)
{
	struct stored_weather *measured = &done->record.measured;
	struct readings readings = look_nothing;
	readings.wind = measured->wind;
	readings.gust = measured->gust;
	readings.direction = measured->wind_direction;
	readings.air = measured->air_temperature;
	readings.humidity = measured->humidity;
	if (!look_read(done->session, &readings))
		return false;
	*measured = (struct stored_weather){ .air_temperature = readings.air,
		.wind = readings.wind,
		.gust = readings.gust,
		.wind_direction = readings.direction,
		.humidity = readings.humidity };
	return true;
}

/*
 * The rate over the ground, or as much of it as the mix that was used holds:
 * the mix is what was planned for the carrier.
 */
static double
amount_of(
    const struct stored_record *record, const struct stored_amount *amount)
{
	bool is_used = !isnan(record->used);
	double mix = is_used ? record->used : record->area * record->carrier;
	if (!quantity_is_per_area(amount->rate_kind))
		return amount->rate * mix;
	return amount->rate *
	       (is_used ? record->used / record->carrier : record->area);
}

/* One without a rate, of an old record, grows and shrinks with the rest. */
static double
share_of(const struct stored_record *record, const struct stored_record *old)
{
	if (record->used != old->used && !isnan(record->used))
		return record->used / old->used;
	return record->area / old->area;
}

static bool
read_amounts(struct done *done)
{
	struct session *session = done->session;
	struct stored_record *record = &done->record;
	const struct stored_record old = *record;
	if (!session_quantity(
		session, "area", QUANTITY_AREA, 0.01, 1e8, &record->area) ||
	    !session_quantity(
		session, "used", QUANTITY_VOLUME, 0, 1e6, &record->used))
		return false;
	if (record->replaces != 0 && !is_given(done, "area") &&
	    !is_given(done, "used"))
		return true;
	for (size_t i = 0; i < record->amount_count; i++) {
		struct stored_amount *amount = &record->amount[i];
		if (!isnan(amount->rate) && record->carrier > 0)
			amount->amount = amount_of(record, amount);
		else if (record->replaces != 0)
			amount->amount *= share_of(record, &old);
	}
	return true;
}

static void
take_doses(struct done *done)
{
	struct stored_record *record = &done->record;
	for (size_t i = 0; i < done->job.tank.count; i++) {
		const struct dose *dose = &done->job.tank.dose[i];
		bool known = dose->rate > 0;
		record->amount[record->amount_count++] = (struct stored_amount){
			.product = memory_string(dose->product->name),
			.amount = NAN,
			.is_mass = quantity_is_by_mass(dose->rate_kind),
			.registration =
			    memory_string(dose->product->registration),
			.rate = known ? dose->rate : NAN,
			.rate_kind = known ? dose->rate_kind : QUANTITY_NUMBER
		};
	}
}

static char *
name_place(const struct site *site)
{
	char place[64];
	if (site->address[0] != '\0')
		return memory_string(site->address);
	(void)snprintf(
	    place, sizeof place, "%.5f, %.5f", site->latitude, site->longitude);
	return memory_string(place);
}

/* A snapshot: cards, sites and sprayers may change later. */
static void
take_job(struct done *done)
{
	const struct config *config = &done->session->keeper.config;
	const struct site *site = done->job.site;
	struct stored_record *record = &done->record;
	stored_record_init(record);
	record->job = done->stored->id;
	record->site = memory_string(site->name);
	record->area = done->job.area;
	record->forecast_source = memory_string("");
	record->verdict = memory_string("");
	record->reasons = memory_string("");
	record->who = memory_string(config->applicator);
	record->certification = memory_string(config->certification);
	record->client = memory_string(site->client);
	record->place = name_place(site);
	record->weeds = memory_string(done->stored->weeds);
	record->turf = memory_string(species_word(site->species));
	record->sprayer = memory_string(done->job.sprayer->name);
	record->carrier = done->job.sprayer->carrier;
	record->unusual = memory_string("");
	record->leftover = memory_string("");
	record->note = memory_string("");
	take_doses(done);
}

static void
fill_gap(char **text, const char *value)
{
	if ((*text)[0] != '\0' || value[0] == '\0')
		return;
	free(*text);
	*text = memory_string(value);
}

/* What no option can say, and nobody had said then, is what the configuration
   says by now. */
static void
fill_gaps(struct done *done)
{
	const struct config *config = &done->session->keeper.config;
	struct stored_record *record = &done->record;
	const struct site *site = config_site(config, record->site);
	if (site != NULL) {
		fill_gap(&record->client, site->client);
		fill_gap(&record->place, site->address);
		fill_gap(&record->turf, species_word(site->species));
	}
	for (size_t i = 0; i < record->amount_count; i++) {
		struct stored_amount *amount = &record->amount[i];
		const struct product *product =
		    config_product(config, amount->product);
		if (product != NULL)
			fill_gap(&amount->registration, product->registration);
	}
}

static bool
read_number(struct session *session, const char *text, int64_t *ret)
{
	size_t digits = strspn(text, "0123456789");
	if (digits == 0 || digits > 18 || text[digits] != '\0')
		return error_set(&session->error, ERROR_INPUT,
		    "--replaces: '%.40s' is not the number of a record", text);
	*ret = strtoll(text, NULL, 10);
	return true;
}

static bool
check_replaced(struct session *session, int64_t job, int64_t id,
    const struct stored_record *found)
{
	if (found == NULL)
		return error_set(&session->error, ERROR_ANSWER,
		    "there is no record %" PRId64, id);
	if (found->job != job)
		return error_set(&session->error, ERROR_INPUT,
		    "record %" PRId64 " is of job %" PRId64
		    ", not of job %" PRId64,
		    id, found->job, job);
	if (found->replaced_by != 0)
		return error_set(&session->error, ERROR_ANSWER,
		    "record %" PRId64 " is already replaced by record %" PRId64,
		    id, found->replaced_by);
	return true;
}

/* What is not said again is taken over: the record is moved out of the list. */
static bool
take_over(struct done *done, const char *text)
{
	struct session *session = done->session;
	struct stored_record *records, *found = NULL;
	size_t count;
	int64_t id = 0;
	if (!read_number(session, text, &id) ||
	    !store_records(
		session->keeper.store, true, &records, &count, &session->error))
		return false;
	for (size_t i = 0; i < count; i++)
		if (records[i].id == id)
			found = &records[i];
	bool good = check_replaced(session, done->stored->id, id, found);
	if (good && found != NULL) {
		done->record = *found;
		done->replaced_to = found->to;
		done->record.id = 0;
		done->record.replaces = id;
		stored_record_init(found);
		fill_gaps(done);
	}
	stored_records_free(records, count);
	return good;
}

bool
done_fill(struct done *done)
{
	const char *replaced = session_option(done->session, "replaces");
	if (replaced != NULL && !take_over(done, replaced))
		return false;
	if (replaced == NULL)
		take_job(done);
	done->record.created = done->board.now;
	return read_texts(done) && read_amounts(done) && read_span(done) &&
	       read_weather(done);
}
