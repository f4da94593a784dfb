/* The page as text: escaped, well formed, the same for the same rows. */
#include "unit/test.h"

#include "page/report.h"
#include "unit/heart.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

enum { TAGS_MAX = 32, STRIP_WIDTH = 672 };

#define EVIL         "<b>&\"'</b><script>x</script>&lt;"
#define EVIL_ESCAPED "&lt;b&gt;&amp;&quot;'&lt;/b&gt;&lt;script&gt;x&lt;/script"

struct world {
	struct sprayer sprayer;
	struct site site;
	struct product product[2];
	struct job job;
	struct series series;
	struct outlook outlook;
	struct check check[1];
	struct verdicts verdicts;
	struct window_limits limits;
	struct judgement judgement;
	struct window windows[2];
	struct page_row row;
};

/* Eight days from the midnight of that day; it is five past six. */
static void
begin_world(struct world *world, int month, int day)
{
	*world = (struct world){ 0 };
	int64_t midnight = local_2026(month, day, 0, 0);
	world->sprayer = (struct sprayer){ .name = "pack",
		.tank = 15,
		.carrier = 0.05,
		.pace = 0.25,
		.fill = 600 };
	world->site = (struct site){ .name = "front",
		.zone = chicago(),
		.area = 600,
		.sprayer = &world->sprayer };
	world->product[0].name = "post-a";
	world->product[1].name = "dye";
	world->job = (struct job){ .id = 7,
		.uid = "job-7",
		.site = &world->site,
		.sprayer = &world->sprayer,
		.area = 600,
		.note = "",
		.after = INT64_MIN,
		.before = INT64_MAX };
	world->job.tank.count = 2;
	world->job.tank.dose[0].product = &world->product[0];
	world->job.tank.dose[1].product = &world->product[1];
	series_init(&world->series, midnight, midnight + 8 * DAY);
	fill(&world->series, MEASURE_WIND, 6);
	struct rule rule =
	    rule_of(MEASURE_WIND, FOLD_MAX, during, BOUND_AT_MOST, 4.4704);
	world->check[0] = check_of(&world->series, rule);
	outlook_init(&world->outlook, &world->series, &world->site.zone);
	world->limits = (struct window_limits){ midnight + 6 * HOUR + 300,
		INT64_MIN, INT64_MAX, HOUR };
	judge(&world->outlook, world->check, 1, HOUR, &world->verdicts);
	world->judgement = (struct judgement){ &world->job, &world->outlook,
		world->check, 1, &world->verdicts, &world->limits };
	world->row = (struct page_row){ .judgement = &world->judgement,
		.windows = world->windows,
		.trouble = "",
		.credit = "Forecast: somebody" };
}

static void
end_world(struct world *world)
{
	verdicts_release(&world->verdicts);
	outlook_release(&world->outlook);
	series_release(&world->series);
}

static struct text
make_page(const struct page_row *rows, size_t count, int64_t now)
{
	struct text text;
	text_init(&text, 1000000);
	page_report(rows, count, now, UNITS_US, &text);
	assert_false(text.failed);
	assert_true(text_is_utf8(text_string(&text), text.length));
	return text;
}

static struct text
make_world_page(const struct world *world)
{
	return make_page(&world->row, 1, world->limits.now);
}

static bool
is_void(const char *name, size_t length)
{
	static const char *const names[] = { "meta", "!DOCTYPE" };
	for (size_t i = 0; i < COUNT(names); i++)
		if (strlen(names[i]) == length &&
		    memcmp(names[i], name, length) == 0)
			return true;
	return false;
}

struct open_tag {
	const char *name;
	size_t length;
};

struct open_tags {
	struct open_tag tag[TAGS_MAX];
	size_t count;
};

/* One tag at `at`, behind its '<'; returns what is behind its '>'. */
static const char *
take_tag(const char *at, struct open_tags *open)
{
	bool closes = *at == '/';
	const char *name = closes ? at + 1 : at;
	const char *end = strchr(at, '>');
	if (end == NULL || memchr(at, '<', (size_t)(end - at)) != NULL) {
		fail_msg("a tag has no end: %.40s", at);
		return at;
	}
	size_t length = strcspn(name, " />"), quotes = 0;
	for (const char *c = at; c < end; c++)
		quotes += *c == '"' ? 1 : 0;
	assert_true(length > 0 && quotes % 2 == 0);
	if (closes) {
		assert_true(open->count > 0);
		const struct open_tag *last = &open->tag[--open->count];
		if (last->name == NULL || last->length != length ||
		    memcmp(last->name, name, length) != 0)
			fail_msg("'%.20s' ends '%.20s'", at, last->name);
	} else if (end[-1] != '/' && !is_void(name, length)) {
		assert_true(open->count < TAGS_MAX);
		open->tag[open->count++] = (struct open_tag){ name, length };
	}
	return end + 1;
}

