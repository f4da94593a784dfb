#include "service/chain.h"

#include "base/memory.h"
#include "physics/units.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/*
 * How far back documents are read: as far as a board looks (BOARD_PAST), since
 * cards ask for rain up to a week back. A document that came some hours before
 * can still tell of the first of them.
 */
enum { READ_BACK = 8 * 86400 + 6 * 3600 };

/* Keeps the first sentence. */
static void
note(char trouble[240], const char *sentence)
{
	if (trouble[0] != '\0')
		return;
	(void)snprintf(trouble, 240, "%.239s", sentence);
	text_trim_end(trouble);
}

/* A document that does not say when it was made, or names a time to come, is as
   old as its fetching. */
static bool
read_document(const struct keeper *keeper, const struct chain_link *link,
    const struct stored_document *document, struct series *ret,
    struct error *error)
{
	struct text body = { 0 };
	if (!store_document_body(keeper->store, document->id, &body, error))
		return false;
	bool good =
	    link->format->read(text_string(&body), body.length, ret, error);
	text_release(&body);
	if (good && (ret->issued == 0 || ret->issued > document->fetched))
		ret->issued = document->fetched;
	return good;
}

/*
 * The newest document that can be read gives the forecast; older ones of the
 * same address fill the hours before it begins. A document issued after the
 * hours that are still missing has little to say about them and is not read.
 */
static void
overlay_documents(const struct keeper *keeper, struct chain_link *link,
    const struct stored_document *documents, size_t count,
    struct series *series)
{
	bool has_newest = false;
	int64_t covered = INT64_MAX;
	for (size_t i = 0; i < count; i++) {
		if (documents[i].issued > covered)
			continue;
		struct series one = { 0 };
		struct error error = { 0 };
		if (!read_document(keeper, link, &documents[i], &one, &error)) {
			if (!has_newest)
				note(link->trouble, error.text);
			continue;
		}
		if (!has_newest)
			series_overlay(series, &one);
		else
			series_fill_past(series, &one, covered);
		has_newest = true;
		covered = one.start;
		series_release(&one);
	}
	link->issued = series->issued;
	if (!has_newest || link->trouble[0] == '\0')
		return;
	note(link->fetch_trouble, link->trouble);
	link->trouble[0] = '\0';
}

/* A forecast that is too old is as good as none. */
static void
refuse_stale(struct chain_link *link, const struct config *config,
    const struct zone *zone, int64_t now)
{
	double good_for = config->forecast_good_for;
	if (link->format->good_for != 0 &&
	    (double)link->format->good_for < good_for)
		good_for = (double)link->format->good_for;
	if (link->issued == 0 || (double)(now - link->issued) <= good_for)
		return;
	/* Its time, not its age: entries do not change because time goes by. */
	char issued_at[CIVIL_BUFFER];
	(void)snprintf(link->trouble, sizeof link->trouble,
	    "the %s of %s is too old to be used",
	    link->format->as_asked ? "list of alerts" : "forecast",
	    civil_print(issued_at, sizeof issued_at, zone, link->issued,
		CIVIL_DAY_CLOCK));
}

/* What the store knows of the source, and its documents, newest first. */
static bool
find_documents(const struct keeper *keeper, struct chain_link *link,
    struct stored_span span, struct stored_document **ret, size_t *ret_count,
    struct error *error)
{
	struct stored_source source, grid = { 0 };
	if (!store_source_get(
		keeper->store, link->source->address, &source, error))
		return false;
	bool good =
	    source.leads_to == NULL ||
	    store_source_get(keeper->store, source.leads_to, &grid, error);
	const struct stored_source *last =
	    source.leads_to == NULL ? &source : &grid;
	good = good && store_documents(keeper->store, last->address, span, ret,
			   ret_count, error);
	if (good && last->trouble != NULL)
		note(link->fetch_trouble, last->trouble);
	if (good && source.trouble != NULL)
		note(link->fetch_trouble, source.trouble);
	stored_source_release(&source);
	stored_source_release(&grid);
	return good;
}

/* Fills the link's own series; its trouble tells when it cannot be used. */
static bool
load_link(struct chain_link *link, const struct keeper *keeper,
    const struct zone *zone, int64_t now, struct series *series,
    struct error *error)
{
	struct stored_document *documents;
	size_t count;
	struct stored_span span = { now - READ_BACK, now };
	if (!find_documents(keeper, link, span, &documents, &count, error))
		return false;
	link->fetched = count > 0 ? documents[0].fetched : 0;
	overlay_documents(keeper, link, documents, count, series);
	stored_documents_free(documents, count);
	if (count == 0) {
		note(link->trouble, link->fetch_trouble[0] != '\0'
					? link->fetch_trouble
					: "no forecast has been fetched yet");
		link->fetch_trouble[0] = '\0';
	}
	refuse_stale(link, &keeper->config, zone, now);
	return true;
}

