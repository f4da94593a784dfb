#include "page/report.h"

#include "base/text.h"

#include <inttypes.h>
#include <string.h>

enum { STRIP_WIDTH = 672, STRIP_HEIGHT = 22, STRIP_DAYS = 7 };

static const char head[] =
    "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
    "<meta name=\"viewport\" content=\"width=device-width\">\n"
    "<title>Spray windows</title>\n<style>\n"
    "body { font: 16px/1.45 sans-serif; max-width: 46em; margin: 2em auto;"
    " padding: 0 1em; color: #222; }\n"
    "section { border-top: 1px solid #bbb; padding: .6em 0; }\n"
    "h2 { font-size: 1.05em; margin: .2em 0; }\n"
    "p { margin: .25em 0; }\n"
    "svg { width: 100%; height: auto; }\n"
    "</style>\n</head>\n<body>\n<h1>Spray windows</h1>\n";

static const char foot[] =
    "<p>The label in your hand is the law and rules over this page. Wear what "
    "it asks for; keep people and pets off until the spray has dried; keep "
    "away from water and from flowers in bloom. Local rules and licensed "
    "practice come first.</p>\n</body>\n</html>\n";

/* NULL for a character that stands for itself. */
static const char *
entity_of(char c)
{
	switch (c) {
	case '<':
		return "&lt;";
	case '>':
		return "&gt;";
	case '&':
		return "&amp;";
	case '"':
		return "&quot;";
	default:
		return NULL;
	}
}

static void
add_escaped(struct text *text, const char *string)
{
	for (const char *c = string; *c != '\0'; c++) {
		const char *entity = entity_of(*c);
		if (entity != NULL)
			text_add(text, entity);
		else
			text_append(text, c, 1);
	}
}

/* Horizontal place of a moment on a strip that begins at the day's midnight. */
static int
strip_x(int64_t start, int64_t time)
{
	int64_t x =
	    (time - start) * STRIP_WIDTH / ((int64_t)STRIP_DAYS * DAY_SECONDS);
	return (int)(x < 0 ? 0 : x > STRIP_WIDTH ? STRIP_WIDTH : x);
}

static void
add_bar(
    struct text *ret, int64_t start, int64_t from, int64_t to, const char *fill)
{
	int x = strip_x(start, from), width = strip_x(start, to) - x;
	if (width > 0)
		text_format(ret,
		    "<rect x=\"%d\" y=\"0\" width=\"%d\" height=\"%d\" "
		    "fill=\"%s\"/>\n",
		    x, width, STRIP_HEIGHT, fill);
}

/* The coming days: windows light, the slot dark, days ruled off and named. */
static void
add_strip(struct text *ret, const struct page_row *row, int64_t now)
{
	const struct zone *zone = row->judgement->outlook->zone;
	int64_t today = civil_day(zone, now);
	int64_t start = civil_day_start(zone, today);
	char day[CIVIL_BUFFER];
	text_format(ret,
	    "<svg viewBox=\"0 0 %d %d\" role=\"img\" aria-label=\"windows of "
	    "the coming days\">\n"
	    "<rect width=\"%d\" height=\"%d\" fill=\"#eee\"/>\n",
	    STRIP_WIDTH, STRIP_HEIGHT + 16, STRIP_WIDTH, STRIP_HEIGHT);
	for (size_t i = 0; i < row->window_count; i++)
		add_bar(ret, start, row->windows[i].opens,
		    row->windows[i].closes, "#9cb8a0");
	if (row->has_slot)
		add_bar(ret, start, row->slot.from, row->slot.to, "#1c4427");
	for (int d = 0; d < STRIP_DAYS; d++) {
		int64_t midnight = civil_day_start(zone, today + d);
		int x = strip_x(start, midnight);
		text_format(ret,
		    "<path d=\"M%d 0V%d\" stroke=\"#888\"/>\n"
		    "<text x=\"%d\" y=\"%d\" font-size=\"11\">%s</text>\n",
		    x, STRIP_HEIGHT, x + 3, STRIP_HEIGHT + 12,
		    civil_print(
			day, sizeof day, zone, midnight, CIVIL_WEEKDAY));
	}
	text_add(ret, "</svg>\n");
}

static void
add_state(struct text *ret, const struct page_row *row, enum unit_system units)
{
	const struct judgement *judgement = row->judgement;
	const struct zone *zone = judgement->outlook->zone;
	char from[CIVIL_BUFFER], to[CIVIL_BUFFER], why[LIMIT_TEXT_BYTES];
	text_add(ret, "<p>");
	if (row->has_slot)
		text_format(ret, "<strong>%s</strong> %s to %s",
		    verdict_word(row->verdict),
		    civil_print(from, sizeof from, zone, row->slot.from,
			CIVIL_DAY_CLOCK),
		    civil_print(
			to, sizeof to, zone, row->slot.to, CIVIL_CLOCK));
	if (row->trouble[0] != '\0') {
		text_add(ret, row->has_slot ? "; cannot tell: "
					    : "<strong>unknown</strong>: ");
		add_escaped(ret, row->trouble);
	} else if (!row->has_slot && row->window_count > 0) {
		text_add(ret, "<strong>no window</strong>: other jobs have the "
			      "open hours");
	} else if (!row->has_slot) {
		text_add(ret, "<strong>no window</strong>: ");
		add_escaped(
		    ret, blockers_tell(why, sizeof why, judgement, units));
	}
	text_add(ret, "</p>\n");
}

static bool
is_credited(const struct page_row *rows, size_t before)
{
	for (size_t i = 0; i < before; i++)
		if (strcmp(rows[i].credit, rows[before].credit) == 0)
			return true;
	return false;
}

void
page_report(const struct page_row *rows, size_t count, int64_t now,
    enum unit_system units, struct text *ret)
{
	char tank[LIMIT_TEXT_BYTES];
	text_add(ret, head);
	if (count == 0)
		text_add(ret, "<p>Nothing is queued.</p>\n");
	for (size_t i = 0; i < count; i++) {
		const struct job *job = rows[i].judgement->job;
		text_format(ret, "<section>\n<h2>Job %" PRId64 ": ", job->id);
		add_escaped(ret, job->site->name);
		text_add(ret, ", ");
		add_escaped(ret, tank_print(tank, sizeof tank, &job->tank));
		text_add(ret, "</h2>\n");
		add_state(ret, &rows[i], units);
		add_strip(ret, &rows[i], now);
		text_add(ret, "</section>\n");
	}
	for (size_t i = 0; i < count; i++)
		if (!is_credited(rows, i)) {
			text_add(ret, "<p>");
			add_escaped(ret, rows[i].credit);
			text_add(ret, "</p>\n");
		}
	text_add(ret, foot);
}
