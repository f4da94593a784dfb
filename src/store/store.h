/*
 * What must survive: the queue, the records, the slots that were promised, the
 * revisions of the calendar's entries, the forecasts as fetched, the weather of
 * past days, what the keeper observed, caught with a sprayer and dissolved, and
 * the requests of the last hour. SQLite, one file, the only SQL in the tree.
 *
 * The file keeps these invariants, and store_check asks for them:
 *  1. Every job and every record has 1 to LIMIT_TANK_PRODUCTS products.
 *  2. A record is never changed and never deleted; a correction is a new record
 *     that names the one it replaces.
 *  3. A waiting job has at most one slot; no other job has any.
 *  4. A slot begins before it ends.
 *  5. An entry's sequence never falls.
 *  6. A document is stored whole, with the address that it came from. It is
 *     never changed, and its id is never given to another one.
 *  7. A site has at most one weather for a day, with no low above the high.
 *  8. An observation is never changed and never deleted; a correction is a new
 *     one of the same site that names the one it replaces.
 *  9. A calibration and a solution are never changed and never deleted.
 *
 * WAL with synchronous=FULL: once a function that writes has returned true
 * outside a transaction, or store_commit has, a power cut does not undo it.
 * Writers outside a transaction take one of their own (BEGIN IMMEDIATE). Two
 * programs may have the file open; one waits for the other up to 10 s.
 *
 * Failures name the file first ("PATH: database or disk is full"); a no answer
 * (ERROR_ANSWER, "there is no waiting job 7") does not. A failed store_commit
 * has rolled back; so has the transaction that a full disk undid, and what is
 * written into it later fails, too.
 *
 * All strings handed out are owned by the array they come in and freed by its
 * _free function. Times are UTC seconds; quantities canonical units.
 */
#ifndef STORE_STORE_H
#define STORE_STORE_H

#include "base/error.h"
#include "base/limits.h"
#include "base/text.h"
#include "physics/units.h"
#include "turf/turf.h"
#include "weather/daily.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

struct store;

/*
 * Opens or creates the file and brings its schema to this version. A file of a
 * newer version, or one that is no store, is refused and left as it is.
 */
struct store *store_open(const char *path, struct error *error);
void store_close(struct store *store); /* NULL is allowed */

bool store_begin(struct store *store, struct error *error);
bool store_commit(struct store *store, struct error *error);
void store_rollback(struct store *store); /* nothing when none is open */

/* The invariants above and SQLite's own integrity check. */
bool store_check(struct store *store, struct error *error);

struct stored_dose {
	char *product;
	char *rate; /* as typed; NULL: the card's */
};

enum stored_state { STORED_WAITING, STORED_DONE, STORED_DROPPED };

struct stored_job {
	int64_t id; /* set by store_job_add */
	char *uid;
	char *site;
	struct stored_dose dose[LIMIT_TANK_PRODUCTS];
	size_t dose_count;
	double area;    /* m2; 0: the whole site */
	int64_t after;  /* INT64_MIN: any time */
	int64_t before; /* INT64_MAX: any time */
	int priority;
	double repeat; /* s; 0: once */
	char *weeds;   /* "" for none */
	char *note;    /* "" for none */
	enum stored_state state;
	int64_t created;
};

bool store_job_add(struct store *store, const struct stored_job *job,
    int64_t *ret_id, struct error *error);
/* Ascending by id; all jobs, or the waiting ones. */
bool store_jobs(struct store *store, bool waiting_only, struct stored_job **ret,
    size_t *ret_count, struct error *error);
void stored_jobs_free(struct stored_job *jobs, size_t count);
/* ERROR_ANSWER when there is no waiting job of that id. Leaving the waiting
   state removes the job's slot. */
bool store_job_finish(struct store *store, int64_t id, enum stored_state state,
    struct error *error);
/* The job's slot stays; its deadline is not looked at. */
bool store_job_postpone(
    struct store *store, int64_t id, int64_t after, struct error *error);

/* Weather at one place and time. NaN for what nobody knows. */
struct stored_weather {
	double air_temperature; /* degC */
	double wind, gust;      /* m/s */
	double wind_direction;  /* degrees */
	double humidity;        /* % */
};

struct stored_amount {
	char *product;
	double amount;      /* g or L; NaN: not said */
	bool is_mass;       /* g, else L */
	char *registration; /* as on the card then; "" */
	double rate;        /* as dosed; NaN: not told */
	/* g/m2, L/m2, g/L or L/L; QUANTITY_NUMBER when the rate is not told. */
	enum quantity_kind rate_kind;
};