static void
check_entity(const char *at)
{
	static const char *const entities[] = { "&lt;", "&gt;", "&amp;",
		"&quot;" };
	for (size_t i = 0; i < COUNT(entities); i++)
		if (strncmp(at, entities[i], strlen(entities[i])) == 0)
			return;
	fail_msg("'%.10s' is no entity", at);
}

static void
assert_well_formed(const struct text *page)
{
	struct open_tags open = { .count = 0 };
	const char *at = text_string(page);
	assert_memory_equal(at, "<!DOCTYPE html>\n", 16);
	while (*at != '\0') {
		if (*at == '<') {
			at = take_tag(at + 1, &open);
			continue;
		}
		assert_int_not_equal(*at, '>');
		if (*at == '&')
			check_entity(at);
		at++;
	}
	assert_int_equal(open.count, 0);
}

/* A page from a shelf: no script, and nothing that a browser would fetch. */
static void
assert_quiet(const struct text *page)
{
	static const char *const words[] = { "<script", "http", "src=", "href",
		"@import", "url(", "onload" };
	for (size_t i = 0; i < COUNT(words); i++)
		if (strstr(text_string(page), words[i]) != NULL)
			fail_msg("there is '%s'", words[i]);
}

static void
an_empty_queue_is_a_page(void **state)
{
	(void)state;
	struct text page = make_page(NULL, 0, 1772586000);
	assert_well_formed(&page);
	assert_quiet(&page);
	assert_contains(text_string(&page), "Nothing is queued");
	assert_contains(text_string(&page), "label in your hand");
	assert_null(strstr(text_string(&page), "<section"));
	text_release(&page);
}

static void
a_slot_is_shown_with_its_verdict(void **state)
{
	(void)state;
	struct world world;
	begin_world(&world, 3, 3);
	world.row.has_slot = true;
	world.row.slot =
	    (struct slot){ local_2026(3, 4, 7, 15), local_2026(3, 4, 8, 50) };
	for (int verdict = VERDICT_GO; verdict <= VERDICT_UNKNOWN; verdict++) {
		world.row.verdict = (enum verdict)verdict;
		struct text page = make_world_page(&world);
		assert_well_formed(&page);
		assert_quiet(&page);
		char wanted[80];
		(void)snprintf(wanted, sizeof wanted,
		    "<strong>%s</strong> Wed 4 Mar 07:15 to 08:50",
		    verdict_word(world.row.verdict));
		assert_contains(text_string(&page), wanted);
		assert_contains(
		    text_string(&page), "Job 7: front, post-a + dye");
		assert_contains(text_string(&page), "label in your hand");
		text_release(&page);
	}
	end_world(&world);
}

static void
a_job_without_a_slot_says_why(void **state)
{
	(void)state;
	struct world world;
	begin_world(&world, 3, 3);
	struct text page = make_world_page(&world);
	assert_well_formed(&page);
	assert_contains(text_string(&page), "<strong>no window</strong>");
	assert_contains(text_string(&page), "10 mph");
	text_release(&page);
	/* windows are open, but others have them: then no rule is to blame */
	world.windows[0].opens = world.limits.now;
	world.windows[0].closes = world.limits.now + HOUR;
	world.row.window_count = 1;
	page = make_world_page(&world);
	assert_contains(text_string(&page), "other jobs");
	assert_null(strstr(text_string(&page), "10 mph"));
	text_release(&page);
	end_world(&world);
}

static void
trouble_is_never_a_go(void **state)
{
	(void)state;
	struct world world;
	begin_world(&world, 3, 3);
	world.row.trouble = "the forecast is 30 h old";
	struct text page = make_world_page(&world);
	assert_well_formed(&page);
	assert_contains(text_string(&page),
	    "<strong>unknown</strong>: the forecast is 30 h old");
	text_release(&page);
	world.row.has_slot = true;
	world.row.verdict = VERDICT_UNKNOWN;
	world.row.slot = (struct slot){ world.limits.now + HOUR,
		world.limits.now + 2 * HOUR };
	page = make_world_page(&world);
	assert_contains(text_string(&page), "<strong>unknown</strong> Tue");
	assert_contains(text_string(&page), "the forecast is 30 h old");
	text_release(&page);
	end_world(&world);
}

