/* How records are told: shared by `lull done` and the files of `lull records`.
 */
#ifndef CLI_RECORDS_H
#define CLI_RECORDS_H

#include "cli/session.h"
#include "service/record.h"

/* The records that are shown, oldest first. */
struct records {
	const struct config *config;
	const struct stored_record **record; /* owned array of borrowed ones */
	size_t count;
	const struct stored_record *all; /* borrowed; those left out, too */
	size_t all_count;
};

/* Less than this share of a mix nobody can read off a tank: a choice of ours.
 */
#define RECORD_GRAIN 0.005

/* One value of struct stored_weather. */
struct weather_field {
	const char *words;  /* "wind" */
	const char *key;    /* "wind", as `lull now` has it in JSON */
	const char *column; /* "wind_m_per_s" */
	enum quantity_kind kind;
};

enum { WEATHER_FIELDS = 5 };
extern const struct weather_field weather_fields[WEATHER_FIELDS];
double weather_value(const struct stored_weather *weather, size_t field);

/* "9 fl oz", or "amount not known". */
char *record_print_amount(char *buffer, size_t size,
    const struct stored_amount *amount, enum unit_system units);

/* " at 1.5 fl oz/1000 ft2, registration number 0-1"; what came to the ground
   beside a rate, when that is another. */
void record_add_card(struct text *out, const struct stored_record *record,
    const struct stored_amount *amount, enum unit_system units);

/* Lines: the ground, the products, the weather measured beside forecast. */
void record_add_work(struct text *out, const struct config *config,
    const struct stored_record *record);
/* Lines: who, for whom, where, against what, with what, what else. */
void record_add_rest(struct text *out, const struct stored_record *record,
    enum unit_system units);
/* "at the weather you measured it was no-go:" and a line for each reason;
   `whose` is "you measured". Nothing when nobody asked. */
void record_add_verdict(
    struct text *out, const struct stored_record *record, const char *whose);
/* Puts the first line of the reasons into `line`, and returns those behind it.
 */
const char *record_next_reason(const char *reasons, struct text *line);
bool record_is_measured(const struct stored_record *record);

/*
 * Which of the fields that the usual rules on records name is not told:
 * "applicator", "registration number of post-a". This claims nothing about any
 * one state.
 */
enum { MISSING_MOST = 80, MISSING_BUFFER = LIMIT_NAME_BYTES + 32 };
struct missing {
	char name[MISSING_BUFFER];
};
size_t record_missing(const struct config *config,
    const struct stored_record *record, struct missing ret[MISSING_MOST]);
/* "applicator, wind direction"; nothing when all are told. */
void record_add_missing(struct text *out, const struct config *config,
    const struct stored_record *record);

cJSON *record_json(
    const struct config *config, const struct stored_record *record);

/* Each prints all of them; an exit code. */
int records_table(struct session *session, const struct records *records);
int records_csv(struct session *session, const struct records *records);
int records_json(struct session *session, const struct records *records);
int records_journal(struct session *session, const struct records *records);
int records_totals(struct session *session, const struct records *records);

/* Adds a text in lines of at most 80 columns, where its words allow it, each
   after so many blanks. */
void records_wrap(struct text *out, int indent, const char *words);

#endif
