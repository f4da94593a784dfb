#include "store/store.h"

#include "base/memory.h"
#include "store/statement.h"

#include <stdlib.h>

bool
store_source_get(struct store *store, const char *address,
    struct stored_source *ret, struct error *error)
{
	struct statement query = statement_make(store,
	    "SELECT etag, last_modified, checked, due, failures, trouble,"
	    " leads_to FROM source WHERE address = ?");
	statement_bind_text(&query, address);
	struct stored_source source = { .address = memory_string(address) };
	if (statement_row(&query)) {
		source.etag = statement_text(&query, 0);
		source.last_modified = statement_text(&query, 1);
		source.checked = statement_integer(&query, 2, 0);
		source.due = statement_integer(&query, 3, 0);
		source.failures = (int)statement_integer(&query, 4, 0);
		source.trouble = statement_text(&query, 5);
		source.leads_to = statement_text(&query, 6);
	}
	if (!statement_end(&query, error)) {
		stored_source_release(&source);
		return false;
	}
	*ret = source;
	return true;
}

void
stored_source_release(struct stored_source *source)
{
	if (source == NULL)
		return;
	free(source->address);
	free(source->etag);
	free(source->last_modified);
	free(source->trouble);
	free(source->leads_to);
	*source = (struct stored_source){ 0 };
}

bool
store_source_put(struct store *store, const struct stored_source *source,
    struct error *error)
{
	struct statement insert = statement_make(store,
	    "INSERT INTO source (address, etag, last_modified, checked, due,"
	    " failures, trouble, leads_to) VALUES (?, ?, ?, ?, ?, ?, ?, ?)"
	    " ON CONFLICT (address) DO UPDATE SET etag = excluded.etag,"
	    " last_modified = excluded.last_modified,"
	    " checked = excluded.checked, due = excluded.due,"
	    " failures = excluded.failures, trouble = excluded.trouble,"
	    " leads_to = excluded.leads_to");
	statement_bind_text(&insert, source->address);
	statement_bind_text(&insert, source->etag);
	statement_bind_text(&insert, source->last_modified);
	statement_bind_integer(&insert, source->checked);
	statement_bind_integer(&insert, source->due);
	statement_bind_integer(&insert, source->failures);
	statement_bind_text(&insert, source->trouble);
	statement_bind_text(&insert, source->leads_to);
	return statement_write(&insert, error);
}

bool
store_request_add(
    struct store *store, const char *host, int64_t at, struct error *error)
{
	struct statement insert = statement_make(
	    store, "INSERT INTO request (host, at) VALUES (?, ?)");
	statement_bind_text(&insert, host);
	statement_bind_integer(&insert, at);
	return statement_write(&insert, error);
}

bool
store_requests(struct store *store, const char *host, int64_t now,
    size_t *ret_count, int64_t *ret_oldest, struct error *error)
{
	struct statement query = statement_make(store,
	    "SELECT count(*), min(at) FROM request"
	    " WHERE host = ?1 AND at > ?2 - 3600 AND at < ?2 + 3600");
	int64_t count = 0;
	int64_t oldest = now;
	statement_bind_text(&query, host);
	statement_bind_integer(&query, now);
	if (statement_row(&query)) {
		count = statement_integer(&query, 0, 0);
		oldest = statement_integer(&query, 1, now);
	}
	if (!statement_end(&query, error))
		return false;
	*ret_count = (size_t)count;
	*ret_oldest = oldest;
	return true;
}

bool
store_requests_prune(struct store *store, int64_t now, struct error *error)
{
	struct statement removal = statement_make(store,
	    "DELETE FROM request WHERE at <= ?1 - 3600 OR at >= ?1 + 3600");
	statement_bind_integer(&removal, now);
	return statement_write(&removal, error);
}