static void
text_from_outside_is_escaped(void **state)
{
	(void)state;
	struct world world;
	begin_world(&world, 3, 3);
	world.site.name = EVIL "1";
	world.product[0].name = EVIL "2";
	world.row.trouble = EVIL "3";
	world.row.credit = EVIL "4";
	struct text page = make_world_page(&world);
	assert_well_formed(&page);
	assert_quiet(&page);
	int count = 0;
	for (const char *at = text_string(&page);
	     (at = strstr(at, EVIL_ESCAPED)) != NULL; at++)
		count++;
	assert_int_equal(count, 4);
	text_release(&page);
	end_world(&world);
}

static void
each_credit_is_given_once(void **state)
{
	(void)state;
	struct world world;
	begin_world(&world, 3, 3);
	struct page_row rows[] = { world.row, world.row, world.row };
	rows[1].credit = "Forecast: another";
	struct text page = make_page(rows, COUNT(rows), world.limits.now);
	assert_well_formed(&page);
	const char *first = strstr(text_string(&page), "Forecast: somebody");
	assert_non_null(first);
	assert_null(strstr(first + 1, "Forecast: somebody"));
	assert_contains(text_string(&page), "Forecast: another");
	text_release(&page);
	end_world(&world);
}

static void
the_same_rows_give_the_same_bytes(void **state)
{
	(void)state;
	struct world world;
	begin_world(&world, 3, 3);
	world.row.has_slot = true;
	world.row.slot =
	    (struct slot){ world.limits.now, world.limits.now + 1 };
	struct text first = make_world_page(&world);
	struct text second = make_world_page(&world);
	assert_string_equal(text_string(&first), text_string(&second));
	text_release(&first);
	text_release(&second);
	end_world(&world);
}

/* The number behind `name` in the tag at `at`. */
static long
attribute(const char *at, const char *name)
{
	const char *value = strstr(at, name);
	assert_non_null(value);
	return strtol(value + strlen(name), NULL, 10);
}

/* Every bar lies on the strip; returns how many there are of that colour. */
static int
count_bars(const struct text *page, const char *colour)
{
	int count = 0;
	for (const char *at = text_string(page);
	     (at = strstr(at, "<rect x=\"")) != NULL; at++) {
		long x = attribute(at, " x=\"");
		long width = attribute(at, " width=\"");
		const char *fill = strstr(at, "fill=\"") + strlen("fill=\"");
		assert_in_range(x, 0, STRIP_WIDTH);
		assert_in_range(width, 1, STRIP_WIDTH - x);
		count += strncmp(fill, colour, strlen(colour)) == 0 ? 1 : 0;
	}
	return count;
}

/* Seven local days, whatever the clock does in that week. */
static void
the_strip_shows_the_week(void **state)
{
	(void)state;
	static const int weeks[][2] = { { 3, 3 }, { 3, 8 }, { 10, 28 } };
	for (size_t i = 0; i < COUNT(weeks); i++) {
		struct world world;
		begin_world(&world, weeks[i][0], weeks[i][1]);
		int64_t now = world.limits.now;
		world.windows[0].opens = now - 2 * DAY; /* open already */
		world.windows[0].closes = now + HOUR;
		world.windows[1].opens = now + 7 * DAY; /* behind the strip */
		world.windows[1].closes = now + 8 * DAY;
		world.row.window_count = 2;
		world.row.has_slot = true;
		world.row.slot = (struct slot){ now, now + 3 * HOUR };
		struct text page = make_world_page(&world);
		assert_well_formed(&page);
		assert_int_equal(count_bars(&page, "#9cb8a0"), 1);
		assert_int_equal(count_bars(&page, "#1c4427"), 1);
		static const char *const days[] = { ">Sun<", ">Mon<", ">Tue<",
			">Wed<", ">Thu<", ">Fri<", ">Sat<" };
		for (size_t d = 0; d < COUNT(days); d++) {
			const char *day = strstr(text_string(&page), days[d]);
			assert_non_null(day);
			assert_null(strstr(day + 1, days[d]));
		}
		text_release(&page);
		end_world(&world);
	}
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(an_empty_queue_is_a_page),
		cmocka_unit_test(a_slot_is_shown_with_its_verdict),
		cmocka_unit_test(a_job_without_a_slot_says_why),
		cmocka_unit_test(trouble_is_never_a_go),
		cmocka_unit_test(text_from_outside_is_escaped),
		cmocka_unit_test(each_credit_is_given_once),
		cmocka_unit_test(the_same_rows_give_the_same_bytes),
		cmocka_unit_test(the_strip_shows_the_week),
	};
	return RUN_TESTS(tests);
}