/* What was done, and what was known of it then. */
struct stored_record {
	int64_t id;          /* set by store_record_add */
	int64_t job;         /* 0: none */
	int64_t replaces;    /* 0: none */
	int64_t replaced_by; /* 0: none; never written */
	char *site;
	struct stored_amount amount[LIMIT_TANK_PRODUCTS];
	size_t amount_count;
	int64_t from, to;
	/* s east of UTC, of the site's clock at `from`; 0: none, or not told */
	int64_t utc_offset;
	double area;                    /* m2 */
	double used;                    /* L of mix */
	struct stored_weather measured; /* on site */
	/* What the forecast of then said of that hour. */
	struct stored_weather forecast;
	char *forecast_source;   /* "": none */
	int64_t forecast_issued; /* 0: none */
	/* What the rules said at the weather of then: "go", "no-go",
	   "unknown", or "" when nobody asked them. */
	char *verdict;
	char *reasons; /* one line each, "\n" between; "" */
	/* "" for what is not told. */
	char *who, *certification, *client, *place, *weeds, *turf, *sprayer;
	double carrier;                  /* L/m2 of that sprayer then; NaN */
	char *unusual, *leftover, *note; /* "": none */
	int64_t created;
};

/* A record of which nothing is known: NaN for each number, no amounts; an
   amount of it has neither amount nor rate. */
void stored_record_init(struct stored_record *record);
void stored_record_release(struct stored_record *record);
/* A NULL string is "", but for the names of the site and of the products. */
bool store_record_add(struct store *store, const struct stored_record *record,
    int64_t *ret_id, struct error *error);
/* Ascending by `from`, then by id; those that a later one replaces only
   `with_replaced`. */
bool store_records(struct store *store, bool with_replaced,
    struct stored_record **ret, size_t *ret_count, struct error *error);
void stored_records_free(struct stored_record *records, size_t count);

/* What the keeper caught with a sprayer. */
struct stored_calibration {
	int64_t id; /* set by store_calibration_add */
	char *sprayer;
	int64_t at;
	double carrier; /* L/m2 */
	double pace;    /* m2/s; NaN: not timed */
	char *method;   /* one line */
	int64_t created;
};

bool store_calibration_add(struct store *store,
    const struct stored_calibration *calibration, int64_t *ret_id,
    struct error *error);
/* Ascending by `at`, then by id. */
bool store_calibrations(struct store *store, struct stored_calibration **ret,
    size_t *ret_count, struct error *error);
void stored_calibrations_free(
    struct stored_calibration *calibrations, size_t count);

/* A stock solution that was made. */
struct stored_solution {
	int64_t id; /* set by store_solution_add */
	char *product;
	int64_t made;
	double mass;   /* g of product */
	double volume; /* L made up to */
	int64_t created;
};

bool store_solution_add(struct store *store,
    const struct stored_solution *solution, int64_t *ret_id,
    struct error *error);
/* Ascending by `made`, then by id. */
bool store_solutions(struct store *store, struct stored_solution **ret,
    size_t *ret_count, struct error *error);
void stored_solutions_free(struct stored_solution *solutions, size_t count);

struct stored_slot {
	int64_t job;
	int64_t from, to;
	int64_t planned; /* when this slot was chosen */
};

/* Replaces the job's slot; ERROR_ANSWER when it is not waiting. */
bool store_slot_put(
    struct store *store, const struct stored_slot *slot, struct error *error);
bool store_slot_remove(struct store *store, int64_t job, struct error *error);
bool store_slots(struct store *store, struct stored_slot **ret,
    size_t *ret_count, struct error *error); /* ascending by job */

/* A message in the calendar: a slot moved, and why. */
struct stored_notice {
	char *uid;
	int64_t job;
	int64_t at;    /* when it stands in the calendar */
	int64_t until; /* when it may go */
	char *title;
	char *text;
};

bool store_notice_put(struct store *store, const struct stored_notice *notice,
    struct error *error);
bool store_notices(struct store *store, struct stored_notice **ret,
    size_t *ret_count, struct error *error); /* ascending by at, uid */
void stored_notices_free(struct stored_notice *notices, size_t count);
bool store_notices_prune(struct store *store, int64_t now,
    struct error *error); /* removes those with until <= now */

/* The published revision of one calendar entry. */
struct stored_entry {
	char *uid;
	uint64_t hash;
	int sequence;
	int64_t revised;
};

bool store_entry_put(struct store *store, const struct stored_entry *entry,
    struct error *error); /* replaces; refuses a lower sequence */
bool store_entries(struct store *store, struct stored_entry **ret,
    size_t *ret_count, struct error *error); /* ascending by uid */
