#include "store/store.h"

#include "base/memory.h"
#include "store/statement.h"

#include <stdlib.h>

bool
store_source_get(struct store *store, const char *address,
    struct stored_source *ret, struct error *error)
{
	struct statement query = statement_make(store,
	    "SELECT etag, last_modified, checked, due, failures, trouble"
	    " FROM source WHERE address = ?");
	statement_bind_text(&query, address);
	struct stored_source source = { .address = memory_string(address) };
	if (statement_row(&query)) {
		source.etag = statement_text(&query, 0);
		source.last_modified = statement_text(&query, 1);
		source.checked = statement_integer(&query, 2, 0);
		source.due = statement_integer(&query, 3, 0);
		source.failures = (int)statement_integer(&query, 4, 0);
		source.trouble = statement_text(&query, 5);
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
	*source = (struct stored_source){ 0 };
}

bool
store_source_put(struct store *store, const struct stored_source *source,
    struct error *error)
{
	struct statement insert = statement_make(store,
	    "INSERT INTO source (address, etag, last_modified, checked, due,"
	    " failures, trouble) VALUES (?, ?, ?, ?, ?, ?, ?)"
	    " ON CONFLICT (address) DO UPDATE SET etag = excluded.etag,"
	    " last_modified = excluded.last_modified,"
	    " checked = excluded.checked, due = excluded.due,"
	    " failures = excluded.failures, trouble = excluded.trouble");
	statement_bind_text(&insert, source->address);
	statement_bind_text(&insert, source->etag);
	statement_bind_text(&insert, source->last_modified);
	statement_bind_integer(&insert, source->checked);
	statement_bind_integer(&insert, source->due);
	statement_bind_integer(&insert, source->failures);
	statement_bind_text(&insert, source->trouble);
	return statement_write(&insert, error);
}

bool
store_document_add(struct store *store, const char *address,
    const struct stored_document *document, struct error *error)
{
	struct statement insert = statement_make(store,
	    "INSERT INTO document (address, fetched, issued, size, body)"
	    " VALUES (?, ?, ?, ?, ?)");
	statement_bind_text(&insert, address);
	statement_bind_integer(&insert, document->fetched);
	statement_bind_integer(&insert, document->issued);
	statement_bind_integer(&insert, (int64_t)document->length);
	statement_bind_blob(&insert, document->body, document->length);
	return statement_write(&insert, error);
}

bool
store_documents(struct store *store, const char *address, int64_t since,
    struct stored_document **ret, size_t *ret_count, struct error *error)
{
	struct statement query = statement_make(store,
	    "SELECT fetched, issued, body FROM document"
	    " WHERE address = ?1 AND (fetched >= ?2 OR id ="
	    " (SELECT id FROM document WHERE address = ?1"
	    " ORDER BY fetched DESC, id DESC LIMIT 1))"
	    " ORDER BY fetched DESC, id DESC");
	statement_bind_text(&query, address);
	statement_bind_integer(&query, since);
	struct stored_document *documents = NULL;
	size_t count = 0;
	size_t capacity = 0;
	while (statement_row(&query)) {
		documents =
		    memory_grow(documents, count, &capacity, sizeof *documents);
		struct stored_document *document = &documents[count++];
		document->fetched = statement_integer(&query, 0, 0);
		document->issued = statement_integer(&query, 1, 0);
		document->body = statement_blob(&query, 2, &document->length);
	}
	if (!statement_end(&query, error)) {
		stored_documents_free(documents, count);
		return false;
	}
	*ret = documents;
	*ret_count = count;
	return true;
}

void
stored_documents_free(struct stored_document *documents, size_t count)
{
	for (size_t i = 0; i < count; i++)
		free(documents[i].body);
	free(documents);
}

bool
store_documents_prune(struct store *store, int64_t before, struct error *error)
{
	struct statement removal = statement_make(store,
	    "DELETE FROM document WHERE fetched < ? AND EXISTS"
	    " (SELECT 1 FROM document AS newer"
	    " WHERE newer.address = document.address"
	    " AND (newer.fetched > document.fetched"
	    " OR (newer.fetched = document.fetched"
	    " AND newer.id > document.id)))");
	statement_bind_integer(&removal, before);
	return statement_write(&removal, error);
}
