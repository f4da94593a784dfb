#include "store/store.h"

#include "base/memory.h"
#include "store/statement.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

static const char taken_back[] = "nothing";

static const char *
word_of(enum event_kind kind)
{
	return kind == EVENT_KINDS ? taken_back : event_word(kind);
}

/* EVENT_KINDS for a word that no kind has. */
static enum event_kind
kind_of(const char *word)
{
	int kind = 0;
	while (kind < EVENT_KINDS &&
	       strcmp(event_word((enum event_kind)kind), word) != 0)
		kind++;
	return (enum event_kind)kind;
}

/* The tables refuse this too, but not in words for a person. */
static bool
check_replaced(struct store *store,
    const struct stored_observation *observation, struct error *error)
{
	struct statement query = statement_make(store,
	    "SELECT old.id, later.id FROM observation AS old"
	    " LEFT JOIN observation AS later ON later.replaces = old.id"
	    " WHERE old.id = ? AND old.site = ?");
	statement_bind_integer(&query, observation->replaces);
	statement_bind_text(&query, observation->site);
	int64_t old = 0, later = 0;
	if (statement_row(&query)) {
		old = statement_integer(&query, 0, 0);
		later = statement_integer(&query, 1, 0);
	}
	if (!statement_end(&query, error))
		return false;
	if (old == 0)
		return error_set(error, ERROR_ANSWER,
		    "there is no observation %" PRId64 " of %s",
		    observation->replaces, observation->site);
	if (later != 0)
		return error_set(error, ERROR_ANSWER,
		    "observation %" PRId64
		    " is already replaced by observation %" PRId64,
		    old, later);
	return true;
}

static bool
insert_observation(struct store *store,
    const struct stored_observation *observation, int64_t *ret_id,
    struct error *error)
{
	struct statement insert = statement_make(store,
	    "INSERT INTO observation (replaces, site, kind, at_from, at_to,"
	    " amount, note, created) VALUES (?, ?, ?, ?, ?, ?, ?, ?)");
	statement_bind_unless(&insert, observation->replaces, 0);
	statement_bind_text(&insert, observation->site);
	statement_bind_text(&insert, word_of(observation->kind));
	statement_bind_integer(&insert, observation->from);
	statement_bind_integer(&insert, observation->to);
	statement_bind_real(&insert, observation->amount);
	statement_bind_text(&insert, observation->note);
	statement_bind_integer(&insert, observation->created);
	if (!statement_run(&insert, error))
		return false;
	*ret_id = sqlite3_last_insert_rowid(store->database);
	return true;
}

bool
store_observation_add(struct store *store,
    const struct stored_observation *observation, int64_t *ret_id,
    struct error *error)
{
	int64_t id = 0;
	if (!store_write_begin(store, error))
		return false;
	bool done = (observation->replaces == 0 ||
			check_replaced(store, observation, error)) &&
		    insert_observation(store, observation, &id, error);
	if (!store_write_end(store, done, error))
		return false;
	*ret_id = id;
	return true;
}

static struct stored_observation
read_observation(struct statement *query)
{
	char *word = statement_text(query, 3);
	struct stored_observation observation = {
		.id = statement_integer(query, 0, 0),
		.replaces = statement_integer(query, 1, 0),
		.site = statement_text(query, 2),
		.kind = word == NULL ? EVENT_KINDS : kind_of(word),
		.from = statement_integer(query, 4, 0),
		.to = statement_integer(query, 5, 0),
		.amount = statement_real(query, 6),
		.note = statement_text(query, 7),
		.created = statement_integer(query, 8, 0),
	};
	free(word);
	return observation;
}

bool
store_observations(struct store *store, const char *site,
    struct stored_observation **ret, size_t *ret_count, struct error *error)
{
	struct statement query = statement_make(store,
	    "SELECT id, replaces, site, kind, at_from, at_to, amount, note,"
	    " created FROM observation"
	    " WHERE (?1 IS NULL OR site = ?1) AND kind <> ?2"
	    " AND NOT EXISTS (SELECT 1 FROM observation AS later"
	    " WHERE later.replaces = observation.id) ORDER BY at_from, id");
	statement_bind_text(&query, site);
	statement_bind_text(&query, taken_back);
	struct stored_observation *observations = NULL;
	size_t count = 0;
	size_t capacity = 0;
	while (statement_row(&query)) {
		observations = memory_grow(
		    observations, count, &capacity, sizeof *observations);
		observations[count++] = read_observation(&query);
	}
	if (!statement_end(&query, error)) {
		stored_observations_free(observations, count);
		return false;
	}
	*ret = observations;
	*ret_count = count;
	return true;
}

void
stored_observations_free(struct stored_observation *observations, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		free(observations[i].site);
		free(observations[i].note);
	}
	free(observations);
}