void stored_entries_free(struct stored_entry *entries, size_t count);

/* What is known of a forecast address. */
struct stored_source {
	char *address;
	char *etag;          /* NULL: none; sent back verbatim */
	char *last_modified; /* NULL: none; sent back verbatim */
	int64_t checked;     /* last answer of any kind; 0: never */
	int64_t due;         /* not to be asked again before */
	int failures;        /* in a row */
	char *trouble;       /* sentence of the last failure; NULL: none */
	/* NULL: the document of this address is the forecast itself; else it
	   only says that the forecast lies there. */
	char *leads_to;
};

/* *ret is zeroed but for the address when the source is new. */
bool store_source_get(struct store *store, const char *address,
    struct stored_source *ret, struct error *error);
void stored_source_release(struct stored_source *source);
bool store_source_put(struct store *store, const struct stored_source *source,
    struct error *error);

/*
 * The requests to each host, so that a budget for an hour survives a restart.
 * What counts lies less than an hour from `now`, before or after it: a clock
 * that was set back gives no second budget.
 */
bool store_request_add(
    struct store *store, const char *host, int64_t at, struct error *error);
/* *ret_oldest is that of those which count; `now` when none does. */
bool store_requests(struct store *store, const char *host, int64_t now,
    size_t *ret_count, int64_t *ret_oldest, struct error *error);
/* Removes those that do not count. */
bool store_requests_prune(
    struct store *store, int64_t now, struct error *error);

/* A document as the list has it: without the body, which is stored packed. */
struct stored_document {
	int64_t id;
	int64_t fetched;
	int64_t issued;      /* by the service; when it does not say, fetched */
	size_t length;       /* of the body, unpacked */
	char *etag;          /* NULL: none came with it */
	char *last_modified; /* NULL: none came with it */
};

struct stored_span {
	int64_t since, until; /* both within */
};

/* The document's id is not read. `body` is document->length bytes, at most
   LIMIT_FORECAST_BYTES. */
bool store_document_add(struct store *store, const char *address,
    const struct stored_document *document, const char *body,
    struct error *error);
/* Newest first by fetched: those fetched in the span, and in any case the
   newest one fetched at its end or before. */
bool store_documents(struct store *store, const char *address,
    struct stored_span span, struct stored_document **ret, size_t *ret_count,
    struct error *error);
void stored_documents_free(struct stored_document *documents, size_t count);
/* Initializes *ret; the caller releases it. ERROR_ANSWER when there is no such
   document (any more), ERROR_INPUT when its body is damaged. */
bool store_document_body(
    struct store *store, int64_t id, struct text *ret, struct error *error);
/* Whether these bytes, document->length of them, are those of the address's
   newest document fetched at document->fetched or before. One that is damaged
   has other bytes. */
bool store_document_is_newest(struct store *store, const char *address,
    const struct stored_document *document, const char *body, bool *ret,
    struct error *error);
/*
 * Removes those fetched before `before`, then the oldest until the packed
 * bodies together have at most `bytes_most`; never an address's newest. The
 * file does not shrink: SQLite fills the free pages with what comes next.
 */
bool store_documents_prune(struct store *store, int64_t before,
    int64_t bytes_most, struct error *error);

/* The weather of a site's days, kept for long. NaN for what is unknown. */
bool store_day_put(struct store *store, const char *site,
    const struct daily *day, struct error *error); /* replaces */
/* Ascending by day, from `first_day` on; an array that the caller frees. */
bool store_days(struct store *store, const char *site, int64_t first_day,
    struct daily **ret, size_t *ret_count, struct error *error);
bool store_days_prune(
    struct store *store, int64_t before_day, struct error *error);

/* What the keeper saw, did or plans on a site. */
struct stored_observation {
	int64_t id;       /* set by store_observation_add */
	int64_t replaces; /* 0: none */
	char *site;
	enum event_kind kind; /* EVENT_KINDS: the one it replaces was wrong */
	int64_t from, to;     /* a whole local day, or a moment */
	double amount;        /* NaN where the kind has none */
	char *note;           /* "" for none */
	int64_t created;
};

bool store_observation_add(struct store *store,
    const struct stored_observation *observation, int64_t *ret_id,
    struct error *error);
/* Ascending by `from`, then by id; of one site, or of all when it is NULL.
   Those that a later one replaces are left out, and so is what takes back. */
bool store_observations(struct store *store, const char *site,
    struct stored_observation **ret, size_t *ret_count, struct error *error);
void stored_observations_free(
    struct stored_observation *observations, size_t count);

#endif