/* The first one with air temperature answers; the others fill. */
static void
use_link(struct chain *chain, size_t i, const struct series *own,
    struct series *series)
{
	bool came[MEASURES] = { false };
	if (chain->answers == chain->count &&
	    own->column[MEASURE_AIR_TEMPERATURE] != NULL) {
		chain->answers = i;
		series->issued = own->issued;
	}
	series->rejected += own->rejected;
	series_fill_columns(series, own, came);
	for (int m = 0; m < MEASURES; m++) {
		if (!came[m])
			continue;
		chain->origin[m] = (uint8_t)i;
		chain->link[i].used = true;
	}
}

/* "sentence", or "format: sentence" where there are several sources. */
static void
add_trouble(char trouble[CHAIN_TROUBLE], const struct chain *chain,
    const struct chain_link *link, const char *sentence)
{
	size_t used = strlen(trouble);
	(void)snprintf(trouble + used, CHAIN_TROUBLE - used, "%s%s%s%s",
	    used > 0 ? "; " : "", chain->count > 1 ? link->format->name : "",
	    chain->count > 1 ? ": " : "", sentence);
	text_trim_end(trouble);
}

static void
sum_up(struct chain *chain)
{
	bool answered = chain->answers < chain->count;
	for (size_t i = 0; i < chain->count; i++) {
		const struct chain_link *link = &chain->link[i];
		if (link->trouble[0] != '\0')
			add_trouble(
			    answered ? chain->fetch_trouble : chain->trouble,
			    chain, link, link->trouble);
		if (link->fetch_trouble[0] != '\0')
			add_trouble(chain->fetch_trouble, chain, link,
			    link->fetch_trouble);
	}
	if (!answered && chain->trouble[0] == '\0')
		(void)snprintf(chain->trouble, sizeof chain->trouble,
		    "no source gives the air temperature");
}

/* Each attribution once; the first source's own when none is used. */
static void
give_credit(struct chain *chain)
{
	size_t used = 0;
	for (size_t i = 0; i < chain->count; i++) {
		const struct chain_link *link = &chain->link[i];
		const char *credit = link->format->credit;
		if ((!link->used && link != chain_leader(chain)) ||
		    strstr(chain->credit, credit) != NULL ||
		    used >= sizeof chain->credit)
			continue;
		used += (size_t)snprintf(chain->credit + used,
		    sizeof chain->credit - used, "%s%s", used > 0 ? ". " : "",
		    credit);
	}
}

bool
chain_load(struct chain *chain, const struct site *site,
    const struct keeper *keeper, int64_t now, struct series *series,
    struct error *error)
{
	const size_t count = site->source_count;
	bool good = true;
	*chain = (struct chain){ .count = count, .answers = count };
	memset(chain->origin, CHAIN_NOBODY, sizeof chain->origin);
	chain->link = memory_array(count, sizeof *chain->link);
	for (size_t i = 0; i < count && good; i++) {
		struct chain_link *link = &chain->link[i];
		struct series own;
		*link = (struct chain_link){ .source = &site->source[i],
			.format = format_find(site->source[i].format) };
		series_init(&own, series->start, series_end(series));
		good = load_link(link, keeper, &site->zone, now, &own, error);
		if (good && link->trouble[0] == '\0')
			use_link(chain, i, &own, series);
		else if (chain->answers == count && own.issued > series->issued)
			series->issued = own.issued;
		series_release(&own);
	}
	sum_up(chain);
	give_credit(chain);
	if (!good)
		chain_release(chain);
	return good;
}

void
chain_release(struct chain *chain)
{
	free(chain->link);
	*chain = (struct chain){ 0 };
}

const struct chain_link *
chain_leader(const struct chain *chain)
{
	return &chain->link[chain->answers < chain->count ? chain->answers : 0];
}

char *
chain_print_link(char *buffer, size_t size, const struct chain_link *link,
    const struct zone *zone, int64_t now)
{
	char when[CIVIL_BUFFER], age[QUANTITY_BUFFER];
	int64_t minutes = (now - link->issued) / 60;
	(void)snprintf(buffer, size, "%s, %s %s (%s ago)", link->format->name,
	    link->issued == link->fetched ? "fetched" : "issued",
	    civil_print(when, sizeof when, zone, link->issued, CIVIL_DAY_CLOCK),
	    span_print(age, sizeof age, 60 * (double)minutes));
	return buffer;
}
